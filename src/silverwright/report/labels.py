"""Labels for bottles, baths, waste, holders and sheets: exactly 62 x 29 mm, one by one for a label printer or 24 on a page to cut apart."""

import io
import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import as_file, files
from typing import Any, Final, Literal

from silverwright.processing.corners import CORNERS, corners_named

LabelSize = Literal["62x29", "a4", "us-letter"]
MOST_LABELS: Final = 480  # our judgement: twenty pages; more is a slip
DOTS_PER_INCH: Final = 300.0  # our judgement: what a label printer prints
KEPT_CODES: Final = 512  # our judgement: the codes of a few pages
QUIET_MODULES: Final = 4  # the standard's quiet zone around a code, as common practice has it; a reader needs it white
WORKROOM: Final = "Workroom label, not a legal one"
VENTED: Final = "VENTED CAP"
OPEN: Final = "LEAVE OPEN"


@dataclass(frozen=True, slots=True, kw_only=True)
class Danger:
    """What a label says of hazards: the signal word, the shapes as SVG with their names, the statements in short, and what nobody knows."""

    signal: str = ""
    shapes: Sequence[tuple[str, str]] = ()
    says: str = ""
    unknown: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """
    What one label says.

    `code` is what the square code holds. `kind` stands small above the name. `strong` is the line that matters most: a strength, what is loaded.
    `cap` is what gas asks of its closure; `corner` names clipped corners, which are drawn.
    """

    kind: str
    name: str
    code: str
    strong: str = ""
    lines: Sequence[str] = ()
    danger: Danger | None = None
    cap: str = ""
    corner: str = ""
    foot: str = ""
    invented: bool = False


def labels_pdf(labels: Sequence[Label], size: LabelSize = "62x29") -> bytes:
    """The labels as PDF: one on each page of 62 x 29 mm, or 24 on each page of A4 or US letter."""
    return b"".join(_typeset(labels, size, "pdf"))


def labels_png(labels: Sequence[Label], size: LabelSize = "62x29") -> Sequence[bytes]:
    """The same pages as pictures with 300 dots to the inch, for printers that take pictures, and to look at."""
    return _typeset(labels, size, "png")


def code_svg(text: str) -> str:
    """A square code that any phone reads, with its quiet zone, as SVG."""
    return _code(text)


@lru_cache(maxsize=KEPT_CODES)
def _code(text: str) -> str:
    import segno  # noqa: PLC0415 (only labels need it)

    drawn = io.BytesIO()
    segno.make_qr(text, error="m").save(drawn, kind="svg", border=QUIET_MODULES, omitsize=True, xmldecl=False, svgclass=None, lineclass=None)
    return drawn.getvalue().decode()


def _typeset(labels: Sequence[Label], size: LabelSize, form: Literal["pdf", "png"]) -> Sequence[bytes]:
    import typst  # noqa: PLC0415 (only paper needs it)

    with as_file(files("silverwright.report")) as room:
        pages: bytes | list[bytes] = typst.compile(
            room / "labels.typ",
            font_paths=[room / "fonts"],
            ignore_system_fonts=True,
            format=form,
            ppi=DOTS_PER_INCH if form == "png" else None,
            sys_inputs={"labels": json.dumps({"size": size, "labels": [_words(label) for label in labels]})},
        )
    return [pages] if isinstance(pages, bytes) else pages


def _words(label: Label) -> dict[str, Any]:
    """One label as it is printed."""
    danger = label.danger
    clipped = corners_named(label.corner) if label.corner else None
    return {
        "kind": label.kind,
        "name": label.name,
        "code": code_svg(label.code),
        "strong": label.strong,
        "lines": [line for line in label.lines if line],
        "signal": danger.signal if danger else "",
        "shapes": [{"svg": svg, "name": name} for name, svg in danger.shapes] if danger else [],
        "danger": danger.says if danger else "",
        "unknown": danger.unknown if danger else "",
        "cap": label.cap,
        "corner": label.corner,
        "clipped": [one in clipped for one in CORNERS] if clipped is not None else [],
        "foot": label.foot,
        "invented": label.invented,
    }
