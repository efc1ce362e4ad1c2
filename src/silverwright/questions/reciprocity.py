"""How much longer do I expose because the light is dim?"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import hypot, log2
from typing import Annotated, Final, Literal

from pydantic import Field, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Question, Record, Remark, Rests, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.ledger import reciprocity_line
from silverwright.exposure.reciprocity import correction_limits_stops, correction_sd_stops, exponent_limits, law_from_points, needed_s, start_s
from silverwright.exposure.rivals import (
    reciprocity_covington1999,
    reciprocity_gainer2004,
    reciprocity_maker2017,
    reciprocity_schwarzschild1900,
)
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import Entry, Remedy
from silverwright.records import OwnPoint, ReciprocityLaw, Stops
from silverwright.units import SECOND
from silverwright.vocabulary import EXPONENT_FACTOR, EXPONENT_SD, METERED_S, NEEDED_S, RECIPROCITY_STOPS, SUREST_AT_S, THRESHOLD_S

Model = Literal["paper", "Schwarzschild 1900", "Covington 1999", "film maker 2017", "Gainer 2004", "none"]
# Published laws with the facts they take. None is chosen unasked: all were found on film, and what little is printed about paper asks for less.
RIVALS: Final[dict[str, tuple[Callable[..., float], tuple[str, ...]]]] = {
    "Schwarzschild 1900": (reciprocity_schwarzschild1900, ("schwarzschild1900_exponent",)),
    "Covington 1999": (reciprocity_covington1999, ("covington1999_exponent",)),
    "film maker 2017": (reciprocity_maker2017, ("maker2017_exponent",)),
    "Gainer 2004": (reciprocity_gainer2004, ("gainer2004_factor", "gainer2004_exponent")),
}
SHORTER_FACTOR: Final = 0.7  # our judgement: half a stop shorter than metered is scatter, more than that is columns the wrong way round
WORTH_SAYING_STOPS: Final = 0.05  # our judgement: below it a line of the ledger is folded
LONGER_FACTOR: Final = 64.0  # our judgement: no material in use loses six stops


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
        Choice(
            help="Our first guess for paper, replaced by your own points; or a law that was published for film; or none.",
            example="paper",
            label="Reciprocity by",
        ),
    ] = "paper"

    exponent_factor: Annotated[float | None, EXPONENT_FACTOR] = None
    exponent_sd: Annotated[float | None, EXPONENT_SD] = None
    surest_at_s: Annotated[float | None, SUREST_AT_S] = None

    @field_validator("own_points")
    @classmethod
    def _right_way_round(cls, points: tuple[PointRow, ...]) -> tuple[PointRow, ...]:
        for number, point in enumerate(points, 1):
            said = f"Row {number}: {SECOND.show(point.needed_s)} needed for {SECOND.show(point.metered_s)} metered"
            if point.needed_s < SHORTER_FACTOR * point.metered_s:
                raise refuse(f"{said}. Long exposures need more, not less: are the columns the other way round?")
            if point.needed_s > LONGER_FACTOR * point.metered_s:
                raise refuse(f"{said}. No paper asks for so much: write both times in seconds, or as 1:30.")
        return points


@dataclass(frozen=True, slots=True)
class Reciprocity:
    """The law that counts: needed time for a metered time, what its doubt is taken from, and who says so."""

    needed: Callable[[float], float]
    doubt: ReciprocityLaw
    source: str
    rests: Rests
    film: bool = False
    surest_at_s: float | None = None

    def estimate(self, metered_s: float) -> Estimate:
        """The correction in stops with its limits."""
        stops = log2(self.needed(metered_s) / metered_s)
        if not self.film and self.surest_at_s is None:
            low, high = correction_limits_stops(metered_s, self.doubt)
            return Estimate(value=stops, low=min(low, stops), high=max(high, stops), percent=80)
        half = EIGHTY_PERCENT_SD * self.sd_stops(metered_s)
        return Estimate(value=stops, low=max(0.0, stops - half), high=stops + half, percent=80)

    def sd_stops(self, metered_s: float) -> float:
        """One standard deviation of the correction; of an exponent that was learnt together with the EI, what it adds to the doubt of the EI."""
        if self.surest_at_s is None:
            return correction_sd_stops(metered_s, self.doubt)
        return self.doubt.exponent_sd * abs(_beyond_stops(metered_s, self.doubt) - _beyond_stops(self.surest_at_s, self.doubt))


def _beyond_stops(metered_s: float, law: ReciprocityLaw) -> float:
    """How many stops a time lies beyond the threshold; none below it."""
    return max(0.0, log2(metered_s / law.threshold_s))


def first_guess() -> ReciprocityLaw:
    """Our prior for enlarging paper."""
    threshold, exponent = fact("reciprocity", "paper_threshold"), fact("reciprocity", "paper_exponent")
    return ReciprocityLaw(
        threshold_s=threshold.value,
        exponent=exponent.value,
        exponent_sd=exponent.sd,
        start_sd_stops=fact("reciprocity", "own_start").sd,
        misfit_stops=fact("reciprocity", "own_misfit").sd,
    )


def reciprocity_of(question: ReciprocityFields) -> Reciprocity:
    """Own points before our first guess; a published law or none only when asked for."""
    prior = first_guess()
    if question.reciprocity_model == "none":
        law = ReciprocityLaw(threshold_s=prior.threshold_s, exponent=1.0)
        return Reciprocity(partial(needed_s, law=law), law, "none, as you chose", "own")
    if question.reciprocity_model in RIVALS:
        law_of_film, keys = RIVALS[question.reciprocity_model]
        values = [fact("reciprocity", key).value for key in keys]
        source = fact("reciprocity", keys[0]).says
        return Reciprocity(lambda metered_s: law_of_film(metered_s, *values), prior, f"{source}; the doubt is our judgement", "published", film=True)
    if question.exponent_factor is not None:
        sd = prior.exponent_sd if question.exponent_sd is None else question.exponent_sd
        law = ReciprocityLaw(threshold_s=prior.threshold_s, exponent=question.exponent_factor, exponent_sd=sd)
        said = "the exponent as typed" if question.surest_at_s is None else "your own sheets"
        return Reciprocity(partial(needed_s, law=law), law, said, "own", surest_at_s=question.surest_at_s)
    if question.own_points:
        points = [OwnPoint(row.metered_s, row.needed_s) for row in question.own_points]
        law = law_from_points(points, prior, fact("reciprocity", "own_point").sd)
        said = "1 own point" if len(points) == 1 else f"{len(points)} own points"
        return Reciprocity(partial(needed_s, law=law), law, said, "own")
    return Reciprocity(partial(needed_s, law=prior), prior, "our judgement until you test it", "judgement")


def reciprocity_entry(question: ReciprocityFields, law: Reciprocity, before: Stops) -> Entry:
    """The reciprocity line of the ledger: its own doubt, and how it stretches the doubt above it."""
    metered_s = 2**before.amount_stops
    own = law.sd_stops(metered_s)
    stops = reciprocity_line(before, law.needed, own)
    stretched = stops.doubt_stops - own > WORTH_SAYING_STOPS
    aside = f"±{own:.2f} of its own, the rest because it stretches the doubt above" if stretched else ""
    tested = hypot(fact("reciprocity", "own_point").sd, fact("reciprocity", "own_misfit").sd)
    surer = Remedy("your own test of reciprocity at this time", tested)
    return Entry(_what(metered_s), stops, law.source, law.rests, _notes(question, metered_s), aside=aside, called="Reciprocity", remedy=surer)


def _what(metered_s: float) -> str:
    return f"Reciprocity at {SECOND.show(metered_s)} metered"


def _notes(question: ReciprocityFields, metered_s: float) -> tuple[Remark, ...]:
    if question.reciprocity_model in RIVALS:
        return (remark(Note.FILM_LAW),)
    times = [row.metered_s for row in question.own_points]
    if question.reciprocity_model == "none" or not times or min(times) <= metered_s <= max(times):
        return ()
    return (remark(Note.BEYOND_POINTS, time=SECOND.show(metered_s), first=SECOND.show(min(times)), last=SECOND.show(max(times))),)


class ReciprocityQuestion(ReciprocityFields):
    """A metered time."""

    metered_s: Annotated[float, METERED_S]


class ReciprocityAnswer(Answer):
    """How much longer; the exponent and the threshold only where the law has them."""

    needed_s: Annotated[Estimate, NEEDED_S]
    reciprocity_stops: Annotated[Estimate, RECIPROCITY_STOPS]
    exponent: Annotated[Estimate, EXPONENT_FACTOR] = Field(default_factory=Estimate)
    threshold_s: Annotated[Estimate, THRESHOLD_S] = Field(default_factory=Estimate)


def answer(question: ReciprocityQuestion) -> ReciprocityAnswer:
    """The correction by own points where there are some, else by our first guess."""
    law, metered_s = reciprocity_of(question), question.metered_s
    stops = law.estimate(metered_s)
    line = Line(what=_what(metered_s), amount=stops.value or 0.0, doubt=law.sd_stops(metered_s), unit="stops", source=law.source, rests=law.rests)
    value, low, high = (metered_s * 2 ** (amount or 0.0) for amount in (stops.value, stops.low, stops.high))
    return ReciprocityAnswer(
        needed_s=Estimate(value=value, low=low, high=high, percent=80),
        reciprocity_stops=stops,
        exponent=Estimate() if law.film else _exponent(law.doubt),
        threshold_s=Estimate() if law.film else Estimate(value=start_s(law.doubt)),
        ledger=(line,),
        notes=_notes(question, metered_s),
        sources=(law.source,),
    )


def _exponent(law: ReciprocityLaw) -> Estimate:
    """The exponent with its limits; near 1, where nothing lies below, they would begin above the exponent itself."""
    low, high = exponent_limits(law)
    return Estimate(value=law.exponent, low=min(low, law.exponent), high=high, percent=80)


RECIPROCITY: Final = Operation(
    name="exposure.reciprocity",
    version=2,
    asks="How much longer do I expose because the light is dim?",
    question=ReciprocityQuestion,
    answer=ReciprocityAnswer,
    compute=answer,
    examples={
        "a minute": {"metered_s": 60},
        "with an own test": {"metered_s": "2m", "own_points": "60 90"},
        "as a film": {"metered_s": "1:00", "reciprocity_model": "Schwarzschild 1900"},
    },
)
