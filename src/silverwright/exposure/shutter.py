"""What is engraved and what it means: marked times and apertures are rounded, a counted second is a second."""

from collections.abc import Mapping, Sequence
from math import asinh, hypot, log, log2, sqrt
from statistics import fmean
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.records import MeasuredSpeed, ShutterSpeed, TimeSteps

SAME_MARK: Final = 0.01  # our judgement: 1/60 is also typed as 0.0167, and no two marks are so near each other
PRIOR_READINGS: Final = 3  # our judgement: so many readings weigh as much as what one believes of a shutter's scatter beforehand
BETWEEN_SHARE: Final = 0.5  # our judgement: a mark between two measured ones is half as unsure as one that nobody measured
OTHER_MARK_STOPS: Final = 0.5  # our judgement: a shutter has no second mark within half a stop of another


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


def off_stops(measured_s: float, meant_s: float) -> float:
    """
    By how much a shutter is slow, in stops; negative is fast.

    log2(t / t_meant)

    Args:
        measured_s: How long it was open. [s] > 0
        meant_s: How long the mark means. [s] > 0

    Returns:
        Stops of light more than meant. [stops]. Uncertainty: that of the measurement.

    Raises:
        OutOfRange: a time that is not above 0.

    Source:
        our judgement (arithmetic).
    """
    for name, value in (("measured_s", measured_s), ("meant_s", meant_s)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return log2(measured_s / meant_s)


def measured_speeds(readings: Sequence[MeasuredSpeed], series: Mapping[float, float], release_sd_stops: float) -> tuple[ShutterSpeed, ...]:
    """
    What readings of a shutter say of its marks: the mean of each, and how far one release lies from the next.

    s^2 = (k s_0^2 + sum (d - mean)^2) / (k + n - marks) over all marks together, and (1 + 1/n) of it for the next release at a mark

    Args:
        readings: One for each release that was measured. At least one.
        series: Marks and the stops from 1 s that they stand for. [s] to [stops]
        release_sd_stops: Scatter from release to release before any reading, one standard deviation. [stops] > 0

    Returns:
        Each measured mark, shortest first. Uncertainty: the scatter; a shutter that was cold or long unused gives others.

    Raises:
        NotEnoughReadings: no reading.
        OutOfRange: a time that is not above 0.

    Source:
        our judgement (a mean with a shared variance).
    """
    if not readings:
        raise NotEnoughReadings("readings", 0, 1)
    marks: dict[float, list[float]] = {}
    for one in readings:
        mark = next((known for known in marks if abs(one.marked_s / known - 1) < SAME_MARK), one.marked_s)
        marks.setdefault(mark, []).append(off_stops(one.measured_s, true_time_s(one.marked_s, series)))
    apart = sum((off - fmean(offs)) ** 2 for offs in marks.values() for off in offs)
    scatter = sqrt((PRIOR_READINGS * release_sd_stops**2 + apart) / (PRIOR_READINGS + len(readings) - len(marks)))
    return tuple(
        ShutterSpeed(mark, true_time_s(mark, series) * 2 ** fmean(offs), scatter * sqrt(1 + 1 / len(offs)), len(offs))
        for mark, offs in sorted(marks.items())
    )


def speed_of_mark(marked_s: float, measured: Sequence[ShutterSpeed], series: Mapping[float, float], usual_sd_stops: float) -> ShutterSpeed:
    """
    What a mark of a shutter means, of which some marks were measured.

    Measured: its own; between two measured ones: as far off as the line between them; beyond them: as engraved

    Args:
        marked_s: The mark. [s] > 0
        measured: The measured marks, shortest first.
        series: Marks and the stops from 1 s that they stand for. [s] to [stops]
        usual_sd_stops: Doubt of a mark that nobody measured, one standard deviation. [stops] >= 0

    Returns:
        The mark with its true time. Uncertainty: its own scatter; half the usual doubt more between two measured ones.

    Raises:
        OutOfRange: marked_s not above 0.

    Source:
        our judgement (interpolation).
    """
    meant = log2(true_time_s(marked_s, series))
    for one in measured:
        if abs(marked_s / one.marked_s - 1) < SAME_MARK:
            return one
    known = [(log2(true_time_s(one.marked_s, series)), one) for one in measured]
    below = [pair for pair in known if pair[0] < meant]
    above = [pair for pair in known if pair[0] > meant]
    if not below or not above:
        return ShutterSpeed(marked_s, 2**meant, usual_sd_stops, 0)
    (low, shorter), (high, longer) = below[-1], above[0]
    share = (meant - low) / (high - low)
    off = (1 - share) * (log2(shorter.time_s) - low) + share * (log2(longer.time_s) - high)
    sd = hypot(max(shorter.sd_stops, longer.sd_stops), BETWEEN_SHARE * usual_sd_stops)
    return ShutterSpeed(marked_s, 2 ** (meant + off), sd, 0)


def marks_of_shutter(measured: Sequence[ShutterSpeed], series: Mapping[float, float], usual_sd_stops: float) -> tuple[ShutterSpeed, ...]:
    """
    Every mark that a measured shutter may have, with what is known of it.

    The measured ones, and those of the series that lie half a stop or more from every one of them

    Args:
        measured: The measured marks, shortest first.
        series: Marks and the stops from 1 s that they stand for. [s] to [stops]
        usual_sd_stops: Doubt of a mark that nobody measured, one standard deviation. [stops] >= 0

    Returns:
        The marks with their true times. Uncertainty: `speed_of_mark`.

    Source:
        our judgement.
    """
    others = [mark for mark in series if all(abs(log2(mark / one.marked_s)) >= OTHER_MARK_STOPS for one in measured)]
    return (*measured, *(speed_of_mark(mark, measured, series, usual_sd_stops) for mark in others))


def settable_on_measured(time_s: float, marks: Sequence[ShutterSpeed]) -> ShutterSpeed:
    """
    The mark of a measured shutter whose true time is nearest in stops.

    Args:
        time_s: Wanted time. [s] > 0
        marks: The marks that the shutter has, as `marks_of_shutter` gives them; at least one.

    Returns:
        The mark to set, with its true time and doubt.

    Raises:
        OutOfRange: time_s not above 0.

    Source:
        our judgement.
    """
    if not time_s > 0:
        raise OutOfRange("time_s", time_s, "above 0")
    wanted = log2(time_s)
    return min(marks, key=lambda one: abs(log2(one.time_s) - wanted))
