"""How acid is it, and how much alkali does it take?"""

from collections.abc import Sequence
from math import log
from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Remark, refuse, remark
from silverwright.chemistry.acidity import lost_protons
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.acidbath import AcidBathFields
from silverwright.questions.acidity import acidity_of, ions_of, water_pk
from silverwright.questions.entry import around
from silverwright.questions.ingredients import Ingredients, contents_of
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Acidity, Contents, IonAt
from silverwright.vocabulary_chemistry import (
    ACID_RESERVE,
    ACID_RESERVE_NAOH,
    ALKALI_RESERVE,
    CARBONATE_STEPS,
    MEASURED_PH,
    PH,
    PH_STEPS,
    RESERVE_STEPS,
)

CORROSIVE_BELOW: Final = 2.0  # our judgement: where the rule for extreme pH begins, taken here as a limit of caution
CORROSIVE_ABOVE: Final = 11.5  # our judgement: as above
ACID_BELOW: Final = 6.0  # our judgement: below it carbonate and sulphite give off most of their gas
STEPS_MMOL_PER_L: Final = (0.0, 5.0, 10.0, 20.0, 50.0, 100.0)  # our judgement: from a few sheets out of the developer to a bath that is done
GASES: Final = {
    "carbonate": "carbon dioxide, which foams and swells a closed bottle",
    "sulphite": "sulphur dioxide",
    "thiosulphate": "sulphur dioxide",
    "sulphide": "hydrogen sulphide, which kills",
    "hypochlorite": "chlorine",
}
TOGETHER: Final = (("peroxide", "sulphite"), ("peroxide", "thiosulphate"), ("peroxide", "permanganate"), ("permanganate", "citrate"))


class PhQuestion(AcidBathFields):
    """What is dissolved in how much, and what was read if something was."""

    ingredients: Annotated[Ingredients, Field(validate_default=True)] = ()
    carbonate_mmol_per_l: Annotated[tuple[float, ...], CARBONATE_STEPS] = ()
    measured_ph: Annotated[float | None, MEASURED_PH] = None
    measured_with: Annotated[
        Literal["strip", "meter"],
        Choice(help="What the pH was read with: a paper strip or a meter's glass electrode.", example="strip", label="Read with"),
    ] = "strip"

    @field_validator("ingredients")
    @classmethod
    def _something_in_it(cls, rows: Ingredients) -> Ingredients:
        if not rows:
            raise refuse("Nothing is in it yet: name what is dissolved, a line each, such as “citric acid; 5; % w/v”.")
        return rows


class PhAnswer(Answer):
    """The pH, what it takes to change it, and what carbonate from the developer does."""

    table: ClassVar[tuple[str, ...]] = ("carbonate_mmol_per_l", "then_ph", "reserve_left_mmol_per_l")
    ph: Annotated[Estimate, PH]
    acid_reserve_mmol_per_l: Annotated[Estimate, ACID_RESERVE]
    acid_reserve_naoh_g_per_100ml: Annotated[Estimate, ACID_RESERVE_NAOH]
    alkali_reserve_mmol_per_l: Annotated[Estimate, ALKALI_RESERVE]
    carbonate_mmol_per_l: Annotated[Sequence[float], CARBONATE_STEPS] = ()
    then_ph: Annotated[Sequence[float], PH_STEPS] = ()
    reserve_left_mmol_per_l: Annotated[Sequence[float], RESERVE_STEPS] = ()


def answer(question: PhQuestion) -> PhAnswer:
    """The pH at which all charges balance, and what the same balance asks for at pH 4 and pH 10."""
    contents, celsius = contents_of(question.ingredients, question.volume_ml, question.temperature_celsius), question.temperature_celsius
    acidity, ions = acidity_of(contents, celsius), ions_of(contents, celsius)
    assert acidity is not None  # noqa: S101 (the question refuses what is not known)
    assert ions is not None  # noqa: S101 (the same)
    steps = question.carbonate_mmol_per_l or STEPS_MMOL_PER_L
    then = [_with_carbonate(contents, mmol_per_l, celsius) for mmol_per_l in steps]
    naoh_g_per_mol = substances()["sodium_hydroxide"].molar_g_per_mol
    return PhAnswer(
        ph=around(acidity.ph, acidity.ph_sd),
        acid_reserve_mmol_per_l=_reserve(acidity.acid_reserve_mol_per_l, acidity.reserve_sd_mol_per_l, 1000),
        acid_reserve_naoh_g_per_100ml=_reserve(acidity.acid_reserve_mol_per_l, acidity.reserve_sd_mol_per_l, naoh_g_per_mol / 10),
        alkali_reserve_mmol_per_l=_reserve(acidity.alkali_reserve_mol_per_l, acidity.reserve_sd_mol_per_l, 1000),
        carbonate_mmol_per_l=steps,
        then_ph=tuple(one.ph for one in then),
        reserve_left_mmol_per_l=tuple(1000 * max(0.0, one.acid_reserve_mol_per_l) for one in then),
        ledger=_charges(ions, acidity, celsius),
        notes=(*cautions_of(ions, acidity), *_doubts(question, ions, acidity)),
        sources=_sources(ions),
    )


