"""Many states of the paper as likely as belief and sheets allow; what differs from sheet to sheet is added up exactly, not drawn."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from silverwright.sensitometry.belief import NUMBERS, Belief, Believed, believe
from silverwright.sensitometry.foretell import Readings, foretell
from silverwright.sensitometry.mode import Mode
from silverwright.sensitometry.sampler import sample
from silverwright.sensitometry.shapes import Array

DRAWS: Final = 3000  # our judgement: so many gave limits good to some hundredths of a stop in our trial
DRAWS_OF_MANY: Final = 1000  # our judgement: with many sheets all is nearly normal, and fewer do
MANY_SHEETS: Final = 12  # our judgement: from here on
FEWEST_SHARE: Final = 1 / 30  # our judgement: 100 of 3000 must count, else the slow sampler takes over
ENOUGH_SHARE: Final = 0.2  # our judgement: with fewer another round is worth its milliseconds
MORE_ROUNDS: Final = 2  # our judgement: what two rounds do not mend, a third does not
FREEDOM: Final = 7.0  # our judgement: tails of the proposal, heavier than any of the posterior's that we met
SLOW_PARTICLES: Final = 1000  # our judgement: the slow sampler's draws
SLOW_MOVES: Final = 12  # our judgement: its moves at each step


@dataclass(frozen=True, slots=True)
class Draws:
    """
    States with their weights (sum 1), and for each what is left open: mean and variance of sheets' speeds given the state.

    Given K of the sheets, `pull` is K^-1 E[u] and `narrowing` K^-1 - K^-1 Var[u] K^-1: a further sheet with covariance k has mean k' pull.
    """

    believed: Believed
    weights: Array
    pull: Array
    narrowing: Array
    effective_draws: float
    sampler: str

    def speed_of(self, shared: Array, own_variance: float) -> tuple[Array, Array]:
        """Mean and variance of the speed of a further sheet in each state, from its covariance with the sheets and its own variance. [stops]"""
        mean = self.pull @ shared
        variance = own_variance - np.einsum("j,sjk,k->s", shared, self.narrowing, shared, optimize=True)
        return mean, np.maximum(variance, 0.0)

    def together_of(self, shared: Array, other: Array, own_covariance: float) -> Array:
        """Covariance of two such speeds in each state, from what each has in common with the sheets and both with one another. [stops^2]"""
        together: Array = own_covariance - np.einsum("j,sjk,k->s", shared, self.narrowing, other, optimize=True)
        return together


@dataclass(frozen=True, slots=True)
class Summed:
    """For each state: logarithm of its likelihood, pull and narrowing as in `Draws`, and the mean speeds of the sheets."""

    log_likelihood: Array
    pull: Array
    narrowing: Array
    speed_stops: Array


def summed(standard: Array, speed_stops: Array, readings: Readings, belief: Belief, variance: Array) -> Summed:
    """
    How likely the readings are under each state, with the sheets' speeds integrated out.

    Around speeds u0 the readings are linear in u ~ N(0, K): with A = sum g^2/v and b = sum g r/v of each sheet, r = y - f + g u0,
    ln L = -1/2 (sum (ln v + r^2/v) - b' (K^-1 + A)^-1 b + ln |1 + K A|)

    Args:
        standard: Seven standard numbers, a row for each state. [1]
        speed_stops: Speeds u0 around which it is made linear, a row for each state. [stops]
        readings: What was read.
        belief: What is believed.
        variance: K, of the sheets' speeds. [stops^2]

    Returns:
        Likelihoods and what is needed to foretell a further sheet. Uncertainty: exact where readings are linear in a sheet's speed.

    Source:
        common practice, no source (normal effects integrated out).
    """
    foretold = foretell(believe(standard, belief), speed_stops, readings, belief)
    member, by = readings.member, foretold.by_speed
    missed = readings.value - foretold.value + by * (speed_stops @ member.T)
    weighed = by / foretold.variance
    known, toward = (weighed * by) @ member, (weighed * missed) @ member
    whole = (missed**2 / foretold.variance + np.log(foretold.variance)).sum(1)
    root = np.sqrt(known)
    inner = root[:, :, None] * variance * root[:, None, :]
    inner[:, range(len(variance)), range(len(variance))] += 1.0
    inverse = np.linalg.inv(inner)
    narrowing = root[:, :, None] * inverse * root[:, None, :]
    moved = toward @ variance
    speeds = moved - np.einsum("sjk,sk->sj", narrowing, moved) @ variance
    explained = np.einsum("sj,sj->s", toward, speeds)
    volume = np.linalg.slogdet(inner)[1] if len(variance) else 0.0
    return Summed(-0.5 * (whole - explained + volume), toward - known * speeds, narrowing, speeds)


def draw(mode: Mode, readings: Readings, belief: Belief, seed: int) -> Draws:
    """
    States by importance, around the mode, and again around what was drawn where few count; by the slow sampler where still too few do.

    Student's t with 7 degrees of freedom; weights prior x likelihood / proposal; effective = (sum w)^2 / sum w^2

    Args:
        mode: The most likely state.
        readings: What was read.
        belief: What is believed.
        seed: The same seed gives the same draws.

    Returns:
        Weighted states. Uncertainty: that of so many effective draws.

    Source:
        our judgement (importance draws: common practice, no source).
    """
    covariance = np.linalg.inv(mode.information).astype(np.float64)
    spread, variance = covariance[:NUMBERS, :NUMBERS], mode.root @ mode.root.T
    along = covariance[NUMBERS:, :NUMBERS] @ np.linalg.inv(spread)

    def likely(standard: Array) -> Summed:
        around = mode.speed_stops + (standard - mode.standard) @ along.T @ mode.root.T
        return summed(standard, around, readings, belief, variance)

    count = DRAWS if len(variance) <= MANY_SHEETS else DRAWS_OF_MANY
    random = np.random.default_rng(seed)
    best = _round(likely, mode.standard, spread, count, random)
    for _ in range(MORE_ROUNDS):
        if best.effective >= ENOUGH_SHARE * count:
            break
        again = _round(likely, *best.moments(spread), count, random)
        best = max(best, again, key=lambda one: one.effective)
    if best.effective >= FEWEST_SHARE * count:
        return Draws(believe(best.standard, belief), best.weights, best.found.pull, best.found.narrowing, best.effective, "importance")
    standard = sample(lambda states: likely(states).log_likelihood, NUMBERS, seed, SLOW_PARTICLES, SLOW_MOVES)
    found, weights = likely(standard), np.full(SLOW_PARTICLES, 1 / SLOW_PARTICLES)
    return Draws(believe(standard, belief), weights, found.pull, found.narrowing, best.effective, "slow")


@dataclass(frozen=True, slots=True)
class _Round:
    """One round of importance draws."""

    standard: Array
    found: Summed
    weights: Array

    @property
    def effective(self) -> float:
        """How many of them count in full."""
        return 1 / float((self.weights**2).sum())

    def moments(self, spread: Array) -> tuple[Array, Array]:
        """Where to draw next: half of the way from the old spread to that of the draws, weighted less sharply than they deserve."""
        soft = np.sqrt(self.weights)
        soft /= soft.sum()
        centre = soft @ self.standard
        off = self.standard - centre
        return centre, 0.5 * (spread + (soft[:, None] * off).T @ off)


def _round(likely: Callable[[Array], Summed], centre: Array, spread: Array, count: int, random: np.random.Generator) -> _Round:
    """Draws of a Student's t, weighted."""
    steps = random.standard_normal((count, NUMBERS)) * np.sqrt(FREEDOM / random.chisquare(FREEDOM, count))[:, None]
    standard = centre + steps @ np.linalg.cholesky(spread).T
    found = likely(standard)
    proposed = -0.5 * (FREEDOM + NUMBERS) * np.log1p((steps**2).sum(1) / FREEDOM)
    log_weights = found.log_likelihood - 0.5 * (standard**2).sum(1) - proposed
    weights = np.exp(log_weights - log_weights.max())
    return _Round(standard, found, weights / weights.sum())
