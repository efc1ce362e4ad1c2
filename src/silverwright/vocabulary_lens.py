"""Words for the numbers of lens, shutter and hole, and of what is sharp. As in vocabulary.py."""

from typing import Final

from silverwright.asking.fields import Quantity
from silverwright.units import BARE, DEGREE, F_NUMBER, MILLIMETRE, PERCENT, SECOND, STOP

# --- the lens ---
MIRROR_STOPS: Final = Quantity(
    unit=STOP,
    low=0,
    high=4,
    help="Light that the mirror or prism takes: a reading without it less one with it.",
    example=0.25,
    label="Loss in the mirror",
)
MIRROR_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=2, help="How unsure the loss in the mirror is: one standard deviation.", example=0.05, label="Doubt of the mirror"
)
INFINITY_EXTENSION_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=1,
    high=5000,
    help="The extension, from the same edge of the lens, with something far away sharp: holds for a telephoto lens, too.",
    example=240,
    label="Extension at infinity",
)
TARGET_MM: Final = Quantity(unit=MILLIMETRE, low=1, high=5000, help="Length of the printed ruler target at the subject.", example=200, label="Target")
TARGET_IMAGE_MM: Final = Quantity(
    unit=MILLIMETRE, low=0.5, high=2000, help="Length of the ruler target on the ground glass.", example=64, label="Target on the glass"
)
STOP_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0.05,
    high=300,
    help="Diameter of the opening as it is seen from the front: a stop, or a pinhole.",
    example=9,
    label="Diameter",
)
STOP_SD_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=20, help="How unsure the diameter is: one standard deviation.", example=0.1, label="Doubt of the diameter"
)
MARKED_F: Final = Quantity(unit=F_NUMBER, low=0.7, high=512, help="Mark of the aperture scale.", example="f/22", label="Mark of the scale")
PUPIL_MM: Final = Quantity(
    unit=MILLIMETRE, low=0.05, high=300, help="Diameter of the bright circle in the lens, from the front.", example=9.2, label="Bright circle"
)
# --- the shutter ---
MARKED_S: Final = Quantity(unit=SECOND, low=1e-4, high=120, help="Mark that the shutter was set to.", example="1/25", label="Marked")
MEASURED_S: Final = Quantity(unit=SECOND, low=1e-5, high=1000, help="How long the shutter was open.", example="1/29", label="Measured")
HAND_SD_S: Final = Quantity(
    unit=SECOND,
    low=0,
    high=5,
    help="How unsure you open and close by hand, tried against a clock: one standard deviation; 0.2 s unless you say.",
    example=0.1,
    label="Doubt of the hand",
)
WANTED_S: Final = Quantity(unit=SECOND, low=1e-4, high=1000, help="Time that the sheet needs.", example="1/30", label="Wanted time")
SET_ON_SHUTTER_S: Final = Quantity(unit=SECOND, low=1e-4, high=120, help="The mark whose own time is nearest to it.", example="1/25", label="Set")
GIVES_S: Final = Quantity(unit=SECOND, low=1e-6, high=1e4, help="What that mark gives.", example="1/29", label="That gives")
RELEASE_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=10, help="How far one release lies from the next: one standard deviation.", example=0.05, label="Release to release"
)
SPEED_MARK_S: Final = Quantity(unit=SECOND, low=1e-4, high=120, help="Each mark that was measured.", example="1/250 1/25 1", label="Mark")
SPEED_S: Final = Quantity(unit=SECOND, low=1e-6, high=1e4, help="What each mark gives.", example="1/160 1/29 1.1", label="Gives")
SPEED_LOW_S: Final = Quantity(unit=SECOND, low=1e-7, high=1e4, help="One release of ten is shorter.", example="1/170", label="From")
SPEED_HIGH_S: Final = Quantity(unit=SECOND, low=1e-6, high=1e5, help="One release of ten is longer.", example="1/150", label="To")
SPEED_OFF_STOPS: Final = Quantity(
    unit=STOP, low=-10, high=10, help="By how much each mark is slow; fast is negative.", example="0.68", label="Slow by"
)
SPEED_READINGS: Final = Quantity(unit=BARE, low=1, high=500, help="Releases of each mark that were measured.", example="1 3", label="Releases")
# --- sharpness ---
SHARP_MM: Final = Quantity(
    unit=MILLIMETRE, low=0.005, high=10, help="A point on the sheet may become so large and still count as sharp.", example=0.1, label="Sharp up to"
)
NEAREST_MM: Final = Quantity(
    unit=MILLIMETRE, low=20, high=1e6, help="Lens to the nearest thing that must be sharp.", example=590, label="Nearest that must be sharp"
)
FARTHEST_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=20,
    high=1e9,
    help="Lens to the farthest thing that must be sharp; left empty, the horizon.",
    example=690,
    label="Farthest that must be sharp",
)
FOCUS_SPREAD_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=500,
    help="How far the standard moves on its rail between the nearest and the farthest in focus.",
    example=6,
    label="Way on the rail",
)
MOVEMENT_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=100, help="Blur on the sheet from movement: a sitter's sway, wind.", example=0.4, label="Blur from movement"
)
CORNER_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=1000,
    help="From where the lens points on the sheet to its farthest corner; 81 mm on 4x5 in, and what rise or shift adds.",
    example=81,
    label="Middle to corner",
)
CORNER_STOPS: Final = Quantity(unit=STOP, low=0, high=100, help="How much less light that corner gets.", example=0.4, label="Corner gets less")
IN_FOCUS_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=1e12, help="So far from the lens is what the eye focused on.", example=630, label="In focus"
)
NEAR_SHARP_MM: Final = Quantity(unit=MILLIMETRE, low=0, high=1e9, help="Sharp from here on.", example=604, label="Sharp from")
FAR_SHARP_MM: Final = Quantity(unit=MILLIMETRE, low=0, high=1e12, help="Sharp as far as here.", example=659, label="Sharp as far as")
DEPTH_MM: Final = Quantity(unit=MILLIMETRE, low=0, high=1e12, help="From the one to the other.", example=55, label="Depth")
BLUR_HERE_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=1e4,
    help="Size of a point on the sheet where the lens is focused, all blurs added up.",
    example=0.04,
    label="A point in focus",
)
BLUR_NEAR_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=1e4,
    help="Size of a point at the nearest that must be sharp, as the lens stands.",
    example=0.15,
    label="A point at the nearest",
)
BLUR_FAR_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=1e4,
    help="Size of a point at the farthest that must be sharp, as the lens stands.",
    example=0.2,
    label="A point at the farthest",
)
DIFFRACTION_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=1e4,
    help="Size of a point by diffraction alone, in the light that the paper sees.",
    example=0.04,
    label="Diffraction",
)
BEST_F: Final = Quantity(
    unit=F_NUMBER,
    low=0,
    high=1e5,
    help="The opening that draws near and far sharpest, focused between them.",
    example="f/41",
    label="Sharpest opening",
)
BEST_BLUR_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=1e4, help="Size of a point near and far at that opening.", example=0.1, label="A point at that opening"
)
WIDEST_F: Final = Quantity(
    unit=F_NUMBER, low=0, high=1e6, help="The widest opening at which near and far are sharp enough.", example="f/27", label="Widest that is enough"
)
FOCUS_AT_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=1e12, help="Focus on something so far away; near and far are then equally unsharp.", example=635, label="Focus at"
)
SPREAD_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=1e4, help="The way on the rail between near and far.", example=25, label="Way on the rail between them"
)
MOVE_BACK_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=-1000,
    high=1000,
    help="Move the back so far away from the lens after focusing by eye; less than nothing is towards the lens.",
    example=-2.8,
    label="Move the back",
)
BLUE_SHIFT_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=-20,
    high=20,
    help="How much longer the focal length is for the paper than for the eye; shorter is negative, of a corrected lens it is 0.",
    example=-1.5,
    label="Shift for blue",
)
RULER_DISTANCE_MM: Final = Quantity(
    unit=MILLIMETRE, low=20, high=1e5, help="Lens to the mark of the ruler that the eye focused on.", example=900, label="Lens to the focused mark"
)
FOCUSED_MARK_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=5000,
    help="The mark that the eye focused on; the numbers grow away from the lens.",
    example=100,
    label="Focused mark",
)
SHARPEST_MARK_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=5000, help="The mark that came out sharpest on the paper.", example=73, label="Sharpest mark"
)
SLANT_DEG: Final = Quantity(
    unit=DEGREE, low=0, high=80, help="Angle between the ruler and the axis of the lens; 45 unless you say.", example=45, label="Slant"
)
MARK_SD_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=100, help="How unsure the sharpest mark is: one standard deviation.", example=3, label="Doubt of the mark"
)
SLID_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=-1e4,
    high=1e4,
    help="How far behind the focused mark the sharpest lies, along the axis; nearer is negative.",
    example=-19,
    label="Sharpest behind focused",
)
SET_F: Final = Quantity(unit=F_NUMBER, low=0, high=1e6, help="True f-number of the lens now.", example="f/22.6", label="The lens stands at")
AT_OPENING_F: Final = Quantity(unit=F_NUMBER, low=0.7, high=512, help="Full stops.", example="f/16 f/22 f/32", label="At")
AT_OPENING_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=1e4,
    help="A point near and far at each, focused between them.",
    example="0.36 0.26 0.19",
    label="Near and far",
)
# --- openings and holes ---
OPENING_S: Final = Quantity(unit=SECOND, low=1e-4, high=1e6, help="How long this opening lasted.", example=20, label="Open for")
OPENING_F: Final = Quantity(
    unit=F_NUMBER, low=0.7, high=512, help="Aperture of this opening, where it was another than that of the rest.", example="f/32", label="At"
)
MORE_OPENINGS: Final = Quantity(unit=BARE, low=1, high=100, help="In how many openings the rest is given.", example=1, label="Openings that are left")
ADDED_S: Final = Quantity(
    unit=SECOND, low=0, high=1e12, help="All openings as one time at the aperture, by their light alone.", example=55, label="Light of all openings"
)
EQUALS_S: Final = Quantity(
    unit=SECOND,
    low=0,
    high=1e13,
    help="One exposure at the aperture that would do the same, reciprocity and all.",
    example=55,
    label="As one exposure",
)
SHORT_STOPS: Final = Quantity(
    unit=STOP, low=-60, high=60, help="What is missing to the time that is needed; too much is negative.", example=0.75, label="Missing"
)
LEFT_S: Final = Quantity(unit=SECOND, low=0, high=1e12, help="Give so much more at the aperture.", example=42, label="Left to give")
EACH_S: Final = Quantity(unit=SECOND, low=0, high=1e12, help="So much in each opening that is left.", example=42, label="In each opening")
WANTED_F: Final = Quantity(unit=F_NUMBER, low=0.7, high=1000, help="The aperture that a hole shall make.", example="f/16", label="Wanted aperture")
HOLE_F: Final = Quantity(unit=F_NUMBER, low=0, high=1e6, help="The aperture that the hole is.", example="f/16.7", label="The hole is")
DRILL_MM: Final = Quantity(unit=MILLIMETRE, low=0, high=1e4, help="Drill the hole so large for it.", example=9.4, label="Drill")
SHARPEST_HOLE_MM: Final = Quantity(
    unit=MILLIMETRE,
    low=0,
    high=100,
    help="The pinhole that draws sharpest at this distance, in the blue that paper sees.",
    example=0.4,
    label="Sharpest hole",
)
SHARPEST_F: Final = Quantity(unit=F_NUMBER, low=0, high=1e6, help="The aperture that the sharpest hole is.", example="f/378", label="It is")
BOX_FOCUS_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=1e12, help="A box of this depth is sharpest so far away.", example=2960, label="Focused at"
)
HOLE_MARK_F: Final = Quantity(unit=F_NUMBER, low=0.7, high=512, help="The full stops.", example="f/8 f/11 f/16", label="Stop")
HOLE_MM: Final = Quantity(unit=MILLIMETRE, low=0, high=1e4, help="The hole that each of them is.", example="18.8 13.3 9.4", label="Hole")
