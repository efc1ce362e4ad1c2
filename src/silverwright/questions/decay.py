"""How long does the peroxide keep its strength?"""

from dataclasses import dataclass
from math import exp
from typing import Annotated, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Question, Remark, refuse, remark
from silverwright.chemistry.decay import (
    days_until,
    lasts_days,
    loss_ln_per_days,
    loss_sd_ln_per_days,
    q10_factor,
    strength_after_percent,
    strength_after_sd_share,
    warmer_factor,
)
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import says
from silverwright.questions.guides import GOOD_FOR, NEEDS, TEST_STEPS, guide
from silverwright.questions.ingredients import ROOM_CELSIUS
from silverwright.vocabulary_chemistry import (
    AHEAD_DAYS,
    APART_DAYS,
    FIRST_ASSAY_PERCENT,
    FIRST_DOUBT_PERCENT,
    HALF_DAYS,
    KEPT_CELSIUS,
    LASTS_DAYS,
    LEAST_PERCENT,
    LOSS_PERCENT_PER_DAY,
    OTHER_CELSIUS,
    OTHER_LOSS_PERCENT_PER_DAY,
    SECOND_ASSAY_PERCENT,
    SECOND_DOUBT_PERCENT,
    STRENGTH_PERCENT_WW,
    WARMTH_FACTOR,
)

FAR_TIMES: Final = 2.0  # our judgement: a line through two points, drawn on twice as far as they lie apart
STRONGEST_PERCENT: Final = 100.0  # arithmetic: percent
LONGEST_DAYS: Final = 1e9  # arithmetic: no shelf stands so long; where it lasts longer, the end is left open


class DecayQuestion(Question):
    """Two assays, the days between them, and what one wants to know of it."""

    first_percent: Annotated[float, FIRST_ASSAY_PERCENT]
    first_doubt_percent: Annotated[float | None, FIRST_DOUBT_PERCENT] = None
    second_percent: Annotated[float, SECOND_ASSAY_PERCENT]
    second_doubt_percent: Annotated[float | None, SECOND_DOUBT_PERCENT] = None
    apart_days: Annotated[float, APART_DAYS]
    ahead_days: Annotated[float, AHEAD_DAYS] = 0
    least_percent: Annotated[float | None, LEAST_PERCENT] = None
    kept_celsius: Annotated[float | None, KEPT_CELSIUS] = None
    other_celsius: Annotated[float | None, OTHER_CELSIUS, Field(validate_default=True)] = None

    @field_validator("least_percent")
    @classmethod
    def _was_there(cls, least: float | None, seen: ValidationInfo) -> float | None:
        second = seen.data.get("second_percent")
        if least is not None and second is not None and least > second:
            raise refuse(f"At the second assay it had {second:g} %, less than the {least:g} % that is wanted: replenish it first, or want less.")
        return least


class DecayAnswer(Answer):
    """How fast it goes, how strong it is on a day, how long it lasts, and what another temperature would do."""

    strength_percent_ww: Annotated[Estimate, STRENGTH_PERCENT_WW]
    loss_percent_per_day: Annotated[Estimate, LOSS_PERCENT_PER_DAY]
    half_days: Annotated[Estimate, HALF_DAYS]
    lasts_days: Annotated[Estimate | None, LASTS_DAYS] = None
    warmth_factor: Annotated[Estimate | None, WARMTH_FACTOR] = None
    other_loss_percent_per_day: Annotated[Estimate | None, OTHER_LOSS_PERCENT_PER_DAY] = None
    good_for: Annotated[str, GOOD_FOR] = ""
    needs: Annotated[tuple[str, ...], NEEDS] = ()
    steps: Annotated[tuple[str, ...], TEST_STEPS] = ()


@dataclass(frozen=True, slots=True)
class Loss:
    """What the logarithm of the strength loses in a day, with its limits; nothing is gained, so that nothing lies below 0."""

    seen: float
    sd: float

    @property
    def ends(self) -> tuple[float, float, float]:
        """Value, lower and upper limit."""
        reach = EIGHTY_PERCENT_SD * self.sd
        return max(0.0, self.seen), max(0.0, self.seen - reach), max(0.0, self.seen + reach)


