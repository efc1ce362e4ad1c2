"""What the book knows of counts: which run, how long is left of each, what became of the others."""

from dataclasses import asdict, dataclass
from typing import Any, Final

from silverwright.book.find import find_thing
from silverwright.book.models import Count, Exposure
from silverwright.processing.clock import Count as Counted
from silverwright.processing.clock import Event, Stamp, count, off_stops
from silverwright.units import SECOND, STOP

SAME_STOPS: Final = 0.05  # our judgement (house rule): a twentieth of a stop is nothing that a shutter can give


@dataclass(frozen=True, slots=True)
class CountKnown:
    """
    A count at one moment, in seconds.

    `how` is one of: counting in, running, held, over, stopped. `begins_in_s` is how long it still counts before the shutter opens. `certain` is false
    where only the wall clock tells. `happened` counts what happened: a page that has seen less is out of date. `sheet` is the number that it became.
    """

    count: Count
    how: str
    passed_s: float
    length_s: float
    left_s: float
    begins_in_s: float
    certain: bool
    happened: int
    sheet: str


def count_known(name: str, now: Stamp) -> CountKnown:
    """One count; `UnknownName` when there is none of that name."""
    row = find_thing("count", name)
    assert isinstance(row, Count)  # noqa: S101 (the kind says so)
    return known(row, now)


def counts_running(now: Stamp) -> tuple[CountKnown, ...]:
    """Everything that is being counted now, the newest first."""
    rows = Count.objects.filter(state="running").select_related("side__holder", "planned")
    return tuple(known(row, now) for row in rows)


def known(row: Count, now: Stamp) -> CountKnown:
    """How it stands at that moment."""
    found: Counted = count(events_of(row), now)
    sheet = str(row.exposure.sheet) if row.exposure is not None else ""
    return CountKnown(
        row, found.state, found.passed_s, found.length_s, found.left_s, found.begins_in_s, found.certain, len(row.events) + len(row.readings), sheet
    )


def events_of(row: Count) -> tuple[Event, ...]:
    """What happened to it, as the clock takes it."""
    return tuple(Event(**{**event, "at": Stamp(**event["at"])}) for event in row.events)


def how_counted(exposure: Exposure) -> str:
    """How an exposure was counted, where it was not given as it was set: `40 s was set, closed 0.23 stops early`."""
    row = exposure.counts.first()
    if row is None or not exposure.given_s:
        return ""
    events = events_of(row)
    set_s = count(events, events[-1].at).length_s
    off = off_stops(exposure.given_s, set_s)
    held = sum(event.kind == "hold" for event in events)
    parts = [f"closed {STOP.show(abs(off))} {'early' if off < 0 else 'late'}" if abs(off) >= SAME_STOPS else "", "held meanwhile" if held else ""]
    told = ", ".join(part for part in parts if part)
    return f"{SECOND.show(set_s)} was set, {told}" if told else ""


def written(event: Event) -> dict[str, Any]:
    """An event as it is kept."""
    return asdict(event)
