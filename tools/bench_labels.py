"""How long a page of labels takes: 24 labels with codes, hazards and shapes, typeset as PDF."""

import time
from statistics import median
from typing import Final

from tools.measuring import Table

from silverwright.questions.hazard import hazards_of
from silverwright.records_chemistry import Contents
from silverwright.report.labels import VENTED, WORKROOM, Danger, Label, LabelSize, labels_pdf
from silverwright.report.pictograms import shape_svg, shape_words

LABELS: Final = 24
PAGE_S: Final = 0.5  # the promise
TIMES: Final = 11
SIZES: Final[tuple[LabelSize, ...]] = ("62x29", "a4")


def labels_of(first: int) -> list[Label]:
    """24 baths, each with another name and strength, so that nothing is typeset twice."""
    found = []
    for number in range(first, first + LABELS):
        hazards = hazards_of(Contents(1000.0, {"hydrogen_peroxide": 60.0 + number, "citric_acid": 50.0}))
        danger = Danger(
            signal=hazards.signal,
            shapes=tuple((shape_words(name), shape_svg(name)) for name in hazards.pictograms),
            says=" ".join(f"{row.brief} ({row.code})." for row in hazards.rows),
        )
        lines = (f"citric acid 5 % w/w, pH about 1.9, bath {number}", "Made 28 November 2026, 1 L")
        code = f"http://darkroom.example:8000/go/bath/B-{number}"
        found.append(
            Label(
                kind="Bath, bleach",
                name=f"B-{number}",
                code=code,
                strong=f"hydrogen peroxide {6 + number / 100:.2f} % w/w, 5.5 to 8",
                lines=lines,
                danger=danger,
                cap=VENTED,
                foot=WORKROOM,
            )
        )
    return found


def labels() -> Table:
    """A page of 24, and the same one by one."""
    rows = []
    labels_pdf(labels_of(0), "a4")  # the fonts are read once
    for size in SIZES:
        times = []
        for run in range(TIMES):
            found = labels_of(LABELS * (run + 1))
            begun = time.perf_counter()
            labels_pdf(found, size)
            times.append(time.perf_counter() - begun)
        reached = "reached" if median(times) <= PAGE_S else f"missed by {median(times) - PAGE_S:.2f} s"
        what = "24 on a page of A4" if size == "a4" else "24 pages of 62 x 29 mm"
        rows.append([what, f"{median(times):.2f} s", f"{max(times):.2f} s", f"{PAGE_S} s in the middle: {reached}"])
    return Table(
        f"Seconds from the words to the PDF, codes and shapes drawn anew; each of {TIMES} runs with other names, strengths and codes.",
        ["labels", "median", f"longest of {TIMES}", "target"],
        rows,
    )
