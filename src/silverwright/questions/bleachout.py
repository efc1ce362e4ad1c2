"""Does the used bleach still work?"""

from dataclasses import dataclass
from math import exp, hypot, log, log2
from typing import Annotated, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Plain
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Question, Remark, refuse, remark
from silverwright.chemistry.bleachout import chance_over, clearing_factor, clearing_sd_ln, strips_sd_ln, warmth_factor, widened_factor
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.assayed import Missing, missing
from silverwright.questions.entry import around_stops, says
from silverwright.questions.guides import GOOD_FOR, NEEDS, TEST_STEPS, guide
from silverwright.questions.ingredients import ROOM_CELSIUS
from silverwright.vocabulary_chemistry import (
    BEYOND_LIMIT_PERCENT,
    CLEARED_FRESH_S,
    CLEARED_USED_S,
    CLEARING_FACTOR,
    FRESH_CELSIUS,
    GAVE_UP_S,
    LIMIT_FACTOR,
    NEEDED_BLEACH_S,
    USED_CELSIUS,
    USUAL_BLEACH_S,
)
from silverwright.vocabulary_shelf import CLEARING_S, FRESH_CLEARING_S

USUAL_WEIGHT: Final = 4  # our judgement: what is usual counts as much as four strips of one's own
UNKNOWN_APART_SD: Final = 1.5  # our judgement: two cups on one bench, where nobody held a thermometer in, one standard deviation in °C
THERMOMETER_APART_SD: Final = 0.3  # our judgement: one thermometer in both cups, one standard deviation in °C
SPENT_CHANCE: Final = 0.9  # our judgement: as sure as every other limit here
SOUND_CHANCE: Final = 0.1  # our judgement: the same, on the other side
APART_CELSIUS: Final = 1.0  # our judgement: closer than that they count as one temperature
VERDICT: Final = Plain(
    help="What follows for the bath, as far as the strips tell.", example="It works. Leave sheets in it 1.4 times as long.", label="Verdict"
)


class BleachOutQuestion(Question):
    """Clearing times of black strips in fresh and in used bath."""

    cleared_fresh_s: Annotated[tuple[float, ...], CLEARED_FRESH_S]
    cleared_used_s: Annotated[tuple[float, ...], CLEARED_USED_S] = ()
    gave_up_s: Annotated[float | None, GAVE_UP_S] = None
    fresh_celsius: Annotated[float | None, FRESH_CELSIUS] = None
    used_celsius: Annotated[float | None, USED_CELSIUS] = None
    usual_s: Annotated[float | None, USUAL_BLEACH_S] = None
    limit_factor: Annotated[float | None, LIMIT_FACTOR, Field(validate_default=True)] = None

    @field_validator("cleared_fresh_s")
    @classmethod
    def _a_strip(cls, times: tuple[float, ...]) -> tuple[float, ...]:
        if not times:
            raise refuse("No time in the fresh bath. Without it nobody knows what is slow: clear one strip in a cup of fresh bath.")
        return times

    @field_validator("limit_factor")
    @classmethod
    def _something_used(cls, limit: float | None, seen: ValidationInfo) -> float | None:
        used, gave_up_s = seen.data.get("cleared_used_s"), seen.data.get("gave_up_s")
        if used is not None and "gave_up_s" in seen.data and not used and gave_up_s is None:
            raise refuse("Give how long a strip took in the used bath, or after how long you gave up.", field="cleared_used_s")
        return limit


class BleachOutAnswer(Answer):
    """How many times longer the used bath takes, how likely it is spent, and what to do."""

    clearing_factor: Annotated[Estimate, CLEARING_FACTOR]
    beyond_limit_percent: Annotated[Estimate, BEYOND_LIMIT_PERCENT]
    clearing_s: Annotated[Estimate, CLEARING_S]
    fresh_clearing_s: Annotated[Estimate, FRESH_CLEARING_S]
    needed_s: Annotated[Estimate | None, NEEDED_BLEACH_S] = None
    verdict: Annotated[str, VERDICT]
    good_for: Annotated[str, GOOD_FOR] = ""
    needs: Annotated[tuple[str, ...], NEEDS] = ()
    steps: Annotated[tuple[str, ...], TEST_STEPS] = ()


