"""Words for the numbers of the Shelf: bottles, baths, paper in boxes, labels. As in vocabulary.py."""

from typing import Final

from silverwright.asking.fields import Quantity
from silverwright.units import BARE, DAY, FINE_MILLIMETRE, GRAM, GRAM_PER_LITRE, MILLILITRE, MILLIMETRE, PERCENT, ROUGH_PERCENT, SECOND, SQUARE_METRE

LEFT_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="How much is left of it.", example="500 mL", label="Left")
LEFT_G: Final = Quantity(unit=GRAM, low=0, high=1_000_000, help="How much is left of it, weighed.", example="640 g", label="Left, weighed")

# --- bottles ---
BOUGHT_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="How much was in it when it was bought.", example="1 L", label="Bought")
BOUGHT_G: Final = Quantity(
    unit=GRAM, low=0, high=1_000_000, help="How much was in it when it was bought, weighed.", example="1 kg", label="Bought, weighed"
)
PRICE: Final = Quantity(unit=BARE, low=0, high=1_000_000, help="What it cost, in the money that you pay with.", example=14.5, label="Price")
STOCK_STRENGTH_PERCENT: Final = Quantity(unit=PERCENT, low=0, high=100, help="How strong it is by weight.", example=34.2, label="Strength, % w/w")
LOWEST_PERCENT_WW: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="The lower 80 % limit of what the test found, by weight.", example=33.5, label="Test, at least"
)
HIGHEST_PERCENT_WW: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="The upper 80 % limit of what the test found, by weight.", example=34.9, label="Test, at most"
)
TAKEN_AMOUNT: Final = Quantity(unit=BARE, low=0, high=100_000, help="How much was taken, in the unit beside it.", example=265, label="Amount taken")

# --- baths ---
BATH_ML: Final = Quantity(unit=MILLILITRE, low=0, high=200_000, help="How much of it.", example="1 L", label="Volume")
BATH_STRENGTH_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="How strong the test found it, by weight.", example=7.8, label="Found, % w/w"
)
SHEETS_THROUGH: Final = Quantity(unit=BARE, low=0, high=1000, help="How many sheets went through it.", example=1, label="Sheets")
AREA_M2: Final = Quantity(
    unit=SQUARE_METRE, low=0, high=100, help="The paper that went through it, all sheets together.", example=0.0129, label="Area"
)
CLEARING_S: Final = Quantity(
    unit=SECOND, low=1, high=7200, help="How long a black strip took to clear in it.", example="2m30s", label="Clearing time"
)
FRESH_CLEARING_S: Final = Quantity(
    unit=SECOND, low=1, high=7200, help="How long the same strip takes in a fresh bath.", example="90 s", label="Clearing time when fresh"
)
LEVEL_ML: Final = Quantity(
    unit=MILLILITRE, low=0, high=200_000, help="How much there is of it afterwards.", example="970 mL", label="Level afterwards"
)
OPEN_DAYS: Final = Quantity(unit=DAY, low=0, high=3650, help="How long it stood open.", example=2, label="Stood open")
SILVER_G_PER_L: Final = Quantity(unit=GRAM_PER_LITRE, low=0, high=50, help="Silver that the test found in it.", example=0.5, label="Silver found")

# --- waste ---
CAPACITY_ML: Final = Quantity(unit=MILLILITRE, low=1, high=1_000_000, help="How much goes into it.", example="5 L", label="Takes")
BEGUN_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="How much is in it already.", example="500 mL", label="In it already")
WASTE_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="How much it takes, or holds.", example="5 L", label="Waste bottle's volume")

