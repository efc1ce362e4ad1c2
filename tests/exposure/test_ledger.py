"""The ledger: sums, quadrature against simulation, brackets against counting, and backwards again."""

from functools import partial
from math import hypot, log2, sqrt
from random import Random
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.ledger import bracket_chance, bracket_stops, index_of_exposure, reciprocity_line, total
from silverwright.exposure.meter import time_from_ev
from silverwright.exposure.reciprocity import correction_sd_stops, needed_s
from silverwright.questions.reciprocity import first_guess
from silverwright.records import ReciprocityLaw, Stops

PRIOR = first_guess()
NEEDED = partial(needed_s, law=PRIOR)
LINES = st.lists(st.builds(Stops, st.floats(-10, 10), st.floats(0, 3)), max_size=8)


@given(LINES, LINES)
def test_stops_add(some: list[Stops], others: list[Stops]) -> None:
    both, one, other = total([*some, *others]), total(some), total(others)
    assert both.amount_stops == pytest.approx(one.amount_stops + other.amount_stops, abs=1e-9)
    assert both.doubt_stops == pytest.approx(hypot(one.doubt_stops, other.doubt_stops), abs=1e-9)


@pytest.mark.parametrize("sd", [0.2, 0.55, 1.5])
@pytest.mark.parametrize("metered_s", [10, 75, 400])
def test_quadrature_with_the_stretch_agrees_with_drawing(metered_s: float, sd: float) -> None:
    """Draw the doubt above the line and the exponent; the spread of the time is what the lines give in quadrature."""
    chance = Random(3)
    law = ReciprocityLaw(3, 1.3, exponent_sd=0.03)  # steep, so that the stretch shows; hardly cut at 1
    before = Stops(log2(metered_s), sd)
    line = reciprocity_line(before, partial(needed_s, law=law), correction_sd_stops(metered_s, law))
    drawn = []
    for _ in range(20000):
        one = ReciprocityLaw(3, max(1, chance.gauss(1.3, 0.03)))
        drawn.append(log2(needed_s(2 ** chance.gauss(before.amount_stops, sd), one)))
    middle = sum(drawn) / len(drawn)
    spread = sqrt(sum((value - middle) ** 2 for value in drawn) / len(drawn))
    assert total([before, line]).doubt_stops == pytest.approx(spread, rel=0.06)
    assert total([before, line]).amount_stops == pytest.approx(log2(needed_s(metered_s, law)), abs=1e-9)


def test_plain_quadrature_would_be_too_narrow() -> None:
    """The same without the stretch: what the line is for."""
    law = ReciprocityLaw(3, 1.3)
    line = reciprocity_line(Stops(log2(400), 1.5), partial(needed_s, law=law), 0.0)
    assert hypot(1.5, line.doubt_stops) == pytest.approx(1.5 * 1.3, rel=0.01)


def test_no_doubt_above_leaves_the_law_alone() -> None:
    line = reciprocity_line(Stops(log2(60)), NEEDED, 0.28)
    assert line.amount_stops == pytest.approx(0.3458, abs=1e-4)
    assert line.doubt_stops == 0.28


@given(st.floats(0, 3), st.sampled_from([1, 2, 3]))
def test_a_bracket_lies_around_the_middle(doubt: float, sheets: int) -> None:
    steps = bracket_stops(doubt, sheets)
    assert len(steps) == sheets
    assert list(steps) == sorted(steps)
    assert sum(steps) == pytest.approx(0, abs=1e-9)


def test_two_sheets_stand_where_27_and_73_of_100_lie_below() -> None:
    chance = Random(5)
    drawn = sorted(chance.gauss(0, 0.7) for _ in range(20000))
    low, high = bracket_stops(0.7, 2)
    assert sum(value < low for value in drawn) / 20000 == pytest.approx(0.27, abs=0.01)
    assert sum(value < high for value in drawn) / 20000 == pytest.approx(0.73, abs=0.01)


@pytest.mark.parametrize("shared", [0.2, 0.7, 1.7])
@pytest.mark.parametrize("sheets", [1, 2, 3])
def test_the_chance_by_counting(shared: float, sheets: int) -> None:
    steps = bracket_stops(hypot(shared, 0.22), sheets)
    chance, good, times = Random(7), 0, 20000
    for _ in range(times):
        error = chance.gauss(0, shared)
        good += any(abs(error + step + chance.gauss(0, 0.22)) <= 1 / 3 for step in steps)
    assert bracket_chance(shared, 0.22, steps, 1 / 3) == pytest.approx(good / times, abs=0.012)


@given(st.floats(0, 2), st.floats(0.1, 1))
def test_the_chance_of_one_sheet_in_closed_form(shared: float, own: float) -> None:
    whole = NormalDist(0, hypot(shared, own))
    assert bracket_chance(shared, own, (0.0,), 1 / 3) == pytest.approx(2 * whole.cdf(1 / 3) - 1, abs=0.002 if own >= 0.2 else 0.02)


@given(st.floats(0, 2))
def test_more_sheets_are_never_worse_by_much(shared: float) -> None:
    """A second sheet at 27 and 73 % can cost a little where the doubt is small already; a third one helps against both."""
    one, two, three = (bracket_chance(shared, 0.22, bracket_stops(hypot(shared, 0.22), sheets), 1 / 3) for sheets in (1, 2, 3))
    assert 0 <= one <= 1
    assert three >= two >= one


@given(st.floats(-4, 18), st.floats(1, 100), st.floats(0.1, 30), st.floats(0, 5))
def test_the_ledger_backwards(ev: float, f_number: float, ei: float, other_stops: float) -> None:
    given_s = needed_s(time_from_ev(ev, f_number, ei) * 2**other_stops, PRIOR)
    assert index_of_exposure(given_s, f_number, ev, other_stops, NEEDED) == pytest.approx(ei, rel=1e-9)


def test_half_a_stop_more_light_given_is_half_a_stop_less_index_at_short_times() -> None:
    one, more = (index_of_exposure(given_s, 8, 10, 0, NEEDED) for given_s in (1, 2**0.5))
    assert log2(one / more) == pytest.approx(0.5)


def test_out_of_range() -> None:
    with pytest.raises(OutOfRange):
        bracket_stops(1, 4)
    with pytest.raises(OutOfRange):
        bracket_chance(1, 0, (0,), 0.3)
    with pytest.raises(OutOfRange):
        bracket_chance(1, 0.2, (0, 1), 0.3)
    with pytest.raises(OutOfRange):
        index_of_exposure(0, 8, 10, 0, NEEDED)
