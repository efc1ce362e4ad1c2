"""The grid of a step sheet or a step tablet, found in its scan; when it is not sure, it says so."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import numpy.typing as npt

from silverwright.densitometry.edges import Edges, upright_edges
from silverwright.densitometry.frame import Box, boxes_inside
from silverwright.densitometry.lattice import Series, Speaks, series_tried, settle, weigh
from silverwright.densitometry.straight import Straight, set_straight
from silverwright.records import Grid

Array = npt.NDArray[np.float64]

MOST_IN_A_ROW: Final = 24  # our judgement: longer rows are told by their number; a search for them takes too long
FEWEST_HALVED: Final = 3  # our judgement: with fewer lines between them none takes turns
TURNS_SHARE: Final = 0.75  # our judgement: real lines are weak in a row, where neighbouring tones are nearly alike
HALVED_SHARE: Final = 0.6  # our judgement: by chance alone lines differ less
UNTOLD: Final = "Nobody said how many rows and columns there are."  # our judgement: of made scans a few in a hundred were surely wrong without
SMALLEST_PX: Final = 96  # our judgement: a smaller picture shows no patches
KEPT_SERIES: Final = 10  # our judgement: enough that the right one is among them, few enough to try all pairs in a blink
ROUGH_PX: Final = 3  # our judgement: a grid that is still to be settled may lie so far off
KEPT_AGAIN: Final = 4  # our judgement: the same, where the field is nearly known
LEAST_LEAD_SHARE: Final = 0.12  # our judgement: counted on scans that were never made, grids with less lead were sometimes wrong
LEAST_LEAD_PATCH: Final = 0.4  # our judgement: or by this part of what one patch aside costs, which is little where a row is long
CLEAR_LEAD_SHARE: Final = 0.3  # our judgement: with so much lead no second method need agree
INNER_QUANTILES: Final = (0.9, 0.1)  # our judgement: dust and hairs cover less than a tenth
EVEN_INSIDE: Final = 0.12  # our judgement: noise, mottle and a hair stay below it, a picture does not
LEAST_SIDE: Final = 0.5  # our judgement: an outer side that shows less may be one patch further in or out
LEAST_EDGES: Final = 0.6  # our judgement: neighbours at the ends of a curve hardly differ, but most do
AGREE_SHARE: Final = 0.2  # our judgement: a slip of less than a fifth of a patch leaves its middle half on it
SAME_TONE: Final = 0.01  # our judgement: mottle
ALIKE_SHARE: Final = 0.2  # our judgement: closer than a fifth of a patch, two grids measure the same
BEST_ROUGH: Final = 2  # our judgement: of the grids that look best from further away, too
BEST: Final = 3  # our judgement: the best few grids are looked at closely


@dataclass(frozen=True, slots=True)
class GridFound:
    """The likeliest grid, if any; whether it is sure; and why, as a sentence."""

    grid: Grid | None
    sure: bool
    why: str


def find_grid(grey: Array, rows: int | None = None, columns: int | None = None) -> GridFound:
    """
    Where are the patches on this scan?

    Grids between the strongest lines of edges are weighed: edges at their lines speak for them, edges inside their patches against

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
    edges = upright_edges(straight.tones), upright_edges(np.ascontiguousarray(straight.tones.T))
    boxes = boxes_inside(straight.tones)
    found = _grids(edges, boxes or (Box(0, 0, *straight.tones.shape),), rows, columns)
    if not found:
        return GridFound(None, sure=False, why="No field of patches was found.")
    doubt = _doubt(straight.tones, boxes, found)
    if not doubt and None in (rows, columns):
        doubt = UNTOLD
    why = f"{doubt} Look whether every patch lies under its field, and move the corners." if doubt else "Edges, frame and tones agree."
    return GridFound(_as_grid(straight, found[0][1]), sure=not doubt, why=why)


def _doubt(tones: Array, boxes: tuple[Box, ...], found: list[tuple[Speaks, tuple[Series, Series]]]) -> str:
    """The first reason to doubt the best grid; nothing when none of the checks finds one."""
    speaks, (across, down) = found[0]
    lead = 1 - found[1][0].weight / speaks.weight if len(found) > 1 and speaks.weight > 0 else 1.0
    outer = (speaks.upright[:, 0], speaks.upright[:, -1], speaks.level[:, 0], speaks.level[:, -1])
    inner = _middles(tones, across, down)
    uneven = any(one.size == 0 or float(np.subtract(*np.quantile(one, INNER_QUANTILES))) > EVEN_INSIDE for one in inner)
    steps = np.diff([0.0 if uneven else float(np.median(one)) for one in inner])
    reasons = {
        "Another grid fits nearly as well.": speaks.weight <= 0
        or lead < min(LEAST_LEAD_SHARE, LEAST_LEAD_PATCH * _end_patch(across, down) / speaks.weight),
        "One side of the field hardly differs from what lies beside it.": min(float(side.mean()) for side in outer) < LEAST_SIDE,
        "Too many edges between the patches are missing.": min(float(speaks.upright.mean()), float(speaks.level.mean())) < LEAST_EDGES,
        "Every second edge is missing: a patch may be counted twice.": _halved(speaks.upright) or _halved(speaks.level),
        "What differs from its border does not end where the patches end.": lead < CLEAR_LEAD_SHARE
        and not any(_bounds(box, across, down) for box in boxes),
        "Not every patch is even inside.": uneven,
        "The tones of the single row do not go one way.": 1 in (across.count, down.count)
        and not (np.all(steps > -SAME_TONE) or np.all(steps < SAME_TONE)),
    }
    return next((reason for reason, holds in reasons.items() if holds), "")


