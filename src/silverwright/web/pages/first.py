"""Today: what waits, the next exposure of the paper in use, the last sheets; an empty book greets."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.timezone import now
from django.views.decorators.http import require_POST

from silverwright.book.queries import FirstPage, SheetLine, first_page
from silverwright.web.cards import sheet_card
from silverwright.web.example import start_example
from silverwright.web.figures import SheetCard
from silverwright.web.when import day

MOST_WAITING: Final = 8  # our judgement: two rows of cards; the Book has them all


@dataclass(frozen=True, slots=True)
class Row:
    """Some sheets that want the same thing."""

    name: str
    head: str
    says: str
    cards: Sequence[SheetCard]
    more: int


def page(request: HttpRequest) -> HttpResponse:
    """What matters today."""
    found = first_page()
    if not found.last and found.paper is None:
        return render(request, "empty.html", {"today": day(now())})
    waiting = {line.sheet.pk for line in (*found.to_process, *found.to_measure)}
    rows = [
        _row("process", "For the trays", "Exposed, not processed.", found.to_process),
        _row("measure", "To measure", "Processed; neither densities nor a verdict are in the book.", found.to_measure),
        _row("last", "Last sheets", "", [line for line in found.last if line.sheet.pk not in waiting]),
    ]
    context = {"today": day(now()), "rows": [row for row in rows if row.cards], "next": _next(found), "loaded": _loaded(found), "found": found}
    return render(request, "first.html", context)


@require_POST
def example(request: HttpRequest) -> HttpResponse:
    """Start the boatyard beside this book and lead there: a page that goes on by itself, for no form may be sent on to another port."""
    return render(request, "example.html", {"address": start_example()})


def _row(name: str, head: str, says: str, lines: Sequence[SheetLine]) -> Row:
    shown = [sheet_card(line) for line in lines[:MOST_WAITING]]
    return Row(name, head, says, shown, len(lines) - len(shown))


def _next(found: FirstPage) -> dict[str, object] | None:
    """The exposure of the paper in use, as the Camera would say it for the last scene."""
    if found.paper is None:
        return None
    from silverwright.web.pages.camera import answered, ask, last_time  # noqa: PLC0415 (an empty book opens without the questions)

    asked = ask(last_time() or {"paper": found.paper.name})
    planned = asked.planned
    known = {one.field: one for one in planned.from_book} if planned else {}
    return {
        "paper": found.paper,
        **(answered(asked, planned) if planned else {}),
        "rests": known["paper_ei"].says if "paper_ei" in known else "",
        "scene": planned.answer.ledger[0].what if planned else "",
    }


def _loaded(found: FirstPage) -> list[str]:
    """The holder sides that are ready."""
    return [f"{side.holder}, side {side.side}" for side in found.sides if side.state == "loaded"]
