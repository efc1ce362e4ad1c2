"""Test strips: between colours, and back through the dilution."""

from math import log, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.strips import between_colours, colour_sd_share, dilution_factor, read_again_sd_share, wanted_factor
from silverwright.errors import NotEnoughReadings, OutOfRange

SCALE = (0.5, 2, 5, 10, 25)


def test_a_colour_stands_half_way_to_its_neighbours() -> None:
    assert list(between_colours(5, SCALE)) == pytest.approx([sqrt(10), sqrt(50)])
    assert list(between_colours(7, SCALE)) == pytest.approx([sqrt(35), sqrt(70)])


def test_both_ends_are_open() -> None:
    assert between_colours(25, SCALE)[1] is None
    assert between_colours(0.5, SCALE)[0] is None
    assert between_colours(0, SCALE) == (None, 0.5)


@given(st.floats(0.5, 25))
def test_the_reading_lies_between(read: float) -> None:
    low, high = between_colours(read, SCALE)
    assert low is None or low <= read
    assert high is None or high >= read


def test_two_steps_multiply() -> None:
    assert dilution_factor([1, 2], [100, 50]) == pytest.approx(100 * 25)
    assert dilution_factor([], []) == 1


def test_the_spread_is_that_of_a_rectangle() -> None:
    """Middles of many equal slices between the ends, in logarithms."""
    low, high, count = sqrt(10), sqrt(50), 20_000
    logs = [log(low) + (log(high) - log(low)) * (index + 0.5) / count for index in range(count)]
    middle = sum(logs) / count
    assert colour_sd_share(low, high) == pytest.approx(sqrt(sum((one - middle) ** 2 for one in logs) / count), rel=1e-6)
    assert read_again_sd_share(0.3, (0.4,)) == pytest.approx(0.5)


def test_how_far_to_dilute() -> None:
    """9 % is 92.8 g/L: the middle of 0.5 and 25 mg/L is 3.5, so that it takes about 26,000 times."""
    assert wanted_factor(92_840, SCALE) == pytest.approx(92_840 / sqrt(12.5))
    assert wanted_factor(1, SCALE) == 1


def test_refused() -> None:
    with pytest.raises(OutOfRange):
        between_colours(26, SCALE)
    with pytest.raises(NotEnoughReadings):
        between_colours(1, (5,))
    with pytest.raises(NotEnoughReadings):
        wanted_factor(1, ())
    with pytest.raises(OutOfRange):
        dilution_factor([10], [5])
    with pytest.raises(OutOfRange):
        colour_sd_share(0, 1)
