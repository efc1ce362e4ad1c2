"""Paper, and the boxes that it comes in."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.kept import Named
from silverwright.vocabulary import GRADE


class Paper(Named):
    """A kind of paper."""

    surface = word(words.Surface, "unknown")
    base = word(words.Base, "unknown")
    contrast = word(words.Contrast, "unknown")
    grade = column(GRADE)
    sensitivity = word(words.Sensitivity, "unknown")


class Lot(Named):
    """A box of one paper: when it was opened, and how many sheets are left in it."""

    paper = models.ForeignKey(Paper, on_delete=models.PROTECT, related_name="lots")
    size = models.CharField(max_length=40, blank=True)
    opened_on = models.DateField(null=True, blank=True)
    sheets_left = models.PositiveIntegerField(null=True, blank=True)
