"""The sampler beside another one: emcee on the same patches, with prior and likelihood written down again."""

import math

import emcee  # type: ignore[import-untyped]
import numpy as np
import pytest
from tests.sensitometry.calibration import patches_of
from tests.sensitometry.world import stated_prior, step_sheet

from silverwright.questions.stated import curve_prior, point_rules
from silverwright.sensitometry.posterior import NAMES, Draws, draw_curves, log_likelihood
from silverwright.sensitometry.speed import Curves, find_points

CELLS = ("dmin", "dmax", "middle_log10", "low_log10", "high_log10", "range_log10")
WALKERS, STEPS, BURNED = 128, 9000, 3000
RUNS = 4
SHARE_OF_WIDTH = 0.15  # chains of this length agree with ours within 0.04 of the width where one curve explains the patches


def log_posterior(theta: np.ndarray, x: np.ndarray, d: np.ndarray) -> np.ndarray:
    """Normal prior and normal errors, by the formulas and not by the engine's functions; falling curve."""
    prior = stated_prior()
    centre = 0.5 * (x[0] + x[-1])
    dmin, log_net, middle, log_slope, ratio, log_apart, logit_share, log_noise = theta.T[:, :, None]
    v = -(x - middle)
    with np.errstate(over="ignore", invalid="ignore"):
        k, w = np.exp(log_slope), 1 / (1 + np.exp(-logit_share))
        apart = np.exp(log_apart) / k
        one = 1 / (1 + np.exp(-k * np.exp(ratio / 2) * (v + (1 - w) * apart)))
        two = 1 / (1 + np.exp(-k * np.exp(-ratio / 2) * (v - w * apart)))
    missed = d - (dmin + np.exp(log_net) * (w * one + (1 - w) * two))
    likelihood = (-0.5 * (missed / np.exp(log_noise)) ** 2 - log_noise).sum(1)
    names = (*NAMES[:-1], "log_noise")
    standard = [(theta[:, i] - (prior[n][0] + (centre if n == "middle_log10" else 0))) / prior[n][1] for i, n in enumerate(names)]
    found: np.ndarray = np.nan_to_num(likelihood - 0.5 * np.square(standard).sum(0), nan=-math.inf)
    return found


def limits(draws: Draws, first: float, last: float) -> dict[str, np.ndarray]:
    points = find_points(Curves(lambda at: draws.density(at[:, None])[:, 0], draws.dmin, draws.dmax, draws.sign, first, last), point_rules())
    return {cell: np.nanquantile(getattr(points, cell), [0.1, 0.5, 0.9]) for cell in CELLS}


@pytest.mark.slow
@pytest.mark.parametrize(("seed", "patches"), [(0, 21), (18, 12), (26, 12)])
def test_both_samplers_tell_the_same_limits(seed: int, patches: int) -> None:
    """10, 50 and 90 % points of every figure agree within 0.15 of the width between the outer two; sheets that show both ends."""
    given = patches_of(step_sheet(seed, patches))
    x, d = given.exposure_log10, given.density
    runs = [draw_curves(given, curve_prior(given, known=False), seed=run) for run in range(RUNS)]
    drawn = Draws(np.concatenate([one.theta for one in runs]), np.concatenate([one.noise for one in runs]), -1.0)
    start = np.column_stack([drawn.theta, np.log(drawn.noise)])[:: len(drawn.theta) // WALKERS][:WALKERS]
    chain = emcee.EnsembleSampler(WALKERS, len(NAMES), log_posterior, args=(x, d), vectorize=True)
    chain.random_state = np.random.RandomState(seed).get_state()
    chain.run_mcmc(start + 1e-3 * np.random.default_rng(seed).standard_normal(start.shape), STEPS)
    other = chain.get_chain(discard=BURNED, thin=20, flat=True)
    theirs = limits(Draws(other[:, :-1], np.exp(other[:, -1]), -1.0), x[0], x[-1])
    ours = limits(drawn, x[0], x[-1])
    for cell in CELLS:
        width = theirs[cell][2] - theirs[cell][0]
        assert ours[cell] == pytest.approx(theirs[cell], abs=SHARE_OF_WIDTH * width), cell


def test_both_write_the_same_posterior() -> None:
    """Prior and likelihood written down twice: equal but for a constant, on draws of the engine."""
    given = patches_of(step_sheet(4, 12))
    prior = curve_prior(given, known=False)
    drawn = draw_curves(given, prior, seed=1, particles=200, moves=3)
    theta = np.column_stack([drawn.theta, np.log(drawn.noise)])
    middles, sds = prior.of(NAMES)
    ours = log_likelihood(theta, given) - 0.5 * np.square((theta - middles) / sds).sum(1)
    assert np.ptp(ours - log_posterior(theta, given.exposure_log10, given.density)) < 1e-9
