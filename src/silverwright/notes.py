"""Every note that an answer may carry: kept as its code; what it says stands in sentences.py, the same everywhere."""

from enum import StrEnum
from typing import Final, Literal

Severity = Literal["know", "care", "stop"]


class Note(StrEnum):
    """A doubt worth saying."""

    MIRROR_IMAGE = "mirror-image"
    HOURS = "hours"
    TOO_SHORT = "too-short"
    AT_INFINITY = "at-infinity"
    SHORT_EXTENSION = "short-extension"
    ROUTES_DISAGREE = "routes-disagree"
    PRIOR_ONLY = "prior-only"
    NOT_GIVEN = "not-given"
    EI_UNKNOWN = "ei-unknown"
    EXTENSION_UNKNOWN = "extension-unknown"
    NEUTRAL_ONLY = "neutral-only"
    BLUE_READING_ORTHO = "blue-reading-ortho"
    LIGHT_CONTRAST = "light-contrast"
    EI_OF_LIGHT = "ei-of-light"
    FILM_LAW = "film-law"
    BEYOND_POINTS = "beyond-points"
    SLIDE = "slide"
    INTERRUPTED = "interrupted"
    # changing light
    ONE_STRIP_ONCE = "one-strip-once"
    SHORT_BY_HAND = "short-by-hand"
    OWN_POINT = "own-point"
    STRIP_ODD = "strip-odd"
    BEYOND_SCALE = "beyond-scale"
    LIGHT_GOES = "light-goes"
    TABLE_NO_METER = "table-no-meter"
    SUN_NOT_UP = "sun-not-up"
    NO_SUN_TODAY = "no-sun-today"
    TWILIGHT = "twilight"
    LIGHT_FAILS = "light-fails"
    LIGHT_LONG = "light-long"
    ALL_GIVEN = "all-given"
    # a count at the camera
    STOPPED_EARLY = "stopped-early"
    STOPPED_LATE = "stopped-late"
    COUNTED_OTHERWISE = "counted-otherwise"
    CLOCK_UNSURE = "clock-unsure"
    # the flash
    FLASH_EYES = "flash-eyes"
    FLASH_NEAR = "flash-near"
    FLASH_SERIES = "flash-series"
    FLASH_MANY = "flash-many"
    FLASH_TOO_MUCH = "flash-too-much"
    FLASH_TOO_MUCH_READ = "flash-too-much-read"
    FLASH_WHOLE = "flash-whole"
    FLASH_BY_ENERGY = "flash-by-energy"
    FLASH_READ = "flash-read"
    HEADS_OVERLAP = "heads-overlap"
    DAYLIGHT_ENOUGH = "daylight-enough"
    # the sitter
    SITTER_MOVES = "sitter-moves"
    SITTER_MAYBE = "sitter-maybe"
    SITTER_SHORT = "sitter-short"
    SITTER_LONG = "sitter-long"
    SITTER_OWN = "sitter-own"
    SITTER_DEPTH = "sitter-depth"
    SITTER_FACE_LIGHT = "sitter-face-light"
    # the curve
    DERIVED_NOT_ISO = "derived-not-iso"
    NOT_METERED = "not-metered"
    SHADOWS_BEYOND = "shadows-beyond"
    HIGHLIGHTS_BEYOND = "highlights-beyond"
    GREY_BEYOND = "grey-beyond"
    FEW_PATCHES = "few-patches"
    TURNS_BACK = "turns-back"
    OTHER_WAY_ROUND = "other-way-round"
    SCATTERED_PATCHES = "scattered-patches"
    SHAPE_OUTSIDE = "shape-outside"
    SHARED_DOUBT = "shared-doubt"
    RELATIVE_ONLY = "relative-only"
    EVIDENCE_DISAGREES = "evidence-disagrees"
    WHICH_DISAGREES = "which-disagrees"
    SLOW_SAMPLER = "slow-sampler"
    BATHS_COUNTED = "baths-counted"
    NEWEST_SHEETS = "newest-sheets"
    SCAN_DENSITY = "scan-density"
    NO_FILTER_NUMBER = "no-filter-number"
    # the scene and the paper
    RANGE_GUESSED = "range-guessed"
    SCENE_TOO_LONG = "scene-too-long"
    AVERAGED_READING = "averaged-reading"
    SKIN_SEEN = "skin-seen"
    TONES_IF_RIGHT = "tones-if-right"
    PREEXPOSURE_OPENS_SHADOWS = "preexposure-opens-shadows"
    PREEXPOSURE_VEILS = "preexposure-veils"
    PREEXPOSURE_UNTRIED = "preexposure-untried"
    PREEXPOSURE_BY_CARD = "preexposure-by-card"
    SCENE_FITS = "scene-fits"
    # the file of a scan
    FILE_EIGHT_BITS = "file-eight-bits"
    FILE_LOSSY = "file-lossy"
    PROFILE_TAKEN = "profile-taken"
    PROFILE_TABLE = "profile-table"
    PROFILE_NOT_USED = "profile-not-used"
    NO_PROFILE = "no-profile"
    ALPHA_IGNORED = "alpha-ignored"
    TURNED_BY_TAG = "turned-by-tag"
    DPI_IGNORED = "dpi-ignored"
    # the book
    OWN_SHEETS_USED = "own-sheets-used"
    TYPED_WINS = "typed-wins"
    GIVES_NO_EI = "gives-no-ei"
    OTHER_LIGHT = "other-light"
    BOX_EMPTY = "box-empty"
    DOUBLE_EXPOSURE = "double-exposure"
    LOG_LEFT = "log-left"
    LOG_CHANGED = "log-changed"
    AT_THE_TRAYS = "at-the-trays"
    # stocks and what is mixed of them
    BEFORE_OPENING = "before-opening"
    STOCK_HAZARDS = "stock-hazards"
    THEY_MEET = "they-meet"
    PEROXIDE_POURED = "peroxide-poured"
    ACID_INTO_WATER = "acid-into-water"
    LYE_INTO_WATER = "lye-into-water"
    LABEL_EITHER = "label-either"
    LABEL_UNCLEAR = "label-unclear"
    NAIVE_RULE = "naive-rule"
    SCALE_TOO_COARSE = "scale-too-coarse"
    DENSITY_TAKEN = "density-taken"
    TEMPERATURE_TAKEN = "temperature-taken"
    SPOON_ROUGH = "spoon-rough"
    NOT_KNOWN_HERE = "not-known-here"
    PH_NOT_COUNTED = "ph-not-counted"
    REPLENISH_ONCE = "replenish-once"
    BATH_IS_STRONGER = "bath-is-stronger"
    # tests of strength
    TEST_PERMANGANATE = "test-permanganate"
    TEST_IODINE = "test-iodine"
    TEST_GAS = "test-gas"
    TEST_PEROXIDE = "test-peroxide"
    TEST_NOT_GIVEN = "test-not-given"
    NORMALITY = "normality"
    READING_COARSE = "reading-coarse"
    USED_BATH_ASSAY = "used-bath-assay"
    ASSAY_WEAK = "assay-weak"
    ASSAY_LOOKED = "assay-looked"
    STRIP_ROUGH = "strip-rough"
    STRIP_BEYOND = "strip-beyond"
    STRIP_PALE = "strip-pale"
    PH_STRIP_BLEACHED = "ph-strip-bleached"
    BLEACH_ANALOGY = "bleach-analogy"
    BLEACH_WHICH = "bleach-which"
    BLEACH_APART = "bleach-apart"
    DECAY_OWN = "decay-own"
    DECAY_NONE = "decay-none"
    DECAY_RISES = "decay-rises"
    DECAY_FAR = "decay-far"
    DECAY_WARMTH = "decay-warmth"
    DECAY_DOUBT = "decay-doubt"
    # the lens
    SHUTTER_OFF = "shutter-off"
    MEASURED_ONCE = "measured-once"
    FAR_TAKEN = "far-taken"
    HORIZON_SHARP = "horizon-sharp"
    SPREADS_DISAGREE = "spreads-disagree"
    MOVEMENT_BLURS = "movement-blurs"
    SIDE_NOT_LOADED = "side-not-loaded"
    NOT_ALL_SHARP = "not-all-sharp"
    ENDS_UNSHARP = "ends-unsharp"
    MOVE_FOR_BLUE = "move-for-blue"
    PINHOLE_ALIKE = "pinhole-alike"
    SHIFT_SEEN = "shift-seen"
    SHIFT_NOT_SEEN = "shift-not-seen"
    OPENINGS_APART = "openings-apart"
    OPENINGS_HAND = "openings-hand"
    TOO_FINE = "too-fine"
    EACH_ROUNDED = "each-rounded"
    TOO_MUCH_GIVEN = "too-much-given"
    TWO_FIT = "two-fit"
    FOCAL_UNKNOWN = "focal-unknown"
    BOX_TOO_SHORT = "box-too-short"
    NO_PINHOLE = "no-pinhole"
    # paper cut to size
    BLADE_IN_THE_DARK = "blade-in-the-dark"
    EMULSION_SIDE = "emulsion-side"
    FACTORY_EDGE = "factory-edge"
    OPENING_NOT_MEASURED = "opening-not-measured"
    TRIM_UNUSUAL = "trim-unusual"
    TOO_FEW_PIECES = "too-few-pieces"
    # the scan
    TABLET_TURNED = "tablet-turned"
    NOT_MONOTONE = "not-monotone"
    STEP_ODD = "step-odd"
    STEP_UNEVEN = "step-uneven"
    STEPS_LEFT_OUT = "steps-left-out"
    ENDS_MISSED = "ends-missed"
    ENDS_CLIPPED = "ends-clipped"
    HALO_SUSPECTED = "halo-suspected"
    PATCHES_OVERSHOOT = "patches-overshoot"
    FEW_STEPS = "few-steps"
    INDICATIVE_ABOVE = "indicative-above"
    INDICATIVE = "indicative"
    PATCH_CLIPPED = "patch-clipped"
    BEYOND_TABLET = "beyond-tablet"
    EIGHT_BITS = "eight-bits"
    # recipes and mixing
    MIX_FIRST = "mix-first"
    MIX_PERMANGANATE = "mix-permanganate"
    MIX_CANCER = "mix-cancer"
    MIX_SULPHUR = "mix-sulphur"
    MIX_NOT_ACID = "mix-not-acid"
    MIX_ALLERGY = "mix-allergy"
    MIX_SELENIUM = "mix-selenium"
    MIX_CYANIDE = "mix-cyanide"
    MIX_SULPHIDE = "mix-sulphide"
    MIX_LABEL = "mix-label"
    MIX_AGAINST = "mix-against"
    MIX_MISSING = "mix-missing"
    MIX_USUAL = "mix-usual"
    MIX_OUTSIDE = "mix-outside"
    MIX_CHANGED = "mix-changed"
    MIX_UNCLEAR = "mix-unclear"
    # what can hurt
    HAZARD_FIRST = "hazard-first"
    HAZARD_NO_DATA = "hazard-no-data"
    HAZARD_UNCLASSIFIED = "hazard-unclassified"
    HAZARD_NOT_LAW = "hazard-not-law"
    HAZARD_NEAR = "hazard-near"
    HAZARD_PH_NEAR = "hazard-ph-near"
    HAZARD_MEMORY = "hazard-memory"
    HAZARD_LOOK_UP = "hazard-look-up"
    APART_NEVER = "apart-never"
    APART_FOAMS = "apart-foams"
    APART_UNKNOWN = "apart-unknown"
    APART_NOT_LISTED = "apart-not-listed"
    # trays, tanks, drums
    DEPTH_USUAL = "depth-usual"
    VESSEL_TIGHT = "vessel-tight"
    DRUM_VENT = "drum-vent"
    BOX_CARRIED = "box-carried"
    NOT_FOOD = "not-food"
    # bottles and baths in the book
    AT_THE_BENCH = "at-the-bench"
    BEFORE_DISCARDING = "before-discarding"
    BOTTLE_UNCLEAR = "bottle-unclear"
    BOTTLE_EITHER = "bottle-either"
    NO_DATA_HERE = "no-data-here"
    VENT_IT = "vent-it"
    PEROXIDE_IN_METAL = "peroxide-in-metal"
    MIND_TOGETHER = "mind-together"
    SIZE_NOT_IN_BOOK = "size-not-in-book"
    # acid and water
    PH_EXTREME = "ph-extreme"
    GAS_IN_ACID = "gas-in-acid"
    PH_STRIP_PEROXIDE = "ph-strip-peroxide"
    PH_DISAGREES = "ph-disagrees"
    PH_STABILISER = "ph-stabiliser"
    PH_ROUGH = "ph-rough"
    REACTS_UNCOUNTED = "reacts-uncounted"
    WATER_NOT_GIVEN = "water-not-given"
    WATER_FOR_BLEACH = "water-for-bleach"
    WATER_HARD = "water-hard"
    WATER_FOR_WASHING = "water-for-washing"
    BOUND_AT_MOST = "bound-at-most"
    # silver in a bath
    SILVER_IN_WASTE = "silver-in-waste"
    SILVER_PAST_LIMIT = "silver-past-limit"
    SILVER_LOWER_BOUND = "silver-lower-bound"
    SILVER_NO_CITRATE = "silver-no-citrate"
    SILVER_REFORMS = "silver-reforms"
    SILVER_REACTION = "silver-reaction"
    LIMITS_HOLD = "limits-hold"
    SILVER_AS_FOUND = "silver-as-found"
    FIXER_BY_TEST = "fixer-by-test"
    FIXER_TO_LAST = "fixer-to-last"
    # washing
    WASH_FIBRE = "wash-fibre"
    WASH_RUNNING = "wash-running"
    WASH_LIMIT = "wash-limit"
    WASH_SMALLER_FILLS = "wash-smaller-fills"


