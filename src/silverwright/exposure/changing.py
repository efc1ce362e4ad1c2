"""Light that changes while the shutter is open: what has been given, and how long it still takes."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import ceil
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.reciprocity import halved
from silverwright.records import LightAt, PieceGiven

_MINUTE_S: Final = 60.0  # arithmetic
_PIECE_STOPS: Final = 0.125  # our judgement: Simpson's rule over an eighth of a stop misses its area by less than a millionth
_PIECE_S: Final = 60.0  # our judgement: no longer piece, so that a time of hours is walked through minute by minute
_SIMPSON: Final = 6  # arithmetic: the weights 1, 4, 1 of the rule together
LONGEST_S: Final = 86400.0  # our judgement: in a day the sun is back, and no trend of readings lasts so long
DARKEST_STOPS: Final = -20.0  # our judgement: from full sun down to a lit street; no exposure is finished in what lies below


def share_rate(metered_s: float, needed: Callable[[float], float]) -> Callable[[float], float]:
    """
    What share of the exposure one second gives, in a light so many stops off the one that it was planned for.

    r(E) = 1 / Tc(Tm / E): a steady light E would need the time Tc(Tm / E), so each second of it gives that share. Written as weights,
    sum of E_i w(E_i) dt = Tm with w(E) = (Tm / E) / Tc(Tm / E), the reciprocity loss in that light

    Args:
        metered_s: Time that the meter asked for in the light of the plan, before reciprocity. [s] > 0
        needed: Needed time for a metered time. [s] to [s]

    Returns:
        Share of the exposure for each second, of the light in stops against the plan. [stops] to [1/s]. Uncertainty: the law of reciprocity;
        that each moment counts by its own light, and not by what went before it, is our judgement.

    Raises:
        OutOfRange: metered_s not above 0.

    Source:
        wellington, scans 102 to 105 (time goes with what a tint takes); the weights are our judgement.
    """
    if not metered_s > 0:
        raise OutOfRange("metered_s", metered_s, "above 0")
    return lambda light_stops: 1 / needed(metered_s * float(2**-light_stops))


def light_stops_at(moments: Sequence[LightAt], at_s: float) -> float:
    """
    The light at one moment: between two readings it goes evenly in stops, before the first and after the last it is as read.

    Args:
        moments: Readings in their order; at least one. [s], [stops]
        at_s: The moment, since the shutter opened. [s]

    Returns:
        Light against the plan. [stops]. Uncertainty: what the light did between two readings nobody saw.

    Raises:
        NotEnoughReadings: no reading.

    Source:
        our judgement.
    """
    in_order(moments)
    before = max((one for one in moments if one.at_s <= at_s), key=lambda one: one.at_s, default=moments[0])
    after = min((one for one in moments if one.at_s > at_s), key=lambda one: one.at_s, default=moments[-1])
    if before.at_s >= after.at_s:
        return before.light_stops
    return before.light_stops + (after.light_stops - before.light_stops) * max(0.0, at_s - before.at_s) / (after.at_s - before.at_s)


def carried_on(moments: Sequence[LightAt], now_s: float, trend_stops_per_min: float) -> list[LightAt]:
    """
    The readings, with the light of now behind them: as last read, or gone on by the trend.

    Args:
        moments: Readings in their order, none later than now; at least one. [s], [stops]
        now_s: Since the shutter opened. [s] >= 0
        trend_stops_per_min: How the light goes on after the last reading; 0 holds it. [stops/min]

    Returns:
        The readings up to now. [s], [stops]. Uncertainty: `unread.wander_stops`.

    Raises:
        NotEnoughReadings: no reading.
        OutOfRange: now_s below 0, readings that do not go on in time, or one that is later than now.

    Source:
        our judgement.
    """
    in_order(moments)
    if now_s < 0:
        raise OutOfRange("now_s", now_s, "0 or more")
    last = moments[-1]
    if last.at_s > now_s:
        raise OutOfRange("now_s", now_s, "no earlier than the last reading")
    if last.at_s == now_s:
        return list(moments)
    light_stops = last.light_stops + trend_stops_per_min * (now_s - last.at_s) / _MINUTE_S
    if light_stops >= DARKEST_STOPS or last.light_stops <= DARKEST_STOPS:
        return [*moments, LightAt(now_s, max(DARKEST_STOPS, light_stops))]
    dark_s = last.at_s + _MINUTE_S * (DARKEST_STOPS - last.light_stops) / trend_stops_per_min
    return [*moments, LightAt(dark_s, DARKEST_STOPS), LightAt(now_s, DARKEST_STOPS)]


def share_given(moments: Sequence[LightAt], now_s: float, rate: Callable[[float], float], trend_stops_per_min: float = 0.0) -> float:
    """
    What share of the exposure has been given by now.

    integral of r(E(t)) dt from 0 to now

    Args:
        moments: Readings in their order, none later than now; at least one. [s], [stops]
        now_s: Since the shutter opened. [s] >= 0
        rate: Share for each second, by the light in stops; `share_rate`. [stops] to [1/s]
        trend_stops_per_min: How the light goes on after the last reading; 0 holds it. [stops/min]

    Returns:
        The share; more than 1 where it is more than planned. [1] >= 0. Uncertainty: the readings, and the light between them.

    Raises:
        NotEnoughReadings: no reading.
        OutOfRange: now_s below 0, readings that do not go on in time, or one that is later than now.

    Source:
        our judgement (arithmetic on wellington, scans 102 to 105).
    """
    return sum(one.share for one in pieces_given(carried_on(moments, now_s, trend_stops_per_min), rate))


def pieces_given(moments: Sequence[LightAt], rate: Callable[[float], float]) -> list[PieceGiven]:
    """
    What each stretch from one reading to the next has given.

    Args:
        moments: Readings in their order up to now, as `carried_on` gives them. [s], [stops]
        rate: Share for each second, by the light in stops; `share_rate`. [stops] to [1/s]

    Returns:
        End, light on average and share of each stretch, from the opening of the shutter on. [s], [stops], [1]

    Raises:
        NotEnoughReadings: no reading.
        OutOfRange: readings that do not go on in time.

    Source:
        our judgement (arithmetic on wellington, scans 102 to 105).
    """
    in_order(moments)
    edges = [0.0, *(one.at_s for one in moments if one.at_s > 0)]
    found = []
    for first_s, last_s in pairwise(edges):
        first, last = light_stops_at(moments, first_s), light_stops_at(moments, last_s)
        found.append(PieceGiven(last_s, (first + last) / 2, _share(rate, first, last, last_s - first_s)))
    return found


def remaining_s(moments: Sequence[LightAt], now_s: float, rate: Callable[[float], float], trend_stops_per_min: float = 0.0) -> float | None:
    """
    How long the shutter stays open still.

    The R with share(now) + integral of r(E(t)) dt from now to now + R = 1; after the last reading the light is as read, or goes on by the trend

    Args:
        moments: Readings in their order, none later than now; at least one. [s], [stops]
        now_s: Since the shutter opened. [s] >= 0
        rate: Share for each second, by the light in stops; `share_rate`. [stops] to [1/s]
        trend_stops_per_min: How the light goes on after the last reading; 0 holds it. [stops/min]

    Returns:
        The time; 0 where all has been given, nothing where the light fails before. [s] >= 0. Uncertainty: exposure/unread.py.

    Raises:
        NotEnoughReadings: no reading.
        OutOfRange: now_s below 0, readings that do not go on in time, or one that is later than now.

    Source:
        our judgement (arithmetic on wellington, scans 102 to 105).
    """
    until_now = carried_on(moments, now_s, trend_stops_per_min)
    missing = 1 - sum(one.share for one in pieces_given(until_now, rate))
    light_stops = until_now[-1].light_stops
    if missing <= 0:
        return 0.0
    return missing / rate(light_stops) if trend_stops_per_min == 0 else _by_trend_s(light_stops, missing, rate, trend_stops_per_min)


def in_order(moments: Sequence[LightAt]) -> None:
    """
    Refuse readings that cannot be worked with: none, or not one after the other.

    Args:
        moments: Readings. [s], [stops]

    Raises:
        NotEnoughReadings: no reading.
        OutOfRange: readings that do not go on in time.

    Source:
        our judgement.
    """
    if not moments:
        raise NotEnoughReadings("readings of the light", 0, 1)
    for one, later in pairwise(moments):
        if later.at_s <= one.at_s:
            raise OutOfRange("moments", later.at_s, "later than the reading before")


def _share(rate: Callable[[float], float], first_stops: float, last_stops: float, lasts_s: float) -> float:
    """Simpson's rule over a stretch in which the light goes evenly in stops."""
    if first_stops == last_stops:
        return lasts_s * rate(first_stops)
    count = ceil(abs(last_stops - first_stops) / _PIECE_STOPS)
    step = (last_stops - first_stops) / count
    edges = [first_stops + step * number for number in range(count)]
    return lasts_s / count / _SIMPSON * sum(rate(edge) + 4 * rate(edge + step / 2) + rate(edge + step) for edge in edges)


def _by_trend_s(light_stops: float, missing: float, rate: Callable[[float], float], trend_stops_per_min: float) -> float | None:
    """When the missing share has been given in a light that goes evenly on, piece by piece; nothing where it fails or a day is over."""
    piece_s = min(_PIECE_S, _MINUTE_S * _PIECE_STOPS / abs(trend_stops_per_min))
    step, passed_s = trend_stops_per_min * piece_s / _MINUTE_S, 0.0
    while (gives := _share(rate, light_stops, light_stops + step, piece_s)) < missing:
        missing, light_stops, passed_s = missing - gives, light_stops + step, passed_s + piece_s
        if light_stops < DARKEST_STOPS or passed_s > LONGEST_S:
            return None
    return passed_s + piece_s * halved(0.0, 1.0, lambda part: _share(rate, light_stops, light_stops + part * step, part * piece_s) > missing)
