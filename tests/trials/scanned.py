"""
Made scans through the whole way from file to density: is the grid found where it is, and do the densities lie within their limits?

The scans and their truth come from `trials`, which shares nothing with the engine. A grid is right when it has the true rows and columns and
every corner lies within a fifth of a patch of the true one.
"""

from dataclasses import dataclass
from pathlib import Path
from statistics import NormalDist

import numpy as np
from trials.scans.files import FORMS, write
from trials.scans.made import TABLET_DENSITIES, Made, picture, step_sheet, tablet
from trials.scans.scanner import draw_scanner

from silverwright.api import ask
from silverwright.densitometry.find_grid import find_grid
from silverwright.questions.patches import PatchesAnswer
from silverwright.records import Grid
from silverwright.scanning.capped import carry_out
from silverwright.scanning.orders import Measure

SEARCHED_PX = 1200
NEAR_PATCH = 0.2  # of a patch
LIMITS_SD = NormalDist().inv_cdf(0.9)  # limits of 80 %


@dataclass(frozen=True)
class Sought:
    """What came of looking for one grid."""

    sure: bool
    right: bool


def is_right(grid: Grid | None, made: Made) -> bool:
    """The true rows and columns, and each corner near the true one."""
    if grid is None or (grid.rows, grid.columns) != (made.rows, made.columns):
        return False
    true = np.array(made.corners)
    patch = np.ptp(true, axis=0) / (made.columns, made.rows)
    return bool((abs(np.array(grid.corners) - true) <= NEAR_PATCH * patch).all())


def seek(made: Made, *, told: bool) -> Sought:
    """Look for the grid, with rows and columns told or not."""
    found = find_grid(made.light.astype(np.float64), made.rows if told else None, made.columns if told else None)
    return Sought(found.sure, is_right(found.grid, made))


def seek_sheet(seed: int, *, told: bool) -> Sought:
    """The grid of a made step sheet."""
    return seek(step_sheet(seed, longest_px=SEARCHED_PX), told=told)


def seek_tablet(seed: int, *, told: bool) -> Sought:
    """The grid of a made step tablet."""
    return seek(tablet(seed, longest_px=SEARCHED_PX), told=told)


def seek_picture(seed: int) -> Sought:
    """A photograph has no grid: to be sure of one is wrong."""
    found = find_grid(picture(seed, longest_px=SEARCHED_PX).light.astype(np.float64), None, None)
    return Sought(found.sure, right=not found.sure)


@dataclass(frozen=True)
class Reading:
    """One patch: its true density, what was read, and its standard deviation."""

    true: float
    read: float
    sd: float

    @property
    def held(self) -> bool:
        """Whether limits of 80 % hold the truth."""
        return abs(self.read - self.true) <= LIMITS_SD * self.sd


def measured(made: Made, path: Path, number: int) -> list[dict[str, object]]:
    """The patches of a scan as the capped child measures them in its file, the grid where it truly is."""
    write(made, path, FORMS[number % len(FORMS)])
    first, second, third, fourth = made.corners
    grid = Grid((first, second, third, fourth), made.rows, made.columns)
    patches: list[dict[str, object]] = carry_out(Measure(str(path), "", grid), lambda _: None)["patches"]
    return [{name: one[name] for name in ("position", "grey", "red", "green", "blue", "sd", "clipped")} for one in patches]


def read_sheet(seed: int, folder: Path) -> list[Reading]:
    """A step sheet read by a tablet that the same scanner scanned: every density that is told, beside the truth."""
    scanner = draw_scanner(np.random.default_rng([seed, 0]))
    scale = measured(tablet(seed, scanner=scanner), folder / f"tablet{seed}.tif", seed)
    steps = [
        {"density": density, **{name: one[name] for name in ("grey", "red", "green", "blue", "clipped")}}
        for density, one in zip(TABLET_DENSITIES, scale, strict=True)
    ]
    sheet = step_sheet(seed, scanner=scanner)
    answer = ask("densitometry.patches", steps=steps, patches=measured(sheet, folder / f"sheet{seed}.tif", seed + 1))
    assert isinstance(answer, PatchesAnswer)
    told = zip(answer.positions, answer.densities, answer.density_sds, strict=True)
    return [Reading(sheet.densities[round(position) - 1], density, sd) for position, density, sd in told]
