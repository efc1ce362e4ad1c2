"""Words for the numbers of the darkroom's chemistry: strengths, amounts, acidity, tests. As in vocabulary.py."""

from typing import Final

from silverwright.asking.fields import Quantity
from silverwright.units import (
    BARE,
    CELSIUS,
    DAY,
    GRAM,
    GRAM_PER_100_ML,
    GRAM_PER_LITRE,
    GRAM_PER_MILLILITRE,
    GRAM_PER_SQUARE_METRE,
    KILOPASCAL,
    MILLIGRAM,
    MILLIGRAM_PER_LITRE,
    MILLILITRE,
    MILLIMOL_PER_LITRE,
    MOL_PER_LITRE,
    PERCENT,
    PERCENT_PER_DAY,
    RATIO,
    ROUGH_PERCENT,
    SCALE_GRAM,
    SECOND,
    VOLUMES_OF_OXYGEN,
)

# --- strength and amounts ---
STRENGTH: Final = Quantity(unit=BARE, low=0, high=2000, help="How strong it is, in the unit beside it.", example=35)
STOCK_STRENGTH: Final = Quantity(
    unit=BARE, low=0, high=2000, help="How strong the stock is, by its label.", example=35, label="Strength of the stock"
)
WANTED_STRENGTH: Final = Quantity(unit=BARE, low=0, high=2000, help="How strong it shall become.", example=9, label="Wanted strength")
BATH_STRENGTH: Final = Quantity(unit=BARE, low=0, high=2000, help="How strong the bath is now.", example=7.5, label="Strength of the bath")
STRENGTH_PERCENT_WW: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="Grams of the substance in 100 g of the solution.", example=35, label="By weight (w/w)"
)
STRENGTH_PERCENT_WV: Final = Quantity(
    unit=PERCENT, low=0, high=200, help="Grams of the substance in 100 mL of the solution.", example=39.6, label="By volume (w/v)"
)
STRENGTH_G_PER_L: Final = Quantity(
    unit=GRAM_PER_LITRE, low=0, high=2000, help="Grams of the substance in a litre of the solution.", example=396, label="In a litre"
)
STRENGTH_MOL_PER_L: Final = Quantity(
    unit=MOL_PER_LITRE, low=0, high=100, help="Moles of the substance in a litre of the solution.", example=11.7, label="Moles in a litre"
)
STRENGTH_VOLUMES: Final = Quantity(
    unit=VOLUMES_OF_OXYGEN,
    low=0,
    high=2000,
    help="How many litres of oxygen, at 0 °C and one atmosphere, a litre of peroxide can give off.",
    example=131,
    label="Volumes of oxygen",
)
DENSITY_G_PER_ML: Final = Quantity(
    unit=GRAM_PER_MILLILITRE, low=0.5, high=4, help="What a millilitre of it weighs.", example=1.133, label="A millilitre weighs"
)
WATER_G: Final = Quantity(unit=GRAM, low=0, high=1_000_000, help="How much water goes with it, weighed.", example=766, label="Water, weighed")
WATER_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="How much water goes with it.", example=768, label="Water")
SET_G: Final = Quantity(
    unit=SCALE_GRAM, low=0, high=1_000_000, help="What a scale for tenths of a gram can show of it.", example=265.3, label="On the scale"
)
SET_ML: Final = Quantity(
    unit=MILLILITRE, low=0, high=1_000_000, help="The nearest mark of a measuring cylinder.", example=234, label="In the cylinder"
)
SET_WATER_ML: Final = Quantity(
    unit=MILLILITRE, low=0, high=1_000_000, help="The nearest mark for the water.", example=770, label="Water in the cylinder"
)
WEIGHED_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="How strong it is, by weight, when both were weighed.", example=9, label="Comes out, weighed"
)
MEASURED_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="How strong it is, by weight, when both were measured by cylinder.", example=8.97, label="Comes out, measured"
)
NAIVE_ML: Final = Quantity(
    unit=MILLILITRE,
    low=0,
    high=1_000_000,
    help="What the rule “strength times volume stays the same” would take, as if percent by weight were percent by volume.",
    example=257,
    label="By the naive rule",
)
NAIVE_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=-100,
    high=200,
    help="How much too strong the naive rule makes it, as a share of what was wanted; below 0 too weak.",
    example=9.5,
    label="The naive rule is off by",
)
BECOMES_ML: Final = Quantity(unit=MILLILITRE, low=0, high=2_000_000, help="How much it is afterwards.", example=1003, label="Volume afterwards")
BEFORE_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="How strong it was, by weight, before anything was added.", example="9 5", label="Before, w/w"
)
AFTER_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="How strong it is afterwards, by weight.", example="8.9 5.4", label="Afterwards, w/w"
)
AFTER_LOW_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=0,
    high=100,
    help="The lower limit of the strength afterwards, as far as what is added is unsure.",
    example="8.9 5.3",
    label="At least, w/w",
)
AFTER_HIGH_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=0,
    high=100,
    help="The upper limit of the strength afterwards, as far as what is added is unsure.",
    example="8.9 5.5",
    label="At most, w/w",
)
AFTER_G_PER_L: Final = Quantity(
    unit=GRAM_PER_LITRE, low=0, high=4000, help="Grams of it in a litre afterwards.", example="92 56", label="Afterwards, in a litre"
)
PH_BEFORE: Final = Quantity(unit=BARE, low=-10, high=25, help="How acid it was before anything was added.", example=1.9, label="pH before")
PH_AFTER: Final = Quantity(unit=BARE, low=-10, high=25, help="How acid it is afterwards.", example=1.85, label="pH afterwards")
TAKE_OUT_ML: Final = Quantity(
    unit=MILLILITRE, low=0, high=1_000_000, help="How much of the bath is taken out first.", example=56, label="Take out first"
)
ADDED_AMOUNT: Final = Quantity(unit=BARE, low=0, high=100_000, help="How much is added, in the unit beside it.", example=1)
ADDED_STRENGTH: Final = Quantity(unit=BARE, low=0, high=2000, help="How strong the stock that is added is.", example=35, label="Strength")
VOLUME_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="Volume of the solution.", example="1 L")
WEIGH_G: Final = Quantity(unit=GRAM, low=0, high=1_000_000, help="How much of it to weigh.", example=265, label="Weigh")
MEASURE_ML: Final = Quantity(unit=MILLILITRE, low=0, high=1_000_000, help="How much of it to measure out.", example=234, label="Measure")
INGREDIENT_AMOUNT: Final = Quantity(unit=BARE, low=0, high=1_000_000, help="How much of the ingredient, in the unit beside it.", example=9)
PH: Final = Quantity(unit=BARE, low=-2, high=16, help="How acid or alkaline: below 7 acid, above alkaline.", example=1.9, label="pH")

