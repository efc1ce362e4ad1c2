"""The Book: every sheet, found by words and by what it is; gear beside it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book.queries import SheetLine, gear, names, sheets
from silverwright.web.cards import SAYS, sheet_card
from silverwright.web.fields import Field, Option, sent_text
from silverwright.web.figures import SheetCard
from silverwright.web.pages.shelves import SHELVES
from silverwright.web.recorded import recorded
from silverwright.web.when import day, local

FILTERS: Final = ("words", "paper", "state", "year")
ARCHIVED: Final = "archived"
CUT_AT: Final = 200  # our judgement: more cards than anybody looks through; words find the others


@dataclass(frozen=True, slots=True)
class Day:
    """The sheets of one day."""

    head: str
    says: str
    cards: Sequence[SheetCard]


@dataclass(frozen=True, slots=True)
class ShelfLine:
    """A link to a shelf, with how much stands on it."""

    slug: str
    head: str
    says: str


def page(request: HttpRequest) -> HttpResponse:
    """The sheets that fit the filters in the address."""
    typed = {name: text for name, text in sent_text(request.GET).items() if name in FILTERS}
    archived = typed.get("state") == ARCHIVED
    found = sheets({**typed, "state": "", "archived": "yes"} if archived else typed)
    shown = found[:CUT_AT]
    context = {
        "done": recorded(request),
        "filters": filters(typed),
        "filtered": bool(typed),
        "counted": counted(found, shown, filtered=bool(typed)),
        "days": list(days(shown)),
        "shelves": _shelves(),
    }
    return render(request, "book.html", context)


def filters(typed: Mapping[str, str]) -> list[Field]:
    """What a sheet is found by."""
    states = {**SAYS, ARCHIVED: "Archived"}
    return [
        Field("words", "Words", "", "line", typed.get("words", ""), placeholder="rope, 26-01"),
        Field("paper", "Paper", "", "choice", "", choices=_options("All papers", {name: name for name in names("paper")}, typed.get("paper", ""))),
        Field("state", "Where it stands", "", "choice", "", choices=_options("Anywhere", states, typed.get("state", ""))),
        Field("year", "Year", "", "line", typed.get("year", ""), placeholder="any"),
    ]


def _options(anything: str, words: Mapping[str, str], chosen: str) -> tuple[Option, ...]:
    offered = {"": anything, **({chosen: chosen} if chosen and chosen not in words else {}), **words}
    return tuple(Option(value, label, value == chosen) for value, label in offered.items())


def counted(found: Sequence[SheetLine], shown: Sequence[SheetLine], *, filtered: bool) -> str:
    """`19 sheets.`"""
    says = f"{len(found)} sheet{'' if len(found) == 1 else 's'}{' fit' + ('s' if len(found) == 1 else '') if filtered else ''}."
    return f"{says} The newest {len(shown)} are shown; words find the others." if len(shown) < len(found) else says


def days(lines: Iterable[SheetLine]) -> Iterable[Day]:
    """The sheets by the day of their newest exposure."""
    by_time = sorted(lines, key=lambda line: (_at(line).date(), line.sheet.running, line.sheet.letter), reverse=True)
    for head, group in groupby(by_time, key=lambda line: day(_at(line))):
        of_day = list(group)
        waiting = sum(line.state == "exposed" for line in of_day)
        yield Day(head, f"{waiting} not processed yet." if waiting else "", [sheet_card(line) for line in of_day])


def _at(line: SheetLine) -> datetime:
    """When it was exposed last, by this computer's clock."""
    return local(line.exposure.exposed_at if line.exposure else line.sheet.made_at)


def _shelves() -> list[ShelfLine]:
    there = gear()
    here = [shelf for shelf in SHELVES if shelf.place == "book"]
    return [ShelfLine(shelf.slug, shelf.head, str(len(there[shelf.kind])) if there[shelf.kind] else "none yet") for shelf in here]
