"""One line of an exposure ledger while it is being worked out."""

from dataclasses import dataclass

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate, Line, Remark, Rests
from silverwright.facts.load import Fact
from silverwright.records import Stops


@dataclass(frozen=True, slots=True)
class Unknown:
    """Something that was not given: in words, with what is taken instead, and what it adds to the doubt."""

    words: str
    doubt_stops: float


@dataclass(frozen=True, slots=True)
class Entry:
    """A line with the notes that belong to it and what was not given for it."""

    what: str
    stops: Stops
    source: str
    rests: Rests
    notes: tuple[Remark, ...] = ()
    unknown: tuple[Unknown, ...] = ()

    @property
    def line(self) -> Line:
        """As it stands in the answer."""
        return Line(what=self.what, amount=self.stops.amount_stops, doubt=self.stops.doubt_stops, unit="stops", source=self.source, rests=self.rests)


def says(*facts: Fact) -> str:
    """Who says so, each once."""
    return "; ".join(dict.fromkeys(fact.says for fact in facts))


def around(value: float, sd: float) -> Estimate:
    """A value with the limits of a normal: 8 of 10 fall between."""
    return Estimate(value=value, low=value - EIGHTY_PERCENT_SD * sd, high=value + EIGHTY_PERCENT_SD * sd, percent=80)


def around_stops(value: float, sd_stops: float) -> Estimate:
    """A value with limits that many stops below and above it."""
    reach = 2 ** (EIGHTY_PERCENT_SD * sd_stops)
    return Estimate(value=value, low=value / reach, high=value * reach, percent=80)