# --- acid, water, silver, washing ---
MEASURED_PH: Final = Quantity(unit=BARE, low=-2, high=16, help="What you read yourself, if you did.", example=2.1, label="pH as read")
ACID_RESERVE: Final = Quantity(
    unit=MILLIMOL_PER_LITRE,
    low=0,
    high=100_000,
    help="How much strong alkali a litre takes until it stands at pH 4.",
    example=268,
    label="Acid reserve",
)
ACID_RESERVE_NAOH: Final = Quantity(
    unit=GRAM_PER_100_ML,
    low=0,
    high=1000,
    help="The same as grams of sodium hydroxide in 100 mL, as it is written for classification.",
    example=1.07,
    label="Acid reserve, as sodium hydroxide",
)
ALKALI_RESERVE: Final = Quantity(
    unit=MILLIMOL_PER_LITRE,
    low=0,
    high=100_000,
    help="How much strong acid a litre takes until it stands at pH 10.",
    example=320,
    label="Alkali reserve",
)
CARBONATE_STEPS: Final = Quantity(
    unit=MILLIMOL_PER_LITRE,
    low=0,
    high=2000,
    help="Carbonate that has come in with the sheets, for a look at what it does.",
    example="0 5 10 20 50",
    label="Carbonate that comes in",
)
PH_STEPS: Final = Quantity(
    unit=BARE, low=-10, high=25, help="How acid it is with so much carbonate in it.", example="1.87 2.34", label="pH with that carbonate"
)
RESERVE_STEPS: Final = Quantity(
    unit=MILLIMOL_PER_LITRE,
    low=0,
    high=100_000,
    help="What is left of the acid reserve with so much carbonate in it.",
    example="268 168",
    label="Reserve that is left",
)
HARDNESS: Final = Quantity(
    unit=MILLIMOL_PER_LITRE,
    low=0,
    high=50,
    help="Hardness of the water, calcium and magnesium together; the waterworks tell it, 1 °dH is 0.178 mmol/L.",
    example="14 °dH",
    label="Hardness",
)
CARBONATE_HARDNESS: Final = Quantity(
    unit=MILLIMOL_PER_LITRE,
    low=0,
    high=50,
    help="The part of the hardness that is carbonate, which takes acid; an aquarium's test tells it.",
    example="11 °dH",
    label="Carbonate hardness",
)
CHLORIDE: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE, low=0, high=40_000, help="Chloride in the water; the waterworks tell it.", example=30, label="Chloride"
)
SILVER_DISSOLVED: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE, low=0, high=100_000, help="Silver that is dissolved in it.", example=400, label="Dissolved silver"
)
SILVER_FOUND: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE,
    low=0,
    high=100_000,
    help="Silver that a test of the bath showed, if you made one.",
    example=150,
    label="Silver found by a test",
)
SILVER_BOUND: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE,
    low=0,
    high=100_000,
    help="Silver that the water's chloride takes out as silver chloride.",
    example=91,
    label="Silver that chloride takes out",
)
SILVER_BOUND_PERCENT: Final = Quantity(
    unit=ROUGH_PERCENT, low=0, high=100, help="How much of the dissolved silver that is.", example=23, label="Of the dissolved silver"
)
ACID_TAKEN: Final = Quantity(
    unit=MILLIMOL_PER_LITRE, low=0, high=100, help="Acid that the water's carbonate takes.", example=3.2, label="Acid that the water takes"
)
RESERVE_TAKEN: Final = Quantity(
    unit=ROUGH_PERCENT, low=0, high=100_000, help="How much of the bath's acid reserve that is.", example=1.2, label="Of the acid reserve"
)
PH_DISTILLED: Final = Quantity(
    unit=BARE, low=-10, high=25, help="How acid the bath is when it is mixed with distilled water.", example=1.87, label="pH in distilled water"
)
PH_HERE: Final = Quantity(
    unit=BARE, low=-10, high=25, help="How acid the bath is when it is mixed with this water.", example=1.92, label="pH in this water"
)
DRY_G: Final = Quantity(unit=GRAM, low=0.01, high=2000, help="A sheet weighed before it goes into a bath.", example=12.4, label="Sheet, dry")
DRAINED_G: Final = Quantity(
    unit=GRAM, low=0.01, high=5000, help="The same sheet weighed out of the bath, drained as always.", example=16.1, label="Sheet, drained"
)
COATED: Final = Quantity(
    unit=GRAM_PER_SQUARE_METRE,
    low=0.05,
    high=20,
    help="Silver that is coated on the paper, if you know it.",
    example=0.93,
    label="Silver in the paper",
)
STAYS_PERCENT: Final = Quantity(
    unit=ROUGH_PERCENT,
    low=0,
    high=100,
    help="How dark the picture is, as the share of its silver that stays in it: 0 a white sheet, 100 a black one.",
    example=50,
    label="Darkness of the picture",
)
SILVER_EACH: Final = Quantity(
    unit=MILLIGRAM, low=0, high=100_000, help="Silver that one sheet gives to the bath.", example=24, label="Silver of one sheet"
)
SILVER_NOW: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE, low=0, high=1e6, help="Silver in the bath after these sheets.", example=240, label="Silver in the bath"
)
SILVER_LIMIT: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE,
    low=0,
    high=1e9,
    help="How much silver the bath is sure to hold, as it is by then.",
    example=420,
    label="It holds",
)
SHEETS_TO_LIMIT: Final = Quantity(
    unit=BARE,
    low=0,
    high=1e9,
    help="Sheets from the first one on until more silver is in the bath than it is sure to hold.",
    example=14,
    label="Sheets until then",
)
PEROXIDE_USED: Final = Quantity(
    unit=GRAM,
    low=0,
    high=1e6,
    help="Peroxide that the silver itself has used up; much more falls apart by itself.",
    example=0.04,
    label="Peroxide used",
)
PH_NOW: Final = Quantity(unit=BARE, low=-10, high=25, help="How acid the bath is after these sheets.", example=2.1, label="pH by now")
LEFT_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=0,
    high=100,
    help="What dilution by the sheets has left of what the bath held at first.",
    example=96,
    label="Left after carry-over",
)
AT_SHEETS: Final = Quantity(unit=BARE, low=0, high=10_000, help="After so many sheets.", example="0 10 20", label="After sheets")
SILVER_THEN: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE, low=0, high=1e9, help="Silver in the bath after so many sheets.", example="0 240", label="Silver then"
)
LIMIT_THEN: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE, low=0, high=1e9, help="What it is sure to hold after so many sheets.", example="850 500", label="It holds then"
)
PH_THEN: Final = Quantity(unit=BARE, low=-10, high=25, help="How acid it is after so many sheets.", example="1.9 2.1", label="pH then")

