"""What stands on the tripod and lies in the bag."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.kept import Kept, Named
from silverwright.vocabulary import DIAL_EI, EXTENSION_MM, FOCAL_MM, METER_C, METER_K, PUPIL_FACTOR
from silverwright.vocabulary_lens import BLUE_SHIFT_PERCENT, INFINITY_EXTENSION_MM, MIRROR_SD_STOPS, MIRROR_STOPS, STOP_MM, STOP_SD_MM


class Camera(Named):
    """A camera: whether something in it turns the picture and what that takes of the light, and its depth where nobody racks it out."""

    turned = word(words.Turned, "no")
    mirror_stops = column(MIRROR_STOPS)
    mirror_sd_stops = column(MIRROR_SD_STOPS)
    extension_mm = column(EXTENSION_MM)


class Lens(Named):
    """A lens, or a hole without one; what was measured of its scale and its shutter are rows as questions take them."""

    camera_kind = word(words.CameraKind, "ordinary lens")
    focal_mm = column(FOCAL_MM)
    pupil_factor = column(PUPIL_FACTOR)
    aperture_scale = word(words.ApertureScale, "marked")
    infinity_extension_mm = column(INFINITY_EXTENSION_MM)
    stop_mm = column(STOP_MM)
    stop_sd_mm = column(STOP_SD_MM)
    blue_shift_percent = column(BLUE_SHIFT_PERCENT)
    measured_apertures = models.JSONField(default=list, blank=True)
    measured_speeds = models.JSONField(default=list, blank=True)


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
    """One side of a holder: empty, loaded with paper of a lot, exposed as a sheet, or unloaded; `corner` names its clipped corners."""

    holder = models.ForeignKey(Holder, on_delete=models.PROTECT, related_name="sides")
    side = models.CharField(max_length=1)
    state = word(words.SideState, "empty")
    lot = models.ForeignKey("book.Lot", on_delete=models.PROTECT, related_name="sides", null=True, blank=True)
    loaded_at = models.DateTimeField(null=True, blank=True)
    corner = models.CharField(max_length=words.LONGEST_WORD, blank=True)
    sheet = models.ForeignKey("book.Sheet", on_delete=models.PROTECT, related_name="sides", null=True, blank=True)

    class Meta:
        ordering = ["holder__name", "side"]
        constraints = [models.UniqueConstraint(fields=["holder", "side"], name="one_row_for_each_side")]

    def __str__(self) -> str:
        return f"{self.holder}, side {self.side}"
