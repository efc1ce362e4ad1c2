"""Which aperture is the hole of my box camera or my pinhole, and how large shall I drill it?"""

from collections.abc import Sequence
from math import hypot, log
from typing import Annotated, ClassVar, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.operation import Answer, Estimate, Operation, Remark, refuse, remark
from silverwright.exposure.aperture import f_number_of_stop, sharpest_pinhole_mm, stop_for_f_number_mm
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.bellows import LensFields, bellows_entry, f_number_by_stop, stop_distance_mm
from silverwright.questions.entry import around_stops
from silverwright.questions.marks import aperture_marks
from silverwright.units import MILLIMETRE
from silverwright.vocabulary import EFFECTIVE_F
from silverwright.vocabulary_lens import BOX_FOCUS_MM, DRILL_MM, HOLE_F, HOLE_MARK_F, HOLE_MM, SHARPEST_F, SHARPEST_HOLE_MM, WANTED_F

WIDEST_STOPS: Final = 4  # our judgement: no box camera opens wider than f/4
SMALLEST_STOPS: Final = 11  # our judgement: nor is its smallest stop beyond f/45
MOST_SHARE: Final = 0.1  # our judgement: a hole beyond a tenth of its distance is no pinhole


class BoxQuestion(LensFields):
    """The hole with its distance, or the f-number that is wanted."""

    wanted_f: Annotated[float | None, WANTED_F, Field(validate_default=True)] = None

    @field_validator("wanted_f")
    @classmethod
    def _some_distance(cls, wanted_f: float | None, seen: ValidationInfo) -> float | None:
        given = seen.data
        if {"focal_mm", "extension_mm"} <= given.keys() and given["focal_mm"] is None and given["extension_mm"] is None:
            raise refuse("Needed: the focal length of the lens, or the way from the hole to the paper.", field="extension_mm")
        return wanted_f


class BoxAnswer(Answer):
    """The f-number of the hole, the holes of the full stops, and where the box is focused."""

    table: ClassVar[tuple[str, ...]] = ("mark_f", "hole_mm")
    hole_f: Annotated[Estimate | None, HOLE_F] = None
    effective_f: Annotated[Estimate | None, EFFECTIVE_F] = None
    drill_mm: Annotated[Estimate | None, DRILL_MM] = None
    sharpest_mm: Annotated[Estimate | None, SHARPEST_HOLE_MM] = None
    sharpest_f: Annotated[Estimate | None, SHARPEST_F] = None
    box_focus_mm: Annotated[Estimate | None, BOX_FOCUS_MM] = None
    mark_f: Annotated[Sequence[float], HOLE_MARK_F] = ()
    hole_mm: Annotated[Sequence[float], HOLE_MM] = ()


def answer(question: BoxQuestion) -> BoxAnswer:
    """The hole over its distance; behind it the bellows, where a lens is racked out."""
    distance_mm = stop_distance_mm(question.camera_kind, question.focal_mm, question.extension_mm) or 0.0
    pinhole, by_stop = question.camera_kind == "pinhole", f_number_by_stop(question)
    figures: dict[str, Estimate] = {}
    if by_stop is not None:
        bellows = bellows_entry(question).stops
        figures["hole_f"] = around_stops(by_stop[0], by_stop[1] / 2)
        figures["effective_f"] = around_stops(by_stop[0] * 2 ** (bellows.amount_stops / 2), hypot(by_stop[1], bellows.doubt_stops) / 2)
    if question.wanted_f is not None:
        ruler_mm = fact("lens", "ruler").sd if question.ruler_sd_mm is None else question.ruler_sd_mm
        by_ruler = 0.0 if distance_mm == question.focal_mm else ruler_mm / distance_mm / log(2)
        figures["drill_mm"] = around_stops(stop_for_f_number_mm(distance_mm, question.wanted_f), by_ruler)
    if pinhole:
        best = sharpest_pinhole_mm(distance_mm, fact("lens", "wavelength_blue").value)
        figures["sharpest_mm"] = around_stops(best, fact("lens", "pinhole_rule").sd / log(2))
        figures["sharpest_f"] = around_stops(f_number_of_stop(distance_mm, best), fact("lens", "pinhole_rule").sd / log(2))
    marks = {} if pinhole else {mark: stops for mark, stops in aperture_marks().items() if stops == round(stops)}
    shown = [mark for mark, stops in marks.items() if WIDEST_STOPS <= stops <= SMALLEST_STOPS]
    focused, notes = _focused(question)
    return BoxAnswer(
        mark_f=tuple(shown),
        hole_mm=tuple(stop_for_f_number_mm(distance_mm, 2 ** (marks[mark] / 2)) for mark in shown),
        box_focus_mm=focused,
        notes=(*notes, *_odd(question, distance_mm)),
        sources=("jacobson1995, Q3", *(("altphoto1997, message 0646",) if pinhole else ())),
    ).model_copy(update=figures)


def _focused(question: BoxQuestion) -> tuple[Estimate | None, list[Remark]]:
    """Where a box of this depth is sharpest: 1/u = 1/F - 1/V; nothing where nobody knows both, and no place before infinity is too short a box."""
    focal_mm, depth_mm = question.focal_mm, question.extension_mm
    if focal_mm is None or depth_mm is None or question.camera_kind == "pinhole":
        return None, []
    ruler_mm = fact("lens", "ruler").sd if question.ruler_sd_mm is None else question.ruler_sd_mm
    low, at, high = (_subject_mm(focal_mm, depth_mm + moved) for moved in (ruler_mm, 0.0, -ruler_mm))
    if at is None:
        short = MILLIMETRE.show(max(0.0, focal_mm - depth_mm))
        return Estimate(low=low), [remark(Note.BOX_TOO_SHORT, short=short)]
    return Estimate(value=at, low=low, high=high, percent=80), []


def _subject_mm(focal_mm: float, depth_mm: float) -> float | None:
    """The distance that is sharp behind a lens at this depth; nothing beyond infinity."""
    return None if depth_mm <= focal_mm else focal_mm * depth_mm / (depth_mm - focal_mm)


def _odd(question: BoxQuestion, distance_mm: float) -> list[Remark]:
    """A pinhole so wide that it is none."""
    if question.camera_kind == "pinhole" and question.stop_mm is not None and question.stop_mm > MOST_SHARE * distance_mm:
        return [remark(Note.NO_PINHOLE, hole=MILLIMETRE.show(question.stop_mm), way=MILLIMETRE.show(distance_mm))]
    return []


BOX: Final = Operation(
    name="exposure.box",
    version=1,
    asks="Which aperture is the hole of my box camera or pinhole, and how large shall I drill it?",
    question=BoxQuestion,
    answer=BoxAnswer,
    compute=answer,
    examples={
        "a box camera": {"camera_kind": "box camera", "focal_mm": 150, "extension_mm": 158, "stop_mm": 9},
        "a stop to drill": {"camera_kind": "box camera", "focal_mm": 150, "wanted_f": "f/16"},
        "a pinhole": {"camera_kind": "pinhole", "extension_mm": 150, "stop_mm": 0.4},
    },
)
