"""Marks and counted times."""

from math import log2, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.shutter import hand_doubt_stops, settable_by_hand_s, settable_on_shutter_s, true_f_number, true_time_s
from silverwright.questions.marks import aperture_marks, counted_steps, time_marks

TIMES = st.floats(1e-4, 1e6)


def test_every_mark_is_within_a_fifth_of_a_stop_of_what_it_means() -> None:
    for mark, stops in time_marks().items():
        assert log2(mark) == pytest.approx(stops, abs=0.19)
    for mark, stops in aperture_marks().items():
        assert 2 * log2(mark) == pytest.approx(stops, abs=0.17)


def test_marks_stand_at_full_half_or_third_stops() -> None:
    for stops in (*time_marks().values(), *aperture_marks().values()):
        assert any(abs(stops * part - round(stops * part)) < 1e-5 for part in (1, 2, 3))


def test_marks_of_the_dial_are_found_as_they_are_typed() -> None:
    assert true_time_s(0.0167, time_marks()) == 1 / 64
    assert true_time_s(1 / 60, time_marks()) == 1 / 64
    assert true_time_s(45, time_marks()) == 45


def test_an_aperture_is_a_mark_of_the_series_or_itself() -> None:
    """Full stops are powers of the root of two; a lens that opens to f/6.8 opens to f/6.8."""
    for number in range(17):
        mark = next(mark for mark, stops in aperture_marks().items() if stops == number)
        assert true_f_number(mark, aperture_marks()) == pytest.approx(sqrt(2) ** number)
    assert true_f_number(6.8, aperture_marks()) == 6.8
    assert true_f_number(0.95, aperture_marks()) == 0.95


@given(TIMES)
def test_what_is_counted_is_within_a_fifth_of_a_stop(time_s: float) -> None:
    counted = settable_by_hand_s(time_s, counted_steps())
    assert counted >= 0.5
    if time_s >= 1:
        assert abs(log2(counted / time_s)) < 0.33 if time_s < 3 else abs(log2(counted / time_s)) < 0.25
    if time_s >= 10:
        assert abs(log2(counted / time_s)) < 0.08


@given(TIMES, TIMES)
def test_more_is_never_counted_shorter(one: float, other: float) -> None:
    short, long = sorted((one, other))
    assert settable_by_hand_s(short, counted_steps()) <= settable_by_hand_s(long, counted_steps())


@pytest.mark.parametrize(
    ("time_s", "counted"), [(97.03, 97), (2.3, 2.5), (3, 3), (3.4, 3), (599.4, 599), (600, 600), (611, 610), (3600, 3600), (3700, 3720), (0.1, 0.5)]
)
def test_counted(time_s: float, counted: float) -> None:
    assert settable_by_hand_s(time_s, counted_steps()) == counted


@given(st.floats(1 / 8000, 3600))
def test_the_shutter_is_set_to_the_nearest_mark(time_s: float) -> None:
    mark = settable_on_shutter_s(time_s, time_marks())
    nearest = min(abs(log2(time_s) - stops) for stops in time_marks().values())
    assert abs(log2(time_s) - time_marks()[mark]) == nearest


def test_the_hand_is_a_seventh_of_a_stop_at_two_seconds() -> None:
    """Reference: +-0.2 s at 2 s is +-0.15 stop."""
    assert hand_doubt_stops(2, 0.2) == pytest.approx(log2(2.2 / 2), abs=0.01)
    assert hand_doubt_stops(2, 0.2) == pytest.approx(0.15, abs=0.01)
    assert hand_doubt_stops(1e-6, 0.2) == pytest.approx(log2(2 * 0.2 / 1e-6), abs=1e-6)  # stays a number of stops


@pytest.mark.parametrize(
    "call",
    [
        lambda: true_time_s(0, {}),
        lambda: true_f_number(-8, {}),
        lambda: settable_by_hand_s(0, counted_steps()),
        lambda: settable_on_shutter_s(-1, {1.0: 0.0}),
        lambda: hand_doubt_stops(0, 0.2),
    ],
)
def test_nothing_at_no_time(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
