"""The doubt of an exposure as a scale in stops: the answer in the middle, a wash where 8 of 10 lie, a small sheet for each of the bracket."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import floor, log2
from typing import Final

WIDTH: Final = 420  # our judgement: units of the drawing, about as wide as a phone
HEIGHT: Final = 104  # our judgement: two lines of words above and below the scale
MIDDLE: Final = WIDTH / 2  # arithmetic
REACH: Final = 200  # our judgement: units from the middle to the end of the scale
ROOM_FACTOR: Final = 1.45  # our judgement: the scale goes on beyond the limits, so that they are seen as limits
LEAST_STOPS: Final = 0.6  # our judgement: half a stop on either side is always on the scale
TICKS: Final = ((1.2, "1/3"), (3.0, "1"), (8.0, "2"))  # reach of the scale in stops, and the step of its ticks
STEP_STOPS: Final = {"1/3": 1 / 3, "1": 1.0, "2": 2.0}
LEFT_OUT: Final = "3"  # our judgement: beyond it a tick at every third step
NEAR: Final = 34.0  # our judgement: units: two words closer than this would touch
MINUS: Final = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True)
class Doubt:
    """A time, its limits (an open end is None) and the sheets of a bracket."""

    time_s: float
    low_s: float | None
    high_s: float | None
    bracket_s: Sequence[float] = ()


def doubt_scale(doubt: Doubt, show: Callable[[float], str]) -> str:
    """The scale as SVG with the page's classes; `show` writes a time as the page writes it."""
    low, high = (log2(end / doubt.time_s) if end else None for end in (doubt.low_s, doubt.high_s))
    bracket = [(log2(one / doubt.time_s), show(one)) for one in doubt.bracket_s]
    reach = max([LEAST_STOPS, *(abs(at) * ROOM_FACTOR for at in (low, high) if at is not None), *(abs(at) * ROOM_FACTOR for at, _ in bracket)])
    unit = REACH / reach
    parts = [_wash(low, high, unit), '<path class="mid" d="M10 62H410"/>', _ticks(reach, unit)]
    parts += [_limit(at, show(end), unit) for at, end in ((low, doubt.low_s), (high, doubt.high_s)) if at is not None and end is not None]
    parts += [_sheet(at, words, unit) for at, words in bracket] if len(bracket) > 1 else []
    parts.append('<path class="fill-ink" d="M210 40l-6 -9h12z"/><path class="ink" d="M210 36V69"/>')
    parts.append(_text("tb", MIDDLE, 26, show(doubt.time_s)))
    says = _says(doubt, show)
    return f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{says}">{"".join(parts)}</svg>'


def _says(doubt: Doubt, show: Callable[[float], str]) -> str:
    says = f"Exposure {show(doubt.time_s)}"
    if doubt.low_s is not None and doubt.high_s is not None:
        says += f"; 8 of 10 between {show(doubt.low_s)} and {show(doubt.high_s)}"
    elif doubt.low_s is not None or doubt.high_s is not None:
        says += f"; at least {show(doubt.low_s)}" if doubt.low_s is not None else f"; at most {show(doubt.high_s or 0)}"
    if len(doubt.bracket_s) > 1:
        says += "; bracket " + ", ".join(show(one) for one in doubt.bracket_s)
    return says


def _x(at: float, unit: float) -> float:
    return MIDDLE + at * unit


def _wash(low: float | None, high: float | None, unit: float) -> str:
    start = _x(low, unit) if low is not None else MIDDLE - REACH
    end = _x(high, unit) if high is not None else MIDDLE + REACH
    return f'<rect class="fill-water" x="{start:.1f}" y="40" width="{end - start:.1f}" height="22"/>'


def _limit(at: float, words: str, unit: float) -> str:
    """An upright at the limit; its words stand outside where the answer would be in their way."""
    x = _x(at, unit)
    clear = abs(x - MIDDLE) > 2 * NEAR
    words_x, anchor = (x, "middle") if clear else (x - 4, "end") if at < 0 else (x + 4, "start")
    if not clear and abs(x - MIDDLE) < NEAR:
        words_x = MIDDLE - NEAR if at < 0 else MIDDLE + NEAR
    return f'<path class="ink" d="M{x:.1f} 34V68"/>{_text("", words_x, 26, words, anchor)}'


def _sheet(at: float, words: str, unit: float) -> str:
    """A sheet of the bracket with its time below the line."""
    x = _x(at, unit)
    return f'<rect class="pt" x="{x - 5:.1f}" y="44" width="10" height="13"/>{_text("tb", x, 84, words)}'


def _ticks(reach: float, unit: float) -> str:
    step = next((words for most, words in TICKS if reach <= most), LEFT_OUT)
    size = STEP_STOPS.get(step, float(LEFT_OUT))
    count = floor(reach / size)
    every = max(1, count // 2)
    drawn = ['<text class="t2" x="210" y="100" text-anchor="middle">stops</text>']
    for number in range(-count, count + 1):
        if number == 0:
            continue
        x = _x(number * size, unit)
        drawn.append(f'<path class="mid" d="M{x:.1f} 62v7"/>')
        if number % every == 0:
            drawn.append(_text("t2", x, 100, _stops(number, step)))
    return "".join(drawn)


def _stops(number: int, step: str) -> str:
    """`+1/3`, `−2`: whole thirds are written as a person writes them."""
    sign = MINUS if number < 0 else "+"
    size = abs(number)
    if step != "1/3":
        return f"{sign}{size * int(step)}"
    whole, thirds = divmod(size, 3)
    words = f"{whole or ''}{' ' if whole and thirds else ''}{f'{thirds}/3' if thirds else ''}"
    return f"{sign}{words}"


def _text(kind: str, x: float, y: int, words: str, anchor: str = "middle") -> str:
    marked = f' class="{kind}"' if kind else ""
    return f'<text{marked} x="{x:.1f}" y="{y}" text-anchor="{anchor}">{words}</text>'
