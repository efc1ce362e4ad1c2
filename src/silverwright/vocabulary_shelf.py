"""Words for the numbers of the Shelf: bottles, baths, paper in boxes, labels. As in vocabulary.py."""

from typing import Final

from silverwright.asking.fields import Quantity
from silverwright.units import GRAM, MILLILITRE

LEFT_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="How much is left of it.", example="500 mL", label="Left")
LEFT_G: Final = Quantity(unit=GRAM, low=0, high=1_000_000, help="How much is left of it, weighed.", example="640 g", label="Left, weighed")
