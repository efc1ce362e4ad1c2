"""An answer's values as a page shows them: rounded for people with the limits beside them, and exact for whoever reads the page."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.fields import Mark, Quantity, fields_of, label_of
from silverwright.asking.operation import Answer, Estimate, Line, Rests
from silverwright.asking.show import show
from silverwright.facts.load import cited
from silverwright.report.ledger import Bar, bars
from silverwright.units import SECOND, clock

CLOCK_FROM_S: Final = 59.5  # arithmetic: what rounds to a minute
MINUS: Final = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True)
class Figure:
    """One value: its label, what people read, its limits, and the exact answer as JSON."""

    name: str
    label: str
    value: str
    low: str
    high: str
    exact: str
    help: str = ""


@dataclass(frozen=True, slots=True)
class SheetCard:
    """A sheet among others: its number, what it shows, one line of figures, where it stands, and what stands in place of a picture."""

    number: str
    subject: str
    line: str
    state: str
    says: str
    instead: str
    picture: str = ""  # drawn by the page itself, or nothing
    thumb: str = ""  # where the picture of its newest scan stands, or nothing


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """One line of the working with its bar drawn."""

    what: str
    source: str
    rests: Rests
    amount: str
    doubt: str
    bar: SafeString


@dataclass(frozen=True, slots=True)
class Ledger:
    """The working: its lines, those too small to matter, and the total."""

    caption: str
    unit: str
    lines: tuple[LedgerLine, ...]
    folded: tuple[LedgerLine, ...]
    total: LedgerLine


def figure(name: str, mark: Mark, estimate: Estimate, exact: str | None = None) -> Figure:
    """A value with its limits; an open end reads "at least" or "at most"."""
    exact = estimate.model_dump_json() if exact is None else exact
    low, high = (_brief(mark, end) if end is not None else "" for end in (estimate.low, estimate.high))
    if estimate.value is None:
        value = f"at least {low}" if low else f"at most {high}" if high else "unknown"
        return Figure(name, label_of(name, mark), value, "", "", exact, mark.help)
    if low and not high:
        low = f"at least {low}"
    elif high and not low:
        high = f"at most {high}"
    return Figure(name, label_of(name, mark), _whole(mark, estimate.value), low, high, exact, mark.help)


def figures(answer: Answer, names: Iterable[str] | None = None) -> list[Figure]:
    """Every estimate of an answer, or those named, in their order."""
    marks = fields_of(type(answer))
    return [figure(name, marks[name], value) for name in (names or marks) if isinstance(value := getattr(answer, name), Estimate)]


def exact(answer: Answer) -> dict[str, str]:
    """Every field of an answer as JSON, by its name."""
    return {name: json.dumps(value) for name, value in answer.model_dump(mode="json").items()}


def sources(answer: Answer) -> list[str]:
    """What the answer rests on, each source once; one line of it may name several."""
    named = dict.fromkeys(part for source in answer.sources for part in source.split("; "))
    return [cited(one) for one in named]


def big_time(time_s: float) -> str:
    """A time as large as the page allows: `1:37`, `33 s`, `1/8 s`."""
    return clock(time_s) if time_s >= CLOCK_FROM_S else SECOND.show(time_s)


def stops(amount: float) -> str:
    """`+1.17`, `−0.25`, `0.00`."""
    shown = f"{amount:+.2f}".replace("-", MINUS)
    return "0.00" if shown[1:] == "0.00" else shown


def ledger(lines: Sequence[Line], *, caption: str, total: str, says: str = "") -> Ledger | None:
    """The working as bars; lines whose amount and doubt are both under 0.05 are folded, and still counted in the total."""
    if not lines:
        return None
    amount, doubt = sum(line.amount for line in lines), sum(line.doubt**2 for line in lines) ** 0.5
    kept = [line for line in lines if not line.folded]
    whole = Line(what=total, amount=amount, doubt=doubt, unit=lines[0].unit, source=says, rests=weakest(lines))
    drawn = bars([Bar(line.amount, line.doubt) for line in (*kept, whole)])
    rows = [_row(line, bar) for line, bar in zip((*kept, whole), drawn, strict=True)]
    folded = tuple(_row(line, "") for line in lines if line.folded)
    return Ledger(caption, lines[0].unit, tuple(rows[:-1]), folded, rows[-1])


def weakest(lines: Sequence[Line]) -> Rests:
    """What the answer rests on most: the ground of the line that brings most of the doubt."""
    return max(lines, key=lambda line: line.doubt).rests


def _row(line: Line, bar: str) -> LedgerLine:
    return LedgerLine(line.what, line.source, line.rests, stops(line.amount), f"{line.doubt:.2f}", mark_safe(bar))  # noqa: S308 (drawn by report/ledger.py from numbers only)


def _whole(mark: Mark, value: float) -> str:
    if isinstance(mark, Quantity) and mark.unit.suffix == "_s":
        return big_time(value)
    return show(mark, value)


def _brief(mark: Mark, value: float) -> str:
    """A limit: the number without its sign, which the value already carries."""
    text = _whole(mark, value)
    sign = mark.unit.sign if isinstance(mark, Quantity) and mark.unit.suffix != "_s" else ""
    return text.removesuffix(sign).strip() if sign else text
