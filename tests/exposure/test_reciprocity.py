"""Reciprocity: the prior as it was stated, own points against textbook regression, films by leaving a point out."""

import csv
from functools import partial
from math import log2, sqrt
from pathlib import Path
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import truncnorm

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.reciprocity import (
    correction_limits_stops,
    correction_sd_stops,
    correction_stops,
    effective_s,
    exponent_limits,
    law_from_points,
    law_sd_stops,
    needed_s,
    start_s,
)
from silverwright.questions.reciprocity import first_guess
from silverwright.records import OwnPoint, ReciprocityLaw

PRIOR = first_guess()
FILMS = Path(__file__).parents[1] / "authorities" / "reciprocity_films.csv"
TIMES = st.floats(1e-3, 1e5)
LAWS = st.builds(ReciprocityLaw, threshold_s=st.floats(0.1, 10), exponent=st.floats(1, 1.6), start_stops=st.floats(0, 0.5))


def films() -> dict[str, list[OwnPoint]]:
    lines = [line for line in FILMS.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    found: dict[str, list[OwnPoint]] = {}
    for row in csv.DictReader(lines):
        found.setdefault(row["film"], []).append(OwnPoint(float(row["metered_s"]), float(row["needed_s"])))
    return found


def interior() -> list[tuple[str, int]]:
    return [(film, place) for film, points in films().items() for place in range(1, len(points) - 1)]


def test_the_prior_as_stated() -> None:
    """60 s asks for 76 s, 8 of 10 between about 65 and 106 s."""
    assert needed_s(60, PRIOR) == pytest.approx(76, abs=0.5)
    low, high = (60 * 2**stops for stops in correction_limits_stops(60, PRIOR))
    assert low == pytest.approx(65, abs=0.5)
    assert high == pytest.approx(106, abs=0.5)


def test_its_limits_by_a_second_route() -> None:
    """The truncated normal of scipy."""
    cut = truncnorm(a=(1 - 1.08) / 0.08, b=np.inf, loc=1.08, scale=0.08)
    assert exponent_limits(PRIOR) == pytest.approx((cut.ppf(0.1), cut.ppf(0.9)), abs=1e-9)


def test_the_prior_holds_what_is_published() -> None:
    """An exponent of 1.05, and the simulated loss of 0.15 (1/(1 - 0.15) = 1.18)."""
    low, high = exponent_limits(PRIOR)
    assert low < 1.05 < high
    assert low < 1 / (1 - 0.15) < high


def test_one_standard_deviation_of_the_prior() -> None:
    """Half the width of the limits over 1.28: at 60 s (log2(106/65) / 2 / 1.28), near the 0.275 of the cut normal itself."""
    sd = truncnorm(a=-1, b=np.inf, loc=1.08, scale=0.08).std() * log2(20)
    assert correction_sd_stops(60, PRIOR) == pytest.approx(log2(106.08 / 64.51) / 2 / 1.28155, abs=1e-3)
    assert correction_sd_stops(60, PRIOR) == pytest.approx(sd, abs=0.01)


def test_limits_of_own_points_are_those_of_their_line() -> None:
    law = law_from_points([OwnPoint(30, 40), OwnPoint(120, 200)], PRIOR, 0.15)
    low, high = correction_limits_stops(60, law)
    assert (low + high) / 2 == pytest.approx(correction_stops(60, law))
    assert (high - low) / 2 == pytest.approx(1.28155 * law_sd_stops(60, law), rel=1e-4)
    assert correction_sd_stops(60, law) == law_sd_stops(60, law)


def test_where_the_line_begins() -> None:
    """At its start the line asks for nothing, a little later for something."""
    law = ReciprocityLaw(3, 1.25, start_stops=0.4)
    assert start_s(law) == pytest.approx(3 * 2 ** (-0.4 / 0.25))
    assert correction_stops(start_s(law) * 0.99, law) == 0
    assert correction_stops(start_s(law) * 1.01, law) > 0


def test_points_that_fall_lie_level() -> None:
    """An exponent below 1 is not believed: the correction is one figure, the mean of the points and of no correction at the threshold."""
    law = law_from_points([OwnPoint(10, 14), OwnPoint(1000, 1000)], PRIOR, 0.05)
    points = (0.05**-2 * log2(1.4)) / (2 * 0.05**-2 + 0.5**-2)
    assert law.exponent == 1
    assert law.start_stops == pytest.approx(points)
    assert correction_stops(1e4, law) == pytest.approx(points)


@given(TIMES, st.floats(1.0001, 10), LAWS)
def test_more_metered_is_never_less_needed(metered_s: float, times: float, law: ReciprocityLaw) -> None:
    assert needed_s(metered_s * times, law) > needed_s(metered_s, law) >= metered_s


@given(TIMES, LAWS)
def test_back_again(metered_s: float, law: ReciprocityLaw) -> None:
    assert effective_s(needed_s(metered_s, law), partial(needed_s, law=law)) == pytest.approx(metered_s, rel=1e-9)


@given(st.floats(1, 1e5), st.floats(1.001, 1.6))
def test_back_again_in_closed_form(given_s: float, exponent: float) -> None:
    law = ReciprocityLaw(3, exponent)
    closed = given_s if given_s <= 3 else 3 * (given_s / 3) ** (1 / exponent)
    assert effective_s(given_s, partial(needed_s, law=law)) == pytest.approx(closed, rel=1e-9)


def test_up_to_the_threshold_time_counts_in_full() -> None:
    assert needed_s(3, PRIOR) == 3
    assert correction_stops(0.01, PRIOR) == 0
    assert correction_limits_stops(2, PRIOR) == (0, 0)
    assert correction_sd_stops(2, PRIOR) == 0
    assert start_s(PRIOR) == pytest.approx(3)
    assert start_s(ReciprocityLaw(3, 1.0)) == 3


@pytest.mark.parametrize(("film", "place"), interior(), ids=str)
def test_a_film_by_leaving_a_point_out(film: str, place: int) -> None:
    """With the very prior and point doubt that paper gets: at most 0.1 stop off."""
    points = films()[film]
    law = law_from_points([point for number, point in enumerate(points) if number != place], PRIOR, 0.15)
    assert abs(log2(needed_s(points[place].metered_s, law) / points[place].needed_s)) <= 0.1


@given(st.lists(st.tuples(st.floats(1, 1000), st.floats(0.8, 4)), min_size=1, max_size=8))
def test_own_points_by_matrices(pairs: list[tuple[float, float]]) -> None:
    """The same regression in matrices, prior rows included."""
    points = [OwnPoint(metered, metered * factor) for metered, factor in pairs]
    law = law_from_points(points, PRIOR, 0.15)
    x = np.array([[1 / PRIOR.start_sd_stops, 0], [0, 1 / PRIOR.exponent_sd], *([1 / 0.15, log2(p.metered_s / 3) / 0.15] for p in points)])
    y = np.array([0, 0.08 / 0.08, *(log2(p.needed_s / p.metered_s) / 0.15 for p in points)])
    covariance = np.linalg.inv(x.T @ x)
    start, slope = covariance @ x.T @ y
    if slope >= 0:
        assert (law.start_stops, law.exponent - 1) == pytest.approx((start, slope), abs=1e-9)
    else:
        assert law.exponent == 1
    at = np.array([1, log2(100 / 3)])
    assert law_sd_stops(100, law) == pytest.approx(sqrt(at @ covariance @ at + PRIOR.misfit_stops**2), rel=1e-9)


@given(st.floats(1, 1000), st.floats(1, 4))
def test_an_own_point_is_believed_and_narrows(metered_s: float, factor: float) -> None:
    law = law_from_points([OwnPoint(metered_s, metered_s * factor)] * 20, PRIOR, 0.15)
    assert correction_stops(metered_s, law) == pytest.approx(log2(factor), abs=0.1)
    assert law_sd_stops(metered_s, law) < 0.1


def test_limits_of_own_points_hold_four_of_five() -> None:
    """Papers drawn from the prior (start and exponent), three points each with their doubt: 8 of 10 at 200 s within the limits."""
    chance, inside, papers = Random(26), 0, 2000
    for _ in range(papers):
        exponent = chance.gauss(1.08, 0.08)
        if exponent < 1:
            continue
        truth = ReciprocityLaw(3, exponent, start_stops=chance.gauss(0, PRIOR.start_sd_stops))
        points = []
        for metered_s in (10, 40, 160):
            line = truth.start_stops + (exponent - 1) * log2(metered_s / 3)
            points.append(OwnPoint(metered_s, metered_s * 2 ** chance.gauss(line, 0.15)))
        law = law_from_points(points, PRIOR, 0.15)
        line = truth.start_stops + (exponent - 1) * log2(200 / 3)
        middle, half = law.start_stops + (law.exponent - 1) * log2(200 / 3), 1.2815515655 * law_sd_stops(200, law)
        inside += abs(line + chance.gauss(0, PRIOR.misfit_stops) - middle) <= half
    drawn = papers * 0.8413
    assert inside / drawn == pytest.approx(0.8, abs=0.04)


@pytest.mark.parametrize("call", [lambda: needed_s(0, PRIOR), lambda: correction_stops(-1, PRIOR), lambda: effective_s(0, float)])
def test_no_time(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]


def test_points_without_doubt_or_none_at_all() -> None:
    with pytest.raises(NotEnoughReadings):
        law_from_points([], PRIOR, 0.15)
    with pytest.raises(OutOfRange):
        law_from_points([OwnPoint(1, 1)], PRIOR, 0)
    with pytest.raises(OutOfRange):
        law_from_points([OwnPoint(1, 1)], ReciprocityLaw(3, 1.08), 0.1)
