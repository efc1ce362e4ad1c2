"""Evidence for an index: combined by hand, and the two processes that ask for opposite things."""

from math import log2, sqrt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.api import ask
from silverwright.errors import OutOfRange
from silverwright.records import Evidence
from silverwright.sensitometry.index import combine, judged_index_stops, judged_sd_stops

GUESS = Evidence(1.0, 1.5)
stops = st.floats(-8, 8)
doubts = st.floats(0.02, 3)


def test_two_normals_by_hand() -> None:
    """EI 2 +- 1.5 stops and EI 8 +- 0.5: weights 1/2.25 and 1/0.25, so (0.444 x 1 + 4 x 3)/4.444 = 2.8 stops, sd 0.474."""
    found = combine(GUESS, [Evidence(3.0, 0.5)])
    assert found.index_stops == pytest.approx(2.8)
    assert found.sd_stops == pytest.approx(1 / sqrt(1 / 2.25 + 4))
    assert found.weights == pytest.approx((0.1, 0.9))


def test_nothing_found_leaves_the_first_guess() -> None:
    assert combine(GUESS, []).index_stops == 1.0
    assert combine(GUESS, []).sd_stops == pytest.approx(1.5)


@given(st.lists(st.tuples(stops, doubts), min_size=1, max_size=6))
def test_more_evidence_never_leaves_one_less_sure_than_the_guess(found: list[tuple[float, float]]) -> None:
    whole = combine(GUESS, [Evidence(*one) for one in found])
    ends = [GUESS.index_stops, *(one[0] for one in found)]
    assert min(ends) - 1e-9 <= whole.index_stops <= max(ends) + 1e-9
    assert whole.sd_stops <= GUESS.sd_stops
    assert sum(whole.weights) == pytest.approx(1)


def test_order_does_not_matter() -> None:
    pieces = [Evidence(2.0, 0.2), Evidence(2.5, 0.35), Evidence(1.9, 0.25)]
    assert combine(GUESS, pieces).index_stops == pytest.approx(combine(GUESS, pieces[::-1]).index_stops)


def test_evidence_that_agrees_is_not_widened() -> None:
    """Spread as chance explains it: two pieces 0.5 stop apart at 0.35 each, chi^2 = 0.5^2 / (2 x 0.35^2) = 1.02."""
    assert combine(GUESS, [Evidence(2.0, 0.35), Evidence(2.5, 0.35)]).widened_factor == 1.0


def test_evidence_that_disagrees_is_widened_by_birges_ratio() -> None:
    """Two pieces 2 stops apart at 0.35 each: chi^2 = 4 / (2 x 0.35^2) = 16.3 on one degree of freedom."""
    found = combine(Evidence(2.0, 1e6), [Evidence(1.0, 0.35), Evidence(3.0, 0.35)])
    assert found.widened_factor == pytest.approx(sqrt(4 / (2 * 0.35**2)))
    assert found.sd_stops == pytest.approx(found.widened_factor * 0.35 / sqrt(2), rel=1e-6)


def test_too_dark_asks_for_more_light_in_a_positive_and_less_in_a_negative() -> None:
    assert judged_index_stops(2.0, 0.5, -1.0) == 1.5
    assert judged_index_stops(2.0, 0.5, 1.0) == 2.5
    assert judged_index_stops(2.0, -0.5, -1.0) == 2.5


def test_a_wet_sheet_under_an_unknown_lamp() -> None:
    assert judged_sd_stops(0.35, [0.15, 0.15]) == pytest.approx(sqrt(0.35**2 + 2 * 0.15**2))


def test_a_doubt_of_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange):
        combine(GUESS, [Evidence(2.0, 0.0)])


def test_the_ledger_adds_up() -> None:
    """Amounts add to log2 of the index, doubts in quadrature to its standard deviation."""
    answer: Any = ask("sensitometry.index", evidence="kind,ei,sd_stops,verdict\ncurve,6.8,0.1,\nverdict,6,,too dark\nstrip by eye,5,,")
    assert sum(line.amount for line in answer.ledger) == pytest.approx(log2(answer.paper_ei.value))
    assert sqrt(sum(line.doubt**2 for line in answer.ledger)) == pytest.approx(answer.sd_stops.value)
    assert answer.rests_on == "1 step sheet, 1 strip by eye, 1 verdict"


@pytest.mark.parametrize(
    ("row", "sd"),
    [
        ({"kind": "curve", "ei": 4, "sd_stops": 0.2}, 0.2),
        ({"kind": "strip by eye", "ei": 4}, 0.25),
        ({"kind": "verdict", "ei": 4, "verdict": "too dark"}, 0.35),
        ({"kind": "verdict", "ei": 4, "judged": "wet"}, sqrt(0.35**2 + 0.15**2)),
        ({"kind": "verdict", "ei": 4, "judged": "wet", "lamp": "unknown"}, sqrt(0.35**2 + 2 * 0.15**2)),
        ({"kind": "typed", "ei": 4}, 0.5),
    ],
)
def test_every_kind_has_its_doubt(row: dict[str, object], sd: float) -> None:
    answer: Any = ask("sensitometry.index", evidence=[row], first_guess=False)
    assert answer.sd_stops.value == pytest.approx(sd)


@pytest.mark.parametrize(
    ("process", "verdict", "ei"),
    [
        ("direct positive", "too dark", 4 / 2**0.5),
        ("negative", "too dark", 4 * 2**0.5),
        ("direct positive", "too light", 4 * 2**0.5),
        ("negative", "right", 4),
    ],
)
def test_half_a_stop_unless_said(process: str, verdict: str, ei: float) -> None:
    answer: Any = ask("sensitometry.index", evidence=[{"kind": "verdict", "ei": 4, "verdict": verdict}], process=process, first_guess=False)
    assert answer.paper_ei.value == pytest.approx(ei, rel=1e-6)
