"""I open several times, or at several apertures: what does it amount to, and what is left to give?"""

from collections.abc import Callable
from math import hypot, log, log2
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Operation, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.aperture import added_effective_s, added_s, openings_doubt_stops
from silverwright.exposure.reciprocity import effective_s
from silverwright.exposure.shutter import settable_by_hand_s, true_f_number
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.aperture import ApertureFields, f_number
from silverwright.questions.entry import around, around_stops, stops_said
from silverwright.questions.marks import aperture_marks, counted_steps
from silverwright.questions.reciprocity import ReciprocityFields, reciprocity_of
from silverwright.questions.shutter import HandFields, ShutterFields, hand_of, nearest_on_shutter, true_on_shutter_s
from silverwright.records import Opening
from silverwright.units import SECOND, STOP
from silverwright.vocabulary import EXPOSURE_S
from silverwright.vocabulary_lens import ADDED_S, EACH_S, EQUALS_S, LEFT_S, MORE_OPENINGS, OPENING_F, OPENING_S, SHORT_STOPS

SAME_TIME: Final = 1e-6  # arithmetic: two times this near are one
SHORTEST_BY_HAND_S: Final = 0.5  # our judgement: nobody takes a cap off and puts it on again in less


class OpeningRow(Record):
    """One opening: how long, and at which aperture where it was another than the rest."""

    opening_s: Annotated[float, OPENING_S]
    opening_f: Annotated[float | None, OPENING_F] = None


class OpeningQuestion(HandFields, ShutterFields, ApertureFields, ReciprocityFields):
    """Every time that the paper saw the light, and the time that it needs."""

    timed_by: Annotated[
        Literal["hand", "shutter"] | None,
        Choice(help="By hand (cap, B or T) or by the shutter; left open, by hand from one second on.", example="hand", label="Timed by"),
    ] = None
    exposure_s: Annotated[float | None, EXPOSURE_S] = None
    openings: Annotated[
        tuple[OpeningRow, ...],
        Rows(row=OpeningRow, help="Each opening: seconds, and its aperture where it was another.", example="20\n20\n15", label="Openings"),
        Field(validate_default=True),
    ] = ()
    more_openings: Annotated[float, MORE_OPENINGS] = 1

    @field_validator("openings")
    @classmethod
    def _any(cls, openings: tuple[OpeningRow, ...], seen: ValidationInfo) -> tuple[OpeningRow, ...]:
        if not openings and seen.data.get("exposure_s", 0) is None:
            raise refuse("Needed. The time of each opening, one in a line, such as 20; or the time that is needed in all, to divide it.")
        return openings

    @field_validator("more_openings")
    @classmethod
    def _whole(cls, more_openings: float) -> float:
        if more_openings != round(more_openings):
            raise refuse("Openings are counted: a whole number is needed here.")
        return more_openings


class OpeningAnswer(Answer):
    """What was given as one exposure, and what is left."""

    added_s: Annotated[Estimate | None, ADDED_S] = None
    equals_s: Annotated[Estimate | None, EQUALS_S] = None
    short_stops: Annotated[Estimate | None, SHORT_STOPS] = None
    left_s: Annotated[Estimate | None, LEFT_S] = None
    each_s: Annotated[Estimate | None, EACH_S] = None


def answer(question: OpeningQuestion) -> OpeningAnswer:
    """Light adds; after reciprocity all openings at one aperture count as one exposure of their sum."""
    at, law = f_number(question), reciprocity_of(question)
    given = [_opening(question, row, at) for row in question.openings]
    notes: list[Remark] = []
    left = _left(question, given, at, law.needed)
    if not given:
        return OpeningAnswer(notes=_pieces(question, left), sources=(law.source,)).model_copy(update=left)
    light_s, amounts = added_s(given, at), added_effective_s(given, at, law.needed)
    apart = sum(effective_s(one.time_s, law.needed) * (at / one.f_number) ** 2 for one in given)
    between, hand = log2(apart / amounts), openings_doubt_stops(given, at, hand_of(question)[0])
    doubt = hypot(hand, between / 2)
    if between > fact("lens", "worth_saying").value:
        notes.append(remark(Note.OPENINGS_APART, pieces=len(given), stops=STOP.show(between)))
    if question.exposure_s is not None:
        short = log2(effective_s(question.exposure_s, law.needed) / amounts)
        left["short_stops"] = around(short, doubt)
        notes += [remark(Note.TOO_MUCH_GIVEN, stops=stops_said(-short))] if -short > fact("lens", "worth_saying").value else []
        left["left_s"] = around(left["left_s"].value or 0.0, law.needed(amounts) * doubt * log(2), least=0.0)
    told = OpeningAnswer(
        added_s=around_stops(light_s, hand),
        equals_s=around_stops(law.needed(amounts), doubt),
        notes=(*notes, *_pieces(question, left)),
        sources=tuple(dict.fromkeys((law.source, "webb1950, abstract", hand_of(question)[1]))),
    )
    return told.model_copy(update=left)


