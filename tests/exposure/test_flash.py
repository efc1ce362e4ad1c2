"""Flash kernels by a second route: light on the subject in lux seconds, and counting flash by flash."""

from math import log2, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.flash import (
    beam_cd_s,
    flash_f_number,
    flash_stops,
    flashes_for,
    flashes_stops,
    guide_number_at_ei,
    guide_number_from_energy,
    heads_f_number,
    rest_for_flash,
)

GUIDE = st.floats(0.5, 200)
AWAY = st.floats(100, 50000)
EI = st.floats(0.1, 3200)


@given(GUIDE, AWAY)
def test_twice_the_distance_costs_two_stops(guide_number: float, distance_mm: float) -> None:
    near, far = flash_f_number(guide_number, distance_mm), flash_f_number(guide_number, 2 * distance_mm)
    assert flash_stops(8, far) - flash_stops(8, near) == pytest.approx(2, abs=1e-9)


@given(GUIDE, AWAY, EI)
def test_the_beam_on_the_subject_gives_the_same_aperture(guide_number: float, distance_mm: float, ei: float) -> None:
    """Second route: lux seconds I / d^2 read by an incident meter, N = sqrt(E t S / C)."""
    lx_s = beam_cd_s(guide_number, ei, 250) / (distance_mm / 1000) ** 2
    assert sqrt(lx_s * ei / 250) == pytest.approx(flash_f_number(guide_number, distance_mm), rel=1e-9)


@given(st.floats(1, 10000), EI)
def test_a_bare_tube_lights_all_round(energy_ws: float, ei: float) -> None:
    """Second route: the light over the whole sphere is what the tube gives."""
    guide = guide_number_from_energy(energy_ws, 30, ei, 250)
    assert beam_cd_s(guide, ei, 250) * 4 * pi == pytest.approx(30 * energy_ws, rel=1e-9)


def test_unsure_energy_is_nine_tenths_of_a_stop() -> None:
    low, high = (guide_number_from_energy(600, efficacy, 100, 250) for efficacy in (15, 50))
    assert flash_stops(high, low) / 2 == pytest.approx(0.87, abs=0.005)


@given(GUIDE, EI, EI)
def test_there_and_back_to_another_index(guide_number: float, one: float, other: float) -> None:
    assert guide_number_at_ei(guide_number_at_ei(guide_number, one, other), other, one) == pytest.approx(guide_number, rel=1e-9)


@given(st.integers(1, 64), GUIDE)
def test_equal_heads_are_as_good_as_flashes(count: int, asked_f: float) -> None:
    """N heads at once give what n flashes of one head give."""
    together = heads_f_number([asked_f] * count)
    assert flashes_for(flash_stops(together, asked_f)) == pytest.approx(count, rel=1e-9)


@given(st.floats(-6, 6), st.floats(0.6, 1.2))
def test_flashes_read_backwards(stops: float, exponent: float) -> None:
    assert flashes_stops(flashes_for(stops, exponent), exponent) == pytest.approx(stops, abs=1e-9)


def test_flashes_that_do_not_add_up_need_more() -> None:
    """Q = 0.9: eight flashes do as much as 8^0.9 = 6.5, so eight flashes' worth takes 10.1."""
    assert flashes_for(3, 0.9) == pytest.approx(8 ** (1 / 0.9))
    assert flashes_for(-1, 0.9) == 0.5


@given(st.floats(0, 100), st.floats(0.01, 1000))
def test_light_that_is_there_and_flash_fill_the_sheet(open_s: float, alone_s: float) -> None:
    rest = rest_for_flash(open_s, alone_s)
    assert 0 <= rest <= 1
    assert rest + min(1, open_s / alone_s) == pytest.approx(1)


@given(st.floats(0.7, 90), st.floats(0.7, 90))
def test_stops_are_logarithms_of_light(f_number: float, asked_f: float) -> None:
    assert flash_stops(f_number, asked_f) == pytest.approx(log2(f_number**2 / asked_f**2), abs=1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: flash_f_number(0, 1000),
        lambda: flash_f_number(45, 0),
        lambda: guide_number_at_ei(45, 0, 3),
        lambda: beam_cd_s(45, 100, 0),
        lambda: guide_number_from_energy(0, 30, 100, 250),
        lambda: flash_stops(8, 0),
        lambda: heads_f_number([]),
        lambda: heads_f_number([4, 0]),
        lambda: flashes_for(1, 0),
        lambda: flashes_stops(0),
        lambda: rest_for_flash(-1, 1),
        lambda: rest_for_flash(1, 0),
    ],
)
def test_no_light_no_number(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
