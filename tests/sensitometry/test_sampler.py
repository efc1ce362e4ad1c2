"""The sampler against posteriors that can be written down."""

import numpy as np
import pytest

from silverwright.sensitometry.sampler import sample


def test_a_normal_posterior_is_found() -> None:
    """Unit normal prior, one reading of the first of two parameters: mean y / (1 + s^2), variance s^2 / (1 + s^2); the second stays."""
    y, s = 2.0, 0.05
    drawn = sample(lambda z: -0.5 * ((y - z[:, 0]) / s) ** 2, 2, seed=3)
    assert drawn[:, 0].mean() == pytest.approx(y / (1 + s**2), abs=4 * s / np.sqrt(500))
    assert drawn[:, 0].std() == pytest.approx(np.sqrt(s**2 / (1 + s**2)), rel=0.1)
    assert drawn[:, 1].mean() == pytest.approx(0, abs=0.15)
    assert drawn[:, 1].std() == pytest.approx(1, rel=0.1)


def test_two_readings_that_pull_together() -> None:
    """Correlated posterior: only the sum was read, so the difference stays a normal of variance 2."""
    drawn = sample(lambda z: -0.5 * ((1.0 - z.sum(1)) / 0.02) ** 2, 2, seed=4)
    assert drawn.sum(1).mean() == pytest.approx(1.0, abs=0.005)
    assert drawn.sum(1).std() == pytest.approx(0.02, rel=0.15)
    assert (drawn[:, 0] - drawn[:, 1]).std() == pytest.approx(np.sqrt(2), rel=0.1)


def test_both_of_two_modes_are_kept() -> None:
    """|z| was read as 1.5: half of the draws on either side, within sampling error."""
    drawn = sample(lambda z: -0.5 * ((1.5 - np.abs(z[:, 0])) / 0.1) ** 2, 1, seed=5)
    assert (drawn > 0).mean() == pytest.approx(0.5, abs=0.12)
    assert np.abs(drawn).mean() == pytest.approx(1.5 / (1 + 0.1**2), abs=0.02)


def test_the_same_seed_gives_the_same_draws() -> None:
    def likelihood(z: np.ndarray) -> np.ndarray:
        return np.asarray(-0.5 * z[:, 0] ** 2)

    first, again, other = (sample(likelihood, 2, seed, particles=200, moves=3) for seed in (1, 1, 2))
    assert (first == again).all()
    assert (first != other).any()


def test_nothing_read_leaves_the_prior() -> None:
    drawn = sample(lambda z: np.zeros(len(z)), 3, seed=6)
    assert drawn.mean(0) == pytest.approx(np.zeros(3), abs=0.1)
    assert drawn.std(0) == pytest.approx(np.ones(3), rel=0.1)
