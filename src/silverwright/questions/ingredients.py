"""What is dissolved in a bottle or a bath, as somebody writes it down."""

import re
from collections.abc import Sequence
from math import isfinite
from typing import Annotated, Final, Literal, cast, get_args

from pydantic import AfterValidator, BeforeValidator, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Question, Record, refuse
from silverwright.asking.rows import Rows
from silverwright.chemistry.density import fractions_in, solution_density_g_per_ml
from silverwright.chemistry.strength import PEROXIDE, anhydrous_g, grams_per_litre, mass_fraction
from silverwright.errors import OutOfRange
from silverwright.questions.substances import SUBSTANCE, substance, substances
from silverwright.records_chemistry import Contents, Strength, StrengthUnit, Substance
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_chemistry import INGREDIENT_AMOUNT, VOLUME_ML

IngredientUnit = Literal["% w/w", "% w/v", "g/L", "mol/L", "volumes", "g", "mL"]
ROOM_CELSIUS: Final = 20.0  # our judgement: where nobody measured, a room
_ROUNDS: Final = 40  # our judgement: each round leaves less than half of the error, so that fewer reach the last digit of a double
_SAME: Final = 1e-15  # arithmetic: as near as doubles lie
_WHOLE: Final = 1 + 1e-9  # arithmetic: what doubles leave of a whole


def tidy_unit(given: object) -> object:
    """`%w/w`, `g/l`, `ML`, `vol` as the list of units writes them; what is not known there is passed on."""
    if not isinstance(given, str):
        return given
    written = "".join(given.lower().split())
    plain = {"".join(unit.lower().split()): unit for unit in (*get_args(IngredientUnit), "%, label unclear")}
    return {**plain, "vol": "volumes", "m": "mol/L", "w/w": "% w/w", "w/v": "% w/v"}.get(written, given)


class IngredientRow(Record):
    """One ingredient: what, how much, and how that is said."""

    substance: Annotated[str, SUBSTANCE]
    amount: Annotated[float, INGREDIENT_AMOUNT]
    unit: Annotated[
        IngredientUnit,
        Choice(help="How the amount is said: a strength in the whole of it, or grams or millilitres in the volume.", example="% w/w"),
        BeforeValidator(tidy_unit),
    ] = "g"


_AS_PEOPLE_WRITE: Final = re.compile(
    r"(?P<what>[^,;\t\d]*[^,;\t\d\s])\s+(?P<amount>\d[\d.,]*)\s*(?P<unit>%\s*w/w|%\s*w/v|g/l|mol/l|vol(?:umes)?|g|ml|(?:(?:5|15)\s*ml\s*)?spoons?)"
    r"(?:\s+(?:of\s+)?(?P<strength>\d[\d.,]*)\s*(?P<strength_unit>%\s*w/w|%\s*w/v|g/l|mol/l|vol(?:umes)?))?",
    re.IGNORECASE,
)


def as_people_write(given: object) -> object:
    """`citric acid 50 g`, `hydrogen peroxide 9 % w/w` and `hydrogen peroxide 60 mL of 35 % w/w` with the cells apart, as a table has them."""
    if not isinstance(given, str):
        return given
    lines = given.replace("\r", "\n").split("\n")
    found = [_AS_PEOPLE_WRITE.fullmatch(line.strip()) for line in lines]
    if not any(found):
        return given
    cells = ["; ".join(part for part in match.groups() if part) if match else "" for match in found]
    apart = [cell or (line if ";" in line else line.replace(",", ";")) for cell, line in zip(cells, lines, strict=True)]
    return "\n".join(apart)


INGREDIENTS: Final = Rows(
    row=IngredientRow,
    help="What is dissolved in it; the rest of the volume is water.",
    example="hydrogen peroxide; 9; % w/w",
)


def _each_once(rows: tuple[IngredientRow, ...]) -> tuple[IngredientRow, ...]:
    names = [key_of(row.substance) for row in rows]
    for row in rows:
        if names.count(key_of(row.substance)) > 1:
            raise refuse(f"“{row.substance}” stands there twice: put both amounts into one line.")
        if key_of(row.substance) == "water":
            raise refuse("Water is what is left of the volume: leave its line out.")
        if not row.substance:
            raise refuse("A line has no substance: name it, or leave the line out.")
    return rows


Ingredients = Annotated[tuple[IngredientRow, ...], INGREDIENTS, BeforeValidator(as_people_write), AfterValidator(_each_once)]


class BathFields(Question):
    """A vessel's volume, its temperature, and what is dissolved in it."""

    volume_ml: Annotated[float, VOLUME_ML] = 1000
    temperature_celsius: Annotated[float, TEMPERATURE_CELSIUS] = ROOM_CELSIUS
    ingredients: Ingredients = ()

    @field_validator("ingredients")
    @classmethod
    def _has_room(cls, rows: tuple[IngredientRow, ...], seen: ValidationInfo) -> tuple[IngredientRow, ...]:
        volume_ml, celsius = seen.data.get("volume_ml"), seen.data.get("temperature_celsius")
        if volume_ml is not None and celsius is not None and (why := impossible(rows, volume_ml, celsius)):
            raise refuse(why)
        return rows


def key_of(name: str) -> str:
    """The key of a substance; one that is not known here is kept under its own name."""
    known = substance(name)
    return known.key if known else " ".join(name.split())


def substance_or_unknown(name: str) -> Substance:
    """The substance of that key or name, or one of which nothing but the name is known."""
    return substances().get(name) or substance(name) or Substance(key=key_of(name), name=name, formula="", molar_g_per_mol=0.0)


