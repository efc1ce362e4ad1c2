"""What the questions beside an exposure need not be told: the ledger's time and doubt, the magnification, the paper's curve, the scene's range."""

from collections.abc import Callable, Mapping
from typing import Any, Final

from silverwright.asking.operation import Answer, AnyOperation, Estimate
from silverwright.book.find import find_thing
from silverwright.book.models import Lens, Paper
from silverwright.book.papercurve import paper_curve
from silverwright.catalogue import find
from silverwright.errors import SilverwrightError, UnknownName
from silverwright.web.pages.camera_asked import Asked
from silverwright.web.pages.camera_sections import ENDS, Besides

SITTER: Final = "exposure.sitter"
OF_THE_BOOK: Final = frozenset({*ENDS, "grade", "range_stops"})


def handed(asked: Asked, beside: Besides, operation: AnyOperation) -> dict[str, Any]:
    """What is known of this question's fields without anybody typing it."""
    wanted, typed = operation.question.model_fields, beside.typed
    known: dict[str, Any] = {}
    for name, answered in ANSWERED_BY.items():
        skip = name == "magnification_factor" and "extension_mm" in wanted  # it works that out by itself, with its doubt
        if name in wanted and not skip and (value := answered(asked)) is not None:
            known[name] = value
    series = asked.flashes.answer.series_s if asked.flashes and operation.name == SITTER else None
    if series is not None and series.value:
        known["exposure_s"] = series.value  # between the flashes of a series a sitter moves as in a long exposure
    if "curve_from" in wanted:
        known |= {name: value for name, value in _of_paper(asked).items() if name in wanted}
    if {"too_long_stops", "scene_stops"} & wanted.keys() and "readings" in typed:
        known |= {name: value for name, value in _of_scene(asked, typed).items() if name in wanted}
    if "blue_shift_percent" in wanted and (shift := _blue_shift_percent(asked)) is not None:
        known["blue_shift_percent"] = shift
    if "movement_mm" in wanted and "sitter" in beside.open:
        known |= _of_sitter(asked, typed)
    return known


def _exposure_s(asked: Asked) -> float | None:
    """The time that is set or counted."""
    return asked.planned.answer.settable_s.value if asked.planned else None


def _doubt_stops(asked: Asked) -> float | None:
    """The doubt of the whole ledger."""
    return asked.either.answer.doubt_stops.value if asked.either else None


def _magnification(asked: Asked) -> float | None:
    """The magnification, from whatever says how near the subject is."""
    bellows = find("exposure.bellows")
    planned = asked.either.question if asked.either else {}
    answer = _asked_of(bellows, {name: value for name, value in planned.items() if name in bellows.question.model_fields})
    found: Estimate | None = getattr(answer, "magnification", None)
    return found.value if found else None


ANSWERED_BY: Final[Mapping[str, Callable[[Asked], float | None]]] = {
    "exposure_s": _exposure_s,
    "magnification_factor": _magnification,
    "doubt_stops": _doubt_stops,
}


def _of_paper(asked: Asked) -> dict[str, Any]:
    """What the book knows of the curve of the paper in hand."""
    name = asked.typed.get("paper") or (asked.side.lot.paper.name if asked.side and asked.side.lot else "")
    if not name:
        return {}
    try:
        paper = find_thing("paper", name)
    except UnknownName:  # a fault of its own stands beside the paper
        return {}
    return paper_curve(paper, asked.typed.get("process", "direct positive")) if isinstance(paper, Paper) else {}


def _blue_shift_percent(asked: Asked) -> float | None:
    """How much longer the lens in hand is for the blue that the paper sees."""
    try:
        lens = find_thing("lens", asked.typed.get("lens", ""))
    except UnknownName:  # none in hand, or a fault of its own beside it
        return None
    return lens.blue_shift_percent if isinstance(lens, Lens) else None


def _of_scene(asked: Asked, typed: Mapping[str, str]) -> dict[str, float]:
    """By how much the scene is too long, and how long it is, as the readings of the scene tell it."""
    scene = find("exposure.scene")
    planned = asked.either.question if asked.either else {}
    given = {**_of_paper(asked), **planned, **asked.typed, **typed}
    answer = _asked_of(scene, {name: value for name, value in given.items() if name in scene.question.model_fields})
    told: dict[str, Estimate | None] = {name: getattr(answer, name, None) for name in ("too_long_stops", "scene_stops")}
    return {name: one.value for name, one in told.items() if one is not None and one.value is not None}


def _of_sitter(asked: Asked, typed: Mapping[str, str]) -> dict[str, float]:
    """How far the sitter moves across the sheet while the shutter is open."""
    sitter = find(SITTER)
    names = sitter.question.model_fields
    planned = asked.either.question if asked.either else {}
    answer = _asked_of(sitter, {name: value for name, value in {"exposure_s": _exposure_s(asked), **planned, **typed}.items() if name in names})
    moved: Estimate | None = getattr(answer, "sideways_mm", None)
    return {} if moved is None or moved.value is None else {"movement_mm": moved.value}


def _asked_of(operation: AnyOperation, given: Mapping[str, Any]) -> Answer | None:
    """An answer, or nothing where the question is at fault: that stands in its own section."""
    try:
        answer: Answer = operation.ask(given)
    except SilverwrightError:
        return None
    return answer
