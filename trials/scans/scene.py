"""What lies on the glass: a field of patches or a picture on its sheet, and the lid behind it."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from scipy.ndimage import map_coordinates

from trials.grains import Floats

MIDDLE_HALF = 0.25  # of a patch's width and height lies outside the middle half, at each side


class Scene(Protocol):
    """Anything that has a density at every place of the glass, in millimetres from its own middle."""

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of what is to be measured."""

    def density_at(self, across_mm: Floats, down_mm: Floats) -> Floats:
        """Density at these places."""


@dataclass(frozen=True)
class Sheet:
    """The paper round the field, as wide as its margins, and the lid beyond it."""

    margins_mm: tuple[float, float, float, float]  # left, top, right, bottom
    border_density: float
    lid_density: float

    def behind(self, across_mm: Floats, down_mm: Floats, size_mm: tuple[float, float]) -> Floats:
        """Density of border and lid, as if no field lay on them."""
        left, top, right, bottom = self.margins_mm
        wide, high = size_mm[0] / 2, size_mm[1] / 2
        on_sheet = (across_mm > -wide - left) & (across_mm < wide + right) & (down_mm > -high - top) & (down_mm < high + bottom)
        return np.where(on_sheet, self.border_density, self.lid_density)


@dataclass(frozen=True)
class PatchField:
    """Rows and columns of even patches, touching or apart; densities row by row from the top left."""

    rows: int
    columns: int
    patch_mm: tuple[float, float]
    gap_mm: float
    densities: tuple[float, ...]
    sheet: Sheet

    @property
    def size_mm(self) -> tuple[float, float]:
        """From the outer edge of the first patch to that of the last."""
        wide, high = self.patch_mm
        return self.columns * wide + (self.columns - 1) * self.gap_mm, self.rows * high + (self.rows - 1) * self.gap_mm

    def _cell(self, at_mm: Floats, patch_mm: float, count: int, length_mm: float) -> tuple[Floats, Floats]:
        """Number of the patch along one side, -1 beside any; and the place inside it, 0 to 1."""
        pitch_mm = patch_mm + self.gap_mm
        from_edge_mm = at_mm + length_mm / 2
        number = np.floor(from_edge_mm / pitch_mm)
        inside = (from_edge_mm - number * pitch_mm) / patch_mm
        there = (number >= 0) & (number < count) & (inside < 1)
        return np.where(there, number, -1), inside

    def patch_at(self, across_mm: Floats, down_mm: Floats, *, middle: bool = False) -> Floats:
        """Number of the patch at each place, -1 where there is none (or, with `middle`, where it is not a patch's middle half)."""
        column, right = self._cell(across_mm, self.patch_mm[0], self.columns, self.size_mm[0])
        row, down = self._cell(down_mm, self.patch_mm[1], self.rows, self.size_mm[1])
        there = (row >= 0) & (column >= 0)
        if middle:
            there &= (abs(right - 0.5) < MIDDLE_HALF) & (abs(down - 0.5) < MIDDLE_HALF)
        return np.where(there, row * self.columns + column, -1)

    def density_at(self, across_mm: Floats, down_mm: Floats) -> Floats:
        """Density of the patch, the border or the lid."""
        number = self.patch_at(across_mm, down_mm).astype(int)
        patches = np.array(self.densities)[np.maximum(number, 0)]
        return np.where(number >= 0, patches, self.sheet.behind(across_mm, down_mm, self.size_mm))


@dataclass(frozen=True)
class Picture:
    """A picture of many tones, given as densities on a fine grid."""

    tones: Floats
    size_mm: tuple[float, float]
    sheet: Sheet

    def density_at(self, across_mm: Floats, down_mm: Floats) -> Floats:
        """Density of the picture, the border or the lid."""
        wide, high = self.size_mm
        row = (down_mm / high + 0.5) * self.tones.shape[0] - 0.5
        column = (across_mm / wide + 0.5) * self.tones.shape[1] - 0.5
        inside = (abs(across_mm) < wide / 2) & (abs(down_mm) < high / 2)
        tones = map_coordinates(self.tones, [row, column], order=1, mode="nearest")
        return np.where(inside, tones, self.sheet.behind(across_mm, down_mm, self.size_mm))
