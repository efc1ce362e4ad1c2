"""The grid of a step sheet or a step tablet, found in its scan; when it is not sure, it says so."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy.ndimage import median_filter

from silverwright.densitometry.contrast import Contrast
from silverwright.densitometry.ground import Box, Ground, grounds
from silverwright.densitometry.laid import BLUR_PX, LEAST_SHARE, Laid, is_even
from silverwright.densitometry.lattice import Shape, joined, patch_moves, pitches, series_tried
from silverwright.densitometry.straight import Straight, set_straight
from silverwright.records import Grid

Array = npt.NDArray[np.float64]

UNTOLD: Final = "Nobody said how many rows and columns there are."  # our judgement: a guess may count pale patches for border
SMALLEST_PX: Final = 96  # our judgement: a smaller picture shows no patches
SPECK_PX: Final = 5  # our judgement: a median over so many pixels leaves no dust, and keeps edges where they are
MOST_IN_A_ROW: Final = 24  # our judgement: longer rows are told by their number; a search for them takes too long
BANDS: Final = 6  # our judgement: enough to tell patches apart that are alike in one row
KEPT: Final = 3  # our judgement: of the series along each side the best few are refined
APART_SHARE: Final = 1 / 3  # our judgement: closer than a third of a patch, two series settle to the same
BESIDE_SHARE: Final = 0.4  # our judgement: the ground is judged within less than half a patch of the field
BESIDE_PX: Final = (6, 24)  # our judgement: but on six pixels at least, and twenty-four are enough


@dataclass(frozen=True, slots=True)
class GridFound:
    """The likeliest grid, if any; whether it is sure; and why, as a sentence."""

    grid: Grid | None
    sure: bool
    why: str


def find_grid(grey: Array, rows: int | None = None, columns: int | None = None) -> GridFound:
    """
    Where are the patches on this scan?

    Of all lattices on each even ground the one whose patches, each taken as even, explain most of what differs from the ground

    Args:
        grey: Linear light of a reduced scan, longest side about 1200 pixels. [1] height x width, 0 to 1
        rows: Rows of patches, if known. [1] >= 1
        columns: Patches in a row, if known. [1] >= 1

    Returns:
        The likeliest grid, and whether it is sure, which it never is of rows and columns that nobody told. Uncertainty: about a pixel of the
        reduced scan where it is sure; else a person must place it.

    Source:
        our judgement.
    """
    if min(grey.shape) < SMALLEST_PX:
        return GridFound(None, sure=False, why="The picture is too small to find patches on it.")
    straight = set_straight(grey)
    tones = np.asarray(median_filter(straight.tones, SPECK_PX))
    laid = [one for ground in grounds(tones) if (one := _lay(tones, ground, rows, columns))]
    if not laid:
        return GridFound(None, sure=False, why="No field of patches on an even ground was found.")
    doubted = [(one, one.doubt()) for one in laid]
    best, doubt = max(doubted, key=lambda one: (not one[1], one[0].even, one[0].share))
    if not doubt and None in (rows, columns):
        doubt = UNTOLD
    elif not doubt and any(not other_doubt and not other.alike(best) for other, other_doubt in doubted):
        doubt = "Another grid fits as well."
    why = f"{doubt} Look whether every patch lies under its field, and move the corners." if doubt else "Patches, gaps and ground agree."
    return GridFound(_as_grid(straight, best), sure=not doubt, why=why)


def _lay(tones: Array, ground: Ground, rows: int | None, columns: int | None) -> Laid | None:
    """The best lattice on one ground; its tone is judged again beside the field, where stray light from the patches falls on it."""
    shape = rows or _count(tones, ground, down=True), columns or _count(tones, ground, down=False)
    contrast = Contrast(tones, ground.part, ground.tone_log10)
    starts = _starts(contrast, ground.inner, shape)
    if not starts:
        return None
    lattice, _ = max((contrast.settle(start, shape) for start in starts), key=lambda one: one[1])
    contrast = Contrast(tones, ground.part, _tone_beside(tones, ground, lattice, shape))
    aside = [lattice, *(lattice + move for move in patch_moves(lattice, shape))]
    lattice, weight = max((contrast.settle(one, shape) for one in aside), key=lambda one: one[1])
    return Laid(tones, contrast, lattice, shape, weight)


def _starts(contrast: Contrast, inner: Box, shape: Shape) -> list[Array]:
    """Lattices to settle from: the best columns for rows as the box has them, the best rows for those, and both once more."""
    rows, columns = shape
    across, down = series_tried(inner.left_px, inner.right_px, columns), series_tried(inner.top_px, inner.bottom_px, rows)
    if not len(across) or not len(down):
        return []
    best_down = np.array([[inner.top_px, inner.bottom_px, 0.0]])
    for _ in range(2):
        best_across = _best(across, contrast.weigh(joined(across, best_down[:1]), shape), APART_SHARE * (inner.right_px - inner.left_px) / columns)
        best_down = _best(down, contrast.weigh(joined(best_across[:1], down), shape), APART_SHARE * (inner.bottom_px - inner.top_px) / rows)
    return [np.concatenate([one, other]) for one in best_across for other in best_down]


def _best(series: Array, weights: Array, apart_px: float) -> Array:
    """The few series of the greatest weight that do not lie alike."""
    kept: list[Array] = []
    for at in np.argsort(weights)[::-1]:
        if all(np.abs(series[at, :2] - one[:2]).max() > apart_px for one in kept):
            kept.append(series[at])
        if len(kept) == KEPT:
            break
    return np.array(kept)


def _count(tones: Array, ground: Ground, *, down: bool) -> int:
    """
    How many patches lie along one side: the fewest that are even along it.

    Whatever lies along the other side is averaged over a few bands: along a patch each band is as even as the patch.
    """
    part, inner = ground.part, ground.inner
    if down:
        tones, part, inner = tones.T, part.turned, inner.turned
    bands = np.array([band.mean(axis=0) for band in np.array_split(tones[inner.top_px : inner.bottom_px], BANDS)])
    contrast = Contrast(bands, Box(0, part.left_px, BANDS, part.right_px), ground.tone_log10)
    for count in range(1, MOST_IN_A_ROW + 1):
        series = series_tried(inner.left_px, inner.right_px, count)
        if not len(series):
            break
        lattices = joined(series, np.array([[0.0, BANDS, 0.0]]))
        weights = contrast.weigh(lattices, (BANDS, count))
        if weights.max() >= LEAST_SHARE * contrast.total and is_even(bands, lattices[int(weights.argmax())], (BANDS, count)):
            return count
    return 1


def _tone_beside(tones: Array, ground: Ground, lattice: Array, shape: Shape) -> float:
    """Tone of the ground close to the field."""
    left, right, _, top, bottom, _ = lattice
    wide = float(np.clip(BESIDE_SHARE * min(pitches(lattice, shape)), *BESIDE_PX)) + BLUR_PX
    down, across = np.ogrid[: tones.shape[0], : tones.shape[1]]
    part = ground.part

    def within(aside_px: float) -> npt.NDArray[np.bool_]:
        rows = (down >= max(top - aside_px, part.top_px)) & (down < min(bottom + aside_px, part.bottom_px))
        return np.asarray(rows & (across >= max(left - aside_px, part.left_px)) & (across < min(right + aside_px, part.right_px)))

    beside = tones[within(wide) & ~within(BLUR_PX)]
    return float(np.median(beside)) if beside.size else ground.tone_log10


def _as_grid(straight: Straight, laid: Laid) -> Grid:
    """Corners in fractions of the scan as it came."""
    left, right, _, top, bottom, _ = laid.lattice
    places = ((top, left), (top, right), (bottom, right), (bottom, left))
    top_left, top_right, bottom_right, bottom_left = (straight.place(row, column) for row, column in places)
    return Grid((top_left, top_right, bottom_right, bottom_left), *laid.shape)
