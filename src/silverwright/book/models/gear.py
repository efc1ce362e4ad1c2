"""What stands on the tripod and lies in the bag."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.kept import Kept, Named
from silverwright.vocabulary import DIAL_EI, FOCAL_MM, METER_C, METER_K, PUPIL_FACTOR


class Camera(Named):
    """A camera."""

    turned = word(words.Turned, "no")


class Lens(Named):
    """A lens."""

    focal_mm = column(FOCAL_MM)
    pupil_factor = column(PUPIL_FACTOR)
    aperture_scale = word(words.ApertureScale, "marked")


class Light(Named):
    """A place's light, and the class of light that it is."""

    light_class = word(words.LightClass, "unknown")


class Meter(Named):
    """A light meter: what it reads, its constants, and where its dial ends."""

    reads = word(words.MeterReads, "reflected")
    meter_k = column(METER_K)
    meter_c = column(METER_C)
    incident_head = word(words.IncidentHead, "dome")
    lowest_ei = column(DIAL_EI)


class Holder(Named):
    """A holder for sheets; its sides are rows of their own."""

    size = models.CharField(max_length=40, blank=True)


class HolderSide(Kept):
    """One side of a holder: empty, loaded with paper of a lot, exposed as a sheet, or unloaded."""

    holder = models.ForeignKey(Holder, on_delete=models.PROTECT, related_name="sides")
    side = models.CharField(max_length=1)
    state = word(words.SideState, "empty")
    lot = models.ForeignKey("book.Lot", on_delete=models.PROTECT, related_name="sides", null=True, blank=True)
    loaded_at = models.DateTimeField(null=True, blank=True)
    sheet = models.ForeignKey("book.Sheet", on_delete=models.PROTECT, related_name="sides", null=True, blank=True)

    class Meta:
        ordering = ["holder__name", "side"]
        constraints = [models.UniqueConstraint(fields=["holder", "side"], name="one_row_for_each_side")]

    def __str__(self) -> str:
        return f"{self.holder}, side {self.side}"
