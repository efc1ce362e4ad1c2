"""How much stock and how much water?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import hypot
from typing import Annotated, Any, Final

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Plain
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Remark, refuse, remark
from silverwright.chemistry.density import water_density_g_per_ml
from silverwright.chemistry.mixing import cylinder_for, dilution, filled_up_fraction, poured_fraction, settable_g, settable_ml
from silverwright.chemistry.strength import PEROXIDE, mass_fraction, strength_in
from silverwright.errors import OutOfRange
from silverwright.facts.load import fact, facts
from silverwright.notes import Note
from silverwright.questions.entry import around, says
from silverwright.questions.handling import before_pouring
from silverwright.questions.ingredients import ROOM_CELSIUS, tidy_unit
from silverwright.questions.strength import (
    MATTERS_SHARE,
    SaidUnit,
    Stock,
    StockFields,
    asked,
    density_says,
    differs,
    insoluble,
    known_substance,
    readings_of,
    stock_of,
    temperature_taken,
    told,
    unclear,
)
from silverwright.records_chemistry import Cylinder, Dilution, Strength, StrengthUnit, Substance
from silverwright.units import GRAM, MILLILITRE, SCALE_GRAM
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_chemistry import (
    MEASURE_ML,
    MEASURED_PERCENT,
    NAIVE_ML,
    NAIVE_PERCENT,
    SET_G,
    SET_ML,
    SET_WATER_ML,
    STRENGTH_G_PER_L,
    VOLUME_ML,
    WANTED_STRENGTH,
    WATER_G,
    WATER_ML,
    WEIGH_G,
    WEIGHED_PERCENT,
)

WANTED_UNIT: Final = Choice(help="How the wanted strength is said: by weight, by volume, in a litre.", example="% w/w", label="Unit that is wanted")


class DilutionQuestion(StockFields):
    """A stock as its bottle tells it, how strong it shall become, and how much of that."""

    wanted_amount: Annotated[float, WANTED_STRENGTH]
    wanted_unit: Annotated[StrengthUnit, WANTED_UNIT, BeforeValidator(tidy_unit), Field(validate_default=True)] = "% w/w"
    volume_ml: Annotated[float, VOLUME_ML] = 1000
    temperature_celsius: Annotated[float, TEMPERATURE_CELSIUS, Field(validate_default=True)] = ROOM_CELSIUS

    @field_validator("wanted_unit")
    @classmethod
    def _not_stronger(cls, unit: StrengthUnit, seen: ValidationInfo) -> StrengthUnit:
        data = seen.data
        if all(data.get(name) is not None for name in ("substance", "stock_amount", "stock_unit", "wanted_amount")) and (
            why := out_of_reach(data["substance"], data["stock_amount"], data["stock_unit"], data["wanted_amount"], unit)
        ):
            raise refuse(why, field="wanted_amount")
        return unit

    @field_validator("temperature_celsius")
    @classmethod
    def _which_is_meant(cls, celsius: float, seen: ValidationInfo) -> float:
        needed = ("substance", "stock_amount", "stock_unit", "wanted_amount", "wanted_unit", "volume_ml")
        if seen.data.get("stock_unit") != "%" or any(seen.data.get(name) is None for name in needed):
            return celsius
        known, amount = known_substance(seen.data["substance"]), seen.data["stock_amount"]
        fractions = readings_of(known, amount, "%", celsius)
        wanted = mass_fraction(Strength(seen.data["wanted_amount"], seen.data["wanted_unit"]), known, celsius)
        if differs(fractions) and wanted > 0 and seen.data["volume_ml"] > 0:
            ways = [dilution(one, wanted, seen.data["volume_ml"], known, celsius) for one in fractions]
            raise refuse(asked(amount, _both(seen.data, ways)), field="stock_unit")
        return celsius


def out_of_reach(name: str, stock_amount: float, stock_unit: SaidUnit, wanted_amount: float, unit: StrengthUnit) -> str:
    """Why no water makes that of the stock, in a sentence; nothing when it does."""
    known = known_substance(name)
    if unit == "volumes" and known.key != PEROXIDE:
        return "Volumes of oxygen are said of hydrogen peroxide only: choose another unit."
    try:
        wanted = mass_fraction(Strength(wanted_amount, unit), known, ROOM_CELSIUS)
    except OutOfRange:
        return f"{wanted_amount:g} {unit} was given: that is stronger than {known.name} without any water. Look at the unit."
    if why := insoluble(known, wanted, ROOM_CELSIUS):
        return why
    stock = min(readings_of(known, stock_amount, stock_unit, ROOM_CELSIUS))
    if stock <= 0:
        return "A stock of strength 0 is water: give the strength of its label."
    if wanted <= stock:
        return ""
    has = f"{strength_in(unit, stock, known, ROOM_CELSIUS):.3g} {unit}{' at least' if stock_unit in {'%', '%, label unclear'} else ''}"
    return f"{wanted_amount:g} {unit} is stronger than the stock, which has {has}. Water only makes it weaker: take a stronger stock."


def _both(given: Mapping[str, Any], ways: Sequence[Dilution]) -> str:
    """What each reading would take."""
    weight, volume = (f"{GRAM.show(way.stock_g)} ({MILLILITRE.show(way.stock_ml)}) and {MILLILITRE.show(way.water_ml)} water" for way in ways)
    aim = f"{MILLILITRE.show(given['volume_ml'])} of {given['wanted_amount']:g} {given['wanted_unit']}"
    return f"For {aim} it takes, as w/w, {weight}; as w/v, {volume}."


class DilutionAnswer(Answer):
    """Stock and water, by weight and by volume, what can be set, and how strong it becomes."""

    weigh_g: Annotated[Estimate, WEIGH_G]
    measure_ml: Annotated[Estimate | None, MEASURE_ML] = None
    water_ml: Annotated[Estimate, WATER_ML]
    water_g: Annotated[Estimate, WATER_G]
    set_g: Annotated[Estimate, SET_G]
    set_ml: Annotated[Estimate | None, SET_ML] = None
    set_water_ml: Annotated[Estimate, SET_WATER_ML]
    weighed_percent: Annotated[Estimate, WEIGHED_PERCENT]
    measured_percent: Annotated[Estimate | None, MEASURED_PERCENT] = None
    strength_g_per_l: Annotated[Estimate, STRENGTH_G_PER_L]
    naive_ml: Annotated[Estimate | None, NAIVE_ML] = None
    naive_percent: Annotated[Estimate | None, NAIVE_PERCENT] = None
    steps: Annotated[
        tuple[str, ...], Plain(help="What to do, one after the other.", example="Put 766.3 g (768 mL) of water into the vessel.", label="Steps")
    ] = ()


def answer(question: DilutionQuestion) -> DilutionAnswer:
    """Weights by the mass fractions; volumes by the densities; the naive rule beside them."""
    celsius = question.temperature_celsius
    stock = stock_of(question, celsius)
    wanted = mass_fraction(Strength(question.wanted_amount, question.wanted_unit), stock.substance, celsius)
    ways = [dilution(one, wanted, question.volume_ml, stock.substance, celsius) for one in stock.fractions]
    doubts = _doubts(question, stock, wanted, ways)
    weigh_g, measure_ml = told([way.stock_g for way in ways], doubts.weigh_share), told([way.stock_ml for way in ways], doubts.measure_share)
    water_g, water_ml = told([way.water_g for way in ways], doubts.water_share), told([way.water_ml for way in ways], doubts.water_share)
    poured = poured_of(stock, weigh_g.value or 0.0, measure_ml.value or 0.0, water_g.value or 0.0, water_ml.value or 0.0)
    naive_ml, naive_percent = _naive(question, stock, wanted)
    return DilutionAnswer(
        weigh_g=weigh_g,
        measure_ml=None if stock.dry else measure_ml,
        water_ml=water_ml,
        water_g=water_g,
        set_g=Estimate(value=poured.stock_g),
        set_ml=None if stock.dry else Estimate(value=poured.stock_ml),
        set_water_ml=Estimate(value=poured.water_ml),
        weighed_percent=poured.weighed(),
        measured_percent=None if stock.dry else poured.measured(),
        strength_g_per_l=Estimate(value=strength_in("g/L", wanted, stock.substance, celsius)),
        naive_ml=naive_ml,
        naive_percent=naive_percent,
        steps=steps_of(stock.substance, poured),
        ledger=_working(question, poured),
        notes=_notes(question, stock, poured, weigh_g.value or 0.0, naive_percent),
        sources=(density_says(stock.substance), says(fact("settable", "label_sd"), fact("settable", "scale_step"), fact("settable", "cylinder_250"))),
    )


@dataclass(frozen=True, slots=True)
class Doubts:
    """One standard deviation of each amount, as a share of it."""

    weigh_share: float
    measure_share: float
    water_share: float


def _doubts(question: DilutionQuestion, stock: Stock, wanted: float, ways: Sequence[Dilution]) -> Doubts:
    """The label, and a density wherever weight and volume meet: in the stock, and in what is wanted."""
    label = fact("settable", "label_sd").value
    strong, weak = max(stock.density_sd_share(one) for one in stock.fractions), stock.density_sd_share(wanted)
    by_weight = question.stock_unit == "% w/w"
    aim = weak if question.wanted_unit == "% w/w" else 0.0
    weigh, measure = hypot(label, aim, 0.0 if by_weight else strong), hypot(label, aim, strong if by_weight else 0.0)
    stock_g, water_g = (max(amounts) for amounts in ([way.stock_g for way in ways], [way.water_g for way in ways]))
    water = hypot(stock_g * weigh, (stock_g + water_g) * weak) / water_g if water_g > 0 else 0.0
    return Doubts(weigh, measure, min(1.0, water))


@dataclass(frozen=True, slots=True)
class Poured:
    """What scale and cylinder can set of stock and water."""

    stock: Stock
    stock_g: float
    stock_ml: float
    scale_water_g: float
    water_ml: float

    def weighed(self) -> Estimate:
        """How strong it becomes when both are weighed."""
        return self._comes([poured_fraction(one, self.stock_g, self.scale_water_g) for one in self.stock.fractions], self.weighing_share())

    def weighing_share(self) -> float:
        """How far the scale alone puts the strength off, as a share of it."""
        scale_sd, whole_g = fact("settable", "scale_step").sd, self.stock_g + self.scale_water_g
        water_share = self.scale_water_g / whole_g if whole_g > 0 else 0.0
        return water_share * hypot(_share(scale_sd, self.stock_g), _share(scale_sd, self.scale_water_g))

    def measured(self) -> Estimate:
        """How strong it becomes when both are measured."""
        water_g = self.water_ml * water_density_g_per_ml(self.stock.celsius)
        results = [poured_fraction(one, self.stock_ml * self.stock.density(one), water_g) for one in self.stock.fractions]
        off = [_share(cylinder_for(one, cylinders()).sd_ml, one) for one in (self.stock_ml, self.water_ml)]
        density = max(self.stock.density_sd_share(one) for one in self.stock.fractions)
        water_share = 1 - max(result / one for result, one in zip(results, self.stock.fractions, strict=True))
        return self._comes(results, water_share * hypot(*off, density))

    def _comes(self, results: Sequence[float], off_share: float) -> Estimate:
        """The label's doubt, and what is off in setting."""
        return told([100 * one for one in results], hypot(fact("settable", "label_sd").value, off_share), most=100)


