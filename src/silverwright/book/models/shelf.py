"""What stands on the shelf: bottles as bought and what tests said of them, recipes of one's own, and the room's own numbers."""

from django.db import models

from silverwright.book import words
from silverwright.book.columns import column, word
from silverwright.book.models.kept import Kept, Named
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_chemistry import STRENGTH
from silverwright.vocabulary_shelf import BOUGHT_G, BOUGHT_ML, LEFT_G, LEFT_ML, PRICE, STOCK_STRENGTH_PERCENT


class Stock(Named):
    """
    A bottle, bag or can as bought: what is in it, how its label says how strong, and how much is left.

    A product of several substances has them as `ingredients`, rows as questions take them. `data_sheet` is the maker's own file.
    """

    substance = models.CharField(max_length=80)
    strength = column(STRENGTH)
    strength_unit = word(words.StrengthSaid, "not stated")
    ingredients = models.JSONField(default=list, blank=True)
    bought_ml = column(BOUGHT_ML)
    bought_g = column(BOUGHT_G)
    left_ml = column(LEFT_ML)
    left_g = column(LEFT_G)
    price = column(PRICE)
    bought_on = models.DateField(null=True, blank=True)
    opened_on = models.DateField(null=True, blank=True)
    best_before = models.DateField(null=True, blank=True)
    container = word(words.Container, "unknown")
    vented = models.BooleanField(default=False)
    kept_where = models.CharField(max_length=80, blank=True)
    data_sheet = models.ForeignKey("book.ScanFile", on_delete=models.PROTECT, related_name="data_sheet_of", null=True, blank=True)


class StockTest(Kept):
    """A strength test of a bottle: how, and how strong it is with its limits."""

    stock = models.ForeignKey(Stock, on_delete=models.PROTECT, related_name="tests")
    tested_at = models.DateTimeField()
    tested_by = word(words.TestedBy, "permanganate titration")
    strength_percent_ww = column(STOCK_STRENGTH_PERCENT)
    low_percent_ww = column(STOCK_STRENGTH_PERCENT)
    high_percent_ww = column(STOCK_STRENGTH_PERCENT)
    temperature_celsius = column(TEMPERATURE_CELSIUS)
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["stock_id", "tested_at", "pk"]

    def __str__(self) -> str:
        return f"test of {self.stock}"


class Recipe(Kept):
    """A recipe of one's own: its parts to a volume, in the order in which they go in. A change makes another edition; the earlier ones stay."""

    name = models.CharField(max_length=80)
    edition = models.PositiveSmallIntegerField(default=1)
    role = word(words.BathRole, "other")
    volume_ml = column(BOUGHT_ML)
    parts = models.JSONField(default=list)
    source = models.CharField(max_length=200, blank=True)
    remarks = models.TextField(blank=True)

    class Meta:
        ordering = ["name", "edition"]
        constraints = [models.UniqueConstraint(fields=["name", "edition"], name="one_row_for_each_edition")]

    def __str__(self) -> str:
        return self.name if self.edition == 1 else f"{self.name}/{self.edition}"


class Workroom(Kept):
    """The one row of the room itself: the number to call, the country, and by which rules hazards are told."""

    poison_centre = models.CharField(max_length=80, blank=True)
    country = models.CharField(max_length=80, blank=True)
    rules = models.CharField(max_length=words.LONGEST_WORD, blank=True)
    remarks = models.TextField(blank=True)

    def __str__(self) -> str:
        return "workroom"