def impossible(rows: Sequence[IngredientRow], volume_ml: float, celsius: float) -> str:
    """Why such a solution cannot be, in a sentence; nothing when it can."""
    if not volume_ml > 0:
        return "A volume above 0 is needed for what is dissolved."
    for row in rows:
        if why := _unsayable(row) or _row_too_strong(row, volume_ml, celsius):
            return why
    try:
        contents_of(rows, volume_ml, celsius)
    except OutOfRange:
        return "Together that is more than the volume holds: no room is left for water. Look at amounts and units."
    return ""


def contents_of(rows: Sequence[IngredientRow], volume_ml: float, celsius: float = ROOM_CELSIUS) -> Contents:
    """The mass of each substance in so much of a solution; those that are not known here stay under the name that was typed."""
    known = [substance_or_unknown(row.substance) for row in rows]
    density = 1.0
    masses: list[float] = []
    for _ in range(_ROUNDS):
        masses = [_mass_g(row, one, volume_ml, density, celsius) for row, one in zip(rows, known, strict=True)]
        whole_g = volume_ml * density
        fractions = [(one, mass_g / whole_g) for one, mass_g in zip(known, masses, strict=True)]
        spread = sum(fraction for _, fraction in fractions)
        fractions = fractions if spread <= _WHOLE else [(one, fraction / spread) for one, fraction in fractions]
        before, density = density, solution_density_g_per_ml(fractions, celsius)
        if abs(density - before) <= _SAME * density:
            break
    if sum(masses) > volume_ml * density * _WHOLE or not isfinite(density):
        raise OutOfRange("what is dissolved, in grams", sum(masses), f"at most {volume_ml * density:.4g}")
    held: dict[str, float] = {}
    for one, mass_g in zip(known, masses, strict=True):
        held[one.key] = held.get(one.key, 0.0) + mass_g
    return Contents(volume_ml, held)


def ingredients_of(contents: Contents, celsius: float = ROOM_CELSIUS) -> tuple[IngredientRow, ...]:
    """The same as lines in % w/w, the strongest first."""
    masses = [(substance_or_unknown(key), mass_g) for key, mass_g in contents.mass_g.items()]
    fractions = fractions_in(masses, contents.volume_ml, celsius) if contents.volume_ml > 0 else ()
    rows = [IngredientRow(substance=one.name, amount=100 * part, unit="% w/w") for (one, _), part in zip(masses, fractions, strict=False)]
    return tuple(sorted(rows, key=lambda row: -row.amount))


def density_of(contents: Contents, celsius: float = ROOM_CELSIUS) -> float:
    """How dense it is, in grams per millilitre."""
    masses = [(substance_or_unknown(key), mass_g) for key, mass_g in contents.mass_g.items()]
    fractions = fractions_in(masses, contents.volume_ml, celsius)
    return solution_density_g_per_ml([(one, part) for (one, _), part in zip(masses, fractions, strict=True)], celsius)


def dissolved(contents: Contents) -> Contents:
    """The same as it is in water, where crystals have lost their crystal water and are what they are without it."""
    held: dict[str, float] = {}
    for key, mass_g in contents.mass_g.items():
        one = substance_or_unknown(key)
        held[one.anhydrous or one.key] = held.get(one.anhydrous or one.key, 0.0) + anhydrous_g(mass_g, one)
    return Contents(contents.volume_ml, held)


def _mass_g(row: IngredientRow, one: Substance, volume_ml: float, density_g_per_ml: float, celsius: float) -> float:
    if row.unit == "g":
        return row.amount
    if row.unit == "mL":
        return row.amount * solution_density_g_per_ml([(one, 1.0)], celsius)
    if row.unit == "% w/w":
        return row.amount / 100 * volume_ml * density_g_per_ml
    if row.unit in {"% w/v", "g/L"}:
        return row.amount * (10 if row.unit == "% w/v" else 1) * volume_ml / 1000
    part = mass_fraction(Strength(row.amount, cast("StrengthUnit", row.unit)), one, celsius)
    return grams_per_litre(part, one, celsius) * volume_ml / 1000


def _said(row: IngredientRow) -> str:
    return f"{row.substance}, {row.amount:g} {row.unit}"


def _unsayable(row: IngredientRow) -> str:
    """Why a line's unit says nothing of its substance."""
    one = substance_or_unknown(row.substance)
    if row.unit == "mol/L" and not one.molar_g_per_mol:
        return f"{_said(row)}: its mole is not known here. Say it in grams per litre or in % by weight."
    if row.unit == "volumes" and one.key != PEROXIDE:
        return f"{_said(row)}: volumes of oxygen are said of hydrogen peroxide only."
    if row.unit == "mL" and one.state == "solid":
        return f"{_said(row)}: a solid is weighed. Give grams, or count it in spoons where something is added."
    return ""


def _row_too_strong(row: IngredientRow, volume_ml: float, celsius: float) -> str:
    """Why one line by itself is more than water takes."""
    one = substance_or_unknown(row.substance)
    if row.unit == "% w/w" and row.amount > 100:  # noqa: PLR2004 (percent)
        return f"{_said(row)}: more than 100 % by weight cannot be. Look at the unit."
    try:
        strength_g_per_l = 1000 * _mass_g(row, one, volume_ml, 1.0, celsius) / volume_ml
    except OutOfRange:
        return f"{_said(row)}: stronger than the substance itself. Look at the unit."
    if one.solubility_g_per_l is not None and strength_g_per_l > one.solubility_g_per_l:
        return f"{_said(row)}: a litre dissolves about {one.solubility_g_per_l:.0f} g at 20 °C, no more. Look at the unit."
    return ""
