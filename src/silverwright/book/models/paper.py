"""Paper, the boxes that it comes in, what was cut from them, and the chips that show what each can do."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.kept import Kept, Named
from silverwright.vocabulary import GRADE
from silverwright.vocabulary_shelf import CHIP_DENSITY, PIECE_HEIGHT_MM, PIECE_WIDTH_MM


class Paper(Named):
    """A kind of paper."""

    surface = word(words.Surface, "unknown")
    base = word(words.Base, "unknown")
    contrast = word(words.Contrast, "unknown")
    grade = column(GRADE)
    sensitivity = word(words.Sensitivity, "unknown")


class Lot(Named):
    """
    A box of one paper: when it was opened, and how many sheets are left in it.

    Pieces cut from a box are a lot of their own: their true size in millimetres, the box they come from, the strips that were left (rows of
    width, length and how many), and how emulsion side and factory edges are marked on them.
    """

    paper = models.ForeignKey(Paper, on_delete=models.PROTECT, related_name="lots")
    size = models.CharField(max_length=40, blank=True)
    width_mm = column(PIECE_WIDTH_MM)
    height_mm = column(PIECE_HEIGHT_MM)
    cut_from = models.ForeignKey("self", on_delete=models.PROTECT, related_name="cut_into", null=True, blank=True)
    strips = models.JSONField(default=list, blank=True)
    marked = models.CharField(max_length=200, blank=True)
    opened_on = models.DateField(null=True, blank=True)
    sheets_left = models.PositiveIntegerField(null=True, blank=True)


class Chip(Kept):
    """A reference chip of a lot: its base white or its fullest black, and the density. The newest of a kind counts."""

    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="chips")
    shows = word(words.ChipShows, "base white")
    density = column(CHIP_DENSITY)
    read_by = word(words.ReadBy, "densitometer")
    made_at = models.DateTimeField()
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["lot_id", "shows", "made_at", "pk"]

    def __str__(self) -> str:
        return f"{self.shows} of {self.lot}"
