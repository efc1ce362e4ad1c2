"""How do I test reciprocity on one sheet?"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, log2
from typing import Annotated, ClassVar, Final, Literal

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Question, Remark, refuse, remark
from silverwright.exposure.equalexposure import equal_time_s, exponent_found, loss_stops
from silverwright.exposure.reciprocity import effective_s
from silverwright.exposure.shutter import hand_doubt_stops, settable_by_hand_s, settable_on_shutter_s, true_f_number
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import says
from silverwright.questions.marks import aperture_marks, counted_steps, time_marks
from silverwright.questions.reciprocity import ReciprocityFields, first_guess, reciprocity_of
from silverwright.records import ReciprocityLaw, StripLoss
from silverwright.units import F_NUMBER, SECOND
from silverwright.vocabulary import APERTURE_F, DENSITY_SD, EXPOSURE_S
from silverwright.vocabulary_camera import (
    AFTER_SD,
    CHANGE_DENSITY,
    DENSITY_PER_STOP,
    LOST_STOPS,
    PLAN_F,
    PLAN_S,
    TEST_SMALLEST_F,
    TEST_WIDEST_F,
    TOLD_DENSITY,
    TOLD_EXPONENT,
    WHOLE_S,
)

SCALE_STOPS: Final = (-1.0, -0.5)  # our judgement: the long strips lose, so the scale lies below; a stop holds what a paper is likely to lose
TOLD: Final = (1.0, 1.05, 1.1, 1.2, 1.3)  # our judgement: from no loss to that of a film
LONG_S: Final = 3600  # our judgement: from an hour on other things become the limit
WHOLE_STOP: Final = 0.9  # our judgement: marks nearer to one another than a stop tell little more than one of them


class PlanFields(Question):
    """A time that makes a middle tone, the apertures of the lens, and how many strips."""

    exposure_s: Annotated[float, EXPOSURE_S]
    aperture_f: Annotated[float, APERTURE_F]
    widest_f: Annotated[float, TEST_WIDEST_F]
    smallest_f: Annotated[float, TEST_SMALLEST_F]
    strips: Annotated[Literal["2", "3", "4", "5", "6"], Choice(help="How many apertures.", example="4", label="Apertures")] = "4"
    density_per_stop: Annotated[float | None, DENSITY_PER_STOP] = None
    density_sd: Annotated[float | None, DENSITY_SD] = None
    process: Annotated[
        Literal["direct positive", "negative"], Choice(help="What becomes of the sheet.", example="direct positive", label="Process")
    ] = "direct positive"

    @field_validator("smallest_f")
    @classmethod
    def _smaller(cls, smallest_f: float, seen: ValidationInfo) -> float:
        widest_f = seen.data.get("widest_f")
        if widest_f is not None and len(whole_stops(widest_f, smallest_f)) <= 1:
            raise refuse(f"At least one stop smaller than the widest, {F_NUMBER.show(widest_f)}: the farther apart, the more the test tells.")
        return smallest_f


class PlanQuestion(ReciprocityFields, PlanFields):
    """The plan, with what is known of the paper already."""


class PlanAnswer(Answer):
    """What each strip gets, what it is likely to lose, and what its density would mean."""

    table: ClassVar[tuple[str, ...]] = ("strip_f", "strip_s", "strip_lost_stops", "strip_change_density")
    strip_f: Annotated[Sequence[float], PLAN_F]
    strip_s: Annotated[Sequence[float], PLAN_S]
    strip_lost_stops: Annotated[Sequence[float], LOST_STOPS]
    strip_change_density: Annotated[Sequence[float], CHANGE_DENSITY]
    whole_s: Annotated[Estimate, WHOLE_S]
    exponent_after_sd: Annotated[Estimate, AFTER_SD]
    told_exponent: Annotated[Sequence[float], TOLD_EXPONENT]
    told_density: Annotated[Sequence[float], TOLD_DENSITY]


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip of the plan: its aperture as marked, its time, and whether it belongs to the scale."""

    marked_f: float
    time_s: float
    scale: bool = False


