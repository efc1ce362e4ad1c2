"""
The boatyard's step sheet as a made scan, and its scanner's step tablet: `python -m tools.boatyard` makes both anew.

The sheet gets the densities that the boatyard's book has of it, the tablet goes through the same scanner; what the scanner shows of the tablet is
printed, for the act that calibrates it. The pictures beside them are drawings of an invented scene.
"""

import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Final

import numpy as np
import numpy.typing as npt
import tifffile
from trials.scans.made import Made, scan
from trials.scans.scanner import Scanner
from trials.scans.scene import PatchField, Sheet

HERE: Final = Path(__file__).parents[1] / "src" / "silverwright" / "workshop"
GAMMA: Final = 2.2
LONGEST_PX: Final = 460
STEP_MM: Final = (6.0, 20.0)  # a step of the tablet
FLATBED: Final = Scanner("linear", 0.0012, 0.002, (0.96, 0.97, 0.95), 0.0008, 0.004, 0.004, 0.6, "gamma 2.2")
PAPER: Final = Sheet((9.0, 14.0, 9.0, 14.0), 0.06, 0.02)
TABLET: Final = tuple(round(0.05 + 0.12 * step, 2) for step in range(17))


def made(densities: tuple[float, ...], patch_mm: tuple[float, float], seed: int) -> Made:
    """A row of patches on the boatyard's scanner."""
    field = PatchField(1, len(densities), patch_mm, 0.0, densities, PAPER)
    return scan(field, FLATBED, np.random.default_rng(seed), toned=False, longest_px=LONGEST_PX)


def encoded(light: npt.NDArray[np.float32]) -> npt.NDArray[np.uint16]:
    """As the scanner writes it: 16 bits, gamma 2.2."""
    return np.round(65535 * np.clip(light, 0, 1) ** (1 / GAMMA)).astype(np.uint16)


def main() -> None:
    """Write the step sheet's scan, and print the rows of the calibration."""
    acts = tomllib.loads((HERE / "example.toml").read_text(encoding="utf-8"))
    densities = tuple(float(one) for one in acts["26-004 read"]["densities"].split())
    sheet = made(densities, (7.0, 30.0), 26004)
    tifffile.imwrite(HERE / "boatyard" / "26-004.tif", encoded(sheet.light), compression="deflate", predictor=True, software="")
    tablet = made(TABLET, STEP_MM, 26000)
    across = tablet.placing.on_paper_mm()[0]
    edges = np.linspace(-STEP_MM[0] / 2 * len(TABLET), STEP_MM[0] / 2 * len(TABLET), len(TABLET) + 1)
    down = abs(tablet.placing.on_paper_mm()[1]) < STEP_MM[1] / 4
    for density, (left, right) in zip(TABLET, pairwise(edges), strict=True):
        middle = down & (across > left + STEP_MM[0] / 4) & (across < right - STEP_MM[0] / 4)
        print(f"{density:.2f}; {np.median(tablet.light[middle]):.5f}")


if __name__ == "__main__":
    main()
