"""Whether a scanner sharpens by itself: light along lines across the edges between patches."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil
from typing import Final

import numpy as np
from numpy.typing import NDArray

from silverwright.densitometry.grid import Quad
from silverwright.densitometry.patch import FEWEST_ACROSS, edge_overshoot
from silverwright.records import Corner
from silverwright.scanning.header import Header, stored_place
from silverwright.scanning.light import ToLight
from silverwright.scanning.profile import Samples

LINES: Final = 48  # our judgement: so many lines across an edge are averaged, which takes the grain away
MOST_ACROSS: Final = 1000  # our judgement: points of a line
MOST_HALO: Final = 0.5  # our judgement: what overshoots by more than half a step is a gap or a rule between patches
FEWEST_EDGES: Final = 3  # our judgement: one edge alone may be a hair
AS_MUCH_SHARE: Final = 1 / 3  # our judgement: sharpening shows beside every edge, dust and gaps beside some; the darkest drown in noise
AS_MUCH: Final = 2  # our judgement: of a few edges the largest may be a hair


@dataclass(slots=True)
class Edge:
    """Places of lines across one edge, as rows and columns of the stored picture; and the numbers met there."""

    rows: NDArray[np.int64]
    columns: NDArray[np.int64]
    met: Samples = field(init=False)

    @property
    def reach(self) -> tuple[int, int]:
        """Its first row, and the one after its last: of a picture that is stored on its side, other rows than those of the patches."""
        return int(self.rows.min()), int(self.rows.max()) + 1

    def meet(self, first: int, band: Samples) -> None:
        """Take what lies in this band."""
        if not hasattr(self, "met"):
            self.met = np.zeros((*self.rows.shape, band.shape[2]), band.dtype)
        here = (self.rows >= first) & (self.rows < first + len(band))
        self.met[here] = band[self.rows[here] - first, self.columns[here]]


def edges_of(middles: Sequence[Quad], columns: int, header: Header) -> list[Edge]:
    """Between each patch and the next of its row: lines from the middle of one to the middle of the other."""
    pairs = [(left, right) for place, (left, right) in enumerate(pairwise(middles), 1) if place % columns]
    return [edge for left, right in pairs if (edge := _edge(left, right, header)) is not None]


def halo_percent(edges: Sequence[Edge], light: ToLight) -> float | None:
    """By how many percent of its step light overshoots beside a third of the edges at least; nothing where too few edges tell."""
    found = []
    for edge in edges:
        lines = light(edge.met.reshape(-1, edge.met.shape[2])).mean(axis=1).reshape(edge.rows.shape)
        found.append(edge_overshoot(np.median(lines, axis=0)))
    halos = sorted(one for one in found if one <= MOST_HALO)
    return 100 * halos[-max(AS_MUCH, ceil(AS_MUCH_SHARE * len(halos)))] if len(halos) >= FEWEST_EDGES else None


def _edge(left: Quad, right: Quad, header: Header) -> Edge | None:
    """Nothing where the patches are too small for it, or lie outside."""
    size = np.array([header.width_px, header.height_px])
    top, bottom = (_between(left[0], left[1]), _between(right[0], right[1])), (_between(left[3], left[2]), _between(right[3], right[2]))
    places = [[np.array(stored_place(header.orientation, *one)) * size for one in ends] for ends in (top, bottom)]
    across = min(int(np.abs(places[0][1] - places[0][0]).max()), MOST_ACROSS)
    if across < FEWEST_ACROSS:
        return None
    along, down = np.linspace(0, 1, across)[None, :, None], np.linspace(0, 1, LINES)[:, None, None]
    begin, end = (places[0][side] + down * (places[1][side] - places[0][side]) for side in (0, 1))
    points = np.floor(begin + along * (end - begin)).astype(np.int64)
    if points.min() < 0 or (points >= size).any():
        return None
    return Edge(points[..., 1], points[..., 0])


def _between(first: Corner, second: Corner) -> Corner:
    return ((first[0] + second[0]) / 2, (first[1] + second[1]) / 2)
