"""The colour of light: the mean of two papers against drawing from both, an offset learnt from simulated sheets, filters by their spectrum."""

from math import hypot, log2, sqrt
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.colour import coloured_filter_stops, either_sensitivity, learnt_offset
from silverwright.records import LightBand, Passed, Stops

Z80 = 1.2815515655446004
TABLE = Stops(-1.41, 0.3)
SHEET_SD = 0.25
offsets = st.builds(Stops, st.floats(-4, 4), st.floats(0.05, 2))


def sheets(truth: float, many: int, dice: Random) -> list[Stops]:
    return [Stops(truth + dice.gauss(0, SHEET_SD), SHEET_SD) for _ in range(many)]


def test_five_sheets_a_stop_off_the_table_find_the_light() -> None:
    """Truth lies a stop below the table: five sheets bring the offset within 0.3 of it nine times of ten, and its 80 % limits within +-0.3."""
    truth = TABLE.amount_stops - 1
    found = [learnt_offset(TABLE, sheets(truth, 5, Random(seed))) for seed in range(400)]
    assert sum(abs(one.amount_stops - truth) < 0.3 for one in found) > 0.9 * 400
    assert all(Z80 * one.doubt_stops < 0.3 for one in found)


def test_one_sheet_still_leans_on_the_table() -> None:
    found = learnt_offset(TABLE, [Stops(TABLE.amount_stops - 1, 0.35)])
    assert TABLE.amount_stops - 0.6 < found.amount_stops < TABLE.amount_stops - 0.3
    assert found.doubt_stops < TABLE.doubt_stops


def test_its_limits_hold_eight_of_ten_where_the_table_is_as_wrong_as_it_says() -> None:
    dice, held, worlds = Random(5), 0, 4000
    for _ in range(worlds):
        truth = dice.gauss(TABLE.amount_stops, TABLE.doubt_stops)
        found = learnt_offset(TABLE, sheets(truth, 3, dice))
        held += abs(found.amount_stops - truth) < Z80 * found.doubt_stops
    assert held / worlds == pytest.approx(0.8, abs=0.02)  # a standard error is 0.006


@given(offsets, st.lists(offsets, max_size=6))
def test_in_whatever_order_and_two_by_two_it_is_the_same(table: Stops, shown: list[Stops]) -> None:
    """A second route: each sheet taken in one by one, as a table that has learnt already."""
    whole = learnt_offset(table, shown)
    step = table
    for one in reversed(shown):
        step = learnt_offset(step, [one])
    assert (step.amount_stops, step.doubt_stops) == pytest.approx((whole.amount_stops, whole.doubt_stops), abs=1e-9)
    assert min(one.amount_stops for one in (table, *shown)) - 1e-9 <= whole.amount_stops
    assert whole.amount_stops <= max(one.amount_stops for one in (table, *shown)) + 1e-9


def test_a_sheet_that_is_surer_than_anything_is_refused() -> None:
    with pytest.raises(OutOfRange):
        learnt_offset(TABLE, [Stops(0.0, 0.0)])


def test_which_paper_it_is_may_be_unknown() -> None:
    """Against drawing: of a lamp a blue-sensitive paper gets 1.41 stops less, the other 0.69."""
    blue, ortho = Stops(-1.41, 0.3), Stops(-0.69, 0.2)
    found, dice = either_sensitivity(blue, ortho), Random(1)
    drawn = [dice.gauss(one.amount_stops, one.doubt_stops) for _ in range(20000) for one in (blue, ortho)]
    mean = sum(drawn) / len(drawn)
    assert found.amount_stops == pytest.approx(mean, abs=0.01)
    assert found.doubt_stops == pytest.approx(sqrt(sum((one - mean) ** 2 for one in drawn) / len(drawn)), abs=0.01)
    assert found.doubt_stops == pytest.approx(hypot(sqrt((0.09 + 0.04) / 2), 0.36))


DAYLIGHT = tuple(LightBand(380 + 20 * place, 400 + 20 * place, share) for place, share in enumerate((0.1, 0.15, 0.15, 0.2, 0.2, 0.2)))
points = st.lists(st.floats(0.001, 1), min_size=2, max_size=8).map(lambda shares: [Passed(380 + 15 * n, one) for n, one in enumerate(shares)])


@given(st.floats(0.001, 1), st.floats(390, 500))
def test_a_grey_glass_takes_the_same_everywhere(share: float, last_nm: float) -> None:
    glass = [Passed(400, share), Passed(500, share)]
    assert coloured_filter_stops(DAYLIGHT, glass, last_nm) == pytest.approx(-log2(share), abs=1e-9)


@given(points, st.floats(385, 500))
def test_as_a_fine_sum_has_it(glass: list[Passed], last_nm: float) -> None:
    """A second route: thousands of steps with the library's straight lines."""
    at = np.linspace(380, last_nm, 4001)
    middles = (at[1:] + at[:-1]) / 2
    light = np.array([0.1, 0.15, 0.15, 0.2, 0.2, 0.2])[np.minimum((middles - 380) // 20, 5).astype(int)]
    passed = np.interp(middles, [one.at_nm for one in glass], [one.share for one in glass])
    by_hand = log2(float(light.sum() / (light * passed).sum()))
    assert coloured_filter_stops(DAYLIGHT, glass, last_nm) == pytest.approx(by_hand, abs=0.02)


def test_a_glass_that_ends_where_the_paper_begins_takes_nearly_all() -> None:
    yellow = [Passed(500, 0.0), Passed(520, 0.9)]
    assert coloured_filter_stops(DAYLIGHT, yellow, 480) == pytest.approx(13.29, abs=0.01), "a ten thousandth is left"
    assert coloured_filter_stops(DAYLIGHT, [Passed(400, 0.9), Passed(500, 0.9)], 480) < 0.2


@pytest.mark.parametrize(("glass", "last_nm"), [([Passed(500, 0.5)], 480.0), ([Passed(400, 1.0), Passed(500, 1.0)], 370.0)])
def test_what_cannot_be_told_is_refused(glass: list[Passed], last_nm: float) -> None:
    with pytest.raises(OutOfRange):
        coloured_filter_stops(DAYLIGHT, glass, last_nm)
