"""The bellows by a second route: light cones, and doubts by differences."""

from math import hypot, log, log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.bellows import (
    bellows_doubt_stops,
    bellows_factor,
    bellows_stops,
    magnification_from_distance,
    magnification_from_extension,
)

M = st.floats(0, 20)
P = st.floats(0.3, 3)


@given(st.floats(20, 2000), st.floats(1, 3))
def test_extension_and_distance_are_one_lens(focal_mm: float, times: float) -> None:
    """1/F = 1/u + 1/V: the distance that belongs to an extension gives the same magnification."""
    extension_mm = focal_mm * (1 + times / 10)
    subject_mm = 1 / (1 / focal_mm - 1 / extension_mm)
    assert magnification_from_distance(subject_mm, focal_mm) == pytest.approx(magnification_from_extension(extension_mm, focal_mm), rel=1e-6)


@given(st.floats(20, 2000), st.floats(1, 21))
def test_the_old_rule_of_the_square(focal_mm: float, times: float) -> None:
    """(V/F)^2, without magnification."""
    m = magnification_from_extension(focal_mm * times, focal_mm)
    assert bellows_factor(m) == pytest.approx(times**2, rel=1e-9)


@given(M, st.floats(0.001, 5), P)
def test_nearer_never_needs_less(m: float, more: float, p: float) -> None:
    assert bellows_stops(m + more, p) > bellows_stops(m, p) >= 0


@given(M, P)
def test_stops_and_factor_say_the_same(m: float, p: float) -> None:
    assert bellows_stops(m, p) == pytest.approx(log2(bellows_factor(m, p)), abs=1e-12)


@given(st.floats(0.01, 5), st.floats(0.0001, 0.001), st.floats(0.5, 2), st.floats(0.0001, 0.001))
def test_doubt_by_differences(m: float, m_sd: float, p: float, p_sd_ln: float) -> None:
    by_m = (bellows_stops(m + m_sd, p) - bellows_stops(m - m_sd, p)) / 2
    by_p = (bellows_stops(m, p * (1 + p_sd_ln)) - bellows_stops(m, p * (1 - p_sd_ln))) / 2
    assert bellows_doubt_stops(m, m_sd, p, p_sd_ln) == pytest.approx(hypot(by_m, by_p), rel=1e-3)


def test_a_lens_of_half_a_millimetre_is_a_lens() -> None:
    assert magnification_from_extension(1, 0.5) == 1
    assert magnification_from_distance(1, 0.5) == 1


def test_five_millimetres_of_three_hundred_are_a_twentieth_of_a_stop() -> None:
    assert bellows_doubt_stops(300 / 210 - 1, 5 / 210) == pytest.approx(0.05, abs=0.005)


def test_unknown_pupils_at_a_fifth_of_life_size_are_a_tenth_of_a_stop() -> None:
    """Reference: 0.8 to 1.25 at m = 0.2 is +-0.1 stop; read as 90 % limits."""
    assert 1.645 * bellows_doubt_stops(0.2, 0, 1, log(1.25) / 1.645) == pytest.approx(0.1, abs=0.01)


@pytest.mark.parametrize(
    "call",
    [
        lambda: bellows_factor(-0.1),
        lambda: bellows_factor(1, 0),
        lambda: magnification_from_extension(209, 210),
        lambda: magnification_from_extension(209, 0),
        lambda: magnification_from_distance(210, 210),
        lambda: magnification_from_distance(210, 0),
        lambda: bellows_doubt_stops(1, 0.1, -1),
    ],
)
def test_no_image_no_number(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
