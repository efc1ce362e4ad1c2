"""The exposure ledger as bars in stops: right of the line is more exposure, left and hollow is less, the whisker is one standard deviation."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Final

PER_STOP: Final = 100  # our judgement: units of the drawing; the page stretches them to its width
HEIGHT: Final = 52  # our judgement: a row of two lines of text
ROOM: Final = 0.4  # our judgement: stops of room at both ends, so that no whisker touches the edge
MOST_LINES: Final = 40  # our judgement: more upright lines than that are a grey field, as in a ledger of grams
THICK: Final = (20, 26)  # a line's bar, the total's


@dataclass(frozen=True, slots=True)
class Bar:
    """One line of the working, in stops: its amount, and its doubt as one standard deviation."""

    amount_stops: float
    doubt_stops: float


def bars(lines: Sequence[Bar]) -> list[str]:
    """One SVG for each line, all on one scale; the last is the total and drawn thicker. Their classes are the page's."""
    low = min(0.0, *(line.amount_stops - line.doubt_stops for line in lines)) - ROOM
    high = max(0.0, *(line.amount_stops + line.doubt_stops for line in lines)) + ROOM
    step = 1
    while (high - low) / step > MOST_LINES:
        step *= 10
    grid = "".join(_upright("grid", step * mark) for mark in range(ceil(low / step), floor(high / step) + 1) if mark)
    box = f"{low * PER_STOP:.0f} 0 {(high - low) * PER_STOP:.0f} {HEIGHT}"
    return [_bar(line, grid, box, THICK[line is lines[-1]]) for line in lines]


def _bar(line: Bar, grid: str, box: str, thick: int) -> str:
    x, reach = line.amount_stops * PER_STOP, line.doubt_stops * PER_STOP
    side = "more" if x >= 0 else "less"
    drawn = f'<rect class="{side}" x="{min(0, x):.1f}" y="{(HEIGHT - thick) / 2:g}" width="{abs(x):.1f}" height="{thick}"/>' if abs(x) >= 1 else ""
    whisker = "".join(_whisker(kind, x - reach, x + reach, half) for kind, half in (("halo", 9), ("whisk", 7))) if reach >= 1 else ""
    return f'<svg viewBox="{box}" preserveAspectRatio="none" aria-hidden="true" focusable="false">{grid}{drawn}{_upright("zero", 0)}{whisker}</svg>'


def _upright(kind: str, stop: int) -> str:
    x = stop * PER_STOP
    return f'<line class="{kind}" x1="{x}" x2="{x}" y1="0" y2="{HEIGHT}"/>'


def _whisker(kind: str, low: float, high: float, half: int) -> str:
    middle = HEIGHT // 2
    ends = "".join(f'<line class="{kind}" x1="{x:.1f}" x2="{x:.1f}" y1="{middle - half}" y2="{middle + half}"/>' for x in (low, high))
    return f'<line class="{kind}" x1="{low:.1f}" x2="{high:.1f}" y1="{middle}" y2="{middle}"/>{ends}'
