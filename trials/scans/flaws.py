"""What no paper is without: uneven coating, dust, hairs and scratches."""

import numpy as np
from scipy.ndimage import gaussian_filter

from trials.grains import Floats
from trials.scans.placing import Placing

SPECKS_PER_DM2 = 25


def mottle(dice: np.random.Generator, placing: Placing, sd_density: float) -> Floats:
    """Uneven density: fine grain of a few pixels, and clouds of about a millimetre, alike in strength."""
    shape = placing.height_px, placing.width_px
    found = np.zeros(shape)
    for width_px in (1.2, max(2.0, placing.px_per_mm)):
        field = gaussian_filter(dice.standard_normal(shape), width_px, mode="wrap")
        found += field / field.std() * sd_density / np.sqrt(2)
    return found


def dust(dice: np.random.Generator, placing: Placing) -> Floats:
    """How much of the light specks and hairs let back: 1 where the glass is clean. Most are darker than white paper, some shine."""
    light = np.ones((placing.height_px, placing.width_px))
    area_dm2 = placing.width_px * placing.height_px / (placing.px_per_mm * 100) ** 2
    for _ in range(dice.poisson(SPECKS_PER_DM2 * area_dm2)):
        radius_px = dice.uniform(0.05, 0.3) * placing.px_per_mm
        _dab(light, dice.uniform(0, placing.width_px), dice.uniform(0, placing.height_px), radius_px, dice.uniform(0.3, 0.8))
    for _ in range(dice.poisson(1.5)):
        _line(dice, light, placing, 0.05, 0.5)
    return light


def scratches(dice: np.random.Generator, placing: Placing) -> Floats:
    """Share of emulsion that is left: 1 where nothing scratched it. A scratch is nearly straight and shows the white base."""
    left = np.ones((placing.height_px, placing.width_px))
    for _ in range(dice.poisson(2.0)):
        _line(dice, left, placing, dice.uniform(0.03, 0.1), 0.2)
    return left


def _line(dice: np.random.Generator, light: Floats, placing: Placing, width_mm: float, share: float) -> None:
    """A bent line somewhere, drawn dab by dab."""
    x, y = dice.uniform(0, placing.width_px), dice.uniform(0, placing.height_px)
    way, bend = dice.uniform(0, 2 * np.pi), dice.normal(0, 0.01)
    for _ in range(int(dice.uniform(5, 40) * placing.px_per_mm)):
        _dab(light, x, y, max(0.5, width_mm * placing.px_per_mm / 2), share)
        x, y, way = x + np.cos(way), y + np.sin(way), way + bend


def _dab(light: Floats, x: float, y: float, radius_px: float, share: float) -> None:
    reach = int(radius_px) + 1
    rows = slice(max(0, int(y) - reach), max(0, int(y) + reach + 1))
    columns = slice(max(0, int(x) - reach), max(0, int(x) + reach + 1))
    spot = light[rows, columns]
    if spot.size:
        down, across = np.mgrid[rows.start : rows.start + spot.shape[0], columns.start : columns.start + spot.shape[1]]
        near = np.hypot(across + 0.5 - x, down + 0.5 - y) <= radius_px
        spot[near] = np.minimum(spot[near], share)
