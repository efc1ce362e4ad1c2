"""The most likely state of a darkroom, and how surely it is known near there: Gauss-Newton on curve and sheets together."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from silverwright.sensitometry.belief import NUMBERS, Belief
from silverwright.sensitometry.darkroom import Darkroom, own_variance, shared_variance
from silverwright.sensitometry.foretell import Readings, readings_of, with_gradient
from silverwright.sensitometry.shapes import Array

MOST_STEPS: Final = 60  # our judgement: ten times what was needed
SMALLEST_STEP: Final = 1e-4  # our judgement: a ten thousandth of a standard deviation; the draws repair the rest
FIRST_DAMPING: Final = 1e-3  # our judgement: nearly a whole step
LARGEST_DAMPING: Final = 100.0  # our judgement: no step that small helps any more
MORE_FACTOR: Final = 10.0  # common practice: more damping after a step that did not help
LESS_FACTOR: Final = 0.2  # our judgement: less after one that did
FIRST_PLACES: Final = 17  # our judgement: speeds tried before the first step, a third of a standard deviation apart
FIRST_REACH_SD: Final = 4.0  # our judgement: no paper lies further out


@dataclass(frozen=True, slots=True)
class Mode:
    """
    The most likely state: seven standard numbers, then one for each sheet; sheets' speeds are `root` times theirs.

    `missed` are the readings less what is foretold, over their standard deviation, and `rows` their derivatives with respect to the state;
    `by_speed` how each reading moves with a stop of its own speed, where it is of a sheet or not.
    """

    state: Array
    root: Array
    missed: Array
    rows: Array
    by_speed: Array
    sds: Array

    @property
    def standard(self) -> Array:
        """The seven numbers of curve, exponent and drift."""
        seven: Array = self.state[:NUMBERS]
        return seven

    @property
    def speed_stops(self) -> Array:
        """By how much each sheet is faster than the paper."""
        speeds: Array = self.root @ self.state[NUMBERS:]
        return speeds

    @property
    def information(self) -> Array:
        """Inverse of the covariance of the state, to first order."""
        known: Array = np.eye(len(self.state)) + self.rows.T @ self.rows
        return known


def find_mode(seen: Darkroom, belief: Belief) -> tuple[Mode, Readings]:
    """
    The state under which belief and readings together are most likely.

    min sum ((y_i - f_i) / s_i)^2 + sum ln s_i^2 + |z|^2, s_i by the slope at the state; steps of Gauss and Newton, damped

    Args:
        seen: Sheets with their patches and judgements. May be empty.
        belief: What is believed beforehand.

    Returns:
        The mode and the readings as columns. Uncertainty: `Mode.information`, to first order only.

    Source:
        common practice, no source (Levenberg and Marquardt).
    """
    readings, root = readings_of(seen, belief), root_of(seen, belief)
    state = _start(readings, root, belief)
    cost, now = _looked_at(state, root, readings, belief)
    damping = FIRST_DAMPING
    for _ in range(MOST_STEPS):
        information = now.information
        toward = state + now.rows.T @ -now.missed
        step = -np.linalg.solve(information + damping * np.diag(np.diag(information)), toward)
        would, there = _looked_at(state + step, root, readings, belief)
        if would <= cost:
            state, cost, now, damping = state + step, would, there, damping * LESS_FACTOR
        else:
            damping *= MORE_FACTOR
        if np.abs(step).max() < SMALLEST_STEP or damping > LARGEST_DAMPING:
            break
    return now, readings


def mode_at(state: Array, seen: Darkroom, belief: Belief) -> tuple[Mode, Readings]:
    """
    A state as if it were the mode: for sheets that are only imagined, and show what is foretold of them.

    Args:
        state: Seven standard numbers, then one for each sheet. [1]
        seen: Sheets with their patches and judgements.
        belief: What is believed beforehand.

    Returns:
        The state with its residuals and derivatives, and the readings as columns.

    Source:
        our judgement (arithmetic).
    """
    readings, root = readings_of(seen, belief), root_of(seen, belief)
    return _looked_at(state, root, readings, belief)[1], readings


def root_of(seen: Darkroom, belief: Belief) -> Array:
    """
    The lower root of the covariance of the sheets' speeds.

    Args:
        seen: Sheets.
        belief: Their scatter.

    Returns:
        L with L L' = K. [stops]

    Source:
        common practice, no source (Cholesky).
    """
    variance = shared_variance(seen.sheets, seen.sheets, belief.scatter) + np.diag(own_variance(seen.sheets, belief.scatter))
    return np.linalg.cholesky(variance).astype(np.float64) if seen.sheets else np.zeros((0, 0))


def _start(readings: Readings, root: Array, belief: Belief) -> Array:
    """The best of several speeds with everything else as believed."""
    best, least = np.zeros(NUMBERS + len(root)), np.inf
    if not readings.count:
        return best
    for place in np.linspace(-FIRST_REACH_SD, FIRST_REACH_SD, FIRST_PLACES):
        state = np.zeros_like(best)
        state[0] = place
        cost, _ = _looked_at(state, root, readings, belief)
        if cost < least:
            best, least = state, cost
    return best


def _looked_at(state: Array, root: Array, readings: Readings, belief: Belief) -> tuple[float, Mode]:
    """How unlikely a state is, and the state with its residuals and their derivatives (of what is foretold)."""
    foretold, gradient = with_gradient(state[:NUMBERS], root @ state[NUMBERS:], readings, belief)
    sds = np.sqrt(foretold.variance)
    missed = (readings.value - foretold.value) / sds
    by_sheet = (foretold.by_speed[:, None] * readings.member) @ root
    rows = np.concatenate([gradient, by_sheet], axis=1) / sds[:, None]
    cost = 0.5 * float(missed @ missed + state @ state) + float(np.log(sds).sum())
    return cost, Mode(state, root, missed, rows, foretold.by_speed, sds)
