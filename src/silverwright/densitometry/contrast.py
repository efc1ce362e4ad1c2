"""How well rows and columns of patches explain what a picture shows on its ground."""

from typing import Final

import numpy as np
import numpy.typing as npt

from silverwright.densitometry.ground import Box
from silverwright.densitometry.lattice import ACROSS, DOWN, Shape, measurable, spans

Array = npt.NDArray[np.float64]

WEAK_TONE_LOG10: Final = 0.2  # our judgement: contrast counts in proportion below it and by its logarithm above, so that pale patches count too
UNEVEN_WEIGHT: Final = 3.0  # our judgement: with 0 a lattice of a wrong pitch sometimes weighed as much as the right one, with 3 none did
RIM_SHARE: Final = 1 / 8  # our judgement: the outer eighth of a patch is blurred
STEPS_PX: Final = (16.0, 8.0, 4.0, 2.0, 1.0, 0.5)  # our judgement: from further than an eighth of a patch down to half a pixel
LEAST_GAIN: Final = 1e-7  # arithmetic: less is rounding
AT_ONCE: Final = 200_000  # our judgement: so many patches at once stay within some tens of megabytes
_FIRST, _LAST, _GAP = np.eye(3)
_SERIES_MOVES = np.stack([_FIRST, _LAST, _GAP, _FIRST + _LAST, _FIRST - _LAST])  # arithmetic: an end, the other, the gap, both together, both apart
MOVES: Final = np.kron(np.eye(2), np.concatenate([_SERIES_MOVES, -_SERIES_MOVES]))  # arithmetic: of the columns, and of the rows


class Contrast:
    """A part of a picture as contrast to its ground, summed up so that the mean over any rectangle is had at once."""

    def __init__(self, tones: Array, part: Box, ground_log10: float) -> None:
        """Sum up the contrast c = sign(d) ln(1 + |d| / 0.2), d the tone less that of the ground."""
        away = tones[part.top_px : part.bottom_px, part.left_px : part.right_px] - ground_log10
        contrast = np.sign(away) * np.log1p(np.abs(away) / WEAK_TONE_LOG10)
        self._corner = part.top_px, part.left_px
        self._size = contrast.shape
        self._sums, self._squares = _summed(contrast), _summed(contrast**2)
        self.total = float(self._squares[-1, -1])

    def means(self, lattices: Array, shape: Shape, rim_share: float = 0.0) -> tuple[Array, Array, Array]:
        """
        Mean contrast, mean square and size of every patch.

        Sums over a rectangle from four corners of the running sums

        Args:
            lattices: Any number of lattices. [px] n x 6
            shape: Their rows and columns.
            rim_share: What is left out at each side of a patch, as a part of it. [1]

        Returns:
            Means, mean squares [1], numbers of pixels inside the part; each n x rows x columns. Uncertainty: none, arithmetic.

        Source:
            arithmetic of summed areas.
        """
        left, right = (at[:, None, :] for at in self._edges(lattices[:, ACROSS], shape[1], rim_share, axis=1))
        top, bottom = (at[:, :, None] for at in self._edges(lattices[:, DOWN], shape[0], rim_share, axis=0))
        size = np.maximum((bottom - top) * (right - left), 0)

        def mean(sums: Array) -> Array:
            return np.asarray((sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left]) / np.maximum(size, 1))

        return mean(self._sums), mean(self._squares), size

    def _edges(self, series: Array, count: int, rim_share: float, *, axis: int) -> tuple[npt.NDArray[np.intp], ...]:
        """First pixel of each patch and the first one behind it, counted from the part's corner."""
        starts, ends = spans(series, count)
        rim = rim_share * (ends - starts)
        return tuple(np.clip(np.rint(at - self._corner[axis]).astype(np.intp), 0, self._size[axis]) for at in (starts + rim, ends - rim))

    def weigh(self, lattices: Array, shape: Shape) -> Array:
        """
        How much of the contrast do these lattices explain?

        Sum over the patches of n mean(c)^2, less 3 n var(c) within each patch without its rim

        Args:
            lattices: Any number of lattices. [px] n x 6
            shape: Their rows and columns.

        Returns:
            Weight of each, of at most `total`. Uncertainty: a patch of the tone of its ground weighs nothing.

        Source:
            our judgement; the first sum is that between groups of an analysis of variance.
        """
        weights = np.empty(len(lattices))
        step = max(1, AT_ONCE // (shape[0] * shape[1]))
        for start in range(0, len(lattices), step):
            some = lattices[start : start + step]
            means, _, size = self.means(some, shape)
            inner, squares, inner_size = self.means(some, shape, RIM_SHARE)
            weights[start : start + step] = (size * means**2 - UNEVEN_WEIGHT * inner_size * (squares - inner**2)).sum(axis=(1, 2))
        return weights

    def settle(self, lattice: Array, shape: Shape) -> tuple[Array, float]:
        """
        The same lattice, its ends and gaps moved as long as it explains more.

        The best of twenty moves at a time, by 16 pixels down to half a one

        Args:
            lattice: One lattice. [px] 6
            shape: Its rows and columns.

        Returns:
            The lattice and its weight. Uncertainty: half a pixel where the edges are sharp.

        Source:
            our judgement.
        """
        rows, columns = shape
        gaps = [part.stop - 1 for part, count in ((ACROSS, columns), (DOWN, rows)) if count == 1]
        moves = MOVES[np.all(MOVES[:, gaps] == 0, axis=1)]
        best = float(self.weigh(lattice[None], shape)[0])
        for step in STEPS_PX:
            while True:
                moved = lattice + step * moves
                moved = moved[measurable(moved[:, ACROSS], columns) & measurable(moved[:, DOWN], rows)]
                weights = self.weigh(moved, shape)
                if not weights.size or not weights.max() > best + LEAST_GAIN * self.total:
                    break
                lattice, best = moved[int(weights.argmax())], float(weights.max())
        return lattice, best


def _summed(values: Array) -> Array:
    """Running sums down and across, with a row and a column of zeros before them."""
    sums = np.zeros((values.shape[0] + 1, values.shape[1] + 1))
    np.cumsum(np.cumsum(values, axis=0), axis=1, out=sums[1:, 1:])
    return sums
