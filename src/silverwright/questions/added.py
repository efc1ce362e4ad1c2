"""What have I, if I add this to it?"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import Annotated, ClassVar, Final, Literal, get_args

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Plain
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Record, Remark, Rests, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.chemistry.density import solution_density_g_per_ml
from silverwright.chemistry.mixing import cylinder_for
from silverwright.chemistry.strength import mass_fraction
from silverwright.errors import OutOfRange
from silverwright.facts.load import Fact, fact, facts
from silverwright.notes import Note
from silverwright.questions.acidity import acidity_of, ions_of
from silverwright.questions.apart import kept_apart
from silverwright.questions.dilution import cylinders
from silverwright.questions.entry import around, says
from silverwright.questions.handling import before_opening
from silverwright.questions.ingredients import (
    ROOM_CELSIUS,
    BathFields,
    as_people_write,
    contents_of,
    density_of,
    dissolved,
    substance_or_unknown,
    tidy_unit,
)
from silverwright.questions.ph import cautions_of
from silverwright.questions.strength import density_says, insoluble
from silverwright.questions.substances import SUBSTANCE
from silverwright.records_chemistry import Acidity, Apart, Contents, Strength, StrengthUnit, Substance
from silverwright.units import GRAM
from silverwright.vocabulary_chemistry import (
    ADDED_AMOUNT,
    ADDED_STRENGTH,
    AFTER_G_PER_L,
    AFTER_HIGH_PERCENT,
    AFTER_LOW_PERCENT,
    AFTER_PERCENT,
    BECOMES_ML,
    BEFORE_PERCENT,
    PH_AFTER,
    PH_BEFORE,
)

AddedUnit = Literal["g", "mL", "5 mL spoons", "15 mL spoons"]
WATER: Final = "water"
SPOON_ML: Final = {"5 mL spoons": 5.0, "15 mL spoons": 15.0}  # arithmetic: what they are called after
PART: Final = "% of the whole"
SOURCE_OF_VOLUME: Final = "laliberte2009, supporting table"


def _tidy_added_unit(given: object) -> object:
    """`spoon`, `5 mL spoon`, `tsp` as the list of units writes them."""
    if not isinstance(given, str):
        return given
    written = "".join(given.lower().split()).removesuffix("s")
    known = {"".join(unit.lower().split()).removesuffix("s"): unit for unit in get_args(AddedUnit)}
    return {**known, "spoon": "5 mL spoons", "teaspoon": "5 mL spoons", "tablespoon": "15 mL spoons"}.get(written, given)


class AddedRow(Record):
    """One thing that is added: what, how much, and how strong where it is a stock."""

    substance: Annotated[str, SUBSTANCE]
    amount: Annotated[float, ADDED_AMOUNT]
    unit: Annotated[
        AddedUnit,
        Choice(help="Weighed, measured, or counted in spoons struck level.", example="5 mL spoons"),
        BeforeValidator(_tidy_added_unit),
    ] = "g"
    strength: Annotated[float | None, ADDED_STRENGTH] = None
    strength_unit: Annotated[
        StrengthUnit,
        Choice(help="How the strength of that stock is said.", example="% w/w", label="Unit of the strength"),
        BeforeValidator(tidy_unit),
    ] = "% w/w"


def _can_be_added(rows: tuple[AddedRow, ...]) -> tuple[AddedRow, ...]:
    for row in rows:
        if not row.substance:
            raise refuse("A line has no substance: name it, or leave the line out.")
        if row.strength is None:
            continue
        try:
            mass_fraction(Strength(row.strength, row.strength_unit), substance_or_unknown(row.substance), ROOM_CELSIUS)
        except OutOfRange as why:
            raise refuse(f"{row.substance}, {row.strength:g} {row.strength_unit}: it can be {why.allowed}. Look at the unit.") from None
    return rows


class AddedQuestion(BathFields):
    """What is in the vessel, and what is added to it."""

    added: Annotated[
        tuple[AddedRow, ...],
        Rows(
            row=AddedRow,
            help="What is added to it; of a stock its strength, too, and water by its name.",
            example="citric acid; 1; 5 mL spoons",
            label="Added",
        ),
        BeforeValidator(as_people_write),
        AfterValidator(_can_be_added),
        Field(min_length=1),
    ]

    @field_validator("added")
    @classmethod
    def _dissolves(cls, rows: tuple[AddedRow, ...], seen: ValidationInfo) -> tuple[AddedRow, ...]:
        data = seen.data
        if any(data.get(name) is None for name in ("volume_ml", "temperature_celsius", "ingredients")):
            return rows
        there = contents_of(data["ingredients"], data["volume_ml"], data["temperature_celsius"])
        if never := [clash for clash in clashes_of(there, rows) if clash.refused]:
            raise refuse(f"{clash_said(never[0])} It is not reckoned here, and it is not poured.")
        whole = whole_of(there, rows, data["temperature_celsius"])
        for key, mass_g in whole.mass_g.items():
            one = substance_or_unknown(key)
            if why := insoluble(one, mass_g / whole.whole_g if whole.whole_g else 0.0, data["temperature_celsius"]):
                raise refuse(why)
        return rows


def clashes_of(there: Contents, rows: Sequence[AddedRow]) -> tuple[Apart, ...]:
    """What must not meet: what is added with what is there, and with each other, the likeliest accident first."""
    added = {one.key: 1.0 for one in (substance_or_unknown(row.substance) for row in rows if row.amount > 0) if one.key != WATER}
    return (*kept_apart(there, Contents(0.0, added)), *kept_apart(Contents(0.0, added), Contents(0.0, added)))


def clash_said(clash: Apart) -> str:
    """`citric acid and sodium sulphite: sulphur dioxide. ...`"""
    both = f"{clash.one} and {clash.other}"
    said = f"{both} give off {clash.gas}. {clash.words}" if clash.gas else f"{both}: {clash.words}"
    return said[0].upper() + said[1:]


@dataclass(frozen=True, slots=True)
class Whole:
    """What is there in all: its mass, that of each dissolved substance, and how unsure each is."""

    whole_g: float
    mass_g: dict[str, float]
    sd_g: dict[str, float]
    celsius: float

    def contents(self) -> Contents:
        """The same with its volume."""
        fractions = [(substance_or_unknown(key), mass_g / self.whole_g) for key, mass_g in self.mass_g.items()] if self.whole_g > 0 else []
        return Contents(self.whole_g / solution_density_g_per_ml(fractions, self.celsius), self.mass_g)


def whole_of(contents: Contents, rows: Sequence[AddedRow], celsius: float) -> Whole:
    """Masses add up; crystals that dissolve lose their crystal water to the water."""
    held = dict(dissolved(contents).mass_g)
    whole_g = contents.volume_ml * density_of(contents, celsius) if contents.volume_ml > 0 else 0.0
    unsure: dict[str, float] = {}
    for row in rows:
        one = substance_or_unknown(row.substance)
        mass_g, sd_g, fraction = poured(row, one, celsius)
        whole_g += mass_g
        if one.key == WATER:
            continue
        key, share = one.anhydrous or one.key, fraction * (1 - one.crystal_water_share)
        held[key] = held.get(key, 0.0) + mass_g * share
        unsure[key] = hypot(unsure.get(key, 0.0), sd_g * share)
    return Whole(whole_g, held, unsure, celsius)


def poured(row: AddedRow, one: Substance, celsius: float) -> tuple[float, float, float]:
    """What a line brings in: its mass, how unsure that is, and which part of it is the substance. [g], [g], [1]"""
    fraction = 1.0 if row.strength is None or one.key == WATER else mass_fraction(Strength(row.strength, row.strength_unit), one, celsius)
    if row.unit == "g":
        return row.amount, min(row.amount, fact("settable", "scale_step").sd), fraction
    volume_ml = row.amount * SPOON_ML.get(row.unit, 1.0)
    spoon_share = fact("settable", "spoon_level").sd if row.unit in SPOON_ML else 0.0
    if one.state == "solid" and row.strength is None:
        bulk = bulk_of(one)
        return volume_ml * bulk.value, volume_ml * bulk.value * hypot(spoon_share, bulk.sd / bulk.value), fraction
    density = solution_density_g_per_ml([(one, 0.0 if one.key == WATER else fraction)], celsius)
    sd_ml = volume_ml * spoon_share if row.unit in SPOON_ML else min(volume_ml, cylinder_for(volume_ml, cylinders()).sd_ml)
    return volume_ml * density, sd_ml * density, fraction


def bulk_of(one: Substance) -> Fact:
    """What a millilitre of the loose powder weighs."""
    known = facts("settable")
    return known.get(f"bulk_{one.key}") or known["bulk_any"]


class AddedAnswer(Answer):
    """What is there afterwards: how much, how acid, and how strong in everything that is dissolved."""

    table: ClassVar[tuple[str, ...]] = ("held", "before_percent", "after_percent", "after_low_percent", "after_high_percent", "after_g_per_l")
    becomes_ml: Annotated[Estimate, BECOMES_ML]
    ph_before: Annotated[Estimate | None, PH_BEFORE] = None
    ph_after: Annotated[Estimate | None, PH_AFTER] = None
    held: Annotated[
        tuple[str, ...],
        Plain(help="Each substance that is dissolved in it.", example="hydrogen peroxide, citric acid", label="Dissolved"),
    ] = ()
    before_percent: Annotated[Sequence[float], BEFORE_PERCENT] = ()
    after_percent: Annotated[Sequence[float], AFTER_PERCENT] = ()
    after_low_percent: Annotated[Sequence[float], AFTER_LOW_PERCENT] = ()
    after_high_percent: Annotated[Sequence[float], AFTER_HIGH_PERCENT] = ()
    after_g_per_l: Annotated[Sequence[float], AFTER_G_PER_L] = ()


def answer(question: AddedQuestion) -> AddedAnswer:
    """Masses are added, and the volume follows from the density of the whole."""
    celsius = question.temperature_celsius
    there = contents_of(question.ingredients, question.volume_ml, celsius)
    first, whole = whole_of(there, (), celsius), whole_of(there, question.added, celsius)
    after = whole.contents()
    shares = {key: 100 * mass_g / whole.whole_g if whole.whole_g else 0.0 for key, mass_g in whole.mass_g.items()}
    reach = {key: EIGHTY_PERCENT_SD * 100 * whole.sd_g.get(key, 0.0) / whole.whole_g if whole.whole_g else 0.0 for key in shares}
    ph_before, ph_after = (acidity_of(one, celsius) if one.volume_ml > 0 else None for one in (there, after))
    return AddedAnswer(
        becomes_ml=around(after.volume_ml, hypot(*whole.sd_g.values()), least=0.0),
        ph_before=_ph(ph_before),
        ph_after=_ph(ph_after),
        held=tuple(substance_or_unknown(key).name for key in shares),
        before_percent=tuple(100 * first.mass_g.get(key, 0.0) / first.whole_g if first.whole_g else 0.0 for key in shares),
        after_percent=tuple(shares.values()),
        after_low_percent=tuple(max(0.0, share - reach[key]) for key, share in shares.items()),
        after_high_percent=tuple(min(100.0, share + reach[key]) for key, share in shares.items()),
        after_g_per_l=tuple(after.g_per_l(key) for key in shares),
        ledger=_working(question, first.whole_g, whole.whole_g),
        notes=_notes(question, after, ph_after),
        sources=_sources(question, after),
    )


def _ph(acidity: Acidity | None) -> Estimate | None:
    return None if acidity is None else around(acidity.ph, acidity.ph_sd)


def _working(question: AddedQuestion, bath_g: float, whole_g: float) -> tuple[Line, ...]:
    """What each thing weighs, as a part of the whole."""
    percent = 100 / whole_g if whole_g > 0 else 0.0
    source = f"its volume and density: {SOURCE_OF_VOLUME}"
    lines = [Line(what=f"What is there, {GRAM.show(bath_g)}", amount=bath_g * percent, doubt=0, unit=PART, source=source, rests="published")]
    for row in question.added:
        one = substance_or_unknown(row.substance)
        mass_g, sd_g, _ = poured(row, one, question.temperature_celsius)
        said = _said(row) if row.unit == "g" and row.strength is None else f"{_said(row)}: {GRAM.show(mass_g)}"
        rests: Rests = "own" if row.unit == "g" else "trade"
        lines.append(Line(what=said, amount=mass_g * percent, doubt=sd_g * percent, unit=PART, source=_rests_on(row, one), rests=rests))
    return tuple(lines)


def _said(row: AddedRow) -> str:
    """`citric acid, 1 × 5 mL spoon`, `hydrogen peroxide, 100 mL of 35 % w/w`."""
    spoon = row.unit.removesuffix("s") if row.amount == 1 else row.unit
    amount = f"{row.amount:g} × {spoon}" if row.unit in SPOON_ML else f"{row.amount:g} {row.unit}"
    return f"{row.substance}, {amount}" if row.strength is None else f"{row.substance}, {amount} of {row.strength:g} {row.strength_unit}"


def _rests_on(row: AddedRow, one: Substance) -> str:
    if row.unit == "g":
        return f"weighed; the scale: {says(fact('settable', 'scale_step'))}"
    if one.state == "solid" and row.strength is None:
        bulk = bulk_of(one)
        return f"{bulk.value:g} g in a millilitre of it loose, struck level: {bulk.says}"
    return f"measured; its density: {'laliberte2009, density of water' if one.key == WATER else density_says(one)}"


def _notes(question: AddedQuestion, after: Contents, acidity: Acidity | None) -> tuple[Remark, ...]:
    """What can hurt first, then what is doubtful."""
    opened = {row.substance: substance_or_unknown(row.substance) for row in question.added}
    stocks = [(opened[row.substance], poured(row, opened[row.substance], question.temperature_celsius)[2]) for row in question.added]
    notes = list(before_opening([stock for stock in stocks if stock[0].key != WATER]))
    there = contents_of(question.ingredients, question.volume_ml, question.temperature_celsius)
    notes += [remark(Note.THEY_MEET, words=clash_said(clash).removesuffix(".")) for clash in clashes_of(there, question.added) if clash.gas]
    ions = ions_of(after, question.temperature_celsius) if after.volume_ml > 0 else None
    if ions is not None and acidity is not None:
        notes += cautions_of(ions, acidity)
    loose = [row for row in question.added if row.unit != "g" and row.strength is None and substance_or_unknown(row.substance).state == "solid"]
    notes += [remark(Note.SPOON_ROUGH, what=_said(row), percent=_spoon_percent(row)) for row in loose]
    unknown = [key for key in after.mass_g if not substance_or_unknown(key).molar_g_per_mol]
    notes += [remark(Note.NOT_KNOWN_HERE, substance=key) for key in unknown]
    if acidity is None:
        notes.append(remark(Note.PH_NOT_COUNTED))
    return tuple(notes)


def _spoon_percent(row: AddedRow) -> str:
    """How far a spoonful may be off, for 8 of 10."""
    mass_g, sd_g, _ = poured(row, substance_or_unknown(row.substance), ROOM_CELSIUS)
    return f"{100 * EIGHTY_PERCENT_SD * sd_g / mass_g:.0f}" if mass_g > 0 else "0"


def _sources(question: AddedQuestion, after: Contents) -> tuple[str, ...]:
    """Who says how dense it is, and how much a spoon holds."""
    dense = dict.fromkeys(density_says(substance_or_unknown(key)) for key in after.mass_g)
    spoons = [bulk_of(substance_or_unknown(row.substance)).says for row in question.added if row.unit in SPOON_ML]
    return tuple(dict.fromkeys((SOURCE_OF_VOLUME, *dense, *spoons)))


ADDED: Final = Operation(
    name="chemistry.added",
    version=1,
    asks="What have I, if I add this to it?",
    question=AddedQuestion,
    answer=AddedAnswer,
    compute=answer,
    examples={
        "a spoon of citric acid into a used litre": {
            "volume_ml": "1 L",
            "ingredients": [
                {"substance": "hydrogen peroxide", "amount": 9, "unit": "% w/w"},
                {"substance": "citric acid", "amount": 5, "unit": "% w/w"},
            ],
            "added": [{"substance": "citric acid", "amount": 1, "unit": "5 mL spoons"}],
        },
        "stock and acid, weighed and measured": {
            "volume_ml": 900,
            "ingredients": [{"substance": "hydrogen peroxide", "amount": 7.5, "unit": "% w/w"}],
            "added": [
                {"substance": "hydrogen peroxide", "amount": 60, "unit": "mL", "strength": 35, "strength_unit": "% w/w"},
                {"substance": "citric acid", "amount": 20, "unit": "g"},
            ],
        },
        "topped up with water": {
            "volume_ml": 850,
            "ingredients": [{"substance": "citric acid", "amount": 50, "unit": "g/L"}],
            "added": [{"substance": "water", "amount": 150, "unit": "mL"}],
        },
    },
)
