"""One line of an exposure ledger while it is being worked out."""

from collections.abc import Sequence
from dataclasses import dataclass

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate, Line, Remark, Rests, remark
from silverwright.facts.load import Fact
from silverwright.notes import Note
from silverwright.records import Stops
from silverwright.units import Unit


@dataclass(frozen=True, slots=True)
class Unknown:
    """Something that was not given: in words, with what is taken instead, and what it adds to the doubt."""

    words: str
    doubt_stops: float


@dataclass(frozen=True, slots=True)
class Remedy:
    """What would make a line surer: in words, and the doubt that it would leave in the line."""

    words: str
    doubt_stops: float


@dataclass(frozen=True, slots=True)
class Entry:
    """
    A line with its notes, what was not given for it, and an aside that stands behind its source.

    For the budget of doubt: how the line is called in a sentence, what would make it surer, or why nothing does.
    """

    what: str
    stops: Stops
    source: str
    rests: Rests
    notes: tuple[Remark, ...] = ()
    unknown: tuple[Unknown, ...] = ()
    aside: str = ""
    called: str = ""
    remedy: Remedy | None = None
    stands: str = ""

    @property
    def line(self) -> Line:
        """As it stands in the answer."""
        source = f"{self.source}; {self.aside}" if self.aside else self.source
        return Line(what=self.what, amount=self.stops.amount_stops, doubt=self.stops.doubt_stops, unit="stops", source=source, rests=self.rests)


def says(*facts: Fact) -> str:
    """Who says so, each once."""
    return "; ".join(dict.fromkeys(fact.says for fact in facts))


def not_given(unknown: Sequence[Unknown], now_stops: float, then_stops: float) -> Remark:
    """What was not given, what each adds, and what knowing all of it would bring."""
    words = "; ".join(f"{one.words}, ±{one.doubt_stops:.2f} stop" for one in unknown)
    return remark(Note.NOT_GIVEN, what=words, now=f"{now_stops:.2f}", then=f"{then_stops:.2f}")


def bare(unit: Unit, value: float) -> str:
    """A number as its unit shows it, without the sign: for sentences that name it already."""
    return unit.show(value).removesuffix(unit.sign).strip()


def stops_said(stops: float) -> str:
    """`0.6 stop`, `2.4 stops`."""
    said = f"{stops:.1f}"
    return f"{said} stop" if float(said) <= 1 else f"{said} stops"


def around(value: float, sd: float, least: float | None = None) -> Estimate:
    """A value with the limits of a normal: 8 of 10 fall between. Nothing below `least` is possible."""
    low = value - EIGHTY_PERCENT_SD * sd
    return Estimate(value=value, low=low if least is None else max(least, low), high=value + EIGHTY_PERCENT_SD * sd, percent=80)


def around_stops(value: float, sd_stops: float) -> Estimate:
    """A value with limits that many stops below and above it."""
    reach = 2 ** (EIGHTY_PERCENT_SD * sd_stops)
    return Estimate(value=value, low=value / reach, high=value * reach, percent=80)
