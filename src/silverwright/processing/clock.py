"""
What a count says at any moment: a pure function of what happened, and of now.

Nothing ticks, and nothing has to run meanwhile. Events are kept with their moment; whoever wants to know how long is left asks again.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log2
from typing import Literal

from silverwright.errors import OutOfRange

Kind = Literal["start", "hold", "go on", "length", "stop"]
State = Literal["counting in", "running", "held", "over", "stopped"]


@dataclass(frozen=True, slots=True)
class Stamp:
    """
    A moment: by the wall clock, and by the clock that goes on while the computer sleeps and that nobody sets.

    `boot` tells which start of the computer `since_boot_s` counts from; it is empty on a computer without such a clock.
    """

    utc_s: float
    boot: str = ""
    since_boot_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Event:
    """
    Something that happened to a count.

    `length_s`: how long it shall be in all, with "start" and "length". `count_in_s`: how long after "start" or "go on" it really begins.
    `given_s`: with "hold" and "stop", how long it had been in all by whoever held or stopped it.
    """

    kind: Kind
    at: Stamp
    length_s: float = 0.0
    count_in_s: float = 0.0
    given_s: float | None = None


@dataclass(frozen=True, slots=True)
class Count:
    """How a count stands at one moment; `certain` is False where only the wall clock tells."""

    state: State
    passed_s: float
    length_s: float
    begins_in_s: float
    certain: bool

    @property
    def left_s(self) -> float:
        """Until its end, negative when it is over."""
        return self.length_s - self.passed_s


def between_s(earlier: Stamp, later: Stamp) -> tuple[float, bool]:
    """
    How long from one moment to the other, and is that certain?

    t = b2 - b1 within one start of the computer, else t = max(0, w2 - w1)

    Args:
        earlier: The first moment.
        later: The second moment.

    Returns:
        The time. [s] >= 0, and whether it is certain. Uncertainty: a few milliseconds of reading a clock; across a new start of the computer whatever
        the wall clock was set by meanwhile, which nobody knows.

    Raises:
        Nothing.

    Source:
        our judgement: the clock since the start goes on in sleep and cannot be set, and where it does not serve any clock is better than none.
    """
    if earlier.boot and earlier.boot == later.boot and later.since_boot_s >= earlier.since_boot_s:
        return later.since_boot_s - earlier.since_boot_s, True
    return max(0.0, later.utc_s - earlier.utc_s), False


def count(events: Sequence[Event], now: Stamp) -> Count:
    """
    How long has it counted, and how long is left?

    passed = sum of max(0, until - since - count-in) over the spans in which it ran

    Args:
        events: What happened, in its order; the first one starts it.
        now: This moment.

    Returns:
        How it stands. Uncertainty: that of every span, see `between_s`; what somebody counted by hand is taken as it was told.

    Raises:
        OutOfRange: no event, or the first one does not start it.

    Source:
        our judgement.
    """
    if not events or events[0].kind != "start":
        raise OutOfRange("events", len(events), "a start, and what followed")
    length_s, passed_s, certain, stopped = events[0].length_s, 0.0, True, False
    since: Event | None = None
    for event in events:
        if event.kind in {"hold", "stop"} and not stopped:
            span_s, sure = between_s(since.at, event.at) if since is not None else (0.0, True)
            waited_s = since.count_in_s if since is not None else 0.0
            passed_s, certain, since = passed_s + max(0.0, span_s - waited_s), certain and sure, None
            passed_s, certain = (passed_s, certain) if event.given_s is None else (event.given_s, True)
        if event.kind in {"start", "go on"} and since is None and not stopped:
            since = event
        if event.kind == "length":
            length_s = event.length_s
        if event.kind == "stop":
            stopped = True
    if stopped or since is None:
        return Count("stopped" if stopped else "held", passed_s, length_s, 0.0, certain)
    span_s, sure = between_s(since.at, now)
    begins_in_s = max(0.0, since.count_in_s - span_s)
    passed_s += max(0.0, span_s - since.count_in_s)
    state: State = "counting in" if begins_in_s > 0 else "over" if passed_s >= length_s else "running"
    return Count(state, passed_s, length_s, begins_in_s, certain and sure)


def off_stops(given_s: float, meant_s: float) -> float:
    """
    By how many stops was it more or less than it should have been?

    d = log2(t_given / t_meant)

    Args:
        given_s: Time that was given. [s] > 0
        meant_s: Time that should have been given. [s] > 0

    Returns:
        The difference, positive when it was more. [stops]. Uncertainty: that of the time given; what reciprocity makes of the difference is left out,
        a twentieth of it or less near the time meant.

    Raises:
        OutOfRange: a time not above 0.

    Source:
        our judgement for what is left out, and what a stop is.
    """
    for name, time_s in (("given_s", given_s), ("meant_s", meant_s)):
        if not time_s > 0:
            raise OutOfRange(name, time_s, "above 0")
    return log2(given_s / meant_s)
