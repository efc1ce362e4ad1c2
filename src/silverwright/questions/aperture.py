"""The aperture: as it is marked, as it was measured, or by the diameter of the hole."""

from math import log2
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Rests, refuse
from silverwright.exposure.aperture import f_number_of_stop
from silverwright.exposure.shutter import true_f_number
from silverwright.facts.load import fact
from silverwright.questions.bellows import LensFields, f_number_by_stop, stop_distance_mm
from silverwright.questions.entry import stops_said
from silverwright.questions.marks import aperture_marks
from silverwright.units import F_NUMBER, MILLIMETRE
from silverwright.vocabulary import APERTURE_F


class ApertureFields(LensFields):
    """The aperture, as marked or as measured; or the hole of a box camera or a pinhole, by its diameter."""

    aperture_scale: Annotated[
        Literal["marked", "exact"], Choice(help="As marked on the lens, or a measured f-number.", example="marked", label="Aperture scale")
    ] = "marked"
    aperture_f: Annotated[float | None, APERTURE_F, Field(validate_default=True)] = None

    @field_validator("aperture_f")
    @classmethod
    def _one_opening(cls, aperture_f: float | None, seen: ValidationInfo) -> float | None:
        """An aperture, or a hole with its distance; both only where they agree."""
        if aperture_f is None and seen.data.get("stop_mm", 0) is None:
            raise refuse(f"Needed. {APERTURE_F.help}")
        return both_agree(aperture_f, seen)


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


def f_number(question: ApertureFields) -> float:
    """The true f-number."""
    if question.aperture_f is not None:
        return _true(question.aperture_f, question.aperture_scale)
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
    if question.aperture_f is None:
        by_stop = f_number_by_stop(question)
        ruler = fact("lens", "stop_ruler")
        return (
            "Aperture by its diameter",
            by_stop[1] if by_stop else 0.0,
            ruler.says if question.stop_sd_mm is None else "doubt as typed",
            ruler.rests,
        )
    marking = fact("lens", "aperture_marking")
    if question.aperture_scale == "marked":
        return "Aperture as marked", marking.sd, marking.says, marking.rests
    return "Aperture as measured", 0.0, marking.says, marking.rests
