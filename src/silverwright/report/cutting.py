"""A sheet under the trimmer, drawn: its pieces, the strips that are left, and the edges that come from the factory."""

from collections.abc import Sequence
from html import escape
from typing import Final

from silverwright.processing.cutparts import Part

WIDTH: Final = 420.0  # our judgement: units of the drawing, about as wide as a phone
HIGHEST: Final = 400.0  # our judgement: so high that a page still holds the cuts beside it
ROOM: Final = 22.0  # our judgement: a line of words above the sheet
TEXT_WIDE: Final = 92.0  # our judgement: units that the size of a piece takes
TEXT_HIGH: Final = 34.0  # our judgement: its number and its size, one below the other
LINE_HIGH: Final = 16.0  # our judgement: one line of words
EDGE: Final = 3.0  # our judgement: units of a factory edge's stroke; a cut has a third of it


def cutting_drawn(parts: Sequence[Part], says: str = "") -> str:
    """The drawing as SVG with the page's classes: thick, an edge of the factory; thin, a cut; filled, a strip."""
    wide_mm = max(part.left_mm + part.width_mm for part in parts)
    high_mm = max(part.top_mm + part.height_mm for part in parts)
    scale = min((WIDTH - 2 * EDGE) / wide_mm, (HIGHEST - ROOM - EDGE) / high_mm)
    left = (WIDTH - wide_mm * scale) / 2
    drawn = [_text(WIDTH / 2, LINE_HIGH - 2, f"{wide_mm:.4g} x {high_mm:.4g} mm", "t2")]
    pieces = 0
    for part in parts:
        pieces += part.kind == "piece"
        drawn.append(_part(part, left, scale, pieces))
    outline = f'x="{left:.1f}" y="{ROOM}" width="{wide_mm * scale:.1f}" height="{high_mm * scale:.1f}"'
    drawn.append(f'<rect class="ink" stroke-width="{EDGE:g}" {outline}/>')
    said = escape(says or _says(parts, wide_mm, high_mm), quote=True)
    return f'<svg viewBox="0 0 {WIDTH:g} {high_mm * scale + ROOM + EDGE:.0f}" role="img" aria-label="{said}">{"".join(drawn)}</svg>'


def _part(part: Part, left: float, scale: float, number: int) -> str:
    """One part; a piece has its number and its size in it where there is room, a strip its width."""
    x, y, wide, high = left + part.left_mm * scale, ROOM + part.top_mm * scale, part.width_mm * scale, part.height_mm * scale
    kind = "mid" if part.kind == "piece" else "fill-water"
    box = f'<rect class="{kind}" x="{x:.1f}" y="{y:.1f}" width="{wide:.1f}" height="{high:.1f}"/>'
    middle, centre = x + wide / 2, y + high / 2
    size = f"{part.width_mm:.4g} x {part.height_mm:.4g}"
    if part.kind == "strip":
        if wide >= TEXT_WIDE and high >= LINE_HIGH:
            box += _text(middle, centre + 4, f"strip, {part.height_mm:.3g} mm")
        elif high >= TEXT_WIDE and wide >= LINE_HIGH:
            turned = f'transform="rotate(-90 {middle + 4:.1f} {centre:.1f})"'
            box += f'<text x="{middle + 4:.1f}" y="{centre:.1f}" text-anchor="middle" {turned}>strip, {part.width_mm:.3g} mm</text>'
        return box
    if wide >= TEXT_WIDE and high >= TEXT_HIGH:
        return box + _text(middle, centre - 2, str(number), "tb") + _text(middle, centre + LINE_HIGH - 2, size, "t2")
    return box + (_text(middle, centre + 4, str(number), "tb") if min(wide, high) >= LINE_HIGH else "")


def _says(parts: Sequence[Part], wide_mm: float, high_mm: float) -> str:
    """The same in words, for whoever hears the page."""
    pieces = [part for part in parts if part.kind == "piece"]
    strips = len(parts) - len(pieces)
    sizes = sorted({f"{min(one.width_mm, one.height_mm):.4g} by {max(one.width_mm, one.height_mm):.4g}" for one in pieces})
    of = f" of {sizes[0]} millimetres" if sizes else ""
    return f"A sheet of {wide_mm:.4g} by {high_mm:.4g} millimetres gives {len(pieces)} pieces{of}; {strips} strips are left."


def _text(x: float, y: float, words: str, kind: str = "") -> str:
    marked = f' class="{kind}"' if kind else ""
    return f'<text{marked} x="{x:.1f}" y="{y:.1f}" text-anchor="middle">{escape(words)}</text>'
