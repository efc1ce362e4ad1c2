"""The count: against a stop-watch that ticks, and through every upset of a computer's clocks."""

from dataclasses import dataclass
from itertools import pairwise
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.processing.clock import Count, Event, Kind, Stamp, between_s, count, off_stops

AT_START = Stamp(utc_s=1_768_000_000.0, boot="first", since_boot_s=5000.0)
LENGTH_S = 40.0


@dataclass(frozen=True)
class Upset:
    """What happens to a computer while it counts: how the two clocks move in `after_s` true seconds."""

    name: str
    wall_off_s: float = 0.0
    new_start: bool = False
    without: bool = False

    def at(self, after_s: float) -> Stamp:
        """What its clocks say so long after the start."""
        wall_s = AT_START.utc_s + after_s + self.wall_off_s
        if self.without:
            return Stamp(wall_s)
        return Stamp(wall_s, "second", 12.0 + after_s) if self.new_start else Stamp(wall_s, AT_START.boot, AT_START.since_boot_s + after_s)


SURE = [Upset("nothing"), Upset("set an hour on", 3600), Upset("set an hour back", -3600), Upset("set by days", 86400 * 3)]
UNSURE = [Upset("started anew", new_start=True), Upset("no such clock", without=True)]


def started(*more: Event, length_s: float = LENGTH_S, count_in_s: float = 0.0, at: Stamp = AT_START) -> list[Event]:
    return [Event("start", at, length_s=length_s, count_in_s=count_in_s), *more]


@pytest.mark.parametrize("upset", SURE + UNSURE, ids=lambda one: one.name)
@given(after_s=st.floats(0, 1e5))
def test_the_time_is_right_through_every_upset(upset: Upset, after_s: float) -> None:
    """Within half a second; a start of the computer and a computer without a clock that goes on are told as unsure."""
    start = AT_START if not upset.without else Stamp(AT_START.utc_s)
    found = count(started(at=start), upset.at(after_s))
    assert found.passed_s == pytest.approx(after_s, abs=0.5)
    assert found.left_s == pytest.approx(LENGTH_S - after_s, abs=0.5)
    assert found.certain is (upset in SURE)


@pytest.mark.parametrize("hours", [-1, 1])
def test_a_wall_clock_set_while_the_computer_was_off_is_told_as_unsure(hours: int) -> None:
    """The one thing that nobody can know; nothing counts backwards even then."""
    found = count(started(), Upset("both", 3600.0 * hours, new_start=True).at(10))
    assert not found.certain
    assert found.passed_s >= 0


def test_a_clock_since_the_start_that_runs_backwards_is_not_believed() -> None:
    earlier, later = AT_START, Stamp(AT_START.utc_s + 10, AT_START.boot, AT_START.since_boot_s - 500)
    assert between_s(earlier, later) == (10.0, False)


Step = tuple[float, Kind]
STEPS: st.SearchStrategy[list[Step]] = st.lists(
    st.tuples(st.integers(1, 60).map(float), st.sampled_from(["hold", "go on", "length", "stop"])), max_size=8
)


def ticking(steps: list[Step], until_s: float, count_in_s: float) -> tuple[float, str]:
    """A stop-watch that is asked every tenth of a second: how long it ran, and whether it runs, is held or stopped."""
    at_s, happens = 0.0, []
    for wait_s, kind in steps:
        at_s += wait_s
        happens.append((at_s, kind))
    ran, state, waits = 0, "runs", round(10 * count_in_s)
    for tick in range(round(10 * until_s)):
        for moment_s, kind in happens:
            if round(10 * moment_s) == tick and state != "stopped":
                if kind == "go on" and state == "held":
                    state, waits = "runs", round(10 * count_in_s)
                elif kind in {"hold", "stop"}:
                    state = "held" if kind == "hold" else "stopped"
        if state == "runs":
            waits, ran = (waits - 1, ran) if waits else (0, ran + 1)
    return ran / 10, state


