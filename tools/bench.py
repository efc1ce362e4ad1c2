"""
Measure what was promised, and write it down: `python -m tools.bench [part ...]` writes docs/measured.md.

Every part measures one promise and stands under its own heading, with the commit and the day on which it ran. A part that is asked for by
its name is measured again and replaced; the others stay as they are.
"""

import os
import platform
import re
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from functools import partial
from math import sqrt
from pathlib import Path
from statistics import median
from typing import Final

from tests.sensitometry.calibration import CELLS, count, learn
from tests.sensitometry.world import step_sheet
from tools import bench_camera, bench_chemistry, bench_forecast, bench_grid, bench_labels, bench_scans, bench_shelf
from tools.measuring import Table, share_of, with_error
from tools.start import compare

ROOT: Final = Path(__file__).parents[1]
MEASURED: Final = ROOT / "docs" / "measured.md"
INTRODUCTION: Final = """# Measured

What we promise, and what was measured. `make bench` writes this page. A target that was not reached says so. Figures of time are
medians on the machine named beside them and are judged loosely; shares carry their standard error (s.e.).
"""
SHEETS: Final = 1600  # our judgement: a standard error of 0.75 % on a share of 90 %
PERCENT: Final = 90
LOWEST_SHARE, HIGHEST_SHARE = 0.88, 0.92
FIRST_SEED: Final = 10_000
CURVE_S: Final = 0.4
MINUTE_S: Final = 60


def curve_limits(patches: int) -> Table:
    """How often the limits of a curve hold, truth drawn from the stated prior."""
    rows = []
    found = count(range(FIRST_SEED, FIRST_SEED + SHEETS), patches, percent=PERCENT)
    for (method, cell), (held, there) in found.items():
        if method == "engine":
            beside = [share_of(found.get((other, cell))) for other in ("one mode", "least squares")]
            rows.append([cell.replace("_", " "), str(there), with_error(held, there), target(cell, held, there), *beside])
    return Table(
        says=(
            f"{SHEETS} simulated step sheets of {patches} patches; paper, place of the curve and noise drawn from the stated prior "
            "(`facts/curve.csv`), the simulator written apart from the engine. Target: limits of "
            f"{PERCENT} % hold {100 * LOWEST_SHARE:.0f} to {100 * HIGHEST_SHARE:.0f} % of the time wherever both ends lie within the "
            "patches; a bound (“at least”) holds at least as often. Beside it, on the same sheets: a normal round the best fit with the "
            "same prior (one mode), and a plain logistic by least squares with its covariance."
        ),
        head=["figure", "sheets", "limits hold", "target", "one mode", "least squares"],
        rows=rows,
        seed=f"{FIRST_SEED} to {FIRST_SEED + SHEETS - 1}",
    )


