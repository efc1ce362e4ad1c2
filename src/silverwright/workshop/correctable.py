"""What can be corrected on which thing: the fields of a form for each kind."""

from datetime import datetime
from typing import Annotated, Final

from silverwright.asking.fields import Choice, Flag, Thing, Words
from silverwright.asking.operation import Typed
from silverwright.book import words
from silverwright.questions.ingredients import Ingredients
from silverwright.questions.recipe import RECIPE
from silverwright.vocabulary import AMOUNTS_TO_S, APERTURE_F, DENSITY, DENSITY_SD, EXPOSURE_LOG10, FIXED_OUT_DENSITY, GIVEN_S, TEMPERATURE_CELSIUS
from silverwright.vocabulary_camera import FLASHES_GIVEN
from silverwright.vocabulary_shelf import (
    AREA_M2,
    BATH_ML,
    BATH_STRENGTH_PERCENT,
    CHIP_DENSITY,
    CLEARING_S,
    FRESH_CLEARING_S,
    HIGHEST_PERCENT_WW,
    LOWEST_PERCENT_WW,
    OPEN_DAYS,
    PIECE_HEIGHT_MM,
    PIECE_WIDTH_MM,
    SHEETS_THROUGH,
    SILVER_G_PER_L,
    STOCK_STRENGTH_PERCENT,
)
from silverwright.workshop.chip import READ_BY, SHOWS
from silverwright.workshop.cutpaper import MARKED
from silverwright.workshop.forms import DATED, ONE_LINE, REMARKS, WHEN
from silverwright.workshop.gear import CameraForm, HolderForm, LensForm, LightForm, LotForm, MeterForm, PaperForm, ScannerForm
from silverwright.workshop.judge import JudgeForm
from silverwright.workshop.mixing import KEPT_IN, VENTED
from silverwright.workshop.pouring import Taken
from silverwright.workshop.process import PROCESS, StepRow
from silverwright.workshop.recipes import RecipeParts
from silverwright.workshop.stocks import StockForm
from silverwright.workshop.tones import PlaceRow
from silverwright.workshop.waste import WasteBottleForm


class LotCorrection(LotForm):
    """What the book says of a box, the true size of pieces that were cut, too."""

    width_mm: Annotated[float | None, PIECE_WIDTH_MM] = None
    height_mm: Annotated[float | None, PIECE_HEIGHT_MM] = None
    marked: Annotated[str, MARKED] = ""


class ChipCorrection(Typed):
    """What a chip of a box shows."""

    shows: Annotated[words.ChipShows, SHOWS]
    density: Annotated[float | None, CHIP_DENSITY] = None
    read_by: Annotated[words.ReadBy, READ_BY] = "densitometer"
    made_at: Annotated[datetime, WHEN, DATED]
    remarks: Annotated[str, REMARKS] = ""


class SheetForm(Typed):
    """What the book says of a sheet."""

    paper: Annotated[str, Thing(kind="paper", help="Which paper it is.", example="RC paper, grade 2")]
    lot: Annotated[str | None, Thing(kind="lot", label="Box", help="The box that it came from.", example="box A")] = None
    subject: Annotated[str, Words(help="What is on it.", example="caulking mallet", longest=200)] = ""
    turned: Annotated[words.Turned, Choice(help="Whether a mirror or a prism turned the picture.", example="no")] = "no"
    told_apart: Annotated[str, Words(help="How it is told apart while wet.", example="one corner clipped", longest=80)] = ""
    remarks: Annotated[str, REMARKS] = ""


class ExposureForm(Typed):
    """What was done at the camera."""

    exposed_at: Annotated[datetime, WHEN, DATED]
    given_s: Annotated[float | None, GIVEN_S] = None
    amounts_to_s: Annotated[float | None, AMOUNTS_TO_S] = None
    flashes_given: Annotated[float | None, FLASHES_GIVEN] = None
    aperture_f: Annotated[float | None, APERTURE_F] = None
    camera: Annotated[str | None, Thing(kind="camera", help="Which camera.", example="4x5 view camera")] = None
    lens: Annotated[str | None, Thing(kind="lens", help="Which lens.", example="210 mm lens in a leaf shutter")] = None
    light: Annotated[str | None, Thing(kind="light", help="Which light.", example="north window of the shed")] = None
    light_class: Annotated[words.LightClass, Choice(help="What kind of light it was.", example="north window")] = "unknown"
    meter: Annotated[str | None, Thing(kind="meter", help="Which meter.", example="hand meter")] = None
    process: Annotated[words.Process, PROCESS] = "direct positive"
    remarks: Annotated[str, REMARKS] = ""


class ProcessingForm(Typed):
    """A stay in the trays."""

    process: Annotated[words.Process, PROCESS]
    processed_at: Annotated[datetime, WHEN, DATED]
    remarks: Annotated[str, REMARKS] = ""


class StepForm(StepRow, Typed):
    """One step in the trays."""


