"""The aperture: as it is marked, as it was measured, or by the diameter of the hole."""

from math import hypot, log2
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Record, Rests, refuse
from silverwright.asking.rows import Rows
from silverwright.exposure.aperture import f_number_at_mark, f_number_of_stop, stop_doubt_stops
from silverwright.exposure.shutter import true_f_number
from silverwright.facts.load import fact
from silverwright.questions.bellows import LensFields, f_number_by_stop, stop_distance_mm
from silverwright.questions.entry import stops_said
from silverwright.questions.marks import aperture_marks
from silverwright.records import MeasuredAperture
from silverwright.units import F_NUMBER, MILLIMETRE
from silverwright.vocabulary import APERTURE_F
from silverwright.vocabulary_lens import MARKED_F, PUPIL_MM

MOST_OFF_STOPS: Final = 3.0  # our judgement: a scale three stops off is a circle misread


class ApertureRow(Record):
    """One mark of the scale: the bright circle that is seen in the lens from the front."""

    marked_f: Annotated[float, MARKED_F]
    pupil_mm: Annotated[float, PUPIL_MM]


APERTURE_ROWS: Final = Rows(
    row=ApertureRow,
    help="Measured apertures of this lens: a line for each mark, and the diameter of the bright circle seen from the front.",
    example="f/22 9.2",
    label="Measured apertures",
)
Apertures = tuple[ApertureRow, ...]


class ApertureFields(LensFields):
    """The aperture, as marked or as measured; or the hole of a box camera or a pinhole, by its diameter."""

    measured_apertures: Annotated[Apertures, APERTURE_ROWS] = ()
    aperture_scale: Annotated[
        Literal["marked", "exact"], Choice(help="As marked on the lens, or a measured f-number.", example="marked", label="Aperture scale")
    ] = "marked"
    aperture_f: Annotated[float | None, APERTURE_F, Field(validate_default=True)] = None

    @field_validator("measured_apertures")
    @classmethod
    def _of_this_lens(cls, rows: Apertures, seen: ValidationInfo) -> Apertures:
        return check_apertures(rows, seen.data.get("focal_mm")) if "focal_mm" in seen.data else rows

    @field_validator("aperture_f")
    @classmethod
    def _one_opening(cls, aperture_f: float | None, seen: ValidationInfo) -> float | None:
        """An aperture, or a hole with its distance; both only where they agree."""
        if aperture_f is None and seen.data.get("stop_mm", 0) is None:
            if seen.data.get("camera_kind") == "pinhole":
                raise refuse("Needed: the diameter of the pinhole, or its f-number as the aperture.", field="stop_mm")
            raise refuse(f"Needed. {APERTURE_F.help}")
        return both_agree(aperture_f, seen)


def apertures_said(rows: Apertures) -> str:
    """`f/22: 9.2 mm; f/8: 26 mm`, as the book shows them."""
    return "; ".join(f"{F_NUMBER.show(row.marked_f)}: {MILLIMETRE.show(row.pupil_mm)}" for row in rows)


def check_apertures(rows: Apertures, focal_mm: float | None) -> Apertures:
    """The rows as they are, if the focal length is known and none is too far from its mark to be true."""
    if rows and focal_mm is None:
        raise refuse("A measured circle becomes an f-number by the focal length: give that too.", field="focal_mm")
    for number, row in enumerate(rows, 1):
        found = (focal_mm or 0.0) / row.pupil_mm
        stops = 2 * abs(log2(found / true_f_number(row.marked_f, aperture_marks())))
        if stops > MOST_OFF_STOPS:
            said = f"Row {number}: marked {F_NUMBER.show(row.marked_f)}, a circle of {MILLIMETRE.show(row.pupil_mm)} is {F_NUMBER.show(found)}"
            raise refuse(f"{said}, {stops_said(stops)} apart. Are the columns the other way round, or is it another lens?")
    return rows


def both_agree(aperture_f: float | None, seen: ValidationInfo) -> float | None:
    """The aperture, unless there is a hole without its distance, or one that makes another aperture."""
    given = seen.data
    if not {"stop_mm", "camera_kind", "focal_mm", "extension_mm"} <= given.keys() or given["stop_mm"] is None:
        return aperture_f
    stop_mm, distance_mm = given["stop_mm"], stop_distance_mm(given["camera_kind"], given["focal_mm"], given["extension_mm"])
    if aperture_f is None and distance_mm is None:
        raise refuse("A hole becomes an f-number by its distance: give the focal length, or the way to the paper.", field="focal_mm")
    if aperture_f is not None and distance_mm is not None:
        by_stop = f_number_of_stop(distance_mm, stop_mm)
        stops = 2 * abs(log2(by_stop / _true(aperture_f, str(given.get("aperture_scale")))))
        if stops > fact("meter", "agree").value:
            hole, shown, apart = MILLIMETRE.show(stop_mm), F_NUMBER.show(by_stop), stops_said(stops)
            raise refuse(f"A hole of {hole} is {shown} here, not {F_NUMBER.show(aperture_f)}: {apart} apart. Leave one of them out.")
    return aperture_f


def _true(aperture_f: float, scale: str) -> float:
    return true_f_number(aperture_f, aperture_marks()) if scale == "marked" else aperture_f


def _at_mark(question: ApertureFields, marked_f: float) -> tuple[float, float]:
    """The f-number behind a mark of this lens, and the share of the usual doubt that is left."""
    focal_mm = question.focal_mm or 0.0
    measured = [MeasuredAperture(row.marked_f, focal_mm / row.pupil_mm) for row in question.measured_apertures]
    return f_number_at_mark(marked_f, measured, aperture_marks())


def f_number(question: ApertureFields) -> float:
    """The true f-number."""
    if question.aperture_f is not None:
        return _at_mark(question, question.aperture_f)[0] if question.aperture_scale == "marked" else question.aperture_f
    by_stop = f_number_by_stop(question)
    assert by_stop is not None  # noqa: S101 (a question without either was refused)
    return by_stop[0]


def aperture_said(question: ApertureFields) -> str:
    """`f/22 (truly f/22.6)`: the mark, and the f-number behind it where one reckons with another; `f/16.7 (a hole of 9 mm)`."""
    true = F_NUMBER.show(f_number(question))
    if question.aperture_f is None:
        return f"{true} (a hole of {MILLIMETRE.show(question.stop_mm or 0)})"
    marked = F_NUMBER.show(question.aperture_f)
    return marked if true == marked else f"{marked} (truly {true})"


def aperture_doubt(question: ApertureFields) -> tuple[str, float, str, Rests]:
    """What is known of the aperture, in words, its doubt in stops, and who says so."""
    marking, ruler = fact("lens", "aperture_marking"), fact("lens", "stop_ruler")
    if question.aperture_f is None:
        by_stop = f_number_by_stop(question)
        by_whom = ruler.says if question.stop_sd_mm is None else "doubt as typed"
        return "Aperture by its diameter", by_stop[1] if by_stop else 0.0, by_whom, ruler.rests
    if question.aperture_scale != "marked":
        return "Aperture as measured", 0.0, marking.says, marking.rests
    true, left = _at_mark(question, question.aperture_f)
    if left == 1:
        return "Aperture as marked", marking.sd, marking.says, marking.rests
    pupil_mm = (question.focal_mm or 0.0) / true
    by_ruler = stop_doubt_stops(1.0, 0.0, pupil_mm, min(ruler.sd, fact("lens", "stop_share").sd * pupil_mm))
    words = "Aperture measured at its pupil" if left == 0 else "Aperture between measured marks"
    return words, hypot(left * marking.sd, by_ruler), "your own measurement", "own"
