"""
Whole scans from a seed, with their truth: step sheets, step tablets and real photographs "printed" on made paper.

Every spread is our assumption. The same scanner can scan a tablet and any number of sheets: `draw_scanner` once, then hand it on.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import numpy.typing as npt
from skimage import data

from trials.grains import Floats, Grains, draw_grains
from trials.scans import flaws
from trials.scans.placing import Corners, Placing, lay_down
from trials.scans.scanner import Scanner, draw_scanner, encoded
from trials.scans.scene import PatchField, Picture, Scene, Sheet

PHOTOGRAPHS: dict[str, Callable[[], npt.NDArray[np.uint8]]] = {
    "camera": data.camera,
    "astronaut": data.astronaut,
    "coffee": data.coffee,
    "chelsea": data.chelsea,
    "coins": data.coins,
    "rocket": data.rocket,
}
TABLET_DENSITIES = tuple(round(0.05 + 0.10 * step, 2) for step in range(20))
LONGEST_PX = 1500
LUMINANCE = (0.2126, 0.7152, 0.0722)


@dataclass(frozen=True)
class Made:
    """A scan and what only its maker knows: corners in fractions of width and height, and the density of every patch and pixel."""

    pixels: npt.NDArray[np.uint16]  # (height, width, 3), in numbers of the file
    light: npt.NDArray[np.float32]  # (height, width), linear, 0 to 1: what is left when the tone curve has been taken off
    placing: Placing
    tone_curve: str
    corners: Corners
    rows: int
    columns: int
    densities: tuple[float, ...]  # row by row from the top left; of a picture none
    exposures_log10: tuple[float, ...]  # of the patches; of a tablet and a picture none
    density: npt.NDArray[np.float32]  # (height, width), before dust and scratches


def step_sheet(seed: int, *, scanner: Scanner | None = None, longest_px: int = LONGEST_PX) -> Made:
    """A sheet of patches or of touching strips, exposed step by step on a made paper."""
    dice = np.random.default_rng([seed, 1])
    grains = draw_grains(dice)
    rows, columns, patch_mm, gap_mm = _layout(dice)
    exposures = _exposures(dice, grains, rows * columns)
    densities = grains.density(exposures)
    black = float(grains.density(-9.0))
    paper = grains.veil_density if dice.random() < 0.5 else black
    sheet = Sheet(_margins(dice, 5, 15), paper, _lid(dice))
    field = PatchField(rows, columns, patch_mm, gap_mm, tuple(densities.tolist()), sheet)
    made = scan(field, scanner or draw_scanner(dice), dice, longest_px=longest_px)
    return replace(made, exposures_log10=tuple(exposures.tolist()))


def tablet(seed: int, *, scanner: Scanner | None = None, longest_px: int = LONGEST_PX) -> Made:
    """A reflection step tablet, 20 even grey steps in one or two rows, on black or white card."""
    dice = np.random.default_rng([seed, 2])
    rows = int(dice.integers(1, 3))
    gap_mm = 0.0 if rows == 1 and dice.random() < 0.5 else dice.uniform(0.5, 1.5)
    card = 0.03 if dice.random() < 0.5 else 2.15
    sheet = Sheet(_margins(dice, 5, 12), card, _lid(dice))
    true = dice.normal(TABLET_DENSITIES, 0.003)  # the leaflet rounds, and no print of it is quite alike
    field = PatchField(rows, 20 // rows, (dice.uniform(8, 12), dice.uniform(10, 25)), gap_mm, tuple(true.tolist()), sheet)
    return scan(field, scanner or draw_scanner(dice), dice, toned=False, longest_px=longest_px)


def picture(seed: int, *, name: str = "", scanner: Scanner | None = None, longest_px: int = LONGEST_PX) -> Made:
    """A real photograph, printed through a made paper, on its sheet."""
    dice = np.random.default_rng([seed, 3])
    grains = draw_grains(dice)
    light = _photograph(name or sorted(PHOTOGRAPHS)[dice.integers(len(PHOTOGRAPHS))])
    exposure_log10 = np.log10(light + 0.01 * light.mean()) + grains.exposure_log10(grains.veil_density + 0.15) + dice.normal(0, 0.1)
    sheet = Sheet(_margins(dice, 3, 10), float(grains.density(-9.0 if dice.random() < 0.5 else 9.0)), _lid(dice))
    wide_mm = dice.uniform(80, 200)
    scene = Picture(grains.density(exposure_log10), (wide_mm, wide_mm * light.shape[0] / light.shape[1]), sheet)
    return scan(scene, scanner or draw_scanner(dice), dice, longest_px=longest_px)


def scan(scene: Scene, scanner: Scanner, dice: np.random.Generator, *, toned: bool = True, longest_px: int = LONGEST_PX) -> Made:
    """Lay a scene on the glass and scan it."""
    sheet: Sheet = scene.sheet  # type: ignore[attr-defined]
    placing = lay_down(dice, scene, sheet.margins_mm, longest_px)
    across_mm, down_mm = placing.on_paper_mm()
    density = scene.density_at(across_mm, down_mm) + flaws.mottle(dice, placing, dice.uniform(0.003, 0.01))
    tint = dice.normal(0, 0.004, 3) * toned
    channels = density[..., None] * (1 + tint - tint.mean())
    reflectance = 10.0 ** -(channels * flaws.scratches(dice, placing)[..., None]) * flaws.dust(dice, placing)[..., None]
    signal = scanner.signal(reflectance, placing.px_per_mm, dice)
    rows, columns, densities = _true_patches(scene, across_mm, down_mm, density)
    return Made(
        pixels=np.round(encoded(signal, scanner.tone_curve) * 65535).astype(np.uint16),
        light=(signal @ np.array(LUMINANCE)).astype(np.float32),
        placing=placing,
        tone_curve=scanner.tone_curve,
        corners=placing.corners(scene.size_mm),
        rows=rows,
        columns=columns,
        densities=densities,
        exposures_log10=(),
        density=density.astype(np.float32),
    )


def _true_patches(scene: Scene, across_mm: Floats, down_mm: Floats, density: Floats) -> tuple[int, int, tuple[float, ...]]:
    """Mean density over the middle half of each patch, mottle included, dust not."""
    if not isinstance(scene, PatchField):
        return 0, 0, ()
    number = scene.patch_at(across_mm, down_mm, middle=True).astype(int).ravel() + 1
    sums, counts = np.bincount(number, density.ravel()), np.bincount(number)
    return scene.rows, scene.columns, tuple((sums[1:] / counts[1:]).tolist())


def _layout(dice: np.random.Generator) -> tuple[int, int, tuple[float, float], float]:
    """Rows, columns, size of a patch and gap: two in three are patches apart, the others touching strips across or along the sheet."""
    if dice.random() < 2 / 3:
        return int(dice.integers(2, 6)), int(dice.integers(3, 8)), (dice.uniform(8, 16), dice.uniform(8, 16)), dice.uniform(0.7, 2.5)
    strips, strip_mm = int(dice.integers(5, 13)), (dice.uniform(8, 15), dice.uniform(40, 90))
    return (1, strips, strip_mm, 0.0) if dice.random() < 0.5 else (strips, 1, (strip_mm[1], strip_mm[0]), 0.0)


def _exposures(dice: np.random.Generator, grains: Grains, count: int) -> Floats:
    """Even steps in log exposure, nearly from black to nearly white; the ends still differ a little from the paper."""
    black, white = float(grains.density(-9.0)), float(grains.density(9.0))
    first = grains.exposure_log10(black - dice.uniform(0.04, 0.30))
    last = grains.exposure_log10(white + dice.uniform(0.02, 0.15))
    steps = np.linspace(first, last, count)
    return steps if dice.random() < 0.5 else steps[::-1]


def _margins(dice: np.random.Generator, least_mm: float, most_mm: float) -> tuple[float, float, float, float]:
    left, top, right, bottom = dice.uniform(least_mm, most_mm, 4).tolist()
    return left, top, right, bottom


def _lid(dice: np.random.Generator) -> float:
    """Density of the lid: white or black."""
    return float(dice.uniform(0.02, 0.12) if dice.random() < 0.6 else dice.uniform(1.3, 1.7))


@cache
def _photograph(name: str) -> Floats:
    """A photograph as linear luminance, 1 at its whitest; files hold it by the tone curve of IEC 61966-2-1."""
    value = PHOTOGRAPHS[name]().astype(np.float64) / 255
    light = np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)
    return np.asarray(light @ np.array(LUMINANCE) if light.ndim == 3 else light)
