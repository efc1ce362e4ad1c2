"""Equal exposures: the loss by halving, the exponent by a finer sum, and how often its limits hold."""

from functools import partial
from math import hypot, log2, sqrt
from random import Random
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.equalexposure import equal_time_s, exponent_found, exponent_of_loss, longer_stops, loss_stops
from silverwright.exposure.reciprocity import effective_s, needed_s
from silverwright.questions.reciprocity import first_guess
from silverwright.records import ReciprocityLaw, StripLoss

if TYPE_CHECKING:
    from collections.abc import Callable

PRIOR = first_guess()
TIMES = (16.0, 32.0, 128.0)
LAWS = st.builds(ReciprocityLaw, threshold_s=st.floats(0.1, 10), exponent=st.floats(1, 1.6), start_stops=st.floats(-0.5, 0.5))


@given(st.floats(1e-2, 1e5), LAWS)
def test_the_loss_by_halving(given_s: float, law: ReciprocityLaw) -> None:
    assert loss_stops(given_s, law) == pytest.approx(log2(given_s / effective_s(given_s, partial(needed_s, law=law))), abs=1e-9)


@given(st.floats(1, 1e4), st.floats(0.5, 20), LAWS)
def test_longer_with_an_ei_found_at_a_short_time(metered_s: float, short_s: float, law: ReciprocityLaw) -> None:
    """The time that it tells has the same effect in its light as the short time has in its own."""
    needed = partial(needed_s, law=law)
    told_s = metered_s * 2 ** longer_stops(metered_s, short_s, law)
    assert effective_s(told_s, needed) / metered_s == pytest.approx(effective_s(short_s, needed) / short_s, rel=1e-6)


@given(st.floats(1, 1.9), st.floats(0.5, 10), st.floats(12, 1000))
def test_the_exponent_of_a_loss_goes_back_and_forth(exponent: float, short_s: float, long_s: float) -> None:
    law = ReciprocityLaw(3, exponent)
    lost = loss_stops(long_s, law) - loss_stops(short_s, law)
    assert exponent_of_loss(lost, short_s, long_s, 3) == pytest.approx(exponent, abs=1e-6)


def test_a_loss_beyond_all_papers() -> None:
    assert exponent_of_loss(-0.2, 4, 64, 3) == 1
    assert exponent_of_loss(10, 4, 64, 3) == 2


def strips(law: ReciprocityLaw, sd: float = 0.1) -> list[StripLoss]:
    return [StripLoss(time_s, 4, loss_stops(time_s, law) - loss_stops(4, law), sd) for time_s in TIMES]


def test_the_posterior_by_a_finer_sum_with_the_whole_covariance() -> None:
    """Three strips with their common error in a covariance matrix, on a grid ten times as fine."""
    read, shared = [StripLoss(16, 4, 0.2, 0.12), StripLoss(32, 4, 0.1, 0.1), StripLoss(128, 4, 0.5, 0.11)], 0.13
    sds = np.array([hypot(one.sd_stops, PRIOR.misfit_stops) for one in read])
    inverse = np.linalg.inv(np.diag(sds**2) + shared**2)
    p, c0 = np.meshgrid(np.linspace(1, 2, 2001), np.linspace(-2, 2, 401), indexing="ij")

    def loss(time_s: float) -> np.ndarray:
        found: np.ndarray = np.maximum(0, c0 + (p - 1) * np.log2(time_s / PRIOR.threshold_s)) / p
        return found

    off = np.stack([one.lost_stops - loss(one.given_s) + loss(4) for one in read], axis=-1)
    cost = np.einsum("...i,ij,...j", off, inverse, off) + ((p - 1.08) / 0.08) ** 2 + (c0 / 0.5) ** 2
    weight = np.exp((cost.min() - cost) / 2)
    weight[0] /= 2  # the first place stands for half a stretch
    weight /= weight.sum()
    mean = float((weight * p).sum())
    below = np.cumsum(weight.sum(axis=1))
    found = exponent_found(read, PRIOR, shared, 60)
    assert found.law.exponent == pytest.approx(mean, abs=0.004)
    assert found.law.exponent_sd == pytest.approx(sqrt(float((weight * (p - mean) ** 2).sum())), abs=0.003)
    limits = [float(np.linspace(1, 2, 2001)[np.searchsorted(below, share)]) for share in (0.1, 0.9)]
    assert (found.exponent_low, found.exponent_high) == pytest.approx(limits, abs=0.006)


@pytest.mark.parametrize("exponent", [1.0, 1.08, 1.2, 1.31])
def test_many_sheets_find_the_truth(exponent: float) -> None:
    """With next to no doubt in the strips the first guess gives way, so far as a start at 3 s is not the same thing."""
    found = exponent_found(strips(ReciprocityLaw(3, exponent), 0.01), ReciprocityLaw(3, 1.08, 0.08, 0, 0.01), 0.001, 60)
    assert found.law.exponent == pytest.approx(exponent, abs=0.012)


def test_nothing_read_leaves_the_first_guess() -> None:
    found = exponent_found(strips(PRIOR, 1e3), PRIOR, 1e3, 60)
    assert found.law.exponent == pytest.approx(1.104, abs=0.01)  # the mean of the first guess, which is cut off at 1
    assert found.law.start_stops == pytest.approx(0, abs=0.01)


@pytest.mark.slow
def test_the_limits_hold_eight_times_of_ten() -> None:
    """400 papers and starts as our judgement has them, each with a sheet of three long strips."""
    random, cases, held, corrected = Random(20261128), 400, 0, 0
    for _ in range(cases):
        while (exponent := random.gauss(PRIOR.exponent, PRIOR.exponent_sd)) < 1:
            pass
        truth, shared = ReciprocityLaw(3, exponent, start_stops=random.gauss(0, PRIOR.start_sd_stops)), random.gauss(0, 0.11)
        read = []
        for one in strips(truth, 0.12):
            off = shared + random.gauss(0, hypot(0.12, PRIOR.misfit_stops))
            read.append(StripLoss(one.given_s, one.short_s, one.lost_stops + off, one.sd_stops))
        found = exponent_found(read, PRIOR, 0.11, 60)
        held += found.exponent_low <= exponent <= found.exponent_high
        reach = 1.2816 * found.longer.doubt_stops
        corrected += abs(found.longer.amount_stops - longer_stops(60, 4, truth) - random.gauss(0, PRIOR.misfit_stops)) <= reach
    error = sqrt(0.8 * 0.2 / cases)
    assert held / cases == pytest.approx(0.8, abs=3 * error), f"{held / cases:.3f}, standard error {error:.3f}"
    assert corrected / cases == pytest.approx(0.8, abs=3 * error), f"{corrected / cases:.3f}, standard error {error:.3f}"


def test_the_published_pair() -> None:
    assert equal_time_s(4, 8, 32) == 64


def test_what_cannot_be() -> None:
    law, read = ReciprocityLaw(3, 1.1), strips(PRIOR)
    wrongs: list[Callable[[], object]] = [
        partial(equal_time_s, 4, 0, 8),
        partial(loss_stops, 0, law),
        partial(exponent_of_loss, 0.1, 64, 4, 3),
        partial(exponent_of_loss, 0.1, 1, 2, 3),
        partial(exponent_found, read, PRIOR, 0, 60),
        partial(exponent_found, strips(PRIOR, 0), PRIOR, 0.1, 60),
    ]
    for wrong in wrongs:
        with pytest.raises(OutOfRange):
            wrong()
    with pytest.raises(NotEnoughReadings):
        exponent_found([], PRIOR, 0.1, 60)
