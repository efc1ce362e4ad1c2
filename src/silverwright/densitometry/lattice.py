"""
Rows and columns of patches laid over a picture, many at once.

A lattice is six numbers in pixels: where the first column begins, where the last one ends, the gap between columns; the same of the rows. How
many rows and columns it has goes beside it as its shape.
"""

from typing import Final

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Shape = tuple[int, int]  # rows, columns

ACROSS: Final = slice(0, 3)  # arithmetic: the columns of a lattice
DOWN: Final = slice(3, 6)  # arithmetic: its rows
ENDS: Final = [0, 1, 3, 4]  # arithmetic: left, right, top, bottom
SMALLEST_PATCH_PX: Final = 7.0  # our judgement: a smaller patch has no middle that could be measured
MOST_GAP_SHARE: Final = 0.35  # our judgement: a gap takes about a third of the way from patch to patch at most
GAP_SHARES: Final = (0.0, 0.07, 0.15, 0.25)  # our judgement: near enough to each other to be refined from
STEP_SHARE: Final = 1 / 8  # our judgement: ends are tried an eighth of a patch apart, near enough to be refined from
INWARD_SHARE: Final = 0.6  # our judgement: a hair beside the field makes what is found too long by about half a patch
OUTWARD_SHARE: Final = 2.6  # our judgement: at most two patches at the ends have the tone of their ground
SINGLE_PX: Final = 16.0  # our judgement: the ends of a single patch are known to so many pixels
SINGLE_STEP_PX: Final = 4.0  # our judgement: near enough to be refined from


def spans(series: Array, count: int) -> tuple[Array, Array]:
    """
    Where each patch of many series begins and ends.

    Pitch = (last - first + gap) / count; start i = first + i pitch; end = start + pitch - gap

    Args:
        series: First, last and gap of each series. [px] n x 3
        count: Patches in each.

    Returns:
        Starts and ends. [px] n x count. Uncertainty: none, arithmetic.

    Source:
        arithmetic of evenly spaced places, from memory, unverified.
    """
    first, last, gap = series.T
    pitch = (last - first + gap) / count
    starts = first[:, None] + np.arange(count) * pitch[:, None]
    return starts, starts + (pitch - gap)[:, None]


def pitches(lattice: Array, shape: Shape) -> tuple[float, float]:
    """
    From patch to patch, across and down.

    (last - first + gap) / count

    Args:
        lattice: One lattice. [px] 6
        shape: Its rows and columns.

    Returns:
        Both pitches. [px] Uncertainty: none, arithmetic.

    Source:
        arithmetic of evenly spaced places, from memory, unverified.
    """
    (left, right, beside), (top, bottom, below) = lattice[ACROSS], lattice[DOWN]
    rows, columns = shape
    return float(right - left + beside) / columns, float(bottom - top + below) / rows


def patch_moves(lattice: Array, shape: Shape) -> tuple[Array, ...]:
    """
    What moves a lattice by one patch: to the left, to the right, up, down.

    Both ends by the pitch

    Args:
        lattice: One lattice. [px] 6
        shape: Its rows and columns.

    Returns:
        Four moves, in the order of the ends. [px] 6 each. Uncertainty: none, arithmetic.

    Source:
        arithmetic of evenly spaced places, from memory, unverified.
    """
    across, down = pitches(lattice, shape)
    aside, below = np.array([across, across, 0, 0, 0, 0]), np.array([0, 0, 0, down, down, 0])
    return -aside, aside, -below, below


def measurable(series: Array, count: int) -> npt.NDArray[np.bool_]:
    """
    Which of these series could be measured at all.

    0 <= gap <= 0.35 pitch; pitch - gap >= 7

    Args:
        series: First, last and gap of each series. [px] n x 3
        count: Patches in each.

    Returns:
        True or false for each. Uncertainty: none.

    Source:
        our judgement.
    """
    gap = series[:, 2]
    pitch = (series[:, 1] - series[:, 0] + gap) / count
    return np.asarray((gap >= 0) & (gap <= MOST_GAP_SHARE * pitch) & (pitch - gap >= SMALLEST_PATCH_PX))


def series_tried(first_px: float, last_px: float, count: int) -> Array:
    """
    Series worth trying when something that differs from its ground reaches from here to there.

    Each end from 0.6 patches inside to 2.6 outside, an eighth of a patch apart, with four gaps

    Args:
        first_px: Where it begins. [px]
        last_px: Where it ends. [px]
        count: Patches there are.

    Returns:
        First, last and gap of each that could be measured. [px] n x 3. Uncertainty: the true one lies within a sixteenth of a patch of one of
        them where the ends are known as said.

    Source:
        our judgement.
    """
    if count == 1:
        aside = np.arange(-SINGLE_PX, SINGLE_PX + SINGLE_STEP_PX / 2, SINGLE_STEP_PX)
        first, last = (one.ravel() for one in np.meshgrid(first_px + aside, last_px + aside))
        series = np.stack([first, last, np.zeros_like(first)], axis=1)
    else:
        pitch = (last_px - first_px) / count
        aside = np.arange(-OUTWARD_SHARE, INWARD_SHARE, STEP_SHARE) * pitch
        before, after, gaps = (one.ravel() for one in np.meshgrid(aside, aside, np.array(GAP_SHARES)))
        likely = before + after > -OUTWARD_SHARE * pitch
        first, last, gaps = first_px + before[likely], last_px - after[likely], gaps[likely]
        series = np.stack([first, last, gaps * (last - first) / (count - gaps)], axis=1)
    return np.asarray(series[measurable(series, count)])


def joined(across: Array, down: Array) -> Array:
    """
    Lattices from columns and rows, one of either standing for as many as there are of the other.

    Side by side

    Args:
        across: Series of columns. [px] n x 3, or 1 x 3
        down: Series of rows. [px] n x 3, or 1 x 3

    Returns:
        Lattices. [px] n x 6. Uncertainty: none.

    Source:
        arithmetic of evenly spaced places, from memory, unverified.
    """
    many = max(len(across), len(down))
    return np.concatenate([np.broadcast_to(across, (many, 3)), np.broadcast_to(down, (many, 3))], axis=1)
