"""Draws from what is known after the patches were seen: tempered sequential Monte Carlo, with numpy only."""

from collections.abc import Callable

import numpy as np

from silverwright.sensitometry.shapes import Array

KEEP_SHARE = 0.5  # our judgement: each step tempers until half of the particles still count
ACCEPTED_SHARE = 0.25  # our judgement: a random walk in a few dimensions mixes best when about every fourth step is taken
MOST_STEPS = 200  # our judgement: five times what the steepest curve with the finest reading needed


def sample(log_likelihood: Callable[[Array], Array], dimensions: int, seed: int, particles: int = 2000, moves: int = 20) -> Array:
    """
    Many curves, each as likely as the patches and the prior allow.

    Particles are drawn from the prior (unit normal in every dimension) and carried to the posterior through
    prior * likelihood^t, t from 0 to 1; each step resamples them (systematically) and moves each by a random walk of Metropolis
    whose covariance is that of the particles and whose length follows the accepted share.

    Args:
        log_likelihood: Logarithm of the likelihood of standardised parameters, one row for each particle.
        dimensions: How many parameters there are. [1] >= 1
        seed: The same seed gives the same draws.
        particles: How many. [1] 2000 with 20 moves gave calibrated intervals.
        moves: Moves of every particle at every step. [1] >= 1

    Returns:
        Standardised parameters, one row for each particle, equally weighted. Uncertainty: that of so many draws.

    Source:
        our judgement (own code after the usual scheme: Del Moral, Doucet and Jasra 2006, from memory, unverified).
    """
    random = np.random.default_rng(seed)
    standard = random.standard_normal((particles, dimensions))
    known = log_likelihood(standard)
    reached, length = 0.0, 2.38 / np.sqrt(dimensions)
    for _ in range(MOST_STEPS):
        more = _next_temper(known, 1.0 - reached, KEEP_SHARE * particles)
        weights = np.exp(more * (known - known.max()))
        chosen = _systematic(weights / weights.sum(), random)
        standard, known, reached = standard[chosen], known[chosen], reached + more
        spread = np.linalg.cholesky(np.cov(standard.T) + 1e-10 * np.eye(dimensions))
        for _ in range(moves):
            proposed = standard + length * random.standard_normal(standard.shape) @ spread.T
            would = log_likelihood(proposed)
            gain = reached * (would - known) - 0.5 * ((proposed**2).sum(1) - (standard**2).sum(1))
            taken = np.log(random.random(particles)) < gain
            standard[taken], known[taken] = proposed[taken], would[taken]
            length = float(np.clip(length * np.exp(taken.mean() - ACCEPTED_SHARE), 0.01, 3.0))
        if reached >= 1.0:
            break
    return standard


def _next_temper(known: Array, left: float, wanted: float) -> float:
    """The largest further tempering, at most what is left, at which so many particles still count."""

    def counting(more: float) -> float:
        weights = np.exp(more * (known - known.max()))
        return float(weights.sum() ** 2 / (weights**2).sum())

    if counting(left) >= wanted:
        return left
    low, high = 0.0, left
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if counting(middle) >= wanted else (low, middle)
    return high


def _systematic(weights: Array, random: np.random.Generator) -> np.ndarray:
    """Which particles live on, each about as often as its weight says."""
    places = (np.arange(len(weights)) + random.random()) / len(weights)
    return np.minimum(np.searchsorted(np.cumsum(weights), places), len(weights) - 1)