# --- tests of strength ---
TITRE_ML: Final = Quantity(
    unit=MILLILITRE, low=0, high=1000, help="How much of the reagent went in until the colour changed.", example=5.46, label="Reagent used"
)
BLANK_ML: Final = Quantity(
    unit=MILLILITRE, low=0, high=100, help="How much it took without any peroxide. Not tried: leave it empty.", example=0.05, label="Blank"
)
REAGENT_MOL_PER_L: Final = Quantity(
    unit=MOL_PER_LITRE,
    low=0.0001,
    high=2,
    help="Strength of the reagent. Permanganate of 0.1 N is 0.02 mol/L; thiosulphate of 0.1 N is 0.1 mol/L.",
    example=0.02,
    label="Strength of the reagent",
)
REAGENT_DOUBT_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=50, help="Doubt of the reagent's strength, one standard deviation.", example=1, label="Doubt of the reagent"
)
SAMPLE_ML: Final = Quantity(unit=MILLILITRE, low=0.01, high=1000, help="How much was taken of the bottle or the bath.", example=1, label="Sample")
MADE_UP_ML: Final = Quantity(unit=MILLILITRE, low=0.01, high=100_000, help="To how much it was made up with water.", example=100, label="Made up to")
ALIQUOT_ML: Final = Quantity(
    unit=MILLILITRE, low=0.01, high=1000, help="How much of the diluted sample went into the test.", example=10, label="Of that, tested"
)
LABEL_STRENGTH: Final = Quantity(
    unit=BARE, low=0.01, high=2000, help="How strong it is by its label or its recipe, to compare with.", example=9, label="By the label"
)
OF_LABEL_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=10_000, help="What was found, as a share of what the label says.", example=98, label="Of the label"
)
EXPECTED_ML: Final = Quantity(
    unit=MILLILITRE,
    low=0,
    high=1_000_000,
    help="How much reagent or gas it would be by the label.",
    example=5.46,
    label="Expected by the label",
)
GAS_ML: Final = Quantity(
    unit=MILLILITRE, low=0, high=100_000, help="Gas in the cylinder, water inside and outside at one level.", example=33.6, label="Gas"
)
LIQUID_ML: Final = Quantity(
    unit=MILLILITRE,
    low=0,
    high=10_000,
    help="Liquid in the bottle beside the sample: some oxygen stays dissolved in it.",
    example=20,
    label="Liquid beside the sample",
)
PRESSURE_KPA: Final = Quantity(
    unit=KILOPASCAL,
    low=50,
    high=110,
    help="Pressure of the air at your place, not reduced to sea level: about 101 at the sea, 90 at 1000 m.",
    example=101.3,
    label="Air pressure",
)
ROOM_CELSIUS: Final = Quantity(
    unit=CELSIUS, low=0, high=50, help="Temperature of water and gas; not measured: leave it empty.", example=20, label="Temperature"
)
VAPOUR_KPA: Final = Quantity(
    unit=KILOPASCAL, low=0, high=110, help="Which part of the pressure is vapour of the water.", example=2.34, label="Vapour"
)
STRIP_MG_PER_L: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE,
    low=0,
    high=10_000,
    help="What the colour of the strip is like; between two colours, a figure between theirs.",
    example=10,
    label="The strip reads",
)
STRIP_SCALE_MG_PER_L: Final = Quantity(
    unit=MILLIGRAM_PER_LITRE,
    low=0,
    high=10_000,
    help="The colours on the tube, one after the other.",
    example="0.5 2 5 10 25",
    label="Colours on the tube",
)
TAKEN_ML: Final = Quantity(unit=MILLILITRE, low=0.01, high=10_000, help="How much was taken for this step.", example=1, label="Taken")
WANTED_FACTOR: Final = Quantity(
    unit=RATIO,
    low=1,
    high=1e9,
    help="How far to dilute for a colour in the middle of the scale.",
    example=10_000,
    label="Better diluted, times",
)
CLEARED_FRESH_S: Final = Quantity(
    unit=SECOND,
    low=1,
    high=86_400,
    help="How long each black strip took to clear in the fresh bath.",
    example="1:50 2:00",
    label="Cleared in fresh bath",
)
CLEARED_USED_S: Final = Quantity(
    unit=SECOND, low=1, high=86_400, help="How long each strip took in the used bath.", example="2:40 2:50", label="Cleared in used bath"
)
GAVE_UP_S: Final = Quantity(
    unit=SECOND,
    low=1,
    high=86_400,
    help="If a strip had not cleared when you gave up: after how long.",
    example="8:00",
    label="Not cleared after",
)
FRESH_CELSIUS: Final = Quantity(
    unit=CELSIUS, low=0, high=60, help="Temperature of the fresh bath when it was tried.", example=20, label="Fresh bath at"
)
USED_CELSIUS: Final = Quantity(unit=CELSIUS, low=0, high=60, help="Temperature of the used bath when it was tried.", example=20, label="Used bath at")
USUAL_BLEACH_S: Final = Quantity(
    unit=SECOND, low=1, high=86_400, help="How long your sheets stay in a fresh bath.", example="4:00", label="Usual time in the bleach"
)
LIMIT_FACTOR: Final = Quantity(
    unit=RATIO, low=1.05, high=10, help="How many times the fresh clearing time is the end of a bath.", example=2, label="Discard from"
)
CLEARING_FACTOR: Final = Quantity(
    unit=RATIO,
    low=0.001,
    high=100_000,
    help="How many times longer the used bath takes to clear, at one temperature.",
    example=1.45,
    label="Times as long as fresh",
)
BEYOND_LIMIT_PERCENT: Final = Quantity(
    unit=ROUGH_PERCENT, low=0, high=100, help="How likely the bath is beyond the limit.", example=15, label="Chance that it is spent"
)
NEEDED_BLEACH_S: Final = Quantity(
    unit=SECOND,
    low=0,
    high=1e9,
    help="How long a sheet would stay in it for the same work.",
    example="5:48",
    label="Time in the used bath",
)
FIRST_ASSAY_PERCENT: Final = Quantity(
    unit=PERCENT, low=0.001, high=100, help="Strength by weight at the first assay.", example=9, label="First assay"
)
SECOND_ASSAY_PERCENT: Final = Quantity(
    unit=PERCENT, low=0.001, high=100, help="Strength by weight at the second assay.", example=8.4, label="Second assay"
)
FIRST_DOUBT_PERCENT: Final = Quantity(
    unit=PERCENT, low=0.01, high=100, help="Doubt of the first assay as a share of it, one standard deviation.", example=2, label="Doubt of the first"
)
SECOND_DOUBT_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=0.01,
    high=100,
    help="The same of the second assay.",
    example=2,
    label="Doubt of the second",
)
APART_DAYS: Final = Quantity(unit=DAY, low=0.01, high=10_000, help="How many days lie between both assays.", example=10, label="Days between them")
AHEAD_DAYS: Final = Quantity(
    unit=DAY, low=0, high=10_000, help="How many days after the second assay you want to know it.", example=7, label="Days after the second"
)
LEAST_PERCENT: Final = Quantity(
    unit=PERCENT, low=0.001, high=100, help="The least strength with which you would still work.", example=7, label="Wanted at least"
)
KEPT_CELSIUS: Final = Quantity(unit=CELSIUS, low=-5, high=60, help="How warm it stood between the assays.", example=20, label="Kept at")
OTHER_CELSIUS: Final = Quantity(unit=CELSIUS, low=-5, high=60, help="Another temperature at which you might keep it.", example=8, label="Or kept at")
LOSS_PERCENT_PER_DAY: Final = Quantity(
    unit=PERCENT_PER_DAY, low=0, high=100, help="Which share of its strength it loses in a day.", example=0.69, label="Loses"
)
HALF_DAYS: Final = Quantity(unit=DAY, low=0, high=1e9, help="After how many days half of it is gone.", example=100, label="Half is gone after")
LASTS_DAYS: Final = Quantity(
    unit=DAY, low=0, high=1e9, help="How many days after the second assay it is still as strong as wanted.", example=26, label="Strong enough for"
)
WARMTH_FACTOR: Final = Quantity(
    unit=RATIO, low=0, high=100_000, help="How many times faster it goes at the other temperature.", example=0.28, label="Times as fast there"
)
OTHER_LOSS_PERCENT_PER_DAY: Final = Quantity(
    unit=PERCENT_PER_DAY,
    low=0,
    high=100,
    help="What it would lose in a day at the other temperature.",
    example=0.2,
    label="There it would lose",
)
FILL_ML: Final = Quantity(unit=MILLILITRE, low=1, high=1_000_000, help="Fresh water of each fill.", example="1 L", label="Water of one fill")
FILLS: Final = Quantity(unit=BARE, low=0, high=100, help="How many times it is filled, left and emptied.", example=4)
SOAK_S: Final = Quantity(unit=SECOND, low=1, high=86400, help="How long each fill is left, with movement.", example="5 min", label="Each fill lasts")
THIOSULPHATE: Final = Quantity(
    unit=GRAM_PER_LITRE,
    low=0,
    high=500,
    help="Thiosulphate in what the sheets carry into the wash; a usual fixer holds about 90 g/L, less after a rinse.",
    example=90,
    label="Thiosulphate carried in",
)
LEFT_IN_PAPER: Final = Quantity(
    unit=ROUGH_PERCENT, low=0, high=100, help="What is left in the paper of what it carried into the wash.", example=0.01, label="Left in the paper"
)
LEFT_ON_AREA: Final = Quantity(
    unit=GRAM_PER_SQUARE_METRE, low=0, high=1000, help="The same as thiosulphate on a square metre.", example=0.001, label="Thiosulphate left"
)
FILLS_NEEDED: Final = Quantity(
    unit=BARE, low=0, high=1e6, help="Whole fills until no more is left than film may hold that is to last.", example=3, label="Fills needed"
)
WATER_NEEDED_ML: Final = Quantity(
    unit=MILLILITRE, low=0, high=1e9, help="Water for the fills that were asked for.", example="4 L", label="Water in all"
)
WASH_S: Final = Quantity(unit=SECOND, low=0, high=1e8, help="How long these fills take.", example="20 min", label="It takes")
FILL_NUMBER: Final = Quantity(unit=BARE, low=0, high=100, help="After so many fills.", example="1 2 3", label="After fills")
LEFT_THEN: Final = Quantity(
    unit=ROUGH_PERCENT, low=0, high=100, help="What is left in the paper after so many fills.", example="2 0.04", label="Left then"
)
ON_AREA_THEN: Final = Quantity(
    unit=GRAM_PER_SQUARE_METRE,
    low=0,
    high=1000,
    help="Thiosulphate on a square metre after so many fills.",
    example="0.13 0.0026",
    label="Thiosulphate then",
)
