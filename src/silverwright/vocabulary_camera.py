"""Words for the numbers around the exposure at the camera: the scene against the paper, and what stands beside the time. As in vocabulary.py."""

from typing import Final

from silverwright.asking.fields import Quantity
from silverwright.units import BARE, EXPOSURE_VALUE, F_NUMBER, LOG10, PERCENT, RATIO, SECOND, STOP

# --- the scene and the paper ---
SCENE_STOPS: Final = Quantity(
    unit=STOP, low=0, high=60, help="From the darkest to the brightest part that must keep its tone, as read.", example=4.2, label="Scene"
)
IMAGE_STOPS: Final = Quantity(
    unit=STOP, low=0, high=60, help="How much of it is left on the paper, after stray light.", example=3.6, label="Scene on the paper"
)
TOO_LONG_STOPS: Final = Quantity(
    unit=STOP, low=0, high=60, help="How much longer the scene is than the paper's range.", example=1.2, label="Too long by"
)
ROOM_STOPS: Final = Quantity(unit=STOP, low=0, high=60, help="How much longer the scene might be and still fit.", example=0.4, label="Room left")
SET_EV: Final = Quantity(
    unit=EXPOSURE_VALUE, low=-60, high=80, help="Expose as if the meter had read this of a mid-grey.", example=9.6, label="EV to set"
)
SHIFT_STOPS: Final = Quantity(
    unit=STOP,
    low=-80,
    high=80,
    help="How much more that is than by your own reading; less is negative.",
    example=0.4,
    label="More than by the reading",
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
    unit=PERCENT, low=0.01, high=1000, help="Even exposure before the picture, in percent of what a mid-grey gets.", example=20, label="Pre-exposure"
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
AFTER_DENSITY: Final = Quantity(unit=BARE, low=-1, high=12, help="How dark it becomes with pre-exposure.", example="1.6 1.3 0.7", label="With")
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
    unit=RATIO, low=0, high=1e20, help="Light to add in the shadows, over the light that falls there already.", example=1.3, label="Fill light needed"
)