def shares_of(question: DecayQuestion) -> tuple[float, float]:
    """The doubts of both assays, as shares."""
    usual = fact("assay", "assay_sd").value
    given = (question.first_doubt_percent, question.second_doubt_percent)
    first, second = (usual if one is None else one / 100 for one in given)
    return first, second


def answer(question: DecayQuestion) -> DecayAnswer:
    """First order between two assays, with what both doubts leave open."""
    first_share, second_share = shares_of(question)
    seen = loss_ln_per_days(question.first_percent, question.second_percent, question.apart_days)
    loss = Loss(seen, loss_sd_ln_per_days(first_share, second_share, question.apart_days))
    value, low, high = loss.ends
    warmth = _warmth(question)
    how = guide("two assays")
    return DecayAnswer(
        strength_percent_ww=_ahead(question, loss),
        loss_percent_per_day=Estimate(value=_in_a_day(value), low=_in_a_day(low), high=_in_a_day(high), percent=80),
        half_days=_half(loss),
        lasts_days=_lasts(question, loss),
        warmth_factor=warmth,
        other_loss_percent_per_day=_elsewhere(loss, warmth),
        good_for=how.good_for,
        needs=how.needs,
        steps=how.steps,
        ledger=_working(question, loss),
        notes=(*how.cautions, *_notes(question, loss)),
        sources=("kotz2018, first order", says(fact("assay", "activation")), says(fact("assay", "loss_stock"))),
    )


def _in_a_day(loss: float) -> float:
    """As a share of the strength, in percent."""
    return 100 * (1 - exp(-loss))


def _ends(question: DecayQuestion, loss: Loss, ahead_days: float) -> tuple[float, float]:
    """Limits of the strength on a day: the line through both assays drawn on, and never above what the second one may have been."""
    first_share, second_share = shares_of(question)
    reach = EIGHTY_PERCENT_SD * strength_after_sd_share(first_share, second_share, ahead_days / question.apart_days)
    line = -loss.seen * ahead_days
    low = question.second_percent * exp(min(0.0, line) - reach)
    return low, question.second_percent * exp(min(EIGHTY_PERCENT_SD * second_share, line + reach))


def _ahead(question: DecayQuestion, loss: Loss) -> Estimate:
    """The strength on the day that was asked for."""
    value = strength_after_percent(question.second_percent, max(0.0, loss.seen), question.ahead_days)
    low, high = _ends(question, loss, question.ahead_days)
    return Estimate(value=value, low=min(value, low), high=max(value, min(STRONGEST_PERCENT, high)), percent=80)


def _half(loss: Loss) -> Estimate:
    """Days until half is gone: quick loss, few days; no loss, an open end."""
    value, few, many = (_bounded(lasts_days(2.0, 1.0, one)) for one in (loss.ends[0], loss.ends[2], loss.ends[1]))
    return Estimate(value=value, low=few, high=many, percent=80) if few is not None else Estimate()


def _bounded(days: float | None) -> float | None:
    return None if days is None or days > LONGEST_DAYS else days


def _lasts(question: DecayQuestion, loss: Loss) -> Estimate | None:
    """Until the strength, and either of its limits, falls to what is wanted; open where a loss is not shown."""
    wanted = question.least_percent
    if wanted is None:
        return None
    middle = _bounded(lasts_days(question.second_percent, wanted, loss.ends[0]))
    few = days_until(lambda days: _ends(question, loss, days)[0] <= wanted, LONGEST_DAYS)
    many = days_until(lambda days: _ends(question, loss, days)[1] <= wanted, LONGEST_DAYS) if loss.ends[1] > 0 else None
    if middle is None:
        return Estimate(low=few, percent=80) if few is not None else Estimate()
    return Estimate(value=middle, low=middle if few is None else min(few, middle), high=None if many is None else max(many, middle), percent=80)


