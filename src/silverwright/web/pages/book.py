"""The Book: every sheet, found by words and by what it is; papers and gear beside it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import Annotated, Final, Literal

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.asking.fields import Choice, Thing, Words
from silverwright.asking.operation import Typed
from silverwright.book.queries import SheetLine, gear, names, sheets
from silverwright.web.cards import sheet_card
from silverwright.web.fields import fields, sent_text, typed_in
from silverwright.web.figures import SheetCard
from silverwright.web.pages.shelves import SHELVES
from silverwright.web.recorded import recorded
from silverwright.web.when import day, local

CUT_AT: Final = 200  # our judgement: more cards than anybody looks through; words find the others


class Filters(Typed):
    """What a sheet is found by."""

    words: Annotated[str, Words(help="", example="rope", label="Words")] = ""
    paper: Annotated[str, Thing(kind="paper", help="", example="RC paper, grade 2", label="Paper")] = ""
    state: Annotated[Literal["exposed", "cut", "processed", "measured"] | None, Choice(help="", example="exposed", label="Where it stands")] = None
    year: Annotated[str, Words(help="", example="2026", label="Year")] = ""
    archived: Annotated[Literal["no", "yes"], Choice(help="", example="no", label="Archived")] = "no"


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
    typed = typed_in(sent_text(request.GET), Filters)
    found = sheets(typed)
    shown = found[:CUT_AT]
    filtered = bool({name: text for name, text in typed.items() if text not in {"", "no"}})
    context = {
        "done": recorded(request),
        "filters": fields(Filters, typed, {}, things=names),
        "filtered": filtered,
        "counted": counted(found, shown, filtered=filtered),
        "days": list(days(shown)),
        "shelves": _shelves(),
    }
    return render(request, "book.html", context)


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
    return [ShelfLine(shelf.slug, shelf.head, str(len(there[shelf.kind])) if there[shelf.kind] else "none yet") for shelf in SHELVES]
