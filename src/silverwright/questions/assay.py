"""How strong is the peroxide, by titration?"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot
from typing import Annotated, Any, Final, Literal

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Estimate, Line, Operation, Remark, refuse, remark
from silverwright.chemistry.assay import (
    PEROXIDE_PER_PERMANGANATE_FACTOR,
    PEROXIDE_PER_THIOSULPHATE_FACTOR,
    taken_for_ml,
    titrated_mol_per_l,
    titrated_sd_mol_per_l,
)
from silverwright.chemistry.strength import PEROXIDE
from silverwright.facts.load import Fact, fact, facts
from silverwright.notes import Note
from silverwright.questions.assayed import (
    AssayAnswer,
    BelievedFields,
    Missing,
    SampleFields,
    dilution_of,
    glass_missing,
    label_mol_per_l,
    label_notes,
    missing,
    of_label,
    sample_shares,
    share_of,
    strengths,
    too_much,
    volume_sd_ml,
)
from silverwright.questions.entry import says
from silverwright.questions.guides import guide
from silverwright.questions.ingredients import ROOM_CELSIUS
from silverwright.questions.strength import density_says, known_substance, told
from silverwright.units import MILLILITRE
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_chemistry import BLANK_ML, REAGENT_DOUBT_PERCENT, REAGENT_MOL_PER_L, TITRE_ML

Reagent = Literal["permanganate", "iodine"]
LOOK: Final = "the volumes, the dilution, and the strength of the reagent (permanganate of 0.1 N is 0.02 mol/L)"
FACTORS: Final[dict[Reagent, float]] = {"permanganate": PEROXIDE_PER_PERMANGANATE_FACTOR, "iodine": PEROXIDE_PER_THIOSULPHATE_FACTOR}
NORMAL_FROM: Final = 0.045  # our judgement: permanganate is sold as 0.02 mol/L; from here on a figure in N was read as moles
MOLES_PER_NORMAL: Final = 5  # arithmetic: five electrons for each permanganate
COARSE_SHARE: Final = 0.005  # our judgement: below half a percent nobody need read better


class TitrationFields(SampleFields):
    """A titration: which reagent, how much of it, and of what."""

    reagent: Annotated[
        Reagent,
        Choice(help="What was titrated with: permanganate itself, or thiosulphate after iodide.", example="permanganate", label="Titrated with"),
    ] = "permanganate"
    reagent_mol_per_l: Annotated[float, REAGENT_MOL_PER_L]
    reagent_doubt_percent: Annotated[float | None, REAGENT_DOUBT_PERCENT] = None
    titre_ml: Annotated[float, TITRE_ML]
    blank_ml: Annotated[float | None, BLANK_ML] = None
    sample_is: Annotated[
        Literal["fresh", "a used bath"],
        Choice(help="Whether sheets went through it: what they leave behind is titrated, too.", example="fresh", label="The sample is"),
    ] = "fresh"
    temperature_celsius: Annotated[float, TEMPERATURE_CELSIUS] = ROOM_CELSIUS

    @field_validator("blank_ml")
    @classmethod
    def _less_than_all(cls, blank_ml: float | None, seen: ValidationInfo) -> float | None:
        titre_ml = seen.data.get("titre_ml")
        if blank_ml is not None and titre_ml is not None and blank_ml > titre_ml:
            raise refuse(f"The blank took {blank_ml:g} mL, the sample {titre_ml:g} mL: one of the two is wrong, or there is no peroxide in it.")
        return blank_ml


class TitrationQuestion(BelievedFields, TitrationFields):
    """A titration, and the label that it is held against."""

    @field_validator("looked_again")
    @classmethod
    def _believable(cls, looked_again: bool, seen: ValidationInfo) -> bool:  # noqa: FBT001 (pydantic's hook)
        given = {**seen.data, "looked_again": looked_again}
        needed = (
            "sample_ml",
            "made_up_ml",
            "aliquot_ml",
            "reagent",
            "reagent_mol_per_l",
            "titre_ml",
            "blank_ml",
            "temperature_celsius",
            "stock_unit",
        )
        if all(name in given for name in needed) and (why := too_much(_found(given), given, given["temperature_celsius"], LOOK)):
            raise refuse(why, field="titre_ml")
        return looked_again


def _found(given: Mapping[str, Any]) -> float:
    """What the figures give, in moles in a litre."""
    dilution = given["made_up_ml"] / given["aliquot_ml"] if given["made_up_ml"] else 1.0
    taken_ml = max(0.0, given["titre_ml"] - (fact("assay", "blank_unknown").value if given["blank_ml"] is None else given["blank_ml"]))
    return titrated_mol_per_l(taken_ml, given["reagent_mol_per_l"], FACTORS[given["reagent"]], given["sample_ml"], dilution)


@dataclass(frozen=True, slots=True)
class Titration:
    """A titration with its doubts: what came out, what a millilitre means, readings in millilitres, and shares."""

    found_mol_per_l: float
    one_ml_mol_per_l: float
    blank_ml: float
    reading_sd_ml: float
    blank_sd_ml: float
    sample_share: float
    reagent_share: float

    @property
    def sd_mol_per_l(self) -> float:
        """All doubts together."""
        taken_sd_ml = hypot(self.reading_sd_ml, self.blank_sd_ml)
        return titrated_sd_mol_per_l(taken_sd_ml, self.one_ml_mol_per_l, self.found_mol_per_l, (self.sample_share, self.reagent_share))

    def share(self, sd_ml: float) -> float:
        """What a doubt in millilitres is as a share of what was found."""
        return share_of(sd_ml * self.one_ml_mol_per_l, self.found_mol_per_l)


def titration_of(question: TitrationQuestion) -> Titration:
    """Reading, blank, sample and reagent with their doubts."""
    factor = FACTORS[question.reagent]
    blank = fact("assay", "blank_unknown")
    drop_ml = fact("assay", "drop").sd
    doubt = fact("assay", "titrant_sd").value if question.reagent_doubt_percent is None else question.reagent_doubt_percent / 100
    return Titration(
        found_mol_per_l=_found(dict(question)),
        one_ml_mol_per_l=titrated_mol_per_l(1.0, question.reagent_mol_per_l, factor, question.sample_ml, dilution_of(question)),
        blank_ml=min(question.titre_ml, blank.value if question.blank_ml is None else question.blank_ml),
        reading_sd_ml=hypot(drop_ml, reading_sd_ml(question)),
        blank_sd_ml=blank.sd if question.blank_ml is None else drop_ml,
        sample_share=hypot(*sample_shares(question)),
        reagent_share=doubt,
    )


def reading_sd_ml(question: TitrationQuestion) -> float:
    """How far the burette, or the syringe in its place, may be off."""
    return volume_sd_ml(question.titre_ml, question.measured_with, "burette")


def answer(question: TitrationQuestion) -> AssayAnswer:
    """Moles of the reagent to moles of peroxide, back through the dilution, and every doubt with it."""
    celsius = question.temperature_celsius
    run = titration_of(question)
    used = question.sample_is == "a used bath"
    label = label_mol_per_l(dict(question), celsius)
    share = of_label(run.found_mol_per_l, run.sd_mol_per_l, label)
    how = guide(question.reagent)
    return AssayAnswer(
        **strengths(run.found_mol_per_l, run.sd_mol_per_l, celsius, at_most=used and question.reagent == "permanganate"),
        of_label_percent=share,
        expected_ml=_expected(question, label),
        good_for=how.good_for,
        needs=how.needs,
        steps=how.steps,
        ledger=_working(question, run),
        notes=(*how.cautions, *_notes(question, run), *label_notes(share)),
        sources=(_rule(question), says(*_facts(question)), density_says(known_substance(PEROXIDE)), says(facts("molar")[PEROXIDE])),
    )


def _rule(question: TitrationQuestion) -> str:
    return "usp31, assay" if question.reagent == "permanganate" else "bp2010, appendix X L"


def _facts(question: TitrationQuestion) -> list[Fact]:
    glass = "syringe" if question.measured_with in {None, "syringes and cylinders"} else "pipette_10"
    return [fact("assay", glass), fact("assay", "drop"), fact("assay", "titrant_sd")]


def _expected(question: TitrationQuestion, label: tuple[float, ...]) -> Estimate | None:
    if not label:
        return None
    factor, dilution = FACTORS[question.reagent], dilution_of(question)
    return told([taken_for_ml(one, question.reagent_mol_per_l, factor, question.sample_ml, dilution) for one in label])


def _working(question: TitrationQuestion, run: Titration) -> tuple[Line, ...]:
    """In grams in a litre: the reading, the blank, and what is multiplied."""
    molar = facts("molar")[PEROXIDE].value
    one_ml, found = run.one_ml_mol_per_l * molar, run.found_mol_per_l * molar
    drop, glass = says(fact("assay", "drop")), says(_facts(question)[0])
    blank = "as typed" if question.blank_ml is not None else says(fact("assay", "blank_unknown"))
    reagent = "as typed" if question.reagent_doubt_percent is not None else says(fact("assay", "titrant_sd"))
    rows = (
        (
            f"Reagent, {MILLILITRE.show(question.titre_ml)}",
            question.titre_ml * one_ml,
            run.reading_sd_ml * one_ml,
            f"{_rule(question)}; reading: {drop}",
        ),
        (f"Blank, {MILLILITRE.show(run.blank_ml)}", -run.blank_ml * one_ml, run.blank_sd_ml * one_ml, blank),
        ("Sample and dilution", 0.0, run.sample_share * found, glass),
        (f"Strength of the reagent, {question.reagent_mol_per_l:g} mol/L", 0.0, run.reagent_share * found, reagent),
    )
    return tuple(Line(what=what, amount=amount, doubt=doubt, unit="g/L", source=source, rests="own") for what, amount, doubt, source in rows)


def _notes(question: TitrationQuestion, run: Titration) -> tuple[Remark, ...]:
    notes = []
    if question.reagent == "permanganate" and question.reagent_mol_per_l >= NORMAL_FROM:
        given = question.reagent_mol_per_l
        notes.append(remark(Note.NORMALITY, given=f"{given:g}", fifth=f"{given / MOLES_PER_NORMAL:g}"))
    if question.sample_is == "a used bath":
        notes.append(remark(Note.USED_BATH_ASSAY, why=_used(question.reagent), side=_side(question.reagent)))
    reading = run.share(run.reading_sd_ml)
    if reading > max(COARSE_SHARE, run.sample_share, run.reagent_share):
        notes.append(remark(Note.READING_COARSE, taken=MILLILITRE.show(question.titre_ml)))
    whole = share_of(run.sd_mol_per_l, run.found_mol_per_l)
    unknown = [glass_missing(question)]
    if question.blank_ml is None:
        blank = fact("assay", "blank_unknown")
        unknown.append(Missing(f"the blank ({blank.value:g} mL is taken)", run.share(blank.sd)))
    return (*notes, *missing(unknown, whole))


def _used(reagent: Reagent) -> str:
    if reagent == "permanganate":
        return "gelatin, citrate and developer in it take permanganate as well, so that there is at most so much peroxide"
    return "silver in it falls out as silver iodide, which hides the end and takes iodide away"


def _side(reagent: Reagent) -> str:
    return "“not more than that”" if reagent == "permanganate" else "the end point was sharp"


TITRATION: Final = Operation(
    name="chemistry.titration",
    version=1,
    asks="How strong is the peroxide, by titration?",
    question=TitrationQuestion,
    answer=AssayAnswer,
    compute=answer,
    examples={
        "a bath of 9 % with permanganate": {
            "sample_ml": "1 mL",
            "made_up_ml": "100 mL",
            "aliquot_ml": "10 mL",
            "measured_with": "class B glass",
            "reagent_mol_per_l": 0.02,
            "titre_ml": 5.51,
            "blank_ml": 0.05,
            "stock_amount": 9,
            "stock_unit": "% w/w",
        },
        "with iodine, by syringes, no blank": {
            "reagent": "iodine",
            "sample_ml": "1 mL",
            "made_up_ml": "100 mL",
            "aliquot_ml": "10 mL",
            "reagent_mol_per_l": 0.1,
            "titre_ml": 4.9,
            "stock_amount": 9,
        },
        "a used bath": {
            "sample_ml": "1 mL",
            "made_up_ml": "100 mL",
            "aliquot_ml": "10 mL",
            "measured_with": "syringes and cylinders",
            "reagent_mol_per_l": 0.02,
            "titre_ml": 4.8,
            "blank_ml": 0.1,
            "sample_is": "a used bath",
        },
    },
)
