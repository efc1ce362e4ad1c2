"""Rows and columns laid over a straight picture: which of them its edges speak for."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy.ndimage import maximum_filter1d

from silverwright.densitometry.edges import NORMAL_SPREAD, SURE_SD, Edges

Array = npt.NDArray[np.float64]

LEAST_PITCH_PX: Final = 14  # our judgement: smaller patches have no middle that could be measured
MOST_GAP_SHARE: Final = 0.3  # our judgement: a gap takes less than a third of the way from patch to patch
LEAST_GAP_PX: Final = 3  # our judgement: a narrower gap is one edge in a reduced picture
MOST_GAP_PX: Final = 34  # our judgement: wider gaps were not made
GAP_STEP_PX: Final = 2  # our judgement: refined later by a pixel
COARSE_GAP_STEP_PX: Final = 5  # our judgement: the same where the number of patches is not known and many are tried
SMALLEST_PATCH_PX: Final = 7.0  # our judgement: half of the least pitch
LEAST_GAIN: Final = 1e-6  # arithmetic: less is rounding
EXPECTED: Final = 0.35  # our judgement: a line is worth drawing if its edges are there for a good third
MISSING: Final = 2.5  # our judgement: a strong edge inside a patch speaks louder against a grid than one at its rim for it
INSIDE_PX: Final = 6  # our judgement: the blur of an edge and a pixel or two of a wrong place
SPREADS: Final = 4  # our judgement: what stands out by four spreads of its neighbours is a line
CORNER_SHARE: Final = 0.15  # our judgement: edges are judged without their ends, where corners are round
BEYOND_PX: Final = 26  # our judgement: so far beyond the field the edge of the sheet still runs on
STRETCHES: Final = ((1, 0), (0, 1), (2, 0), (0, 2), (1, 1))  # our judgement: at most two patches have the tone of their border
SNAP_PX: Final = 10  # our judgement: the box that a frame leaves is known to so many pixels, and a line near it more sharply
LINE_PX: Final = 5  # our judgement: a blurred line is so wide in a reduced picture
LOOKS_INSIDE: Final = 24  # our judgement: near enough that no line inside a patch is overlooked
KEPT_OF_EACH: Final = 40  # our judgement: many of them are alike, and only one of those stays
LINES_TRIED: Final = 26  # our judgement: more lines than rows, columns and frames have


@dataclass(frozen=True, slots=True)
class Series:
    """Patches along one side: where the first begins and the last ends, how many, and the gap between them, all in pixels."""

    first_px: float
    last_px: float
    count: int
    gap_px: float

    @property
    def pitch(self) -> float:
        """From patch to patch."""
        return (self.last_px - self.first_px + self.gap_px) / self.count

    @property
    def starts(self) -> Array:
        """Where each begins."""
        return np.asarray(self.first_px + np.arange(self.count) * self.pitch)

    @property
    def ends(self) -> Array:
        """Where each ends."""
        return np.asarray(self.starts + self.pitch - self.gap_px)

    @property
    def lines(self) -> Array:
        """Every edge once."""
        return np.concatenate([self.starts, self.ends if self.gap_px else self.ends[-1:]])


def series_tried(profile: Array, extra_px: tuple[float, ...], counts: range, keep: int) -> list[Series]:
    """
    Which even series of patches this profile of edges speaks for.

    Sum over the lines of (p - tau) less the strongest p inside each patch; between any two of the strongest lines, with every gap

    Args:
        profile: How surely an edge is at each place. [1] 0 to 1
        extra_px: Places that may be ends besides. [px]
        counts: How many patches there may be.
        keep: How many series are wanted.

    Returns:
        Series, the best first, no two alike. Uncertainty: a pixel or two.

    Source:
        our judgement.
    """
    places, known = _places(profile, extra_px)
    first, last = (places[one].astype(float) for one in np.triu_indices(len(places), 1))
    near = maximum_filter1d(profile, LINE_PX)
    middle = float(np.median(profile))
    ceiling = middle + SPREADS * NORMAL_SPREAD * float(np.median(np.abs(profile - middle)))
    found: list[tuple[float, Series]] = []
    for count in counts:
        gaps = [0, *range(LEAST_GAP_PX, MOST_GAP_PX, GAP_STEP_PX if len(counts) == 1 else COARSE_GAP_STEP_PX)] if count > 1 else [0]
        for gap in gaps:
            found += _best_of(profile, near, (first, last), (count, gap), ceiling)
            found += _best_of(profile, near, _stretched(known, count, gap), (count, gap), ceiling)
    found.sort(key=lambda one: -one[0])
    kept: list[Series] = []
    for _, one in found:
        if all(
            one.count != other.count or max(abs(one.first_px - other.first_px), abs(one.last_px - other.last_px)) > LEAST_GAP_PX for other in kept
        ):
            kept.append(one)
        if len(kept) == keep:
            break
    return kept


def _places(profile: Array, extra_px: tuple[float, ...]) -> tuple[npt.NDArray[np.intp], Array]:
    """Where the strongest lines are, and the line nearest to each of the other places."""
    peaks = np.flatnonzero((profile == maximum_filter1d(profile, LINE_PX)) & (profile > 0))
    strongest = peaks[np.argsort(profile[peaks])[::-1][:LINES_TRIED]]
    snapped = []
    for place in extra_px:
        near = peaks[np.abs(peaks - place) <= SNAP_PX]
        snapped.append(int(near[np.argmax(profile[near])]) if near.size else int(np.clip(round(place), 0, len(profile) - 1)))
    return np.unique([*strongest.tolist(), *snapped]), np.array(snapped, dtype=np.float64)


def _stretched(known: Array, count: int, gap: int) -> tuple[Array, Array]:
    """From one known end to the next, and a patch further at one end or at both: an end patch may have the tone of its border."""
    first, last = known[0::2], known[1::2]
    pairs = [(first, last)]
    for before, after in STRETCHES if count > max(map(sum, STRETCHES)) else ():
        pitch = (last - first + gap) / (count - before - after)
        pairs.append((first - before * pitch, last + after * pitch))
    return np.concatenate([one for one, _ in pairs]), np.concatenate([one for _, one in pairs])


def _best_of(profile: Array, near: Array, ends: tuple[Array, Array], shape: tuple[int, int], ceiling: float) -> list[tuple[float, Series]]:
    """The best few series of one count and gap between any two ends."""
    count, gap = shape
    pitch = (ends[1] - ends[0] + gap) / count
    fits = (pitch >= LEAST_PITCH_PX) & (gap < MOST_GAP_SHARE * pitch) & (ends[0] >= 0) & (ends[1] < len(profile))
    if not fits.any():
        return []
    first, last, pitch = ends[0][fits], ends[1][fits], pitch[fits]
    starts = first[:, None] + np.arange(count) * pitch[:, None]
    lines = np.concatenate([starts, starts + pitch[:, None] - gap if gap else last[:, None]], axis=1)
    most = len(profile) - 1
    score = (near[np.clip(np.rint(lines).astype(int), 0, most)] - EXPECTED).sum(axis=1)
    if gap:
        between = profile[np.clip(np.rint(starts[:, 1:] - gap / 2).astype(int), 0, most)]
        score -= np.maximum(between - ceiling, 0).sum(axis=1)
    inside = starts[:, :, None] + np.linspace(0, 1, LOOKS_INSIDE) * (pitch[:, None, None] - gap - 2 * INSIDE_PX) + INSIDE_PX
    peak = near[np.clip(np.rint(inside).astype(int), 0, most)].max(axis=2)
    score -= MISSING * np.maximum(peak - ceiling, 0).sum(axis=1)
    best = np.argsort(score)[::-1][:KEPT_OF_EACH]
    return [(float(score[one]), Series(float(first[one]), float(last[one]), count, float(gap))) for one in best]


@dataclass(frozen=True, slots=True)
class Speaks:
    """What the edges of a picture say to a grid: a sum, and how sure each line of it is between each pair of neighbours (0 to 1)."""

    weight: float
    upright: Array
    level: Array


def weigh(edges: tuple[Edges, Edges], grid: tuple[Series, Series], *, capped: bool = True, tolerance_px: int = 1) -> Speaks:
    """
    How well does this grid explain the edges of the picture?

    Sum over its edges of length (e - tau), less the length of edges inside its patches; an edge that runs on beyond the field counts nothing

    Args:
        edges: Upright edges of the picture, and of the picture on its side.
        grid: Columns and rows.
        capped: Whether an edge that is there counts no more for being stronger; uncapped, the place of a line is told more sharply.
        tolerance_px: How far from its line an edge may lie; 0 when uncapped.

    Returns:
        The sum, in hundreds of pixels; the sureness of each edge. Uncertainty: an edge between equal tones is not there.

    Source:
        our judgement.
    """
    columns, rows = grid
    upright, first = _side(edges[0], columns, rows, tolerance_px if capped else None)
    level, second = _side(edges[1], rows, columns, tolerance_px if capped else None)
    return Speaks(first + second, upright, level)


def _side(edges: Edges, series: Series, across: Series, tolerance_px: int | None) -> tuple[Array, float]:
    """One family of lines: sureness of each line beside each patch, and the sum over them; uncapped and sharp without a tolerance."""

    def sure(certainty: Array) -> Array:
        return np.minimum(certainty / SURE_SD, 1) if tolerance_px is not None else np.log1p(certainty) / np.log1p(SURE_SD)

    length = across.ends - across.starts
    first, last = (across.starts + CORNER_SHARE * length)[:, None], (across.ends - CORNER_SHARE * length)[:, None]
    found = sure(edges.certainty(series.lines[None, :], first, last, tolerance_px or 0)) * _ends_here(edges, series.lines, across)
    total = float(((found - EXPECTED) * length[:, None]).sum())
    if series.gap_px:
        between = sure(edges.certainty((series.starts[1:] - series.gap_px / 2)[None, :], first, last, 0))
        total -= float((between * length[:, None]).sum())
    return found, (total - MISSING * _inside(edges, series, across) * (across.last_px - across.first_px)) / 100


def _ends_here(edges: Edges, lines: Array, across: Series) -> Array:
    """1 for a line that ends with the field, 0 for one that runs on beyond both its ends: that is the edge of the sheet."""
    nothing = np.zeros(len(lines))
    before, after = nothing, nothing
    if across.first_px >= BEYOND_PX:
        before = np.minimum(edges.certainty(lines, nothing + across.first_px - BEYOND_PX, nothing + across.first_px - INSIDE_PX, 2) / SURE_SD, 1)
    if across.last_px + BEYOND_PX < len(edges.sums):
        after = np.minimum(edges.certainty(lines, nothing + across.last_px + INSIDE_PX, nothing + across.last_px + BEYOND_PX, 2) / SURE_SD, 1)
    return np.asarray(1 - np.minimum(before, after) ** 2)


def _inside(edges: Edges, series: Series, across: Series) -> float:
    """How sure the strongest line is that lies inside each patch, where none should be; summed."""
    profile = edges.within(across.first_px, across.last_px)
    middle = float(np.median(profile))
    ceiling = middle + SPREADS * NORMAL_SPREAD * float(np.median(np.abs(profile - middle)))
    spans = [profile[int(start) + INSIDE_PX : int(end) - INSIDE_PX + 1] for start, end in zip(series.starts, series.ends, strict=True)]
    return sum(max(0.0, float(one.max()) - ceiling) for one in spans if one.size)


def settle(edges: tuple[Edges, Edges], grid: tuple[Series, Series]) -> tuple[Series, Series]:
    """
    The same grid, each end and gap moved by pixels until the edges speak for it most.

    One move at a time, by 2, 1 and half a pixel, as long as the uncapped sum grows

    Args:
        edges: Upright edges of the picture, and of the picture on its side.
        grid: Columns and rows.

    Returns:
        Columns and rows. Uncertainty: half a pixel where the edges are sharp.

    Source:
        our judgement.
    """
    best = weigh(edges, grid, capped=False).weight
    for step in (2.0, 1.0, 0.5):
        moved = True
        while moved:
            moved = False
            for at in range(len(_moves(grid, step))):
                tried = _moves(grid, step)[at]
                if min(one.pitch - one.gap_px for one in tried) < SMALLEST_PATCH_PX:
                    continue
                total = weigh(edges, tried, capped=False).weight
                if total > best + LEAST_GAIN:
                    grid, best, moved = tried, total, True
    return grid


def _moves(grid: tuple[Series, Series], step: float) -> list[tuple[Series, Series]]:
    """The grid with one thing changed: an end, both ends, or a gap."""
    tried = []
    for at, one in enumerate(grid):
        changed = [replace(one, first_px=one.first_px + way * step) for way in (-1, 1)] + [
            replace(one, last_px=one.last_px + way * step) for way in (-1, 1)
        ]
        changed += [replace(one, first_px=one.first_px + way * step, last_px=one.last_px + way * step) for way in (-1, 1)]
        if one.gap_px:
            changed += [replace(one, gap_px=max(one.gap_px + way * step, 1.0)) for way in (-1, 1)]
        tried += [(new, grid[1]) if at == 0 else (grid[0], new) for new in changed]
    return tried
