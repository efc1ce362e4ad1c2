"""A ruler target to stand in the scene: its image on the ground glass tells how near it is."""

import json
from importlib.resources import as_file, files
from typing import Any, Final, Literal

from silverwright.units import MILLIMETRE

Paper = Literal["a4", "us-letter"]
TARGET_MM: Final = 200.0  # our judgement: fits A4 and US letter, and its image a 4x5 ground glass up to half life size
WIDE_MM: Final[dict[Paper, float]] = {"a4": 297.0, "us-letter": 279.4}  # the standards' long sides
SAYS: Final = (
    "Stand it where the subject is, square to the lens. Measure on the ground glass from the outer edge of one bar to the outer edge of the other, "
    "and give that as the ruler target's image."
)
CHECK: Final = (
    "Print at 100 %, without fitting to the page, and measure it: {length} from outer edge to outer edge, to half a millimetre. "
    "Otherwise give the length that you measure. The fine lines are for focusing."
)


def target_pdf(paper: Paper = "a4") -> bytes:
    """The target as PDF."""
    return _typeset(paper, "pdf")


def target_png(paper: Paper = "a4") -> bytes:
    """The same as a picture, to look at."""
    return _typeset(paper, "png")


def _typeset(paper: Paper, form: Literal["pdf", "png"]) -> bytes:
    import typst  # noqa: PLC0415 (only paper needs it)

    length = MILLIMETRE.show(TARGET_MM)
    words: dict[str, Any] = {
        "paper": paper,
        "wide_mm": WIDE_MM[paper],
        "length_mm": int(TARGET_MM),
        "length": length,
        "title": f"Ruler target, {length}",
        "says": SAYS,
        "check": CHECK.format(length=length),
    }
    with as_file(files("silverwright.report")) as room:
        page: bytes = typst.compile(
            room / "target.typ",
            font_paths=[room / "fonts"],
            ignore_system_fonts=True,
            format=form,
            ppi=100.0 if form == "png" else None,
            sys_inputs={"target": json.dumps(words)},
        )
    return page