def _halved(lines: Array) -> bool:
    """Whether weak and strong lines take turns between the patches, as when each patch is taken for two."""
    inner = lines.mean(axis=0)[1:-1]
    if len(inner) < FEWEST_HALVED:
        return False
    strong = inner > float(np.median(inner))
    turns = float(np.mean(strong[1:] != strong[:-1]))
    return turns > TURNS_SHARE and float(inner[~strong].mean()) < HALVED_SHARE * float(inner[strong].mean())


def _end_patch(across: Series, down: Series) -> float:
    """What a grid loses that lies a patch aside: the outer line there, and both ends of its last patches; in hundreds of pixels."""
    aside = down.last_px - down.first_px + 2 * across.pitch * down.count
    below = across.last_px - across.first_px + 2 * down.pitch * across.count
    return min(aside, below) / 100


def _bounds(box: Box, across: Series, down: Series) -> bool:
    """Whether this box, found without edges, ends where the field ends."""
    sides = (
        (box.left_px, across.first_px, across),
        (box.right_px, across.last_px, across),
        (box.top_px, down.first_px, down),
        (box.bottom_px, down.last_px, down),
    )
    return all(abs(one - other) <= AGREE_SHARE * series.pitch for one, other, series in sides)


def _middles(tones: Array, across: Series, down: Series) -> list[Array]:
    """The middle half of each patch."""

    def middle(first_px: float, last_px: float) -> slice:
        return slice(round(first_px + (last_px - first_px) / 4), round(last_px - (last_px - first_px) / 4))

    return [
        tones[middle(top, bottom), middle(left, right)]
        for top, bottom in zip(down.starts, down.ends, strict=True)
        for left, right in zip(across.starts, across.ends, strict=True)
    ]


def _grids(edges: tuple[Edges, Edges], boxes: tuple[Box, ...], rows: int | None, columns: int | None) -> list[tuple[Speaks, tuple[Series, Series]]]:
    """Grids that the edges speak for, the best first."""
    across, down = (range(count, count + 1) if count else range(1, MOST_IN_A_ROW + 1) for count in (columns, rows))
    places = [tuple(getattr(box, side) for box in boxes for side in sides) for sides in (("left_px", "right_px"), ("top_px", "bottom_px"))]
    tried: list[tuple[Series, Series]] = []
    for box in boxes[-2:]:
        upright = series_tried(edges[0].within(box.top_px, box.bottom_px), places[0], across, KEPT_SERIES)
        level = series_tried(edges[1].within(box.left_px, box.right_px), places[1], down, KEPT_SERIES)
        tried += [(one, other) for one in upright for other in level]
    best = [*_ranked(edges, tried)[:BEST], *_ranked(edges, tried, ROUGH_PX)[:BEST_ROUGH]]
    again: list[tuple[Series, Series]] = []
    for one, other in best:  # now that the field is nearly known, its lines are looked for inside it only
        again += [
            (new, other) for new in series_tried(edges[0].within(other.first_px, other.last_px), (one.first_px, one.last_px), across, KEPT_AGAIN)
        ]
        again += [(one, new) for new in series_tried(edges[1].within(one.first_px, one.last_px), (other.first_px, other.last_px), down, KEPT_AGAIN)]
    tried = [*best, *again]
    best = [*_ranked(edges, tried)[:BEST], *_ranked(edges, tried, ROUGH_PX)[:BEST_ROUGH]]
    settled = [settle(edges, grid) for grid in dict.fromkeys(best)]
    best = _ranked(edges, settled)
    aside = _ranked(edges, _moved(best[0]))[:1] if best else []
    best = _ranked(edges, [*best, *(settle(edges, grid) for grid in aside)])
    return [(weigh(edges, grid), grid) for grid in best]


def _ranked(edges: tuple[Edges, Edges], grids: list[tuple[Series, Series]], tolerance_px: int = 1) -> list[tuple[Series, Series]]:
    """The grid that the edges speak for most first; of several that lie alike, the best."""
    kept: list[tuple[Series, Series]] = []
    for grid in sorted(dict.fromkeys(grids), key=lambda grid: -weigh(edges, grid, tolerance_px=tolerance_px).weight):
        if not any(_alike(grid, other) for other in kept):
            kept.append(grid)
    return kept


def _alike(grid: tuple[Series, Series], other: tuple[Series, Series]) -> bool:
    """Whether both have the same patches within a fifth of one."""
    return all(
        one.count == two.count and max(abs(one.first_px - two.first_px), abs(one.last_px - two.last_px)) < ALIKE_SHARE * one.pitch
        for one, two in zip(grid, other, strict=True)
    )


def _moved(grid: tuple[Series, Series]) -> list[tuple[Series, Series]]:
    """The grid one patch aside, up or down: what is taken for a patch at one end may be border."""
    across, down = grid
    moved = [(replace(across, first_px=across.first_px + way * across.pitch, last_px=across.last_px + way * across.pitch), down) for way in (-1, 1)]
    return moved + [(across, replace(down, first_px=down.first_px + way * down.pitch, last_px=down.last_px + way * down.pitch)) for way in (-1, 1)]


def _as_grid(straight: Straight, grid: tuple[Series, Series]) -> Grid:
    """Corners in fractions of the scan as it came."""
    across, down = grid
    places = ((down.first_px, across.first_px), (down.first_px, across.last_px), (down.last_px, across.last_px), (down.last_px, across.first_px))
    top_left, top_right, bottom_right, bottom_left = (straight.place(row, column) for row, column in places)
    return Grid((top_left, top_right, bottom_right, bottom_left), down.count, across.count)