def whole_stops(widest_f: float, smallest_f: float) -> list[float]:
    """The marks from the widest to the smallest aperture, about a stop apart."""
    found: list[tuple[float, float]] = []
    for mark, stops in sorted(aperture_marks().items(), key=lambda one: one[1]):
        if widest_f <= mark <= smallest_f and (not found or stops - found[-1][1] >= WHOLE_STOP):
            found.append((mark, stops))
    return [mark for mark, _ in found]


def process_sign(process: str) -> int:
    """Which way density goes with a loss of light: a direct positive comes out darker, a negative lighter."""
    return 1 if process == "direct positive" else -1


def answer(question: PlanQuestion) -> PlanAnswer:
    """Equal exposures by the meter from wide and short to small and long, with a scale of half a stop and a stop less."""
    strips = _strips(question)
    law = first_guess()
    per_stop = _per_stop(question)
    lost = [_lost(strip, strips, law) for strip in strips]
    sign = process_sign(question.process)
    longest = strips[-1]
    told = [_lost(longest, strips, ReciprocityLaw(law.threshold_s, exponent)) for exponent in TOLD]
    return PlanAnswer(
        strip_f=tuple(strip.marked_f for strip in strips),
        strip_s=tuple(strip.time_s for strip in strips),
        strip_lost_stops=tuple(lost),
        strip_change_density=tuple(sign * per_stop * one for one in lost),
        told_exponent=TOLD,
        told_density=tuple(sign * per_stop * one for one in told),
        exponent_after_sd=Estimate(value=_after_sd(question, strips)),
        whole_s=Estimate(value=sum(strip.time_s for strip in strips)),
        ledger=_working(question, strips),
        notes=_notes(strips),
        sources=(reciprocity_of(question).source, "maker2017, formula", says(fact("reciprocity", "density_per_stop"))),
    )


def _strips(question: PlanQuestion) -> list[Strip]:
    """The scale at the widest aperture and one strip for each aperture, shortest first."""
    marks = aperture_marks()
    found = whole_stops(question.widest_f, question.smallest_f)
    count = min(int(question.strips), len(found))
    chosen = [found[round(place * (len(found) - 1) / (count - 1))] for place in range(count)]
    needed = reciprocity_of(question).needed
    metered_s = effective_s(question.exposure_s, needed)
    own, widest = true_f_number(question.aperture_f, marks), true_f_number(chosen[0], marks)
    short_s = needed(equal_time_s(metered_s, own, widest))
    scale = [Strip(chosen[0], _countable_s(short_s * 2**step), scale=True) for step in SCALE_STOPS]
    equal = [Strip(mark, _countable_s(equal_time_s(short_s, widest, true_f_number(mark, marks)))) for mark in chosen]
    return sorted([*scale, *equal], key=lambda strip: (strip.marked_f, strip.time_s))


def _countable_s(time_s: float) -> float:
    """A time that a hand can count, or a shutter give where it is shorter; the sheet is read by what was really given."""
    if time_s >= fact("lens", "hand_from").value:
        return settable_by_hand_s(time_s, counted_steps())
    return settable_on_shutter_s(time_s, time_marks())


def _short_s(strips: Sequence[Strip]) -> float:
    """The time of the short strip that is no scale."""
    return next(strip.time_s for strip in strips if not strip.scale)


def _lost(strip: Strip, strips: Sequence[Strip], law: ReciprocityLaw) -> float:
    """What a strip loses against the short one by a law: time lost, and for the scale what it gets more or less."""
    short_s = _short_s(strips)
    lost = loss_stops(strip.time_s, law) - loss_stops(short_s, law)
    return lost - log2(strip.time_s / short_s) if strip.scale else lost


def _per_stop(question: PlanQuestion) -> float:
    return fact("reciprocity", "density_per_stop").value if question.density_per_stop is None else question.density_per_stop


