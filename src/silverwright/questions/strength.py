"""How strong is that, in other words?"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import erf, exp, hypot, inf, log, sqrt
from typing import Annotated, Final, Literal, cast

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Operation, Question, Remark, refuse, remark
from silverwright.chemistry.density import solution_density_g_per_ml, solution_density_sd_g_per_ml
from silverwright.chemistry.strength import PEROXIDE, grams_per_litre, mass_fraction, strength_in
from silverwright.errors import OutOfRange
from silverwright.facts.load import Fact, facts
from silverwright.notes import Note
from silverwright.questions.entry import says
from silverwright.questions.ingredients import ROOM_CELSIUS, tidy_unit
from silverwright.questions.substances import KnownSubstance, substance
from silverwright.records_chemistry import Strength, StrengthUnit, Substance
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_chemistry import (
    DENSITY_G_PER_ML,
    STOCK_STRENGTH,
    STRENGTH_G_PER_L,
    STRENGTH_MOL_PER_L,
    STRENGTH_PERCENT_WV,
    STRENGTH_PERCENT_WW,
    STRENGTH_VOLUMES,
)

SaidUnit = Literal["% w/w", "% w/v", "g/L", "mol/L", "volumes", "%", "%, label unclear"]
STOCK_UNIT: Final = Choice(
    help=(
        "How the bottle says it: by weight (g in 100 g, w/w, % by mass), by volume (g in 100 mL, w/v), in grams or moles in a litre, "
        "or volumes of oxygen. Where it says only %, choose %."
    ),
    example="% w/w",
    label="Unit on the bottle",
)
Matters = Literal["asked", "open", "no"]
MATTERS_SHARE: Final = 0.02  # our judgement: scale, cylinder and label are off by as much together
WORTH_SAYING_SHARE: Final = 0.001  # our judgement: less than any cylinder shows
_DISSOLVES_SHARE: Final = 1.1  # our judgement: room for a warm day and for the doubt of the figure
_GIVEN_CELSIUS_SD: Final = 1.0  # our judgement: a darkroom thermometer
_TAKEN_CELSIUS_SD: Final = 4.0  # our judgement: rooms where nobody looked
_LOWER_PART: Final = 0.1  # arithmetic: 80 % lie between a tenth below and a tenth above
_LEAST_SD: Final = 1e-9  # arithmetic: so that a step has a slope
_HALVINGS: Final = 50  # arithmetic: enough for the last digit of a double
_FARTHEST_SD: Final = 8  # our judgement: nothing of a normal lies beyond


class StockFields(Question):
    """A stock as its bottle tells it."""

    substance: KnownSubstance
    stock_amount: Annotated[float, STOCK_STRENGTH]
    stock_unit: Annotated[SaidUnit, STOCK_UNIT, BeforeValidator(tidy_unit), Field(validate_default=True)] = "%"

    @field_validator("stock_unit")
    @classmethod
    def _can_be(cls, unit: SaidUnit, seen: ValidationInfo) -> SaidUnit:
        name, amount = seen.data.get("substance"), seen.data.get("stock_amount")
        if name is not None and amount is not None and (fault := too_strong(name, amount, unit)):
            raise refuse(fault, field="stock_amount" if unit != "volumes" else "")
        return unit


@dataclass(frozen=True, slots=True)
class Stock:
    """A stock: what it is, and its mass fraction, in two readings where it is open which is meant."""

    substance: Substance
    fractions: tuple[float, ...]
    celsius: float
    celsius_sd: float

    @property
    def dry(self) -> bool:
        """Whether it is crystals or a powder, of which a cylinder tells nothing."""
        return self.substance.state == "solid" and min(self.fractions) >= 1

    def density(self, fraction: float) -> float:
        """What a millilitre weighs. [g/mL]"""
        return solution_density_g_per_ml([(self.substance, fraction)], self.celsius)

    def density_sd_share(self, fraction: float) -> float:
        """How unsure that is, as a share: the model, and the temperature."""
        here = [(self.substance, fraction)]
        warmer = solution_density_g_per_ml(here, self.celsius + self.celsius_sd)
        density = self.density(fraction)
        return hypot(solution_density_sd_g_per_ml(here, self.celsius), warmer - density) / density


def stock_of(question: StockFields, celsius: float) -> Stock:
    """The stock of a question; the temperature is surer where somebody read it."""
    given = "temperature_celsius" in question.model_fields_set
    known = known_substance(question.substance)
    fractions = readings_of(known, question.stock_amount, question.stock_unit, celsius)
    return Stock(known, fractions, celsius, _GIVEN_CELSIUS_SD if given else _TAKEN_CELSIUS_SD)


def known_substance(name: str) -> Substance:
    """The substance of a name that was found to be known."""
    known = substance(name)
    if known is None:
        raise OutOfRange(name, 0.0, "a substance that is known here")
    return known


def readings_of(known: Substance, amount: float, unit: SaidUnit, celsius: float) -> tuple[float, ...]:
    """The mass fraction that a label means: two of them where it says % and no more, by weight and by volume."""
    open_units: tuple[StrengthUnit, ...] = ("% w/w",) if known.state == "solid" and amount == 100 else ("% w/w", "% w/v")  # noqa: PLR2004 (percent)
    units = open_units if unit in {"%", "%, label unclear"} else (cast("StrengthUnit", unit),)
    found = []
    for one in units:
        try:
            found.append(mass_fraction(Strength(amount, one), known, celsius))
        except OutOfRange:
            if len(units) == 1:
                raise
    if not found:
        raise OutOfRange("strength in %", amount, "less than the substance itself")
    return tuple(found)


def differs(fractions: Sequence[float]) -> bool:
    """Whether it matters which of the readings is meant."""
    return len(fractions) > 1 and max(fractions) > min(fractions) * (1 + MATTERS_SHARE)


def too_strong(name: str, amount: float, unit: SaidUnit, celsius: float = ROOM_CELSIUS) -> str:
    """Why nothing can be so strong, in a sentence; nothing when it can."""
    known = known_substance(name)
    if unit == "volumes" and known.key != PEROXIDE:
        return "Volumes of oxygen are said of hydrogen peroxide only: choose another unit."
    if unit == "% w/w" and amount > 100:  # noqa: PLR2004 (percent)
        return f"{amount:g} % by weight was given: more than 100 g in 100 g cannot be. Look at the unit."
    if unit in {"%", "%, label unclear"} and amount > 100:  # noqa: PLR2004 (percent)
        return f"{amount:g} % by weight cannot be: more than 100 g in 100 g. Look at the figure; where the bottle says g in 100 mL, choose % w/v."
    try:
        fraction = min(readings_of(known, amount, unit, celsius))
    except OutOfRange:
        most = strength_in("g/L" if unit in {"%", "%, label unclear"} else cast("StrengthUnit", unit), 1.0, known, celsius)
        return f"{amount:g} {unit} was given: {known.name} without any water has {most:.4g}. Look at the unit."
    return insoluble(known, fraction, celsius)


def insoluble(known: Substance, fraction: float, celsius: float) -> str:
    """Why water does not take so much of it, in a sentence; nothing when it does, where nobody knows, and of dry crystals."""
    crystals = known.state == "solid" and fraction >= 1
    if known.solubility_g_per_l is None or crystals or celsius > ROOM_CELSIUS + _TAKEN_CELSIUS_SD:
        return ""
    strength_g_per_l = grams_per_litre(fraction, known, celsius)
    if strength_g_per_l <= known.solubility_g_per_l * _DISSOLVES_SHARE:
        return ""
    source = says(facts("solubility")[known.key])
    most = f"a litre dissolves about {known.solubility_g_per_l:.0f} g at 20 °C ({source})"
    return f"That is {strength_g_per_l:.0f} g of {known.name} in a litre: {most}. Look at the unit."


def told(values: Sequence[float], sd_share: float = 0.0, most: float = inf) -> Estimate:
    """One value with its limits, or the middle of two that are as likely, with limits that hold 8 of 10 of both together."""
    if min(values) <= 0:
        return Estimate(value=sum(values) / len(values))
    logs = [log(value) for value in values]
    middle = exp(sum(logs) / len(logs))
    if sd_share <= 0 and len(logs) == 1:
        return Estimate(value=min(middle, most))
    low, high = (exp(_quantile(logs, max(sd_share, _LEAST_SD), part)) for part in (_LOWER_PART, 1 - _LOWER_PART))
    return Estimate(value=min(middle, most), low=min(low, middle, most), high=min(high, most), percent=80)


def _quantile(logs: Sequence[float], sd: float, part: float) -> float:
    """Below which so large a part lies of one normal, or of two in equal parts."""
    low, high = min(logs) - _FARTHEST_SD * sd, max(logs) + _FARTHEST_SD * sd
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        below = sum(1 + erf((middle - one) / sd / sqrt(2)) for one in logs) / 2 / len(logs)
        low, high = (middle, high) if below < part else (low, middle)
    return (low + high) / 2


def unclear(stock: Stock, amount: float) -> tuple[Remark, ...]:
    """What it does that nobody knows which is meant."""
    if len(stock.fractions) == 1 or not all(stock.fractions):
        return ()
    weight, volume = (grams_per_litre(one, stock.substance, stock.celsius) for one in stock.fractions)
    if not differs(stock.fractions):
        return (remark(Note.LABEL_EITHER, amount=f"{amount:g}", apart=f"{100 * log(weight / volume):.1f}"),)
    half = 100 * log(weight / volume) / 2
    return (remark(Note.LABEL_UNCLEAR, amount=f"{amount:g}", weight=f"{weight:.0f}", volume=f"{volume:.0f}", half=f"{half:.1f}"),)


def temperature_taken(question: StockFields, stock: Stock) -> tuple[Remark, ...]:
    """What it does that nobody read a thermometer."""
    if "temperature_celsius" in question.model_fields_set:
        return ()
    warmer = replace(stock, celsius=stock.celsius + stock.celsius_sd)
    apart = max(abs(warmer.density(one) / stock.density(one) - 1) for one in stock.fractions)
    if apart < WORTH_SAYING_SHARE:
        return ()
    return (remark(Note.TEMPERATURE_TAKEN, celsius=f"{stock.celsius:g}", sd=f"{stock.celsius_sd:g}", percent=f"{100 * apart:.1f}"),)


def density_facts(known: Substance) -> tuple[Fact, ...]:
    """What the density of its solutions rests on."""
    keys = (f"{known.anhydrous or known.key}_{end}" for end in ("c0", "pure", "apparent"))
    return tuple(facts("density")[key] for key in keys if key in facts("density"))


def density_says(known: Substance) -> str:
    """Who says how dense its solutions are."""
    return says(*density_facts(known)) or "our judgement"


class StrengthQuestion(StockFields):
    """A strength as a bottle says it."""

    temperature_celsius: Annotated[float, TEMPERATURE_CELSIUS, Field(validate_default=True)] = ROOM_CELSIUS

    @field_validator("temperature_celsius")
    @classmethod
    def _which_is_meant(cls, celsius: float, seen: ValidationInfo) -> float:
        name, amount = seen.data.get("substance"), seen.data.get("stock_amount")
        if seen.data.get("stock_unit") != "%" or name is None or amount is None:
            return celsius
        known = known_substance(name)
        fractions = readings_of(known, amount, "%", celsius)
        if differs(fractions):
            weight, volume = (f"{grams_per_litre(one, known, celsius):.0f} g" for one in fractions)
            raise refuse(asked(amount, f"By weight a litre of it holds {weight}, by volume {volume}."), field="stock_unit")
        return celsius


def asked(amount: float, meaning: str) -> str:
    """The sentence that asks which percent is meant; what can hurt stands before its amounts, as everywhere."""
    return (
        f"Goggles and gloves on before it is opened. {amount:g} % by weight (% w/w) or by volume (% w/v)? {meaning} Look at the label or the safety "
        "data sheet: “% by mass”, “w/w” or “g/100 g” is by weight, “w/v” or “g/100 mL” by volume. Where neither says it, choose “%, label unclear”."
    )


class StrengthAnswer(Answer):
    """The same strength in every unit."""

    strength_percent_ww: Annotated[Estimate, STRENGTH_PERCENT_WW]
    strength_percent_wv: Annotated[Estimate, STRENGTH_PERCENT_WV]
    strength_g_per_l: Annotated[Estimate, STRENGTH_G_PER_L]
    strength_mol_per_l: Annotated[Estimate, STRENGTH_MOL_PER_L]
    strength_volumes: Annotated[Estimate | None, STRENGTH_VOLUMES] = None
    density_g_per_ml: Annotated[Estimate, DENSITY_G_PER_ML]


def answer(question: StrengthQuestion) -> StrengthAnswer:
    """From the mass fraction into each unit; the density stands between weight and volume, and its doubt with it."""
    stock = stock_of(question, question.temperature_celsius)
    doubt = max(stock.density_sd_share(one) for one in stock.fractions)
    by_weight = question.stock_unit == "% w/w"

    def in_unit(unit: StrengthUnit, sd_share: float) -> Estimate:
        return told([strength_in(unit, one, stock.substance, stock.celsius) for one in stock.fractions], sd_share)

    as_said = 0.0 if len(stock.fractions) == 1 and not by_weight else doubt
    volumes = in_unit("volumes", as_said) if stock.substance.key == PEROXIDE else None
    return StrengthAnswer(
        strength_percent_ww=told([100 * one for one in stock.fractions], 0.0 if by_weight else doubt, most=100),
        strength_percent_wv=in_unit("% w/v", as_said),
        strength_g_per_l=in_unit("g/L", as_said),
        strength_mol_per_l=in_unit("mol/L", as_said),
        strength_volumes=volumes,
        density_g_per_ml=told([stock.density(one) for one in stock.fractions], doubt),
        notes=(*unclear(stock, question.stock_amount), *temperature_taken(question, stock)),
        sources=(density_says(stock.substance), says(facts("molar")[stock.substance.key])),
    )


STRENGTH: Final = Operation(
    name="chemistry.strength",
    version=1,
    asks="How strong is that, in other words?",
    question=StrengthQuestion,
    answer=StrengthAnswer,
    compute=answer,
    examples={
        "peroxide by weight": {"substance": "hydrogen peroxide", "stock_amount": 35, "stock_unit": "% w/w", "temperature_celsius": 20},
        "peroxide by volumes of oxygen": {"substance": "hydrogen peroxide", "stock_amount": 10, "stock_unit": "volumes"},
        "a label that says only %": {"substance": "hydrogen peroxide", "stock_amount": 35, "stock_unit": "%, label unclear"},
        "weak enough that it hardly matters": {"substance": "hydrogen peroxide", "stock_amount": 3},
        "acid in moles": {"substance": "citric acid monohydrate", "stock_amount": 0.26, "stock_unit": "mol/L"},
    },
)
