"""What does my water do in a bath?"""

from dataclasses import dataclass
from typing import Annotated, Final, Literal

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Remark, Rests, refuse, remark
from silverwright.chemistry.acidity import with_base
from silverwright.chemistry.silver import bound_by_chloride_mol_per_l
from silverwright.facts.load import Fact, fact, facts
from silverwright.notes import Note
from silverwright.questions.acidbath import AcidBathFields
from silverwright.questions.acidity import acidity_of_ions, ions_of
from silverwright.questions.entry import around
from silverwright.questions.ingredients import contents_of
from silverwright.questions.ph import cautions_of
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Acidity, IonAt
from silverwright.units import MILLIGRAM_PER_LITRE, MILLIMOL_PER_LITRE
from silverwright.vocabulary_chemistry import (
    ACID_TAKEN,
    CARBONATE_HARDNESS,
    CHLORIDE,
    HARDNESS,
    PH_DISTILLED,
    PH_HERE,
    RESERVE_TAKEN,
    SILVER_BOUND,
    SILVER_BOUND_PERCENT,
    SILVER_DISSOLVED,
)

TOLD_SHARE: Final = 0.08  # our judgement: what a year's mean of the waterworks is off on one day, as one standard deviation
HARD_FROM_MMOL_PER_L: Final = 1.5  # our judgement: from here on chalk shows in a carbonate developer
AS_TOLD: Final = "as told"
PURE_MG_PER_L: Final = 2.0  # our judgement: up to so much chloride a haze cannot be seen


class WaterQuestion(AcidBathFields):
    """Where the water comes from and what is known of it, the bath that is mixed with it, and the silver in that bath."""

    water_source: Annotated[
        Literal["tap", "well", "rain", "distilled"], Choice(help="Where the water comes from.", example="tap", label="Water from")
    ] = "tap"
    chloride_mg_per_l: Annotated[float | None, CHLORIDE] = None
    hardness_mmol_per_l: Annotated[float | None, HARDNESS] = None
    carbonate_hardness_mmol_per_l: Annotated[float | None, CARBONATE_HARDNESS] = None
    silver_mg_per_l: Annotated[float | None, SILVER_DISSOLVED] = None

    @field_validator("carbonate_hardness_mmol_per_l")
    @classmethod
    def _part_of_the_whole(cls, part: float | None, seen: ValidationInfo) -> float | None:
        whole = seen.data.get("hardness_mmol_per_l")
        if part is not None and whole is not None and part > whole:
            shown = f"{MILLIMOL_PER_LITRE.show(part)} of {MILLIMOL_PER_LITRE.show(whole)}"
            raise refuse(f"{shown} cannot be: the carbonate part is at most the whole hardness. Softened water holds more; then leave the whole out.")
        return part


class WaterAnswer(Answer):
    """What the water's chloride takes of the silver, and what its carbonate takes of the acid."""

    silver_bound_mg_per_l: Annotated[Estimate, SILVER_BOUND]
    silver_bound_percent: Annotated[Estimate, SILVER_BOUND_PERCENT]
    acid_taken_mmol_per_l: Annotated[Estimate, ACID_TAKEN]
    reserve_taken_percent: Annotated[Estimate, RESERVE_TAKEN]
    distilled_ph: Annotated[Estimate, PH_DISTILLED]
    here_ph: Annotated[Estimate, PH_HERE]


@dataclass(frozen=True, slots=True)
class Told:
    """A figure of the water: as it was told, or as such water usually has it, with the limits that hold it."""

    value: float
    low: float
    high: float
    source: str
    rests: Rests


def answer(question: WaterQuestion) -> WaterAnswer:
    """Silver chloride falls out until what is left fits its solubility product; each hydrogen carbonate takes one proton."""
    chloride = _told(question.chloride_mg_per_l, _usual(question, "chloride"))
    bound = [_bound_mg_per_l(question.silver_mg_per_l, one) for one in (chloride.low, chloride.value, chloride.high)]
    carbonate = _carbonate(question)
    taken = [2 * one for one in (carbonate.low, carbonate.value, carbonate.high)]
    plain, here = _mixed(question, taken)
    silver = question.silver_mg_per_l
    reserve = 1000 * plain.acid_reserve_mol_per_l if plain else 0.0
    return WaterAnswer(
        silver_bound_mg_per_l=_between(bound),
        silver_bound_percent=_between([100 * one / silver for one in bound]) if silver else Estimate(),
        acid_taken_mmol_per_l=_between(taken),
        reserve_taken_percent=_between([100 * one / reserve for one in taken]) if reserve > 0 else Estimate(),
        distilled_ph=around(plain.ph, plain.ph_sd) if plain else Estimate(),
        here_ph=here,
        ledger=_balance(silver, bound, chloride),
        notes=(*_cautions(question, plain), *_notes(question, chloride)),
        sources=tuple(dict.fromkeys(one for one in (chloride.source, carbonate.source, fact("silver", "chloride_pksp").says) if one != AS_TOLD)),
    )


def _balance(silver_mg_per_l: float | None, bound_mg_per_l: list[float], chloride: Told) -> tuple[Line, ...]:
    """The silver of the bath, and what the chloride leaves of it."""
    if silver_mg_per_l is None:
        return ()
    low, value, high = bound_mg_per_l
    doubt = (high - low) / (2 * EIGHTY_PERCENT_SD)
    what = f"Taken out by chloride, {MILLIGRAM_PER_LITRE.show(chloride.value)}"
    return (
        Line(what="Silver that is dissolved", amount=silver_mg_per_l, doubt=0, unit="mg/L", source=AS_TOLD, rests="own"),
        Line(what=what, amount=-value, doubt=doubt, unit="mg/L", source=chloride.source, rests=chloride.rests),
    )