def _share(sd: float, amount: float) -> float:
    """A deviation as a share of an amount, at most all of it."""
    return min(1.0, sd / amount) if amount > 0 else 0.0


def poured_of(stock: Stock, stock_g: float, stock_ml: float, water_g: float, water_ml: float) -> Poured:
    """The nearest that can be set."""
    step_g = fact("settable", "scale_step").value
    return Poured(
        stock, settable_g(stock_g, step_g), settable_ml(stock_ml, cylinders()), settable_g(water_g, step_g), settable_ml(water_ml, cylinders())
    )


@cache
def cylinders() -> tuple[Cylinder, ...]:
    """The usual measuring cylinders."""
    rows = {key: one for key, one in facts("settable").items() if key.startswith("cylinder_")}
    return tuple(Cylinder(float(key.removeprefix("cylinder_")), one.value, one.sd) for key, one in rows.items())


def _naive(question: DilutionQuestion, stock: Stock, wanted: float) -> tuple[Estimate | None, Estimate | None]:
    """Percent by weight taken as if it were percent by volume: how much that would take, and how far it is off."""
    if stock.dry or question.stock_unit != "% w/w" or question.wanted_unit not in {"% w/w", "% w/v"} or question.wanted_amount <= 0:
        return None, None
    share = min(1.0, question.wanted_amount / question.stock_amount)
    becomes = filled_up_fraction(stock.fractions[0], share, stock.substance, stock.celsius)
    comes = strength_in(question.wanted_unit, becomes, stock.substance, stock.celsius)
    doubt = 100 * hypot(stock.density_sd_share(stock.fractions[0]), stock.density_sd_share(wanted)) * (1 - share)
    return Estimate(value=share * question.volume_ml), around(100 * (comes / question.wanted_amount - 1), doubt)


