"""The control step sheets of a paper: what each says by itself, and what they tell together."""

from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from math import hypot, log2, sqrt
from typing import Any, Final

from silverwright.book.evidence import Piece, Told
from silverwright.book.forecast import Next, forecast
from silverwright.facts.load import fact

SHOWN_STOPS: Final = 0.005  # our judgement: less does not show in two digits
FEWEST: Final = 2  # arithmetic: one alone differs from nothing
STANDS_OUT_SD: Final = 3.0  # our judgement: by chance one of 370


@dataclass(frozen=True, slots=True)
class Control:
    """A control step sheet: its day, its lamp, the index that it speaks for by itself, and how much faster it is than the mean of its lamp's days."""

    sheet: str
    day: str
    lamp: str
    ei: float
    off_stops: float
    sd_stops: float


def control_history(told: Told, process: str) -> tuple[Control, ...]:
    """The control step sheets, the oldest first: what a day, or a tired bath, does to the paper."""
    pieces = sorted((one for one in told.pieces if one.control and one.counts), key=lambda one: (one.day, one.sheet))
    indices = [_alone(one, told, process) for one in pieces]
    found = []
    for piece, ei in zip(pieces, indices, strict=True):
        same = [log2(other) for one, other in zip(pieces, indices, strict=True) if one.light == piece.light]
        mean = sum(same) / len(same)
        found.append(Control(piece.sheet, piece.day, piece.light, ei, log2(ei) - mean, sd_of_one_stops() * sqrt(1 - 1 / len(same))))
    return tuple(found)


def sd_of_one_stops() -> float:
    """How far two control step sheets of one day would differ: lamp, timer and steps."""
    return hypot(fact("forecast", "timer").sd, fact("forecast", "step").sd)


def history_told(controls: tuple[Control, ...]) -> tuple[str, ...]:
    """What the history tells, in words: the newest against the mean of the days, which one stands out, and where it goes."""
    if len(controls) < FEWEST:
        return ("One day alone differs from nothing: the next one tells.",) if controls else ()
    newest = controls[-1]
    mine = [one for one in controls if one.lamp == newest.lamp]
    if len(mine) < FEWEST:
        return (f"The first day under “{newest.lamp}”: another lamp is not to be compared with it.",)
    told = [f"{day_words(newest.day)}: {_faster(newest.off_stops, 'than', 'as')} the mean of your {len(mine)} days, ± {newest.sd_stops:.2f}."]
    before, last = mine[:-1], mine[-1]
    gone = last.off_stops - before[-1].off_stops
    steps = [later.off_stops - one.off_stops for one, later in pairwise(before)]
    usual = sum(steps) / len(steps) if steps else 0.0
    told.append(f"Since {day_words(before[-1].day)}: {_faster(gone)}{f'; before that {_faster(usual)} from one day to the next' if steps else ''}.")
    if abs(gone - usual) > STANDS_OUT_SD * sqrt(2) * sd_of_one_stops():
        told.append("That is more than lamp and timer explain: look at temperatures and baths before the first picture.")
    return tuple(told)


def day_words(day: str) -> str:
    """`15 January`."""
    found = date.fromisoformat(day)
    return f"{found.day} {found:%B}"


def _faster(stops: float, than: str = "", alike: str = "") -> str:
    """`0.20 stop slower than`, `as fast as`."""
    if abs(stops) < SHOWN_STOPS:
        return f"as fast {alike}".rstrip()
    return f"{abs(stops):.2f} stop {'faster' if stops > 0 else 'slower'} {than}".rstrip()


def _alone(piece: Piece, told: Told, process: str) -> float:
    """
    The index of one step sheet by itself, for its own day, baths and box.

    Asked for a fresh bath instead, the speed that sheets before had taken from its own would be given back, and no bath would be seen to tire.
    """
    here: dict[str, Any] = {name: piece.rows[0][name] for name in ("batch", "age", "lot") if name in piece.rows[0]}
    return forecast(Told((piece,), told.points, here), process, Next(light=piece.light, day=piece.day)).paper_ei.value or 1.0