def _warmth(question: DecayQuestion) -> Estimate | None:
    """How much faster it goes elsewhere: between the activation energies with a catalyst and without."""
    if question.other_celsius is None:
        return None
    energy = fact("assay", "activation")
    kept = ROOM_CELSIUS if question.kept_celsius is None else question.kept_celsius
    middle = (energy.value + (energy.low or energy.value)) / 2
    reach = EIGHTY_PERCENT_SD * energy.sd
    value, one, other = (warmer_factor(kept, question.other_celsius, kj) for kj in (middle, middle - reach, middle + reach))
    return Estimate(value=value, low=min(one, other), high=max(one, other), percent=80)


def _elsewhere(loss: Loss, warmth: Estimate | None) -> Estimate | None:
    if warmth is None or warmth.value is None:
        return None
    value, low, high = loss.ends
    return Estimate(
        value=_in_a_day(value * warmth.value),
        low=_in_a_day(low * (warmth.low or 0.0)),
        high=_in_a_day(high * (warmth.high or warmth.value)),
        percent=80,
    )


def _working(question: DecayQuestion, loss: Loss) -> tuple[Line, ...]:
    """What was lost between the assays, as a share, and what each of them leaves open."""
    first_share, second_share = shares_of(question)
    judged = says(fact("assay", "assay_sd"))
    lost = f"Lost from {question.first_percent:g} % to {question.second_percent:g} %, doubt of the first assay"
    rows = (
        (lost, 100 * loss.seen * question.apart_days, 100 * first_share, question.first_doubt_percent),
        ("Doubt of the second assay", 0.0, 100 * second_share, question.second_doubt_percent),
    )
    return tuple(
        Line(what=what, amount=amount, doubt=doubt, unit="%", source=judged if given is None else "as typed", rests="own")
        for what, amount, doubt, given in rows
    )


def _notes(question: DecayQuestion, loss: Loss) -> tuple[Remark, ...]:
    notes = [remark(Note.DECAY_OWN)]
    reach = EIGHTY_PERCENT_SD * loss.sd
    if loss.seen < -reach:
        notes.append(remark(Note.DECAY_RISES))
    elif loss.seen <= reach:
        notes.append(remark(Note.DECAY_NONE, yearly=f"{fact('assay', 'loss_stock').value:g}"))
    if question.ahead_days > FAR_TIMES * question.apart_days:
        notes.append(remark(Note.DECAY_FAR, times=f"{question.ahead_days / question.apart_days:.0f}"))
    if question.other_celsius is not None:
        energy = fact("assay", "activation")
        kept = ROOM_CELSIUS if question.kept_celsius is None else question.kept_celsius
        middle = (energy.value + (energy.low or energy.value)) / 2
        where = {"kept": f"{kept:g}", "other": f"{question.other_celsius:g}"}
        notes.append(
            remark(Note.DECAY_WARMTH, **where, energy=f"{middle:.0f} ± {energy.sd:.0f}", source=says(energy), q10=f"{q10_factor(kept, middle):.1f}")
        )
    given = {"the first assay": question.first_doubt_percent, "the second assay": question.second_doubt_percent}
    unsure = [which for which, doubt in given.items() if doubt is None]
    if unsure:
        notes.append(remark(Note.DECAY_DOUBT, which=" and ".join(unsure), taken=f"{100 * fact('assay', 'assay_sd').value:g}"))
    return tuple(notes)


DECAY: Final = Operation(
    name="chemistry.decay",
    version=1,
    asks="How long does the peroxide keep its strength?",
    question=DecayQuestion,
    answer=DecayAnswer,
    compute=answer,
    examples={
        "a bath in a vented bottle": {
            "first_percent": 9,
            "second_percent": 8.4,
            "first_doubt_percent": 1.5,
            "second_doubt_percent": 1.5,
            "apart_days": 10,
            "ahead_days": 7,
            "least_percent": 7,
            "kept_celsius": 20,
            "other_celsius": 8,
        },
        "a stock, no loss to be seen": {"first_percent": 35, "second_percent": 34.9, "apart_days": 60, "ahead_days": 60},
    },
)
