"""Filling and dumping as it is asked: fill by fill, its limits, and what it refuses."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from silverwright.errors import BadQuestion
from silverwright.questions.washing import WASHING


def ask(**given: Any) -> Any:
    return WASHING.ask({"sheet_size": "8x10 in", "paper_base": "RC", "fill_ml": 1000, "fills": 3} | given)


def test_fill_by_fill() -> None:
    """The second route: 3.7 mL of 90 g/L weighed in on a sheet, each fill nine tenths of the way to even, in grams."""
    told = ask(dry_g=12.4, drained_g=16.1)
    paper_g = 3.7 / 1000 * 90
    for left_g_per_m2 in told.left_then_g_per_m2:
        assert paper_g / 0.05161 == pytest.approx(left_g_per_m2, rel=1e-3)
        even_g = paper_g * 3.7 / 1003.7
        paper_g -= 0.9 * (paper_g - even_g)
    assert told.left_percent.value == pytest.approx(told.left_then_percent[3])
    assert told.water_needed_ml.value == 3000
    assert told.wash_s.value == 900


def test_the_fills_needed_reach_the_limit_and_one_less_does_not() -> None:
    told = ask(dry_g=12.4, drained_g=16.1, thiosulphate_g_per_l=90)
    needed = int(told.fills_needed.value)
    assert told.left_then_g_per_m2[needed] <= 0.014 < told.left_then_g_per_m2[needed - 1]


def test_fibre_is_told_as_at_least() -> None:
    for base in ("fibre", "unknown"):
        told = ask(paper_base=base)
        assert told.left_percent.high is None
        assert told.fills_needed.high is None
        assert any(one.note == "wash-fibre" for one in told.notes)
    assert ask().left_percent.high is not None


@settings(deadline=None)
@given(st.floats(1, 1e6), st.floats(0, 100), st.floats(0, 1000), st.sampled_from(["unknown", "RC", "fibre"]), st.none() | st.floats(0, 500))
def test_limits_hold_their_value(fill_ml: float, fills: float, sheets: float, base: str, strong: float | None) -> None:
    told = ask(fill_ml=fill_ml, fills=fills, sheets=sheets, paper_base=base, thiosulphate_g_per_l=strong)
    for one in (told.left_percent, told.left_g_per_m2, told.fills_needed):
        assert one.low <= one.value * (1 + 1e-9) + 1e-300
        assert one.high is None or one.value <= one.high * (1 + 1e-9)


def test_four_sheets_hold_four_times_as_much() -> None:
    one, four = ask(sheets=1, fill_ml=1000), ask(sheets=4, fill_ml=4000)
    assert four.left_percent.value == pytest.approx(one.left_percent.value)
    assert ask(sheets=4, fill_ml=1000).left_percent.value > one.left_percent.value


def test_more_and_smaller_fills_leave_less() -> None:
    assert ask(fill_ml=500, fills=6).left_percent.value < ask(fill_ml=1000, fills=3).left_percent.value


def test_nothing_carried_needs_no_fill() -> None:
    assert ask(thiosulphate_g_per_l=0).fills_needed.value == 0


@pytest.mark.parametrize(
    ("given", "says"), [({"fill_ml": 0}, "Too small"), ({"fills": -1}, "Too small"), ({"drained_g": 12}, "Weigh the same sheet twice")]
)
def test_what_cannot_be_answered_is_said(given: dict[str, Any], says: str) -> None:
    with pytest.raises(BadQuestion, match=says):
        ask(**given)