# --- paper, cut to a holder's own size ---
TRIM_MM: Final = Quantity(
    unit=FINE_MILLIMETRE,
    low=0,
    high=20,
    help="So much smaller than the holder is each side of a piece.",
    example=1.5,
    label="Smaller than the holder by",
)
SHEETS_TO_CUT: Final = Quantity(unit=BARE, low=1, high=1000, help="How many sheets are cut.", example=2, label="Sheets to cut")
PIECES_WANTED: Final = Quantity(unit=BARE, low=1, high=10000, help="How many pieces you want.", example=8, label="Pieces wanted")
PIECE_WIDTH_MM: Final = Quantity(
    unit=FINE_MILLIMETRE, low=0, high=2000, help="The short side of a piece: the stop of the trimmer.", example=100.1, label="Short side"
)
PIECE_HEIGHT_MM: Final = Quantity(unit=FINE_MILLIMETRE, low=0, high=2000, help="The long side of a piece.", example=125.5, label="Long side")
PIECES_EACH: Final = Quantity(unit=BARE, low=0, high=100000, help="Pieces from one sheet.", example=4, label="Pieces of each sheet")
SHEETS_CUT: Final = Quantity(unit=BARE, low=0, high=10000, help="Sheets that go under the blade.", example=2, label="Sheets")
PIECES_CUT: Final = Quantity(unit=BARE, low=0, high=10_000_000, help="Pieces from all of them.", example=8, label="Pieces")
PAPER_USED_PERCENT: Final = Quantity(unit=PERCENT, low=0, high=100, help="How much of the paper becomes pieces.", example=97.4, label="Paper used")
TOO_LARGE_PERCENT: Final = Quantity(
    unit=ROUGH_PERCENT, low=0, high=100, help="So many of a hundred pieces would stick in the holder.", example=1.5, label="Too large"
)
PART_LEFT_MM: Final = Quantity(
    unit=FINE_MILLIMETRE, low=0, high=2000, help="From the left edge of the sheet to the part.", example=0, label="From the left"
)
PART_TOP_MM: Final = Quantity(
    unit=FINE_MILLIMETRE, low=0, high=2000, help="From the upper edge of the sheet to the part.", example=0, label="From above"
)
PART_WIDTH_MM: Final = Quantity(unit=FINE_MILLIMETRE, low=0, high=2000, help="How wide the part is.", example=100.1, label="Wide")
PART_HEIGHT_MM: Final = Quantity(unit=FINE_MILLIMETRE, low=0, high=2000, help="How high the part is.", example=125.5, label="High")
FACTORY_EDGES: Final = Quantity(unit=BARE, low=0, high=4, help="How many of its edges were cut in the factory.", example=2, label="Factory edges")

# --- trays, tanks, drums ---
INSIDE_LENGTH_MM: Final = Quantity(
    unit=MILLIMETRE, low=20, high=3000, help="Longer side of a tray, inside; of a drum its length.", example=300, label="Length inside"
)
INSIDE_WIDTH_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=20,
    high=3000,
    help="Shorter side of a tray, inside; of a slot tank the width that a sheet finds.",
    example=250,
    label="Width inside",
)
INSIDE_HEIGHT_MM: Final = Quantity(
    unit=MILLIMETRE, low=5, high=3000, help="Height of the wall, inside; for a slot tank needed.", example=60, label="Height of the wall"
)
SLOT_MM: Final = Quantity(unit=MILLIMETRE, low=1, high=500, help="How wide one slot of the tank is, inside.", example=18, label="Width of a slot")
DRUM_MM: Final = Quantity(unit=MILLIMETRE, low=20, high=2000, help="Diameter of the drum, inside.", example=95, label="Diameter inside")
LIQUID_DEPTH_MM: Final = Quantity(
    unit=MILLIMETRE, low=1, high=3000, help="How deep the liquid stands; left open, as is common practice.", example=12, label="Depth of the liquid"
)
VESSELS: Final = Quantity(
    unit=BARE,
    low=1,
    high=50,
    help="How many alike: trays in the line, slots of the tank, baths poured into the same tray.",
    example=4,
    label="How many alike",
)
ALL_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1e11, help="All of them together.", example="4 L", label="All of them take")
ONE_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1e9, help="What one of them takes.", example="900 mL", label="One takes")
STANDS_MM: Final = Quantity(unit=MILLIMETRE, low=0, high=1e4, help="How deep it stands then.", example=12.5, label="It stands")
SPARE_MM: Final = Quantity(
    unit=MILLIMETRE, low=-3000, high=3000, help="Room on each side of the sheet that you named.", example=23, label="Room around the sheet"
)
FITS_SPARE_MM: Final = Quantity(
    unit=MILLIMETRE, low=-3000, high=3000, help="Room on each side of such a sheet.", example="48 23", label="Room around it"
)
CHIP_DENSITY: Final = Quantity(unit=BARE, low=-0.1, high=6, help="Density of the chip, against the same white.", example=2.05, label="Density")

# --- mixing ---
WATER_PARTS: Final = Quantity(
    unit=BARE,
    low=0.5,
    high=500,
    help="Parts of water to one part of a ready-made concentrate, as its label says: 9 for 1+9.",
    example=9,
    label="Parts of water",
)
MIXED_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1e11, help="How much of it there will be.", example="1 L", label="It makes")
REACHED_STRENGTHS: Final = Quantity(
    unit=BARE, low=0, high=1e7, help="How strong each is in the end, in the unit of the recipe.", example="5 8.99", label="Reached"
)
WANTED_STRENGTHS: Final = Quantity(
    unit=BARE, low=0, high=1e7, help="How strong each should be, in the unit of the recipe.", example="5 9", label="Wanted"
)
TAKEN_G: Final = Quantity(
    unit=GRAM,
    low=0,
    high=1e12,
    help="What is taken from each bottle, to the last digit, for programs.",
    example="52.65 270.79",
    label="Taken, reckoned",
)
