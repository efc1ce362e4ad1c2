"""A sitter who cannot hold still: how far a head wanders while the shutter is open, and how long it stays near enough."""

from bisect import bisect_right
from collections.abc import Sequence
from math import exp, log, log2
from statistics import NormalDist
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.records import Sitting, Wander

_NORMAL: Final = NormalDist()
_HIGH_OF_HUNDRED: Final = 90.0  # source: santos2016, the table's upper row is the 90th percentile
_HIGH_Z: Final = _NORMAL.inv_cdf(_HIGH_OF_HUNDRED / 100)
_LEAST_OF_HUNDRED: Final = 50.0  # arithmetic: the median
_MOST_OF_HUNDRED: Final = 99.0  # our judgement: beyond it 42 trials say nothing


def wander_mm(time_s: float, table: Sequence[Wander], of_hundred: float) -> float:
    """
    How far a head has moved, end to end, while the shutter stood open.

    Between the times of the table a power of time; between its median and its ninetieth percentile a log-normal

    Args:
        time_s: How long. [s] > 0
        table: Median and 90th percentile at growing times; at least two. [s] and [mm]
        of_hundred: So many of 100 sittings move no farther. [1] 50 to 99

    Returns:
        The way from end to end. [mm] > 0. Uncertainty: people differ; before the table's first time its first stretch is drawn on, after its
        last the median's.

    Raises:
        OutOfRange: time_s not above 0 or of_hundred outside its range.
        NotEnoughReadings: fewer than two rows.

    Source:
        santos2016, head movement worked out from its data.
    """
    if not time_s > 0:
        raise OutOfRange("time_s", time_s, "above 0")
    times, ways = _line(table, of_hundred)
    place = min(max(bisect_right(times, log(time_s)) - 1, 0), len(times) - 2)
    return exp(_on_line(log(time_s), times[place : place + 2], ways[place : place + 2]))


def time_for_wander_s(way_mm: float, table: Sequence[Wander], of_hundred: float) -> float:
    """
    How long a head stays within a way: `wander_mm` read backwards.

    Args:
        way_mm: How far it may move, end to end. [mm] > 0
        table: Median and 90th percentile at growing times; at least two. [s] and [mm]
        of_hundred: So many of 100 sittings stay within it. [1] 50 to 99

    Returns:
        The time. [s] > 0. Uncertainty: as `wander_mm`.

    Raises:
        OutOfRange: way_mm not above 0 or of_hundred outside its range.
        NotEnoughReadings: fewer than two rows.

    Source:
        santos2016, head movement worked out from its data.
    """
    if not way_mm > 0:
        raise OutOfRange("way_mm", way_mm, "above 0")
    times, ways = _line(table, of_hundred)
    place = min(max(bisect_right(ways, log(way_mm)) - 1, 0), len(ways) - 2)
    return exp(_on_line(log(way_mm), ways[place : place + 2], times[place : place + 2]))


def still_of_hundred(way_mm: float, time_s: float, table: Sequence[Wander], doubt_ln: float = 0.0) -> float:
    """
    In how many of 100 sittings a head stays within a way.

    Args:
        way_mm: How far it may move, end to end. [mm] > 0
        time_s: How long. [s] > 0
        table: Median and 90th percentile at growing times; at least two. [s] and [mm]
        doubt_ln: Doubt of the whole table for this sitter, one standard deviation of the natural logarithm. [1] >= 0

    Returns:
        So many of 100. [1] 0 to 100. Uncertainty: the doubt is in it.

    Raises:
        OutOfRange: way_mm or time_s not above 0.
        NotEnoughReadings: fewer than two rows.

    Source:
        our judgement (log-normal between people).
    """
    if not way_mm > 0:
        raise OutOfRange("way_mm", way_mm, "above 0")
    median, spread = log(wander_mm(time_s, table, _LEAST_OF_HUNDRED)), spread_ln(time_s, table)
    return 100 * _NORMAL.cdf((log(way_mm) - median) / (spread**2 + doubt_ln**2) ** 0.5)


def spread_ln(time_s: float, table: Sequence[Wander]) -> float:
    """
    How far one sitting lies from another: one standard deviation of the natural logarithm of the way.

    Args:
        time_s: How long. [s] > 0
        table: Median and 90th percentile at growing times; at least two. [s] and [mm]

    Returns:
        The standard deviation. [1] > 0. Uncertainty: 42 trials of 14 people.

    Raises:
        OutOfRange: time_s not above 0.
        NotEnoughReadings: fewer than two rows.

    Source:
        santos2016, head movement worked out from its data.
    """
    return log(wander_mm(time_s, table, _HIGH_OF_HUNDRED) / wander_mm(time_s, table, _LEAST_OF_HUNDRED)) / _HIGH_Z


