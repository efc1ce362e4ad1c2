"""Light between the readings and after the last one: how fast it goes, how far it may stray, and what that leaves in doubt."""

from collections.abc import Callable, Sequence
from math import hypot, sqrt
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.changing import in_order
from silverwright.records import LightAt

_MINUTE_S: Final = 60.0  # arithmetic
_FEWEST: Final = 2  # arithmetic: one reading shows no trend
_BRIDGE: Final = 12  # arithmetic: a random walk tied at both ends strays on average by sqrt(t / 12)


def fitted_trend_stops_per_min(moments: Sequence[LightAt]) -> float:
    """
    How fast the light changes, by all readings together.

    Slope of the line of least squares through stops over time

    Args:
        moments: Readings in their order; at least two. [s], [stops]

    Returns:
        Stops for each minute, below 0 where it falls. [stops/min]. Uncertainty: `fitted_trend_sd_stops_per_min`, if the light changes evenly.

    Raises:
        NotEnoughReadings: fewer than two readings.
        OutOfRange: readings that do not go on in time.

    Source:
        our judgement (textbook regression).
    """
    middle_s, spread = _spread(moments)
    return sum((one.at_s - middle_s) / _MINUTE_S * one.light_stops for one in moments) / spread


def fitted_trend_sd_stops_per_min(moments: Sequence[LightAt], reading_sd_stops: float) -> float:
    """
    How unsure the trend is.

    s = s_reading / sqrt(sum of (t - mean t)^2)

    Args:
        moments: Readings in their order; at least two. [s], [stops]
        reading_sd_stops: Doubt of one reading against the others, one standard deviation. [stops] >= 0

    Returns:
        One standard deviation. [stops/min] >= 0

    Raises:
        NotEnoughReadings: fewer than two readings.
        OutOfRange: readings that do not go on in time.

    Source:
        our judgement (textbook regression).
    """
    return reading_sd_stops / sqrt(_spread(moments)[1])


def wander_stops(ahead_s: float, wander_sd_stops: float) -> float:
    """
    How far the light strays on average over a stretch after the last reading.

    s = s_1 sqrt(t / 3), t in minutes: the mean of a random walk whose steps spread by s_1 in a minute

    Args:
        ahead_s: How long nobody reads. [s] >= 0
        wander_sd_stops: How far the light strays in one minute, one standard deviation. [stops] >= 0

    Returns:
        One standard deviation of the mean light. [stops] >= 0

    Raises:
        OutOfRange: ahead_s below 0.

    Source:
        our judgement (arithmetic of random walks).
    """
    return wander_sd_stops * sqrt(_minutes(ahead_s) / 3)


def wander_between_stops(gap_s: float, wander_sd_stops: float) -> float:
    """
    How far the light strays on average between two readings.

    s = s_1 sqrt(t / 12), t in minutes: the mean of a random walk that is tied at both ends

    Args:
        gap_s: From one reading to the next. [s] >= 0
        wander_sd_stops: How far the light strays in one minute, one standard deviation. [stops] >= 0

    Returns:
        One standard deviation of the mean light. [stops] >= 0

    Raises:
        OutOfRange: gap_s below 0.

    Source:
        our judgement (arithmetic of random walks).
    """
    return wander_sd_stops * sqrt(_minutes(gap_s) / _BRIDGE)


def moved_sd(moments: Sequence[LightAt], reading_sd_stops: float, of: Callable[[Sequence[LightAt]], float]) -> float:
    """
    How unsure something is that follows from the readings: each is moved by its doubt, and the shifts add in quadrature.

    Args:
        moments: Readings in their order, the first one the plan's own: its doubt is in the plan. [s], [stops]
        reading_sd_stops: Doubt of one reading against the first, one standard deviation. [stops] >= 0
        of: What follows from the readings.

    Returns:
        One standard deviation of it, in its own unit. >= 0

    Source:
        our judgement (first-order propagation).
    """
    middle = of(moments)
    moved = ([LightAt(one.at_s, one.light_stops + reading_sd_stops) if one is other else one for one in moments] for other in moments[1:])
    return hypot(*(of(one) - middle for one in moved))


def _minutes(lasts_s: float) -> float:
    if lasts_s < 0:
        raise OutOfRange("lasts_s", lasts_s, "0 or more")
    return lasts_s / _MINUTE_S


def _spread(moments: Sequence[LightAt]) -> tuple[float, float]:
    """The middle of the times, and the sum of their squares around it in minutes."""
    in_order(moments)
    if len(moments) < _FEWEST:
        raise NotEnoughReadings("readings of the light", len(moments), _FEWEST)
    middle_s = sum(one.at_s for one in moments) / len(moments)
    return middle_s, sum(((one.at_s - middle_s) / _MINUTE_S) ** 2 for one in moments)
