"""Changing light: against quadrature, closed forms and simulated days."""

from collections.abc import Callable
from functools import partial
from math import log, log2, sqrt
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.changing import carried_on, light_stops_at, pieces_given, remaining_s, share_given, share_rate
from silverwright.exposure.reciprocity import needed_s
from silverwright.exposure.unread import (
    fitted_trend_sd_stops_per_min,
    fitted_trend_stops_per_min,
    moved_sd,
    wander_between_stops,
    wander_stops,
)
from silverwright.questions.reciprocity import first_guess
from silverwright.records import LightAt, ReciprocityLaw

PAPER = partial(needed_s, law=first_guess())


def plain(metered_s: float) -> float:
    """A paper that loses nothing."""
    return metered_s


LAWS = st.sampled_from([plain, PAPER, partial(needed_s, law=ReciprocityLaw(1, 1.31))])
STEADY = [LightAt(0, 0)]


@given(LAWS, st.floats(0.01, 1e5), st.floats(-10, 10))
def test_in_a_steady_light_it_takes_what_that_light_needs(law: Callable[[float], float], metered_s: float, light_stops: float) -> None:
    found = remaining_s([LightAt(0, light_stops)], 0, share_rate(metered_s, law))
    assert found == pytest.approx(law(metered_s / 2**light_stops), rel=1e-12)


def test_a_light_that_halves_at_once() -> None:
    """A stop less from 30 s on, nothing lost to reciprocity: the other 30 s take 60."""
    moments = [LightAt(0, 0), LightAt(30, 0), LightAt(30 + 1e-9, -1)]
    assert remaining_s(moments, 30 + 1e-9, share_rate(60, plain)) == pytest.approx(60)


def test_an_even_fall_in_closed_form() -> None:
    """A light that falls by one stop a minute gives 60 / ln 2 seconds of the first light in all, and 60 s of it in - log2(1 - ln 2) minutes."""
    rate = share_rate(60, plain)
    assert remaining_s(STEADY, 0, rate, -1) == pytest.approx(-60 * log2(1 - log(2)), rel=1e-6)
    assert remaining_s(STEADY, 0, share_rate(60 / log(2) + 0.1, plain), -1) is None
    assert share_given(STEADY, 1200, rate, -1) == pytest.approx(1 / log(2), rel=1e-5)


@given(LAWS, st.floats(1, 1000), st.floats(-3, 3), st.floats(-3, 3))
def test_what_was_given_by_quadrature(law: Callable[[float], float], metered_s: float, middle: float, last: float) -> None:
    moments, rate = [LightAt(0, 0), LightAt(40, middle), LightAt(100, last)], share_rate(metered_s, law)
    told = share_given(moments, 130, rate)
    whole = quad(lambda at: rate(light_stops_at(moments, at)), 0, 130, points=[40, 100], limit=400)[0]
    assert told == pytest.approx(whole, rel=1e-4)  # the law has a bend at its threshold
    pieces = pieces_given(carried_on(moments, 130, 0), rate)
    assert [piece.end_s for piece in pieces] == [40, 100, 130]
    assert sum(piece.share for piece in pieces) == pytest.approx(told)


@pytest.mark.parametrize("trend", [-0.9, -0.2, -1e-7, 1e-7, 0.2, 3.0])
def test_an_even_course_by_a_root(trend: float) -> None:
    rate = share_rate(60, PAPER)

    def missing(end_s: float) -> float:
        return 1 - quad(lambda at: rate(trend * at / 60), 0, end_s, limit=400)[0]

    assert remaining_s(STEADY, 0, rate, trend) == pytest.approx(brentq(missing, 1, 2000), rel=1e-5)


@given(st.floats(0, 60), st.floats(-2, 2))
def test_time_goes_on_while_the_light_stays(now_s: float, light_stops: float) -> None:
    """Without a new reading, what is still open and what has passed add up to the same end."""
    rate = share_rate(100, PAPER)
    first, later = (remaining_s([LightAt(0, light_stops)], at, rate) for at in (0, now_s))
    assert first is not None
    assert later is not None
    assert later + now_s == pytest.approx(max(first, now_s))


