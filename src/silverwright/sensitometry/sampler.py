"""Draws from what is known after the patches were seen: tempered sequential Monte Carlo, with numpy only."""

from collections.abc import Callable
from typing import Final

import numpy as np

from silverwright.sensitometry.shapes import Array

KEEP_SHARE: Final = 0.5  # our judgement: each step tempers until half of the particles still count
ACCEPTED_SHARE: Final = 0.25  # our judgement: a random walk in a few dimensions mixes best when about every fourth step is taken
MOST_STEPS: Final = 200  # our judgement: five times what the steepest curve with the finest reading needed
PARTICLES: Final = 2000  # our judgement: fewer were not calibrated in our trial
MOVES: Final = 20  # our judgement: fewer were not calibrated in our trial
FIRST_LENGTH: Final = 2.38  # from memory, common practice: best length of a random walk, over the root of the dimensions
LENGTHS: Final = (0.01, 3.0)  # our judgement: a walk shorter or longer than this has lost its way
HALVINGS: Final = 40  # arithmetic: finds a temper to 1e-12
NUDGE: Final = 1e-10  # our judgement: keeps a covariance invertible, and is far below any spread that matters


def sample(log_likelihood: Callable[[Array], Array], dimensions: int, seed: int, particles: int = PARTICLES, moves: int = MOVES) -> Array:
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
    reached, length = 0.0, FIRST_LENGTH / np.sqrt(dimensions)
    for _ in range(MOST_STEPS):
        more = _next_temper(known, 1.0 - reached, KEEP_SHARE * particles)
        weights = np.exp(more * (known - known.max()))
        chosen = _systematic(weights / weights.sum(), random)
        standard, known, reached = standard[chosen], known[chosen], reached + more
        spread = np.linalg.cholesky(np.cov(standard.T) + NUDGE * np.eye(dimensions))
        for _ in range(moves):
            proposed = standard + length * random.standard_normal(standard.shape) @ spread.T
            would = log_likelihood(proposed)
            gain = reached * (would - known) - 0.5 * ((proposed**2).sum(1) - (standard**2).sum(1))
            taken = np.log(random.random(particles)) < gain
            standard[taken], known[taken] = proposed[taken], would[taken]
            length = float(np.clip(length * np.exp(taken.mean() - ACCEPTED_SHARE), *LENGTHS))
        if reached >= 1.0:
            break
    return standard


def _next_temper(known: Array, left: float, wanted: float) -> float:
    """The largest further tempering, at most what is left, at which so many particles still count."""
    low, high = 0.0, left
    if _counting(known, left) >= wanted:
        return left
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _counting(known, middle) >= wanted else (low, middle)
    return high


def _counting(known: Array, temper: float) -> float:
    """How many particles count after further tempering: the square of the sum of their weights over the sum of their squares."""
    weights = np.exp(temper * (known - known.max()))
    return float(weights.sum() ** 2 / (weights**2).sum())


def _systematic(weights: Array, random: np.random.Generator) -> np.ndarray:
    """Which particles live on, each about as often as its weight says."""
    places = (np.arange(len(weights)) + random.random()) / len(weights)
    return np.minimum(np.searchsorted(np.cumsum(weights), places), len(weights) - 1)
