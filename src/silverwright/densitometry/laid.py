"""A lattice laid on the ground of a scan, and every reason to doubt it."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from silverwright.densitometry.contrast import RIM_SHARE, Contrast
from silverwright.densitometry.lattice import ACROSS, DOWN, ENDS, Shape, patch_moves, pitches, spans

Array = npt.NDArray[np.float64]

BLUR_PX: Final = 3  # our judgement: the blur of an edge
OFF_LOG10: Final = 0.03  # our judgement: noise and mottle stay below it
UNEVEN_SHARE: Final = 0.08  # our judgement: of made scans right grids had at most 0.03, wrong ones at least 0.16
UNEVEN_PATCH_SHARE: Final = 0.4  # our judgement: a hair covers a quarter of a patch at most, a wrong patch has half of its neighbour
LEAST_SHARE: Final = 0.9  # our judgement: of made scans right grids explained at least 0.96, wrong ones that were even 0.87 at most
LEAST_STEP: Final = 0.04  # our judgement: a smaller step in contrast, about 0.01 in tone, may be shade of the ground
BEYOND_SHARE: Final = 0.12  # our judgement: stray light of a strong side makes smaller steps, a patch of the next tone greater ones
STRIP_SHARE: Final = 0.25  # our judgement: so much of a patch on both sides of a line tells whether one ends there
FEWER: Final = (2, 3)  # our judgement: who counts wrongly counts edges twice, or gaps too
AS_WELL_SHARE: Final = 0.98  # our judgement: the rest is noise
ALIKE_SHARE: Final = 0.2  # our judgement: closer than a fifth of a patch, two grids measure the same


@dataclass(frozen=True, slots=True)
class Laid:
    """A lattice on a picture: its shape, the contrast it is to explain, and how much it does."""

    tones: Array
    contrast: Contrast
    lattice: Array
    shape: Shape
    weight: float

    @property
    def share(self) -> float:
        """How much of what differs from the ground the patches explain."""
        return self.weight / self.contrast.total

    @property
    def even(self) -> bool:
        """Whether each patch has one tone."""
        return is_even(self.tones, self.lattice, self.shape)

    def alike(self, other: "Laid") -> bool:
        """Whether both have the same patches within a fifth of one."""
        apart = np.abs(self.lattice - other.lattice)[ENDS]
        return self.shape == other.shape and bool(np.all(apart < ALIKE_SHARE * np.repeat(pitches(self.lattice, self.shape), 2)))

    def doubt(self) -> str:
        """The first reason to doubt it, as a sentence; nothing when none of the checks finds one."""
        if not self.even:
            return "Not every patch is even inside."
        if self.share < LEAST_SHARE:
            return "Much of what differs from the ground lies outside the patches."
        outer, further = self._steps()
        if min(outer) < LEAST_STEP:
            return "One side of the field hardly differs from what lies beside it."
        if any(beyond > max(LEAST_STEP, BEYOND_SHARE * end) for end, beyond in zip(outer, further, strict=True)):
            return "Something like a patch lies beside the field."
        return "Fewer patches would be as even: one may be counted twice." if self._fewer_would_do() else ""

    def _steps(self) -> tuple[list[float], list[float]]:
        """
        How each outer side of the field stands out, and the step in contrast at the line a patch further out.

        A side stands out by the step at its line, or by what its patches differ from the ground if that is less: beside a border that is taken for
        patches, the edge of the sheet makes a step, too.
        """
        outer, further = [], []
        means = self.contrast.means(self.lattice[None], self.shape)[0][0]
        sides = (means[:, 0], means[:, -1], means[0], means[-1])
        for end, move, side in zip(ENDS, patch_moves(self.lattice, self.shape), sides, strict=True):
            outer.append(min(self._step(end, self.lattice[end], move[end]), float(np.sqrt(np.mean(side**2)))))
            further.append(self._step(end, self.lattice[end] + move[end], move[end]))
        return outer, further

    def _step(self, end: int, line_px: float, outwards_px: float) -> float:
        """How much the strips on both sides of a line differ beside each patch along it (root mean square); nothing where the ground ends."""
        across = end < DOWN.start
        shape = (self.shape[0], 1) if across else (1, self.shape[1])
        sides = []
        for way in (-1, 1):
            strip = self.lattice.copy()
            near, far = line_px + way * BLUR_PX * np.sign(outwards_px), line_px + way * (BLUR_PX * np.sign(outwards_px) + STRIP_SHARE * outwards_px)
            strip[ACROSS if across else DOWN] = [min(near, far), max(near, far), 0.0]
            means, _, size = self.contrast.means(strip[None], shape)
            if size.min() == 0:
                return 0.0
            sides.append(means)
        return float(np.sqrt(np.mean((sides[0] - sides[1]) ** 2)))

    def _fewer_would_do(self) -> bool:
        """Whether half or a third as many rows or columns would be as even and explain as much."""
        rows, columns = self.shape
        fewer = [(rows, columns // part) for part in FEWER if columns % part == 0] + [(rows // part, columns) for part in FEWER if rows % part == 0]
        for shape in fewer:
            lattice = self.lattice.copy()
            lattice[(ACROSS if shape[0] == rows else DOWN).stop - 1] = 0.0
            lattice, weight = self.contrast.settle(lattice, shape)
            if weight >= AS_WELL_SHARE * self.weight and is_even(self.tones, lattice, shape):
                return True
        return False


def is_even(tones: Array, lattice: Array, shape: Shape) -> bool:
    """
    Whether nearly all patches have one tone, and none has two.

    Of each patch without its rim, the share of pixels further than 0.03 from its median: 8 % on average and 40 % in one at most

    Args:
        tones: A picture that is set straight. [log10] height x width
        lattice: One lattice. [px] 6
        shape: Its rows and columns.

    Returns:
        True or false; a patch beyond the picture is not even. Uncertainty: neighbours that differ by less than 0.03 count as one tone.

    Source:
        our judgement.
    """
    rows, columns = shape
    sides = []
    for series, count in ((lattice[DOWN], rows), (lattice[ACROSS], columns)):
        starts, ends = (one[0] for one in spans(series[None], count))
        rim = RIM_SHARE * (ends - starts)
        sides.append([slice(*pair) for pair in np.maximum(np.rint([starts + rim, ends - rim]), 0).astype(int).T])
    uneven = []
    for down in sides[0]:
        for across in sides[1]:
            inside = tones[down, across]
            uneven.append(float(np.mean(np.abs(inside - np.median(inside)) > OFF_LOG10)) if inside.size else 1.0)
    return float(np.mean(uneven)) <= UNEVEN_SHARE and max(uneven) <= UNEVEN_PATCH_SHARE
