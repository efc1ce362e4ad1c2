"""What a bottle on the shelf holds: how strong it is by its label or its newest test, what is left, and what a part of it brings."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from math import exp
from typing import Any, Final, cast

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate
from silverwright.book.happenings import limits_percent_ww
from silverwright.book.models import Stock, StockTest
from silverwright.chemistry.decay import loss_ln_per_days, strength_after_percent, strength_after_sd_share
from silverwright.chemistry.density import solution_density_g_per_ml
from silverwright.chemistry.strength import mass_fraction
from silverwright.errors import OutOfRange
from silverwright.questions.ingredients import ROOM_CELSIUS, IngredientRow, contents_of, density_of, key_of, substance_or_unknown
from silverwright.records_chemistry import Contents, Strength, StrengthUnit, Substance

LABEL_SHARE: Final = 0.03  # our judgement: makers fill within a few hundredths of what the label says, a bottle some years old less well
MATTERS_SHARE: Final = 0.02  # our judgement: below a fiftieth nobody measures the difference
PERCENT: Final = 80  # our judgement (house rule): limits hold 80 of 100
DAY_S: Final = 86400.0  # arithmetic
UNCLEAR: Final = "%, label unclear"
AS_IT_IS: Final = "undiluted"


@dataclass(frozen=True, slots=True)
class Brought:
    """What comes into a bath, and its masses when the bottle is as weak or as strong as it may be."""

    contents: Contents
    low_g: dict[str, float]
    high_g: dict[str, float]


def assays(stock: Stock) -> list[StockTest]:
    """The strength tests of a bottle that count, in their order."""
    tests = [one for one in stock.tests.all() if one.archived_at is None and one.strength_percent_ww is not None]
    return sorted(tests, key=lambda one: (one.tested_at, one.pk))


def strength_percent_ww(stock: Stock, at: datetime | None = None) -> Estimate | None:
    """
    How strong it is by weight: as its newest test found, else as its label says; nothing where neither is known.

    From two tests on, what it lost between the last two goes on until the moment that is asked for.
    """
    tests = assays(stock)
    if not tests:
        return label_percent_ww(stock.substance, stock.strength, stock.strength_unit)
    newest = _found(tests[-1])
    if len(tests) == 1 or at is None:
        return newest
    before = _found(tests[-2])
    apart_days, ahead_days = _days(tests[-2].tested_at, tests[-1].tested_at), _days(tests[-1].tested_at, at)
    if min(apart_days, ahead_days, newest.value or 0.0, before.value or 0.0) <= 0:
        return newest
    return _carried_on(before, newest, apart_days, ahead_days)


def _carried_on(first: Estimate, second: Estimate, apart_days: float, ahead_days: float) -> Estimate:
    """The straight line through two tests, drawn on; nothing grows stronger by standing."""
    loss = max(0.0, loss_ln_per_days(first.value or 0.0, second.value or 0.0, apart_days))
    value = strength_after_percent(second.value or 0.0, loss, ahead_days)
    share = EIGHTY_PERCENT_SD * strength_after_sd_share(_sd_share(first), _sd_share(second), ahead_days / apart_days)
    return Estimate(value=value, low=value * exp(-share), high=min(100.0, value * exp(share)), percent=PERCENT)


def _found(test: StockTest) -> Estimate:
    """What a test found, with its limits."""
    value = test.strength_percent_ww or 0.0
    return Estimate(value=value, percent=PERCENT, **limits_percent_ww(value, test.low_percent_ww, test.high_percent_ww))


def _sd_share(found: Estimate) -> float:
    return ((found.high or 0.0) - (found.low or 0.0)) / 2 / EIGHTY_PERCENT_SD / (found.value or 1.0)


def _days(earlier: datetime, later: datetime) -> float:
    return (later - earlier).total_seconds() / DAY_S


def label_percent_ww(substance: str, amount: float | None, unit: str) -> Estimate | None:
    """What a label says, by weight; one that leaves open whether it means weight or volume lies between both."""
    if unit == AS_IT_IS:
        return Estimate(value=100.0, low=100 * (1 - LABEL_SHARE), high=100.0, percent=PERCENT)
    both = readings(substance, amount, unit)
    if not both:
        return None
    low, high = min(both) * (1 - LABEL_SHARE), min(100.0, max(both) * (1 + LABEL_SHARE))
    return Estimate(value=sum(both) / len(both), low=low, high=high, percent=PERCENT)


def readings(substance: str, amount: float | None, unit: str) -> tuple[float, ...]:
    """Every strength in % by weight that a label can mean: one, or two where it says % only; none where it cannot be."""
    units = ("% w/w", "% w/v") if unit == UNCLEAR else (unit,)
    if amount is None or unit in {"not stated", AS_IT_IS}:
        return ()
    one = substance_or_unknown(substance)
    found = []
    for written in units:
        try:
            found.append(100 * mass_fraction(Strength(amount, cast("StrengthUnit", written)), one, ROOM_CELSIUS))
        except OutOfRange:
            continue
    return tuple(found)


def unclear(stock: Stock) -> bool:
    """Whether it matters for this bottle that its label does not say by weight or by volume."""
    both = readings(stock.substance, stock.strength, stock.strength_unit)
    return not assays(stock) and len(both) > 1 and abs(both[0] / both[1] - 1) > MATTERS_SHARE


def said(stock: Stock) -> str:
    """`35 %, label unclear`, `12 % w/w`, `undiluted`: as its label has it."""
    if stock.strength is None:
        return "" if stock.strength_unit == "not stated" else stock.strength_unit
    return f"{stock.strength:g} {stock.strength_unit}".replace("volumes", "volumes of oxygen")


def left_in(stock: Stock, at: datetime | None = None) -> Contents | None:
    """What is left in a bottle, as contents; nothing where nobody knows how much, or how strong it is."""
    amount, unit = (stock.left_ml, "mL") if stock.left_ml is not None else (stock.left_g, "g")
    return None if amount is None or not (stock.ingredients or strength_percent_ww(stock)) else brought_by(stock, amount, unit, at).contents


def brought_by(stock: Stock, amount: float, unit: str, at: datetime | None = None) -> Brought:
    """What so many grams or millilitres of a bottle bring; of a product nobody knows what is in it, it counts under its own name."""
    if stock.ingredients:
        rows = [IngredientRow.model_validate(row) for row in stock.ingredients]
        return _by_share(contents_of(rows, 1000.0), amount, unit)
    strength = strength_percent_ww(stock, at)
    one = substance_or_unknown(stock.substance)
    if strength is None or strength.value is None:
        return _by_share(Contents(1000.0, {key_of(stock.substance): 1000.0}), amount, unit)
    masses = {end: _mass_g(one, (part or 0.0) / 100, amount, unit) for end, part in strength if end in {"value", "low", "high"}}
    volume_ml = amount if unit == "mL" else amount / _density(one, strength.value / 100)
    solid = one.state == "solid" and stock.strength_unit == AS_IT_IS
    return Brought(Contents(0.0 if solid else volume_ml, {one.key: masses["value"]}), {one.key: masses["low"]}, {one.key: masses["high"]})


def together(parts: Sequence[Brought], volume_ml: float) -> dict[str, Any]:
    """All that came in, as the book keeps it: masses with their limits in so much of it."""
    mass_g: dict[str, list[float]] = {}
    for part in parts:
        for key, mass in part.contents.mass_g.items():
            before = mass_g.setdefault(key, [0.0, 0.0, 0.0])
            mass_g[key] = [before[0] + mass, before[1] + part.low_g.get(key, mass), before[2] + part.high_g.get(key, mass)]
    return {"volume_ml": volume_ml, "mass_g": {key: {"value": v, "low": low, "high": high} for key, (v, low, high) in mass_g.items()}}


def _by_share(litre: Contents, amount: float, unit: str) -> Brought:
    """A part of a litre of a product."""
    volume_ml = amount if unit == "mL" else amount / density_of(litre)
    masses = {key: mass_g * volume_ml / litre.volume_ml for key, mass_g in litre.mass_g.items()}
    low, high = ({key: mass * (1 + way * LABEL_SHARE) for key, mass in masses.items()} for way in (-1, 1))
    return Brought(Contents(volume_ml, masses), low, high)


def _mass_g(one: Substance, fraction: float, amount: float, unit: str) -> float:
    return fraction * amount * (_density(one, fraction) if unit == "mL" else 1.0)


@lru_cache(maxsize=1000)
def _density(one: Substance, fraction: float) -> float:
    return solution_density_g_per_ml([(one, fraction)], ROOM_CELSIUS)