def _density_stops(question: PlanQuestion) -> float:
    """The doubt of one density, in stops."""
    return (fact("curve", "density_sd").value if question.density_sd is None else question.density_sd) / _per_stop(question)


def strip_sd_stops(time_s: float, density_sd_stops: float) -> float:
    """Doubt of one strip: its density, its opening as marked, its count."""
    return hypot(density_sd_stops, fact("lens", "aperture_marking").sd, hand_doubt_stops(time_s, fact("lens", "hand_count").sd))


def _after_sd(question: PlanQuestion, strips: Sequence[Strip]) -> float:
    """How unsure the exponent would be after the test, if the strips came out as our first guess has it."""
    law, density, short_s = first_guess(), _density_stops(question), _short_s(strips)
    read = [
        StripLoss(strip.time_s, short_s, _lost(strip, strips, law), strip_sd_stops(strip.time_s, density))
        for strip in strips
        if strip.marked_f > strips[0].marked_f
    ]
    return exponent_found(read, law, strip_sd_stops(short_s, density), strips[-1].time_s).law.exponent_sd


def _working(question: PlanQuestion, strips: Sequence[Strip]) -> tuple[Line, ...]:
    """What the longest strip is likely to lose, and what leaves the reading of it in doubt."""
    law, longest, short_s = first_guess(), strips[-1], _short_s(strips)
    marking, hand = fact("lens", "aperture_marking"), fact("lens", "hand_count")
    counts = hypot(*(hand_doubt_stops(time_s, hand.sd) for time_s in (longest.time_s, short_s)))
    guess = f"The longest strip loses, by our first guess, {SECOND.show(longest.time_s)} at {F_NUMBER.show(longest.marked_f)}"
    return (
        Line(what=guess, amount=_lost(longest, strips, law), doubt=0.0, unit="stops", source="our judgement until you test it", rests="judgement"),
        Line(what="Two openings as marked", amount=0.0, doubt=hypot(marking.sd, marking.sd), unit="stops", source=marking.says, rests=marking.rests),
        Line(what="Two times counted by hand", amount=0.0, doubt=counts, unit="stops", source=hand.says, rests=hand.rests),
        Line(what="Two densities", amount=0.0, doubt=hypot(*[_density_stops(question)] * 2), unit="stops", source=_density_says(), rests="trade"),
    )


def _density_says() -> str:
    return says(fact("curve", "density_sd"), fact("reciprocity", "density_per_stop"))


def _notes(strips: Sequence[Strip]) -> tuple[Remark, ...]:
    notes = [remark(Note.ONE_STRIP_ONCE)]
    short_s, enough_s = strips[0].time_s, fact("reciprocity", "shortest_by_hand").value
    if short_s < enough_s:
        sd = hand_doubt_stops(short_s, fact("lens", "hand_count").sd)
        shown = {"time": SECOND.show(short_s), "aperture": F_NUMBER.show(strips[0].marked_f), "enough": SECOND.show(enough_s)}
        notes.append(remark(Note.SHORT_BY_HAND, sd=f"{sd:.1f}", **shown))
    if strips[-1].time_s >= LONG_S:
        notes.append(remark(Note.LIGHT_LONG, time=SECOND.show(strips[-1].time_s)))
    return tuple(notes)


RECIPROCITY_PLAN: Final = Operation(
    name="exposure.reciprocity-plan",
    version=1,
    asks="How do I test reciprocity on one sheet?",
    question=PlanQuestion,
    answer=PlanAnswer,
    compute=answer,
    examples={
        "from f/8 to f/45": {"exposure_s": 4, "aperture_f": "f/8", "widest_f": "f/8", "smallest_f": "f/45"},
        "a paper negative, three apertures": {
            "exposure_s": "30",
            "aperture_f": "f/22",
            "widest_f": "f/5.6",
            "smallest_f": "f/32",
            "strips": "3",
            "process": "negative",
        },
    },
)
