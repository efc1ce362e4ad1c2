"""How bright a day is without a meter: sun and sky by the height of the sun, and what a dome at the subject gets of both."""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, exp, log2, pi, radians, sin
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records import SkyLight

_SWING, _NEAREST_DAYS, _YEAR_DAYS = 0.034, 2, 365  # source: radiance2003, quoting IESNA: the sun's distance through the year
_QUARTER_DEG: Final = 90.0  # arithmetic
_MINUTE_S: Final = 60.0  # arithmetic
_FEWEST: Final = 2  # arithmetic: a line has two ends


def direct_normal_lx(height_deg: float, since_new_year_days: float, outside_lx: float, air_factor: float) -> float:
    """
    How much light the sun itself throws on something that faces it.

    E = E0 (1 + 0.034 cos(2 pi (J - 2)/365)) exp(-c / sin h)

    Args:
        height_deg: Height of the sun. [deg] -90 to 90
        since_new_year_days: Day of the year, J; 1 on the first of January. [days] 1 to 366
        outside_lx: Light outside the air, E0. [lx] > 0
        air_factor: What the air takes, c: 0.21 clear, 0.80 partly cloudy. [1] >= 0

    Returns:
        The light; none where the sun is not up. [lx] >= 0. Uncertainty: the mean of many days, a moment may have half of it or double.

    Raises:
        OutOfRange: outside_lx not above 0 or air_factor below 0.

    Source:
        radiance2003, quoting IESNA; serd-ait, section 3.3.
    """
    if not outside_lx > 0:
        raise OutOfRange("outside_lx", outside_lx, "above 0")
    if air_factor < 0:
        raise OutOfRange("air_factor", air_factor, "0 or more")
    up = sin(radians(height_deg))
    if up <= 0:
        return 0.0
    nearer = 1 + _SWING * cos(2 * pi * (since_new_year_days - _NEAREST_DAYS) / _YEAR_DAYS)
    return outside_lx * nearer * exp(-air_factor / up)


def sky_lx(height_deg: float, sky: SkyLight) -> float:
    """
    How much light the whole sky throws on level ground.

    E = A + B sin(h)^C, A alone where the sun is not up

    Args:
        height_deg: Height of the sun. [deg] -90 to 90
        sky: A, B and C of this weather.

    Returns:
        The light. [lx] > 0. Uncertainty: the mean of many days, a moment may have half of it or double.

    Source:
        ies1984, from memory, unverified; serd-ait, section 3.3.
    """
    return sky.base_lx + sky.rise_lx * float(max(0.0, sin(radians(height_deg))) ** sky.exponent)


def twilight_lx(height_deg: float, steps: Sequence[tuple[float, float]]) -> float:
    """
    How much light is left on level ground when the sun is below the horizon.

    Even in stops from one published height to the next

    Args:
        height_deg: Height of the sun. [deg]
        steps: Heights with their light under a clear sky, the highest first; at least two. [deg], [lx]

    Returns:
        The light; beyond the ends that of the end. [lx] > 0. Uncertainty: the published ranges, and the weather.

    Raises:
        OutOfRange: fewer than two steps.

    Source:
        ams-glossary, civil twilight.
    """
    if len(steps) < _FEWEST:
        raise OutOfRange("steps", len(steps), "2 or more")
    if height_deg >= steps[0][0]:
        return steps[0][1]
    for (upper_deg, brighter), (lower_deg, darker) in pairwise(steps):
        if height_deg >= lower_deg:
            return brighter * float((darker / brighter) ** ((upper_deg - height_deg) / (upper_deg - lower_deg)))
    return steps[-1][1]


def dome_lx(direct_lx: float, sky_lx: float, height_deg: float, turned_deg: float, ground_reflectance: float) -> float:
    """
    What a dome at the subject, pointing to the camera, gets of sun, sky and ground.

    E = Es (1 + cos h cos a)/2 + Ek + rho (Es sin h + Ek): a dome sees a light at the angle w from its axis as (1 + cos w)/2, and so half of
    what is around it

    Args:
        direct_lx: Sun on something that faces it; 0 in the shade. [lx] >= 0
        sky_lx: Sky on level ground. [lx] >= 0
        height_deg: Height of the sun. [deg] -90 to 90
        turned_deg: From the camera's back to the sun, seen from above: 0 behind the camera, 180 behind the subject. [deg] 0 to 180
        ground_reflectance: What the ground sends back. [1] 0 to 1

    Returns:
        The reading. [lx] >= 0. Uncertainty: that of sun and sky; how the subject stands to the camera.

    Raises:
        OutOfRange: light below 0.

    Source:
        our judgement (a dome as a half-open eye).
    """
    if min(direct_lx, sky_lx) < 0:
        raise OutOfRange("direct_lx, sky_lx", min(direct_lx, sky_lx), "0 or more")
    height = radians(max(0.0, min(_QUARTER_DEG, height_deg)))
    facing = (1 + cos(height) * cos(radians(turned_deg))) / 2
    return direct_lx * facing + sky_lx + ground_reflectance * (direct_lx * sin(height) + sky_lx)


def light_trend_stops_per_min(before_lx: float, after_lx: float, between_s: float) -> float:
    """
    How fast daylight changes.

    log2(E2 / E1) / (t2 - t1)

    Args:
        before_lx: Light at first. [lx] > 0
        after_lx: Light later. [lx] > 0
        between_s: From one to the other. [s] > 0

    Returns:
        Stops for each minute, below 0 where it falls. [stops/min]. Uncertainty: a mean course; clouds are faster.

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        our judgement (arithmetic).
    """
    for name, value in (("before_lx", before_lx), ("after_lx", after_lx), ("between_s", between_s)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return _MINUTE_S * log2(after_lx / before_lx) / between_s
