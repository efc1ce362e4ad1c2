"""Words for the numbers of the darkroom's chemistry: strengths, amounts, acidity, tests. As in vocabulary.py."""

from typing import Final

from silverwright.asking.fields import Quantity
from silverwright.units import BARE, GRAM, MILLILITRE

# --- strength and amounts ---
STRENGTH: Final = Quantity(unit=BARE, low=0, high=2000, help="How strong it is, in the unit beside it.", example=35)
VOLUME_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="Volume of the solution.", example="1 L")
WEIGH_G: Final = Quantity(unit=GRAM, low=0, high=1_000_000, help="How much of it to weigh.", example=265, label="Weigh")
MEASURE_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="How much of it to measure out.", example=234, label="Measure")
INGREDIENT_AMOUNT: Final = Quantity(unit=BARE, low=0, high=1_000_000, help="How much of the ingredient, in the unit beside it.", example=9)
PH: Final = Quantity(unit=BARE, low=-2, high=16, help="How acid or alkaline: below 7 acid, above alkaline.", example=1.9, label="pH")
