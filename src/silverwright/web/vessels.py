"""What stands on the Shelf, as cards: baths round with a rim, bottles with a cap; what can hurt stands in words beside its shape."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString

Act = tuple[str, str]  # words and address


@dataclass(frozen=True, slots=True)
class Diamond:
    """A hazard at a glance: its shape and its words."""

    drawing: str
    words: str


@dataclass(frozen=True, slots=True)
class Dangers:
    """What can hurt of one thing: signal word, shapes with words, what to have ready, what to do after a splash, and why."""

    signal: str = ""
    diamonds: Sequence[Diamond] = ()
    ready: Sequence[str] = ()
    says: Sequence[str] = ()
    splash: Sequence[tuple[str, str]] = ()
    why: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class BathCard:
    """A bath as it stands in its tray."""

    name: str
    href: str
    beside: str
    holds: str
    amount: str
    amount_says: str
    more: str
    line: SafeString
    dangers: Dangers
    acts: Sequence[Act]
    low: bool = False


@dataclass(frozen=True, slots=True)
class BottleCard:
    """A bottle on its shelf, or one for what is used up."""

    name: str
    href: str
    says: str
    left: str
    dangers: Dangers
    more: str
    acts: Sequence[Act]
    cap: str = ""
    waste: bool = False


@dataclass(frozen=True, slots=True)
class Pair:
    """Two things that must not meet, and what comes of it when they do."""

    one: str
    other: str
    head: str
    says: str


@dataclass(frozen=True, slots=True)
class Taken:
    """One of the things on the shelf to choose from."""

    words: str
    says: str
    href: str
    here: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One step at the bench in large type, with what can hurt before it."""

    what: str
    amount: str = ""
    beside: str = ""
    how: str = ""
    care: str = ""
