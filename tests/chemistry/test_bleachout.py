"""Bleach-out: limits that hold what they say in simulated strips, Student's distribution by scipy, and what is refused."""

from math import exp, log, sqrt

import numpy as np
import pytest
from scipy import stats

from silverwright.chemistry.bleachout import chance_over, clearing_factor, clearing_sd_ln, strips_sd_ln, warmth_factor, widened_factor
from silverwright.errors import NotEnoughReadings, OutOfRange

Z80 = 1.2815515655446004


@pytest.mark.parametrize("freedom", [4, 5, 6, 10, 30, 200])
def test_student_by_another_library(freedom: int) -> None:
    assert widened_factor(freedom) == pytest.approx(stats.t.ppf(0.9, freedom) / Z80, rel=0.005)


def test_the_factor_is_a_quotient_of_geometric_means() -> None:
    assert clearing_factor((160, 170), (110, 120)) == pytest.approx(stats.gmean([160, 170]) / stats.gmean([110, 120]))
    assert clearing_factor((100,), (100,), warmth_factor(30, 20, 2.45)) == pytest.approx(2.45)


def test_own_strips_and_what_is_usual_are_pooled() -> None:
    """Four strips' worth of what is usual; two strips that agree make it smaller, two that do not larger."""
    alike, freedom = strips_sd_ln(((100, 100), (200,)), 0.12, 4)
    apart, _ = strips_sd_ln(((100, 200), (200,)), 0.12, 4)
    assert freedom == 5
    assert alike == pytest.approx(0.12 * sqrt(4 / 5))
    assert apart == pytest.approx(sqrt((4 * 0.12**2 + log(2) ** 2 / 2) / 5))


@pytest.mark.parametrize(("used", "fresh"), [(1, 1), (2, 2), (3, 2)])
def test_limits_hold_eight_of_ten(used: int, fresh: int) -> None:
    """Spreads drawn from the stated prior (a scaled inverse chi-square of 4), strips drawn from them: 3,000 tests each."""
    rng = np.random.default_rng(20261128)
    held, count, truth = 0, 3000, 1.6
    for _ in range(count):
        spread = 0.12 * sqrt(4 / rng.chisquare(4))
        fresh_s = [100 * exp(spread * one) for one in rng.standard_normal(fresh)]
        used_s = [100 * truth * exp(spread * one) for one in rng.standard_normal(used)]
        own, freedom = strips_sd_ln((fresh_s, used_s), 0.12, 4)
        reach = Z80 * clearing_sd_ln(own, used, fresh) * widened_factor(freedom)
        held += abs(log(clearing_factor(used_s, fresh_s) / truth)) <= reach
    error = sqrt(0.8 * 0.2 / count)
    assert held / count == pytest.approx(0.8, abs=3 * error)


def test_the_chance_is_that_of_a_normal() -> None:
    assert chance_over(1.5, 2, 0.2) == pytest.approx(stats.norm.cdf(log(1.5 / 2) / 0.2))
    assert chance_over(2, 2, 0.2) == pytest.approx(0.5)


def test_refused() -> None:
    with pytest.raises(NotEnoughReadings):
        clearing_factor((), (100,))
    with pytest.raises(OutOfRange):
        clearing_factor((0,), (100,))
    with pytest.raises(OutOfRange):
        strips_sd_ln(((0,),), 0.1, 4)
    with pytest.raises(OutOfRange):
        warmth_factor(20, 20, 0)
    with pytest.raises(NotEnoughReadings):
        clearing_sd_ln(0.1, 0, 1)
    with pytest.raises(OutOfRange):
        widened_factor(0)
    with pytest.raises(OutOfRange):
        chance_over(1, 2, 0)