@given(st.floats(-3, 3), st.floats(0.01, 1))
def test_more_light_never_takes_longer(light_stops: float, more: float) -> None:
    rate = share_rate(300, PAPER)
    dark, bright = (remaining_s([LightAt(0, 0), LightAt(60, stops)], 60, rate) for stops in (light_stops, light_stops + more))
    assert dark is not None
    assert bright is not None
    assert bright < dark


def test_the_trend_is_a_line_of_least_squares() -> None:
    random = Random(5)
    at = [0.0, 45, 100, 170]
    moments = [LightAt(one, random.gauss(-one / 300, 0.1)) for one in at]
    fitted, covariance = np.polyfit(np.array(at) / 60, [one.light_stops for one in moments], 1, cov="unscaled")
    assert fitted_trend_stops_per_min(moments) == pytest.approx(fitted[0])
    assert fitted_trend_sd_stops_per_min(moments, 0.1) == pytest.approx(0.1 * sqrt(covariance[0][0]))


def walk(random: Random, minutes: float, steps: int = 60) -> list[float]:
    """A light that strays by 0.1 stop in a minute."""
    found = [0.0]
    for _ in range(steps):
        found.append(found[-1] + random.gauss(0, 0.1 * sqrt(minutes / steps)))
    return found


def test_how_far_the_light_strays_by_simulation() -> None:
    random = Random(11)
    free = [walk(random, 5) for _ in range(4000)]
    tied = [[here - one[-1] * at / 60 for at, here in enumerate(one)] for one in free]
    for walks, told in ((free, wander_stops(300, 0.1)), (tied, wander_between_stops(300, 0.1))):
        means = [sum(one) / len(one) for one in walks]
        assert sqrt(sum(one**2 for one in means) / len(means)) == pytest.approx(told, rel=0.04)


def test_a_moved_reading_moves_what_follows() -> None:
    moments = [LightAt(0, 0), LightAt(60, -0.5), LightAt(90, -0.4)]
    assert moved_sd(moments, 0.1, lambda given: sum(one.light_stops for one in given)) == pytest.approx(0.1 * sqrt(2))
    assert moved_sd(STEADY, 0.1, lambda given: given[0].light_stops) == 0


@pytest.mark.parametrize(
    ("moments", "now_s"), [([LightAt(0, 0), LightAt(0, 1)], 5), ([LightAt(10, 0), LightAt(5, 1)], 20), ([LightAt(10, 0)], 5), ([LightAt(0, 0)], -1)]
)
def test_readings_that_cannot_be(moments: list[LightAt], now_s: float) -> None:
    with pytest.raises(OutOfRange):
        remaining_s(moments, now_s, share_rate(60, plain))


def test_nothing_from_nothing() -> None:
    rate = share_rate(60, plain)
    with pytest.raises(NotEnoughReadings):
        remaining_s([], 0, rate)
    with pytest.raises(NotEnoughReadings):
        fitted_trend_stops_per_min(STEADY)
    for wrong in (partial(share_rate, 0, plain), partial(wander_stops, -1, 0.1), partial(wander_between_stops, -1, 0.1)):
        with pytest.raises(OutOfRange):
            wrong()


def test_a_bright_minute_does_not_count_twice() -> None:
    """Each moment counts by its own light: a minute at four times the light and one at a quarter of it add up."""
    rate = share_rate(240, PAPER)
    moments = [LightAt(0, 2), LightAt(60, 2), LightAt(60.001, -2), LightAt(120, -2)]
    assert share_given(moments, 120, rate) == pytest.approx(60 / PAPER(60) + 60 / PAPER(960), rel=1e-4)
    assert rate(2) > 4 * rate(0)
