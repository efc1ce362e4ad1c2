"""What is engraved and what it means: marked times and apertures are rounded, a counted second is a second."""

from collections.abc import Mapping
from math import asinh, log, log2
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records import TimeSteps

SAME_MARK: Final = 0.01  # our judgement: 1/60 is also typed as 0.0167, and no two marks are so near each other


def true_f_number(marked_f: float, series: Mapping[float, float]) -> float:
    """
    The f-number behind a mark on the lens: f/22 is 22.63.

    N = 2^(n/2) for a mark of the series; any other mark means itself

    Args:
        marked_f: Number as engraved. [1] > 0
        series: Marks and the stops from f/1 that they stand for. [1] to [stops]

    Returns:
        The f-number. [1] > 0. Uncertainty: the engraving against the true opening, about 0.1 stop.

    Raises:
        OutOfRange: marked_f not above 0.

    Source:
        wikipedia-f-number, standard series; from memory, unverified.
    """
    if not marked_f > 0:
        raise OutOfRange("marked_f", marked_f, "above 0")
    stops = series.get(round(marked_f, 3))
    return float(marked_f if stops is None else 2 ** (stops / 2))


def true_time_s(marked_s: float, series: Mapping[float, float]) -> float:
    """
    The time behind a mark on a shutter or a meter's dial: 1/60 is 1/64 s, 30 s is 32 s.

    t = 2^n for a mark of the series; any other mark means itself

    Args:
        marked_s: Time as engraved. [s] > 0
        series: Marks and the stops from 1 s that they stand for. [s] to [stops]

    Returns:
        The time. [s] > 0. Uncertainty: the shutter, some tenths of a stop.

    Raises:
        OutOfRange: marked_s not above 0.

    Source:
        wikipedia-shutter-speed, standard series; from memory, unverified.
    """
    if not marked_s > 0:
        raise OutOfRange("marked_s", marked_s, "above 0")
    for mark, stops in series.items():
        if abs(marked_s / mark - 1) < SAME_MARK:
            return float(2**stops)
    return marked_s


def settable_by_hand_s(time_s: float, steps: TimeSteps) -> float:
    """
    The nearest time that a person counts: half seconds, whole seconds, ten seconds, minutes.

    Args:
        time_s: Wanted time. [s] > 0
        steps: From which time on whole seconds, ten seconds and minutes are counted.

    Returns:
        The time to count. [s] > 0, at least half a second. Uncertainty: a hand is about 0.2 s off.

    Raises:
        OutOfRange: time_s not above 0.

    Source:
        our judgement.
    """
    if not time_s > 0:
        raise OutOfRange("time_s", time_s, "above 0")
    step = 0.5
    for start, coarser in ((steps.whole_second_s, 1.0), (steps.ten_seconds_s, 10.0), (steps.minute_s, 60.0)):
        if time_s >= start:
            step = coarser
    return max(step, step * round(time_s / step))


def settable_on_shutter_s(time_s: float, series: Mapping[float, float]) -> float:
    """
    The mark of the shutter whose true time is nearest in stops.

    Args:
        time_s: Wanted time. [s] > 0
        series: Marks and the stops from 1 s that they stand for; at least one. [s] to [stops]

    Returns:
        The mark to set. [s] > 0. Uncertainty: half a step of the series, and the shutter.

    Raises:
        OutOfRange: time_s not above 0.

    Source:
        wikipedia-shutter-speed, standard series; from memory, unverified.
    """
    if not time_s > 0:
        raise OutOfRange("time_s", time_s, "above 0")
    wanted = log2(time_s)
    return min(series, key=lambda mark: abs(series[mark] - wanted))


def hand_doubt_stops(time_s: float, hand_sd_s: float) -> float:
    """
    What a hand at the cap leaves in doubt.

    asinh(s / t) / ln 2: s / (t ln 2) while s is small beside t; a hand slower than the time grows by stops, not without bound

    Args:
        time_s: Time counted. [s] > 0
        hand_sd_s: Doubt of opening and closing by hand, one standard deviation. [s] >= 0

    Returns:
        One standard deviation. [stops] >= 0

    Raises:
        OutOfRange: time_s not above 0.

    Source:
        our judgement (arithmetic).
    """
    if not time_s > 0:
        raise OutOfRange("time_s", time_s, "above 0")
    return asinh(hand_sd_s / time_s) / log(2)