def steps_of(substance: Substance, poured: Poured) -> tuple[str, ...]:
    """Water first, then the stock."""
    cylinder = MILLILITRE.show
    into, marks = (f"in a cylinder of {cylinder(cylinder_for(amount_ml, cylinders()).holds_ml)}" for amount_ml in (poured.stock_ml, poured.water_ml))
    pour = f"Weigh {SCALE_GRAM.show(poured.stock_g)} of the {substance.name} stock into it, or measure {cylinder(poured.stock_ml)} {into}."
    return (
        f"Put {SCALE_GRAM.show(poured.scale_water_g)} of water into the vessel, or {cylinder(poured.water_ml)}, as near as one reads {marks}.",
        f"Weigh {SCALE_GRAM.show(poured.stock_g)} of the {substance.name} into it." if poured.stock.dry else pour,
        f"Stir, and write on it what it is, how strong, and the day. It is {SCALE_GRAM.show(poured.stock_g + poured.scale_water_g)} in all.",
    )


def _working(question: DilutionQuestion, poured: Poured) -> tuple[Line, ...]:
    """How strong it becomes when it is weighed, in percent by weight, and what makes that unsure."""
    results = [100 * poured_fraction(one, poured.stock_g, poured.scale_water_g) for one in poured.stock.fractions]
    middle, label = sum(results) / len(results), fact("settable", "label_sd")
    weighed = f"{SCALE_GRAM.show(poured.stock_g)} of stock, {SCALE_GRAM.show(poured.scale_water_g)} of water"
    lines = [
        Line(what=weighed, amount=middle, doubt=0, unit="% w/w", source="weights add up", rests="published"),
        Line(
            what=f"The label, {question.stock_amount:g} {question.stock_unit}",
            amount=0,
            doubt=middle * label.value,
            unit="% w/w",
            source=says(label),
            rests="judgement",
        ),
    ]
    if len(results) > 1:
        apart = (max(results) - min(results)) / 2
        lines.append(Line(what="By weight or by volume", amount=0, doubt=apart, unit="% w/w", source="either, as likely", rests="judgement"))
    if (off := poured.weighing_share()) > 0:
        scale = fact("settable", "scale_step")
        lines.append(Line(what="The scale", amount=0, doubt=middle * off, unit="% w/w", source=says(scale), rests="trade"))
    return tuple(lines)


