"""How often limits hold: the engine's own, and two baselines that are known to be wrong somewhere."""

import os
from collections import Counter
from collections.abc import Iterable
from functools import partial
from multiprocessing import get_context

import numpy as np
from scipy.optimize import curve_fit, least_squares
from tests.sensitometry.world import StepSheet, step_sheet

from silverwright.facts.load import fact
from silverwright.questions.stated import curve_prior, point_rules
from silverwright.sensitometry.fit import Patches
from silverwright.sensitometry.learn import Learnt, Wanted, learn_curve
from silverwright.sensitometry.posterior import NAMES, Draws
from silverwright.sensitometry.shapes import DOUBLE_LOGISTIC, LOGISTIC
from silverwright.sensitometry.speed import Curves, Points, find_points

CELLS = ("dmin", "dmax", "middle_log10", "low_log10", "high_log10", "range_log10")
USUAL_SD = 0.02
Held = tuple[str, str, bool]  # method, cell, whether the limits held the truth


def patches_of(sheet: StepSheet) -> Patches:
    return Patches(np.array(sheet.exposure_log10), np.array(sheet.density), USUAL_SD)


def learn(sheet: StepSheet, percent: int, seed: int) -> Learnt:
    """What the engine learns from a step sheet."""
    patches = patches_of(sheet)
    return learn_curve(patches, curve_prior(patches, known=False), point_rules(), Wanted(percent=percent, seed=seed))


def engine(sheet: StepSheet, percent: int, seed: int) -> list[Held]:
    """The engine's limits; an open end counts by its bound, in a cell of its own."""
    figures = learn(sheet, percent, seed).figures
    held: list[Held] = []
    for cell in CELLS:
        limits, truth = figures[cell], sheet.truth[cell]
        inside = (limits.low is None or limits.low <= truth) and (limits.high is None or truth <= limits.high)
        if limits.value is not None:
            held.append(("engine", cell, inside))
        elif limits.low is not None or limits.high is not None:
            held.append(("engine", f"{cell}, one end open", inside))
    return held


def one_mode(sheet: StepSheet, percent: int, seed: int) -> list[Held]:
    """A normal distribution round the best fit, same prior: its limits are read off draws of that normal."""
    patches = patches_of(sheet)
    prior = curve_prior(patches, known=False)
    middles, sds = prior.of(NAMES)

    def missed(z: np.ndarray) -> np.ndarray:
        noise = np.exp(middles[-1] + sds[-1] * z[-1])
        density = DOUBLE_LOGISTIC.density(middles[:-1] + sds[:-1] * z[:-1], patches.exposure_log10, patches.sign)
        normalising = np.sqrt(2 * len(density) * max(0.0, np.log(noise / USUAL_SD) + 10))  # n ln sigma, as a square above zero
        return np.concatenate([(patches.density - density) / noise, z, [normalising]])

    best = least_squares(missed, np.zeros(len(NAMES)))
    slopes = np.asarray(best.jac, dtype=np.float64)
    spread = np.linalg.pinv(slopes.T @ slopes)
    drawn = middles + sds * np.random.default_rng(seed).multivariate_normal(best.x, spread, 2000, method="svd")
    draws = Draws(drawn[:, :-1], np.exp(drawn[:, -1]), patches.sign)
    return _held("one mode", _points(draws, patches), sheet, percent)


def plain_least_squares(sheet: StepSheet, percent: int, seed: int) -> list[Held]:
    """What one would do in a spreadsheet: a plain logistic by least squares, with its covariance."""
    patches = patches_of(sheet)

    def logistic(x: np.ndarray, *theta: float) -> np.ndarray:
        return LOGISTIC.density(np.array(theta), x, patches.sign)

    start = (min(sheet.density), np.log(np.ptp(sheet.density)), float(np.mean(sheet.exposure_log10)) + 0.1, 2.0)
    try:
        best, covariance = curve_fit(logistic, patches.exposure_log10, patches.density, start, maxfev=4000)
    except RuntimeError:
        return [("least squares", cell, False) for cell in CELLS]
    drawn = np.random.default_rng(seed).multivariate_normal(best, np.nan_to_num(covariance, posinf=1e6), 2000, method="svd")
    first, last = sheet.exposure_log10[0], sheet.exposure_log10[-1]
    curves = Curves(
        lambda at: LOGISTIC.density(drawn, at[:, None], patches.sign)[:, 0],
        drawn[:, 0],
        drawn[:, 0] + np.exp(np.minimum(drawn[:, 1], 30)),
        patches.sign,
        first,
        last,
    )
    return _held("least squares", find_points(curves, point_rules()), sheet, percent)


def _points(draws: Draws, patches: Patches) -> Points:
    first, last = float(patches.exposure_log10[0]), float(patches.exposure_log10[-1])
    return find_points(Curves(lambda at: draws.density(at[:, None])[:, 0], draws.dmin, draws.dmax, draws.sign, first, last), point_rules())


def _held(method: str, points: Points, sheet: StepSheet, percent: int) -> list[Held]:
    half, held = percent / 200, []
    for cell in CELLS:
        draws = getattr(points, cell)
        low, high = np.nanquantile(draws, [0.5 - half, 0.5 + half]) if np.isfinite(draws).any() else (np.nan, np.nan)
        held.append((method, cell, bool(low <= sheet.truth[cell] <= high)))
    return held


def one_sheet(seed: int, *, patches: int, percent: int, baselines: bool, world: dict[str, object]) -> list[Held]:
    """Everything counted on one simulated step sheet; the baselines only where the engine closed the cell."""
    sheet = step_sheet(seed, patches, **world)  # type: ignore[arg-type]
    if max(sheet.density) - min(sheet.density) < fact("curve", "flattest_density").value:
        return []  # the question refuses such a sheet
    held = engine(sheet, percent, seed)
    if not baselines:
        return held
    closed = {cell for _, cell, _ in held}
    return held + [one for method in (one_mode, plain_least_squares) for one in method(sheet, percent, seed) if one[1] in closed]


def count(
    seeds: Iterable[int], patches: int, *, percent: int = 90, baselines: bool = True, **world: object
) -> dict[tuple[str, str], tuple[int, int]]:
    """For each method and cell: how often the limits held, and of how many step sheets. A process for each core."""
    os.environ.update(OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")  # one thread in each process
    work = partial(one_sheet, patches=patches, percent=percent, baselines=baselines, world=world)
    held, there = Counter[tuple[str, str]](), Counter[tuple[str, str]]()
    with get_context("spawn").Pool(len(os.sched_getaffinity(0))) as pool:
        for found in pool.imap_unordered(work, seeds, chunksize=8):
            for method, cell, inside in found:
                there[method, cell] += 1
                held[method, cell] += inside
    return {key: (held[key], there[key]) for key in sorted(there)}
