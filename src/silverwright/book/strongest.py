"""What a bottle holds at most: where its label leaves a percent unclear, hazards are told by the stronger reading."""

from silverwright.book.bottles import brought_by, readings, unclear
from silverwright.book.models import Stock
from silverwright.questions.ingredients import ROOM_CELSIUS, IngredientRow, contents_of
from silverwright.records_chemistry import Contents

A_KILO_G = 1000.0  # arithmetic: hazards go by strength, not by how much there is
A_LITRE_ML = 1000.0  # arithmetic: as before


def strongest_in(stock: Stock) -> Contents:
    """A part of it, by which its hazards are told, however much is left; of a product nobody knows what is in it, it counts under its own name."""
    both = readings(stock.substance, stock.strength, stock.strength_unit) if unclear(stock) else ()
    if not both:
        return brought_by(stock, A_KILO_G, "g").contents
    return contents_of((IngredientRow(substance=stock.substance, amount=max(both), unit="% w/w"),), A_LITRE_ML, ROOM_CELSIUS)
