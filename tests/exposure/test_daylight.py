"""Sun, sky and ground at a dome: against sums over directions and the published ends."""

from functools import partial
from itertools import pairwise
from math import cos, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.daylight import direct_normal_lx, dome_lx, light_trend_stops_per_min, sky_lx, twilight_lx
from silverwright.records import SkyLight

CLEAR = SkyLight(800, 15500, 0.5)
STEPS = ((0.0, 800.0), (-0.833, 490.0), (-6.0, 2.65))
HEIGHTS = st.floats(-90, 90)


@given(HEIGHTS, st.floats(1, 366), st.floats(0, 2))
def test_air_only_takes(height: float, day: float, air: float) -> None:
    found = direct_normal_lx(height, day, 127500, air)
    assert 0 <= found <= 127500 * 1.0341
    assert direct_normal_lx(height, day, 127500, air + 0.1) <= found


def test_no_sun_from_below() -> None:
    assert direct_normal_lx(0, 100, 127500, 0.21) == direct_normal_lx(-3, 100, 127500, 0.21) == 0
    assert direct_normal_lx(1e-9, 100, 127500, 0.21) == pytest.approx(0)
    assert sky_lx(-10, CLEAR) == 800


@given(st.floats(-6, 0), st.floats(-6, 0))
def test_twilight_falls_without_a_jump(one: float, other: float) -> None:
    upper, lower = max(one, other), min(one, other)
    assert twilight_lx(lower, STEPS) <= twilight_lx(upper, STEPS)
    assert twilight_lx(upper - 1e-7, STEPS) == pytest.approx(twilight_lx(upper, STEPS), rel=1e-6)


def test_twilight_beyond_its_ends() -> None:
    assert (twilight_lx(5, STEPS), twilight_lx(-30, STEPS)) == (800, 2.65)


def test_what_a_dome_gets_of_an_even_sky_and_ground() -> None:
    """Summed over directions: a dome sees each as (1 + cos)/2; level ground of an even sky gets pi times its luminance."""
    rings, sky, ground = 400, 0.0, 0.0
    for at in range(rings):
        height = -pi / 2 + pi * (at + 0.5) / rings
        for turn in range(rings):
            facing = (1 + cos(height) * cos(2 * pi * (turn + 0.5) / rings)) / 2
            part = facing * cos(height) * (pi / rings) * (2 * pi / rings)
            sky, ground = (sky + part, ground) if height > 0 else (sky, ground + part)
    assert dome_lx(0, pi, 30, 0, 0.2) == pytest.approx(sky + 0.2 * ground, rel=1e-4)


@pytest.mark.parametrize(("turned", "share"), [(0, (1 + cos(radians(30))) / 2), (90, 0.5), (180, (1 - cos(radians(30))) / 2)])
def test_what_a_dome_gets_of_the_sun(turned: float, share: float) -> None:
    assert dome_lx(1000, 0, 30, turned, 0) == pytest.approx(1000 * share)
    assert dome_lx(1000, 0, 30, turned, 0.5) == pytest.approx(1000 * share + 500 * sin(radians(30)))


def test_a_stop_in_two_minutes() -> None:
    assert light_trend_stops_per_min(100, 50, 120) == pytest.approx(-0.5)


def test_light_that_cannot_be() -> None:
    wrongs: list[partial[float]] = [
        partial(direct_normal_lx, 10, 1, 0, 0.2),
        partial(direct_normal_lx, 10, 1, 100, -0.2),
        partial(dome_lx, -1, 0, 0, 0, 0),
        partial(twilight_lx, 0, STEPS[:1]),
        partial(light_trend_stops_per_min, 0, 1, 1),
    ]
    for wrong in wrongs:
        with pytest.raises(OutOfRange):
            wrong()


def test_the_steps_of_twilight_go_down() -> None:
    assert all(upper[0] > lower[0] and upper[1] > lower[1] for upper, lower in pairwise(STEPS))
