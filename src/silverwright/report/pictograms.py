"""The standard shapes that warn, as plain drawings of our own: as symbols for pages, whole for paper."""

from collections.abc import Mapping
from functools import cache
from typing import Final

from silverwright.facts.load import table

# How the parts of a drawing look on paper: the diamond, what is drawn in it, lines, and holes in what is drawn.
ON_PAPER: Final[Mapping[str, str]] = {
    "dia": 'fill="#ffffff" stroke="#000000" stroke-width="3.2"',
    "gl": 'fill="#000000"',
    "gs": 'fill="none" stroke="#000000" stroke-width="3"',
    "hole": 'fill="#ffffff"',
}
RED: Final = "#b3261e"


@cache
def symbols() -> str:
    """Every shape as a symbol, `p-<name>`, to be used by name in a page; its colours come from the page."""
    parts = "".join(f'<symbol id="p-{row["name"]}" viewBox="0 0 48 48">{row["drawing"]}</symbol>' for row in table("pictograms"))
    return f'<svg width="0" height="0" aria-hidden="true" focusable="false" class="hide">{parts}</svg>'


@cache
def shape_svg(name: str, *, red: bool = False) -> str:
    """One shape as a picture by itself; black only for a label printer, or with its red edge."""
    drawing = next(row["drawing"] for row in table("pictograms") if row["name"] == name)
    for part, looks in ON_PAPER.items():
        drawing = drawing.replace(f'class="{part}"', looks)
    if red:
        drawing = drawing.replace('stroke="#000000" stroke-width="3.2"', f'stroke="{RED}" stroke-width="3.2"')
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 48 48">{drawing}</svg>'


def shape_words(name: str) -> str:
    """What a shape means, in few words."""
    return next(row["words"] for row in table("pictograms") if row["name"] == name)
