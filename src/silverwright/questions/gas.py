"""How strong is the peroxide, by the gas that it gives off?"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot, sqrt
from typing import Annotated, Any, Final, Literal

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Estimate, Line, Operation, Remark, refuse, remark
from silverwright.chemistry.gas import dissolved_most_mol, gas_ml, oxygen_mol, oxygen_sd_share, peroxide_mol_per_l, vapour_pressure_kpa
from silverwright.chemistry.mixing import cylinder_for
from silverwright.chemistry.strength import PEROXIDE
from silverwright.facts.load import fact, facts
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
)
from silverwright.questions.dilution import cylinders
from silverwright.questions.entry import around, says
from silverwright.questions.guides import guide
from silverwright.questions.ingredients import ROOM_CELSIUS
from silverwright.questions.strength import density_says, known_substance, told
from silverwright.units import KILOPASCAL, MILLILITRE
from silverwright.vocabulary_chemistry import GAS_ML, LIQUID_ML, PRESSURE_KPA, VAPOUR_KPA
from silverwright.vocabulary_chemistry import ROOM_CELSIUS as GAS_CELSIUS

LOOK: Final = "the sample, its dilution, the volume of the gas, and whether other gas came (fizzing soda, air that grew warm)"
THERMOMETER_SD: Final = 0.5  # our judgement: a darkroom thermometer, and gas as warm as the water below it
TAKEN_SD: Final = 4.0  # our judgement: rooms where nobody looked
PRESSURE_READ_SD: Final = 0.3  # our judgement: a barometer or a weather station nearby, brought to one's own height
_FROM_ZERO: Final = sqrt(3)  # arithmetic: the same from its end, where the middle was not counted
_RECTANGLE: Final = sqrt(12)  # arithmetic: width of a rectangle over its standard deviation


class GasFields(SampleFields):
    """Gas over water, the sample that gave it off, temperature and pressure."""

    gas_ml: Annotated[float, GAS_ML]
    temperature_celsius: Annotated[float | None, GAS_CELSIUS] = None
    liquid_ml: Annotated[float | None, LIQUID_ML] = None
    pressure_kpa: Annotated[float | None, PRESSURE_KPA] = None
    sample_is: Annotated[
        Literal["fresh", "a used bath"],
        Choice(help="Whether sheets went through it: what they leave behind foams and slows the yeast.", example="fresh", label="The sample is"),
    ] = "fresh"


class GasQuestion(BelievedFields, GasFields):
    """Gas over water, and the label that it is held against."""

    @field_validator("looked_again")
    @classmethod
    def _believable(cls, looked_again: bool, seen: ValidationInfo) -> bool:  # noqa: FBT001 (pydantic's hook)
        given = {**seen.data, "looked_again": looked_again}
        needed = ("sample_ml", "made_up_ml", "aliquot_ml", "gas_ml", "liquid_ml", "pressure_kpa", "temperature_celsius", "stock_unit")
        if all(name in given for name in needed) and (why := too_much(_found(given), given, _warm(given["temperature_celsius"]), LOOK)):
            raise refuse(why, field="gas_ml")
        return looked_again


class GasAnswer(AssayAnswer):
    """The strength by the gas, and which part of the pressure was vapour."""

    vapour_kpa: Annotated[Estimate, VAPOUR_KPA]


def _warm(celsius: float | None) -> float:
    return ROOM_CELSIUS if celsius is None else celsius


def _pressure_kpa(given: Mapping[str, Any]) -> float:
    usual = fact("assay", "pressure_usual").value
    return usual if given["pressure_kpa"] is None else float(given["pressure_kpa"])


def _oxygen_mol(given: Mapping[str, Any]) -> float:
    """What stands in the cylinder, and half of what may have stayed in the liquid, where somebody said how much that was."""
    free = oxygen_mol(given["gas_ml"], _warm(given["temperature_celsius"]), _pressure_kpa(given))
    stays = 0.0 if given["liquid_ml"] is None else _stays_mol(given["liquid_ml"], given)
    return free + min(stays, free) / 2


def _stays_mol(liquid_ml: float, given: Mapping[str, Any]) -> float:
    return dissolved_most_mol(liquid_ml, fact("assay", "oxygen_dissolved").value, _pressure_kpa(given))


def _found(given: Mapping[str, Any]) -> float:
    """What the figures give, in moles in a litre of the bottle."""
    dilution = given["made_up_ml"] / given["aliquot_ml"] if given["made_up_ml"] else 1.0
    return peroxide_mol_per_l(_oxygen_mol(given), given["sample_ml"]) * dilution


@dataclass(frozen=True, slots=True)
class GasRun:
    """What came out, and each doubt as a share of it."""

    found_mol_per_l: float
    reading_share: float
    pressure_share: float
    warmth_share: float
    liquid_share: float
    sample_share: float

    @property
    def share(self) -> float:
        """All doubts together."""
        return hypot(self.reading_share, self.pressure_share, self.warmth_share, self.liquid_share, self.sample_share)


def run_of(question: GasQuestion) -> GasRun:
    """The gas with its doubts."""
    given = dict(question)
    celsius, pressure = _warm(question.temperature_celsius), _pressure_kpa(given)
    liquid_ml = fact("assay", "liquid_taken").value if question.liquid_ml is None else question.liquid_ml
    free = oxygen_mol(question.gas_ml, celsius, pressure)
    return GasRun(
        found_mol_per_l=_found(given),
        reading_share=share_of(cylinder_for(question.gas_ml, cylinders()).sd_ml, question.gas_ml),
        pressure_share=oxygen_sd_share(celsius, 0.0, pressure, _pressure_sd(question)),
        warmth_share=oxygen_sd_share(celsius, _celsius_sd(question), pressure, 0.0),
        liquid_share=share_of(_stays_mol(liquid_ml, given), free) / (_FROM_ZERO if question.liquid_ml is None else _RECTANGLE),
        sample_share=hypot(*sample_shares(question)),
    )


def _pressure_sd(question: GasQuestion) -> float:
    return fact("assay", "pressure_usual").sd if question.pressure_kpa is None else PRESSURE_READ_SD


def _celsius_sd(question: GasQuestion) -> float:
    return TAKEN_SD if question.temperature_celsius is None else THERMOMETER_SD


def answer(question: GasQuestion) -> GasAnswer:
    """Dry oxygen by the gas law, two peroxides for each oxygen, back through the dilution, and every doubt with it."""
    celsius, pressure = _warm(question.temperature_celsius), _pressure_kpa(dict(question))
    run = run_of(question)
    sd = max(run.found_mol_per_l * run.share, _least_sd(question))
    label = label_mol_per_l(dict(question), celsius)
    share = of_label(run.found_mol_per_l, sd, label)
    tested_ml = question.sample_ml / dilution_of(question)
    slope = vapour_pressure_kpa(celsius + 0.5) - vapour_pressure_kpa(celsius - 0.5)
    how = guide("gas")
    return GasAnswer(
        **strengths(run.found_mol_per_l, sd, celsius),
        of_label_percent=share,
        expected_ml=told([gas_ml(one, tested_ml, celsius, pressure) for one in label]) if label else None,
        vapour_kpa=around(vapour_pressure_kpa(celsius), slope * _celsius_sd(question), least=0.0),
        good_for=how.good_for,
        needs=how.needs,
        steps=how.steps,
        ledger=_working(question, run),
        notes=(*how.cautions, *_notes(question, run), *label_notes(share)),
        sources=("bp2010, assay", "iapws1992, vapour pressure", says(fact("assay", "oxygen_dissolved")), density_says(known_substance(PEROXIDE))),
    )


def _least_sd(question: GasQuestion) -> float:
    """What half a mark of the cylinder means, where hardly any gas came."""
    sd_ml = cylinder_for(question.gas_ml, cylinders()).sd_ml
    free = oxygen_mol(sd_ml, _warm(question.temperature_celsius), _pressure_kpa(dict(question)))
    return peroxide_mol_per_l(free, question.sample_ml) * dilution_of(question)


def _working(question: GasQuestion, run: GasRun) -> tuple[Line, ...]:
    """In grams in a litre of the bottle."""
    given = dict(question)
    molar = facts("molar")[PEROXIDE].value
    whole = run.found_mol_per_l * molar
    free = oxygen_mol(question.gas_ml, _warm(question.temperature_celsius), _pressure_kpa(given))
    in_tube = peroxide_mol_per_l(free, question.sample_ml) * dilution_of(question) * molar
    usual, oxygen = says(fact("assay", "pressure_usual")), says(fact("assay", "oxygen_dissolved"))
    cylinder = says(facts("settable")["cylinder_100"])
    at = KILOPASCAL.show(_pressure_kpa(given))
    rows = (
        (f"Gas, {MILLILITRE.show(question.gas_ml)}", in_tube, run.reading_share * whole, f"as read; its doubt: {cylinder}"),
        ("Stayed in the liquid", whole - in_tube, run.liquid_share * whole, oxygen),
        (f"Air pressure, {at}", 0.0, run.pressure_share * whole, usual if question.pressure_kpa is None else "as typed; its doubt: our judgement"),
        (f"Temperature, {_warm(question.temperature_celsius):g} °C", 0.0, run.warmth_share * whole, "iapws1992; its doubt: our judgement"),
        ("Sample and dilution", 0.0, run.sample_share * whole, says(fact("assay", "syringe"))),
    )
    return tuple(Line(what=what, amount=amount, doubt=doubt, unit="g/L", source=source, rests="own") for what, amount, doubt, source in rows)


def _notes(question: GasQuestion, run: GasRun) -> tuple[Remark, ...]:
    celsius, pressure = _warm(question.temperature_celsius), _pressure_kpa(dict(question))
    unknown = [glass_missing(question)]
    if question.temperature_celsius is None:
        unknown.append(Missing(f"the temperature ({ROOM_CELSIUS:g} °C is taken)", run.warmth_share))
    if question.pressure_kpa is None:
        known = oxygen_sd_share(celsius, 0.0, pressure, PRESSURE_READ_SD)
        adds = sqrt(max(0.0, run.pressure_share**2 - known**2))
        unknown.append(Missing(f"the pressure of the air ({pressure:g} kPa is taken, a place near the sea)", adds))
    notes = []
    if question.sample_is == "a used bath":
        why, side = "it foams, and its acid slows the yeast, so that gas is lost or does not come", "“at least that”"
        notes.append(remark(Note.USED_BATH_ASSAY, why=why, side=side))
    return (*notes, *missing(unknown, run.share))


GAS: Final = Operation(
    name="chemistry.gas",
    version=1,
    asks="How strong is the peroxide, by the gas that it gives off?",
    question=GasQuestion,
    answer=GasAnswer,
    compute=answer,
    examples={
        "1 mL of a 9 % bath": {
            "sample_ml": 1,
            "gas_ml": 33.6,
            "temperature_celsius": 20,
            "pressure_kpa": 101.325,
            "measured_with": "syringes and cylinders",
            "stock_amount": 9,
            "stock_unit": "% w/w",
        },
        "a strong stock, diluted one in ten, nothing else known": {"sample_ml": 5, "made_up_ml": 50, "aliquot_ml": 2, "gas_ml": 28},
        "with what stays in the liquid": {"sample_ml": 1, "gas_ml": 32.9, "liquid_ml": 20, "temperature_celsius": 20, "pressure_kpa": 101.325},
    },
)
