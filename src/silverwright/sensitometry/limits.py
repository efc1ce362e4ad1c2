"""A figure with the limits between which it lies: counted from many likely curves, open where the patches end."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from silverwright.sensitometry.shapes import Array

REACHED_SHARE: Final = 0.9  # our judgement: an end counts as seen when nine of ten likely curves have it within the patches


@dataclass(frozen=True, slots=True)
class Limits:
    """A figure and its limits; an end that the patches do not show is open, and then there is no figure, only a bound."""

    value: float | None
    low: float | None
    high: float | None
    widened: bool = False


UNKNOWN: Final = Limits(None, None, None)


def between(value: float, draws: Array, percent: int) -> Limits:
    """
    The figure of the drawn line inside the limits of all likely curves.

    quantiles (1 - p)/2 and (1 + p)/2

    Args:
        value: The figure of the drawn line; where that has none, the middle of the likely curves stands for it.
        draws: The same figure of many equally likely curves; curves without it do not count.
        percent: How many of a hundred true values the limits hold. [%] 1 to 99

    Returns:
        Limits that hold the value. Where the drawn line lies outside those of the likely curves, they are widened to hold it.

    Source:
        our judgement.
    """
    known = draws[np.isfinite(draws)]
    half = 0.5 * percent / 100
    low, middle, high = (float(limit) for limit in np.quantile(known, [0.5 - half, 0.5, 0.5 + half]))
    shown = float(value) if np.isfinite(value) else middle
    return Limits(shown, min(low, shown), max(high, shown), widened=not low <= shown <= high)


def at_least(draws: Array, percent: int) -> Limits:
    """
    A figure of which only the lower bound was seen.

    Args:
        draws: That bound for many equally likely curves.
        percent: The bound is the lower limit of so many of a hundred. [%] 1 to 99

    Returns:
        Limits that are open above.

    Source:
        our judgement.
    """
    known = draws[np.isfinite(draws)]
    return Limits(None, float(np.quantile(known, 0.5 - 0.5 * percent / 100)), None) if len(known) else UNKNOWN


def at_most(draws: Array, percent: int) -> Limits:
    """
    A figure of which only the upper bound was seen.

    Args:
        draws: That bound for many equally likely curves.
        percent: The bound is the upper limit of so many of a hundred. [%] 1 to 99

    Returns:
        Limits that are open below.

    Source:
        our judgement.
    """
    known = draws[np.isfinite(draws)]
    return Limits(None, None, float(np.quantile(known, 0.5 + 0.5 * percent / 100))) if len(known) else UNKNOWN


def seen(inside: np.ndarray) -> bool:
    """
    Whether an end of the curve lies within the patches.

    Args:
        inside: For each likely curve, whether it does.

    Returns:
        Yes, when nine of ten say so.

    Source:
        our judgement.
    """
    return bool(inside.mean() >= REACHED_SHARE)
