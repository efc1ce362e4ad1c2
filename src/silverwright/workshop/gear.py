"""Paper, boxes and gear come into the book."""

from collections.abc import Callable
from datetime import date
from typing import Annotated, Any, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Moment, Thing, Words
from silverwright.asking.operation import Typed, refuse
from silverwright.book import words
from silverwright.book.find import NAMED
from silverwright.book.models import Holder, HolderSide
from silverwright.errors import BadQuestion, Fault
from silverwright.questions.aperture import APERTURE_ROWS, Apertures, check_apertures
from silverwright.questions.bellows import CAMERA_KIND
from silverwright.questions.shutter import SPEED_ROWS, Speeds, check_speeds
from silverwright.vocabulary import DIAL_EI, EXTENSION_MM, FOCAL_MM, GRADE, HOLDER_SIDES, METER_C, METER_K, PUPIL_FACTOR, SHEETS_LEFT
from silverwright.vocabulary_lens import BLUE_SHIFT_PERCENT, INFINITY_EXTENSION_MM, MIRROR_SD_STOPS, MIRROR_STOPS, STOP_MM, STOP_SD_MM
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, ONE_LINE, REMARKS, WHOLE


def _name(example: str) -> Words:
    return Words(help="What you call it; it stands on labels and in lists.", example=example, longest=80)


CALLED: Final = {"lot": "box"}  # how people say what the acts call otherwise
SIZE: Final = Words(help="Size of a sheet.", example="4x5 in", longest=40)


class PaperForm(Typed):
    """A kind of paper."""

    name: Annotated[str, _name("RC paper, grade 2"), ONE_LINE]
    surface: Annotated[words.Surface, Choice(help="How it shines.", example="glossy")] = "unknown"
    base: Annotated[words.Base, Choice(help="RC or fibre.", example="RC")] = "unknown"
    contrast: Annotated[words.Contrast, Choice(help="Graded, or variable contrast.", example="graded")] = "unknown"
    grade: Annotated[float | None, GRADE] = None
    sensitivity: Annotated[
        words.Sensitivity, Choice(help="Which colours it sees: blue only, or green too (ortho; most variable contrast papers).", example="blue")
    ] = "unknown"
    remarks: Annotated[str, REMARKS] = ""


class LotForm(Typed):
    """A box of paper."""

    name: Annotated[str, _name("box A"), ONE_LINE]
    paper: Annotated[str, Thing(kind="paper", help="Which paper is in it.", example="RC paper, grade 2")]
    size: Annotated[str, SIZE] = ""
    opened_on: Annotated[date | None, Moment(help="The day on which it was opened.", example="2026-11-25"), DATED] = None
    sheets_left: Annotated[float | None, SHEETS_LEFT, WHOLE] = None
    remarks: Annotated[str, REMARKS] = ""


class CameraForm(Typed):
    """A camera."""

    name: Annotated[str, _name("4x5 view camera"), ONE_LINE]
    turned: Annotated[
        words.Turned, Choice(help="Whether a mirror or a prism in it turns the picture the right way round.", example="mirror or prism")
    ] = "no"
    mirror_stops: Annotated[float | None, MIRROR_STOPS] = None
    mirror_sd_stops: Annotated[float | None, MIRROR_SD_STOPS] = None
    extension_mm: Annotated[float | None, EXTENSION_MM] = None
    remarks: Annotated[str, REMARKS] = ""


class LensForm(Typed):
    """A lens, or the pinhole in its place."""

    name: Annotated[str, _name("210 mm lens in a leaf shutter"), ONE_LINE]
    camera_kind: Annotated[words.CameraKind, CAMERA_KIND] = "ordinary lens"
    focal_mm: Annotated[float | None, FOCAL_MM, Field(validate_default=True)] = None
    pupil_factor: Annotated[float | None, PUPIL_FACTOR] = None
    aperture_scale: Annotated[
        words.ApertureScale, Choice(help="Whether its apertures are the marked series (f/22 is 22.6) or exact.", example="marked")
    ] = "marked"
    infinity_extension_mm: Annotated[float | None, INFINITY_EXTENSION_MM] = None
    stop_mm: Annotated[float | None, STOP_MM] = None
    stop_sd_mm: Annotated[float | None, STOP_SD_MM] = None
    blue_shift_percent: Annotated[float | None, BLUE_SHIFT_PERCENT] = None
    measured_apertures: Annotated[Apertures, APERTURE_ROWS] = ()
    measured_speeds: Annotated[Speeds, SPEED_ROWS] = ()
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("focal_mm")
    @classmethod
    def _a_pinhole_has_none(cls, focal_mm: float | None, seen: ValidationInfo) -> float | None:
        if focal_mm is None and seen.data.get("camera_kind", "pinhole") not in {"pinhole", "box camera"}:
            raise refuse(f"Needed. {FOCAL_MM.help}")
        return focal_mm

    @field_validator("measured_apertures")
    @classmethod
    def _of_this_lens(cls, rows: Apertures, seen: ValidationInfo) -> Apertures:
        return check_apertures(rows, seen.data.get("focal_mm")) if "focal_mm" in seen.data else rows

    @field_validator("measured_speeds")
    @classmethod
    def _of_these_marks(cls, rows: Speeds) -> Speeds:
        return check_speeds(rows)


