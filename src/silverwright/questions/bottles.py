"""The bottles, bags and jars at hand for a recipe, a line each; and what is usually sold where none is named."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log
from typing import Annotated, Final, cast

from pydantic import AfterValidator, BeforeValidator

from silverwright.asking.fields import Words
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Record, refuse
from silverwright.asking.rows import Rows
from silverwright.chemistry.density import solution_density_g_per_ml
from silverwright.chemistry.recipe import Offer, dry_fraction
from silverwright.facts.load import UNSOURCED, fact, table
from silverwright.questions.ingredients import key_of, substance_or_unknown, tidy_unit
from silverwright.questions.strength import STOCK_UNIT, SaidUnit, asked, differs, readings_of, too_strong
from silverwright.questions.substances import SUBSTANCE, substance
from silverwright.records_chemistry import Substance
from silverwright.vocabulary_chemistry import STOCK_STRENGTH
from silverwright.vocabulary_shelf import LEFT_G, LEFT_ML

BOTTLE: Final = Words(help="How the bottle, bag or jar is called.", example="peroxide, the blue can", longest=80, label="Bottle")


class BottleRow(Record):
    """One bottle: its name, what is in it, how strong by its label, and how much is left; a solid needs no strength."""

    stock: Annotated[str, BOTTLE]
    substance: Annotated[str, SUBSTANCE]
    amount: Annotated[float | None, STOCK_STRENGTH] = None
    unit: Annotated[SaidUnit | None, STOCK_UNIT, BeforeValidator(tidy_unit)] = None
    left_ml: Annotated[float | None, LEFT_ML] = None
    left_g: Annotated[float | None, LEFT_G] = None


STOCKS: Final = Rows(
    row=BottleRow,
    help="What stands on the shelf, a line each: bottle, substance, strength and unit by the label, mL or g left. A solid needs no strength.",
    example="peroxide, the blue can; hydrogen peroxide; 35; % w/w; 800",
    label="Bottles at hand",
)


@dataclass(frozen=True, slots=True)
class Bottle:
    """A bottle as it is reckoned with: its mass fraction with its doubt as a share, and what is left."""

    name: str
    known: Substance
    fraction: float
    sd_share: float
    left_g: float | None
    celsius: float
    unclear: bool = False
    usual: str = ""  # who says so, where nobody named a bottle
    said: str = ""

    @property
    def solid(self) -> bool:
        """Whether it is weighed only."""
        return self.known.state == "solid" and self.fraction == 1

    @property
    def density_g_per_ml(self) -> float:
        """What a millilitre of it weighs."""
        return solution_density_g_per_ml([(self.known, self.fraction)], self.celsius)

    @property
    def offer(self) -> Offer:
        """What it offers, without crystal water."""
        return Offer(dry_fraction(self.fraction, self.known), self.left_g)


def _can_be(rows: tuple[BottleRow, ...]) -> tuple[BottleRow, ...]:
    for row in rows:
        if not row.stock or not row.substance:
            raise refuse("Each line needs the name of the bottle and what is in it.")
        known = substance(row.substance)
        if known is None or row.amount is None or _undiluted(row):
            continue
        unit = row.unit or "%"
        if fault := too_strong(row.substance, row.amount, unit):
            raise refuse(f"{row.stock}: {fault}")
        fractions = readings_of(known, row.amount, unit, ROOM)
        if unit == "%" and differs(fractions):
            raise refuse(f"{row.stock}: {asked(row.amount, 'It changes what you weigh by more than one part in fifty.')}")
        if row.amount == 0:
            raise refuse(f"{row.stock}: a strength of 0 is water. Give what the label says, or leave the line out.")
    return rows


ROOM: Final = 20.0  # our judgement: at room temperature a label is read
Stocks = Annotated[tuple[BottleRow, ...], STOCKS, AfterValidator(_can_be)]


def bottles_for(key: str, rows: Sequence[BottleRow], celsius: float) -> tuple[Bottle, ...]:
    """The bottles at hand that hold this substance, crystal water or not, in their order; without one, as it is usually sold."""
    part = substance_or_unknown(key)
    found = [row for row in rows if _dry_key(key_of(row.substance)) == _dry_key(part.key)]
    return tuple(_bottle(row, celsius) for row in found) or (usual_bottle(part, celsius),)


def usual_bottle(known: Substance, celsius: float) -> Bottle:
    """As it is usually sold: a solid as it is, a liquid at the strength of the table."""
    sold = next((row for row in table("sold") if row["substance"] == known.key), None)
    if sold is None:
        return Bottle(known.name, known, 1.0, 0.0, None, celsius, usual=UNSOURCED["trade"], said="undiluted" if known.state == "liquid" else "")
    unit = cast("SaidUnit", sold["unit"])
    fraction = readings_of(known, float(sold["amount"]), unit, celsius)[0]
    said = f"{sold['amount']} {unit}"
    return Bottle(
        f"{known.name}, {said}", known, fraction, fact("settable", "label_sd").value, None, celsius, usual=UNSOURCED[sold["kind"]], said=said
    )


def _bottle(row: BottleRow, celsius: float) -> Bottle:
    known = substance_or_unknown(row.substance)
    if row.amount is None or _undiluted(row):
        bottle = usual_bottle(known, celsius)
        return Bottle(
            row.stock, known, bottle.fraction, bottle.sd_share, row.left_g, celsius, usual=bottle.usual if bottle.said else "", said=bottle.said
        )
    unit = row.unit or "%"
    fractions = readings_of(known, row.amount, unit, celsius)
    middle = exp(sum(log(one) for one in fractions) / len(fractions))
    half = log(max(fractions) / min(fractions)) / 2
    density = solution_density_g_per_ml([(known, middle)], celsius)
    left_g = row.left_g if row.left_g is not None or row.left_ml is None else row.left_ml * density
    sd_share = (fact("settable", "label_sd").value ** 2 + (half / EIGHTY_PERCENT_SD) ** 2) ** 0.5 if middle < 1 else 0.0
    return Bottle(row.stock, known, middle, sd_share, left_g, celsius, unclear=differs(fractions), said=f"{row.amount:g} {unit}")


def _undiluted(row: BottleRow) -> bool:
    """Whether somebody wrote 100 % for a powder as it is."""
    return substance_or_unknown(row.substance).state == "solid" and row.amount == 100 and row.unit in {None, "%", "% w/w", "%, label unclear"}  # noqa: PLR2004 (percent)


def _dry_key(key: str) -> str:
    return substance_or_unknown(key).anhydrous or key
