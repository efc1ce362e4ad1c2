"""The budget of doubt: which line of a ledger makes it unsure, and what would make that line surer."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from silverwright.questions.entry import Entry
from silverwright.records import Stops

SHOWN_SHARE: Final = 0.1  # our judgement: a line that makes less than a tenth of the doubt is not worth a walk
MOST_TOLD: Final = 3  # our judgement: what one can do before the next sheet


def narrows(entries: Sequence[Entry], doubt_of: Callable[[Sequence[Entry]], float]) -> tuple[str, ...]:
    """
    The lines that matter most, each with its part of the doubt and what would make it surer, the largest first.

    `doubt_of` gives the doubt of the whole for other doubts in the lines: a doubt above the reciprocity line is stretched by it.
    """
    whole = doubt_of(entries)
    if whole == 0:
        return ()
    without = [1 - (doubt_of(_with(entries, place, 0.0)) / whole) ** 2 for place in range(len(entries))]
    largest = sorted(range(len(entries)), key=lambda place: -without[place])[:MOST_TOLD]
    return tuple(_told(entries, place, without[place], doubt_of) for place in largest if without[place] >= SHOWN_SHARE)


def _told(entries: Sequence[Entry], place: int, share: float, doubt_of: Callable[[Sequence[Entry]], float]) -> str:
    """`The paper's EI: 84 of 100 parts of the doubt. A test strip in this process would bring the whole from ±1.57 to ±0.51 stop.`"""
    entry = entries[place]
    parts = f"{entry.called or entry.what}: {100 * share:.0f} of 100 parts of the doubt."
    if entry.remedy is None or entry.remedy.doubt_stops >= entry.stops.doubt_stops:
        return f"{parts} {entry.stands}" if entry.stands else parts
    then = doubt_of(_with(entries, place, entry.remedy.doubt_stops))
    words = entry.remedy.words
    return f"{parts} {words[0].upper()}{words[1:]} would bring the whole from ±{doubt_of(entries):.2f} to ±{then:.2f} stop."


def _with(entries: Sequence[Entry], place: int, doubt_stops: float) -> list[Entry]:
    """The same lines with another doubt in one of them."""
    changed = list(entries)
    changed[place] = replace(changed[place], stops=Stops(changed[place].stops.amount_stops, doubt_stops))
    return changed
