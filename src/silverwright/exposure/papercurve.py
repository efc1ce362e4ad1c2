"""What a paper gives for each exposure: its curve as points with a band, read both ways, and a usual one where no step sheet tells it."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import hypot, log, log10, tanh
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records import PaperCurve, UsualPaper

STOP_LOG10: Final = log10(2)  # arithmetic
POINTS: Final = 96  # our judgement: straight lines between so many points miss the curve by less than 0.001 in density
FEWEST: Final = 2  # arithmetic: one point is no curve


def density_at(curve: PaperCurve, exposure_log10: float) -> tuple[float, float, float]:
    """
    How dark a part becomes that gets so much more or less than the mid-grey.

    D(x), straight between points, flat beyond the first and the last

    Args:
        curve: The paper's curve.
        exposure_log10: Log exposure against that of the mid-grey. [log10]

    Returns:
        Density with the lower and the upper edge of the curve's band. [1] Uncertainty: that band.

    Source:
        our judgement (arithmetic).
    """
    places = curve.exposure_log10
    if exposure_log10 <= places[0]:
        return curve.density[0], curve.low[0], curve.high[0]
    if exposure_log10 >= places[-1]:
        return curve.density[-1], curve.low[-1], curve.high[-1]
    after = bisect_right(places, exposure_log10)
    part = (exposure_log10 - places[after - 1]) / (places[after] - places[after - 1])

    def between(column: Sequence[float]) -> float:
        return column[after - 1] + part * (column[after] - column[after - 1])

    density, low, high = between(curve.density), between(curve.low), between(curve.high)
    return density, min(low, density), max(high, density)


def exposure_for_density(curve: PaperCurve, density: float) -> float | None:
    """
    How much more or less than the mid-grey a part must get to become so dark.

    The first x at which D(x) = D

    Args:
        curve: The paper's curve.
        density: The density that is wanted. [1]

    Returns:
        Log exposure against that of the mid-grey, or nothing where the curve does not reach it. [log10] Uncertainty: the band of the curve.

    Source:
        our judgement (arithmetic).
    """
    for (at, one), (after, other) in pairwise(zip(curve.exposure_log10, curve.density, strict=True)):
        if min(one, other) <= density <= max(one, other):
            return at if one == other else at + (density - one) / (other - one) * (after - at)
    return None


def separation_density(curve: PaperCurve, exposure_log10: float, raised_log10: float) -> float:
    """
    By how much density a part stands apart from one that is a little brighter.

    |D(x) - D(x')|

    Args:
        curve: The paper's curve.
        exposure_log10: Log exposure of the part. [log10]
        raised_log10: Log exposure of the brighter one. [log10] >= exposure_log10

    Returns:
        Difference in density. [1] >= 0. Uncertainty: the band of the curve.

    Source:
        our judgement (arithmetic).
    """
    return abs(density_at(curve, exposure_log10)[0] - density_at(curve, raised_log10)[0])


def curve_ends(curve: PaperCurve) -> tuple[float, float]:
    """
    The densities that least and most light give.

    Args:
        curve: The paper's curve.

    Returns:
        Density without light (the deepest black of a direct positive), density in full light. [1] Uncertainty: the band of the curve there.

    Source:
        our judgement (arithmetic).
    """
    return curve.density[0], curve.density[-1]


def usual_curve(paper: UsualPaper, reach_sd: float) -> PaperCurve:
    """
    A curve to reckon with while no step sheet of this paper has told its own.

    D = Dmin + DN / (1 + e^(k (x - x0))), turned round for a negative; k from the range, x0 so that the mid-grey lies at 0

    Args:
        paper: Range, ends and the grey, each with its doubt.
        reach_sd: How many standard deviations the band reaches to either side. [sd] > 0

    Returns:
        The curve. [log10, density] Uncertainty: each doubt moved by itself by one standard deviation, the moves added in quadrature.

    Raises:
        OutOfRange: range or net density not above 0, or the grey not between both ends.

    Source:
        common practice, no source (the logistic function, its points by the rules of the curve's own question).
    """
    shadow, highlight = _end_points_log10(paper)
    whole = highlight - shadow
    places = [shadow - whole + 3 * whole * number / POINTS for number in range(POINTS + 1)]
    density = [_density(paper, place) for place in places]
    moved = moved_papers(paper)
    spread = [hypot(*(_density(one, place) - here for one in moved)) for place, here in zip(places, density, strict=True)]
    ends = [_end_points_log10(one) for one in moved]
    return PaperCurve(
        exposure_log10=tuple(places),
        density=tuple(density),
        low=tuple(max(min(here, 0.0), here - reach_sd * sd) for here, sd in zip(density, spread, strict=True)),
        high=tuple(here + reach_sd * sd for here, sd in zip(density, spread, strict=True)),
        shadow_log10=shadow,
        highlight_log10=highlight,
        shadow_sd_log10=hypot(*(low - shadow for low, _ in ends)),
        highlight_sd_log10=hypot(*(high - highlight for _, high in ends)),
        range_sd_log10=hypot(*(high - low - whole for low, high in ends)),
    )


def moved_papers(paper: UsualPaper, by_sd: float = 1.0) -> tuple[UsualPaper, ...]:
    """
    The same paper with one doubt after the other moved: range, Dmin, net density, the place of the grey.

    Args:
        paper: Range, ends and the grey, each with its doubt.
        by_sd: By how many standard deviations, up or down. [sd] any

    Returns:
        A paper for each doubt. Uncertainty: this is it.

    Source:
        our judgement (arithmetic).
    """
    shadow, highlight = _end_points_log10(paper)
    grey = by_sd * min(paper.grey_place_sd_log10, abs(shadow) / 2, abs(highlight) / 2)
    return (
        replace(paper, range_log10=paper.range_log10 * float((1 + paper.range_ln_sd) ** by_sd)),
        replace(paper, dmin=paper.dmin + by_sd * paper.dmin_sd),
        replace(paper, net_density=paper.net_density * float((1 + paper.net_ln_sd) ** by_sd)),
        replace(paper, shadow_side_factor=(shadow - grey) / shadow, highlight_side_factor=(highlight - grey) / highlight),
    )


def _logits(paper: UsualPaper) -> tuple[float, float, float]:
    """Where shadow point, highlight point and grey lie on the plain S, in the direction of more light."""
    dark = _logit(paper.net_share)
    light = _logit(paper.near_dmin / paper.net_density)
    grey = _logit((paper.grey_density - paper.dmin) / paper.net_density)
    return (-dark, -light, -grey) if paper.falls else (light, dark, grey)


def _end_points_log10(paper: UsualPaper) -> tuple[float, float]:
    """Shadow and highlight point against the mid-grey."""
    shadow, highlight, grey = _logits(paper)
    each = paper.range_log10 / (highlight - shadow)
    return (shadow - grey) * each * paper.shadow_side_factor, (highlight - grey) * each * paper.highlight_side_factor


def _density(paper: UsualPaper, exposure_log10: float) -> float:
    """The plain S, each side of the grey with its own scale."""
    shadow, highlight, grey = _logits(paper)
    side = paper.shadow_side_factor if exposure_log10 < 0 else paper.highlight_side_factor
    v = grey + exposure_log10 / side * (highlight - shadow) / paper.range_log10
    share = 0.5 - 0.5 * tanh(v / 2) if paper.falls else 0.5 + 0.5 * tanh(v / 2)
    return paper.dmin + paper.net_density * share


def _logit(share: float) -> float:
    if not 0 < share < 1:
        raise OutOfRange("share", share, "between 0 and 1: the grey and both points lie between the ends of the curve")
    return log(share / (1 - share))