@dataclass(frozen=True, slots=True)
class Clearing:
    """What the strips tell: the factor, its doubt as a logarithm for limits of 80 %, and the parts of that doubt."""

    factor: float
    sd_ln: float
    strips_sd_ln: float
    warmth_sd_ln: float
    open_end: bool


def clearing_of(question: BleachOutQuestion) -> Clearing:
    """A strip that did not clear counts as one that would have, had the eye waited: the factor is at least that."""
    used = question.cleared_used_s if question.gave_up_s is None else (*question.cleared_used_s, question.gave_up_s)
    usual = fact("assay", "clearing_sd")
    own_sd_ln, freedom = strips_sd_ln((question.cleared_fresh_s, used), usual.value, USUAL_WEIGHT)
    q10 = fact("assay", "clearing_q10")
    fresh_celsius, used_celsius = _celsius(question)
    apart = used_celsius - fresh_celsius
    read = question.fresh_celsius is not None and question.used_celsius is not None
    warmth_sd_ln = abs(apart) / 10 * q10.sd + (THERMOMETER_APART_SD if read else UNKNOWN_APART_SD) / 10 * log(q10.value)
    strips_ln = clearing_sd_ln(own_sd_ln, len(used), len(question.cleared_fresh_s)) * widened_factor(freedom)
    return Clearing(
        factor=clearing_factor(used, question.cleared_fresh_s, warmth_factor(used_celsius, fresh_celsius, q10.value)),
        sd_ln=hypot(strips_ln, warmth_sd_ln),
        strips_sd_ln=strips_ln,
        warmth_sd_ln=warmth_sd_ln,
        open_end=question.gave_up_s is not None,
    )


def _celsius(question: BleachOutQuestion) -> tuple[float, float]:
    """Both temperatures; one that nobody read is taken as the other."""
    given = [one for one in (question.fresh_celsius, question.used_celsius) if one is not None]
    fallback = given[0] if given else ROOM_CELSIUS
    fresh = fallback if question.fresh_celsius is None else question.fresh_celsius
    return fresh, fallback if question.used_celsius is None else question.used_celsius


def answer(question: BleachOutQuestion) -> BleachOutAnswer:
    """The used time over the fresh one, at one temperature, and its chance to lie beyond the limit."""
    limit = fact("assay", "clearing_limit")
    limit_factor = limit.value if question.limit_factor is None else question.limit_factor
    clearing = clearing_of(question)
    factor = around_stops(clearing.factor, clearing.sd_ln / log(2))
    chance = chance_over(clearing.factor, limit_factor, clearing.sd_ln)
    if clearing.open_end:
        factor = Estimate(value=factor.value, low=factor.low, percent=80)
    fresh_s = exp(sum(log(one) for one in question.cleared_fresh_s) / len(question.cleared_fresh_s))
    how = guide("bleach-out")
    return BleachOutAnswer(
        clearing_factor=factor,
        beyond_limit_percent=Estimate(low=100 * chance, percent=80) if clearing.open_end else Estimate(value=100 * chance),
        clearing_s=_times(factor, fresh_s),
        fresh_clearing_s=Estimate(value=fresh_s),
        needed_s=None if question.usual_s is None else _times(factor, question.usual_s),
        verdict=_verdict(clearing, chance, limit_factor),
        good_for=how.good_for,
        needs=how.needs,
        steps=how.steps,
        ledger=_working(question, clearing),
        notes=(*how.cautions, *_notes(question, clearing, limit_factor)),
        sources=("our judgement", says(limit) if question.limit_factor is None else "as typed", says(fact("assay", "clearing_q10"))),
    )


