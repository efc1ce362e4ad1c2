"""What a step sheet teaches: the line through its patches, its points and indices, each with its limits."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from silverwright.sensitometry.fit import SHAPES, SPLINE, Line, Patches, choose, fit_all, fit_shape, fit_spline
from silverwright.sensitometry.limits import UNKNOWN, Limits, at_least, at_most, between, seen
from silverwright.sensitometry.posterior import Draws, draw_curves
from silverwright.sensitometry.prior import CurvePrior
from silverwright.sensitometry.shapes import Array
from silverwright.sensitometry.speed import Curves, Points, Rules, average_gradient, find_points, index_at

DRAWN_POINTS: Final = 61  # our judgement: a line of so many points looks smooth at the width of a page
USUAL_PERCENT: Final = 80  # our judgement: the limits of this house
LOG10_PER_STOP: Final = float(np.log10(2.0))


@dataclass(frozen=True, slots=True)
class Wanted:
    """
    How the curve is to be learnt: shape ("" for the best), limits in percent, seed, and what else is known.

    `light_sd_stops` is the doubt of the light that was metered; none when it was not metered: then there are no indices.
    """

    shape: str = ""
    percent: int = USUAL_PERCENT
    seed: int = 1
    light_sd_stops: float | None = None
    fixed_out_density: float | None = None


@dataclass(frozen=True, slots=True)
class Learnt:
    """A curve as learnt; log exposures are those of the patches, whatever they mean."""

    line: Line
    tried: tuple[Line, ...]
    figures: dict[str, Limits]
    drawn_log10: Array
    drawn_density: Array
    band: Array
    noise_density: float


def learn_curve(patches: Patches, prior: CurvePrior, rules: Rules, wanted: Wanted) -> Learnt:
    """
    Everything that the patches say about the paper, with the doubt of each figure.

    The line is the shape that foretells a left-out patch best; the limits are counted from likely double logistics.

    Args:
        patches: What was read, in rising order of exposure. At least 5.
        prior: What is believed beforehand.
        rules: The figures that define points and indices.
        wanted: Shape, percent, seed, and what else is known.

    Returns:
        The line, its figures with limits, and the band to draw. Uncertainty: reading noise, exposure of the patches and the freedom
        of the shape; the calibration counts how often the limits hold.

    Raises:
        NotEnoughReadings: fewer than 5 patches.

    Source:
        our judgement (the method); the points: iso6846, from memory, unverified.
    """
    tried = fit_all(patches, prior)
    line = _line(wanted.shape, tried, patches, prior)
    draws = draw_curves(patches, prior, wanted.seed)
    shown, likely = (find_points(curves, rules) for curves in (_of_line(line, patches), _of_draws(draws, patches)))
    figures = _ends(shown, likely, draws, patches, wanted) | _middle(shown, likely, patches, rules, wanted)
    figures |= _between_ends(shown, likely, patches, rules, wanted)
    along = np.linspace(patches.exposure_log10[0], patches.exposure_log10[-1], DRAWN_POINTS)
    half = 0.5 * wanted.percent / 100
    band = np.quantile(draws.density(along), [0.5 - half, 0.5 + half], axis=0)
    return Learnt(
        line=line,
        tried=tried,
        figures=figures,
        drawn_log10=along,
        drawn_density=line.density(along),
        band=band,
        noise_density=float(np.median(draws.noise)),
    )


def _line(shape: str, tried: tuple[Line, ...], patches: Patches, prior: CurvePrior) -> Line:
    """The line that was asked for, or the best of those tried."""
    if not shape:
        return choose(tried)
    already = [line for line in tried if line.shape == shape]
    if already:
        return already[0]
    return fit_spline(patches) if shape == SPLINE else fit_shape(SHAPES[shape], patches, prior)


def _of_line(line: Line, patches: Patches) -> Curves:
    first, last = float(patches.exposure_log10[0]), float(patches.exposure_log10[-1])
    return Curves(line.density, np.array([line.dmin]), np.array([line.dmax]), patches.sign, first, last)


def _of_draws(draws: Draws, patches: Patches) -> Curves:
    first, last = float(patches.exposure_log10[0]), float(patches.exposure_log10[-1])
    return Curves(lambda at: draws.density(at[:, None])[:, 0], draws.dmin, draws.dmax, draws.sign, first, last)


def _reached(likely: Points, patches: Patches) -> tuple[bool, bool]:
    """Whether the low and the high end of the usable exposures lie within the patches."""
    first, last = patches.exposure_log10[0], patches.exposure_log10[-1]
    return seen(likely.low_log10 >= first), seen(likely.high_log10 <= last)


def _ends(shown: Points, likely: Points, draws: Draws, patches: Patches, wanted: Wanted) -> dict[str, Limits]:
    """Densities and exposures of both ends; one that the patches do not show is open."""
    first, last = patches.exposure_log10[[0]], patches.exposure_log10[[-1]]
    low_seen, high_seen = _reached(likely, patches)
    thin_seen, dense_seen, thin, dense = (low_seen, high_seen, first, last) if draws.sign > 0 else (high_seen, low_seen, last, first)
    percent, figures = wanted.percent, {}
    figures["dmin"] = between(shown.dmin[0], likely.dmin, percent) if thin_seen else at_most(draws.density(thin)[:, 0], percent)
    figures["dmax"] = between(shown.dmax[0], likely.dmax, percent) if dense_seen else at_least(draws.density(dense)[:, 0], percent)
    lows, highs = np.maximum(likely.low_log10, first), np.minimum(likely.high_log10, last)
    figures["low_log10"] = between(shown.low_log10[0], likely.low_log10, percent) if low_seen else at_most(lows, percent)
    figures["high_log10"] = between(shown.high_log10[0], likely.high_log10, percent) if high_seen else at_least(highs, percent)
    if wanted.fixed_out_density is not None and thin_seen:
        read = np.random.default_rng(wanted.seed).normal(wanted.fixed_out_density, patches.density_sd, len(likely.dmin))
        figures["veil"] = between(shown.dmin[0] - wanted.fixed_out_density, likely.dmin - read, percent)
    return figures


def _between_ends(shown: Points, likely: Points, patches: Patches, rules: Rules, wanted: Wanted) -> dict[str, Limits]:
    """What needs both ends: the range, the gradient and the index after ISO 2240."""
    first, last = patches.exposure_log10[0], patches.exposure_log10[-1]
    percent = wanted.percent
    if not all(_reached(likely, patches)):
        return {"range_log10": at_least(np.minimum(likely.high_log10, last) - np.maximum(likely.low_log10, first), percent)}
    figures = {
        "range_log10": between(shown.range_log10[0], likely.range_log10, percent),
        "gradient": between(average_gradient(shown, rules)[0], average_gradient(likely, rules), percent),
    }
    if wanted.light_sd_stops is not None:
        halfway, likely_halfway = (0.5 * (points.low_log10 + points.high_log10) for points in (shown, likely))
        figures["ends_ei"] = _index(halfway, likely_halfway, rules.reversal_lx_s, wanted)
    return figures


def _middle(shown: Points, likely: Points, patches: Patches, rules: Rules, wanted: Wanted) -> dict[str, Limits]:
    """Where the grey lies, and the indices of single points; open or unknown where the patches do not come so far."""
    first, last = patches.exposure_log10[0], patches.exposure_log10[-1]
    middle = likely.middle_log10
    if not seen(np.isfinite(middle)):
        return {"middle_log10": UNKNOWN}
    metered, percent = wanted.light_sd_stops is not None, wanted.percent
    if not seen((middle >= first) & (middle <= last)):
        beyond = bool((middle > last).sum() >= (middle < first).sum())
        bound = (at_least if beyond else at_most)(np.clip(middle, first, last), percent)
        return {"middle_log10": bound} | ({"camera_ei": _index_bound(middle, beyond, patches, rules, wanted)} if metered else {})
    figures = {"middle_log10": between(shown.middle_log10[0], middle, percent)}
    if metered:
        figures["camera_ei"] = _index(shown.middle_log10, middle, rules.camera_lx_s, wanted)
        if seen((likely.speed_log10 >= first) & (likely.speed_log10 <= last)):
            figures["paper_speed"] = _index(shown.speed_log10, likely.speed_log10, rules.paper_lx_s, wanted)
    return figures


def _index(shown: Array, likely: Array, unity_lx_s: float, wanted: Wanted) -> Limits:
    """An index with its limits: those of the curve and of the light that was metered."""
    return between(index_at(shown, unity_lx_s)[0], index_at(likely + _light(len(likely), wanted), unity_lx_s), wanted.percent)


def _index_bound(middle: Array, beyond: bool, patches: Patches, rules: Rules, wanted: Wanted) -> Limits:  # noqa: FBT001 (one of two sides)
    """The index of a grey that lies beyond the patches: a bound only."""
    clipped = np.clip(middle, patches.exposure_log10[0], patches.exposure_log10[-1]) + _light(len(middle), wanted)
    return (at_most if beyond else at_least)(index_at(clipped, rules.camera_lx_s), wanted.percent)


def _light(many: int, wanted: Wanted) -> Array:
    """Errors of the metered light, in log10, one for each likely curve."""
    light: Array = np.random.default_rng(wanted.seed + 1).normal(0.0, (wanted.light_sd_stops or 0.0) * LOG10_PER_STOP, many)
    return light
