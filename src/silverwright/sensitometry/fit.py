"""One line through the patches: each shape fitted, and the one chosen that best foretells a patch left out."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import isotonic_regression, least_squares

from silverwright.errors import NotEnoughReadings
from silverwright.sensitometry.prior import CurvePrior
from silverwright.sensitometry.shapes import DOUBLE_LOGISTIC, LOGISTIC, RICHARDS, Array, Shape, logistic

SPLINE: Final = "monotone spline"
FEWEST_PATCHES: Final = 5  # our judgement: four numbers describe the plainest S, and one patch must be left to contradict it
FEW_PATCHES: Final = 10  # our judgement (as planned): with fewer patches the plain logistic is the only line that is not bent by noise
CLOSE: Final = 1e-12  # arithmetic: a few digits short of what a float holds
MOST_TRIES: Final = 4000  # our judgement: ten times what the certified sets of NIST needed
SHAPES: Final = {shape.name: shape for shape in (LOGISTIC, RICHARDS, DOUBLE_LOGISTIC)}


@dataclass(frozen=True, slots=True)
class Patches:
    """What was read: log exposures in rising order, densities, and how sure both are (one standard deviation)."""

    exposure_log10: Array
    density: Array
    density_sd: float
    exposure_sd_log10: float = 0.0

    @property
    def sign(self) -> float:
        """-1 where density falls with exposure (direct positive), +1 where it rises (paper negative)."""
        return 1.0 if self.density @ (self.exposure_log10 - self.exposure_log10.mean()) > 0 else -1.0


@dataclass(frozen=True, slots=True)
class Line:
    """One curve through the patches: its name, its density, its ends, and how it missed each patch when that patch was left out."""

    shape: str
    density: Callable[[Array], Array]
    dmin: float
    dmax: float
    left_out: Array

    @property
    def left_out_rms(self) -> float:
        """The root mean square of what it missed, over the inner patches (an end left out would ask for a guess beyond the rest)."""
        return float(np.sqrt(np.mean(self.left_out[1:-1] ** 2)))


def refine(residuals: Callable[[Array], Array], start: Array) -> Array:
    """
    The parameters that miss the readings least.

    min over theta of sum residuals(theta)^2

    Args:
        residuals: What is missed at each reading, for parameters without bounds.
        start: Where to begin.

    Returns:
        The parameters at the minimum. Uncertainty: none of the arithmetic beyond ten digits; that of the readings is the sampler's.

    Source:
        common practice, no source (Levenberg and Marquardt).
    """
    best: Array = least_squares(residuals, start, method="lm", xtol=CLOSE, ftol=CLOSE, gtol=CLOSE, max_nfev=MOST_TRIES).x
    return best


def fit_shape(shape: Shape, patches: Patches, prior: CurvePrior) -> Line:
    """
    One shape through the patches, held by the prior where the patches say nothing.

    min over z of sum ((D_i - D(x_i)) / sd)^2 + sum z^2; left out: e_i / (1 - h_i)

    Args:
        shape: The family.
        patches: What was read. At least 5.
        prior: What is believed beforehand.

    Returns:
        The line. What a left-out patch would have missed comes from its leverage h_i at the minimum (linear in the parameters, so
        an approximation). Uncertainty: the sampler's, not this line's.

    Source:
        our judgement (the prior as further readings); leave-one-out by leverage: common practice, no source.
    """
    middles, sds = prior.of(shape.parameters)
    exposure, sign = patches.exposure_log10, patches.sign

    def missed(standard: Array) -> Array:
        density = shape.density(middles + sds * standard, exposure, sign)
        return np.concatenate([(patches.density - density) / patches.density_sd, standard])

    tried = (least_squares(missed, start, method="lm", max_nfev=MOST_TRIES) for start in _starts(shape, patches, prior))
    solved = min(tried, key=lambda one: one.cost)
    basis = np.linalg.qr(np.asarray(solved.jac, dtype=np.float64))[0][: len(exposure)]
    leverage = np.minimum((basis**2).sum(1), 1 - CLOSE)
    theta = middles + sds * solved.x
    net = float(np.exp(theta[1]))
    return Line(
        shape=shape.name,
        density=lambda at: shape.density(theta, at, sign),
        dmin=float(theta[0]),
        dmax=float(theta[0]) + net,
        left_out=solved.fun[: len(exposure)] * patches.density_sd / (1 - leverage),
    )


def _starts(shape: Shape, patches: Patches, prior: CurvePrior) -> list[Array]:
    """The middle of the prior, and for a richer shape the plain logistic through the patches: richer ones have several hollows."""
    nowhere = np.zeros(len(shape.parameters))
    if shape is LOGISTIC:
        return [nowhere]
    middles, sds = prior.of(LOGISTIC.parameters)

    def missed(standard: Array) -> Array:
        density = logistic(middles + sds * standard, patches.exposure_log10, patches.sign)
        return np.concatenate([(patches.density - density) / patches.density_sd, standard])

    plain = least_squares(missed, np.zeros(len(middles)), method="lm", max_nfev=MOST_TRIES).x
    return [np.concatenate([plain, np.zeros(len(shape.adds))]), nowhere]


def fit_spline(patches: Patches) -> Line:
    """
    A smooth line through the patches that never turns back, and says nothing beyond them.

    PCHIP over the isotonic regression of the densities

    Args:
        patches: What was read.

    Returns:
        The line; constant beyond the patches. What a left-out patch would have missed is found by leaving it out.

    Source:
        our judgement (the pair); PCHIP: from memory, unverified (Fritsch and Carlson 1980).
    """
    exposure, density, sign = patches.exposure_log10, patches.density, patches.sign
    whole = _spline(exposure, density, sign)
    inner = range(1, len(exposure) - 1)
    left_out = np.zeros(len(exposure))
    for index in inner:
        without = _spline(np.delete(exposure, index), np.delete(density, index), sign)
        left_out[index] = density[index] - float(without(exposure[index : index + 1])[0])
    ends = whole(np.array([exposure[0], exposure[-1]]))
    return Line(SPLINE, whole, float(ends.min()), float(ends.max()), left_out)


def _spline(exposure: Array, density: Array, sign: float) -> Callable[[Array], Array]:
    """The monotone spline; patches of one exposure count as one, with their mean."""
    places, which, times = np.unique(exposure, return_inverse=True, return_counts=True)
    means = np.bincount(which, weights=density) / times
    steady = isotonic_regression(means, weights=times, increasing=sign > 0).x
    line = PchipInterpolator(places, steady, extrapolate=False)
    return lambda at: line(np.clip(at, places[0], places[-1]))


def fit_all(patches: Patches, prior: CurvePrior) -> tuple[Line, ...]:
    """
    Every shape that may be drawn through so many patches.

    Args:
        patches: What was read. At least 5.
        prior: What is believed beforehand.

    Returns:
        The logistic alone with fewer than 10 patches; else the logistic, the double logistic and the monotone spline.

    Raises:
        NotEnoughReadings: fewer than 5 patches.

    Source:
        our judgement.
    """
    if len(patches.density) < FEWEST_PATCHES:
        raise NotEnoughReadings("patches", len(patches.density), FEWEST_PATCHES)
    if len(patches.density) < FEW_PATCHES:
        return (fit_shape(LOGISTIC, patches, prior),)
    return (fit_shape(DOUBLE_LOGISTIC, patches, prior), fit_spline(patches))


def choose(lines: tuple[Line, ...]) -> Line:
    """
    The line that foretells a left-out patch best.

    Args:
        lines: Fitted lines. At least one.

    Returns:
        The one with the smallest root mean square over left-out patches.

    Source:
        common practice, no source (leave-one-out).
    """
    return min(lines, key=lambda line: line.left_out_rms)


def steps_back(patches: Patches, above_sd: float) -> list[tuple[int, float]]:
    """
    Patches at which a falling curve rises again, or a rising one falls.

    s (D_best so far - D_i) > above_sd * sd * sqrt 2

    Args:
        patches: What was read.
        above_sd: From how many standard deviations of a difference on a step back is more than noise. [1]

    Returns:
        Index and density of each step back against the furthest patch before it. Uncertainty: sd sqrt 2.

    Source:
        our judgement.
    """
    along = patches.sign * patches.density
    back = np.maximum.accumulate(along) - along
    return [(int(index), float(back[index])) for index in np.flatnonzero(back > above_sd * patches.density_sd * np.sqrt(2))]
