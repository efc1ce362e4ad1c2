"""A scene on its paper: each part on a scale of stops from mid-grey, over the wash of what the paper tells apart."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from math import ceil, floor
from typing import Final

from silverwright.report.tone import grey

WIDTH: Final = 420  # our judgement: units of the drawing, about as wide as a phone
NAMES: Final = 130  # our judgement: units for the names at the left
LEFT: Final = 142.0  # our judgement: where the scale begins
RIGHT: Final = 408.0  # our judgement: where it ends, with room for half a mark
TOP: Final = 30  # our judgement: a line of words above the first part
ROW: Final = 26  # our judgement: from one part to the next
FOOT: Final = 40  # our judgement: ticks and their words
LONGEST: Final = 18  # our judgement: letters of a name that find room
LEAST_STOPS: Final = 2.0  # our judgement: two stops on either side are always on the scale
MOST_TICKS: Final = 12  # our judgement: more words under the scale would touch
MINUS: Final = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True)
class PartDrawn:
    """One part: its name, how far above mid-grey it lies, how dense it becomes, and whether its tone is kept."""

    name: str
    above_stops: float
    density: float
    kept: bool


def scene_scale(parts: Sequence[PartDrawn], shadow_stops: float, highlight_stops: float) -> str:
    """The drawing as SVG with the page's classes; a part whose tone is lost is struck through, so that no colour is needed to see it."""
    ends = [shadow_stops, highlight_stops, *(one.above_stops for one in parts)]
    low, high = floor(min(*ends, -LEAST_STOPS)), ceil(max(*ends, LEAST_STOPS))
    scale = _Scale(low, high)
    height = TOP + ROW * len(parts) + FOOT
    foot = height - FOOT + 6
    drawn = [_wash(scale, shadow_stops, highlight_stops, foot), _ticks(scale, foot)]
    drawn += [_part(scale, one, TOP + ROW * number + ROW / 2) for number, one in enumerate(parts)]
    says = escape(_says(parts, shadow_stops, highlight_stops), quote=True)
    return f'<svg viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{says}">{"".join(drawn)}</svg>'


@dataclass(frozen=True, slots=True)
class _Scale:
    """Whole stops at both ends."""

    low: int
    high: int

    def x(self, stops: float) -> float:
        """Where so many stops lie."""
        return LEFT + (stops - self.low) / (self.high - self.low) * (RIGHT - LEFT)


def _says(parts: Sequence[PartDrawn], shadow_stops: float, highlight_stops: float) -> str:
    """The same in words, for whoever hears the page."""
    told = "; ".join(f"{one.name} at {_signed(one.above_stops)}{'' if one.kept else ', lost'}" for one in parts)
    return f"Stops from mid-grey. The paper tells {_signed(shadow_stops)} to {_signed(highlight_stops)} apart. {told}"


def _signed(stops: float) -> str:
    return f"{stops:+.1f}".replace("-", MINUS)


def _wash(scale: _Scale, shadow_stops: float, highlight_stops: float, foot: float) -> str:
    start, end = scale.x(shadow_stops), scale.x(highlight_stops)
    wash = f'<rect class="fill-water" x="{start:.1f}" y="{TOP - 6}" width="{max(0.0, end - start):.1f}" height="{foot - TOP + 6:.1f}"/>'
    uprights = f'<path class="ink" d="M{start:.1f} {TOP - 10}V{foot:.1f}M{end:.1f} {TOP - 10}V{foot:.1f}"/>'
    words = _text(start - 4, TOP - 14, "shadows", "end") + _text(end + 4, TOP - 14, "highlights", "start")
    if scale.x(scale.high) - end < NAMES / 2:
        words = _text(start, TOP - 14, "shadows", "middle") + _text(min(end, RIGHT), TOP - 14, "highlights", "end")
    return wash + uprights + words


def _ticks(scale: _Scale, foot: float) -> str:
    """Whole stops, with words under as many of them as find room."""
    every = max(1, ceil((scale.high - scale.low) / MOST_TICKS))
    drawn = [f'<path class="mid" d="M{LEFT:.1f} {foot:.1f}H{RIGHT:.1f}"/>', _text(NAMES - 8, foot + 18, "stops", "end", "t2")]
    for stops in range(scale.low, scale.high + 1):
        x = scale.x(stops)
        drawn.append(f'<path class="mid" d="M{x:.1f} {foot:.1f}v6"/>')
        if stops % every == 0:
            drawn.append(_text(x, foot + 18, f"{stops:+d}".replace("-", MINUS) if stops else "0", "middle", "t2"))
    return "".join(drawn)


def _part(scale: _Scale, part: PartDrawn, y: float) -> str:
    """Its name, a patch of its tone, and a stroke through what is lost."""
    x = scale.x(part.above_stops)
    name = part.name if len(part.name) <= LONGEST else f"{part.name[: LONGEST - 1].rstrip()}…"
    patch = f'<rect class="pt" x="{x - 8:.1f}" y="{y - 8:.1f}" width="16" height="16"/>'
    tone = f'<rect class="tone" x="{x - 6:.1f}" y="{y - 6:.1f}" width="12" height="12" fill="{grey(part.density)}"/>'
    lost = "" if part.kept else f'<path class="ink" d="M{x - 11:.1f} {y + 11:.1f}L{x + 11:.1f} {y - 11:.1f}"/>'
    return _text(NAMES, y + 4, escape(name), "end") + patch + tone + lost


def _text(x: float, y: float, words: str, anchor: str, kind: str = "") -> str:
    marked = f' class="{kind}"' if kind else ""
    return f'<text{marked} x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{words}</text>'
