"""Density, reflectance and lightness: there and back, and where the formula changes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.densitometry.density import (
    LINEAR_BELOW,
    density_of_reflectance,
    lightness_of_reflectance,
    reflectance_of_density,
    reflectance_of_lightness,
)
from silverwright.errors import OutOfRange


@given(st.floats(-0.3, 6))
def test_density_there_and_back(density: float) -> None:
    assert density_of_reflectance(reflectance_of_density(density)) == pytest.approx(density, abs=1e-12)


@given(st.floats(1e-9, 1.5))
def test_lightness_there_and_back(reflectance: float) -> None:
    assert reflectance_of_lightness(lightness_of_reflectance(reflectance)) == pytest.approx(reflectance, rel=1e-9)


def test_both_parts_of_lightness_meet() -> None:
    below, above = (lightness_of_reflectance(LINEAR_BELOW * factor) for factor in (1 - 1e-9, 1 + 1e-9))
    assert below == pytest.approx(8.0, abs=1e-6)
    assert above == pytest.approx(8.0, abs=1e-6)


@given(st.floats(0, 5), st.floats(0.001, 1))
def test_darker_never_looks_lighter(density: float, more: float) -> None:
    lighter, darker = (lightness_of_reflectance(reflectance_of_density(one)) for one in (density, density + more))
    assert darker < lighter


def test_white_is_100() -> None:
    assert lightness_of_reflectance(1.0) == pytest.approx(100)
    assert reflectance_of_density(0.0) == 1.0


@pytest.mark.parametrize("wrong", [0.0, -0.1])
def test_no_light_has_no_density(wrong: float) -> None:
    with pytest.raises(OutOfRange, match="reflectance_factor"):
        density_of_reflectance(wrong)


def test_lightness_is_never_negative() -> None:
    with pytest.raises(OutOfRange):
        lightness_of_reflectance(-0.01)
    with pytest.raises(OutOfRange):
        reflectance_of_lightness(-1)
    assert lightness_of_reflectance(0.0) == 0.0


def test_a_step_in_lightness_as_density() -> None:
    """Printed: Delta L* 2 is 0.024 in density at 0.1 and 0.048 at 1.0, from dD = dL* 10^(D/3) / 89.03."""
    for density, expected in ((0.1, 0.024), (1.0, 0.048), (1.5, 0.071)):
        lightness = lightness_of_reflectance(reflectance_of_density(density))
        darker = density_of_reflectance(reflectance_of_lightness(lightness - 1))
        lighter = density_of_reflectance(reflectance_of_lightness(lightness + 1))
        assert darker - lighter == pytest.approx(expected, abs=0.0007)
        assert math.isclose(2 * 10 ** (density / 3) / 89.03, expected, abs_tol=0.0007)
