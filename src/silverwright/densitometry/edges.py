"""Edges of a picture that is set straight: how surely a line of them is there between two places."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy.ndimage import correlate1d

Array = npt.NDArray[np.float64]

NORMAL_SPREAD: Final = 1.4826  # arithmetic: standard deviation of a normal over its median size
KERNEL: Final = np.array([-1.0, -1.0, 0.0, 1.0, 1.0]) / 2  # arithmetic: two pixels to one side less two to the other
BLOCK_PX: Final = 24  # our judgement: edges are judged over runs of so many pixels, longer than dust and shorter than a patch
SURE_SD: Final = 6.0  # our judgement: an edge six standard deviations strong is there; more makes it no surer
LEAST_NOISE: Final = 0.0015  # our judgement: tones are never known better, however smooth a picture is
LEAST_NOISE_SHARE: Final = 0.3  # our judgement: noise and mottle go together over long runs, so a long run is not much surer than a middling one
TOLERANCE_PX: Final = 1  # our judgement: lines of a real sheet are straight to a pixel of the reduced picture


@dataclass(frozen=True, slots=True)
class Edges:
    """Upright edges: sums of the change across, down each column; the noise of a block; and how sure each block is, summed down the blocks."""

    sums: Array
    noise: float
    block_sums: Array

    def within(self, first_px: float, last_px: float) -> Array:
        """For each column, how surely an edge runs down it between two rows, on average over the blocks: 0 to 1."""
        most = len(self.block_sums) - 1
        start = int(np.clip(np.ceil(first_px / BLOCK_PX), 0, most - 1))
        end = int(np.clip(np.floor(last_px / BLOCK_PX), start + 1, most))
        return np.asarray((self.block_sums[end] - self.block_sums[start]) / (end - start))

    def certainty(self, columns: Array, first: Array, last: Array, tolerance_px: int = TOLERANCE_PX) -> Array:
        """How strong the edge at each column is between two rows, in standard deviations of the noise; arrays go together as numpy lets them."""
        height, width = self.sums.shape[0] - 1, self.sums.shape[1]
        start = np.clip(np.rint(first).astype(int), 0, height - 1)
        end = np.maximum(np.clip(np.rint(last).astype(int), 1, height), start + 1)
        strongest: Array = np.zeros(np.broadcast_shapes(columns.shape, start.shape))
        for aside in range(-tolerance_px, tolerance_px + 1):
            at = np.clip(np.rint(columns).astype(int) + aside, 0, width - 1)
            strongest = np.maximum(strongest, np.abs(self.sums[end, at] - self.sums[start, at]) / (end - start))
        return np.asarray(strongest / (self.noise * np.maximum(np.sqrt(BLOCK_PX / (end - start)), LEAST_NOISE_SHARE)))


def upright_edges(tones: Array) -> Edges:
    """
    Where upright edges are in a picture, and how surely.

    The change across, averaged down a run, over its noise: the median size over all runs times 1.48

    Args:
        tones: A picture that is set straight. [log10] height x width, 24 rows at least

    Returns:
        Its edges. Uncertainty: where more than half of a picture is edges, as in foliage, noise is taken too high, and edges too low.

    Source:
        our judgement.
    """
    change = correlate1d(tones, KERNEL, axis=1, mode="nearest")
    sums = np.concatenate([np.zeros((1, tones.shape[1])), np.cumsum(change, axis=0)])
    blocks = np.abs(np.diff(sums[: len(sums) // BLOCK_PX * BLOCK_PX + 1 : BLOCK_PX], axis=0)) / BLOCK_PX
    noise = max(NORMAL_SPREAD * float(np.median(blocks)), LEAST_NOISE)
    sure = np.minimum(blocks / noise / SURE_SD, 1)
    return Edges(sums, noise, np.concatenate([np.zeros((1, tones.shape[1])), np.cumsum(sure, axis=0)]))
