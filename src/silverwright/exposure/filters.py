"""Filters in front of the lens: factor, stops and density say the same thing."""

from collections.abc import Sequence
from math import log2, log10, prod

from silverwright.errors import OutOfRange


def filter_stops(factor: float) -> float:
    """
    A filter factor in stops.

    log2(factor)

    Args:
        factor: How many times longer the filter asks for. [1] >= 1

    Returns:
        Stops to add. [stops] >= 0. Uncertainty: published factors are rounded to thirds of a stop, and hold for panchromatic film only.

    Raises:
        OutOfRange: factor below 1.

    Source:
        wikipedia-filter-factor, table.
    """
    if not factor >= 1:
        raise OutOfRange("factor", factor, "1 or more")
    return log2(factor)


def filter_density(factor: float) -> float:
    """
    The density of a neutral filter that asks for this factor.

    D = log10(factor)

    Args:
        factor: How many times longer the filter asks for. [1] >= 1

    Returns:
        Density. [log10] >= 0. Uncertainty: none from the formula.

    Raises:
        OutOfRange: factor below 1.

    Source:
        wikipedia-filter-factor, neutral density.
    """
    if not factor >= 1:
        raise OutOfRange("factor", factor, "1 or more")
    return log10(factor)


def factor_from_density(density: float) -> float:
    """
    The factor of a neutral filter of this density.

    factor = 10^D

    Args:
        density: Density of the filter. [log10] >= 0

    Returns:
        How many times longer. [1] >= 1. Uncertainty: none from the formula.

    Raises:
        OutOfRange: density below 0.

    Source:
        wikipedia-filter-factor, neutral density.
    """
    if density < 0:
        raise OutOfRange("density", density, "0 or more")
    return float(10**density)


def combined_factor(factors: Sequence[float]) -> float:
    """
    Several filters together: factors multiply, stops and densities add.

    Args:
        factors: The factor of each filter; none is a factor of 1. [1] each >= 1

    Returns:
        How many times longer. [1] >= 1. Uncertainty: reflections between the glasses are neglected.

    Raises:
        OutOfRange: a factor below 1.

    Source:
        wikipedia-filter-factor, table.
    """
    for factor in factors:
        filter_stops(factor)
    return prod(factors)
