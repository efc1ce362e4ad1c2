"""A sitter's movement by a second route: the table read by hand, and simulated sitters."""

from itertools import pairwise
from math import exp, log, log2
from random import Random
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.optics import defocus_mm
from silverwright.exposure.sitter import (
    learnt_stillness,
    out_of_focus_mm,
    spread_ln,
    still_of_hundred,
    stops_missing,
    time_for_wander_s,
    wander_mm,
)
from silverwright.records import Focus, Sitting, Wander

TABLE = tuple(Wander(*row) for row in ((0.5, 0.9, 2.8), (1, 1.7, 5.1), (2, 2.9, 8.6), (4, 4.4, 12.8), (8, 6.5, 17), (15, 9, 21), (30, 13, 26)))
TIMES = st.floats(0.02, 1e5)
SHARE = st.floats(50, 99)


@pytest.mark.parametrize("row", TABLE)
def test_the_rows_come_back(row: Wander) -> None:
    assert wander_mm(row.time_s, TABLE, 50) == pytest.approx(row.median_mm)
    assert wander_mm(row.time_s, TABLE, 90) == pytest.approx(row.high_mm)


def test_between_two_rows_by_hand() -> None:
    """Half way between 1 and 2 s in doublings: the geometric mean."""
    assert wander_mm(2**0.5, TABLE, 90) == pytest.approx((5.1 * 8.6) ** 0.5)
    assert wander_mm(0.25, TABLE, 90) == pytest.approx(2.8 * 2.8 / 5.1)


@given(TIMES, SHARE)
def test_there_and_back(time_s: float, of_hundred: float) -> None:
    assert time_for_wander_s(wander_mm(time_s, TABLE, of_hundred), TABLE, of_hundred) == pytest.approx(time_s, rel=1e-6)


@given(TIMES, st.floats(1.001, 3), SHARE)
def test_longer_never_moves_less(time_s: float, times: float, of_hundred: float) -> None:
    assert wander_mm(time_s * times, TABLE, of_hundred) > wander_mm(time_s, TABLE, of_hundred)


@given(TIMES, st.floats(50, 98.9))
def test_more_sittings_move_farther(time_s: float, of_hundred: float) -> None:
    assert wander_mm(time_s, TABLE, of_hundred + 0.1) > wander_mm(time_s, TABLE, of_hundred)


@given(TIMES, SHARE)
def test_so_many_of_hundred_are_still(time_s: float, of_hundred: float) -> None:
    assert still_of_hundred(wander_mm(time_s, TABLE, of_hundred), time_s, TABLE) == pytest.approx(of_hundred, abs=1e-6)


def test_beyond_the_table_sitters_stay_as_unlike_as_they_were() -> None:
    """Drawn on by their own stretches, the ninetieth percentile would fall below the median after eleven minutes."""
    assert spread_ln(1e5, TABLE) == pytest.approx(spread_ln(30, TABLE))
    assert wander_mm(60, TABLE, 90) / 26 == pytest.approx(13 / 9)


def test_doubt_moves_the_chance_towards_even() -> None:
    assert 50 < still_of_hundred(12.8, 4, TABLE, 0.5) < 90


def test_half_a_second_is_what_the_shortest_stretch_says() -> None:
    """The check of the reference: m 0.1, half a millimetre, nine of ten: 0.98 s; 8 s then miss 3.0 stops, 4 s miss 2.0."""
    longest_s = time_for_wander_s(0.5 / 0.1, TABLE, 90)
    assert longest_s == pytest.approx(0.98, abs=0.05)
    assert stops_missing(8, longest_s) == pytest.approx(3.0, abs=0.05)
    assert stops_missing(4, longest_s) == pytest.approx(2.0, abs=0.05)
    assert 0.1 * wander_mm(4, TABLE, 50) == pytest.approx(0.44, abs=0.005)


def test_simulated_sitters_who_wander_at_random_agree_with_the_shape() -> None:
    """Second route: heads that wander at random around a place they are drawn back to; the way grows slower than the time, as in the table."""
    draw, ways = Random(3), {}
    for seconds in (1, 4, 16):
        seen = []
        for _ in range(300):
            place = low = high = 0.0
            for _ in range(seconds * 20):
                place += -0.02 * place + draw.gauss(0, 0.35)
                low, high = min(low, place), max(high, place)
            seen.append(high - low)
        ways[seconds] = median(seen)
    simulated = [log2(ways[b] / ways[a]) / 2 for a, b in pairwise(ways)]
    told = [log2(wander_mm(b, TABLE, 50) / wander_mm(a, TABLE, 50)) / 2 for a, b in pairwise(ways)]
    assert all(0.3 < one < 0.8 for one in simulated)
    assert told == pytest.approx(simulated, abs=0.3)


def test_own_sheets_of_one_sitter_find_that_sitter() -> None:
    """Sitters drawn from what is believed beforehand, one to thirty sheets of each: eight of ten lie within the 80 % limits that are stated."""
    draw, reach = Random(11), 1.2815515655446004
    for many in (1, 5, 30):
        inside = 0
        for _ in range(600):
            true_factor = 0.5 * exp(draw.gauss(0, 0.6))
            sheets = []
            for number in range(many):
                time_s = (1, 2, 4, 8, 15)[number % 5]
                off = draw.gauss(0, spread_ln(time_s, TABLE))
                sheets.append(Sitting(time_s, wander_mm(time_s, TABLE, 50) * true_factor * exp(off)))
            factor, doubt = learnt_stillness(sheets, TABLE, 0.5, 0.6)
            inside += abs(log(factor / true_factor)) < reach * doubt
        assert inside / 600 == pytest.approx(0.8, abs=0.05)
        assert doubt < (0.6, 0.2)[many == 30]
    assert learnt_stillness((), TABLE, 0.5, 0.6) == pytest.approx((0.5, 0.6))


@given(st.floats(0.02, 0.5), st.floats(0.1, 3), st.floats(4, 64))
def test_to_and_fro_is_the_cone_of_the_lens(m: float, way_mm: float, f_number: float) -> None:
    """Second route: magnification of the nearer place by the thin lens, and the cone from its exit pupil."""
    focal_mm = 210.0
    nearer = focal_mm / (focal_mm / m - way_mm)
    cone = defocus_mm(Focus(focal_mm, f_number, m), nearer)
    assert out_of_focus_mm(way_mm, m, f_number * (1 + m)) == pytest.approx(cone, rel=0.02)


@pytest.mark.parametrize(
    ("call", "error"),
    [
        (lambda: wander_mm(0, TABLE, 90), OutOfRange),
        (lambda: wander_mm(1, TABLE, 49), OutOfRange),
        (lambda: wander_mm(1, TABLE[:1], 90), NotEnoughReadings),
        (lambda: time_for_wander_s(0, TABLE, 90), OutOfRange),
        (lambda: still_of_hundred(0, 1, TABLE), OutOfRange),
        (lambda: learnt_stillness((Sitting(1, 0),), TABLE, 1, 0.3), OutOfRange),
        (lambda: learnt_stillness((), TABLE, 1, 0), OutOfRange),
        (lambda: stops_missing(1, 0), OutOfRange),
        (lambda: out_of_focus_mm(-1, 0.1, 8), OutOfRange),
        (lambda: out_of_focus_mm(1, 0, 8), OutOfRange),
    ],
)
def test_no_movement_no_number(call: object, error: type[Exception]) -> None:
    with pytest.raises(error):
        call()  # type: ignore[operator]