class StepSheetForm(Typed):
    """How the patches were read."""

    read_by: Annotated[words.ReadBy, Choice(help="How the densities were read.", example="grey scale by eye")] = "densitometer"
    density_sd: Annotated[float | None, DENSITY_SD] = None
    fixed_out_density: Annotated[float | None, FIXED_OUT_DENSITY] = None
    lamp: Annotated[
        str | None,
        Thing(kind="light", label="Fixed lamp", help="The lamp that never changes, of a control step sheet.", example="lamp over the tray"),
    ] = None
    remarks: Annotated[str, REMARKS] = ""


class ReadingForm(Typed):
    """One patch."""

    density: Annotated[float, DENSITY]
    exposure_log10: Annotated[float | None, EXPOSURE_LOG10] = None
    left_out: Annotated[bool, Flag(help="Left out of the curve.", example="yes")] = False
    note: Annotated[str, Words(help="Why.", example="a scratch", longest=200)] = ""


class ScenePatchForm(PlaceRow, Typed):
    """One metered place."""


class ScanCorrection(Typed):
    """What a scan shows, and what made it."""

    sheet: Annotated[str | None, Thing(kind="sheet", help="Which sheet it is.", example="26-018")] = None
    scanner: Annotated[str | None, Thing(kind="scanner", help="Which scanner.", example="flatbed in the office")] = None
    shows: Annotated[words.Shows, Choice(help="What was scanned.", example="step sheet")] = "step sheet"
    remarks: Annotated[str, REMARKS] = ""


class StockTestForm(Typed):
    """A strength test of a bottle."""

    tested_at: Annotated[datetime, WHEN, DATED]
    tested_by: Annotated[words.TestedBy, Choice(help="How it was tested.", example="permanganate titration")]
    strength_percent_ww: Annotated[float, STOCK_STRENGTH_PERCENT]
    low_percent_ww: Annotated[float | None, LOWEST_PERCENT_WW] = None
    high_percent_ww: Annotated[float | None, HIGHEST_PERCENT_WW] = None
    temperature_celsius: Annotated[float | None, TEMPERATURE_CELSIUS] = None
    remarks: Annotated[str, REMARKS] = ""


class BathForm(Typed):
    """What the book says of a bath beside its events."""

    name: Annotated[str, Words(help="The name on its tray or bottle.", example="bleach 1", longest=80, label="Name of the bath"), ONE_LINE]
    role: Annotated[words.BathRole, Choice(help="What it is for.", example="bleach", label="For")]
    kept_in: Annotated[words.KeptIn, KEPT_IN] = "tray"
    vented: Annotated[bool, VENTED] = False
    recipe_name: Annotated[str, RECIPE] = ""
    remarks: Annotated[str, REMARKS] = ""


class BathEventForm(Typed):
    """One thing that happened to a bath."""

    happened_at: Annotated[datetime, WHEN, DATED]
    volume_ml: Annotated[float | None, BATH_ML] = None
    ingredients: Ingredients = ()
    taken: Taken = ()
    temperature_celsius: Annotated[float | None, TEMPERATURE_CELSIUS] = None
    sheets: Annotated[float | None, SHEETS_THROUGH] = None
    area_m2: Annotated[float | None, AREA_M2] = None
    strength_percent_ww: Annotated[float | None, BATH_STRENGTH_PERCENT] = None
    low_percent_ww: Annotated[float | None, LOWEST_PERCENT_WW] = None
    high_percent_ww: Annotated[float | None, HIGHEST_PERCENT_WW] = None
    clearing_s: Annotated[float | None, CLEARING_S] = None
    fresh_clearing_s: Annotated[float | None, FRESH_CLEARING_S] = None
    silver_g_per_l: Annotated[float | None, SILVER_G_PER_L] = None
    open_days: Annotated[float | None, OPEN_DAYS] = None
    remarks: Annotated[str, REMARKS] = ""


class EmptyingForm(Typed):
    """A waste bottle was handed in."""

    emptied_at: Annotated[datetime, WHEN, DATED]
    taken_to: Annotated[str, Words(help="Who took it.", example="collection point of the town", longest=120)] = ""
    remarks: Annotated[str, REMARKS] = ""


FORMS: Final[dict[str, type[Typed]]] = {
    "paper": PaperForm,
    "lot": LotCorrection,
    "chip": ChipCorrection,
    "camera": CameraForm,
    "lens": LensForm,
    "light": LightForm,
    "meter": MeterForm,
    "holder": HolderForm,
    "sheet": SheetForm,
    "exposure": ExposureForm,
    "processing": ProcessingForm,
    "step": StepForm,
    "step-sheet": StepSheetForm,
    "reading": ReadingForm,
    "verdict": JudgeForm,
    "scanner": ScannerForm,
    "scan": ScanCorrection,
    "scene-patch": ScenePatchForm,
    "stock": StockForm,
    "stock-test": StockTestForm,
    "recipe": RecipeParts,
    "bath": BathForm,
    "bath-event": BathEventForm,
    "waste-bottle": WasteBottleForm,
    "emptying": EmptyingForm,
}
NEVER: Final = frozenset({("holder", "sides"), ("verdict", "sheet"), ("verdict", "when")})  # a holder keeps its sides, a verdict its sheet and day