# What can hurt somebody: shown before the figures, as it must be read before the act.
CAUTIONS: Final = frozenset(
    {
        Note.VENT_IT,
        Note.PEROXIDE_IN_METAL,
        Note.MIND_TOGETHER,
        Note.NO_DATA_HERE,
        Note.TEST_PERMANGANATE,
        Note.TEST_IODINE,
        Note.TEST_GAS,
        Note.TEST_PEROXIDE,
        Note.BEFORE_OPENING,
        Note.STOCK_HAZARDS,
        Note.THEY_MEET,
        Note.PEROXIDE_POURED,
        Note.ACID_INTO_WATER,
        Note.LYE_INTO_WATER,
        Note.MIX_FIRST,
        Note.MIX_PERMANGANATE,
        Note.MIX_CANCER,
        Note.MIX_SULPHUR,
        Note.MIX_NOT_ACID,
        Note.MIX_ALLERGY,
        Note.MIX_SELENIUM,
        Note.MIX_CYANIDE,
        Note.MIX_SULPHIDE,
        Note.MIX_LABEL,
        Note.MIX_AGAINST,
        Note.PH_EXTREME,
        Note.SILVER_IN_WASTE,
        Note.GAS_IN_ACID,
        Note.HAZARD_FIRST,
        Note.HAZARD_NO_DATA,
        Note.HAZARD_UNCLASSIFIED,
        Note.APART_NEVER,
        Note.APART_FOAMS,
        Note.APART_UNKNOWN,
        Note.BLADE_IN_THE_DARK,
        Note.FLASH_EYES,
        Note.FLASH_NEAR,
        Note.FLASH_SERIES,
        Note.SITTER_FACE_LIGHT,
    }
)
