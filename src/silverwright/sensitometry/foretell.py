"""What each patch and each judgement should read if the curve were this one: values, and how they move with everything that is unknown."""

from dataclasses import dataclass, replace
from math import log2, log10
from typing import Final

import numpy as np

from silverwright.sensitometry.anchored import Tone, density_and_slope, density_gradient, exposure_of
from silverwright.sensitometry.belief import NUMBERS, Belief, Believed, believe
from silverwright.sensitometry.darkroom import Darkroom, Judgement, Patch
from silverwright.sensitometry.shapes import Array

STOP_LOG10: Final = log10(2)  # arithmetic


@dataclass(frozen=True, slots=True)
class Readings:
    """
    All patches and judgements as columns, patches first.

    `value` is the density of a patch, or the log exposure of a judgement; `beyond` counts the stops of its time beyond the threshold; `member`
    has a column for each sheet and 1 where a reading is of it.
    """

    patches: int
    exposure_log10: Array
    value: Array
    beyond_stops: Array
    age: Array
    own_variance: Array
    metering_variance: Array
    member: Array
    tones: tuple[Tone, ...]

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.value)


def readings_of(seen: Darkroom, belief: Belief) -> Readings:
    """
    Everything that was seen, as columns.

    Args:
        seen: Sheets with their patches and judgements.
        belief: Threshold of reciprocity, and by how much curves leave the family.

    Returns:
        The columns. Uncertainty: none added.

    Source:
        our judgement (arithmetic).
    """
    rows: list[Patch | Judgement] = [*seen.patches, *seen.judgements]
    member = np.zeros((len(rows), len(seen.sheets)))
    for number, row in enumerate(rows):
        if row.sheet is not None:
            member[number, row.sheet] = 1.0
    ages = np.array([float(one.age) for one in seen.sheets])
    beyond = [max(0.0, log2(row.time_s / belief.threshold_s)) if row.time_s else 0.0 for row in rows]
    own = [one.density_sd**2 + belief.misfit_density**2 for one in seen.patches] + [(STOP_LOG10 * one.sd_stops) ** 2 for one in seen.judgements]
    return Readings(
        patches=len(seen.patches),
        exposure_log10=np.array([row.exposure_log10 for row in rows]),
        value=np.array([*(one.density for one in seen.patches), *(one.exposure_log10 for one in seen.judgements)]),
        beyond_stops=np.array(beyond),
        age=member @ ages,
        own_variance=np.array(own),
        metering_variance=np.array([(STOP_LOG10 * one.metering_sd_stops) ** 2 for one in seen.patches]),
        member=member,
        tones=tuple(one.tone for one in seen.judgements),
    )


@dataclass(frozen=True, slots=True)
class Foretold:
    """For each reading: its value, how it moves with a stop of its sheet's speed, and its variance; rows for many curves."""

    value: Array
    by_speed: Array
    variance: Array


def foretell(believed: Believed, speed_stops: Array, readings: Readings, belief: Belief) -> Foretold:
    """
    What many curves say of all readings.

    D_i = C(x_i + 0.301 (u_j - loss_i - drift age_j)), variance s_D^2 + (C' s_x)^2; a judgement: x_tone - 0.301 (u_j - loss_i - drift age_j)

    Args:
        believed: Many states, one row for each.
        speed_stops: By how much each sheet is faster than the paper: a row for each state, a column for each sheet. [stops]
        readings: What was read.
        belief: Anchor and sign.

    Returns:
        Values and variances. Uncertainty: metering errors count through the slope, to first order.

    Source:
        our judgement.
    """
    faster = speed_stops @ readings.member.T - believed.loss[..., None] * readings.beyond_stops - believed.drift[..., None] * readings.age
    moved, count = STOP_LOG10 * faster, readings.patches
    density, slope = density_and_slope(believed.theta, readings.exposure_log10[:count] + moved[..., :count], belief.anchor, belief.sign)
    judged = [exposure_of(believed.theta, tone, belief.anchor, belief.sign)[0] for tone in readings.tones]
    places = np.stack(judged, axis=-1) if judged else np.zeros((*density.shape[:-1], 0))
    by_speed = STOP_LOG10 * np.concatenate([slope, -np.ones_like(places)], axis=-1)
    metering = np.concatenate([slope**2 * readings.metering_variance, np.zeros_like(places)], axis=-1)
    return Foretold(np.concatenate([density, places - moved[..., count:]], axis=-1), by_speed, readings.own_variance + metering)


def with_gradient(standard: Array, speed_stops: Array, readings: Readings, belief: Belief) -> tuple[Foretold, Array]:
    """
    What one curve says of all readings, and how that moves with each of the seven numbers.

    Args:
        standard: Seven standard numbers. [1]
        speed_stops: By how much each sheet is faster than the paper. [stops]
        readings: What was read.
        belief: What is believed.

    Returns:
        Values, and a row of seven derivatives for each reading.

    Source:
        our judgement (arithmetic of `foretell`).
    """
    believed = believe(standard, belief)
    foretold = foretell(_one(believed), speed_stops[None, :], readings, belief)
    foretold = Foretold(foretold.value[0], foretold.by_speed[0], foretold.variance[0])
    count, sd = readings.patches, belief.curve[1]
    faster = readings.member @ speed_stops - believed.loss * readings.beyond_stops - believed.drift * readings.age
    at = readings.exposure_log10[:count] + STOP_LOG10 * faster[:count]
    _, slope, by_curve = density_gradient(believed.theta, at, belief.anchor, belief.sign)
    judged = [exposure_of(believed.theta, tone, belief.anchor, belief.sign)[1] for tone in readings.tones]
    gradient = np.zeros((readings.count, NUMBERS))
    gradient[:count, :-2] = by_curve * sd
    if judged:
        gradient[count:, :-2] = np.stack(judged) * sd
    by_stop = STOP_LOG10 * np.concatenate([slope, -np.ones(len(judged))])
    gradient[:, -2] = -by_stop * readings.beyond_stops * believed.exponent_by / believed.exponent**2
    gradient[:, -1] = -by_stop * readings.age * believed.drift_by
    return foretold, gradient


def _one(believed: Believed) -> Believed:
    """One state as a table of one row."""
    return replace(believed, theta=believed.theta[None, :], exponent=np.atleast_1d(believed.exponent), drift=np.atleast_1d(believed.drift))
