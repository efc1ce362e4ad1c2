"""Small made scans for the tests of acts: a row of patches on paper, linear, 16 bits, without a profile."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
import tifffile

PATCH_PX, HEIGHT_PX, BORDER_PX, GAP_PX = 40, 120, 30, 6
TABLET = tuple(round(0.05 + 0.15 * step, 2) for step in range(13))


def strip(path: Path, densities: Sequence[float], *, offset: float = 0.0, seed: int = 1) -> Path:
    """A scan of patches side by side, from the left, with noise; the paper round them is white."""
    wide = len(densities) * (PATCH_PX + GAP_PX) + GAP_PX + 2 * BORDER_PX
    light = np.full((HEIGHT_PX + 2 * BORDER_PX, wide), 0.9)
    for place, density in enumerate(densities):
        left = BORDER_PX + GAP_PX + place * (PATCH_PX + GAP_PX)
        light[BORDER_PX:-BORDER_PX, left : left + PATCH_PX] = 10.0**-density
    seen = 0.95 * light + offset + np.random.default_rng(seed).normal(0, 0.0004, light.shape)
    tifffile.imwrite(path, np.clip(seen * 65535, 0, 65535).astype(np.uint16))
    return path


def corners_percent(densities: Sequence[float]) -> str:
    """The outer edge of the field of patches."""
    wide = len(densities) * (PATCH_PX + GAP_PX) + GAP_PX + 2 * BORDER_PX
    high = HEIGHT_PX + 2 * BORDER_PX
    left, right = 100 * (BORDER_PX + GAP_PX) / wide, 100 * (wide - BORDER_PX - GAP_PX) / wide
    top, bottom = 100 * BORDER_PX / high, 100 * (high - BORDER_PX) / high
    return f"{left} {top} {right} {top} {right} {bottom} {left} {bottom}"
