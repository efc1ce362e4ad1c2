"""The shutter is open and the light changes."""

from math import log2, sqrt
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from silverwright.catalogue import find
from silverwright.errors import BadQuestion


def ask(**given: object) -> Any:
    return find("exposure.changing").ask(given)


def codes(answer: Any) -> set[str]:
    return {note.note.value for note in answer.notes}


def test_as_planned_without_a_second_reading() -> None:
    answer = ask(exposure_s=97, reading_ev=10)
    assert answer.end_s.value == pytest.approx(97)
    assert answer.remaining_s.low < 97 < answer.remaining_s.high
    assert answer.done_percent.value == 0
    assert answer.trend_stops_per_min.value is None


def test_a_reading_on_the_way_sets_the_rest_anew() -> None:
    """Half a stop darker after a minute: the first minute as an even fall, the rest in the new light, by hand."""
    answer = ask(exposure_s=97, reading_ev=10, light_readings="60 9.5", reciprocity_model="none")
    given = 60 * (1 - 2**-0.5) / (0.5 * 0.6931471805599453)
    assert answer.done_percent.value == pytest.approx(100 * given / 97, rel=1e-6)
    assert answer.amounts_to_s.value == pytest.approx(given, rel=1e-6)
    assert answer.remaining_s.value == pytest.approx((97 - given) * sqrt(2), rel=1e-6)
    assert answer.end_s.value == pytest.approx(60 + answer.remaining_s.value)
    assert sum(line.amount for line in answer.ledger) == pytest.approx(log2(answer.end_s.value))


def test_dim_light_also_costs_reciprocity() -> None:
    plain, paper = (ask(exposure_s=97, reading_ev=10, light_readings="60 8", reciprocity_model=law) for law in ("none", "paper"))
    assert paper.remaining_s.value > plain.remaining_s.value


def test_the_light_falls_on_or_stays() -> None:
    rows = "0 7\n60 6.8\n120 6.6"
    stays, falls = (ask(exposure_s="4m", light_readings=rows, light_goes=goes) for goes in ("as last read", "evenly on"))
    assert falls.remaining_s.value > stays.remaining_s.value
    assert falls.trend_stops_per_min.value == pytest.approx(-0.2)
    assert falls.trend_stops_per_min.low < -0.2 < falls.trend_stops_per_min.high
    assert "light-goes" in codes(falls)


def test_the_limits_reach_to_where_a_clear_trend_would_lead() -> None:
    """By a second route: held within the reading's doubt, a clear fall widens the upper limit, a clear rise the lower one."""
    level, falls, rises = (ask(exposure_s=600, reading_ev=7, light_readings=f"120 {ev}") for ev in (7, 6.7, 7.3))
    assert level.end_s.high - level.end_s.value == pytest.approx(level.end_s.value - level.end_s.low)
    assert falls.end_s.high - falls.end_s.value > 1.2 * (falls.end_s.value - falls.end_s.low)
    assert rises.end_s.value - rises.end_s.low > rises.end_s.high - rises.end_s.value
    near = ask(exposure_s=600, reading_ev=7, light_readings="120 6.7001").end_s
    assert near.high == pytest.approx(falls.end_s.high, rel=1e-3)
    assert ask(exposure_s="30m", reading_ev=7, light_readings="120 4").end_s.high is None


def test_light_that_changes_at_once_is_read_at_once() -> None:
    told = ask(exposure_s=60, reading_ev=10, light_readings="1 4", now_s=1)
    sentence = next(note.sentence for note in told.notes if note.note.value == "light-goes")
    assert "at once" in sentence
    assert "within" not in sentence


def test_the_light_fails_first() -> None:
    answer = ask(exposure_s="10m", light_readings="0 7\n60 6\n120 5", light_goes="evenly on")
    assert answer.remaining_s.value is None
    assert "light-fails" in codes(answer)
    assert len(answer.ledger) == 1


def test_more_than_all() -> None:
    answer = ask(exposure_s=60, reading_ev=10, now_s=120)
    assert answer.remaining_s.value == 0
    assert answer.done_percent.value == pytest.approx(200)
    assert "1.0 stop more" in next(note.sentence for note in answer.notes if note.note.value == "all-given")