def _usual(question: WaterQuestion, what: str) -> Fact:
    """What water from there usually has."""
    usual = facts("water")
    return usual[f"{question.water_source}_{what}"]


def _told(given: float | None, usual: Fact) -> Told:
    if given is None:
        return Told(usual.value, usual.low or 0.0, usual.high or usual.value, usual.says, usual.rests)
    off = EIGHTY_PERCENT_SD * TOLD_SHARE * given
    return Told(given, given - off, given + off, AS_TOLD, "own")


def _carbonate(question: WaterQuestion) -> Told:
    """The carbonate part of the hardness: as told, else as much of the whole as is usual."""
    if question.carbonate_hardness_mmol_per_l is not None:
        return _told(question.carbonate_hardness_mmol_per_l, fact("water", "tap_hardness"))
    whole, part = _told(question.hardness_mmol_per_l, _usual(question, "hardness")), fact("water", "carbonate_share")
    low, high = whole.low * (part.low or 0.0), whole.high * (part.high or 1.0)
    return Told(whole.value * part.value, low, high, part.says, part.rests)


def _bound_mg_per_l(silver_mg_per_l: float | None, chloride_mg_per_l: float) -> float:
    """Silver that so much chloride takes out; all that it can where nobody says how much silver there is."""
    silver_g_per_mol = substances()["silver"].molar_g_per_mol
    chloride_mol_per_l = chloride_mg_per_l / 1000 / fact("water", "chloride_mole").value
    if silver_mg_per_l is None:
        return 1000 * chloride_mol_per_l * silver_g_per_mol
    silver_mol_per_l = silver_mg_per_l / 1000 / silver_g_per_mol
    return 1000 * silver_g_per_mol * bound_by_chloride_mol_per_l(silver_mol_per_l, chloride_mol_per_l, fact("silver", "chloride_pksp").value)


def _mixed(question: WaterQuestion, taken_mmol_per_l: list[float]) -> tuple[Acidity | None, Estimate]:
    """The bath in distilled water, and its pH in this water: the carbonate's gas is gone, its alkali stays."""
    contents, celsius = contents_of(question.ingredients, question.volume_ml, question.temperature_celsius), question.temperature_celsius
    ions = ions_of(contents, celsius) if question.ingredients else None
    if not ions:
        return None, Estimate()
    plain, low, value, high = (acidity_of_ions(_and_water(ions, taken), celsius) for taken in (0.0, *taken_mmol_per_l))
    return plain, Estimate(value=value.ph, low=low.ph - EIGHTY_PERCENT_SD * low.ph_sd, high=high.ph + EIGHTY_PERCENT_SD * high.ph_sd, percent=80)


def _and_water(ions: tuple[IonAt, ...], taken_mmol_per_l: float) -> tuple[IonAt, ...]:
    return with_base(ions, taken_mmol_per_l / 1000)


def _cautions(question: WaterQuestion, plain: Acidity | None) -> tuple[Remark, ...]:
    ions = ions_of(contents_of(question.ingredients, question.volume_ml, question.temperature_celsius), question.temperature_celsius)
    return () if plain is None or ions is None else cautions_of(ions, plain)


def _notes(question: WaterQuestion, chloride: Told) -> list[Remark]:
    """What was not given, and what this water is good for."""
    notes = []
    if question.chloride_mg_per_l is None and question.water_source != "distilled":
        reach = f"{MILLIGRAM_PER_LITRE.show(chloride.low)} to {MILLIGRAM_PER_LITRE.show(chloride.high)}"
        notes.append(remark(Note.WATER_NOT_GIVEN, what="the water’s chloride", range=reach))
    if question.silver_mg_per_l is None:
        notes.append(remark(Note.BOUND_AT_MOST))
    if chloride.high > PURE_MG_PER_L:
        notes.append(remark(Note.WATER_FOR_BLEACH))
    hardness = _told(question.hardness_mmol_per_l, _usual(question, "hardness")).value
    if hardness >= HARD_FROM_MMOL_PER_L:
        notes.append(remark(Note.WATER_HARD, hardness=MILLIMOL_PER_LITRE.show(hardness)))
    if question.water_source != "distilled":
        notes.append(remark(Note.WATER_FOR_WASHING))
    return notes


def _between(three: list[float]) -> Estimate:
    """A middle figure with the limits that its own limits give."""
    low, value, high = three
    return Estimate(value=value, low=low, high=high, percent=80)


WATER: Final = Operation(
    name="chemistry.water",
    version=1,
    asks="What does my water do in a bath?",
    question=WaterQuestion,
    answer=WaterAnswer,
    compute=answer,
    examples={
        "tap water in a bleach": {"water_source": "tap", "ingredients": "citric acid; 5; % w/v", "silver_mg_per_l": 400},
        "figures of the waterworks": {"chloride_mg_per_l": 22, "hardness_mmol_per_l": "14 °dH", "carbonate_hardness_mmol_per_l": "11 °dH"},
        "distilled": {"water_source": "distilled", "silver_mg_per_l": 400},
    },
)
