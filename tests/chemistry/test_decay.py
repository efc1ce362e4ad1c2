"""Decay: step by step against the closed form, and doubts by a library."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat
from uncertainties.umath import exp as uexp
from uncertainties.umath import log as ulog

from silverwright.chemistry.decay import (
    days_until,
    lasts_days,
    loss_ln_per_days,
    loss_sd_ln_per_days,
    q10_factor,
    strength_after_percent,
    strength_after_sd_share,
    warmer_factor,
)
from silverwright.errors import OutOfRange

SHARE = st.floats(0.001, 0.1)


def test_a_small_step_again_and_again() -> None:
    """Without the exponential: a millionth of the day's loss, a million times."""
    strength, loss, steps = 8.4, loss_ln_per_days(9, 8.4, 10), 100_000
    for _ in range(steps):
        strength -= strength * loss * 7 / steps
    assert strength_after_percent(8.4, loss, 7) == pytest.approx(strength, rel=1e-5)


@given(st.tuples(st.floats(1, 50), st.floats(1, 50)), st.floats(0.5, 200), st.tuples(SHARE, SHARE), st.floats(0, 50))
def test_doubts_are_those_of_a_library(assays: tuple[float, float], apart: float, shares: tuple[float, float], ahead: float) -> None:
    (first, second), (first_share, second_share) = assays, shares
    one, other = ufloat(first, first * first_share), ufloat(second, second * second_share)
    loss = ulog(one / other) / apart
    assert loss_sd_ln_per_days(first_share, second_share, apart) == pytest.approx(loss.std_dev)
    if abs(loss.nominal_value * ahead) < 50:
        later = other * uexp(-loss * ahead)
        assert strength_after_percent(second, loss.nominal_value, ahead) == pytest.approx(later.nominal_value)
        assert strength_after_sd_share(first_share, second_share, ahead / apart) == pytest.approx(later.std_dev / later.nominal_value)


@given(st.floats(0.5, 90), st.floats(0.0001, 1))
def test_it_is_as_strong_as_wanted_on_the_day_that_was_told(second: float, loss: float) -> None:
    days = lasts_days(second, second / 3, loss)
    assert days is not None
    assert strength_after_percent(second, loss, days) == pytest.approx(second / 3)


def test_no_loss_no_end() -> None:
    assert lasts_days(9, 7, 0) is None
    assert lasts_days(9, 7, -0.1) is None
    assert lasts_days(6, 7, 0.1) == 0


@given(st.floats(0, 50), st.floats(0, 50), st.floats(0, 100))
def test_there_and_back(celsius: float, other: float, energy: float) -> None:
    assert warmer_factor(celsius, other, energy) * warmer_factor(other, celsius, energy) == pytest.approx(1)
    assert q10_factor(celsius, energy) >= 1


def test_refused() -> None:
    with pytest.raises(OutOfRange):
        loss_ln_per_days(0, 1, 1)
    with pytest.raises(OutOfRange):
        loss_sd_ln_per_days(0.1, 0.1, 0)
    with pytest.raises(OutOfRange):
        lasts_days(0, 1, 1)
    with pytest.raises(OutOfRange):
        warmer_factor(-280, 20, 75)


def test_days_until_by_halving() -> None:
    assert days_until(lambda days: days >= 12.5, 1e9) == pytest.approx(12.5)
    assert days_until(lambda _: True, 1e9) == 0
    assert days_until(lambda _: False, 1e9) is None
