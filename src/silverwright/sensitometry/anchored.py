"""
A Richards curve held at one density: its first parameter is the log exposure that gives this density, so the answer is a parameter.

Parameters on the last axis, all without bounds: log exposure at the anchor, Dmin, ln of the net density, ln of the slope, ln of the power.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from silverwright.sensitometry.shapes import STEEPEST_LOG, Array

NARROWEST_SHARE: Final = 0.02  # our judgement: nearer than that to either end a curve is too flat to hold a tone; it is held there instead


@dataclass(frozen=True, slots=True)
class Tone:
    """A density told from the ends of the curve: fixed + dmin_share Dmin + net_share (Dmax - Dmin)."""

    fixed_density: float
    dmin_share: float = 0.0
    net_share: float = 0.0


@dataclass(frozen=True, slots=True)
class Place:
    """Where a tone lies on its curve: v = ln((1 + e^..)) turned round, and how it moves with Dmin, ln net and ln power."""

    value: Array
    by_dmin: Array
    by_log_net: Array
    by_log_power: Array


def place_of(theta: Array, tone: Tone) -> Place:
    """
    Where on the S a tone lies, counted from its middle in units of its slope.

    v = ln(f^(-1/a) - 1), f = (D - Dmin) / DN

    Args:
        theta: Parameters of one curve or of many (last axis).
        tone: The density.

    Returns:
        v and its derivatives. [1] Uncertainty: none from the formula; a tone beyond 2 % of either end is held there.

    Source:
        from memory, unverified (Richards 1959); the anchor is our judgement.
    """
    dmin, log_net, log_power = theta[..., 1], theta[..., 2], theta[..., 4]
    net, power = np.exp(np.clip(log_net, -STEEPEST_LOG, STEEPEST_LOG)), np.exp(np.clip(log_power, -STEEPEST_LOG, STEEPEST_LOG))
    own = (tone.fixed_density - (1 - tone.dmin_share) * dmin) / net
    wanted = own + tone.net_share
    share = np.clip(wanted, NARROWEST_SHARE, 1 - NARROWEST_SHARE)
    held = share == wanted
    depth = -np.log(share) / power
    by_depth = -1 / np.expm1(-depth)
    by_share = np.where(held, -by_depth / (share * power), 0.0)
    return Place(
        value=depth + np.log(-np.expm1(-depth)),
        by_dmin=by_share * -(1 - tone.dmin_share) / net,
        by_log_net=by_share * -own,
        by_log_power=-depth * by_depth,
    )


def density_and_slope(theta: Array, exposure_log10: Array, anchor: Tone, sign: float) -> tuple[Array, Array]:
    """
    Density and slope of many curves, each at exposures of its own.

    D = Dmin + DN (1 + e^v)^(-a), v = v_anchor - s k (x - x_anchor)

    Args:
        theta: Parameters, one row for each curve.
        exposure_log10: Log exposures, one row for each curve. [log10]
        anchor: The density at which x_anchor lies.
        sign: s: -1 falling (direct positive), +1 rising (paper negative).

    Returns:
        Densities, and density for each log10 of exposure. [1] Uncertainty: none from the formula.

    Source:
        from memory, unverified (Richards 1959); the anchor is our judgement.
    """
    net, slope, power = np.exp(np.minimum(theta[..., 2:], STEEPEST_LOG)).T
    steep = -sign * slope
    part = place_of(theta, anchor).value[..., None] + steep[..., None] * (exposure_log10 - theta[..., :1])
    soft = np.logaddexp(0.0, part)
    left = net[..., None] * np.exp(-power[..., None] * soft)
    return theta[..., 1:2] + left, left * np.expm1(-soft) * (power * steep)[..., None]


def density_gradient(theta: Array, exposure_log10: Array, anchor: Tone, sign: float) -> tuple[Array, Array, Array]:
    """
    Density of one curve with its derivatives.

    Args:
        theta: Five parameters.
        exposure_log10: Log exposures. [log10]
        anchor: The density at which x_anchor lies.
        sign: -1 falling, +1 rising.

    Returns:
        Densities, slopes, and a row of five derivatives for each exposure. [1] Uncertainty: none from the formula.

    Source:
        our judgement (arithmetic of `density_and_slope`).
    """
    density, slope = density_and_slope(theta, exposure_log10, anchor, sign)
    dmin, steepness, power = theta[1], float(np.exp(theta[3])), float(np.exp(theta[4]))
    place = place_of(theta, anchor)
    by_part = slope / (-sign * steepness)
    part = place.value - sign * steepness * (exposure_log10 - theta[0])
    left = density - dmin
    by_power = -power * left * np.logaddexp(0.0, part) + by_part * place.by_log_power
    columns = (
        -slope,
        1 + by_part * place.by_dmin,
        left + by_part * place.by_log_net,
        by_part * (part - place.value),
        by_power,
    )
    return density, slope, np.stack(columns, axis=-1)


def exposure_of(theta: Array, tone: Tone, anchor: Tone, sign: float) -> tuple[Array, Array]:
    """
    The log exposure that gives a tone.

    x = x_anchor + (v - v_anchor) / (-s k)

    Args:
        theta: Parameters of one curve or of many (last axis).
        tone: The density wanted.
        anchor: The density at which x_anchor lies.
        sign: -1 falling, +1 rising.

    Returns:
        Log exposures, and their five derivatives on a last axis. [log10] Uncertainty: none from the formula.

    Source:
        our judgement (the inverse of `density_and_slope`).
    """
    steep = -sign * np.exp(np.minimum(theta[..., 3], STEEPEST_LOG))
    there, held = place_of(theta, tone), place_of(theta, anchor)
    apart = (there.value - held.value) / steep
    columns = (
        np.ones_like(apart),
        (there.by_dmin - held.by_dmin) / steep,
        (there.by_log_net - held.by_log_net) / steep,
        -apart,
        (there.by_log_power - held.by_log_power) / steep,
    )
    return theta[..., 0] + apart, np.stack(columns, axis=-1)
