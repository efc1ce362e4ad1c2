"""Every word for a number, once: its unit, bounds, meaning and example. The glossary is printed from here."""

from typing import Final

from silverwright.asking.fields import Quantity
from silverwright.units import (
    BARE,
    CELSIUS,
    EXPOSURE_INDEX,
    EXPOSURE_VALUE,
    F_NUMBER,
    LOG10,
    LUMINANCE,
    LUX,
    LUX_SECOND,
    MILLIMETRE,
    NANOMETRE,
    PERCENT,
    RATIO,
    SECOND,
    STOP,
    STOP_PER_MINUTE,
)

# --- light and meter ---
READING_EV: Final = Quantity(unit=EXPOSURE_VALUE, low=-8, high=24, help="Exposure value at ISO 100, as the meter shows it.", example=10)
EXPOSURE_EV: Final = Quantity(
    unit=EXPOSURE_VALUE, low=-8, high=24, help="Exposure value at ISO 100, against K 12.5.", example=10, label="Exposure value"
)
READING_LUMINANCE: Final = Quantity(
    unit=LUMINANCE, low=1e-4, high=1e6, help="Reflected reading as luminance.", example=128, label="Reading, luminance"
)
READING_LX: Final = Quantity(unit=LUX, low=1e-3, high=1e6, help="Incident reading at the subject.", example=640, label="Reading, light")
METER_K: Final = Quantity(unit=BARE, low=10, high=15, help="Constant of the reflected meter; 12.5 or 14.", example=12.5, label="Meter constant K")
METER_C: Final = Quantity(
    unit=BARE, low=200, high=600, help="Constant of the incident meter: 330 for a dome, 250 for a flat one.", example=330, label="Meter constant C"
)
DIAL_EI: Final = Quantity(unit=EXPOSURE_INDEX, low=0.1, high=6400, help="What the meter's dial was set to.", example=100, label="Meter set to EI")
DIAL_TIME_S: Final = Quantity(unit=SECOND, low=1e-5, high=86400, help="Time that the meter shows.", example="1/8", label="Time on the meter")
DIAL_APERTURE_F: Final = Quantity(
    unit=F_NUMBER, low=0.7, high=512, help="Aperture that belongs to the time on the meter.", example="f/8", label="Aperture on the meter"
)
PAPER_EI: Final = Quantity(
    unit=EXPOSURE_INDEX, low=0.01, high=1000, help="Exposure index of the paper in your process, in noon daylight.", example=1.5, label="Paper's EI"
)
DOUBT_STOPS: Final = Quantity(unit=STOP, low=0, high=5, help="How unsure that is: one standard deviation in stops.", example=0.5)
DOUBT_EI_STOPS: Final = Quantity(
    unit=STOP, low=0, high=5, help="How unsure the paper's EI is: one standard deviation in stops.", example=0.5, label="Doubt of the EI"
)
READING_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=5, help="How unsure the reading is: one standard deviation in stops.", example=0.2, label="Doubt of the reading"
)
REFLECTANCE_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="The grey on which a reflected and an incident meter agree.", example=15.7, label="Equivalent grey"
)
LIGHT_OFFSET_STOPS: Final = Quantity(
    unit=STOP,
    low=-8,
    high=8,
    help="How much more of this light the paper gets than the meter tells, against noon daylight; less is negative.",
    example=-1.41,
    label="Paper gets",
)
LIGHT_OFFSET_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=5, help="How unsure that is: one standard deviation.", example=0.3, label="Doubt of what the paper gets"
)
LIGHT_STOPS: Final = Quantity(
    unit=STOP,
    low=-8,
    high=8,
    help="How much more of its light the paper gets than the meter tells, by the table: the exposure is brought to noon daylight by it.",
    example=0.48,
    label="Light by the table",
)
LIGHT_PART_STOPS: Final = Quantity(
    unit=STOP,
    low=0,
    high=5,
    help="The light's part of the doubt of the next sheet: one standard deviation.",
    example=0.3,
    label="Doubt from the light",
)
EI_PART_STOPS: Final = Quantity(
    unit=STOP, low=0, high=5, help="The rest of it, which is the EI's: one standard deviation.", example=0.2, label="Doubt from the EI"
)
LIGHT_SHOWN_STOPS: Final = Quantity(
    unit=STOP,
    low=-8,
    high=8,
    help="How much more the paper got in this light than the meter told, as one sheet shows it; less is negative.",
    example=-2.1,
    label="Paper got",
)
LIGHT_SHOWN_SD_STOPS: Final = Quantity(
    unit=STOP, low=0.02, high=5, help="How unsure that sheet is: one standard deviation.", example=0.3, label="Doubt of that sheet"
)
LIGHT_FACTOR: Final = Quantity(
    unit=RATIO, low=1e-3, high=1e3, help="The colour of the light makes the time so many times as long.", example=2.66, label="Light factor"
)
CONTRAST_SHIFT_STOPS: Final = Quantity(
    unit=STOP,
    low=-8,
    high=8,
    help="Blue against green, compared with noon daylight: less blue makes a variable-contrast paper softer.",
    example=-1.2,
    label="Blue against green",
)
SKIN_STOPS: Final = Quantity(
    unit=STOP,
    low=-8,
    high=8,
    help="How much more the paper gets of skin than a reflected reading of it tells; less is negative.",
    example=-0.69,
    label="Paper gets of skin",
)
TABLE_STOPS: Final = Quantity(
    unit=STOP, low=-8, high=8, help="What this paper gets of each light, by the table.", example="0 0.28 -1.41", label="By the table"
)
TABLE_CONTRAST_STOPS: Final = Quantity(
    unit=STOP,
    low=-8,
    high=8,
    help="Blue against green of each light, by the table.",
    example="0 0.26 -1.22",
    label="Blue against green, by the table",
)
THROUGH_STOPS: Final = Quantity(
    unit=STOP,
    low=0,
    high=15,
    help="What the blue filter takes from the meter: a grey read in the noon sun with and without it.",
    example=5.2,
    label="Filter takes from the meter",
)
# --- lens ---
FOCAL_MM: Final = Quantity(unit=MILLIMETRE, low=20, high=2000, help="Focal length marked on the lens.", example=210, label="Focal length")
EXTENSION_MM: Final = Quantity(
    unit=MILLIMETRE, low=20, high=5000, help="Lens board to ground glass, by ruler.", example=315, label="Bellows extension"
)
SUBJECT_MM: Final = Quantity(unit=MILLIMETRE, low=20, high=1e6, help="Lens to subject.", example="0.63 m", label="Subject distance")
IMAGE_SIZE_MM: Final = Quantity(unit=MILLIMETRE, low=0.1, high=2000, help="Size on the ground glass.", example=60, label="Image size")
SUBJECT_SIZE_MM: Final = Quantity(unit=MILLIMETRE, low=0.1, high=1e5, help="Size of the same thing in the scene.", example=120, label="Subject size")
MAGNIFICATION_FACTOR: Final = Quantity(unit=RATIO, low=0, high=20, help="Image size over subject size.", example=0.5, label="Magnification")
PUPIL_FACTOR: Final = Quantity(
    unit=RATIO,
    low=0.3,
    high=3,
    help="Exit pupil over entrance pupil; 1 when the lens looks the same from both sides.",
    example=1,
    label="Pupil magnification",
)
APERTURE_F: Final = Quantity(unit=F_NUMBER, low=0.7, high=512, help="Aperture as marked on the lens.", example="f/22", label="Aperture")
APERTURE_GIVEN_F: Final = Quantity(
    unit=F_NUMBER, low=0.7, high=512, help="Aperture that was really set, where it was another than planned.", example="f/16", label="Aperture given"
)
FILTER_FACTOR: Final = Quantity(
    unit=RATIO, low=1, high=10000, help="Factor of a neutral filter, or your own measured factor.", example=2, label="Filter factor"
)
BELLOWS_FACTOR: Final = Quantity(unit=RATIO, low=1, high=1e6, help="Multiply the time by this.", example=2.25, label="Bellows factor")
BELLOWS_STOPS: Final = Quantity(unit=STOP, low=0, high=20, help="The bellows in stops.", example=1.17, label="Bellows")
EFFECTIVE_F: Final = Quantity(
    unit=F_NUMBER, low=0.7, high=1e5, help="Aperture that the paper sees behind the extended bellows.", example="f/34", label="Effective aperture"
)
RULER_SD_MM: Final = Quantity(
    unit=MILLIMETRE, low=0, high=100, help="How unsure the extension is: one standard deviation.", example=5, label="Doubt of the ruler"
)
FILTER_STOPS: Final = Quantity(unit=STOP, low=0, high=40, help="The filters in stops.", example=1, label="Filter")
FILTER_DENSITY: Final = Quantity(unit=BARE, low=0, high=10, help="Density of a neutral filter.", example=0.3, label="Filter density")
FILTER_BY_STOPS: Final = Quantity(
    unit=STOP, low=0, high=13.3, help="A neutral filter by its stops, or your own measured stops.", example=3, label="Filter in stops"
)
FILTER_BY_DENSITY: Final = Quantity(
    unit=BARE, low=0, high=4, help="A neutral filter by its density, as engraved on many: 0.9 is three stops.", example=0.9, label="Filter by density"
)
FILTER_PASSES_NM: Final = Quantity(unit=NANOMETRE, low=300, high=800, help="Wavelength.", example=500)
FILTER_PASSES_PERCENT: Final = Quantity(unit=PERCENT, low=0, high=100, help="What the filter lets through there.", example=88, label="Filter passes")
FILTER_FACTORS: Final = Quantity(unit=RATIO, low=1, high=10000, help="The factor of each filter.", example="2 4", label="Filter factors")
# --- time ---
METERED_S: Final = Quantity(unit=SECOND, low=1e-5, high=1e6, help="Time before the correction for reciprocity.", example=60, label="Metered time")
NEEDED_S: Final = Quantity(unit=SECOND, low=1e-5, high=1e8, help="Time that gave the same density.", example=76, label="Needed time")
TIME_S: Final = Quantity(unit=SECOND, low=1e-6, high=1e9, help="Expose this long.", example=97, label="Time")
TO_GIVE_S: Final = Quantity(
    unit=SECOND,
    low=1,
    high=1e6,
    help="How long the shutter shall be open; the time that was planned, unless you say.",
    example="1:37",
    label="Time to give",
)
COUNT_IN_S: Final = Quantity(unit=SECOND, low=0, high=120, help="How long it counts before the shutter opens.", example=5, label="Count in")
GIVEN_S: Final = Quantity(unit=SECOND, low=1e-5, high=1e6, help="Time that was really given.", example=97, label="Time given")
BEFORE_S: Final = Quantity(
    unit=SECOND, low=1e-9, high=1e9, help="Time from the reading and the paper's EI alone.", example=33.3, label="Before corrections"
)
SETTABLE_S: Final = Quantity(unit=SECOND, low=1e-6, high=1e9, help="The nearest time that can be set or counted.", example=97, label="Set or count")
BRACKET_S: Final = Quantity(unit=SECOND, low=1e-6, high=1e9, help="One time for each sheet of the bracket.", example="66 142", label="Bracket")
CHANCE_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=0,
    high=100,
    help="How many times of 100 at least one sheet lands within a third of a stop: with one, two or three sheets.",
    example="58 84 93",
    label="Chance with one, two, three sheets",
)
RECIPROCITY_STOPS: Final = Quantity(unit=STOP, low=0, high=40, help="Reciprocity in stops.", example=0.37, label="Reciprocity")
TOTAL_STOPS: Final = Quantity(unit=STOP, low=-40, high=40, help="The whole ledger, in stops from one second.", example=6.6, label="Total")
LEDGER_SD_STOPS: Final = Quantity(
    unit=STOP, low=0, high=40, help="Doubt of the whole: one standard deviation in stops.", example=0.67, label="Doubt, one standard deviation"
)
THRESHOLD_S: Final = Quantity(unit=SECOND, low=1e-5, high=1e5, help="Up to here time counts in full.", example=3, label="Threshold")
EXPONENT_FACTOR: Final = Quantity(
    unit=RATIO, low=1, high=5, help="The needed time grows as this power of the metered time.", example=1.08, label="Exponent"
)
EXPONENT_SD: Final = Quantity(
    unit=RATIO, low=0, high=2, help="How unsure the exponent is: one standard deviation.", example=0.05, label="Doubt of the exponent"
)
SUREST_AT_S: Final = Quantity(
    unit=SECOND,
    low=1e-5,
    high=1e5,
    help="The metered time at which the exponent adds no doubt to the EI, because your own sheets lie around it.",
    example=20,
    label="Surest at",
)
SHORTEST_S: Final = Quantity(unit=SECOND, low=0.01, high=1e5, help="Time of the strip that gets least.", example=8, label="Shortest strip")
LONGEST_S: Final = Quantity(unit=SECOND, low=0.01, high=1e6, help="Time of the strip that gets most.", example=32, label="Longest strip")
GIVE_S: Final = Quantity(
    unit=SECOND,
    low=1e-4,
    high=1e6,
    help="Give these one after the other; push the dark slide on between them.",
    example="8 3.3 4.7 6.6 9.4",
    label="Times to give",
)
STRIP_S: Final = Quantity(unit=SECOND, low=1e-4, high=1e6, help="What each strip got in all.", example="8 11.3 16 22.6 32", label="Each strip got")
EFFECTIVE_S: Final = Quantity(
    unit=SECOND, low=1e-4, high=1e6, help="What that amounts to after reciprocity.", example="7.4 10.2 14.1", label="Each strip amounts to"
)
STEP_STOPS: Final = Quantity(unit=STOP, low=0.01, high=10, help="From one strip to the next.", example=0.5, label="Step")
EXPOSURE_S: Final = Quantity(
    unit=SECOND, low=1e-5, high=1e6, help="The planned time of the exposure, reciprocity and all.", example="1:37", label="Planned time"
)
# --- changing light ---
READ_AT_S: Final = Quantity(
    unit=SECOND, low=0, high=1e6, help="When it was read, from the opening of the shutter on.", example="1:00", label="Read at"
)
NOW_S: Final = Quantity(unit=SECOND, low=0, high=1e6, help="How long the shutter has been open.", example="1:00", label="Open since")
DONE_PERCENT: Final = Quantity(unit=PERCENT, low=0, high=1e6, help="How much of the exposure has been given.", example=52, label="Given by now")
REMAINING_S: Final = Quantity(unit=SECOND, low=0, high=1e9, help="Keep the shutter open so much longer.", example=58, label="Still open for")
END_S: Final = Quantity(unit=SECOND, low=0, high=1e9, help="Close the shutter when it has been open so long.", example=118, label="Close after")
AMOUNTS_TO_S: Final = Quantity(
    unit=SECOND, low=0, high=1e9, help="What has been given, as a time in the light of the plan.", example=51, label="Amounts to"
)
LIGHT_NOW_STOPS: Final = Quantity(
    unit=STOP, low=-40, high=40, help="The light now against the light of the plan; below 0 is darker.", example=-0.5, label="Light against the plan"
)
LIGHT_TREND: Final = Quantity(
    unit=STOP_PER_MINUTE, low=-1000, high=1000, help="How fast the light changes; below 0 it falls.", example=-0.2, label="The light goes by"
)
PIECE_END_S: Final = Quantity(unit=SECOND, low=0, high=1e6, help="When each stretch ended.", example="60 97", label="Up to")
PIECE_LIGHT_STOPS: Final = Quantity(
    unit=STOP, low=-40, high=40, help="Light of each stretch, on average, against the plan.", example="-0.1 -0.3", label="Light on average"
)
PIECE_PERCENT: Final = Quantity(unit=PERCENT, low=0, high=1e6, help="What each stretch gave of the exposure.", example="58 31", label="It gave")
# --- paper and curve ---
EXPOSURE_LOG10: Final = Quantity(
    unit=LOG10,
    low=-10,
    high=10,
    help="Log exposure of each patch; in lux seconds where the light was metered.",
    example="-0.9 -0.75 -0.6",
    label="Log exposure",
)
EXPOSURE_LX_S: Final = Quantity(unit=LUX_SECOND, low=1e-8, high=1e8, help="Exposure at the paper.", example=1.19, label="Exposure")
DENSITY: Final = Quantity(unit=BARE, low=-0.1, high=6, help="Density of each patch.", example="1.88 1.41 0.28", label="Densities")
DENSITY_SD: Final = Quantity(
    unit=BARE, low=0.001, high=0.5, help="How unsure one reading is: one standard deviation in density.", example=0.02, label="Doubt of a reading"
)
EXPOSURE_SD_LOG10: Final = Quantity(
    unit=LOG10, low=0, high=0.3, help="How unsure the exposure of one patch is: one standard deviation.", example=0.02, label="Doubt of an exposure"
)
FIXED_OUT_DENSITY: Final = Quantity(
    unit=BARE, low=-0.1, high=2, help="Density of a piece of the paper, fixed without exposure.", example=0.05, label="Fixed-out white"
)
DMIN: Final = Quantity(unit=BARE, low=-1, high=6, help="Lightest tone that this process gives.", example=0.08, label="Dmin")
DMAX: Final = Quantity(unit=BARE, low=-1, high=12, help="Darkest tone that this process gives.", example=1.88, label="Dmax")
VEIL: Final = Quantity(unit=BARE, low=-2, high=6, help="How much darker the lightest tone is than paper that was only fixed.", example=0.03)
SHADOW_LOG10: Final = Quantity(
    unit=LOG10, low=-20, high=20, help="Smallest exposure at which the paper still tells shadows apart.", example=-0.31, label="Shadow point"
)
HIGHLIGHT_LOG10: Final = Quantity(
    unit=LOG10, low=-20, high=20, help="Largest exposure at which the paper still tells highlights apart.", example=0.54, label="Highlight point"
)
MIDDLE_LOG10: Final = Quantity(
    unit=LOG10, low=-20, high=20, help="Exposure that gives the density of an 18 % grey, 0.745.", example=0.076, label="Grey"
)
RANGE_LOG10: Final = Quantity(unit=LOG10, low=0, high=20, help="From the shadow point to the highlight point.", example=0.854, label="Exposure range")
RANGE_STOPS: Final = Quantity(unit=STOP, low=0, high=60, help="The exposure range in stops.", example=2.84, label="Range in stops")
CAMERA_EI: Final = Quantity(
    unit=EXPOSURE_INDEX,
    low=1e-9,
    high=1e12,
    help="Exposure index at which a metered grey gets the density of an 18 % grey.",
    example=6.8,
    label="Camera EI",
)
INDEX_2240: Final = Quantity(
    unit=EXPOSURE_INDEX,
    low=1e-9,
    high=1e12,
    help="Index from both ends, in the manner of ISO 2240. Shown only.",
    example=7.7,
    label="Index from both ends",
)
PAPER_SPEED: Final = Quantity(
    unit=BARE, low=1e-9, high=1e15, help="Speed in the manner of paper data sheets, at 0.60 over Dmin. Shown only.", example=796, label="Paper speed"
)
GRADIENT: Final = Quantity(
    unit=BARE, low=0, high=1e6, help="Density for each log10 of exposure, between both ends.", example=1.85, label="Average gradient"
)
PATCH_NOISE: Final = Quantity(
    unit=BARE, low=0, high=10, help="How far one patch lies off any smooth curve: one standard deviation.", example=0.01, label="Scatter of a patch"
)
CURVE_LOG10: Final = Quantity(unit=LOG10, low=-20, high=20, help="Log exposures of a line.", example="-0.9 0 0.75", label="Line: exposure")
CURVE_DENSITY: Final = Quantity(unit=BARE, low=-2, high=15, help="Densities of a line to draw.", example="1.88 0.98 0.09", label="Line, density")
BAND_LOW: Final = Quantity(unit=BARE, low=-2, high=15, help="Lower edge of the band.", example="1.87 0.97 0.08", label="Band, lower edge")
BAND_HIGH: Final = Quantity(unit=BARE, low=-2, high=15, help="Upper edge of the band.", example="1.89 0.99 0.1", label="Band, upper edge")
LEFT_OUT_DENSITY: Final = Quantity(
    unit=BARE, low=0, high=20, help="By how much each shape misses a patch that was left out (root mean square).", example="0.004 0.016"
)
TABLET_DENSITIES: Final = Quantity(
    unit=BARE, low=-0.1, high=6, help="Densities of the step tablet, clearest first.", example="0.05 0.2 0.35 0.5", label="Densities of the tablet"
)
TABLET_FIRST_DENSITY: Final = Quantity(unit=BARE, low=-0.1, high=6, help="Density of its clearest step.", example=0.05, label="Clearest step")
TABLET_STEP_DENSITY: Final = Quantity(unit=BARE, low=0.01, high=1, help="From one step to the next.", example=0.15, label="Step of the tablet")
TABLET_STEPS: Final = Quantity(unit=BARE, low=2, high=200, help="How many steps the tablet has.", example=21, label="Steps of the tablet")
STRIP_TIMES_S: Final = Quantity(
    unit=SECOND, low=1e-4, high=1e6, help="Times in the order given: of each strip, or of each push of the dark slide.", example="8 3.3 4.7 6.6 9.4"
)
STRIP_APERTURES_F: Final = Quantity(
    unit=F_NUMBER, low=0.7, high=512, help="Aperture of each patch, in the order exposed.", example="f/32 f/22 f/16 f/11", label="Apertures"
)
PAPER_LX: Final = Quantity(
    unit=LUX, low=1e-6, high=1e6, help="Light that falls on the paper itself, with nothing in front of it.", example=0.5, label="Light on the paper"
)
RIGHT_STRIP: Final = Quantity(
    unit=BARE, low=1, high=200, help="The strip that is right, in the order exposed; 3.5 is between 3 and 4.", example=3, label="Right strip"
)
RIGHT_LOG10: Final = Quantity(unit=LOG10, low=-10, high=10, help="Log exposure of the strip that is right.", example=0.66, label="Right exposure")
STRIP_EI: Final = Quantity(
    unit=EXPOSURE_INDEX, low=1e-9, high=1e12, help="Index that the exposure of each patch amounts to.", example="4.2 3 2.1", label="Each strip as EI"
)
EVIDENCE_EI: Final = Quantity(
    unit=EXPOSURE_INDEX, low=1e-4, high=1e6, help="Index of the curve, or the one that the exposure amounted to.", example=6.8, label="EI"
)
OFF_STOPS: Final = Quantity(unit=STOP, low=0, high=10, help="By how much, in stops; half a stop unless you say.", example=0.5, label="Off by")
TONE_DENSITY: Final = Quantity(unit=BARE, low=-0.3, high=6, help="Density of one tone.", example=0.745, label="Density")
TONE_PERCENT: Final = Quantity(unit=PERCENT, low=1e-6, high=200, help="Share of the light that a tone sends back.", example=18, label="Reflectance")
LIGHTNESS: Final = Quantity(unit=BARE, low=0, high=140, help="How light a tone looks beside a white of 100.", example=49.5, label="Lightness L*")
TEMPERATURE_CELSIUS: Final = Quantity(unit=CELSIUS, low=-5, high=60, help="Temperature of the bath.", example=20, label="Temperature")
# --- book ---
GRADE: Final = Quantity(unit=BARE, low=0, high=5, help="Grade on the box, from 0 soft to 5 hard.", example=2)
SHEETS_LEFT: Final = Quantity(unit=BARE, low=0, high=10000, help="Sheets left in the box.", example=25)
HOLDER_SIDES: Final = Quantity(unit=BARE, low=1, high=2, help="Sides of the holder that take a sheet.", example=2, label="Sides")
PIECES: Final = Quantity(unit=BARE, low=2, high=26, help="How many pieces the sheet is cut into.", example=2)
STRIP: Final = Quantity(unit=BARE, low=1, high=200, help="Number of the strip or patch, counted from the first one exposed.", example=3)
STEP_S: Final = Quantity(unit=SECOND, low=0, high=1e6, help="How long the step took.", example="2m30s", label="Time of the step")
VERDICT_STOPS: Final = Quantity(
    unit=STOP, low=0, high=10, help="By how much it is too dark or too light, in stops; half a stop unless you say.", example=0.5, label="Off by"
)
ROW_VERSION: Final = Quantity(unit=BARE, low=1, high=1e9, help="The version that you saw before you corrected it.", example=1, label="Version seen")
# --- the scan ---
GRID_ROWS: Final = Quantity(unit=BARE, low=1, high=60, help="Rows of patches.", example=1, label="Rows")
GRID_COLUMNS: Final = Quantity(unit=BARE, low=1, high=60, help="Patches in a row.", example=12, label="Columns")
CORNERS_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=-2,
    high=102,
    help="The four corners of the field of patches, each as percent of the width and of the height: where patch 1 is, the end of its row, the last "
    "patch, the start of the last row.",
    example="10.5 40 89 41 89 62 10 61",
    label="Corners",
)
ACROSS_PERCENT: Final = Quantity(unit=PERCENT, low=0, high=100, help="Its middle, in percent of the scan's width.", example=40, label="Across")
DOWN_PERCENT: Final = Quantity(unit=PERCENT, low=0, high=100, help="Its middle, in percent of the scan's height.", example=55, label="Down")
WIDTH_PERCENT: Final = Quantity(unit=PERCENT, low=0.1, high=100, help="How wide it is, in percent of the scan's width.", example=3, label="Width")
HEIGHT_PERCENT: Final = Quantity(unit=PERCENT, low=0.1, high=100, help="How high it is, in percent of the scan's height.", example=3, label="Height")
TABLET_DENSITY: Final = Quantity(
    unit=BARE, low=-0.1, high=6, help="Known densities of the step tablet, in the order of the patches.", example="0.05 0.15 0.25"
)
STEP_DENSITY: Final = Quantity(unit=BARE, low=-0.1, high=6, help="Known density of this step of the tablet.", example=0.35, label="Density")
SIGNAL: Final = Quantity(
    unit=BARE,
    low=0,
    high=1e7,
    help="Linear light of the patch in the scan, on any scale, the same in all rows; it falls while density rises.",
    example=0.43,
    label="Grey",
)
RED_SIGNAL: Final = Quantity(unit=BARE, low=0, high=1e7, help="Its linear light through the red channel.", example=0.44, label="Red")
GREEN_SIGNAL: Final = Quantity(unit=BARE, low=0, high=1e7, help="Its linear light through the green channel.", example=0.43, label="Green")
BLUE_SIGNAL: Final = Quantity(unit=BARE, low=0, high=1e7, help="Its linear light through the blue channel.", example=0.41, label="Blue")
SIGNAL_SD: Final = Quantity(
    unit=RATIO, low=0, high=1, help="Doubt of the grey as a share of it: one standard deviation.", example=0.002, label="Doubt of the grey"
)
SPREAD_SHARE: Final = Quantity(
    unit=RATIO, low=0, high=100, help="How far its pixels lie apart, as a share of the grey: 8 of 10 lie within.", example=0.02, label="Spread"
)
POSITION: Final = Quantity(unit=BARE, low=1, high=10000, help="Number of the patch, row by row from the first corner.", example=3, label="Patch")
FILE_BITS: Final = Quantity(unit=BARE, low=1, high=32, help="Bits of each channel in the scan's file.", example=16, label="Bits of the file")
TABLET_SD: Final = Quantity(
    unit=BARE,
    low=0,
    high=0.5,
    help="How far the tablet's densities may be off as a whole: one standard deviation.",
    example=0.01,
    label="Doubt of the tablet",
)
HALO_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=0,
    high=1000,
    help="How far light overshoots beside an edge between two steps, in percent of their step.",
    example=1,
    label="Overshoot",
)
SIGNAL_OFFSET: Final = Quantity(
    unit=BARE,
    low=0,
    high=1e7,
    help="Light in the signal that does not come from the picture; 0 where taking it off foretells no better.",
    example=0,
    label="Stray signal",
)
LARGEST_MISS: Final = Quantity(
    unit=BARE,
    low=0,
    high=6,
    help="By how much density the calibration misses a step that is left out: the worst between the ends.",
    example=0.015,
    label="Largest miss",
)
RMS_MISS: Final = Quantity(unit=BARE, low=0, high=6, help="The same, root mean square.", example=0.006, label="Usual miss")
END_MISS: Final = Quantity(
    unit=BARE,
    low=0,
    high=6,
    help="The same for the step at this end; beyond the others the line can only be drawn on, so it does not count.",
    example=0.02,
)
STEP_MISS: Final = Quantity(unit=BARE, low=-6, high=6, help="Miss of each step, lightest first.", example="0.01 -0.004 0.002", label="Misses")
SCAN_DENSITY: Final = Quantity(unit=BARE, low=-1, high=6, help="Scan density of each patch.", example="0.08 0.35 1.12", label="Scan densities")
SCAN_DENSITY_SD: Final = Quantity(
    unit=BARE, low=0, high=6, help="Doubt of each of them: one standard deviation.", example="0.01 0.01 0.015", label="Doubt of each"
)
STEP_NUMBER: Final = Quantity(unit=BARE, low=1, high=500, help="Steps that were used, by their row.", example="1 2 3 5", label="Steps used")
STEPS_LEFT_OUT: Final = Quantity(
    unit=BARE, low=1, high=500, help="Steps of the tablet that shall not count, by their number.", example="7", label="Steps left out"
)
TABLET_STEP: Final = Quantity(unit=BARE, low=1, high=500, help="Which step of its tablet, by its number.", example=7, label="Step")
STEPS_TO_LOOK_AT: Final = Quantity(
    unit=BARE, low=1, high=500, help="Steps that do not go with the others, or are uneven inside, by their number.", example="7", label="To look at"
)
# --- the next exposure ---
DARK_STOPS: Final = Quantity(
    unit=STOP, low=-10, high=10, help="By how much the picture is too dark; too light is negative, right is 0.", example=0.5, label="Too dark by"
)
EVIDENCE_SD: Final = Quantity(
    unit=BARE,
    low=0,
    high=5,
    help="Its own doubt, one standard deviation: in density for a patch, in stops for a judgement; empty for the usual one.",
    example=0.02,
    label="Doubt",
)
SHEETS_BEFORE: Final = Quantity(
    unit=BARE, low=0, high=10000, help="How many sheets had gone through that batch of baths before.", example=4, label="Sheets before"
)
LIGHT_SD_STOPS: Final = Quantity(
    unit=STOP,
    low=0,
    high=3,
    help="How well the light that the paper sees was measured: 0.1 by a reading through a blue filter; empty where its class is all that is known.",
    example=0.1,
    label="Light known to",
)
AT_EI_ONE_S: Final = Quantity(
    unit=SECOND,
    low=1e-6,
    high=1e8,
    help="Time that the meter asks for at EI 1: reading, aperture, bellows and filters, everything but the paper.",
    example=66.6,
    label="Time at EI 1",
)
STATED_EI: Final = Quantity(
    unit=EXPOSURE_INDEX, low=0.01, high=1000, help="An EI of this tone that you know from elsewhere, in place of our first guess.", example=3
)
ONE_SHEET_PERCENT: Final = Quantity(
    unit=PERCENT, low=0, high=100, help="How many times of 100 one sheet lands within a third of a stop.", example=58, label="Chance with one sheet"
)
TWO_SHEETS_PERCENT: Final = Quantity(
    unit=PERCENT,
    low=0,
    high=100,
    help="How many times of 100 at least one of two sheets does, at the 27 % and 73 % points of the forecast.",
    example=84,
    label="Chance with two sheets",
)
BRACKET_STOPS: Final = Quantity(
    unit=STOP, low=-40, high=40, help="How far the two sheets lie from the middle.", example="-0.2 0.2", label="Two sheets, from the middle"
)
EFFECTIVE_DRAWS: Final = Quantity(
    unit=BARE, low=0, high=1e6, help="How many of the drawn curves count in full.", example=1500, label="Effective draws"
)
LEFT_OUT_POSITIONS: Final = Quantity(unit=BARE, low=1, high=10000, help="Patches that have no density.", example="1 7", label="Left out")
RED_STEP_MISS: Final = Quantity(
    unit=BARE, low=-6, high=6, help="Miss of each step through the red channel.", example="0.01 -0.004 0.002", label="Misses, red"
)
RED_SCAN_DENSITY: Final = Quantity(
    unit=BARE, low=-1, high=6, help="Scan density of each patch through the red channel.", example="0.08 0.35 1.12", label="Scan densities, red"
)
GREEN_STEP_MISS: Final = Quantity(
    unit=BARE, low=-6, high=6, help="Miss of each step through the green channel.", example="0.01 -0.004 0.002", label="Misses, green"
)
GREEN_SCAN_DENSITY: Final = Quantity(
    unit=BARE, low=-1, high=6, help="Scan density of each patch through the green channel.", example="0.08 0.35 1.12", label="Scan densities, green"
)
BLUE_STEP_MISS: Final = Quantity(
    unit=BARE, low=-6, high=6, help="Miss of each step through the blue channel.", example="0.01 -0.004 0.002", label="Misses, blue"
)
BLUE_SCAN_DENSITY: Final = Quantity(
    unit=BARE, low=-1, high=6, help="Scan density of each patch through the blue channel.", example="0.08 0.35 1.12", label="Scan densities, blue"
)
