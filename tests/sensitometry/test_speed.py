"""Points and indices of a curve: the falling logistic in closed form, rising beside it, and what is not there."""

import math

import numpy as np
import pytest

from silverwright.questions.stated import point_rules
from silverwright.sensitometry.shapes import LOGISTIC
from silverwright.sensitometry.speed import Curves, average_gradient, find_points, index_at, log10_at

DMIN, DMAX, SLOPE = 0.08, 1.88, 7.0


def logistic_curves(sign: float, *, dmin: float = DMIN, dmax: float = DMAX, middle: float = 0.0) -> Curves:
    theta = np.array([[dmin, math.log(dmax - dmin), middle, math.log(SLOPE)]])
    return Curves(lambda at: LOGISTIC.density(theta, at[:, None], sign)[:, 0], np.array([dmin]), np.array([dmax]), sign, -1.0, 1.0)


def falling_log10(density: float) -> float:
    """The logistic solved for its exposure: exact algebra, no search."""
    return math.log((DMAX - DMIN) / (density - DMIN) - 1) / SLOPE


def test_falling_logistic_in_closed_form() -> None:
    """Printed figures of the worked example: shadow point, speed point, highlight point, range, P, index from both ends, gradient."""
    rules = point_rules()
    points = find_points(logistic_curves(-1.0), rules)
    assert points.low_log10[0] == pytest.approx(-0.3139, abs=0.001)
    assert points.speed_log10[0] == pytest.approx(0.0990, abs=0.001)
    assert points.high_log10[0] == pytest.approx(0.5406, abs=0.001)
    assert points.range_log10[0] == pytest.approx(0.8545, abs=0.001)
    assert index_at(points.speed_log10, rules.paper_lx_s)[0] == pytest.approx(796, abs=0.5)
    assert index_at(0.5 * (points.low_log10 + points.high_log10), rules.reversal_lx_s)[0] == pytest.approx(7.70, abs=0.005)
    assert average_gradient(points, rules)[0] == pytest.approx(1.849, abs=0.001)


def test_camera_index_in_closed_form() -> None:
    """8.125 over the exposure of an 18 % grey."""
    rules = point_rules()
    assert rules.camera_lx_s == pytest.approx(8.125)
    assert rules.grey_density == pytest.approx(0.745, abs=0.0005)
    points = find_points(logistic_curves(-1.0), rules)
    assert points.middle_log10[0] == pytest.approx(falling_log10(-math.log10(0.18)), abs=1e-9)
    assert index_at(points.middle_log10, rules.camera_lx_s)[0] == pytest.approx(8.125 / 10 ** falling_log10(0.74473), rel=1e-4)


def test_reading_ninety_percent_of_dmax_differs_by_what_is_printed() -> None:
    """The handbook reads 90 % of Dmax, the standard as we remember it 90 % of the net density: 0.007 log10 on this curve."""
    net, gross = falling_log10(DMIN + 0.9 * (DMAX - DMIN)), falling_log10(0.9 * DMAX)
    assert abs(net - gross) == pytest.approx(0.007, abs=0.0005)
    assert find_points(logistic_curves(-1.0), point_rules()).low_log10[0] == pytest.approx(net, abs=1e-9)


def test_a_negative_has_its_dense_end_at_the_high_exposures() -> None:
    falling, rising = (find_points(logistic_curves(sign), point_rules()) for sign in (-1.0, 1.0))
    assert rising.low_log10[0] == pytest.approx(-falling.high_log10[0], abs=1e-9)
    assert rising.high_log10[0] == pytest.approx(-falling.low_log10[0], abs=1e-9)
    assert rising.range_log10[0] == pytest.approx(falling.range_log10[0], abs=1e-9)


def test_a_curve_without_that_density_has_no_such_point() -> None:
    pale = find_points(logistic_curves(-1.0, dmax=0.6), point_rules())
    assert math.isnan(pale.middle_log10[0])
    assert math.isnan(find_points(logistic_curves(-1.0, dmin=0.9), point_rules()).middle_log10[0])
    assert np.isfinite(pale.range_log10[0])


@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_what_is_found_has_that_density(sign: float) -> None:
    curves = logistic_curves(sign, middle=0.4)
    for density in (0.0801, 0.1, 0.745, 1.5, 1.8799):
        at = log10_at(curves, np.array([density]))
        assert curves.density(at)[0] == pytest.approx(density, abs=1e-9)
