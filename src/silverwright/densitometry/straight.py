"""A scan set straight: its tones as the eye tells them apart, and how far the sheet on it lies askew."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy.ndimage import affine_transform, gaussian_filter

Array = npt.NDArray[np.float64]

SOFT: Final = 0.008  # our judgement: light added before the logarithm, so that noise in the blacks does not look like edges
MOST_SKEW_DEGREES: Final = 3.5  # our judgement: a sheet that lies more askew is laid again
COARSE_DEGREES: Final = 0.1  # our judgement: at this turn a line strays by two pixels over a scan, and still shows
FINE_DEGREES: Final = 0.02  # our judgement: at this turn it strays by less than half a pixel
BANDS: Final = 24  # our judgement: so many bands are each too narrow for a skewed edge to blur in


@dataclass(frozen=True, slots=True)
class Straight:
    """A picture set straight, and how its places (row, column) come from those of the picture as it was: matrix, about the middle."""

    tones: Array
    matrix: Array

    def place(self, row: float, column: float) -> tuple[float, float]:
        """Where a place of the straight picture lies in the picture as it was, in fractions of width and height."""
        middle = (np.array(self.tones.shape) - 1) / 2
        was = self.matrix @ (np.array([row, column]) - middle) + middle
        return float((was[1] + 0.5) / self.tones.shape[1]), float((was[0] + 0.5) / self.tones.shape[0])


def set_straight(grey: Array) -> Straight:
    """
    How does this scan look when its sheet lies straight?

    L = -log10(s + 0.008), turned by the angle at which its edges, summed along rows and columns, stand out most

    Args:
        grey: Linear light of a reduced scan. [1] height x width, 0 to 1

    Returns:
        Tones that rise as density does, set straight. [log10] Uncertainty: of the angle about 0.03 degrees where there are straight edges.

    Source:
        our judgement.
    """
    tones = -np.log10(np.maximum(grey, 0).astype(np.float64) + SOFT)
    slope = _skew_slope(tones)
    turn = np.array([[1.0, slope], [-slope, 1.0]]) / np.hypot(1, slope)
    middle = (np.array(tones.shape) - 1) / 2
    return Straight(affine_transform(tones, turn, middle - turn @ middle, order=1, mode="nearest"), turn)


def _skew_slope(tones: Array) -> float:
    """Tangent of the angle by which the sheet is turned, clockwise."""
    soft = gaussian_filter(tones, 1.0)
    families = [(*_banded(soft), -1.0), (*_banded(soft.T), 1.0)]
    coarse = np.arange(-MOST_SKEW_DEGREES, MOST_SKEW_DEGREES + COARSE_DEGREES / 2, COARSE_DEGREES)
    best = coarse[int(np.argmax([_stands_out(families, angle) for angle in coarse]))]
    fine = best + np.arange(-COARSE_DEGREES, COARSE_DEGREES + FINE_DEGREES / 2, FINE_DEGREES)
    return float(np.tan(np.radians(fine[int(np.argmax([_stands_out(families, angle) for angle in fine]))])))


def _banded(tones: Array) -> tuple[Array, Array]:
    """Strength of upright edges in each of several bands of rows, and where the middle of each band lies."""
    change = np.diff(tones, axis=1)
    starts = np.arange(BANDS + 1) * change.shape[0] // BANDS
    sums = np.add.reduceat(change, starts[:-1], axis=0)
    return np.abs(sums / np.diff(starts)[:, None]), (starts[:-1] + starts[1:] - change.shape[0]) / 2


def _stands_out(families: list[tuple[Array, Array, float]], angle_degrees: float) -> float:
    """How much the edges of all bands fall on one another at this angle."""
    slope, energy = np.tan(np.radians(angle_degrees)), 0.0
    for bands, middles, way in families:
        along = np.arange(bands.shape[1])
        total = np.sum([np.interp(along + way * slope * middle, along, band) for band, middle in zip(bands, middles, strict=True)], axis=0)
        energy += float(np.var(total))
    return energy
