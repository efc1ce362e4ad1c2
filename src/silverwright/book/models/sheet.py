"""A sheet's life: exposed, perhaps cut, processed."""

from typing import Final

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.gear import Camera, HolderSide, Lens, Light, Meter
from silverwright.book.models.kept import Kept
from silverwright.book.models.paper import Lot, Paper
from silverwright.vocabulary import AMOUNTS_TO_S, APERTURE_F, GIVEN_S, STEP_S, TEMPERATURE_CELSIUS
from silverwright.vocabulary_camera import FLASHES_GIVEN

LONGEST_SUBJECT: Final = 200  # our judgement: a line on a contact sheet


class Sheet(Kept):
    """
    One sheet of paper that was in the camera, or one piece of it.

    `number` runs within its year: 26-001. A piece has its sheet as `whole` and a letter, 26-001a;
    it has that sheet's exposures and trays, and goes its own way.
    """

    number = models.CharField(max_length=20, unique=True)
    year = models.PositiveSmallIntegerField()
    running = models.PositiveIntegerField()
    letter = models.CharField(max_length=2, blank=True)
    whole = models.ForeignKey("self", on_delete=models.PROTECT, related_name="pieces", null=True, blank=True)
    paper = models.ForeignKey(Paper, on_delete=models.PROTECT, related_name="sheets")
    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="sheets", null=True, blank=True)
    subject = models.CharField(max_length=LONGEST_SUBJECT, blank=True)
    turned = word(words.Turned, "no")
    told_apart = models.CharField(max_length=80, blank=True)
    remarks = models.TextField(blank=True)
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["-year", "-running", "letter"]
        constraints = [models.UniqueConstraint(fields=["year", "running", "letter"], name="one_number_for_each_sheet")]

    def __str__(self) -> str:
        return self.number

    @property
    def mirror_image(self) -> bool:
        """Whether the picture shows the scene as in a mirror."""
        return self.turned == "no"

    @property
    def exposed_as(self) -> "Sheet":
        """The sheet that was in the camera: itself, or the one that this piece was cut from."""
        return self.whole or self


class Exposure(Kept):
    """
    One exposure of a sheet: what was planned (a document), and what was done.

    `scene` holds what was metered and how the camera stood, in the fields of the ledger's question; `planned` the ledger as it was answered then.
    `amounts_to_s` is there where the light changed meanwhile: the time given, as one in the light that was metered.
    """

    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="exposures")
    planned = models.ForeignKey("book.KeptAnswer", on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    scene = models.JSONField(default=dict)
    exposed_at = models.DateTimeField()
    given_s = column(GIVEN_S)
    amounts_to_s = column(AMOUNTS_TO_S)
    flashes_given = column(FLASHES_GIVEN)
    aperture_f = column(APERTURE_F)
    camera = models.ForeignKey(Camera, on_delete=models.PROTECT, related_name="exposures", null=True, blank=True)
    lens = models.ForeignKey(Lens, on_delete=models.PROTECT, related_name="exposures", null=True, blank=True)
    light = models.ForeignKey(Light, on_delete=models.PROTECT, related_name="exposures", null=True, blank=True)
    light_class = word(words.LightClass, "unknown")
    meter = models.ForeignKey(Meter, on_delete=models.PROTECT, related_name="exposures", null=True, blank=True)
    side = models.ForeignKey(HolderSide, on_delete=models.PROTECT, related_name="exposures", null=True, blank=True)
    process = word(words.Process, "direct positive")
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["sheet_id", "exposed_at", "pk"]

    def __str__(self) -> str:
        return f"exposure of {self.sheet}"


class Processing(Kept):
    """A sheet in the trays, step by step."""

    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="processings")
    process = word(words.Process, "direct positive")
    processed_at = models.DateTimeField()
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["sheet_id", "processed_at", "pk"]

    def __str__(self) -> str:
        return f"processing of {self.sheet}"


class ProcessingStep(Kept):
    """
    One step: what, for how long, in which bath, how warm, and the light that was given.

    `bath` is what was written down; `in_bath` the bath of the book that it names, where there is one.
    """

    processing = models.ForeignKey(Processing, on_delete=models.PROTECT, related_name="steps")
    position = models.PositiveSmallIntegerField()
    step = word(words.StepName, "other")
    step_s = column(STEP_S)
    temperature_celsius = column(TEMPERATURE_CELSIUS)
    bath = models.CharField(max_length=80, blank=True)
    in_bath = models.ForeignKey("book.Bath", on_delete=models.PROTECT, related_name="steps", null=True, blank=True)
    light_given = models.CharField(max_length=120, blank=True)
    remarks = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["processing_id", "position"]

    def __str__(self) -> str:
        return f"{self.position}. {self.step}"
