"""What came out: densities of a step sheet, the curve through them, and what the eye said."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.gear import Light
from silverwright.book.models.kept import Kept, KeptAnswer
from silverwright.book.models.paper import Paper
from silverwright.book.models.sheet import Sheet
from silverwright.vocabulary import (
    DENSITY,
    DENSITY_SD,
    DOUBT_STOPS,
    EXPOSURE_LOG10,
    FIXED_OUT_DENSITY,
    METERED_S,
    NEEDED_S,
    PAPER_EI,
    VERDICT_STOPS,
)


class StepSheet(Kept):
    """
    A sheet with patches of known exposure.

    `worked_out` keeps what was asked and answered about their exposures. `metered` says whether the log exposures are absolute.
    Under a `lamp` that never changes it is the control step sheet of its day.
    """

    sheet = models.OneToOneField(Sheet, on_delete=models.PROTECT, related_name="step_sheet")
    how = word(words.HowExposed, "typed")
    worked_out = models.ForeignKey(KeptAnswer, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    metered = models.BooleanField(default=False)
    read_by = word(words.ReadBy, "densitometer")
    density_sd = column(DENSITY_SD)
    fixed_out_density = column(FIXED_OUT_DENSITY)
    lamp = models.ForeignKey(Light, on_delete=models.PROTECT, related_name="control_step_sheets", null=True, blank=True)
    scan = models.ForeignKey("book.Scan", on_delete=models.PROTECT, related_name="step_sheets", null=True, blank=True)
    remarks = models.TextField(blank=True)

    def __str__(self) -> str:
        return f"step sheet {self.sheet}"

    @property
    def patches(self) -> "models.QuerySet[Reading]":
        """Its readings as they stand today, in their order."""
        return self.readings.filter(archived_at=None)

    @property
    def telling(self) -> "models.QuerySet[Reading]":
        """Those from which a curve is learnt."""
        return self.patches.filter(left_out=False, density__isnull=False, exposure_log10__isnull=False)


class Reading(Kept):
    """The density of one patch, and the exposure that it got."""

    step_sheet = models.ForeignKey(StepSheet, on_delete=models.PROTECT, related_name="readings")
    position = models.PositiveSmallIntegerField()
    density = column(DENSITY)
    exposure_log10 = column(EXPOSURE_LOG10)
    left_out = models.BooleanField(default=False)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["step_sheet_id", "position"]
        constraints = [models.UniqueConstraint(fields=["step_sheet", "position"], name="one_reading_for_each_patch")]

    def __str__(self) -> str:
        return f"patch {self.position} of {self.step_sheet.sheet}"


class Curve(Kept):
    """The curve of a paper in a process, learnt from a step sheet: a kept answer, and the index that the Camera takes from it."""

    step_sheet = models.ForeignKey(StepSheet, on_delete=models.PROTECT, related_name="curves")
    process = word(words.Process, "direct positive")
    answer = models.OneToOneField(KeptAnswer, on_delete=models.PROTECT, related_name="curve")
    camera_ei = column(PAPER_EI)
    camera_ei_sd_stops = column(DOUBT_STOPS)
    learnt_at = models.DateTimeField()

    class Meta:
        ordering = ["-learnt_at", "-pk"]

    def __str__(self) -> str:
        return f"curve of {self.step_sheet.sheet}"

    @property
    def paper(self) -> Paper:
        """The paper that the step sheet was on, as the book says today."""
        return self.step_sheet.sheet.paper


class Verdict(Kept):
    """
    What the eye said of a sheet: right, too dark, too light by so many stops, or which strip is right.

    `off_stops` counts as it was said and is never negative; `looks` says in which direction.
    """

    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="verdicts")
    looks = word(words.Looks, "right")
    off_stops = column(VERDICT_STOPS)
    strip = models.PositiveSmallIntegerField(null=True, blank=True)
    judged_wet = models.BooleanField(default=False)
    lamp = word(words.Lamp, "known")
    judged_at = models.DateTimeField()
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["-judged_at", "-pk"]

    def __str__(self) -> str:
        return f"verdict on {self.sheet}"


class ReciprocityTest(Kept):
    """A test of a paper in long exposures: where the meter told one time, the other gave the same density."""

    paper = models.ForeignKey(Paper, on_delete=models.PROTECT, related_name="reciprocity_tests")
    metered_s = column(METERED_S)
    needed_s = column(NEEDED_S)
    tested_at = models.DateTimeField()
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["tested_at", "pk"]

    def __str__(self) -> str:
        return f"reciprocity test of {self.paper}"


class LeftOut(Kept):
    """Something that a sheet says and that shall not count for the forecast, with the reason; taken back by archiving this row."""

    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="left_out")
    evidence = word(words.Evidence, "verdict")
    reason = models.CharField(max_length=200)
    left_out_at = models.DateTimeField()

    class Meta:
        ordering = ["left_out_at", "pk"]

    def __str__(self) -> str:
        return f"{self.evidence} of {self.sheet} left out"
