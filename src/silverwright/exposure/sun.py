"""Where the sun stands, by the short formula of the almanac: enough to say how bright a day is."""

from math import asin, atan2, cos, degrees, radians, sin, tan
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records import SunAt

_TURN_DEG: Final = 360.0  # arithmetic
_QUARTER_DEG: Final = 90.0  # arithmetic
_HALF_TURN_DEG: Final = 180.0  # arithmetic
_ARC_MINUTES: Final = 60.0  # arithmetic
_LONGITUDE_DEG, _LONGITUDE_PER_DAY_DEG = 280.461, 0.9856474  # source: almanac1996, p. C24, mean longitude
_ANOMALY_DEG, _ANOMALY_PER_DAY_DEG = 357.528, 0.9856003  # source: almanac1996, p. C24, mean anomaly
_CENTRE_DEG, _CENTRE_TWICE_DEG = 1.915, 0.020  # source: almanac1996, p. C24, equation of the centre
_TILT_DEG, _TILT_PER_DAY_DEG = 23.439, 0.0000004  # source: almanac1996, p. C24, obliquity of the ecliptic
_EARTH_DEG, _EARTH_PER_DAY_DEG = 280.46062, 360.9856474  # source: from memory, unverified: mean sidereal time at Greenwich, 15 degrees to the hour
_REFRACTION = (1.02, 10.3, 5.11)  # source: reda2004, equation 42: arc minutes, at 1010 hPa and 10 °C
_HORIZON_DEG: Final = -0.833  # common practice: upper edge of the sun on the horizon, refraction included
_LONGEST_DAYS: Final = 73050.0  # our judgement: two centuries around 2000, where a tenth of a degree is far off


def ecliptic_longitude_deg(since_2000_days: float) -> float:
    """
    How far the sun has come on its yearly way.

    lambda = L + 1.915 sin g + 0.020 sin 2g, L = 280.461 + 0.9856474 d, g = 357.528 + 0.9856003 d

    Args:
        since_2000_days: Days since noon of 1 January 2000, universal time. [days] -73050 to 73050

    Returns:
        Longitude along the ecliptic. [deg] 0 to 360. Uncertainty: 0.01 degree from 1950 to 2050, says the almanac.

    Raises:
        OutOfRange: a day further away than two centuries.

    Source:
        almanac1996, p. C24.
    """
    if not abs(since_2000_days) <= _LONGEST_DAYS:
        raise OutOfRange("since_2000_days", since_2000_days, "within two centuries of the year 2000")
    anomaly = radians(_ANOMALY_DEG + _ANOMALY_PER_DAY_DEG * since_2000_days)
    mean_deg = _LONGITUDE_DEG + _LONGITUDE_PER_DAY_DEG * since_2000_days
    return (mean_deg + _CENTRE_DEG * sin(anomaly) + _CENTRE_TWICE_DEG * sin(2 * anomaly)) % _TURN_DEG


def sun_at(since_2000_days: float, latitude_deg: float, longitude_deg: float) -> SunAt:
    """
    How high the sun stands, and where.

    sin h = sin(phi) sin(delta) + cos(phi) cos(delta) cos H, H = sidereal time + longitude - right ascension; no refraction in it

    Args:
        since_2000_days: Days since noon of 1 January 2000, universal time. [days] -73050 to 73050
        latitude_deg: North is above 0. [deg] -90 to 90
        longitude_deg: East is above 0. [deg] -180 to 180

    Returns:
        Height of the sun's middle above the horizon and azimuth from north over east. [deg] Uncertainty: 0.01 degree from 1950 to 2050.

    Raises:
        OutOfRange: a day further away than two centuries, or a place that is not on earth.

    Source:
        almanac1996, p. C24; sidereal time from memory, unverified.
    """
    if not abs(latitude_deg) <= _QUARTER_DEG:
        raise OutOfRange("latitude_deg", latitude_deg, "-90 to 90")
    if not abs(longitude_deg) <= _HALF_TURN_DEG:
        raise OutOfRange("longitude_deg", longitude_deg, "-180 to 180")
    along = radians(ecliptic_longitude_deg(since_2000_days))
    tilt = radians(_TILT_DEG - _TILT_PER_DAY_DEG * since_2000_days)
    declination = asin(sin(tilt) * sin(along))
    ascension = atan2(cos(tilt) * sin(along), cos(along))
    turned = radians((_EARTH_DEG + _EARTH_PER_DAY_DEG * since_2000_days + longitude_deg) % _TURN_DEG) - ascension
    place = radians(latitude_deg)
    up = sin(place) * sin(declination) + cos(place) * cos(declination) * cos(turned)
    east = -cos(declination) * sin(turned)
    north = cos(place) * sin(declination) - sin(place) * cos(declination) * cos(turned)
    return SunAt(degrees(asin(max(-1.0, min(1.0, up)))), degrees(atan2(east, north)) % _TURN_DEG)


def refraction_deg(height_deg: float) -> float:
    """
    By how much the air lifts the sun.

    R = 1.02 / tan(h + 10.3 / (h + 5.11)) arc minutes

    Args:
        height_deg: Height without the air. [deg] -90 to 90

    Returns:
        Degrees to add; 0 where the sun is well below the horizon. [deg] >= 0. Uncertainty: a tenth of it near the horizon, by weather.

    Source:
        reda2004, equation 42.
    """
    minutes, nearer, lower = _REFRACTION
    if height_deg < _HORIZON_DEG:
        return 0.0
    return max(0.0, minutes / tan(radians(height_deg + nearer / (height_deg + lower))) / _ARC_MINUTES)


def highest_deg(since_2000_days: float, latitude_deg: float) -> float:
    """
    How high the sun comes at this place on such a day.

    h = 90 - |phi - delta|

    Args:
        since_2000_days: Days since noon of 1 January 2000, universal time, about the middle of the day. [days] -73050 to 73050
        latitude_deg: North is above 0. [deg] -90 to 90

    Returns:
        Height at its highest, without refraction. [deg] Uncertainty: 0.2 degree, by how far the sun moves within the day.

    Raises:
        OutOfRange: a day further away than two centuries.

    Source:
        almanac1996, p. C24.
    """
    tilt = radians(_TILT_DEG - _TILT_PER_DAY_DEG * since_2000_days)
    declination_deg = degrees(asin(sin(tilt) * sin(radians(ecliptic_longitude_deg(since_2000_days)))))
    return _QUARTER_DEG - abs(latitude_deg - declination_deg)
