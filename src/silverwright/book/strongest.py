"""What a bottle holds at most: hazards are told by the stronger reading of an unclear label, and by the upper limit of a test."""

from silverwright.book.bottles import brought_by, readings, unclear
from silverwright.book.models import Stock
from silverwright.questions.ingredients import ROOM_CELSIUS, IngredientRow, contents_of
from silverwright.records_chemistry import Contents

A_KILO_G = 1000.0  # arithmetic: hazards go by strength, not by how much there is
A_LITRE_ML = 1000.0  # arithmetic: as before
PERCENT = 100.0  # arithmetic: parts in a hundred


def strongest_in(stock: Stock) -> Contents:
    """A part of it, by which its hazards are told, however much is left; of a product nobody knows what is in it, it counts under its own name."""
    labels = readings(stock.substance, stock.strength, stock.strength_unit)
    if unclear(stock) and labels:
        return _of(stock, max(labels))
    brought = brought_by(stock, A_KILO_G, "g")
    if not labels or len(brought.contents.mass_g) != 1:
        return brought.contents
    ((key, mass_g),) = brought.contents.mass_g.items()
    at_most = min(PERCENT * brought.high_g.get(key, mass_g) / A_KILO_G, max(labels))  # a test may be off, and nothing is stronger than its label
    return _of(stock, at_most) if at_most > PERCENT * mass_g / A_KILO_G else brought.contents


def _of(stock: Stock, percent_ww: float) -> Contents:
    return contents_of((IngredientRow(substance=stock.substance, amount=percent_ww, unit="% w/w"),), A_LITRE_ML, ROOM_CELSIUS)
