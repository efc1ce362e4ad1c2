"""
Shapes of a characteristic curve: density over log exposure, falling (direct positive) or rising (paper negative) by one sign.

Every shape takes its parameters as an array whose last axis holds them in the order that `PARAMETERS` names, all without bounds:
Dmin, the logarithm of the net density, the middle in log10 exposure, the logarithm of the slope, and what the shape adds.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

PARAMETERS: Final = ("dmin", "log_net", "middle_log10", "log_slope")
STEEPEST_LOG: Final = 30.0  # our judgement: e to this is a cliff; beyond it the arithmetic would overflow


@dataclass(frozen=True, slots=True)
class Shape:
    """One family of curves: its name, what it adds to the four common parameters, and its formula."""

    name: str
    adds: tuple[str, ...]
    density: Callable[[Array, Array, float], Array]

    @property
    def parameters(self) -> tuple[str, ...]:
        """The names of all its parameters, in their order."""
        return PARAMETERS + self.adds


def sigmoid(part: Array) -> Array:
    """
    The plain S between nothing and everything.

    1 / (1 + e^-v) = (1 + tanh(v/2)) / 2

    Args:
        part: v. [1] any

    Returns:
        0 to 1. Uncertainty: none.

    Source:
        common practice, no source (the logistic function, written so that nothing overflows).
    """
    smooth: Array = 0.5 + 0.5 * np.tanh(0.5 * part)
    return smooth


def _common(theta: Array) -> tuple[Array, Array, Array, Array]:
    """Dmin, net density, middle and slope, each with an axis for the exposures."""
    dmin, log_net, middle, log_slope = _columns(theta)[:4]
    return dmin, np.exp(np.minimum(log_net, STEEPEST_LOG)), middle, np.exp(np.minimum(log_slope, STEEPEST_LOG))


def _columns(theta: Array) -> Array:
    """The parameters of one curve or of many, one after the other, each with an axis for the exposures."""
    return theta.T[..., None]


def logistic(theta: Array, exposure_log10: Array, sign: float) -> Array:
    """
    The plain S: as long in the shadows as in the highlights.

    D = Dmin + DN / (1 + e^(-s k (x - x0)))

    Args:
        theta: Dmin, ln DN, x0, ln k on the last axis. [density, 1, log10, 1] any
        exposure_log10: Log exposures x. [log10] any
        sign: s: -1 for a falling curve (direct positive), +1 for a rising one (paper negative).

    Returns:
        Densities, one row for each set of parameters. [1] Uncertainty: none from the formula; that of the parameters is the sampler's.

    Source:
        common practice, no source (four-parameter logistic).
    """
    dmin, net, middle, slope = _common(theta)
    return dmin + net * sigmoid(sign * slope * (exposure_log10 - middle))


def richards(theta: Array, exposure_log10: Array, sign: float) -> Array:
    """
    The S with one end longer than the other.

    D = Dmin + DN (1 + e^(-s k (x - x0)))^(-a)

    Args:
        theta: Dmin, ln DN, x0, ln k, ln a on the last axis. [density, 1, log10, 1, 1] any
        exposure_log10: Log exposures x. [log10] any
        sign: s: -1 falling, +1 rising.

    Returns:
        Densities, one row for each set of parameters. [1] Uncertainty: none from the formula.

    Source:
        from memory, unverified (Richards 1959).
    """
    dmin, net, middle, slope = _common(theta)
    (log_power,) = _columns(theta)[4:]
    power = np.exp(np.minimum(log_power, STEEPEST_LOG))
    density: Array = dmin + net * np.exp(-power * np.logaddexp(0.0, -sign * slope * (exposure_log10 - middle)))
    return density


def double_logistic(theta: Array, exposure_log10: Array, sign: float) -> Array:
    """
    Two S on top of each other, as of two emulsions in one paper: every shoulder and toe that we met.

    D = Dmin + DN (w / (1 + e^(-k1 v1)) + (1 - w) / (1 + e^(-k2 v2))),
    v1 = s (x - x0) + (1 - w) d / k, v2 = s (x - x0) - w d / k, k1 = k e^(r/2), k2 = k e^(-r/2)

    Args:
        theta: Dmin, ln DN, x0, ln k, r (log ratio of the two slopes), ln d (their distance, in units of 1/k), logit w (share of
            the first). [density, 1, log10, 1, 1, 1, 1] any
        exposure_log10: Log exposures x. [log10] any
        sign: s: -1 falling, +1 rising.

    Returns:
        Densities, one row for each set of parameters. [1] Uncertainty: none from the formula.

    Source:
        our judgement (a sum of two logistics, whose weighted middle keeps the parameters apart).
    """
    dmin, net, middle, slope = _common(theta)
    ratio, log_apart, logit_share = _columns(theta)[4:]
    share = sigmoid(logit_share)
    apart = np.exp(np.minimum(log_apart, STEEPEST_LOG)) / slope
    steeper = np.exp(np.clip(0.5 * ratio, -STEEPEST_LOG, STEEPEST_LOG))
    first = _wave(slope * steeper, middle - sign * (1 - share) * apart, exposure_log10, sign)
    second = _wave(slope / steeper, middle + sign * share * apart, exposure_log10, sign)
    first *= 0.5 * net * share
    second *= 0.5 * net * (1 - share)
    first += second
    first += dmin + 0.5 * net
    return first


def _wave(slope: Array, middle: Array, exposure_log10: Array, sign: float) -> Array:
    """tanh(s k (x - m) / 2), worked in place: the sampler asks for it half a million times, and fresh arrays cost more than the tanh."""
    half = 0.5 * sign * slope
    wave: Array = half * exposure_log10
    wave -= half * middle
    return np.tanh(wave, out=wave)


LOGISTIC: Final = Shape("logistic", (), logistic)
RICHARDS: Final = Shape("Richards", ("log_power",), richards)
DOUBLE_LOGISTIC: Final = Shape("double logistic", ("log_slope_ratio", "log_apart", "logit_share"), double_logistic)
