"""Control step sheets as a picture: a square for each day, its doubt as an upright line, the mean of the days as the level line."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

WIDTH: Final = 420  # our judgement: units of the drawing, about as wide as a phone
HEIGHT: Final = 230  # our judgement: a stop in all, and two lines of words below
LEFT, RIGHT, TOP, BOTTOM = 64.0, 400.0, 16.0, 186.0  # our judgement: room for the words at the left and below
LEAST_STOPS: Final = 0.25  # our judgement: a doubt of a twentieth is still seen, and does not fill the picture
STEP_STOPS: Final = 0.25  # our judgement: a line for each quarter of a stop
SIDE: Final = 7.0  # our judgement: smaller than what lamp and timer leave in doubt, so that the doubt is seen
MOST_DAYS: Final = 31  # our judgement: a month of days; more would touch
NAMED: Final = 5  # our judgement: so many days fit below with their words
MINUS: Final = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True)
class Day:
    """One day: its name, by how much it is faster than the mean, and one standard deviation of that."""

    name: str
    off_stops: float
    sd_stops: float


def days_drawn(days: Sequence[Day]) -> str:
    """The newest month of days as SVG with the page's classes; faster is up."""
    days = days[-MOST_DAYS:]
    reach = max(LEAST_STOPS, *(abs(one.off_stops) + one.sd_stops for one in days))
    lines = ceil(reach / STEP_STOPS)
    unit = (BOTTOM - TOP) / (2 * lines * STEP_STOPS)
    middle = (TOP + BOTTOM) / 2
    apart = (RIGHT - LEFT) / len(days)
    parts = [_level(number * STEP_STOPS, middle - number * STEP_STOPS * unit) for number in range(-lines, lines + 1)]
    every = ceil(len(days) / NAMED)
    for number, one in enumerate(days):
        x, y, half = LEFT + apart * (number + 0.5), middle - one.off_stops * unit, one.sd_stops * unit
        newest = number == len(days) - 1
        parts.append(f'<path class="ink" d="M{x:.1f} {y - half:.1f}V{y + half:.1f}M{x - 5:.1f} {y - half:.1f}h10M{x - 5:.1f} {y + half:.1f}h10"/>')
        filled = "fill-ink" if newest else "pt"
        parts.append(f'<rect class="{filled}" x="{x - SIDE / 2:.1f}" y="{y - SIDE / 2:.1f}" width="{SIDE:g}" height="{SIDE:g}"/>')
        if (len(days) - 1 - number) % every == 0:
            parts += _name(x, one.name, "tb" if newest else "t2")
    return f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{_says(days)}">{"".join(parts)}</svg>'


def _says(days: Sequence[Day]) -> str:
    return "Stops from the mean of the days. " + "; ".join(f"{one.name} {_signed(one.off_stops)} ± {one.sd_stops:.2f}" for one in days)


def _level(stops: float, y: float) -> str:
    """A level line with its stops, the mean bold."""
    kind, words, style = ("mid", "mean", "tb") if stops == 0 else ("thin", _signed(stops), "t2")
    named = f'<text class="{style}" x="{LEFT - 8:g}" y="{y + 4:.1f}" text-anchor="end">{words}</text>'
    return f'<path class="{kind}" d="M{LEFT:g} {y:.1f}H{RIGHT:g}"/>{named}'


def _name(x: float, name: str, style: str) -> list[str]:
    """The day below its square, the month in a second line."""
    return [
        f'<text class="{style}" x="{x:.1f}" y="{BOTTOM + 18 + 15 * line:g}" text-anchor="middle">{word}</text>'
        for line, word in enumerate(name.split(" ", 1))
    ]


def _signed(stops: float) -> str:
    """`+0.25`, `−0.10`."""
    return f"{'+' if stops >= 0 else MINUS}{abs(stops):.2f}"