def _notes(question: DilutionQuestion, stock: Stock, poured: Poured, weigh_g: float, naive_percent: Estimate | None) -> tuple[Remark, ...]:
    """What can hurt first; then what is doubtful."""
    notes = [*before_pouring(stock.substance, max(stock.fractions)), *unclear(stock, question.stock_amount)]
    if naive_percent is not None and naive_percent.value is not None and abs(naive_percent.value) >= 100 * MATTERS_SHARE:
        off = f"{abs(naive_percent.value):.0f} % too {'strong' if naive_percent.value > 0 else 'weak'}"
        notes.append(remark(Note.NAIVE_RULE, off=off))
    if weigh_g > 0 and abs(poured.stock_g / weigh_g - 1) > MATTERS_SHARE:
        notes.append(remark(Note.SCALE_TOO_COARSE, wanted=f"{weigh_g:.2g}", step=f"{fact('settable', 'scale_step').value:g}"))
    if stock.substance.density is None:
        notes.append(remark(Note.DENSITY_TAKEN, substance=stock.substance.name))
    return (*notes, *temperature_taken(question, stock))


DILUTION: Final = Operation(
    name="chemistry.dilution",
    version=1,
    asks="How much stock and how much water?",
    question=DilutionQuestion,
    answer=DilutionAnswer,
    compute=answer,
    examples={
        "a litre of 9 % peroxide from 35 %": {
            "substance": "hydrogen peroxide",
            "stock_amount": 35,
            "stock_unit": "% w/w",
            "wanted_amount": 9,
            "wanted_unit": "% w/w",
            "volume_ml": "1 L",
            "temperature_celsius": 20,
        },
        "the label says only %": {
            "substance": "hydrogen peroxide",
            "stock_amount": 35,
            "stock_unit": "%, label unclear",
            "wanted_amount": 9,
            "volume_ml": "1 L",
            "temperature_celsius": 20,
        },
        "half a litre of 5 % from crystals": {
            "substance": "citric acid monohydrate",
            "stock_amount": 100,
            "stock_unit": "% w/w",
            "wanted_amount": 5,
            "volume_ml": 500,
        },
        "acid for a clearing bath, by volume": {
            "substance": "acetic acid",
            "stock_amount": 80,
            "stock_unit": "% w/w",
            "wanted_amount": 2,
            "wanted_unit": "% w/v",
            "volume_ml": 500,
        },
    },
)
