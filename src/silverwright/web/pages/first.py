"""Today: what waits, the next exposure of the paper in use, the last sheets; an empty book greets."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils.timezone import now

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate
from silverwright.book.counting import counts_running
from silverwright.book.evidence import told_by
from silverwright.book.forecast import unasked
from silverwright.book.queries import FirstPage, SheetLine, first_page, newest_act, paper_known
from silverwright.vocabulary import PAPER_EI
from silverwright.web.cards import sheet_card
from silverwright.web.example import BESIDE
from silverwright.web.figures import Figure, SheetCard, figure
from silverwright.web.live import address
from silverwright.web.when import day
from silverwright.workshop.stamp import stamp

if TYPE_CHECKING:
    from silverwright.web.pages.exposing import Shown
    from silverwright.web.pages.shelf import OnTheShelf
    from silverwright.workshop.plan import Planned

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
    context = {
        "today": day(now()),
        "rows": [row for row in rows if row.cards],
        "next": _next(found),
        "loaded": _loaded(found),
        "found": found,
        "newest": newest_act(),
        "running": _running(),
        "shelf": _shelf(),
    }
    return render(request, "first.html", context)


def example(request: HttpRequest) -> HttpResponse:
    """
    Open the boatyard beside this book and lead there.

    The page goes on by itself: no form may be sent on to another port, and the first time a whole book is written before there is an address.
    """
    if request.method == "POST":
        BESIDE.open()
        response = HttpResponseRedirect("/example")
        response.status_code = 303
        return response
    return render(request, "example.html", {"address": BESIDE.address, "opening": BESIDE.opening, "trouble": BESIDE.trouble})


def _row(name: str, head: str, says: str, lines: Sequence[SheetLine]) -> Row:
    shown = [sheet_card(line) for line in lines[:MOST_WAITING]]
    return Row(name, head, says, shown, len(lines) - len(shown))


def _next(found: FirstPage) -> dict[str, object] | None:
    """The exposure of the paper in use, as the Camera would say it for the last scene, and what is known of the paper."""
    if found.paper is None:
        return None
    from silverwright.web.pages.camera_answer import answered, flashed  # noqa: PLC0415 (an empty book opens without the questions)
    from silverwright.web.pages.camera_asked import ask, ask_as_last_time  # noqa: PLC0415

    asked = ask_as_last_time() or ask({"paper": found.paper.name})
    if asked.flashes is not None:
        by_flash = flashed(asked, asked.flashes)
        rests = next((one.says for one in asked.flashes.from_book if one.field == "paper_ei"), "")
        return {"paper": found.paper, **by_flash, "figures": [], "rests": rests, "scene": asked.flashes.answer.ledger[0].what}
    if asked.planned is None:
        known = paper_known(found.paper.name, found.process)
        known_ei = known.next.paper_ei
        index = [figure("paper_ei", PAPER_EI, known_ei if known.told.gives_ei else _roughly(known_ei), known_ei.model_dump_json())]
        shown = {"figures": index, "known": known.next.rests_on, "own": known.told.gives_ei}
        return {"paper": found.paper, "href": address("/camera", asked.state), **shown}
    rests = next((one.says for one in asked.planned.from_book if one.field == "paper_ei"), "")
    index_shown = _as_findings_has_it(asked.planned, found) if rests else index_figure(asked.planned)
    return {
        "paper": found.paper,
        **answered(asked, asked.planned),
        "figures": [index_shown] if index_shown else [],
        "rests": rests,
        "scene": asked.planned.answer.ledger[0].what,
    }


def _roughly(guess: Estimate) -> Estimate:
    """A first guess has one figure, and so have its limits."""
    value, low, high = (None if one is None else float(f"{one:.1g}") for one in (guess.value, guess.low, guess.high))
    return Estimate(value=value, low=low, high=high, percent=guess.percent)


def _as_findings_has_it(planned: "Planned", found: FirstPage) -> Figure | None:
    """The EI of own sheets with the limits that Findings shows: of one EI there is one doubt."""
    if found.paper is None:
        return None
    coming = replace(unasked(told_by(found.paper, found.process)), tone=str(planned.question.get("reading_tone", "mid-grey")))
    return figure("paper_ei", PAPER_EI, paper_known(found.paper.name, found.process, coming).next.paper_ei)


def index_figure(planned: "Planned") -> Figure | None:
    """The paper's EI that was used, with its limits."""
    ei, sd_stops = (planned.question.get(name) for name in ("paper_ei", "paper_ei_sd_stops"))
    if not isinstance(ei, float) or not isinstance(sd_stops, float):
        return None
    reach_factor = 2 ** (EIGHTY_PERCENT_SD * sd_stops)
    return figure("paper_ei", PAPER_EI, Estimate(value=ei, low=ei / reach_factor, high=ei * reach_factor, percent=80))


def _running() -> list["Shown"]:
    """Every exposure that is being counted."""
    from silverwright.web.pages.exposing import shown  # noqa: PLC0415 (an empty book opens without the questions)

    return [shown(known) for known in counts_running(stamp())]


def _shelf() -> "OnTheShelf":
    """What of the shelf matters today."""
    from silverwright.web.pages.shelf import today  # noqa: PLC0415 (an empty book opens without the chemistry)

    return today()


def _loaded(found: FirstPage) -> list[str]:
    """The holder sides that are ready."""
    return [f"{side.holder}, side {side.side}" for side in found.sides if side.state == "loaded"]
