"""What was scanned: files as they came, the scanner, the scans with their grids, and how its signals become densities."""

from typing import Any

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.kept import Kept, KeptAnswer, Named
from silverwright.book.models.sheet import Sheet
from silverwright.vocabulary import DENSITY, READING_EV

SHA256_LETTERS = 64  # arithmetic: 256 bits, four to a letter


class ScanFile(Kept):
    """A file as it was handed in, byte for byte: it lies in the data folder under its SHA-256."""

    sha256 = models.CharField(max_length=SHA256_LETTERS, unique=True)
    size_bytes = models.PositiveBigIntegerField()
    handed_in_as = models.CharField(max_length=200, blank=True)

    def __str__(self) -> str:
        return self.handed_in_as or self.sha256[:12]


class Scanner(Named):
    """A scanner, and what its files mean when they carry no profile: asked once, remembered here."""

    untagged = word(words.Untagged, "unknown")


class Scan(Kept):
    """
    One scan of a sheet, or of a step tablet when there is none.

    `header`, `notes` and `grid` are what the reading of the file found, `grid_by` who placed the grid; `said` is why it cannot be used, if so.
    `signals` are the patches of the grid, or the places of a picture, as linear light.
    """

    name = models.CharField(max_length=20, unique=True)
    file = models.ForeignKey(ScanFile, on_delete=models.PROTECT, related_name="scans")
    scanner = models.ForeignKey(Scanner, on_delete=models.PROTECT, related_name="scans", null=True, blank=True)
    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="scans", null=True, blank=True)
    shows = word(words.Shows, "step sheet")
    untagged = word(words.Untagged, "unknown")
    scanned_at = models.DateTimeField()
    header = models.JSONField(default=dict)
    notes = models.JSONField(default=list)
    said = models.TextField(blank=True)
    grid = models.JSONField(null=True, blank=True)
    grid_by = word(words.GridBy, "nobody")
    places = models.JSONField(default=list)
    signals = models.JSONField(default=list)
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["-scanned_at", "-pk"]

    def __str__(self) -> str:
        return self.name

    @property
    def views(self) -> str:
        """The folder, inside that of all views, where its pictures for the eye lie."""
        return f"{self.file.sha256}-{self.untagged.replace(' ', '')}"


class Calibration(Kept):
    """How a scanner's signals become densities: a kept answer about a step tablet, asked again when a step is left out, and its largest miss."""

    scanner = models.ForeignKey(Scanner, on_delete=models.PROTECT, related_name="calibrations")
    scan = models.ForeignKey(Scan, on_delete=models.PROTECT, related_name="calibrations", null=True, blank=True)
    answer = models.OneToOneField(KeptAnswer, on_delete=models.PROTECT, related_name="calibration")
    largest_miss = column(DENSITY)
    calibrated_at = models.DateTimeField()

    class Meta:
        ordering = ["-calibrated_at", "-pk"]

    def __str__(self) -> str:
        return f"calibration of {self.scanner}"

    @property
    def steps(self) -> list[dict[str, Any]]:
        """The tablet's steps, each with its density and its signals."""
        steps: list[dict[str, Any]] = self.answer.question["steps"]
        return steps

    @property
    def tablet(self) -> dict[str, Any]:
        """The tablet as a question takes it: its steps, how it lay, and which of them do not count."""
        asked = self.answer.question
        return {"steps": self.steps, "turned": asked.get("turned", False), "left_out_steps": asked.get("left_out_steps", [])}


class StepLeftOut(Kept):
    """A step of the tablet on which a calibration shall not rest, with the reason; taken back by archiving this row."""

    calibration = models.ForeignKey(Calibration, on_delete=models.PROTECT, related_name="left_out")
    step = models.PositiveSmallIntegerField()
    reason = models.CharField(max_length=200)
    left_out_at = models.DateTimeField()

    class Meta:
        ordering = ["step", "pk"]

    def __str__(self) -> str:
        return f"step {self.step} of the {self.calibration} left out"


class ScenePatch(Kept):
    """A place of a picture: what was metered there, and how dense it came out."""

    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="scene_patches")
    position = models.PositiveSmallIntegerField()
    reading_ev = column(READING_EV)
    density = column(DENSITY)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["sheet_id", "position"]
        constraints = [models.UniqueConstraint(fields=["sheet", "position"], name="one_row_for_each_place")]

    def __str__(self) -> str:
        return f"place {self.position} of {self.sheet}"
