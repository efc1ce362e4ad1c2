"""A sitter's blur as it grows with time, over the wash of what is still sharp: the planned time, and the longest that would do."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape
from math import log2
from typing import Final

WIDTH: Final = 420  # our judgement: units of the drawing, about as wide as a phone
HEIGHT: Final = 196  # our judgement: as high as half of that, and two lines of words
LEFT: Final = 70.0  # our judgement: room for the words of the blur
RIGHT: Final = 404.0  # our judgement: room for half a mark
TOP: Final = 24.0  # our judgement: a line of words
FOOT: Final = 156.0  # our judgement: ticks and their words below
ROOM_FACTOR: Final = 1.12  # our judgement: the highest line does not touch the edge
WORDS: Final = 110.0  # our judgement: units that a word and a time take
UNDER: Final = 16.0  # our judgement: units from a line to the words under it
BEYOND: Final = 3.0  # our judgement: doublings outside the table; what lies beyond stands at the edge
BREADTH: Final = 0.5  # our judgement: as much of the drawing, in doublings, on either side of the times


@dataclass(frozen=True, slots=True)
class Sway:
    """Times with the blur after each, as asked for and for half of all sittings; what is allowed, what is planned, and the longest that is sharp."""

    times_s: Sequence[float]
    asked_mm: Sequence[float]
    half_mm: Sequence[float]
    allowed_mm: float
    planned_s: float
    planned_mm: float
    longest_s: float | None
    of_hundred: float


def sway_curve(sway: Sway, time_said: Callable[[float], str], blur_said: Callable[[float], str]) -> str:
    """The drawing as SVG with the page's classes; `time_said` and `blur_said` write figures as the page writes them."""
    place = _Place(sway)
    allowed = place.y(sway.allowed_mm)
    drawn = [
        f'<rect class="fill-water" x="{LEFT}" y="{allowed:.1f}" width="{RIGHT - LEFT:.1f}" height="{FOOT - allowed:.1f}"/>',
        f'<path class="mid" d="M{LEFT} {FOOT}H{RIGHT}"/>',
        _text(LEFT - 6, allowed + 4, escape(blur_said(sway.allowed_mm)), "end"),
        *(_tick(place, one, time_said) for one in sway.times_s),
        f'<path class="mid" d="{place.line(sway.times_s, sway.half_mm)}"/>',
        f'<path class="ink" d="{place.line(*_drawn_on(sway))}"/>',
        _text(RIGHT, place.y(sway.asked_mm[-2]) + UNDER, f"{sway.of_hundred:.0f} of 100", "end", "t2"),
        _text(RIGHT, place.y(sway.half_mm[-2]) + UNDER, "half of all", "end", "t2"),
        _longest(place, sway, time_said),
        _planned(place, sway, time_said),
    ]
    says = escape(_says(sway, time_said, blur_said), quote=True)
    return f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{says}">{"".join(drawn)}</svg>'


def _drawn_on(sway: Sway) -> tuple[list[float], list[float]]:
    """The line as asked for, as far as the planned time where that lies outside of the table."""
    times, blurs = list(sway.times_s), list(sway.asked_mm)
    if sway.planned_s > times[-1]:
        return [*times, sway.planned_s], [*blurs, sway.planned_mm]
    return ([sway.planned_s, *times], [sway.planned_mm, *blurs]) if sway.planned_s < times[0] else (times, blurs)


class _Place:
    """Doublings of time from left to right, blur upwards."""

    def __init__(self, sway: Sway) -> None:
        first, last, planned = log2(min(sway.times_s)), log2(max(sway.times_s)), log2(sway.planned_s)
        self._start, self._end = min(first, max(planned, first - BEYOND)) - BREADTH, max(last, min(planned, last + BEYOND)) + BREADTH
        self._most = ROOM_FACTOR * max(*sway.asked_mm, sway.planned_mm, sway.allowed_mm)

    def x(self, time_s: float) -> float:
        """Where a time lies."""
        at = min(max(log2(time_s), self._start), self._end)
        return LEFT + (at - self._start) / (self._end - self._start) * (RIGHT - LEFT)

    def y(self, blur_mm: float) -> float:
        """Where a blur lies."""
        return FOOT - blur_mm / self._most * (FOOT - TOP)

    def line(self, times_s: Sequence[float], blurs_mm: Sequence[float]) -> str:
        """From point to point."""
        return "M" + "L".join(f"{self.x(one):.1f} {self.y(blur):.1f}" for one, blur in zip(times_s, blurs_mm, strict=True))


def _says(sway: Sway, time_said: Callable[[float], str], blur_said: Callable[[float], str]) -> str:
    """The same in words, for whoever hears the page."""
    longest = "" if sway.longest_s is None else f" Sharp up to {time_said(sway.longest_s)}."
    return (
        f"Blur sideways grows with time. Allowed are {blur_said(sway.allowed_mm)}; {time_said(sway.planned_s)} give {blur_said(sway.planned_mm)} "
        f"in {sway.of_hundred:.0f} of 100 sittings.{longest}"
    )


def _tick(place: _Place, time_s: float, time_said: Callable[[float], str]) -> str:
    x = place.x(time_s)
    return f'<path class="mid" d="M{x:.1f} {FOOT}v6"/>' + _text(x, FOOT + 18, escape(time_said(time_s)), "middle", "t2")


def _longest(place: _Place, sway: Sway, time_said: Callable[[float], str]) -> str:
    """An upright where the line leaves what is sharp, its words on top."""
    if sway.longest_s is None:
        return ""
    x = place.x(sway.longest_s)
    at, anchor = (x - 4, "end") if x > RIGHT - WORDS else (x + 4, "start")
    return f'<path class="mid" d="M{x:.1f} {TOP - 16}V{FOOT}"/>' + _text(at, TOP - 6, f"sharp to {escape(time_said(sway.longest_s))}", anchor)


def _planned(place: _Place, sway: Sway, time_said: Callable[[float], str]) -> str:
    """A mark at the planned time: full where it is sharp, hollow where it is not. The line rises, so its words stand before it."""
    x, y = place.x(sway.planned_s), place.y(sway.planned_mm)
    kind = "fill-ink" if sway.planned_mm <= sway.allowed_mm else "ink"
    at, up, anchor = (x - 10, 6, "end") if x > LEFT + WORDS else (x, 24, "start")
    words = f"planned {escape(time_said(sway.planned_s))}"
    return f'<circle class="{kind}" cx="{x:.1f}" cy="{y:.1f}" r="6"/>' + _text(at, y - up, words, anchor, "tb")


def _text(x: float, y: float, words: str, anchor: str, kind: str = "") -> str:
    marked = f' class="{kind}"' if kind else ""
    return f'<text{marked} x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{words}</text>'