def _times(factor: Estimate, usual_s: float) -> Estimate:
    value, low, high = (None if one is None else one * usual_s for one in (factor.value, factor.low, factor.high))
    return Estimate(value=value, low=low, high=high, percent=80)


def _verdict(clearing: Clearing, chance: float, limit_factor: float) -> str:
    """Spent, still working, or not told by so few strips."""
    if chance >= SPENT_CHANCE:
        return f"Spent: beyond {limit_factor:g} times the fresh time. Discard it, or replenish it and test again."
    if clearing.open_end:
        return "A strip did not clear: watch one until it does, or take the bath as spent."
    if chance > SOUND_CHANCE:
        beyond = f"beyond {limit_factor:g} times the fresh time"
        return f"Not told by these strips whether it is {beyond}. Clear two more strips in each bath before the next sheet."
    if clearing.factor <= 1:
        return "It works as the fresh bath does, as far as these strips tell."
    return f"It works. Leave sheets in it {clearing.factor:.1f} times as long as in fresh bath, and test again after the next sheets."


def _working(question: BleachOutQuestion, clearing: Clearing) -> tuple[Line, ...]:
    """In stops: each is a doubling of the time."""
    fresh_celsius, used_celsius = _celsius(question)
    warmth = log2(warmth_factor(used_celsius, fresh_celsius, fact("assay", "clearing_q10").value))
    count = len(question.cleared_used_s) + (question.gave_up_s is not None)
    strips = f"{count} used, {len(question.cleared_fresh_s)} fresh"
    rows = (
        (f"Clearing times, {strips}", log2(clearing.factor) - warmth, clearing.strips_sd_ln, f"your strips; {says(fact('assay', 'clearing_sd'))}"),
        (f"Used bath at {used_celsius:g} °C, fresh at {fresh_celsius:g} °C", warmth, clearing.warmth_sd_ln, says(fact("assay", "clearing_q10"))),
    )
    return tuple(
        Line(what=what, amount=amount, doubt=doubt / log(2), unit="stops", source=source, rests="own") for what, amount, doubt, source in rows
    )


def _notes(question: BleachOutQuestion, clearing: Clearing, limit_factor: float) -> tuple[Remark, ...]:
    notes = []
    if question.limit_factor is None:
        notes.append(remark(Note.BLEACH_ANALOGY, limit=f"{limit_factor:g}"))
    notes.append(remark(Note.BLEACH_WHICH))
    fresh_celsius, used_celsius = _celsius(question)
    q10 = fact("assay", "clearing_q10")
    if abs(used_celsius - fresh_celsius) >= APART_CELSIUS:
        notes.append(remark(Note.BLEACH_APART, apart=f"{abs(used_celsius - fresh_celsius):g}", q10=f"{q10.value:g}"))
    unknown = []
    if question.fresh_celsius is None or question.used_celsius is None:
        adds = (UNKNOWN_APART_SD - THERMOMETER_APART_SD) / 10 * log(q10.value)
        unknown.append(Missing("the temperature of both baths (they are taken as alike)", adds))
    return (*notes, *missing(unknown, clearing.sd_ln))


BLEACH_OUT: Final = Operation(
    name="chemistry.bleach-out",
    version=1,
    asks="Does the used bleach still work?",
    question=BleachOutQuestion,
    answer=BleachOutAnswer,
    compute=answer,
    examples={
        "ten sheets later": {
            "cleared_fresh_s": "1:50 2:00",
            "cleared_used_s": "2:40 2:50",
            "fresh_celsius": 20,
            "used_celsius": 20,
            "usual_s": "4:00",
        },
        "one strip each, no thermometer": {"cleared_fresh_s": "2:00", "cleared_used_s": "3:30"},
        "it did not clear": {"cleared_fresh_s": "2:00", "gave_up_s": "8:00", "fresh_celsius": 20, "used_celsius": 22},
    },
)
