"""Near and far against the opening: too wide is out of focus, too small is diffraction, and between them lies what is sharp enough."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape
from math import log2
from typing import Final

WIDTH: Final = 420  # our judgement: units of the drawing, about as wide as a phone
HEIGHT: Final = 190  # our judgement: nearly half of that, with a line of words under it
LEFT: Final = 64.0  # our judgement: room for the words of the blur
RIGHT: Final = 404.0  # our judgement: room for half a mark
TOP: Final = 34.0  # our judgement: two lines of words
FOOT: Final = 164.0  # our judgement: ticks and their words below
WORDS: Final = 110.0  # our judgement: units that a word and an opening take
HIGHEST_FACTOR: Final = 4.0  # our judgement: blurs above four times the wanted one look alike; the line ends at the upper edge
ROOM_FACTOR: Final = 1.25  # our judgement: the lowest of the line lies well inside
BREADTH: Final = 0.5  # our judgement: as much of the drawing, in stops of diameter, on either side


@dataclass(frozen=True, slots=True)
class Openings:
    """Openings with the blur near and far at each, focused between them; what is wanted, the sharpest opening, and how the lens stands."""

    at_f: Sequence[float]
    blur_mm: Sequence[float]
    wanted_mm: float
    best_f: float
    best_mm: float
    set_f: float | None = None
    set_mm: float | None = None


def opening_curve(openings: Openings, opening_said: Callable[[float], str], blur_said: Callable[[float], str]) -> str:
    """The drawing as SVG with the page's classes; both functions write figures as the page writes them."""
    place = _Place(openings)
    wanted = place.y(openings.wanted_mm)
    drawn = [
        f'<rect class="fill-water" x="{LEFT}" y="{wanted:.1f}" width="{RIGHT - LEFT:.1f}" height="{FOOT - wanted:.1f}"/>',
        f'<path class="mid" d="M{LEFT} {FOOT}H{RIGHT}"/>',
        _text(LEFT - 6, wanted + 4, escape(blur_said(openings.wanted_mm)), "end"),
        *(_tick(place, one, opening_said) for one in openings.at_f),
        f'<path class="ink" d="{place.line(openings.at_f, openings.blur_mm)}"/>',
        _text(LEFT + 4, TOP - 22, "out of focus", "start", "t2"),
        _text(RIGHT, TOP - 22, "diffraction", "end", "t2"),
        _best(place, openings, opening_said),
        _as_it_stands(place, openings, opening_said),
    ]
    says = escape(_says(openings, opening_said, blur_said), quote=True)
    return f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{says}">{"".join(drawn)}</svg>'


class _Place:
    """Stops from left to right, blur upwards."""

    def __init__(self, openings: Openings) -> None:
        there = [log2(one) for one in (*openings.at_f, openings.best_f)]
        self._start, self._end = min(there) - BREADTH / 2, max(there) + BREADTH / 2
        self._most = max(HIGHEST_FACTOR * openings.wanted_mm, ROOM_FACTOR * openings.best_mm)

    def x(self, f_number: float) -> float:
        """Where an opening lies; what is off the scale stands at its edge."""
        at = min(max(log2(f_number), self._start), self._end)
        return LEFT + (at - self._start) / (self._end - self._start) * (RIGHT - LEFT)

    def y(self, blur_mm: float) -> float:
        """Where a blur lies; what is off the scale stands at its edge."""
        return FOOT - min(blur_mm / self._most, 1.0) * (FOOT - TOP)

    def line(self, at_f: Sequence[float], blurs_mm: Sequence[float]) -> str:
        """From point to point."""
        return "M" + "L".join(f"{self.x(one):.1f} {self.y(blur):.1f}" for one, blur in zip(at_f, blurs_mm, strict=True))


def _says(openings: Openings, opening_said: Callable[[float], str], blur_said: Callable[[float], str]) -> str:
    """The same in words, for whoever hears the page."""
    best = f"sharpest at {opening_said(openings.best_f)} with {blur_said(openings.best_mm)}"
    stands = "" if openings.set_f is None or openings.set_mm is None else f" As the lens stands, {blur_said(openings.set_mm)}."
    return f"Blur near and far against the opening, {best}; wanted are {blur_said(openings.wanted_mm)}.{stands}"


def _tick(place: _Place, f_number: float, opening_said: Callable[[float], str]) -> str:
    x = place.x(f_number)
    return f'<path class="mid" d="M{x:.1f} {FOOT}v6"/>' + _text(x, FOOT + 18, escape(opening_said(f_number)).removeprefix("f/"), "middle", "t2")


def _best(place: _Place, openings: Openings, opening_said: Callable[[float], str]) -> str:
    """An upright at the sharpest opening, its words on top."""
    x = place.x(openings.best_f)
    at, anchor = (x - 4, "end") if x > RIGHT - WORDS else (x + 4, "start")
    return f'<path class="mid" d="M{x:.1f} {TOP - 12}V{FOOT}"/>' + _text(at, TOP - 4, f"sharpest {escape(opening_said(openings.best_f))}", anchor)


def _as_it_stands(place: _Place, openings: Openings, opening_said: Callable[[float], str]) -> str:
    """A mark for the lens as it stands, at the worse of near and far: full where that is sharp, hollow where it is not."""
    if openings.set_f is None or openings.set_mm is None:
        return ""
    x, y = place.x(openings.set_f), place.y(openings.set_mm)
    kind = "fill-ink" if openings.set_mm <= openings.wanted_mm else "ink"
    at, anchor = (x - 10, "end") if x > LEFT + WORDS else (x + 10, "start")
    return f'<circle class="{kind}" cx="{x:.1f}" cy="{y:.1f}" r="6"/>' + _text(
        at, y + 18, f"now {escape(opening_said(openings.set_f))}", anchor, "tb"
    )


def _text(x: float, y: float, words: str, anchor: str, kind: str = "") -> str:
    marked = f' class="{kind}"' if kind else ""
    return f'<text{marked} x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{words}</text>'
