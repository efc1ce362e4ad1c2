"""Large scans: how much memory and time the patches of a step sheet of 100 megapixels take, beside reading all of it with tifffile and numpy."""

import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from typing import Any, Final

import numpy as np
import tifffile
from tools.measuring import Table

from silverwright.records import Grid
from silverwright.scanning.capped import carry_out
from silverwright.scanning.orders import Look, Measure

WIDTH_PX, HEIGHT_PX, PATCHES = 11547, 8660, 21
CORNERS: Final = ((0.05, 0.15), (0.95, 0.15), (0.95, 0.85), (0.05, 0.85))
SEED: Final = 5
ROUNDS: Final = 3
MOST_BYTES: Final = 300_000_000
THREE_DIGITS: Final = 1e-3
FILES: Final[dict[str, dict[str, Any]]] = {
    "as it is": {},
    "LZW": {"compression": "lzw", "predictor": True, "rowsperstrip": 16},
    "LZW, tiles": {"compression": "lzw", "predictor": True, "tile": (256, 256)},
    "Deflate": {"compression": "deflate", "predictor": True, "rowsperstrip": 16},
}


def large_scans() -> Table:
    """Time and memory of both ways, and whether they find the same."""
    rows, targets = [], []
    with tempfile.TemporaryDirectory() as folder:
        whole = step_sheet(Path(folder) / "whole.tif")
        for name, how in FILES.items():
            path = packed(whole, Path(folder) / f"{name}.tif", how) if how else whole
            ours, theirs = zip(*[(run("ours", path), run("beside", path)) for _ in range(ROUNDS)], strict=True)
            off = largest_difference(ours[0]["figures"], theirs[0]["figures"])
            ours_s, theirs_s = median(one["time_s"] for one in ours), median(one["time_s"] for one in theirs)
            ours_bytes, theirs_bytes = max(one["peak_bytes"] for one in ours), max(one["peak_bytes"] for one in theirs)
            rows.append(
                [name, *(f"{one:.2f} s" for one in (ours_s, theirs_s)), f"{ours_s / theirs_s:.2f}", megabytes(ours_bytes), megabytes(theirs_bytes)]
            )
            rows[-1].append(f"{off:.5f}")
            targets.append(f"{name}: at most 0.3 GB {reached(ours_bytes)}; three digits {'agree' if off < THREE_DIGITS else 'differ'}")
        look = run("look", whole)
        rows.append(["as it is: pictures and tiles", f"{look['time_s']:.2f} s", "–", "–", megabytes(look["peak_bytes"]), "–", "–"])
        targets.append(f"pictures and tiles: at most 0.3 GB {reached(look['peak_bytes'])}")
    return Table(
        says=(
            f"A step sheet of {PATCHES} patches, {WIDTH_PX} × {HEIGHT_PX} pixels of three times 16 bits (600 MB), the file in the system's memory. "
            "Ours: from the order to the figures, with the start of the child. Beside it: a program that reads the file with tifffile (and "
            "imagecodecs) and works out the same means of the middle halves, without the brightest and the darkest tenth, in numpy, float32. "
            f"Seconds are the middle of {ROUNDS} runs, memory is the largest that the child or the program held, all of it counted as above idle. "
            "The last column is the largest relative difference between the two figures of any patch and channel."
        ),
        head=["file", "ours", "tifffile + numpy", "ratio", "memory, ours", "memory, beside", "largest difference"],
        rows=rows,
        seed=str(SEED),
        targets=targets,
    )


def step_sheet(path: Path) -> Path:
    """Grain of 1 % on 21 even patches, densities 0.1 to 1.9, on a light ground."""
    chance = np.random.default_rng(SEED)
    (left, top), _, (right, bottom), _ = CORNERS
    x = (np.arange(WIDTH_PX) / WIDTH_PX - left) / (right - left) * PATCHES
    patch = np.where((x >= 0) & (x < PATCHES), 10 ** -(0.1 + 0.09 * np.floor(x)), 0.9).astype(np.float32)
    out = tifffile.memmap(path, shape=(HEIGHT_PX, WIDTH_PX, 3), dtype="uint16", photometric="rgb")
    for first in range(0, HEIGHT_PX, 200):
        rows = slice(first, min(first + 200, HEIGHT_PX))
        y = (np.arange(rows.start, rows.stop) / HEIGHT_PX)[:, None]
        grain = 1 + 0.01 * chance.standard_normal((rows.stop - first, WIDTH_PX), np.float32)
        light = np.where((y >= top) & (y < bottom), patch[None, :], np.float32(0.9)) * grain
        out[rows] = np.clip(np.rint(light[..., None] * np.array([60000, 58000, 56000], np.float32)), 0, 65535)
    out.flush()
    return path


