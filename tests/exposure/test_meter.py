"""Readings: units go there and back, more light means less time, and the standard's constants fit together."""

from math import isclose, log2, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.meter import (
    equivalent_reflectance,
    ev_from_dial,
    ev_from_illuminance,
    ev_from_luminance,
    illuminance_from_ev,
    luminance_from_ev,
    paper_exposure_lx_s,
    time_from_ev,
)

EV = st.floats(-8, 24)
K = st.floats(10, 15)
C = st.floats(200, 600)
EI = st.floats(0.01, 6400)
F = st.floats(0.7, 512)


@given(EV, K, EI)
def test_luminance_and_back(ev: float, k: float, ei: float) -> None:
    assert ev_from_luminance(luminance_from_ev(ev, k, ei), k, ei) == pytest.approx(ev, abs=1e-9)


@given(EV, C, EI)
def test_illuminance_and_back(ev: float, c: float, ei: float) -> None:
    assert ev_from_illuminance(illuminance_from_ev(ev, c, ei), c, ei) == pytest.approx(ev, abs=1e-9)


@given(EV, F, EI, F, EI)
def test_the_dial_says_the_same_at_every_aperture_and_index(ev: float, one_f: float, one_ei: float, other_f: float, other_ei: float) -> None:
    one = ev_from_dial(time_from_ev(ev, one_f, one_ei), one_f, one_ei)
    other = ev_from_dial(time_from_ev(ev, other_f, other_ei), other_f, other_ei)
    assert one == pytest.approx(ev, abs=1e-9)
    assert other == pytest.approx(one, abs=1e-9)


@given(EV, st.floats(0.01, 5), F, EI)
def test_more_light_means_less_time(ev: float, more: float, f_number: float, ei: float) -> None:
    assert time_from_ev(ev + more, f_number, ei) < time_from_ev(ev, f_number, ei)


@given(EV, F, EI)
def test_a_second_route_over_luminance(ev: float, f_number: float, ei: float) -> None:
    """N^2/t = L S/K, without exposure values."""
    luminance = luminance_from_ev(ev, 12.5)
    assert time_from_ev(ev, f_number, ei) == pytest.approx(f_number**2 * 12.5 / (luminance * ei), rel=1e-12)


@given(EV, F, EI, K)
def test_the_paper_gets_what_the_index_says(ev: float, f_number: float, ei: float, k: float) -> None:
    """H = q L t / N^2, the camera equation at infinity, against q K / S."""
    luminance = luminance_from_ev(ev, k)
    h = 0.65 * luminance * time_from_ev(ev, f_number, ei) / f_number**2
    assert h == pytest.approx(paper_exposure_lx_s(ei, k, 0.65), rel=1e-12)


def test_two_meter_constants_are_0_16_stop_apart() -> None:
    assert log2(14 / 12.5) == pytest.approx(0.16, abs=0.005)
    assert luminance_from_ev(10, 14) / luminance_from_ev(10, 12.5) == pytest.approx(14 / 12.5)


def test_a_grey_of_pi_k_over_c_reads_the_same_both_ways() -> None:
    """A perfectly dull grey under E lux has the luminance rho E / pi."""
    grey = equivalent_reflectance(12.5, 250)
    assert isclose(ev_from_luminance(grey * 2560 / pi, 12.5), ev_from_illuminance(2560, 250), abs_tol=1e-12)


@pytest.mark.parametrize(
    "call",
    [
        lambda: ev_from_luminance(0, 12.5),
        lambda: ev_from_illuminance(-1, 250),
        lambda: luminance_from_ev(1, 0),
        lambda: illuminance_from_ev(1, 250, -100),
        lambda: ev_from_dial(1, 0, 100),
        lambda: time_from_ev(1, 8, 0),
        lambda: equivalent_reflectance(12.5, 0),
        lambda: paper_exposure_lx_s(1, 12.5, float("nan")),
    ],
)
def test_nothing_below_zero(call: object) -> None:
    with pytest.raises(OutOfRange, match="above 0"):
        call()  # type: ignore[operator]
