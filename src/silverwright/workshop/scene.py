"""The ledger's fields, as the forms of acts and plans show them: nothing is compulsory, and things of the book fill in what they know."""

from collections.abc import Mapping
from typing import Annotated, Any, Final

from pydantic import create_model

from silverwright.asking.fields import Thing, fields_of
from silverwright.asking.operation import Typed
from silverwright.questions.flashes import FlashQuestion
from silverwright.questions.ledger import LedgerQuestion

ABOUT_LONG_TIMES: Final = frozenset({"own_points", "reciprocity_model", "exponent_factor", "exponent_sd", "surest_at_s"})
ABOUT_THE_LIGHT: Final = frozenset({"sensitivity", "light_offset_stops", "light_offset_sd_stops", "light_rests_on"})
ABOUT_THE_PAPER: Final = frozenset({"paper_ei", "paper_ei_sd_stops", "ei_from", "ei_rests_on"}) | ABOUT_LONG_TIMES | ABOUT_THE_LIGHT
DONE_ELSEWHERE: Final = frozenset(
    {"aperture_f", "light_class", "process", "turned", "bracket_sheets"}
)  # columns of their own, or a wish for the plan


def relaxed(question: type[Typed], *, without: frozenset[str] = frozenset()) -> dict[str, Any]:
    """The fields of a question for another form: the same words and bounds, none of them needed."""
    found: dict[str, Any] = {}
    for name in fields_of(question):
        if name in without:
            continue
        info = question.model_fields[name]
        kind: Any = info.annotation
        default = None if info.is_required() else info.default
        for mark in info.metadata:
            kind = Annotated[kind | None if default is None else kind, mark]
        found[name] = (kind, default)
    return found


class ThingsInHand(Typed):
    """What of the book is in use."""

    paper: Annotated[str | None, Thing(kind="paper", help="Which paper: your own sheets then say its EI.", example="RC paper, grade 2")] = None
    camera: Annotated[str | None, Thing(kind="camera", help="Which camera.", example="4x5 view camera")] = None
    lens: Annotated[str | None, Thing(kind="lens", help="Which lens: it knows its focal length.", example="210 mm lens in a leaf shutter")] = None
    light: Annotated[str | None, Thing(kind="light", help="Which light you work in.", example="north window of the shed")] = None
    meter: Annotated[str | None, Thing(kind="meter", help="Which meter: it knows its constant.", example="hand meter")] = None


OF_A_FLASH: Final = relaxed(FlashQuestion, without=frozenset({*fields_of(LedgerQuestion), "exposure_s"}))  # what only a flash exposure has
PlanForm: type[ThingsInHand] = create_model("PlanForm", __base__=ThingsInHand, __doc__="What is planned.", **relaxed(LedgerQuestion))
EitherForm: type[ThingsInHand] = create_model("EitherForm", __base__=PlanForm, __doc__="What is planned, by time or by flashes.", **OF_A_FLASH)
SceneForm: type[Typed] = create_model(
    "SceneForm",
    __base__=Typed,
    __doc__="What was metered, and how the camera stood.",
    **relaxed(LedgerQuestion, without=ABOUT_THE_PAPER | DONE_ELSEWHERE),
    **OF_A_FLASH,
)


def by_flash(given: Mapping[str, object]) -> bool:
    """Whether the sheet is exposed by flashes: anything said of a flash says so."""
    return any(given.get(name) not in (None, "", "no", ()) for name in OF_A_FLASH)  # a list from a program is no member of a set
