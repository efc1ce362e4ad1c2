"""A shutter that was measured: means, scatter, and what lies between."""

from math import log2, sqrt
from random import Random
from statistics import stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.shutter import marks_of_shutter, measured_speeds, off_stops, settable_on_measured, settable_on_shutter_s, speed_of_mark
from silverwright.questions.marks import time_marks
from silverwright.records import MeasuredSpeed

OLD = [MeasuredSpeed(1, 1.1), MeasuredSpeed(1 / 25, 1 / 29), MeasuredSpeed(1 / 100, 1 / 95), MeasuredSpeed(1 / 250, 1 / 160)]
SERIES = time_marks()


def test_an_old_leaf_shutter() -> None:
    """Each mark once: its own time, and the scatter that one believes in beforehand, twice over."""
    speeds = measured_speeds(OLD, SERIES, 0.05)
    assert [one.marked_s for one in speeds] == sorted(one.marked_s for one in OLD)
    for one in OLD:
        found = speed_of_mark(one.marked_s, speeds, SERIES, 0.2)
        assert found.time_s == pytest.approx(one.measured_s)
        assert found.sd_stops == pytest.approx(0.05 * sqrt(2))


def test_many_readings_tell_the_scatter_themselves() -> None:
    """Truth drawn by another hand: a shutter 0.3 stop slow that scatters by 0.12 stop, forty releases at each of three marks."""
    chance = Random(5)
    readings = [MeasuredSpeed(mark, mark * 2 ** (0.3 + chance.gauss(0, 0.12))) for mark in (1.0, 0.5, 0.25) for _ in range(40)]
    for one in measured_speeds(readings, SERIES, 0.05):
        own = [log2(reading.measured_s) for reading in readings if reading.marked_s == one.marked_s]
        assert one.time_s == pytest.approx(2 ** (sum(own) / len(own)))
        assert one.sd_stops == pytest.approx(0.12, rel=0.15)
        assert one.sd_stops == pytest.approx(stdev(own), rel=0.25)


def test_eight_of_ten_releases_fall_within_the_limits() -> None:
    """400 shutters of unlike scatter, three readings at each of four marks, then one release more."""
    chance, inside = Random(7), 0
    for _ in range(400):
        scatter, off = 0.05 * 2 ** chance.gauss(0, 0.5), chance.gauss(0, 0.2)
        readings = [MeasuredSpeed(mark, mark * 2 ** (off + chance.gauss(0, scatter))) for mark in (1.0, 0.5, 0.25, 1 / 8) for _ in range(3)]
        one = measured_speeds(readings, SERIES, 0.05)[0]
        release = off + chance.gauss(0, scatter)
        inside += abs(log2(one.time_s / one.marked_s) - release) < 1.2816 * one.sd_stops
    assert inside / 400 == pytest.approx(0.8, abs=0.06)  # three standard errors of 400 draws


def test_between_two_measured_marks_lies_the_line() -> None:
    speeds = measured_speeds([MeasuredSpeed(1, 2**0.4), MeasuredSpeed(0.25, 0.25)], SERIES, 0.05)
    half = speed_of_mark(0.5, speeds, SERIES, 0.2)
    assert log2(half.time_s / 0.5) == pytest.approx(0.2)
    assert speeds[0].sd_stops < half.sd_stops < 0.2
    beyond = speed_of_mark(2, speeds, SERIES, 0.2)
    assert (beyond.time_s, beyond.sd_stops) == (2, 0.2)


@given(st.floats(1 / 500, 60))
def test_the_mark_that_is_nearest_in_truth(time_s: float) -> None:
    speeds = measured_speeds(OLD, SERIES, 0.05)
    found = settable_on_measured(time_s, marks_of_shutter(speeds, SERIES, 0.2))
    assert all(abs(log2(found.time_s / time_s)) <= abs(log2(one.time_s / time_s)) + 1e-9 for one in speeds)


def test_a_slow_250th_is_set_for_a_160th() -> None:
    speeds = measured_speeds(OLD, SERIES, 0.05)
    assert settable_on_measured(1 / 160, marks_of_shutter(speeds, SERIES, 0.2)).marked_s == 1 / 250
    assert settable_on_shutter_s(1 / 160, SERIES) != 1 / 250


@given(st.floats(1e-3, 100))
def test_slow_is_more_light(time_s: float) -> None:
    assert off_stops(2 * time_s, time_s) == pytest.approx(1)


def test_no_time_no_number() -> None:
    with pytest.raises(OutOfRange):
        off_stops(0, 1)
    with pytest.raises(OutOfRange):
        off_stops(1, 0)
    with pytest.raises(OutOfRange):
        settable_on_measured(0, ())
    with pytest.raises(NotEnoughReadings):
        measured_speeds([], SERIES, 0.05)