def packed(whole: Path, path: Path, how: dict[str, Any]) -> Path:
    """The same, packed."""
    tifffile.imwrite(path, tifffile.memmap(whole, mode="r"), photometric="rgb", metadata=None, **how)
    return path


def run(what: str, path: Path) -> dict[str, Any]:
    """One way in a process of its own: seconds from start to end, and the most memory that any of its processes held."""
    begun = time.perf_counter()
    told = subprocess.run([sys.executable, "-m", "tools.bench_scans", what, str(path)], capture_output=True, text=True, check=True).stdout
    found: dict[str, Any] = json.loads(told)
    return {"time_s": time.perf_counter() - begun, **found}


def ours(path: Path) -> dict[str, Any]:
    """Through the capped child."""
    begun = time.perf_counter()
    found = carry_out(Measure(str(path), "linear", Grid(CORNERS, 1, PATCHES)), lambda _: None)
    figures = [[one["red"], one["green"], one["blue"]] for one in found["patches"]]
    return {"time_s": time.perf_counter() - begun, "figures": figures, "peak_bytes": peak_bytes(resource.RUSAGE_CHILDREN)}


def look(path: Path) -> dict[str, Any]:
    """Pictures and tiles, through the capped child."""
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory(dir=path.parent) as folder:
        carry_out(Look(str(path), "linear", str(Path(folder) / "views"), find=False), lambda _: None)
    return {"time_s": time.perf_counter() - begun, "peak_bytes": peak_bytes(resource.RUSAGE_CHILDREN)}


def beside(path: Path) -> dict[str, Any]:
    """Everything at once with tifffile and numpy."""
    whole = tifffile.imread(path)
    (left, top), _, (right, bottom), _ = CORNERS
    wide_px, high_px = (right - left) * WIDTH_PX / PATCHES, (bottom - top) * HEIGHT_PX
    rows = slice(round(top * HEIGHT_PX + high_px / 4), round(top * HEIGHT_PX + high_px * 3 / 4))
    figures = []
    for place in range(PATCHES):
        start_px = left * WIDTH_PX + place * wide_px
        patch = whole[rows, round(start_px + wide_px / 4) : round(start_px + wide_px * 3 / 4)].reshape(-1, 3).astype(np.float32) / 65535
        away = len(patch) // 10
        in_order = np.partition(patch, (away, len(patch) - 1 - away), axis=0)
        figures.append(in_order[away : len(patch) - away].mean(axis=0, dtype=np.float64).tolist())
    return {"figures": figures, "peak_bytes": peak_bytes(resource.RUSAGE_SELF)}


def peak_bytes(whose: int) -> int:
    """The most memory that a process held, files that it looked at in place among it."""
    return resource.getrusage(whose).ru_maxrss * 1024


def largest_difference(ours: list[list[float]], theirs: list[list[float]]) -> float:
    """Relative, over all patches and channels."""
    return float(np.abs(np.array(ours) / np.array(theirs) - 1).max())


def reached(size_bytes: int) -> str:
    """Against the promise."""
    return "reached" if size_bytes <= MOST_BYTES else "missed"


def megabytes(size_bytes: int) -> str:
    """For people."""
    return f"{size_bytes / 1e6:.0f} MB"


PARTS: Final[dict[str, tuple[str, Callable[[], Table]]]] = {"scans": ("Large scans", large_scans)}

if __name__ == "__main__":
    print(json.dumps({"ours": ours, "beside": beside, "look": look}[sys.argv[1]](Path(sys.argv[2]))))