def cautions_of(ions: Sequence[IonAt], acidity: Acidity) -> tuple[Remark, ...]:
    """What such a solution does to eyes and skin, and which gas its acid drives out."""
    notes = []
    if acidity.ph - EIGHTY_PERCENT_SD * acidity.ph_sd <= CORROSIVE_BELOW or acidity.ph + EIGHTY_PERCENT_SD * acidity.ph_sd >= CORROSIVE_ABOVE:
        notes.append(remark(Note.PH_EXTREME, ph=f"{acidity.ph:.1f}"))
    if acidity.ph < ACID_BELOW:
        gassing = [one.name for one in ions if one.name in GASES and one.mol_per_l > 0]
        notes += [remark(Note.GAS_IN_ACID, salt=name.capitalize(), gas=GASES[name]) for name in gassing]
    return tuple(notes)


def _reserve(mol_per_l: float, sd_mol_per_l: float, factor: float) -> Estimate:
    """A reserve in other units; a solution that is past its end has none."""
    return around(factor * mol_per_l, factor * sd_mol_per_l, least=0.0) if mol_per_l > 0 else Estimate(value=0)


def _with_carbonate(contents: Contents, mmol_per_l: float, celsius: float) -> Acidity:
    """The same after so much sodium carbonate has come in, its carbon dioxide kept."""
    more_g = mmol_per_l / 1000 * contents.volume_ml / 1000 * substances()["sodium_carbonate"].molar_g_per_mol
    held = {**contents.mass_g, "sodium_carbonate": contents.mass_g.get("sodium_carbonate", 0.0) + more_g}
    found = acidity_of(Contents(contents.volume_ml, held), celsius)
    assert found is not None  # noqa: S101 (carbonate is known, and so is the rest)
    return found


def _charges(ions: Sequence[IonAt], acidity: Acidity, celsius: float) -> tuple[Line, ...]:
    """The balance at the pH that was found: what each carries, in millimoles of charge for a litre."""
    ph = acidity.ph
    own = {"Hydrogen ions": 10**-ph, "Hydroxide ions": -(10 ** (ph - water_pk(celsius)))}
    unsure = 1000 * log(10) * acidity.ph_sd
    lines = [
        Line(what=what, amount=1000 * mol_per_l, doubt=unsure * abs(mol_per_l), unit="mmol/L", source="the pH", rests="published")
        for what, mol_per_l in own.items()
    ]
    for one in ions:
        kind = fact("acid", f"{one.name}_pk1") if one.pk else None
        carried = one.mol_per_l * (one.charge - lost_protons(ph, one.pk))
        lines.append(
            Line(
                what=f"{one.name.capitalize()}, {1000 * one.mol_per_l:.4g} mmol/L",
                amount=1000 * carried,
                doubt=0,
                unit="mmol/L",
                source=kind.says if kind else "its charge",
                rests=kind.rests if kind else "published",
            )
        )
    return tuple(lines)


def _doubts(question: PhQuestion, ions: Sequence[IonAt], acidity: Acidity) -> list[Remark]:
    """What the balance does not know, and what was read beside it."""
    there = {one.name for one in ions if one.mol_per_l > 0}
    notes = [remark(Note.REACTS_UNCOUNTED, one=one.capitalize(), other=other) for one, other in TOGETHER if {one, other} <= there]
    if "peroxide" in there and acidity.ph > fact("acid", "reserve_ph").value:
        notes.append(remark(Note.PH_STABILISER))
    if acidity.rough:
        notes.append(remark(Note.PH_ROUGH))
    if question.measured_ph is None:
        return notes
    if question.measured_with == "strip" and "peroxide" in there:
        notes.append(remark(Note.PH_STRIP_PEROXIDE))
    reading = fact("acid", f"read_{question.measured_with}").sd
    reach = EIGHTY_PERCENT_SD * (acidity.ph_sd**2 + reading**2) ** 0.5
    if abs(question.measured_ph - acidity.ph) > reach:
        figures = {"low": acidity.ph - reach, "high": acidity.ph + reach, "read": question.measured_ph, "computed": acidity.ph}
        notes.append(remark(Note.PH_DISAGREES, **{name: f"{figure:.2f}" for name, figure in figures.items()}))
    return notes


def _sources(ions: Sequence[IonAt]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(fact("acid", f"{one.name}_pk1").says for one in ions if one.pk))


PH_OF: Final = Operation(
    name="chemistry.ph",
    version=1,
    asks="How acid is it, and how much alkali does it take?",
    question=PhQuestion,
    answer=PhAnswer,
    compute=answer,
    examples={
        "acid of a bleach": {"ingredients": "citric acid; 5; % w/v"},
        "after many sheets out of the developer": {"ingredients": "citric acid; 5; % w/v\nsodium carbonate; 0.05; mol/L"},
        "peroxide bleach read with a strip": {
            "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/v",
            "measured_ph": 3,
            "measured_with": "strip",
        },
        "a developer's alkali": {"ingredients": "sodium carbonate; 30; g/L\nsodium sulphite; 20; g/L", "carbonate_mmol_per_l": "0 50"},
    },
)
