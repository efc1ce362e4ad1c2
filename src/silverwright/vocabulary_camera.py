"""Words for the numbers around the exposure at the camera: the scene against the paper, and what stands beside the time. As in vocabulary.py."""

from typing import Final

from silverwright.asking.fields import Quantity
from silverwright.units import (
    BARE,
    DEGREE,
    EXPOSURE_INDEX,
    EXPOSURE_VALUE,
    F_NUMBER,
    HOUR,
    LATITUDE,
    LOG10,
    LONGITUDE,
    LUMINANCE,
    LUX,
    MILLIMETRE,
    PERCENT,
    RATIO,
    ROUGH_PERCENT,
    SECOND,
    STOP,
    STOP_PER_MINUTE,
    WATT_SECOND,
)

# --- the scene and the paper ---
SCENE_STOPS: Final = Quantity(
    unit=STOP, low=0, high=60, help="From the darkest to the brightest part that must keep its tone, before stray light.", example=4.2, label="Scene"
)
IMAGE_STOPS: Final = Quantity(
    unit=STOP, low=0, high=60, help="How much of it is left on the paper, after stray light or pre-exposure.", example=3.6, label="Scene on the paper"
)
TOO_LONG_STOPS: Final = Quantity(
    unit=STOP, low=0, high=60, help="How much longer the scene is than the paper's range.", example=1.2, label="Too long by"
)
ROOM_STOPS: Final = Quantity(unit=STOP, low=0, high=60, help="How much longer the scene might be and still fit.", example=0.4, label="Room left")
SHADOW_END_STOPS: Final = Quantity(
    unit=STOP, low=-60, high=60, help="Where the paper ends in the shadows, from mid-grey; below is negative.", example=-1.3, label="Shadows end at"
)
HIGHLIGHT_END_STOPS: Final = Quantity(
    unit=STOP, low=-60, high=60, help="Where the paper ends in the highlights, from mid-grey.", example=1.5, label="Highlights end at"
)
SET_EV: Final = Quantity(
    unit=EXPOSURE_VALUE, low=-60, high=80, help="Expose as if the meter had read this of a mid-grey.", example=9.6, label="EV to set"
)
SHIFT_STOPS: Final = Quantity(
    unit=STOP,
    low=-80,
    high=80,
    help="What that gives against your own reading: more is +, less is −.",
    example=0.4,
    label="Against your reading",
)
WANTED_EV: Final = Quantity(
    unit=EXPOSURE_VALUE,
    low=-60,
    high=80,
    help="EV to set that puts mid-grey and skin right, whatever else happens.",
    example=10,
    label="EV for the wanted tone",
)
SHADOWS_EV: Final = Quantity(
    unit=EXPOSURE_VALUE, low=-60, high=80, help="Highest EV to set at which no shadow blocks up.", example=9.1, label="EV to keep the shadows"
)
HIGHLIGHTS_EV: Final = Quantity(
    unit=EXPOSURE_VALUE, low=-60, high=80, help="Lowest EV to set at which no highlight burns out.", example=10.3, label="EV to keep the highlights"
)
BLOCKED_STOPS: Final = Quantity(
    unit=STOP, low=0, high=80, help="How deep the darkest part lies in what the paper does not tell apart.", example=0.6, label="Shadows block up by"
)
BURNT_STOPS: Final = Quantity(
    unit=STOP, low=0, high=80, help="How far the brightest part lies beyond what the paper tells apart.", example=0.6, label="Highlights burn out by"
)
PART_LUMINANCE: Final = Quantity(unit=LUMINANCE, low=1e-4, high=1e6, help="The part's reading as luminance.", example=128, label="Luminance")
SUBJECT_LX: Final = Quantity(
    unit=LUX,
    low=1e-3,
    high=1e6,
    help="Light on the subject instead of a part: it tells where a mid-grey lies.",
    example=640,
    label="Lux on the subject",
)
PART_STOPS: Final = Quantity(
    unit=STOP,
    low=-80,
    high=80,
    help="How far each part lies above a mid-grey on the paper; below is negative.",
    example="-2.1 0 1.6",
    label="Above mid-grey",
)
PART_DENSITY: Final = Quantity(unit=BARE, low=-1, high=12, help="How dark each part becomes.", example="1.6 0.75 0.2", label="Density of each part")
PART_LOW: Final = Quantity(unit=BARE, low=-3, high=12, help="Lower 80 % limit of that density.", example="1.4 0.6 0.1", label="At least")
PART_HIGH: Final = Quantity(unit=BARE, low=-3, high=15, help="Upper 80 % limit of that density.", example="1.7 0.9 0.3", label="At most")
FLARE_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=50, help="Stray light that you measured, in percent of the brightest part.", example=1.2, label="Stray light"
)
RANGE_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=10, help="How unsure the range is: one standard deviation in stops.", example=0.2, label="Doubt of the range"
)
SHADOW_SD_LOG10: Final = Quantity(
    unit=LOG10, low=0, high=3, help="How unsure the shadow point is: one standard deviation.", example=0.05, label="Doubt of the shadow point"
)
HIGHLIGHT_SD_LOG10: Final = Quantity(
    unit=LOG10, low=0, high=3, help="How unsure the highlight point is: one standard deviation.", example=0.05, label="Doubt of the highlight point"
)
POINT_DENSITY: Final = Quantity(unit=BARE, low=-0.3, high=6, help="Density of the curve there.", example=0.98, label="Density")
POINT_LOW: Final = Quantity(unit=BARE, low=-3, high=9, help="Lower edge of the curve's band there.", example=0.95, label="Band from")
POINT_HIGH: Final = Quantity(unit=BARE, low=-3, high=15, help="Upper edge of the curve's band there.", example=1.01, label="Band to")
PREEXPOSURE_PERCENT: Final = Quantity(
    unit=PERCENT, low=0.01, high=90, help="Even exposure before the picture, in percent of what a mid-grey gets.", example=20, label="Pre-exposure"
)
LESS_STOPS: Final = Quantity(
    unit=STOP, low=0, high=10, help="Give the picture itself so much less, and a mid-grey stays a mid-grey.", example=0.3, label="Picture less by"
)
PICTURE_S: Final = Quantity(
    unit=SECOND, low=1e-9, high=1e9, help="Time for the picture itself, so much less.", example=74, label="Time for the picture"
)
BLACK_LOST: Final = Quantity(unit=BARE, low=0.001, high=3, help="Density that the deepest black may lose by it.", example=0.1, label="Black given up")
BLACK_COST: Final = Quantity(
    unit=BARE,
    low=0,
    high=15,
    help="Density that the deepest black of a direct positive loses; in a negative, the veil over its clear parts.",
    example=0.1,
    label="Cost in the black",
)
TONES_STOPS: Final = Quantity(
    unit=STOP,
    low=-20,
    high=20,
    help="Parts to look at: how far each lies above mid-grey, without pre-exposure; below is negative.",
    example="-3 -2 -1 0 1",
    label="Parts",
)
BEFORE_DENSITY: Final = Quantity(
    unit=BARE, low=-1, high=12, help="How dark it becomes without pre-exposure.", example="1.7 1.4 0.75", label="Without"
)
AFTER_DENSITY: Final = Quantity(
    unit=BARE,
    low=-1,
    high=12,
    help="How dark it becomes with pre-exposure, the picture given so much less that a mid-grey stays.",
    example="1.6 1.3 0.7",
    label="With",
)
AFTER_LOW: Final = Quantity(unit=BARE, low=-3, high=12, help="Lower 80 % limit with pre-exposure.", example="1.4 1.1 0.6", label="With, at least")
AFTER_HIGH: Final = Quantity(unit=BARE, low=-3, high=15, help="Upper 80 % limit with pre-exposure.", example="1.7 1.5 0.8", label="With, at most")
SHADOW_GAIN_STOPS: Final = Quantity(
    unit=STOP,
    low=0,
    high=60,
    help="How much deeper shadows may lie and stand apart as clearly as before.",
    example=0.3,
    label="Shadows opened, as clear",
)
RANGE_GAIN_STOPS: Final = Quantity(
    unit=STOP,
    low=0,
    high=60,
    help="How much longer a step sheet would tell the range, counted from the lighter black.",
    example=1.2,
    label="Shadows opened, flat",
)
HIGHLIGHT_COST_STOPS: Final = Quantity(
    unit=STOP, low=0, high=60, help="How much sooner highlights burn out.", example=0.1, label="Cost in the highlights"
)
UNDER_GREY_STOPS: Final = Quantity(
    unit=STOP, low=-10, high=60, help="So many stops less than the same card gets as a mid-grey.", example=2.3, label="Under a mid-grey"
)
CARD_EV: Final = Quantity(
    unit=EXPOSURE_VALUE,
    low=-8,
    high=24,
    help="Reading of an even card that fills the picture, out of focus.",
    example=10,
    label="Reading of the card",
)
PICTURE_EV: Final = Quantity(
    unit=EXPOSURE_VALUE, low=-60, high=80, help="EV for which the picture's time was reckoned.", example=10, label="EV of the picture"
)
CARD_S: Final = Quantity(
    unit=SECOND, low=1e-9, high=1e9, help="Time for the card, at the aperture and extension of the picture.", example=3, label="Time for the card"
)
CARD_F: Final = Quantity(unit=F_NUMBER, low=0.7, high=1e5, help="Smaller apertures for the card.", example="f/22 f/32", label="Or at")
CARD_AT_S: Final = Quantity(unit=SECOND, low=1e-9, high=1e9, help="Time for the card at each of them.", example="6 12", label="For")
OWN_GAIN_STOPS: Final = Quantity(
    unit=STOP, low=-10, high=20, help="Stops that it gained in your own test; negative when it lost.", example=0.6, label="Gained"
)
OWN_GAIN_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=10, help="How unsure that gain is: one standard deviation in stops.", example=0.2, label="Doubt of the gain"
)
GRADE_GAIN_STOPS: Final = Quantity(
    unit=STOP, low=-60, high=60, help="What the next softer grade takes in besides.", example=0.6, label="A softer grade"
)
FILTER_GAIN_STOPS: Final = Quantity(
    unit=STOP, low=-60, high=60, help="What the softest filter takes in besides, on variable-contrast paper.", example=2.3, label="The softest filter"
)
DEVELOPER_GAIN_STOPS: Final = Quantity(
    unit=STOP, low=-60, high=60, help="What a softer first developer takes in besides.", example=0.8, label="A softer first developer"
)
PREEXPOSURE_GAIN_STOPS: Final = Quantity(
    unit=STOP, low=-60, high=60, help="What a pre-exposure opens in the shadows.", example=0.9, label="A pre-exposure"
)
FILL_GAIN_STOPS: Final = Quantity(
    unit=STOP, low=-60, high=60, help="What fill light opens in the shadows that it reaches.", example=1.2, label="Fill light"
)
FILL_FACTOR: Final = Quantity(
    unit=RATIO,
    low=0,
    high=1e20,
    help="Light to add in the shadows, over the light that falls there already.",
    example=1.3,
    label="Fill light, times the shadow's",
)
# --- flash ---
GUIDE_NUMBER: Final = Quantity(
    unit=BARE, low=0.1, high=2000, help="f-number times distance for one flash, as its maker tells it or as you measured it.", example=45
)
GUIDE_EI: Final = Quantity(
    unit=EXPOSURE_INDEX, low=0.1, high=6400, help="The ISO that the guide number is told for.", example=100, label="Guide number at ISO"
)
FLASH_METER_F: Final = Quantity(
    unit=F_NUMBER,
    low=0.5,
    high=512,
    help="What a flash meter at the subject says for one flash, with every head lit.",
    example="f/45",
    label="Flash meter",
)
FLASH_METER_TENTHS_STOPS: Final = Quantity(
    unit=STOP, low=0, high=0.9, help="Tenths of a stop that the flash meter shows behind its f-number.", example=0.4, label="And tenths"
)
FLASH_METER_EI: Final = Quantity(
    unit=EXPOSURE_INDEX,
    low=0.1,
    high=6400,
    help="What the flash meter is set to: its lowest setting, where the paper's EI lies below it.",
    example=3,
    label="Flash meter set to EI",
)
ENERGY_WS: Final = Quantity(
    unit=WATT_SECOND, low=1, high=20000, help="Energy stored for one flash: the roughest way of all.", example=600, label="Stored energy"
)
FLASH_DISTANCE_MM: Final = Quantity(
    unit=MILLIMETRE, low=50, high=1e5, help="Flash to subject; off a wall, the way by the wall.", example="2 m", label="Flash distance"
)
MODIFIER_STOPS: Final = Quantity(
    unit=STOP,
    low=-5,
    high=10,
    help="Stops that it loses, as you measured them against the head in its own reflector.",
    example=1.3,
    label="Loss as measured",
)
SHORT_FLASH_STOPS: Final = Quantity(
    unit=STOP,
    low=-3,
    high=6,
    help="Stops more than by the meter that your own sheets needed under one such flash.",
    example=0.4,
    label="Loss of short flashes",
)
SHORT_FLASH_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=3, help="How unsure that loss is: one standard deviation.", example=0.15, label="Doubt of the loss"
)
FLASH_EXPONENT_FACTOR: Final = Quantity(
    unit=RATIO, low=0.5, high=1.2, help="n flashes do as much as n to this power, by your own sheets.", example=0.95, label="How flashes add up"
)
SHUTTER_OPEN_S: Final = Quantity(
    unit=SECOND, low=0, high=1e5, help="How long the shutter stands open: the light that is there then counts, too.", example=4, label="Shutter open"
)
RECYCLE_S: Final = Quantity(
    unit=SECOND, low=0.3, high=600, help="From one flash until the lamp is ready again.", example=5, label="Ready again after"
)
FLASHES: Final = Quantity(unit=BARE, low=0, high=1e6, help="How many equal flashes the sheet needs, not rounded.", example=4.2)
SET_FLASHES: Final = Quantity(unit=BARE, low=0, high=1e6, help="The whole number of flashes that comes nearest.", example=4, label="Flashes to give")
FLASHES_GIVEN: Final = Quantity(
    unit=BARE, low=1, high=1000, help="How many flashes were really given; empty for an exposure by time.", example=4, label="Flashes given"
)
SET_OFF_STOPS: Final = Quantity(
    unit=STOP, low=-40, high=40, help="What that whole number gives more than is needed; less is negative.", example=-0.1, label="Over by"
)
FLASH_STOPS: Final = Quantity(
    unit=STOP,
    low=-40,
    high=40,
    help="How many stops one flash falls short; below 0 it gives too much.",
    example=2.1,
    label="One flash falls short by",
)
ONE_FLASH_F: Final = Quantity(
    unit=F_NUMBER, low=0.01, high=1e5, help="The aperture at which one flash is enough.", example="f/4", label="Aperture for one flash"
)
PAPER_GUIDE: Final = Quantity(
    unit=BARE, low=0, high=1e5, help="Guide number of this flash for the paper's EI, in metres.", example=7.8, label="Guide number for the paper"
)
DAYLIGHT_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=0,
    high=1e9,
    help="What the light that is there gives meanwhile, of what the sheet needs.",
    example=20,
    label="Light that is there",
)
SERIES_S: Final = Quantity(
    unit=SECOND, low=0, high=1e9, help="From the first flash to the last: so long nobody may move.", example=15, label="The series takes"
)
SO_MANY_FLASHES: Final = Quantity(unit=BARE, low=1, high=1000, help="Numbers of flashes to choose from.", example="1 2 4 8", label="So many flashes")
SO_MANY_F: Final = Quantity(
    unit=F_NUMBER, low=0.01, high=1e6, help="The aperture for so many flashes.", example="f/4 f/5.7 f/8 f/11", label="Aperture for them"
)
# --- the sun ---
CLOCK_HOURS: Final = Quantity(unit=HOUR, low=0, high=24, help="What the clock says there.", example="14:30", label="Clock")
UTC_OFFSET_HOURS: Final = Quantity(
    unit=HOUR,
    low=-12,
    high=14,
    help="How far that clock is ahead of universal time: +1 in a winter of Paris, -4 in a summer of New York.",
    example="+1",
    label="Clock ahead of UTC",
)
LATITUDE_DEG: Final = Quantity(
    unit=LATITUDE, low=-90, high=90, help="How far north the place lies; south is below 0, or S.", example="60.4 N", label="Latitude"
)
LONGITUDE_DEG: Final = Quantity(
    unit=LONGITUDE, low=-180, high=180, help="How far east the place lies; west is below 0, or W.", example="5.3 E", label="Longitude"
)
SUN_HEIGHT_DEG: Final = Quantity(unit=DEGREE, low=-90, high=90, help="How high the sun stands above the horizon.", example=23, label="Sun's height")
SUN_AZIMUTH_DEG: Final = Quantity(
    unit=DEGREE, low=0, high=360, help="Where the sun stands, from north over east.", example=215, label="Sun stands at"
)
SUN_HIGHEST_DEG: Final = Quantity(unit=DEGREE, low=-90, high=90, help="How high it comes there on that day.", example=30, label="At its highest")
SKIES_EV: Final = Quantity(
    unit=EXPOSURE_VALUE, low=-30, high=30, help="What each sky gives at this height of the sun.", example="15 12", label="It gives"
)
DAYLIGHT_LX: Final = Quantity(unit=LUX, low=0, high=1e6, help="What a dome at the subject would read.", example=64000, label="Light at the subject")
DAYLIGHT_EV: Final = Quantity(
    unit=EXPOSURE_VALUE,
    low=-30,
    high=30,
    help="Exposure value at ISO 100 to plan with in place of a reading.",
    example=14,
    label="Exposure value, no meter",
)
DAYLIGHT_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=10, help="How unsure that is: one standard deviation, to give beside it.", example=0.7, label="Doubt of that"
)
DAYLIGHT_TREND: Final = Quantity(
    unit=STOP_PER_MINUTE,
    low=-10,
    high=10,
    help="How fast daylight changes by the height of the sun; below 0 it falls.",
    example=-0.22,
    label="Daylight goes by",
)
# --- equal exposures on one sheet ---
TEST_WIDEST_F: Final = Quantity(
    unit=F_NUMBER, low=0.7, high=512, help="The widest aperture that the short strips may have.", example="f/8", label="Widest"
)
TEST_SMALLEST_F: Final = Quantity(unit=F_NUMBER, low=0.7, high=512, help="The smallest aperture of the lens.", example="f/45", label="Smallest")
DENSITY_PER_STOP: Final = Quantity(
    unit=BARE,
    low=0.05,
    high=4,
    help="By how much one stop moves the density of a middle tone on this paper.",
    example=0.6,
    label="Density for a stop",
)
PLAN_F: Final = Quantity(unit=F_NUMBER, low=0.7, high=512, help="Aperture of each strip.", example="f/8 f/16 f/32", label="Aperture of the strip")
PLAN_S: Final = Quantity(unit=SECOND, low=1e-4, high=1e9, help="Time of each strip.", example="4 16 64", label="Time of the strip")
LOST_STOPS: Final = Quantity(unit=STOP, low=-40, high=40, help="What each strip loses against the short ones.", example="0 0.1 0.3", label="It loses")
LOST_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=40, help="Doubt of what each strip lost: one standard deviation.", example="0.15", label="Doubt of the loss"
)
CHANGE_DENSITY: Final = Quantity(
    unit=BARE,
    low=-20,
    high=20,
    help="Density of each strip against the short ones; below 0 it is lighter.",
    example="0 0.06 0.2",
    label="Density against the short",
)
TOLD_EXPONENT: Final = Quantity(
    unit=RATIO, low=1, high=2, help="Exponents that the longest strip may tell.", example="1 1.08 1.2", label="Exponents told apart"
)
TOLD_DENSITY: Final = Quantity(
    unit=BARE,
    low=-20,
    high=20,
    help="Density of the longest strip against the short ones that means each of these exponents.",
    example="0 0.18 0.4",
    label="By the longest strip's density",
)
AFTER_SD: Final = Quantity(
    unit=RATIO,
    low=0,
    high=2,
    help="How unsure the exponent will be afterwards: one standard deviation.",
    example=0.05,
    label="Doubt of the exponent afterwards",
)
WHOLE_S: Final = Quantity(
    unit=SECOND, low=0, high=1e9, help="All strips one after the other, without the time between.", example="2m30s", label="Shutter open in all"
)
MINUTE_S: Final = Quantity(
    unit=SECOND,
    low=1,
    high=1e6,
    help="What this paper needs where the meter asks for a minute, with an EI that was found at the short time.",
    example=76,
    label="A minute becomes",
)
OWN_METERED_S: Final = Quantity(
    unit=SECOND,
    low=1e-5,
    high=1e6,
    help="Metered time that each strip's time was needed for: own points of the paper.",
    example="15 52",
    label="It stands for, metered",
)
# --- the sitter ---
OF_HUNDRED: Final = Quantity(
    unit=BARE, low=50, high=99, help="In so many of 100 sittings it shall be sharp; 90 unless you say.", example=90, label="Sharp in so many of 100"
)
SINCE_FOCUS_S: Final = Quantity(
    unit=SECOND, low=0, high=3600, help="From the last look at the ground glass until the shutter opens.", example=30, label="Since focusing"
)
SAT_S: Final = Quantity(unit=SECOND, low=0.05, high=600, help="How long the shutter was open for a sheet of this sitter.", example=4, label="Sat for")
SAT_BLUR_MM: Final = Quantity(
    unit=MILLIMETRE, low=0.01, high=50, help="How far the face is drawn out on that sheet.", example=0.4, label="Blur seen on it"
)
LONGEST_SHARP_S: Final = Quantity(
    unit=SECOND, low=1e-6, high=1e6, help="So long the sitter stays still enough.", example=0.98, label="Longest sharp time"
)
MISSING_STOPS: Final = Quantity(unit=STOP, low=0, high=40, help="How many stops the time is too long for the sitter.", example=2, label="Missing")
ROOM_TO_SIT_STOPS: Final = Quantity(
    unit=STOP, low=0, high=40, help="How many stops longer would still do for the sitter.", example=0.5, label="Time to spare"
)
SIDEWAYS_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=1e4,
    help="Blur on the sheet from moving sideways, at the share that is asked for.",
    example=1.28,
    label="Blur sideways",
)
SIDEWAYS_MEDIAN_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=1e4, help="Half of all sittings are blurred less than this.", example=0.44, label="Blur sideways, half of all"
)
FORE_AFT_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=1e4,
    help="Blur on the sheet from moving to and from the camera, out of the depth of field.",
    example=0.02,
    label="Blur to and fro",
)
FORE_AFT_F: Final = Quantity(
    unit=F_NUMBER,
    low=0,
    high=1e5,
    help="The widest aperture that holds this to and fro as sharp as is wanted.",
    example="f/3",
    label="Depth holds from",
)
STILL_PERCENT: Final = Quantity(
    unit=ROUGH_PERCENT, low=0, high=100, help="How many of 100 sittings are sharp sideways at the planned time.", example=56, label="Sharp sittings"
)
AT_TIMES_S: Final = Quantity(unit=SECOND, low=0.01, high=1e6, help="Times to compare.", example="0.5 1 2 4", label="Open for")
AT_TIMES_HALF_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=1e4, help="The same in half of all sittings.", example="0.09 0.17 0.29 0.44", label="In half of all"
)
AT_TIMES_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=1e4, help="Blur sideways after each of them.", example="0.28 0.51 0.86 1.28", label="Blur after it"
)
