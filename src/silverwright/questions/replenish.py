"""How much stock brings a bath back to its strength?"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot
from typing import Annotated, Any, Final, Literal

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Remark, refuse, remark
from silverwright.chemistry.density import solution_density_g_per_ml
from silverwright.chemistry.mixing import exchange_g, replenish_g, settable_g, settable_ml
from silverwright.chemistry.strength import mass_fraction
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.dilution import cylinders, out_of_reach
from silverwright.questions.entry import around, says
from silverwright.questions.handling import before_pouring
from silverwright.questions.ingredients import ROOM_CELSIUS, tidy_unit
from silverwright.questions.strength import (
    MATTERS_SHARE,
    Stock,
    StockFields,
    asked,
    density_says,
    differs,
    known_substance,
    readings_of,
    stock_of,
    temperature_taken,
    told,
    unclear,
)
from silverwright.records_chemistry import Strength, StrengthUnit, Substance
from silverwright.units import GRAM, MILLILITRE
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_chemistry import (
    BATH_STRENGTH,
    BECOMES_ML,
    MEASURE_ML,
    SET_G,
    SET_ML,
    TAKE_OUT_ML,
    VOLUME_ML,
    WANTED_STRENGTH,
    WEIGH_G,
)

Way = Literal["added to all of it", "in exchange"]
WAY: Final = Choice(
    help="The stock is added, and the bath becomes more; or as much of the bath is taken out first, so that it stays as much.",
    example="added to all of it",
    label="How",
)
SAME_UNIT: Final = Choice(help="How the strength of the bath, and the wanted one, are said.", example="% w/w", label="Unit of both")
PART: Final = "% of the whole"
STRENGTHS: Final = ("substance", "stock_amount", "stock_unit", "wanted_amount", "bath_amount")
NEEDED: Final = (*STRENGTHS, "wanted_unit", "volume_ml", "way")


class ReplenishQuestion(StockFields):
    """A stock, a bath that has become weaker, and how strong it shall be again."""

    bath_amount: Annotated[float, BATH_STRENGTH]
    wanted_amount: Annotated[float, WANTED_STRENGTH]
    wanted_unit: Annotated[StrengthUnit, SAME_UNIT, BeforeValidator(tidy_unit), Field(validate_default=True)] = "% w/w"
    volume_ml: Annotated[float, VOLUME_ML] = 1000
    way: Annotated[Way, WAY] = "added to all of it"
    temperature_celsius: Annotated[float, TEMPERATURE_CELSIUS, Field(validate_default=True)] = ROOM_CELSIUS

    @field_validator("wanted_unit")
    @classmethod
    def _can_be_reached(cls, unit: StrengthUnit, seen: ValidationInfo) -> StrengthUnit:
        data = seen.data
        if any(data.get(name) is None for name in STRENGTHS):
            return unit
        stock = (data["substance"], data["stock_amount"], data["stock_unit"])
        if why := out_of_reach(*stock, data["wanted_amount"], unit):
            raise refuse(why, field="wanted_amount")
        if out_of_reach(*stock, data["bath_amount"], unit):
            raise refuse("The bath is said to be stronger than the stock: look at both strengths.", field="bath_amount")
        known = known_substance(data["substance"])
        wanted = mass_fraction(Strength(data["wanted_amount"], unit), known, ROOM_CELSIUS)
        strong = min(readings_of(known, data["stock_amount"], data["stock_unit"], ROOM_CELSIUS))
        if strong - wanted < MATTERS_SHARE * strong:
            raise refuse("That is as strong as the stock itself: it takes a stronger stock, or a fresh bath.", field="wanted_amount")
        return unit

    @field_validator("temperature_celsius")
    @classmethod
    def _which_is_meant(cls, celsius: float, seen: ValidationInfo) -> float:
        data = seen.data
        if data.get("stock_unit") != "%" or any(data.get(name) is None for name in NEEDED):
            return celsius
        known = known_substance(data["substance"])
        fractions = readings_of(known, data["stock_amount"], "%", celsius)
        aim = aim_of(known, data, celsius)
        if differs(fractions) and aim.missing > 0:
            densities = [solution_density_g_per_ml([(known, one)], celsius) for one in fractions]
            weight, volume = (MILLILITRE.show(aim.stock_g(one) / density) for one, density in zip(fractions, densities, strict=True))
            raise refuse(asked(data["stock_amount"], f"As w/w it takes {weight} of it, as w/v {volume}."), field="stock_unit")
        return celsius


@dataclass(frozen=True, slots=True)
class Aim:
    """A bath: its mass and how strong it is, and how strong it shall be, as mass fractions."""

    bath_g: float
    bath_fraction: float
    wanted_fraction: float
    way: Way

    @property
    def missing(self) -> float:
        """How much of the mass fraction is missing; nothing where the bath is as strong as wanted."""
        return max(0.0, self.wanted_fraction - self.bath_fraction)

    def stock_g(self, stock_fraction: float) -> float:
        """How much stock of that strength it takes."""
        if self.missing <= 0:
            return 0.0
        takes = replenish_g if self.way == "added to all of it" else exchange_g
        return takes(self.bath_g, self.bath_fraction, self.wanted_fraction, stock_fraction)

    def sd_share(self, stock_fraction: float) -> float:
        """How unsure that is, as a share: the bath's strength and mass, and the stock's strength."""
        if self.missing <= 0:
            return 0.0
        above = stock_fraction - (self.wanted_fraction if self.way == "added to all of it" else self.bath_fraction)
        bath = fact("settable", "bath_sd").value * self.bath_fraction / self.missing
        label = fact("settable", "label_sd").value * stock_fraction / above
        return hypot(bath, label, fact("settable", "bath_mass_sd").value)


def aim_of(known: Substance, given: Mapping[str, Any], celsius: float) -> Aim:
    """The bath by what was typed; what else is dissolved in it counts as water."""
    bath, wanted = (mass_fraction(Strength(given[name], given["wanted_unit"]), known, celsius) for name in ("bath_amount", "wanted_amount"))
    return Aim(given["volume_ml"] * solution_density_g_per_ml([(known, bath)], celsius), bath, wanted, given["way"])


class ReplenishAnswer(Answer):
    """What to take out, what to add, and how much it is then."""

    take_out_ml: Annotated[Estimate | None, TAKE_OUT_ML] = None
    weigh_g: Annotated[Estimate, WEIGH_G]
    measure_ml: Annotated[Estimate, MEASURE_ML]
    set_g: Annotated[Estimate, SET_G]
    set_ml: Annotated[Estimate, SET_ML]
    becomes_ml: Annotated[Estimate, BECOMES_ML]


def answer(question: ReplenishQuestion) -> ReplenishAnswer:
    """A balance of the mass that is missing."""
    celsius = question.temperature_celsius
    stock = stock_of(question, celsius)
    aim = aim_of(stock.substance, question.model_dump(), celsius)
    doubt = max(aim.sd_share(one) for one in stock.fractions)
    grams = [aim.stock_g(one) for one in stock.fractions]
    weigh_g = told(grams, doubt)
    measure_ml = told([mass_g / stock.density(one) for mass_g, one in zip(grams, stock.fractions, strict=True)], doubt)
    added_g = weigh_g.value or 0.0
    now, then = (stock.density(one) for one in (aim.bath_fraction, max(aim.bath_fraction, aim.wanted_fraction)))
    exchanged = question.way == "in exchange"
    return ReplenishAnswer(
        take_out_ml=told([mass_g / now for mass_g in grams], doubt) if exchanged else None,
        weigh_g=weigh_g,
        measure_ml=measure_ml,
        set_g=Estimate(value=settable_g(added_g, fact("settable", "scale_step").value)),
        set_ml=Estimate(value=settable_ml(measure_ml.value or 0.0, cylinders())),
        becomes_ml=Estimate(value=aim.bath_g / then) if exchanged else around((aim.bath_g + added_g) / then, added_g * doubt / then),
        ledger=_working(question, aim, added_g, added_g * doubt),
        notes=_notes(question, stock, aim),
        sources=(density_says(stock.substance), says(*(fact("settable", key) for key in ("label_sd", "scale_step", "cylinder_250")))),
    )


def _working(question: ReplenishQuestion, aim: Aim, added_g: float, sd_g: float) -> tuple[Line, ...]:
    """The bath and what goes to it, as parts of the whole."""
    exchanged = question.way == "in exchange"
    whole_g = aim.bath_g + (0 if exchanged else added_g)
    percent = 100 / whole_g if whole_g > 0 else 0.0
    label = f"Stock, {question.stock_amount:g} {question.stock_unit}, {GRAM.show(added_g)}"
    doubts = f"what is missing; the strengths: {says(fact('settable', 'bath_sd'), fact('settable', 'label_sd'))}"
    by = density_says(known_substance(question.substance))
    lines = [Line(what=f"The bath, {GRAM.show(aim.bath_g)}", amount=aim.bath_g * percent, doubt=0, unit=PART, source=by, rests="published")]
    if exchanged:
        lines.append(Line(what="Taken out", amount=-added_g * percent, doubt=0, unit=PART, source="as much as is added", rests="own"))
    lines.append(Line(what=label, amount=added_g * percent, doubt=sd_g * percent, unit=PART, source=doubts, rests="judgement"))
    return tuple(lines)


def _notes(question: ReplenishQuestion, stock: Stock, aim: Aim) -> tuple[Remark, ...]:
    if aim.missing <= 0:
        return (remark(Note.BATH_IS_STRONGER),)
    pouring = before_pouring(stock.substance, max(stock.fractions))
    return (*pouring, *unclear(stock, question.stock_amount), remark(Note.REPLENISH_ONCE), *temperature_taken(question, stock))


REPLENISH: Final = Operation(
    name="chemistry.replenish",
    version=1,
    asks="How much stock brings this bath back to its strength?",
    question=ReplenishQuestion,
    answer=ReplenishAnswer,
    compute=answer,
    examples={
        "a litre from 7.5 back to 9 %": {
            "substance": "hydrogen peroxide",
            "stock_amount": 35,
            "stock_unit": "% w/w",
            "bath_amount": 7.5,
            "wanted_amount": 9,
            "volume_ml": "1 L",
        },
        "the same, and it stays a litre": {
            "substance": "hydrogen peroxide",
            "stock_amount": 35,
            "stock_unit": "% w/w",
            "bath_amount": 7.5,
            "wanted_amount": 9,
            "volume_ml": "1 L",
            "way": "in exchange",
        },
    },
)
