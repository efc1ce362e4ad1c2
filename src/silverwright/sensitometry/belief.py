"""What is believed of a paper before its sheets are seen, as seven standard numbers: curve, reciprocity, and drift with the bath's age."""

from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist
from typing import Final

import numpy as np

from silverwright.sensitometry.anchored import Tone
from silverwright.sensitometry.darkroom import Scatter
from silverwright.sensitometry.prior import Normal
from silverwright.sensitometry.shapes import Array

CURVE: Final = 5  # arithmetic: parameters of the curve; the exponent and the drift follow
NUMBERS: Final = CURVE + 2  # arithmetic
DIGITS: Final = 9  # our judgement: exponents are told apart to so many decimals
TABLES: Final = 8  # our judgement: so many exponents are asked for by turns
NEVER: Final = 1e-300  # arithmetic: the least chance that a float still holds with all digits
REACH_SD: Final = 8.0  # our judgement: beyond so many standard deviations nothing is believed
FINENESS: Final = 1600  # our judgement: places of the table, a hundredth of a standard deviation apart
SUREST_SD: Final = 1e-6  # our judgement: a figure that was typed as certain
_NORMAL: Final = NormalDist()


@dataclass(frozen=True, slots=True)
class Belief:
    """
    Normal beliefs. The exponent's is cut off at 1; the drift's is of its natural logarithm, in stops for each sheet through the bath.

    `misfit_density` is by how much the true curve of a paper leaves this family.
    """

    sign: float
    anchor: Tone
    anchor_log10: Normal
    dmin: Normal
    log_net: Normal
    log_slope: Normal
    log_power: Normal
    exponent: Normal
    threshold_s: float
    log_drift: Normal
    misfit_density: float
    scatter: Scatter

    @property
    def curve(self) -> tuple[Array, Array]:
        """Middles and standard deviations of the curve's parameters."""
        beliefs = (self.anchor_log10, self.dmin, self.log_net, self.log_slope, self.log_power)
        return np.array([one.value for one in beliefs]), np.array([one.sd for one in beliefs])


@dataclass(frozen=True, slots=True)
class Believed:
    """One state of the seven numbers, or many: curve, exponent, drift in stops a sheet, and how the last two move with their number."""

    theta: Array
    exponent: Array
    drift: Array
    exponent_by: Array
    drift_by: Array

    @property
    def loss(self) -> Array:
        """What a stop of time beyond the threshold loses: given time T amounts to Tm = T0 (T/T0)^(1/p), so 1 - 1/p. [stops]"""
        lost: Array = 1 - 1 / self.exponent
        return lost


def believe(standard: Array, belief: Belief) -> Believed:
    """
    Standard numbers, each 0 +- 1, as curve, exponent and drift.

    theta = middle + sd z; p = 1 + the cut normal's quantile at Phi(z); drift = e^(middle + sd z)

    Args:
        standard: Seven numbers on the last axis. [1]
        belief: What is believed.

    Returns:
        What they stand for. Uncertainty: the table of the cut normal is good to 1e-4 of its standard deviation.

    Source:
        our judgement.
    """
    middle, sd = belief.curve
    table = _cut_normal(round(belief.exponent.value, DIGITS), max(belief.exponent.sd, SUREST_SD))
    drift = np.exp(belief.log_drift.value + belief.log_drift.sd * np.clip(standard[..., CURVE + 1], -REACH_SD, REACH_SD))
    return Believed(
        theta=middle + sd * standard[..., :CURVE],
        exponent=np.interp(standard[..., CURVE], table[0], table[1]),
        drift=drift,
        exponent_by=np.interp(standard[..., CURVE], table[0], table[2]),
        drift_by=drift * belief.log_drift.sd,
    )


@lru_cache(maxsize=TABLES)
def _cut_normal(middle: float, sd: float) -> Array:
    """Standard numbers, the quantile of a normal cut off at 1 that each stands for, and its slope."""
    places = np.linspace(-REACH_SD, REACH_SD, FINENESS + 1)
    below = _NORMAL.cdf((1 - middle) / sd)
    quantiles = []
    for place in places:
        above = (1 - below) * _NORMAL.cdf(-place)  # counted from above, where a normal cut far up keeps its digits
        quantiles.append(max(1.0, middle - sd * _NORMAL.inv_cdf(max(above, NEVER))))
    found = np.array(quantiles)
    return np.stack([places, found, np.gradient(found, places)])
