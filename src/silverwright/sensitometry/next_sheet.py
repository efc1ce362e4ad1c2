"""The exposure of the next sheet, foretold: index, time, chances with one sheet and with two, and where index and exponent part."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, log2, sqrt
from statistics import NormalDist
from typing import Final

import numpy as np

from silverwright.sensitometry.anchored import Tone, exposure_of
from silverwright.sensitometry.belief import Belief
from silverwright.sensitometry.darkroom import Conditions, Darkroom, own_variance, shared_variance
from silverwright.sensitometry.draws import Draws, draw
from silverwright.sensitometry.foretell import STOP_LOG10, Readings
from silverwright.sensitometry.mode import Mode, find_mode
from silverwright.sensitometry.shapes import Array

_NORMAL: Final = NormalDist()
PARTS: Final = 9  # our judgement: each draw's own normal is cut into so many equal parts, one value in each
GOLDEN: Final = (sqrt(5) - 1) / 2  # arithmetic: its multiples fall evenly between 0 and 1, whatever their number
REACH_SD: Final = 6.0  # arithmetic: beyond lies a billionth
TABLE: Final = np.linspace(-REACH_SD, REACH_SD, 1201)  # arithmetic: a hundredth of a standard deviation apart
BELOW: Final = np.array([_NORMAL.cdf(place) for place in TABLE])
BRACKET: Final = (0.27, 0.73)  # our judgement: where two sheets of a forecast hold most, in simulated darkrooms
LIMITS: Final = (0.1, 0.5, 0.9)  # arithmetic: middle and limits that hold 80 %
FURTHEST_STOPS: Final = 300.0  # arithmetic: far beyond any exposure, and a float still holds it
LONGEST_STOPS: Final = 15.0  # our judgement: no exposure lies further beyond the threshold (27 hours)


@dataclass(frozen=True, slots=True)
class Coming:
    """The next sheet: its conditions, the tone that its reading is of, the time that the meter asks for at EI 1, and its own scatter."""

    conditions: Conditions
    tone: Tone
    camera_lx_s: float
    near_stops: float
    sheet_sd_stops: float
    at_ei_one_s: float | None = None


@dataclass(frozen=True, slots=True)
class Forecast:
    """
    What the next sheet needs, in stops over EI 1: the index' limits without its own scatter, and the doubt at the time where it is least.

    Time and chances are with its own scatter, at the time asked for, or where the doubt is least.
    """

    need_stops: tuple[float, float, float]
    sd_stops: float
    exponent: float
    exponent_sd: float
    surest_at_s: float
    surest_stops: float
    time_s: tuple[float, float, float] | None
    one_sheet_share: float
    two_sheets_share: float
    bracket_stops: tuple[float, float]
    bracket_s: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Clock:
    """Metered time and time to give, both as stops from one second, in each state: above the threshold the one grows faster than the other."""

    beyond: Array
    threshold_stops: float

    def given(self, metered_stops: Array) -> Array:
        """The time to give."""
        given = metered_stops + self.beyond * np.maximum(0.0, metered_stops - self.threshold_stops)
        return np.clip(given, -FURTHEST_STOPS, FURTHEST_STOPS)

    def metered(self, given_stops: float) -> Array:
        """What a time that was given amounts to."""
        late = max(0.0, given_stops - self.threshold_stops)
        return given_stops - late * self.beyond / (1 + self.beyond)


@dataclass(frozen=True, slots=True)
class Known:
    """Everything that was learnt of a darkroom: the mode, readings, and draws."""

    seen: Darkroom
    belief: Belief
    mode: Mode
    readings: Readings
    draws: Draws


def learn(seen: Darkroom, belief: Belief, seed: int) -> Known:
    """
    What all sheets together tell of a paper.

    Args:
        seen: Sheets with their patches and judgements. May be empty.
        belief: What is believed beforehand.
        seed: The same seed gives the same answer.

    Returns:
        Mode and draws. Uncertainty: in the draws.

    Source:
        our judgement.
    """
    mode, readings = find_mode(seen, belief)
    return Known(seen, belief, mode, readings, draw(mode, readings, belief, seed))


def needs(known: Known, coming: Coming) -> tuple[Array, Array]:
    """
    What the next sheet needs in each state, in stops over EI 1: middle and variance, without its own scatter.

    m = log2(10^x_tone / H1) - u_next + drift age

    Args:
        known: What was learnt.
        coming: The next sheet.

    Returns:
        Middle and variance for each draw. [stops, stops^2]

    Source:
        our judgement.
    """
    belief, next_to = known.belief, (coming.conditions,)
    shared = shared_variance(known.seen.sheets, next_to, belief.scatter)[:, 0]
    own = float(shared_variance(next_to, next_to, belief.scatter)[0, 0] + own_variance(next_to, belief.scatter, itself=False)[0])
    faster, variance = known.draws.speed_of(shared, own)
    believed = known.draws.believed
    place, _ = exposure_of(believed.theta, coming.tone, belief.anchor, belief.sign)
    need = place / STOP_LOG10 - log2(coming.camera_lx_s) - faster + believed.drift * coming.conditions.age
    return np.clip(need, -FURTHEST_STOPS, FURTHEST_STOPS), variance


def forecast(known: Known, coming: Coming) -> Forecast:
    """
    The next exposure with its limits and chances.

    log2 t = l + (p - 1) max(0, l - log2 T0), l = log2 t1 + m; least doubt where d Var(m + (p - 1) L) / dL = 0

    Args:
        known: What was learnt.
        coming: The next sheet.

    Returns:
        The forecast. Uncertainty: counted from the draws.

    Source:
        our judgement.
    """
    weights, beyond = known.draws.weights, known.draws.believed.exponent - 1
    middle, variance = needs(known, coming)
    mean, slope = float(weights @ middle), float(weights @ beyond)
    together, alone = float(weights @ ((middle - mean) * (beyond - slope))), float(weights @ (beyond - slope) ** 2)
    whole = float(weights @ ((middle - mean) ** 2 + variance))
    surest = float(np.clip(-together / alone, 0.0, LONGEST_STOPS)) if alone > 0 else 0.0
    least = max(0.0, whole + 2 * surest * together + surest**2 * alone)
    clock = Clock(beyond[:, None], log2(known.belief.threshold_s))
    timed = coming.at_ei_one_s is not None
    asked = clock.threshold_stops + surest - mean if coming.at_ei_one_s is None else log2(coming.at_ei_one_s)
    own = coming.sheet_sd_stops
    shared = middle[:, None] + np.sqrt(variance)[:, None] * _parts(len(weights))
    whole_need = middle[:, None] + np.sqrt(variance + own**2)[:, None] * _parts(len(weights))
    low, best, high, first, second = quantiles(clock.given(whole_need + asked), weights, (*LIMITS, *BRACKET))
    one = chance(shared + asked, weights, [clock.metered(best)], own, coming.near_stops)
    two = chance(shared + asked, weights, [clock.metered(first), clock.metered(second)], own, coming.near_stops)
    return Forecast(
        need_stops=_three(quantiles(shared, weights, LIMITS)),
        sd_stops=sqrt(least),
        exponent=1 + slope,
        exponent_sd=sqrt(max(0.0, alone)),
        surest_at_s=float(2 ** (clock.threshold_stops + surest)),
        surest_stops=surest,
        time_s=(2**low, 2**best, 2**high) if timed else None,
        one_sheet_share=one,
        two_sheets_share=two,
        bracket_stops=(first - best, second - best),
        bracket_s=(2**first, 2**second) if timed else None,
    )


def _parts(draws: int) -> Array:
    """Standard normal values: for each draw one in each of equal parts, nowhere the same for two draws."""
    inside = (np.arange(draws) * GOLDEN) % 1.0
    parts: Array = np.interp((np.arange(PARTS) + inside[:, None]) / PARTS, BELOW, TABLE)
    return parts


def _three(found: Sequence[float]) -> tuple[float, float, float]:
    low, middle, high = found
    return low, middle, high


def quantiles(values: Array, weights: Array, at_share: Sequence[float]) -> list[float]:
    """
    Where a weighted crowd is cut.

    Args:
        values: Values, a row for each draw; those of a row share its weight.
        weights: Weight of each row, sum 1.
        at_share: Parts of the crowd below. [1] 0 to 1

    Returns:
        The cuts, in the unit of the values. Uncertainty: that of so many draws.

    Source:
        common practice, no source (weighted quantiles).
    """
    each = np.repeat(weights / values.shape[1], values.shape[1])
    order = np.argsort(values, axis=None)
    climbed = np.cumsum(each[order]) - 0.5 * each[order]
    return [float(cut) for cut in np.interp(at_share, climbed, values.ravel()[order])]


def chance(need_stops: Array, weights: Array, given_stops: Sequence[Array], own_sd_stops: float, near_stops: float) -> float:
    """
    How likely at least one of some sheets lands near enough.

    1 - sum over draws of the product over sheets of P(|need - given + own scatter| > near)

    Args:
        need_stops: What the picture needs, as metered: a row for each draw. [stops]
        weights: Weight of each draw, sum 1.
        given_stops: What each sheet's time amounts to as metered, a row for each draw. [stops]
        own_sd_stops: Scatter of each sheet by itself. [stops] > 0
        near_stops: How near is near enough. [stops] > 0

    Returns:
        The chance. [1] 0 to 1. Uncertainty: that of so many draws.

    Source:
        our judgement (own scatter normal and independent).
    """
    missed, reach = np.ones_like(need_stops), near_stops / own_sd_stops
    for given in given_stops:
        off = (need_stops - given) / own_sd_stops
        missed *= 1 - (np.interp(off + reach, TABLE, BELOW) - np.interp(off - reach, TABLE, BELOW))
    return 1 - float(weights @ missed.mean(1))


def chance_within(sd_stops: float, near_stops: float) -> float:
    """
    How likely a normal lands near enough.

    2 Phi(near / s) - 1

    Args:
        sd_stops: One standard deviation. [stops] > 0
        near_stops: How near is near enough. [stops] > 0

    Returns:
        The chance. [1] 0 to 1

    Source:
        common practice, no source (normal errors).
    """
    return 2 * _NORMAL.cdf(near_stops / sd_stops) - 1


def own_scatter_stops(sheet_sd_stops: float, reading_sd_stops: float) -> float:
    """
    What one sheet has for itself: shutter and aperture, and its reading.

    Args:
        sheet_sd_stops: Shutter and aperture. [stops] >= 0
        reading_sd_stops: One reading. [stops] >= 0

    Returns:
        One standard deviation. [stops]

    Source:
        our judgement (independent doubts).
    """
    return hypot(sheet_sd_stops, reading_sd_stops)