class LightForm(Typed):
    """A place's light."""

    name: Annotated[str, _name("north window of the shed"), ONE_LINE]
    light_class: Annotated[
        words.LightClass, Choice(help="What kind of light it is: the paper and the meter see them differently.", example="north window")
    ] = "unknown"
    remarks: Annotated[str, REMARKS] = ""


class MeterForm(Typed):
    """A light meter."""

    name: Annotated[str, _name("hand meter"), ONE_LINE]
    reads: Annotated[words.MeterReads, Choice(help="Light from the subject, or light on it.", example="reflected")] = "reflected"
    meter_k: Annotated[float | None, METER_K] = None
    meter_c: Annotated[float | None, METER_C] = None
    incident_head: Annotated[words.IncidentHead, Choice(help="The head of an incident meter.", example="dome")] = "dome"
    lowest_ei: Annotated[float | None, DIAL_EI] = None
    remarks: Annotated[str, REMARKS] = ""


class ScannerForm(Typed):
    """A scanner."""

    name: Annotated[str, _name("flatbed in the office"), ONE_LINE]
    untagged: Annotated[
        words.Untagged, Choice(help="What its files mean when they carry no profile.", example="gamma 2.2", label="Without a profile")
    ] = "unknown"
    remarks: Annotated[str, REMARKS] = ""


class HolderForm(Typed):
    """A holder for sheets."""

    name: Annotated[str, _name("holder 1"), ONE_LINE]
    sides: Annotated[float, HOLDER_SIDES, WHOLE] = 2
    size: Annotated[str, SIZE] = ""
    remarks: Annotated[str, REMARKS] = ""


def _new(kind: str) -> Callable[[Doing[Any]], Done]:
    """Write a new thing of that kind: the form's fields are its columns, the things it names its links."""

    def perform(doing: Doing[Any]) -> Done:
        name = doing.form.name
        _refuse_twice(kind, name)
        columns = doing.form.model_dump() | dict(doing.things)
        thing = NAMED[kind](**columns)
        thing.save()
        return doing.done((kind, name), f"{CALLED.get(kind, kind).capitalize()} “{name}” is in the book.")

    return perform


def _new_holder(doing: Doing[HolderForm]) -> Done:
    form = doing.form
    _refuse_twice("holder", form.name)
    holder = Holder.objects.create(name=form.name, size=form.size, remarks=form.remarks)
    for side in range(1, int(form.sides) + 1):
        HolderSide.objects.create(holder=holder, side=str(side))
    return doing.done(("holder", form.name), f"Holder “{form.name}” is in the book, {'both sides' if form.sides > 1 else 'its one side'} empty.")


def _refuse_twice(kind: str, name: str) -> None:
    twin = NAMED[kind].objects.filter(name__iexact=name).first()  # type: ignore[attr-defined]
    if twin is not None:
        what = "bring it back from the archive" if twin.archived_at else "correct that one"
        raise BadQuestion([Fault("name", name, f"There is already a {CALLED.get(kind, kind)} called “{twin}”. Take another name, or {what}.")])


def _deed(kind: str, form: type[Any], says: str, **example: object) -> Deed[Any]:
    return Deed(name=kind, says=says, form=form, perform=_new(kind), examples={"boatyard": example})


PAPER: Final = _deed("paper", PaperForm, "Enter a kind of paper.", name="RC paper, grade 2", surface="glossy", base="RC", contrast="graded", grade=2)
LOT: Final = _deed("lot", LotForm, "Enter a box of paper.", name="box A", paper="RC paper, grade 2", size="4x5 in", sheets_left=25)
CAMERA: Final = _deed("camera", CameraForm, "Enter a camera.", name="4x5 view camera")
LENS: Final = _deed("lens", LensForm, "Enter a lens.", name="210 mm lens in a leaf shutter", focal_mm=210)
LIGHT: Final = _deed("light", LightForm, "Enter a light that you work in.", name="north window of the shed", light_class="north window")
SCANNER: Final = _deed("scanner", ScannerForm, "Enter a scanner.", name="flatbed in the office", untagged="gamma 2.2")
METER: Final = _deed("meter", MeterForm, "Enter a light meter.", name="hand meter", reads="reflected", meter_k=12.5, lowest_ei=3)
HOLDER: Final = Deed(
    name="holder",
    says="Enter a holder for sheets.",
    form=HolderForm,
    perform=_new_holder,
    examples={"boatyard": {"name": "holder 1", "sides": 2, "size": "4x5 in"}},
)
