"""How much longer do I expose because the light is dim?"""

from collections.abc import Callable
from functools import partial
from typing import Annotated, Final, Literal

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Question, Record, Remark, Rests, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.ledger import reciprocity_line
from silverwright.exposure.reciprocity import (
    correction_limits_stops,
    correction_sd_stops,
    correction_stops,
    law_from_points,
    needed_s,
)
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import Entry
from silverwright.records import OwnPoint, ReciprocityLaw, Stops
from silverwright.units import SECOND
from silverwright.vocabulary import EXPONENT_FACTOR, METERED_S, NEEDED_S, RECIPROCITY_STOPS, THRESHOLD_S

Model = Literal["paper", "none"]


class PointRow(Record):
    """One own test: the metered time, and the time that gave the same density."""

    metered_s: Annotated[float, METERED_S]
    needed_s: Annotated[float, NEEDED_S]


class ReciprocityFields(Question):
    """What is known of this paper in long exposures."""

    own_points: Annotated[
        tuple[PointRow, ...],
        Rows(row=PointRow, help="Your own tests: metered time, and the time that gave the same density.", example="60 90", label="Own points"),
    ] = ()
    reciprocity_model: Annotated[
        Model,
        Choice(help="Our first guess for paper or your own points; or none.", example="paper", label="Reciprocity by"),
    ] = "paper"


def law_of(question: ReciprocityFields) -> ReciprocityLaw:
    """The law that counts: own points drawn from our first guess, or that guess alone."""
    threshold, exponent = fact("reciprocity", "paper_threshold"), fact("reciprocity", "paper_exponent")
    prior = ReciprocityLaw(
        threshold_s=threshold.value,
        exponent=exponent.value,
        exponent_sd=exponent.sd,
        start_sd_stops=fact("reciprocity", "own_start").sd,
        misfit_stops=fact("reciprocity", "own_misfit").sd,
    )
    if question.reciprocity_model == "none":
        return ReciprocityLaw(threshold_s=threshold.value, exponent=1.0)
    points = [OwnPoint(row.metered_s, row.needed_s) for row in question.own_points]
    return law_from_points(points, prior, fact("reciprocity", "own_point").sd) if points else prior


def needed_by(question: ReciprocityFields) -> Callable[[float], float]:
    """Needed time for a metered time, by the law that counts."""
    return partial(needed_s, law=law_of(question))


def reciprocity_entry(question: ReciprocityFields, before: Stops) -> Entry:
    """The reciprocity line of the ledger."""
    law = law_of(question)
    metered_s = 2**before.amount_stops
    stops = reciprocity_line(before, needed_by(question), correction_sd_stops(metered_s, law))
    source, rests = _said(question)
    what = f"Reciprocity at {SECOND.show(metered_s)} metered"
    return Entry(what, stops, source, rests, _notes(question, metered_s))


def _said(question: ReciprocityFields) -> tuple[str, Rests]:
    """Who says so."""
    if question.reciprocity_model == "none":
        return "you chose none", "own"
    if question.own_points:
        count = len(question.own_points)
        return f"your own {count} points" if count > 1 else "your own point", "own"
    return "our judgement until you test it", "judgement"


def _notes(question: ReciprocityFields, metered_s: float) -> tuple[Remark, ...]:
    if not question.own_points or question.reciprocity_model == "none":
        return ()
    times = [row.metered_s for row in question.own_points]
    if min(times) <= metered_s <= max(times):
        return ()
    return (remark(Note.BEYOND_POINTS, time=SECOND.show(metered_s), first=SECOND.show(min(times)), last=SECOND.show(max(times))),)


class ReciprocityQuestion(ReciprocityFields):
    """A metered time."""

    metered_s: Annotated[float, METERED_S]


class ReciprocityAnswer(Answer):
    """How much longer."""

    needed_s: Annotated[Estimate, NEEDED_S]
    reciprocity_stops: Annotated[Estimate, RECIPROCITY_STOPS]
    exponent: Annotated[Estimate, EXPONENT_FACTOR]
    threshold_s: Annotated[Estimate, THRESHOLD_S]


def reciprocity_estimate(metered_s: float, law: ReciprocityLaw) -> Estimate:
    """The correction in stops with its limits."""
    low, high = correction_limits_stops(metered_s, law)
    return Estimate(value=correction_stops(metered_s, law), low=low, high=high, percent=80)


def answer(question: ReciprocityQuestion) -> ReciprocityAnswer:
    """The correction by own points where there are some, else by our first guess."""
    law, metered_s = law_of(question), question.metered_s
    stops = reciprocity_estimate(metered_s, law)
    source, rests = _said(question)
    value, low, high = (metered_s * 2**amount for amount in (stops.value or 0.0, stops.low or 0.0, stops.high or 0.0))
    line = Line(
        what=f"Reciprocity at {SECOND.show(metered_s)} metered",
        amount=stops.value or 0.0,
        doubt=correction_sd_stops(metered_s, law),
        unit="stops",
        source=source,
        rests=rests,
    )
    return ReciprocityAnswer(
        needed_s=Estimate(value=value, low=low, high=high, percent=80),
        reciprocity_stops=stops,
        exponent=Estimate(value=law.exponent),
        threshold_s=Estimate(value=law.threshold_s),
        ledger=(line,),
        notes=_notes(question, metered_s),
        sources=(source,),
    )


RECIPROCITY: Final = Operation(
    name="exposure.reciprocity",
    version=1,
    asks="How much longer do I expose because the light is dim?",
    question=ReciprocityQuestion,
    answer=ReciprocityAnswer,
    compute=answer,
    examples={"a minute": {"metered_s": 60}, "with an own test": {"metered_s": "2m", "own_points": "60 90"}},
)
