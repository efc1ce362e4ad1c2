"""The grid of patches found by itself, and densities read from made scans: a part of `tools.bench`."""

import os
import tempfile
from collections.abc import Callable, Sequence
from functools import partial
from itertools import pairwise
from math import sqrt
from multiprocessing import get_context
from pathlib import Path
from typing import Final, TypeVar

import numpy as np
from tests.trials.scanned import Reading, Sought, read_sheet, seek_picture, seek_sheet, seek_tablet
from tools.measuring import Table

SCANS: Final = 100
FIRST_SEED: Final = 30_000
ENOUGH: Final = 95
LOWEST, HIGHEST = 75.0, 85.0
Found = TypeVar("Found")
TONES: Final = (0.0, 0.2, 0.5, 1.0, 1.4, 1.8, 3.0)


def grids() -> Table:
    """How often the grid is found where it is."""
    seeds = range(FIRST_SEED, FIRST_SEED + SCANS)
    ways: dict[str, Callable[[int], Sought]] = {
        "step sheets, rows and columns told": partial(seek_sheet, told=True),
        "step sheets, nothing told": partial(seek_sheet, told=False),
        "step tablets, rows and columns told": partial(seek_tablet, told=True),
        "step tablets, nothing told": partial(seek_tablet, told=False),
        "photographs, which have none": seek_picture,
    }
    rows, wrong, right = [], 0, {}
    for name, way in ways.items():
        found = _all(way, seeds)
        right[name] = sum(one.sure and one.right for one in found) if way is not seek_picture else 0
        silently = sum(one.sure and not one.right for one in found)
        wrong += silently
        asked = [one for one in found if not one.sure]
        guessed = "–" if way is seek_picture else str(sum(one.right for one in asked))
        rows.append([name, "–" if way is seek_picture else str(right[name]), str(len(asked)), guessed, str(silently)])
    first = right["step sheets, rows and columns told"]
    return Table(
        says=(
            f"{SCANS} made scans of each kind (`trials/scans`): skew 0.7 degrees (s.d.), dust, scratches, glare, noise, touching "
            "strips or patches apart, black or white paper round them, a white or black lid. "
            "Right means the true rows and columns and every corner within a fifth of a patch."
        ),
        head=["scans", "sure and right", "asks", "of these guessed right", "sure and wrong"],
        rows=rows,
        seed=f"{FIRST_SEED} to {FIRST_SEED + SCANS - 1}",
        targets=[
            f"Step sheets, rows and columns told: {first} of {SCANS}, target at least {ENOUGH}: {'reached' if first >= ENOUGH else 'missed'}.",
            f"Sure and wrong: {wrong}, target none: {'reached' if not wrong else 'missed'}.",
        ],
    )


def densities() -> Table:
    """How often the limits of a patch's density hold its true one."""
    seeds = range(FIRST_SEED, FIRST_SEED + SCANS)
    with tempfile.TemporaryDirectory() as folder:
        sheets = _all(partial(read_sheet, folder=Path(folder)), seeds)
    patches = [one for sheet in sheets for one in sheet]
    by_sheet = np.array([np.mean([one.held for one in sheet]) for sheet in sheets])
    share, error = 100 * np.mean([one.held for one in patches]), 100 * by_sheet.std() / sqrt(len(by_sheet))
    off = max(LOWEST - share, share - HIGHEST)
    rows = [_tone([one for one in patches if low < one.true <= high], low, high) for low, high in pairwise(TONES)]
    reached = "reached" if off <= 0 else f"missed by {off:.1f} points"
    said = f"80 % limits hold the true density of {share:.1f} % of all patches (s.e. {error:.1f}, counted by sheets)"
    return Table(
        says=(
            f"{SCANS} made scanners, each with a scanned step tablet and a scanned step sheet, written as TIFF in six ways, measured in the "
            f"capped child and read through `densitometry.patches`; {len(patches)} patches. "
            "One in three scanners has the published response (ITG report 98-006)."
        ),
        head=["true density", "patches", "80 % limits hold", "error, r.m.s.", "mean error", "stated s.d., r.m.s."],
        rows=rows,
        seed=f"{FIRST_SEED} to {FIRST_SEED + SCANS - 1}",
        targets=[f"{said}, target {LOWEST:g} to {HIGHEST:g} %: {reached}."],
    )


def _tone(patches: Sequence[Reading], low: float, high: float) -> list[str]:
    """Patches of like density as a row."""
    misses = np.array([one.read - one.true for one in patches])
    sds = np.array([one.sd for one in patches])
    held = 100 * np.mean([one.held for one in patches])
    spread = f"{np.sqrt(np.mean(misses**2)):.4f}"
    return [f"{low:g} to {high:g}", str(len(patches)), f"{held:.0f} %", spread, f"{misses.mean():+.4f}", f"{np.sqrt(np.mean(sds**2)):.4f}"]


def _all(way: Callable[[int], Found], seeds: Sequence[int]) -> list[Found]:
    """One way for all seeds. A process for each core."""
    os.environ.update(OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")  # one thread in each process
    with get_context("spawn").Pool(len(os.sched_getaffinity(0))) as pool:
        return pool.map(way, seeds, chunksize=2)


PARTS: Final[dict[str, tuple[str, Callable[[], Table]]]] = {
    "grid": ("The grid of patches", grids),
    "densities": ("Densities from a scan", densities),
}
