"""How the sheet lies on the glass: never quite straight."""

from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np

from trials.grains import Floats
from trials.scans.scene import Scene

MM_PER_INCH = 25.4
MOST_SKEW_DEGREES = 1.5
USUAL_SKEW_DEGREES = 0.7

Corners = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Placing:
    """Size of the scan in pixels, its resolution, and where on it the middle of the scene lies and how far it is turned, clockwise."""

    width_px: int
    height_px: int
    dots_per_inch: float
    skew_degrees: float
    middle_px: tuple[float, float]

    @property
    def px_per_mm(self) -> float:
        """Pixels of the scan in a millimetre of paper."""
        return self.dots_per_inch / MM_PER_INCH

    def on_paper_mm(self) -> tuple[Floats, Floats]:
        """Where each pixel's middle lies on the paper, from the middle of the scene: across and down."""
        down, across = np.mgrid[0 : self.height_px, 0 : self.width_px].astype(np.float64) + 0.5
        across, down = (across - self.middle_px[0]) / self.px_per_mm, (down - self.middle_px[1]) / self.px_per_mm
        turn = radians(self.skew_degrees)
        return across * cos(turn) + down * sin(turn), down * cos(turn) - across * sin(turn)

    def on_scan(self, across_mm: float, down_mm: float) -> tuple[float, float]:
        """Where a place of the paper lies on the scan, in fractions of its width and height."""
        turn = radians(self.skew_degrees)
        x_px = self.middle_px[0] + (across_mm * cos(turn) - down_mm * sin(turn)) * self.px_per_mm
        y_px = self.middle_px[1] + (across_mm * sin(turn) + down_mm * cos(turn)) * self.px_per_mm
        return x_px / self.width_px, y_px / self.height_px

    def corners(self, size_mm: tuple[float, float]) -> Corners:
        """Top left, top right, bottom right, bottom left of a field of this size round the middle, in fractions."""
        wide, high = size_mm[0] / 2, size_mm[1] / 2
        return tuple(self.on_scan(x, y) for x, y in ((-wide, -high), (wide, -high), (wide, high), (-wide, high)))


def lay_down(dice: np.random.Generator, scene: Scene, margins_mm: tuple[float, float, float, float], longest_px: int) -> Placing:
    """Lay a sheet on the glass: the whole sheet is on the scan, some lid round it, and it is a little askew."""
    left, top, right, bottom = (margin + dice.uniform(4, 12) for margin in margins_mm)
    wide_mm, high_mm = scene.size_mm[0] + left + right, scene.size_mm[1] + top + bottom
    px_per_mm = longest_px / max(wide_mm, high_mm)
    skew = float(np.clip(dice.normal(0, USUAL_SKEW_DEGREES), -MOST_SKEW_DEGREES, MOST_SKEW_DEGREES))
    middle_px = (left + scene.size_mm[0] / 2) * px_per_mm, (top + scene.size_mm[1] / 2) * px_per_mm
    return Placing(round(wide_mm * px_per_mm), round(high_mm * px_per_mm), px_per_mm * MM_PER_INCH, skew, middle_px)