def other_papers() -> Table:
    """The same limits on papers that the prior does not expect."""
    worlds: dict[str, dict[str, object]] = {
        "1.35 times steeper": {"shift": 0.3},
        "another family (Richards)": {"family": "lopsided"},
        "rising (negative)": {"sign": 1.0},
    }
    rows = []
    for name, world in worlds.items():
        found = count(range(FIRST_SEED, FIRST_SEED + SHEETS // 4), 21, percent=PERCENT, baselines=True, **world)
        for cell in CELLS:
            held, there = found["engine", cell]
            beside = [share_of(found.get((other, cell))) for other in ("one mode", "least squares")]
            rows.append([name, cell.replace("_", " "), str(there), with_error(held, there), *beside])
    return Table(
        says=(
            f"Limits of {PERCENT} % at 21 patches, {SHEETS // 4} sheets for each world, the prior left as it is. No target: this shows "
            "how far the limits can be trusted on a paper that is unlike what we expect."
        ),
        head=["world", "figure", "sheets", "limits hold", "one mode", "least squares"],
        rows=rows,
        seed=f"{FIRST_SEED} to {FIRST_SEED + SHEETS // 4 - 1}",
    )


def curve_time() -> Table:
    """How long the limits of one curve take."""
    rows = []
    for patches in (21, 12, 5):
        times = []
        for seed in range(FIRST_SEED, FIRST_SEED + 40):
            begun = time.process_time()
            learn(step_sheet(seed, patches), PERCENT, seed)
            times.append(time.process_time() - begun)
        reached = "reached" if median(times) <= CURVE_S else f"missed by {median(times) - CURVE_S:.2f} s"
        rows.append([str(patches), f"{median(times):.2f} s", f"{max(times):.2f} s", f"{CURVE_S} s in the middle: {reached}"])
    return Table(
        "One curve learnt with all figures and the band: seconds of one processor core.", ["patches", "median", "longest of 40", "target"], rows
    )


def start() -> Table:
    """How long from the command to the first page."""
    ours, empty = compare()
    reached = "reached" if ours <= 2 * empty else f"missed: {ours / empty:.2f} times"
    return Table(
        "Second start of the server to its first answered page, beside an empty Django project on the same server.",
        ["ours", "empty project", "ratio", "target"],
        [[f"{ours:.2f} s", f"{empty:.2f} s", f"{ours / empty:.2f}", f"at most 2 times: {reached}"]],
    )


PARTS: Final[dict[str, tuple[str, Callable[[], Table]]]] = {
    "curve-21": ("Limits of a curve, 21 patches", partial(curve_limits, 21)),
    "curve-12": ("Limits of a curve, 12 patches", partial(curve_limits, 12)),
    "curve-7": ("Limits of a curve, 7 patches", partial(curve_limits, 7)),
    "other-papers": ("Limits of a curve on papers unlike the prior", other_papers),
    "curve-time": ("Time to learn a curve", curve_time),
    "start": ("Start", start),
    **bench_camera.PARTS,
    **bench_chemistry.PARTS,
    **bench_forecast.PARTS,
    **bench_grid.PARTS,
    **bench_scans.PARTS,
    "labels": ("A page of labels", bench_labels.labels),
    **bench_shelf.PARTS,
}


def target(cell: str, held: int, there: int) -> str:
    """Whether a cell lies where it was promised."""
    share = held / there
    if "open" in cell:
        error = sqrt(PERCENT / 100 * (1 - PERCENT / 100) / there)
        return "reached" if share >= PERCENT / 100 - 2 * error else f"missed: {100 * share:.1f} %"
    if LOWEST_SHARE <= share <= HIGHEST_SHARE:
        return "reached"
    return f"missed by {100 * max(LOWEST_SHARE - share, share - HIGHEST_SHARE):.1f} points"


def section(key: str) -> str:
    """One part, measured now."""
    title, part = PARTS[key]
    begun = time.perf_counter()
    table = part()
    took = time.perf_counter() - begun
    said = [
        f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}",
        f"commit {commit()}",
        f"{datetime.now(UTC):%Y-%m-%d}",
    ]
    said += [f"seeds {table.seed}"] * bool(table.seed) + [f"took {took / MINUTE_S:.0f} min" if took > MINUTE_S else f"took {took:.0f} s"]
    lines = [f"## {title}", "", f"{table.says}", "", f"*{'; '.join(said)}*", ""]
    lines += ["| " + " | ".join(table.head) + " |", "|" + "---|" * len(table.head)]
    lines += ["| " + " | ".join(row) + " |" for row in table.rows]
    lines += [""] * bool(table.targets) + [f"- {one}" for one in table.targets]
    return "\n".join(lines) + "\n"


def commit() -> str:
    """Short name of the commit, with a plus when the tree holds more."""
    short = subprocess.run(["git", "rev-parse", "--short", "HEAD"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.strip()
    changed = subprocess.run(["git", "status", "--porcelain", "src"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.strip()
    return short + "+" * bool(changed)


def kept() -> dict[str, str]:
    """The sections that stand in docs/measured.md by now."""
    text = MEASURED.read_text(encoding="utf-8") if MEASURED.exists() else ""
    found = re.split(r"^(?=## )", text, flags=re.MULTILINE)[1:]
    by_title = {one.splitlines()[0].removeprefix("## "): one.rstrip() + "\n" for one in found}
    return {key: by_title[title] for key, (title, _) in PARTS.items() if title in by_title}


def main(wanted: Sequence[str]) -> None:
    """Measure the parts that were asked for, or all."""
    unknown = [name for name in wanted if name not in PARTS]
    if unknown:
        raise SystemExit(f"No part is called {', '.join(unknown)}; there are {', '.join(PARTS)}.")
    for key in wanted or PARTS:
        print(f"measuring {key} ...", flush=True)
        fresh = section(key)
        sections = kept() | {key: fresh}
        MEASURED.write_text("\n".join([INTRODUCTION, *(sections[name] for name in PARTS if name in sections)]), encoding="utf-8")
        print(fresh, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