def learnt_stillness(sittings: Sequence[Sitting], table: Sequence[Wander], factor: float, doubt_ln: float) -> tuple[float, float]:
    """
    How much of the table's way this sitter, or this posture, really moves: what was believed, and own sheets.

    Each sheet is one draw around the sitter's own median with the table's spread (a conjugate normal of the logarithms)

    Args:
        sittings: Time and way seen of each; none leaves what was believed. [s] and [mm]
        table: Median and 90th percentile at growing times; at least two. [s] and [mm]
        factor: Way over the table's way, as believed beforehand. [1] > 0
        doubt_ln: Its doubt, one standard deviation of the natural logarithm. [1] > 0

    Returns:
        The factor and its doubt, as given. [1] Uncertainty: the doubt is its second part.

    Raises:
        OutOfRange: factor or doubt_ln not above 0, or a way that is not.
        NotEnoughReadings: fewer than two rows.

    Source:
        our judgement (textbook normal).
    """
    for name, value in (("factor", factor), ("doubt_ln", doubt_ln), *(("way_mm", one.way_mm) for one in sittings)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    weight, mean = doubt_ln**-2, log(factor) * doubt_ln**-2
    for one in sittings:
        own = spread_ln(one.time_s, table) ** -2
        weight += own
        mean += own * log(one.way_mm / wander_mm(one.time_s, table, _LEAST_OF_HUNDRED))
    return exp(mean / weight), float(weight**-0.5)


def stops_missing(wanted_s: float, longest_s: float) -> float:
    """
    How many stops more light a sitter needs.

    log2(wanted / longest)

    Args:
        wanted_s: How long the paper needs. [s] > 0
        longest_s: How long the sitter holds still enough. [s] > 0

    Returns:
        Stops that are missing; below 0 there is room. [stops] Uncertainty: that of both.

    Raises:
        OutOfRange: either of them not above 0.

    Source:
        our judgement (arithmetic).
    """
    for name, value in (("wanted_s", wanted_s), ("longest_s", longest_s)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return log2(wanted_s / longest_s)


def out_of_focus_mm(way_mm: float, magnification: float, effective_f: float) -> float:
    """
    How large a point becomes on the sheet when it moves so far towards the camera or away from it.

    c = m^2 d / N_eff, near the plane of focus

    Args:
        way_mm: How far it moved from where the lens was focused. [mm] >= 0
        magnification: Image size over subject size. [1] > 0
        effective_f: f-number behind the extended bellows. [1] > 0

    Returns:
        Diameter of the blur. [mm] >= 0. Uncertainty: first order; it holds while the way is short beside the distance.

    Raises:
        OutOfRange: way_mm below 0, magnification or effective_f not above 0.

    Source:
        jacobson1995, depth of field (close up).
    """
    if not way_mm >= 0:
        raise OutOfRange("way_mm", way_mm, "0 or more")
    for name, value in (("magnification", magnification), ("effective_f", effective_f)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return magnification**2 * way_mm / effective_f


def _line(table: Sequence[Wander], of_hundred: float) -> tuple[list[float], list[float]]:
    """The table as logarithms of time and way, for so many of 100, and one row more that draws it on: there the spread stays as it is."""
    if len(table) < 2:  # noqa: PLR2004 (two points make a line)
        raise NotEnoughReadings("rows of a table of movement", len(table), 2)
    if not _LEAST_OF_HUNDRED <= of_hundred <= _MOST_OF_HUNDRED:
        raise OutOfRange("of_hundred", of_hundred, "50 to 99")
    before, last = table[-2:]
    times, grows = last.time_s / before.time_s, last.median_mm / before.median_mm
    rows = [*table, Wander(last.time_s * times, last.median_mm * grows, last.high_mm * grows)]
    share = _NORMAL.inv_cdf(of_hundred / 100) / _HIGH_Z
    return [log(one.time_s) for one in rows], [log(one.median_mm) + share * log(one.high_mm / one.median_mm) for one in rows]


def _on_line(x: float, xs: Sequence[float], ys: Sequence[float]) -> float:
    """On the straight line through two points, or beyond them."""
    return ys[0] + (x - xs[0]) * (ys[1] - ys[0]) / (xs[1] - xs[0])
