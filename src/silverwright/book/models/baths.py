"""Baths and working solutions with all that happened to them, and the bottles that take what is used up."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.kept import Kept, Named
from silverwright.book.models.shelf import Recipe
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_shelf import AREA_M2, BATH_ML, BATH_STRENGTH_PERCENT, CLEARING_S, OPEN_DAYS, SHEETS_THROUGH, SILVER_G_PER_L, WASTE_ML


class WasteBottle(Named):
    """
    A bottle for what is used up, until somebody collects it.

    `begun_with` is what was in it when it came into the book, as rows, `begun_ml` how much. `holds` is what it holds by the book today:
    made anew by each act.
    """

    capacity_ml = column(WASTE_ML)
    vented = models.BooleanField(default=False)
    metal = models.BooleanField(default=False)
    begun_with = models.JSONField(default=list, blank=True)
    begun_ml = column(WASTE_ML)
    holds = models.JSONField(default=dict, blank=True)


class WasteEmptied(Kept):
    """A waste bottle was handed in or emptied: it begins anew."""

    bottle = models.ForeignKey(WasteBottle, on_delete=models.PROTECT, related_name="emptied")
    emptied_at = models.DateTimeField()
    taken_to = models.CharField(max_length=120, blank=True)
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["bottle_id", "emptied_at", "pk"]

    def __str__(self) -> str:
        return f"emptying of {self.bottle}"


class Bath(Named):
    """
    A bath in a tray, or a working solution in its bottle.

    What happened to it are its events; `ledger` is what follows from them - volume, masses, sheets, silver, strengths with limits - made anew by
    each act, and never typed.
    """

    role = word(words.BathRole, "other")
    kept_in = word(words.KeptIn, "tray")
    vented = models.BooleanField(default=False)
    state = word(words.BathState, "in use")
    recipe_name = models.CharField(max_length=80, blank=True)
    recipe = models.ForeignKey(Recipe, on_delete=models.PROTECT, related_name="baths", null=True, blank=True)
    made_at = models.DateTimeField()
    ledger = models.JSONField(default=dict, blank=True)


class BathEvent(Kept):
    """
    One thing that happened to a bath, in its order by the clock.

    What came in stands in `ingredients` (rows of substance, amount, unit for this volume) and `taken` (rows of bottle, amount, unit);
    `poured` is that as masses, as it was worked out that day. `other` is the bath into which it was split or merged.
    """

    bath = models.ForeignKey(Bath, on_delete=models.PROTECT, related_name="events")
    what = word(words.BathEventName, "made")
    happened_at = models.DateTimeField()
    volume_ml = column(BATH_ML)
    temperature_celsius = column(TEMPERATURE_CELSIUS)
    ingredients = models.JSONField(default=list, blank=True)
    taken = models.JSONField(default=list, blank=True)
    poured = models.JSONField(default=dict, blank=True)
    sheets = column(SHEETS_THROUGH)
    area_m2 = column(AREA_M2)
    tested_by = models.CharField(max_length=words.LONGEST_WORD, blank=True)
    substance = models.CharField(max_length=80, blank=True)
    strength_percent_ww = column(BATH_STRENGTH_PERCENT)
    low_percent_ww = column(BATH_STRENGTH_PERCENT)
    high_percent_ww = column(BATH_STRENGTH_PERCENT)
    clearing_s = column(CLEARING_S)
    fresh_clearing_s = column(CLEARING_S)
    silver_g_per_l = column(SILVER_G_PER_L)
    open_days = column(OPEN_DAYS)
    other = models.ForeignKey(Bath, on_delete=models.PROTECT, related_name="events_from", null=True, blank=True)
    waste = models.ForeignKey(WasteBottle, on_delete=models.PROTECT, related_name="events", null=True, blank=True)
    step = models.ForeignKey("book.ProcessingStep", on_delete=models.PROTECT, related_name="bath_events", null=True, blank=True)
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["bath_id", "happened_at", "pk"]

    def __str__(self) -> str:
        return f"{self.bath} {self.what}"
