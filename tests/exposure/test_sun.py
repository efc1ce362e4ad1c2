"""The sun's place: against another library over a year, at the poles against the declination, and turned about."""

from datetime import UTC, datetime, timedelta
from math import cos, radians
from random import Random

import pytest
from astral import Observer
from astral.sun import azimuth, elevation
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.sun import ecliptic_longitude_deg, highest_deg, refraction_deg, sun_at

NOON_2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
DAYS = st.floats(-36000, 36000)
LATITUDES, LONGITUDES = st.floats(-90, 90), st.floats(-180, 180)
CLOSE_DEG = 0.02


def days(moment: datetime) -> float:
    return (moment - NOON_2000).total_seconds() / 86400


@pytest.mark.parametrize("latitude", [-89.8, -78, -66.6, -52, -34, 0, 10, 40, 52, 60.4, 66.6, 71, 78, 89.8])
def test_a_year_beside_another_library(latitude: float) -> None:
    """Every hour and a bit of 2026 at places around the globe; the other library takes no latitude beyond 89.8."""
    random = Random(f"sun {latitude}")
    moment, worst = datetime(2026, 1, 1, tzinfo=UTC), 0.0
    while moment.year == 2026:
        place = Observer(latitude, random.uniform(-180, 180))
        sun = sun_at(days(moment), latitude, place.longitude)
        worst = max(worst, abs(sun.height_deg - elevation(place, moment, with_refraction=False)))
        apart = abs((sun.azimuth_deg - azimuth(place, moment) + 180) % 360 - 180)
        assert apart * cos(radians(sun.height_deg)) < CLOSE_DEG
        moment += timedelta(minutes=607)
    assert worst < CLOSE_DEG


@given(DAYS, LONGITUDES)
def test_at_the_poles_the_height_is_the_declination(when: float, longitude: float) -> None:
    north, south = (sun_at(when, latitude, longitude).height_deg for latitude in (90.0, -90.0))
    assert north == pytest.approx(-south, abs=1e-9)
    assert highest_deg(when, 90) == pytest.approx(north, abs=1e-9)


@given(DAYS, LATITUDES, LONGITUDES)
def test_a_quarter_of_a_day_is_a_quarter_of_the_globe(when: float, latitude: float, longitude: float) -> None:
    here = sun_at(when, latitude, longitude)
    later = sun_at(when + 0.25, latitude, (longitude - 90 + 180) % 360 - 180)
    assert later.height_deg == pytest.approx(here.height_deg, abs=0.2)


@given(DAYS, LATITUDES)
def test_it_is_highest_once_a_day_and_never_higher(when: float, latitude: float) -> None:
    heights = [sun_at(when + part / 48, latitude, 0).height_deg for part in range(48)]
    assert max(heights) <= highest_deg(when, latitude) + 0.5
    assert max(heights) >= highest_deg(when, latitude) - 5


def test_refraction_as_the_tables_have_it() -> None:
    """Half a degree at the horizon, a minute of arc at 45 degrees, nothing overhead or far below."""
    assert refraction_deg(-0.5) == pytest.approx(0.57, abs=0.07)
    assert refraction_deg(45) == pytest.approx(1 / 60, abs=0.001)
    assert refraction_deg(90) == pytest.approx(0, abs=1e-4)
    assert refraction_deg(-5) == 0


@pytest.mark.parametrize(("when", "latitude", "longitude"), [(1e6, 0, 0), (float("nan"), 0, 0), (0, 91, 0), (0, 0, 181)])
def test_no_such_day_or_place(when: float, latitude: float, longitude: float) -> None:
    with pytest.raises(OutOfRange):
        sun_at(when, latitude, longitude)


def test_the_longitude_goes_once_round_in_a_year() -> None:
    assert ecliptic_longitude_deg(365.2422) == pytest.approx(ecliptic_longitude_deg(0), abs=0.02)
