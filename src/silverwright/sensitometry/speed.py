"""Points of a characteristic curve, its range and its indices; derived from ISO 6846 and ISO 2240, not ISO."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from silverwright.sensitometry.shapes import Array

BEYOND_LOG10: Final = 4.0  # our judgement: no curve of ours reaches its ends further away from the patches; only a bound for the search
HALVINGS: Final = 48  # arithmetic: halves ten decades down to less than 1e-13


@dataclass(frozen=True, slots=True)
class Rules:
    """
    The figures that define the points, as densities over Dmin and as part of the net density, and those of the indices.

    `_lx_s`: the exposure that belongs to an index of 1.
    """

    near_dmin: float
    part_of_net_factor: float
    grey_density: float
    speed_over_dmin: float
    camera_lx_s: float
    reversal_lx_s: float
    paper_lx_s: float


@dataclass(frozen=True, slots=True)
class Curves:
    """Curves to be read off: one, or many that are equally likely. `density` takes one exposure for each curve."""

    density: Callable[[Array], Array]
    dmin: Array
    dmax: Array
    sign: float
    first_log10: float
    last_log10: float


@dataclass(frozen=True, slots=True)
class Points:
    """What was read off each curve; not a number where a curve has no such point."""

    dmin: Array
    dmax: Array
    low_log10: Array
    high_log10: Array
    middle_log10: Array
    speed_log10: Array

    @property
    def range_log10(self) -> Array:
        """From the first to the last usable exposure."""
        return self.high_log10 - self.low_log10


def find_points(curves: Curves, rules: Rules) -> Points:
    """
    Where the paper still tells shadows apart, where highlights, and where a grey lies.

    D = Dmin + 0.04 and D = Dmin + 0.90 (Dmax - Dmin): the usable ends; D = 0.745: the middle; D = Dmin + 0.60: the speed point

    Args:
        curves: What to read.
        rules: The figures above.

    Returns:
        Log exposures, `low_log10` the smaller end: the shadow point of a scene, `high_log10` its highlight point, for falling and
        for rising curves alike. [log10] Uncertainty: read the same off many likely curves.

    Source:
        iso6846, from memory, unverified (net reading of the 90 %); stroebel1993, p. 679; our judgement (the ends named for a direct positive).
    """
    net = curves.dmax - curves.dmin
    thin = log10_at(curves, curves.dmin + rules.near_dmin)
    dense = log10_at(curves, curves.dmin + rules.part_of_net_factor * net)
    low, high = (thin, dense) if curves.sign > 0 else (dense, thin)
    return Points(
        dmin=curves.dmin,
        dmax=curves.dmax,
        low_log10=low,
        high_log10=high,
        middle_log10=log10_at(curves, np.full_like(net, rules.grey_density)),
        speed_log10=log10_at(curves, curves.dmin + rules.speed_over_dmin),
    )


def log10_at(curves: Curves, density: Array) -> Array:
    """
    The log exposure that gives this density.

    D(x) = density, by halving

    Args:
        curves: What to read.
        density: One for each curve. [1]

    Returns:
        Log exposures; not a number where the curve does not come so high or so low. [log10] Uncertainty: below 1e-12 of the search.

    Source:
        common practice, no source (bisection).
    """
    low = np.full_like(density, curves.first_log10 - BEYOND_LOG10)
    high = np.full_like(density, curves.last_log10 + BEYOND_LOG10)
    there = (curves.sign * (density - curves.density(low)) >= 0) & (curves.sign * (curves.density(high) - density) >= 0)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        before = curves.sign * (density - curves.density(middle)) > 0
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    return np.where(there, 0.5 * (low + high), np.nan)


def index_at(exposure_log10: Array, unity_lx_s: float) -> Array:
    """
    The index that belongs to the exposure of one point of the curve.

    EI = c / H; c = q K = 8.125 for the camera (q 0.65, K 12.5), 10 in the manner of ISO 2240, 1000 for a paper's speed

    Args:
        exposure_log10: Log exposure at that point, in lux seconds. [log10] any
        unity_lx_s: c, the exposure that belongs to an index of 1. [lx s] > 0

    Returns:
        The index. [EI] Uncertainty: that of the exposure.

    Source:
        our judgement for the camera (the meter's own equation, so that the ledger gives a metered grey this very exposure); the
        others: iso2240 and iso6846, from memory, unverified.
    """
    index: Array = unity_lx_s / 10.0**exposure_log10
    return index


def average_gradient(points: Points, rules: Rules) -> Array:
    """
    How hard the paper works between its two ends.

    (0.90 DN - 0.04) / range

    Args:
        points: What was read off.
        rules: The figures that define the points.

    Returns:
        Density for each log10 of exposure. [1] Uncertainty: read off many likely curves.

    Source:
        iso6846, from memory, unverified.
    """
    gradient: Array = (rules.part_of_net_factor * (points.dmax - points.dmin) - rules.near_dmin) / points.range_log10
    return gradient
