"""Openings measured and added up."""

from math import hypot, log2, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.aperture import (
    added_effective_s,
    added_s,
    f_number_at_mark,
    f_number_of_stop,
    openings_doubt_stops,
    pinhole_blur_mm,
    sharpest_pinhole_mm,
    stop_doubt_stops,
    stop_for_f_number_mm,
)
from silverwright.exposure.reciprocity import effective_s, needed_s
from silverwright.questions.marks import aperture_marks
from silverwright.records import MeasuredAperture, Opening, ReciprocityLaw

LAW = ReciprocityLaw(3, 1.08)
TIMES, N = st.floats(0.1, 500), st.floats(2, 200)
BLUE_MM = 430e-6


def needed(metered_s: float) -> float:
    return needed_s(metered_s, LAW)


@given(st.floats(30, 1000), st.floats(0.1, 60))
def test_a_stop_is_drilled_as_it_is_measured(distance_mm: float, stop_mm: float) -> None:
    assert stop_for_f_number_mm(distance_mm, f_number_of_stop(distance_mm, stop_mm)) == pytest.approx(stop_mm)


def test_a_hole_measured_by_a_tenth_is_a_third_of_a_stop_off() -> None:
    """2 log2(1.1 / 0.9) / 2, by differences."""
    by_difference = log2(f_number_of_stop(150, 0.9) / f_number_of_stop(150, 1.1))
    assert stop_doubt_stops(150, 0, 1, 0.1) == pytest.approx(by_difference, abs=0.01)
    both = stop_doubt_stops(150, 3, 1, 0.1)
    assert both == pytest.approx(hypot(stop_doubt_stops(150, 3, 1, 0), stop_doubt_stops(150, 0, 1, 0.1)))
    assert stop_doubt_stops(150, 0, 0.001, 100) < 40


@given(st.floats(20, 600))
def test_no_other_pinhole_draws_sharper(distance_mm: float) -> None:
    """A search over holes, for a subject far away."""
    best = sharpest_pinhole_mm(distance_mm, BLUE_MM)
    found = min(range(-400, 401), key=lambda step: pinhole_blur_mm(best * 2 ** (step / 200), distance_mm, 1e9, BLUE_MM))
    assert found == 0


def test_the_hole_is_as_large_as_its_diffraction() -> None:
    d = sharpest_pinhole_mm(150, BLUE_MM)
    assert pinhole_blur_mm(d, 150, 1e9, BLUE_MM) == pytest.approx(sqrt(2) * d, rel=1e-5)


@given(TIMES, N, st.integers(1, 6))
def test_pieces_at_one_aperture_are_their_sum(time_s: float, f_number: float, pieces: int) -> None:
    openings = [Opening(time_s / pieces, f_number)] * pieces
    assert added_s(openings, f_number) == pytest.approx(time_s)
    assert added_effective_s(openings, f_number, needed) == pytest.approx(effective_s(time_s, needed))
    assert openings_doubt_stops(openings, f_number, 0.2) == pytest.approx(
        openings_doubt_stops([Opening(time_s, f_number)], f_number, 0.2 * sqrt(pieces))
    )


@given(st.lists(st.tuples(TIMES, N), min_size=1, max_size=6), N)
def test_the_light_of_all_openings_is_counted(rows: list[tuple[float, float]], f_number: float) -> None:
    openings = [Opening(*row) for row in rows]
    light = sum(time_s / other**2 for time_s, other in rows)
    assert added_s(openings, f_number) == pytest.approx(light * f_number**2)
    assert added_effective_s(openings, f_number, needed) <= added_s(openings, f_number) * (1 + 1e-9)
    assert added_effective_s(openings, f_number, lambda metered_s: metered_s) == pytest.approx(added_s(openings, f_number))


@given(st.lists(st.tuples(TIMES, N), min_size=2, max_size=5), N)
def test_the_order_does_not_matter(rows: list[tuple[float, float]], f_number: float) -> None:
    there, back = ([Opening(*row) for row in one] for one in (rows, rows[::-1]))
    assert added_effective_s(there, f_number, needed) == pytest.approx(added_effective_s(back, f_number, needed))


def test_a_measured_mark_is_what_it_is_and_between_two_lies_the_line() -> None:
    """f/8 that is f/9 (a third of a stop), f/32 that is f/32: f/16 half of it, f/45 as engraved."""
    measured = [MeasuredAperture(8, 8 * 2 ** (1 / 6)), MeasuredAperture(32, 32)]
    marks = aperture_marks()
    for marked, true, left in ((8, 8 * 2 ** (1 / 6), 0.0), (16, 16 * 2 ** (1 / 12), 0.5), (45, 2**5.5, 1.0)):
        found, share = f_number_at_mark(marked, measured, marks)
        assert found == pytest.approx(true)
        assert share == left
    assert f_number_at_mark(11, [], marks)[0] == pytest.approx(2**3.5)
    twice = [MeasuredAperture(8, 8), MeasuredAperture(8, 16)]
    assert f_number_at_mark(8, twice, marks)[0] == pytest.approx(8 * 2**0.5)


@pytest.mark.parametrize(
    "call",
    [
        lambda: f_number_of_stop(0, 1),
        lambda: f_number_of_stop(100, 0),
        lambda: sharpest_pinhole_mm(0, BLUE_MM),
        lambda: pinhole_blur_mm(1, 100, 0, BLUE_MM),
        lambda: added_s([Opening(0, 8)], 8),
        lambda: added_s([Opening(1, 8)], 0),
        lambda: f_number_at_mark(0, [], {}),
    ],
)
def test_no_hole_no_number(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]


def test_nothing_opened_is_no_exposure() -> None:
    with pytest.raises(NotEnoughReadings):
        added_s([], 8)
