"""The series that are engraved on lenses, shutters and meters, as kernels take them."""

from functools import cache
from typing import Annotated, Literal

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Question
from silverwright.exposure.shutter import true_f_number
from silverwright.facts.load import fact, facts
from silverwright.records import TimeSteps
from silverwright.units import F_NUMBER, SECOND
from silverwright.vocabulary import APERTURE_F


@cache
def aperture_marks() -> dict[float, float]:
    """Marked f-number to stops from f/1."""
    return {float(key): row.value for key, row in facts("aperture").items()}


@cache
def time_marks() -> dict[float, float]:
    """Marked time to stops from one second."""
    return {float(str(SECOND.read(key))): row.value for key, row in facts("shutter").items()}


@cache
def counted_steps() -> TimeSteps:
    """From which time on people count whole seconds, ten seconds, minutes."""
    names = ("settable_whole_second", "settable_ten_seconds", "settable_minute")
    return TimeSteps(*(fact("lens", name).value for name in names))


class ApertureFields(Question):
    """The aperture, as marked or as measured."""

    aperture_f: Annotated[float, APERTURE_F]
    aperture_scale: Annotated[
        Literal["marked", "exact"], Choice(help="As marked on the lens, or a measured f-number.", example="marked", label="Aperture scale")
    ] = "marked"


def f_number(question: ApertureFields) -> float:
    """The true f-number."""
    return true_f_number(question.aperture_f, aperture_marks()) if question.aperture_scale == "marked" else question.aperture_f


def aperture_said(question: ApertureFields) -> str:
    """`f/22 (truly f/22.6)`: the mark, and the f-number behind it where one reckons with another."""
    true, marked = F_NUMBER.show(f_number(question)), F_NUMBER.show(question.aperture_f)
    return marked if true == marked else f"{marked} (truly {true})"