def _opening(question: OpeningQuestion, row: OpeningRow, at: float) -> Opening:
    """The row with its true time and true f-number."""
    by_shutter = question.timed_by == "shutter" or (question.timed_by is None and row.opening_s < fact("lens", "hand_from").value)
    time_s = true_on_shutter_s(question.measured_speeds, row.opening_s) if by_shutter else row.opening_s
    if row.opening_f is None:
        return Opening(time_s, at)
    return Opening(time_s, true_f_number(row.opening_f, aperture_marks()) if question.aperture_scale == "marked" else row.opening_f)


def _left(question: OpeningQuestion, given: list[Opening], at: float, needed: Callable[[float], float]) -> dict[str, Estimate]:
    """What is still to give at the aperture of the page, in all and in each of the openings that are left."""
    if question.exposure_s is None:
        return {}
    wanted = effective_s(question.exposure_s, needed)
    here = [one for one in given if abs(one.f_number / at - 1) < SAME_TIME]
    elsewhere = [one for one in given if one not in here]
    rest = wanted - (added_effective_s(elsewhere, at, needed) if elsewhere else 0.0)
    left_s = max(0.0, needed(rest) - sum(one.time_s for one in here)) if rest > 0 else 0.0
    each_s = left_s / question.more_openings
    found = {"left_s": Estimate(value=left_s)}
    each = _settable(question, each_s)
    return found if each is None else found | {"each_s": Estimate(value=each)}


def _settable(question: OpeningQuestion, each_s: float) -> float | None:
    """What can be counted or set for each opening; nothing where nothing is left, or it is shorter than a hand can open and close."""
    if each_s == 0 or (question.timed_by == "hand" and each_s < SHORTEST_BY_HAND_S):
        return None
    if question.timed_by == "hand" or (question.timed_by is None and each_s >= fact("lens", "hand_from").value):
        return settable_by_hand_s(each_s, counted_steps())
    return nearest_on_shutter(question.measured_speeds, each_s).marked_s


def _pieces(question: OpeningQuestion, left: dict[str, Estimate]) -> tuple[Remark, ...]:
    """What more openings cost in surety, and whether the rest can be divided so."""
    many, left_s = round(question.more_openings), left["left_s"].value if "left_s" in left else None
    if left_s is None or left_s == 0:
        return ()
    each_s, each = left_s / many, left["each_s"].value if "each_s" in left else None
    if each is None:
        return (remark(Note.TOO_FINE, many=many, each=SECOND.show(each_s), most=max(1, int(left_s / SHORTEST_BY_HAND_S + SAME_TIME))),)
    by_hand = question.timed_by == "hand" or (question.timed_by is None and each_s >= fact("lens", "hand_from").value)
    given = each if by_hand else true_on_shutter_s(question.measured_speeds, each)
    off = log2(given / each_s)
    notes = [remark(Note.OPENINGS_HAND, many=many, off=SECOND.show(hand_of(question)[0] * many**0.5))] if many > 1 and by_hand else []
    if abs(off) > fact("lens", "worth_saying").value:
        way = "more" if off > 0 else "less"
        notes.append(remark(Note.EACH_ROUNDED, many=many, each=SECOND.show(each), stops=f"{abs(off):.2f}", way=way))
    return tuple(notes)


OPENING: Final = Operation(
    name="exposure.opening",
    version=1,
    asks="I open several times: what does it amount to, and what is left to give?",
    question=OpeningQuestion,
    answer=OpeningAnswer,
    compute=answer,
    examples={
        "three times with the cap": {"aperture_f": "f/22", "openings": "20\n20\n15", "exposure_s": 97},
        "one stopped down": {"aperture_f": "f/16", "openings": "opening_s,opening_f\n10,f/16\n40,f/32", "reciprocity_model": "none"},
        "between the passers-by": {"aperture_f": "f/32", "exposure_s": "4m", "more_openings": 8},
    },
)