@given(STEPS, st.integers(0, 10).map(float))
def test_a_count_is_what_a_ticking_watch_shows(steps: list[Step], count_in_s: float) -> None:
    events, at_s = started(count_in_s=count_in_s), 0.0
    for wait_s, kind in steps:
        at_s += wait_s
        events.append(Event(kind, Upset("nothing").at(at_s), length_s=LENGTH_S, count_in_s=count_in_s if kind == "go on" else 0.0))
    now_s = at_s + 7.5
    found = count(events, Upset("nothing").at(now_s))
    ran_s, state = ticking(steps, now_s, count_in_s)
    assert found.passed_s == pytest.approx(ran_s, abs=1e-6)
    assert {"held": "held", "stopped": "stopped"}.get(state, found.state) == found.state
    if state == "runs":
        assert found.state in {"counting in", "running", "over"}


@given(st.floats(0, 100), st.floats(0, 20), st.floats(0, 1))
def test_it_runs_as_time_does(after_s: float, count_in_s: float, step_s: float) -> None:
    """Continuous, never backwards, and what has passed and what it still waits for add up."""
    one, other = (count(started(count_in_s=count_in_s), Upset("nothing").at(at_s)) for at_s in (after_s, after_s + step_s))
    assert -1e-9 <= other.passed_s - one.passed_s <= step_s + 1e-9
    assert one.passed_s - one.begins_in_s == pytest.approx(after_s - count_in_s, abs=1e-6)


def test_the_states_in_their_order() -> None:
    said = [count(started(count_in_s=3), Upset("nothing").at(at_s)).state for at_s in (0, 2.9, 3.1, 42.9, 43.1)]
    assert said == ["counting in", "counting in", "running", "running", "over"]


def test_over_says_by_how_much() -> None:
    assert count(started(), Upset("nothing").at(46)) == Count("over", 46.0, 40.0, 0.0, certain=True)
    assert count(started(), Upset("nothing").at(46)).left_s == -6


def test_a_new_length_counts_from_the_beginning() -> None:
    found = count(started(Event("length", Upset("nothing").at(10), length_s=55)), Upset("nothing").at(20))
    assert (found.passed_s, found.left_s) == (20, 35)


def test_stopped_is_stopped() -> None:
    stopped = started(Event("stop", Upset("nothing").at(34)))
    assert {count(stopped, Upset("nothing").at(at_s)).passed_s for at_s in (34, 40, 4000)} == {34}
    late = [*stopped, Event("go on", Upset("nothing").at(50))]
    assert count(late, Upset("nothing").at(60)).state == "stopped"


def test_what_was_counted_by_hand_is_believed() -> None:
    found = count(started(Event("stop", Upset("new", new_start=True).at(60), given_s=34)), Upset("new", new_start=True).at(90))
    assert (found.passed_s, found.certain) == (34, True)


def test_held_by_hand_and_stopped_by_hand_the_last_word_counts() -> None:
    held = started(Event("hold", Upset("nothing").at(20), given_s=19.5))
    assert count(held, Upset("nothing").at(30)).passed_s == 19.5
    on = [*held, Event("go on", Upset("nothing").at(30))]
    assert count(on, Upset("nothing").at(35)).passed_s == 24.5
    assert count([*held, Event("stop", Upset("nothing").at(40), given_s=21)], Upset("nothing").at(50)).passed_s == 21


def test_stopped_before_it_began_nothing_has_passed() -> None:
    assert count(started(Event("stop", Upset("nothing").at(2)), count_in_s=5), Upset("nothing").at(9)).passed_s == 0


def test_without_a_start_there_is_no_count() -> None:
    for events in ([], [Event("stop", AT_START)]):
        with pytest.raises(OutOfRange, match="a start"):
            count(events, AT_START)


@given(st.floats(0.5, 1e5), st.integers(-6, 6))
def test_a_stop_doubles_or_halves(meant_s: float, stops: int) -> None:
    assert off_stops(meant_s * 2.0**stops, meant_s) == pytest.approx(stops)


@given(st.lists(st.floats(0.5, 1e5), min_size=2, max_size=5))
def test_more_time_is_more_light(times: list[float]) -> None:
    offs = [off_stops(one, 10) for one in sorted(times)]
    assert all(later >= earlier for earlier, later in pairwise(offs))


@pytest.mark.parametrize(("given_s", "meant_s"), [(0, 10), (10, 0), (-1, 10), (float("nan"), 10), (-inf, 10)])
def test_no_time_is_no_exposure(given_s: float, meant_s: float) -> None:
    with pytest.raises(OutOfRange, match="above 0"):
        off_stops(given_s, meant_s)
