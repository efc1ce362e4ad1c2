"""Shapes of a curve: a second route with `math` alone, and what every shape must do."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.sensitometry.world import lopsided, two_emulsions

from silverwright.sensitometry.shapes import DOUBLE_LOGISTIC, LOGISTIC, RICHARDS, Shape

EXPOSURES = np.linspace(-3, 3, 41)
unit = st.floats(-2.5, 2.5)
every_shape = pytest.mark.parametrize("shape", [LOGISTIC, RICHARDS, DOUBLE_LOGISTIC], ids=lambda one: one.name)


def theta_of(shape: Shape, drawn: list[float]) -> np.ndarray:
    """Parameters somewhere in the prior's reach."""
    middles = {"dmin": 0.1, "log_net": 0.5, "log_slope": 1.95, "log_apart": -0.2}
    return np.array([middles.get(name, 0.0) + 0.5 * one for name, one in zip(shape.parameters, drawn, strict=False)])


@given(st.lists(unit, min_size=7, max_size=7), st.sampled_from([-1.0, 1.0]))
def test_double_logistic_by_another_hand(drawn: list[float], sign: float) -> None:
    theta = theta_of(DOUBLE_LOGISTIC, drawn)
    other = two_emulsions(dict(zip(DOUBLE_LOGISTIC.parameters, theta, strict=True)), sign)
    assert DOUBLE_LOGISTIC.density(theta, EXPOSURES, sign) == pytest.approx([other(x) for x in EXPOSURES], abs=1e-12)


@given(st.lists(unit, min_size=5, max_size=5), st.sampled_from([-1.0, 1.0]))
def test_richards_by_another_hand(drawn: list[float], sign: float) -> None:
    theta = theta_of(RICHARDS, drawn)
    other = lopsided(dict(zip(RICHARDS.parameters, theta, strict=True)), sign)
    assert RICHARDS.density(theta, EXPOSURES, sign) == pytest.approx([other(x) for x in EXPOSURES], abs=1e-12)


@every_shape
@given(drawn=st.lists(unit, min_size=7, max_size=7))
def test_one_way_only_and_between_its_ends(shape: Shape, drawn: list[float]) -> None:
    theta = theta_of(shape, drawn)
    falling, rising = (shape.density(theta, EXPOSURES, sign) for sign in (-1.0, 1.0))
    assert (np.diff(falling) <= 1e-12).all()
    assert (np.diff(rising) >= -1e-12).all()
    assert falling.max() <= theta[0] + math.exp(theta[1]) + 1e-12
    assert falling.min() >= theta[0] - 1e-12


@every_shape
@given(drawn=st.lists(unit, min_size=7, max_size=7))
def test_a_negative_is_the_mirror_of_a_positive(shape: Shape, drawn: list[float]) -> None:
    theta = theta_of(shape, drawn)
    mirrored = theta.copy()
    mirrored[2] = -theta[2]
    assert shape.density(theta, EXPOSURES, -1.0) == pytest.approx(shape.density(mirrored, -EXPOSURES, 1.0), abs=1e-12)


def test_two_logistics_in_one_place_are_one() -> None:
    plain = np.array([0.08, math.log(1.8), 0.1, math.log(7)])
    double = np.append(plain, [0.0, -30.0, 0.3])
    assert DOUBLE_LOGISTIC.density(double, EXPOSURES, -1.0) == pytest.approx(LOGISTIC.density(plain, EXPOSURES, -1.0), abs=1e-9)


def test_richards_with_power_one_is_the_logistic() -> None:
    plain = np.array([0.08, math.log(1.8), 0.1, math.log(7)])
    assert RICHARDS.density(np.append(plain, 0.0), EXPOSURES, 1.0) == pytest.approx(LOGISTIC.density(plain, EXPOSURES, 1.0), abs=1e-12)


@every_shape
def test_nothing_overflows(shape: Shape) -> None:
    theta = np.full((2, len(shape.parameters)), 500.0)
    theta[1] = -500.0
    with np.errstate(all="raise", under="ignore"):
        found = shape.density(theta, np.array([-10.0, 0.0, 10.0]), -1.0)
    assert np.isfinite(found).all()


@every_shape
def test_many_curves_at_once_are_the_same_as_one_by_one(shape: Shape) -> None:
    thetas = np.array([theta_of(shape, list(row)) for row in np.random.default_rng(5).normal(size=(4, 7))])
    together = shape.density(thetas, EXPOSURES, -1.0)
    assert together == pytest.approx(np.array([shape.density(one, EXPOSURES, -1.0) for one in thetas]))
    each = shape.density(thetas, np.array([[-0.5], [0.0], [0.2], [1.0]]), -1.0)
    assert each[:, 0] == pytest.approx([shape.density(one, np.array([x]), -1.0)[0] for one, x in zip(thetas, (-0.5, 0, 0.2, 1), strict=True)])
