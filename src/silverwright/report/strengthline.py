"""How strong a bath still is, drawn: what can be counted on is solid, what is possible is barred, a mark says how it was mixed."""

from math import floor, log10
from typing import Final

WIDE, HIGH, LEFT, RIGHT, TOP, LINE = 320, 62, 4.0, 312.0, 14, 34
SPACE: Final = 1.08  # our judgement: a little room to the right of the strongest mark
MOST_TICKS: Final = 6  # our judgement: more figures than this run into each other on a phone
BAR_EVERY: Final = 5  # our judgement: closer bars run into one another on a phone
NICE: Final = (1, 2, 2.5, 5, 10)  # arithmetic: even parts of ten


def strength_line(low_percent: float, value_percent: float, high_percent: float, as_mixed_percent: float, says: str) -> str:
    """
    A strength on a scale from nothing to as mixed.

    Args:
        low_percent: Where its limits begin. [%] 0 or more
        value_percent: The likeliest strength. [%]
        high_percent: Where its limits end. [%]
        as_mixed_percent: How strong it was on the first day. [%] above 0
        says: The same in words, for those who do not see the drawing.

    Returns:
        An SVG, without any colour of its own.
    """
    most = max(as_mixed_percent, high_percent, 1e-9) * SPACE
    places = [LEFT + (RIGHT - LEFT) * max(0.0, one) / most for one in (low_percent, value_percent, high_percent, as_mixed_percent)]
    low, value, high, mixed = places
    bars = "".join(f'<path class="hatch" d="M{at:.1f} {TOP}v{LINE - TOP}"/>' for at in _between(low, high))
    box = f'<path class="ink" d="M{LEFT} {TOP}H{high:.1f}V{LINE}H{LEFT}z"/>' if high > LEFT else ""
    point = f'<path class="fill-ink" d="M{value:.1f} {TOP - 1}l-5-8h10z"/>'
    as_mixed = f'<path class="mid" d="M{mixed:.1f} {TOP - 8}V{LINE}"/><path class="mid" d="M{mixed - 5:.1f} {TOP - 8}h10"/>'
    solid = f'<rect class="fill-deep" x="{LEFT}" y="{TOP}" width="{low - LEFT:.1f}" height="{LINE - TOP}"/>'
    scale = _scale(most)
    drawn = f'{solid}{bars}{box}<path class="mid" d="M{LEFT} {LINE}H{RIGHT}"/>{scale}{as_mixed}{point}'
    return f'<svg class="life" viewBox="0 0 {WIDE} {HIGH}" role="img" aria-label="{says}">{drawn}</svg>'


def _between(low: float, high: float) -> list[float]:
    return [low + BAR_EVERY * step for step in range(1, 1 + floor(max(0.0, high - low - 1) / BAR_EVERY))]


def _scale(most: float) -> str:
    step = _step(most)
    ticks = [step * place for place in range(floor(most / step + 1e-9) + 1)]
    places = [(LEFT + (RIGHT - LEFT) * tick / most, tick) for tick in ticks]
    return "".join(
        f'<path class="mid" d="M{x:.1f} {LINE}v8"/><text class="t2" x="{x:.1f}" y="{LINE + 22}" text-anchor="{"start" if not tick else "middle"}">'
        f"{tick:g}{' %' if not tick else ''}</text>"
        for x, tick in places
    )


def _step(most: float) -> float:
    """The smallest even step with few enough ticks."""
    rough = most / MOST_TICKS
    power = 10.0 ** floor(log10(rough))
    return next(nice * power for nice in NICE if nice * power >= rough * (1 - 1e-9))
