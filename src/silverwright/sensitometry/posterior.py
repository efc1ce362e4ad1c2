"""Many curves that the patches and the prior allow: what every interval of the curve is counted from."""

from dataclasses import dataclass

import numpy as np

from silverwright.sensitometry.fit import Patches
from silverwright.sensitometry.prior import CurvePrior
from silverwright.sensitometry.sampler import MOVES, PARTICLES, sample
from silverwright.sensitometry.shapes import DOUBLE_LOGISTIC, Array

NAMES = (*DOUBLE_LOGISTIC.parameters, "log_noise")


@dataclass(frozen=True, slots=True)
class Draws:
    """Equally likely curves: parameters of the double logistic (one row each), and the noise of one patch."""

    theta: Array
    noise: Array
    sign: float

    @property
    def dmin(self) -> Array:
        """The lowest density of every curve."""
        low: Array = self.theta[:, 0]
        return low

    @property
    def dmax(self) -> Array:
        """The highest density of every curve."""
        high: Array = self.theta[:, 0] + np.exp(self.theta[:, 1])
        return high

    def density(self, exposure_log10: Array) -> Array:
        """Densities: one row for each curve; exposures are one row for all, or a row for each."""
        return DOUBLE_LOGISTIC.density(self.theta, exposure_log10, self.sign)


def draw_curves(patches: Patches, prior: CurvePrior, seed: int, particles: int = PARTICLES, moves: int = MOVES) -> Draws:
    """
    Curves as likely as the patches and the prior allow: a double logistic with unknown noise.

    D_i ~ N(D(x_i), sigma^2 + (D'(x_i) sd_x)^2), sigma unknown

    Args:
        patches: What was read.
        prior: What is believed beforehand; `log_noise` is centred on the reading's own standard deviation.
        seed: The same seed gives the same curves.
        particles: How many curves. [1]
        moves: Moves of the sampler at every step. [1]

    Returns:
        The curves. Uncertainty: counted from them; calibrated against simulated truth.

    Source:
        our judgement.
    """
    middles, sds = prior.of(NAMES)
    standard = sample(lambda z: log_likelihood(middles + sds * z, patches), len(NAMES), seed, particles, moves)
    drawn = middles + sds * standard
    return Draws(theta=drawn[:, :-1], noise=np.exp(drawn[:, -1]), sign=patches.sign)


def log_likelihood(drawn: Array, patches: Patches) -> Array:
    """
    How well each curve with its noise explains the densities.

    sum of ln N(D_i; D(x_i), sigma^2 + (D(x_i + sd_x) - D(x_i))^2), without its constant

    Args:
        drawn: Parameters of the double logistic and ln sigma, one row for each curve.
        patches: What was read.

    Returns:
        One number for each curve. [1]

    Source:
        common practice, no source (normal errors).
    """
    density = DOUBLE_LOGISTIC.density(drawn[:, :-1], patches.exposure_log10, patches.sign)
    missed = density - patches.density
    log_noise = drawn[:, -1]
    if patches.exposure_sd_log10 == 0:
        plain: Array = -0.5 * np.exp(-2 * log_noise) * np.einsum("ij,ij->i", missed, missed) - len(patches.density) * log_noise
        return plain
    ahead = DOUBLE_LOGISTIC.density(drawn[:, :-1], patches.exposure_log10 + patches.exposure_sd_log10, patches.sign)
    variance = np.exp(2 * log_noise)[:, None] + (ahead - density) ** 2
    likelihood: Array = -0.5 * (missed**2 / variance + np.log(variance)).sum(1)
    return likelihood
