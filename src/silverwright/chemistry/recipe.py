"""From a recipe to what is taken from each bottle: by weight, crystal water reckoned with, and the water that makes it up."""

from collections.abc import Sequence
from dataclasses import dataclass

from silverwright.errors import OutOfRange
from silverwright.records_chemistry import Substance


@dataclass(frozen=True, slots=True)
class Offer:
    """A bottle at hand: which part of its mass is the substance without crystal water, and how much of it is left where that is known."""

    dry_fraction: float
    left_g: float | None = None


@dataclass(frozen=True, slots=True)
class Shares:
    """What is taken from each bottle, and how much of the substance, without crystal water, none of them gives."""

    taken_g: tuple[float, ...]
    missing_g: float


def dry_fraction(fraction: float, substance: Substance) -> float:
    """
    Which part of a bottle's mass is the substance without its crystal water.

    w (1 - share of crystal water)

    Args:
        fraction: Mass fraction as its name says it, crystal water counted with it. [1] 0 to 1
        substance: What is in the bottle.

    Returns:
        Mass fraction without crystal water. [1]. Uncertainty: crystals that have dried or taken up water.

    Raises:
        OutOfRange: a fraction that is not within 0 to 1.

    Source:
        ciaaw2021, standard atomic weights.
    """
    if not 0 <= fraction <= 1:
        raise OutOfRange("fraction", fraction, "0 to 1")
    return fraction * (1 - substance.crystal_water_share)


def shares_g(dry_g: float, offers: Sequence[Offer]) -> Shares:
    """
    How much is taken from each of several bottles of one substance.

    m_i = min(left_i, what is missing / w_i), one bottle after the other

    Args:
        dry_g: How much of the substance is needed, without crystal water. [g] >= 0
        offers: The bottles, in the order in which they are used up.

    Returns:
        What is taken from each, and what is missing. [g]. Uncertainty: the strength of each bottle.

    Raises:
        OutOfRange: an amount below 0.

    Source:
        our judgement (which bottle comes first is for the photographer).
    """
    if not dry_g >= 0:
        raise OutOfRange("dry_g", dry_g, "0 or more")
    taken, missing_g = [], dry_g
    for one in offers:
        wanted_g = missing_g / one.dry_fraction if one.dry_fraction > 0 else 0.0
        from_it_g = wanted_g if one.left_g is None else min(wanted_g, one.left_g)
        taken.append(from_it_g)
        missing_g = 0.0 if from_it_g == wanted_g and one.dry_fraction > 0 else missing_g - from_it_g * one.dry_fraction
    return Shares(tuple(taken), max(0.0, missing_g))


def water_to_add_g(whole_g: float, taken_g: Sequence[float]) -> float:
    """
    How much water makes up the rest.

    m_water = m - sum m_i

    Args:
        whole_g: Mass of the whole solution. [g] >= 0
        taken_g: What is taken from each bottle. [g] >= 0

    Returns:
        Water to add; below 0 where the bottles are too weak for what is wanted. [g]. Uncertainty: the density of the whole.

    Source:
        our judgement (that masses add up, and volumes do not).
    """
    return whole_g - sum(taken_g)


def strongest_share(whole_g: float, taken_g: Sequence[float]) -> float:
    """
    How much of what is wanted can be had from these bottles, when no water at all is added.

    min(1, m / sum m_i)

    Args:
        whole_g: Mass of the whole solution. [g] >= 0
        taken_g: What would be taken from each bottle. [g] >= 0

    Returns:
        Share of every part of the recipe that can be reached. [1] 0 to 1. Uncertainty: the strengths.

    Source:
        our judgement.
    """
    together_g = sum(taken_g)
    return 1.0 if together_g <= whole_g else whole_g / together_g


def naive_ml(wanted_amount: float, stock_amount: float, volume_ml: float) -> float:
    """
    How much stock the rule of three in volumes would take.

    V1 = V c2 / c1, both in the same unit: right for grams in a litre, wrong for percent by weight

    Args:
        wanted_amount: Strength that is wanted. [1] >= 0, in the unit of the other
        stock_amount: Strength of the stock. [1] > 0
        volume_ml: Volume that is wanted. [mL] >= 0

    Returns:
        Stock by that rule. [mL]. Uncertainty: its error is what the answer shows.

    Raises:
        OutOfRange: a stock of no strength.

    Source:
        common practice, no source.
    """
    if not stock_amount > 0:
        raise OutOfRange("stock_amount", stock_amount, "above 0")
    return volume_ml * wanted_amount / stock_amount