def test_a_time_of_hours_says_what_else_becomes_the_limit() -> None:
    answer = ask(exposure_s="2h", reading_ev=1)
    assert "light that leaks in" in next(note.sentence for note in answer.notes if note.note.value == "light-long")
    assert codes(ask(exposure_s="20m", reading_ev=1)) == set()


def test_without_a_reading_for_the_plan_the_first_one_is_it() -> None:
    assert ask(exposure_s=97, light_readings="0 10\n60 9.5") == ask(exposure_s=97, reading_ev=10, light_readings="60 9.5")


def test_readings_stand_in_any_order() -> None:
    assert ask(exposure_s=97, light_readings="60 9.5\n0 10") == ask(exposure_s=97, light_readings="0 10\n60 9.5")


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"exposure_s": 97}, "No reading yet"),
        ({"exposure_s": 97, "light_readings": "60 9\n60 8"}, "Two readings at"),
        ({"exposure_s": 97, "light_readings": "60 9", "now_s": 30}, "one of the two is wrong"),
    ],
)
def test_what_contradicts_itself(given: dict[str, object], words: str) -> None:
    with pytest.raises(BadQuestion, match=words):
        ask(**given)


def test_continuous_in_its_readings() -> None:
    for ev in (9.0, 9.5, 10.0, 10.5):
        near = [ask(exposure_s=97, reading_ev=10, light_readings=f"30 {ev + step}").remaining_s.value for step in (0, 1e-6)]
        assert near[0] == pytest.approx(near[1], rel=1e-5)


@given(
    st.floats(1, 3600), st.floats(0, 16), st.lists(st.floats(-2, 2), max_size=4), st.floats(0, 600), st.sampled_from(["as last read", "evenly on"])
)
@settings(max_examples=150)
def test_limits_hold_the_point_and_a_moment_later_is_a_moment_later(time_s: float, ev: float, steps: list[float], gap_s: float, goes: str) -> None:
    """Whatever was read: limits around the value, and the end is where it was when the clock has gone on by a little."""
    rows = "\n".join(f"{60 * at} {ev + step}" for at, step in enumerate(steps, 1))
    asked = {"exposure_s": time_s, "reading_ev": ev, "light_readings": rows, "light_goes": goes}
    now_s = 60 * len(steps) + gap_s
    first, later = (ask(**asked, now_s=at) for at in (now_s, now_s + 1e-3))
    for one in (first.end_s, first.remaining_s, first.done_percent, first.amounts_to_s, first.light_now_stops):
        assert one.value is None or one.low <= one.value
        assert one.value is None or one.high is None or one.value <= one.high
    assert later.done_percent.value >= first.done_percent.value
    if first.remaining_s.value and later.remaining_s.value:
        assert later.end_s.value == pytest.approx(first.end_s.value, rel=1e-3, abs=1e-3)


def true_end_s(light: list[float], step_s: float, exposure_s: float) -> float:
    """When a light that strays has given the whole; a paper that loses nothing."""
    given = 0.0
    for number, stops in enumerate(light):
        given += step_s * 2**stops
        if given >= exposure_s:
            return (number + 1) * step_s
    return step_s * len(light) + (exposure_s - given) / 2 ** light[-1]


def test_the_limits_hold_eight_times_of_ten() -> None:
    """Lights that stray as our judgement has it, read with a meter that strays: 400 exposures of four minutes, read every minute till the third."""
    random, held, cases = Random(20261128), 0, 400
    for _ in range(cases):
        light = [0.0]
        for _ in range(600):
            light.append(light[-1] + random.gauss(0, 0.1 * sqrt(1 / 60)))
        rows = "\n".join(f"{at} {10 + light[at] + random.gauss(0, 0.1)}" for at in (60, 120, 180))
        answer = ask(exposure_s=240, reading_ev=10, light_readings=rows, reciprocity_model="none")
        held += answer.end_s.low <= true_end_s(light, 1, 240) <= answer.end_s.high
    error = sqrt(0.8 * 0.2 / cases)
    assert held / cases == pytest.approx(0.8, abs=3 * error), f"{held / cases:.3f} of {cases}, standard error {error:.3f}"
