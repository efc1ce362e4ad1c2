"""The budget of doubt: which line of a ledger makes it unsure, and what would make that line surer."""

from collections.abc import Callable, Sequence
from typing import Final

from silverwright.questions.entry import Entry

SHOWN_SHARE: Final = 0.1  # our judgement: a line that makes less than a tenth of the doubt is not worth a walk
MOST_TOLD: Final = 3  # our judgement: what one can do before the next sheet
DoubtOf = Callable[[Sequence[float]], float]


def narrows(entries: Sequence[Entry], own: Sequence[float], doubt_of: DoubtOf) -> tuple[str, ...]:
    """
    The lines that matter most, each with its part of the doubt and what would make it surer, the largest first.

    `own` is the doubt of each line for itself; `doubt_of` gives the doubt of the whole for other doubts in the lines, for one line may stretch
    those above it.
    """
    whole = doubt_of(own)
    if whole == 0:
        return ()
    shares = [1 - (doubt_of(_with(own, place, 0.0)) / whole) ** 2 for place in range(len(own))]
    largest = sorted(range(len(own)), key=lambda place: -shares[place])[:MOST_TOLD]
    worth = [place for place in largest if shares[place] >= SHOWN_SHARE]
    return tuple(_told(entries[place], own[place], shares[place], _then(entries, own, place, doubt_of)) for place in worth)


def _then(entries: Sequence[Entry], own: Sequence[float], place: int, doubt_of: DoubtOf) -> tuple[float, float]:
    """The doubt of the whole as it is, and with this line surer."""
    remedy = entries[place].remedy
    return doubt_of(own), doubt_of(_with(own, place, remedy.doubt_stops)) if remedy else doubt_of(own)


def _told(entry: Entry, own: float, share: float, now_then: tuple[float, float]) -> str:
    """`The paper's EI: 84 of 100 parts of the doubt. A test strip in this process would bring the whole from ±1.57 to ±0.51 stop.`"""
    parts = f"{entry.called or entry.what}: {100 * share:.0f} of 100 parts of the doubt."
    if entry.remedy is None or entry.remedy.doubt_stops >= own:
        return f"{parts} {entry.stands}" if entry.stands else parts
    words, (now, then) = entry.remedy.words, now_then
    return f"{parts} {words[0].upper()}{words[1:]} would bring the whole from ±{now:.2f} to ±{then:.2f} stop."


def _with(own: Sequence[float], place: int, doubt_stops: float) -> list[float]:
    """The same doubts with another one in one line."""
    return [doubt_stops if one == place else doubt for one, doubt in enumerate(own)]
