"""One sheet's whole story: planned, exposed, processed, measured, judged, learnt, with every correction beside what it replaced."""

import secrets
from collections.abc import Mapping, Sequence
from typing import Any, Final, NamedTuple
from urllib.parse import quote, urlencode

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book.models import Exposure
from silverwright.book.queries import Story, sheet_story
from silverwright.errors import UnknownName
from silverwright.report.fieldnote import Paper, field_note_pdf, from_answer
from silverwright.web.cards import MARKS, SAYS
from silverwright.web.kept import kept_amount, kept_ledger, kept_limits, kept_notes
from silverwright.web.recorded import recorded, thing_href
from silverwright.web.scanned import view_href
from silverwright.web.story import told_story
from silverwright.web.when import day, short_day

PAPERS: Final[Mapping[str, Paper]] = {"a4": "a4", "letter": "us-letter"}


class Act(NamedTuple):
    """Something that can be done with a sheet, and where."""

    says: str
    href: str


def page(request: HttpRequest, number: str) -> HttpResponse:
    """Everything that the book says of one sheet."""
    story = sheet_story(number)
    sheet, exposure = story.line.sheet, story.line.exposure
    planned = exposure.planned if exposure else None
    acts, besides = _acts(story)
    context = {
        "story": story,
        "sheet": sheet,
        "done": recorded(request),
        "state": MARKS[story.line.state],
        "says": SAYS[story.line.state],
        "mirror": "Mirror image" if sheet.mirror_image and story.process == "direct positive" else "",
        "facts": _facts(story),
        "acts": acts,
        "besides": besides,
        "told": told_story(story),
        "planned": _planned(planned.answer) if planned else None,
        "picture": view_href(story.line.scan, "preview.png") if story.line.scan else "",
        "picture_href": thing_href("scan", story.line.scan.name) if story.line.scan else "",
        "note_href": f"/book/{quote(sheet.number)}/note.pdf",
        "key": secrets.token_urlsafe(12),
    }
    return render(request, "sheet.html", context)


def note(request: HttpRequest, number: str) -> HttpResponse:
    """The planned exposure of a sheet as a field note."""
    story = sheet_story(number)
    exposure = story.line.exposure
    if exposure is None or exposure.planned is None:
        raise UnknownName("planned exposure of sheet", number)
    paper = PAPERS.get(request.GET.get("paper", ""), "a4")
    field_note = from_answer(
        exposure.planned.answer,
        title=f"{story.line.sheet.number}  {story.line.sheet.subject}".strip(),
        facts=dict(_facts(story)),
        made=day(exposure.planned.kept_at),
        invented=settings.EXAMPLE,
    )
    response = HttpResponse(field_note_pdf(field_note, paper), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="field-note-{quote(story.line.sheet.number)}.pdf"'
    return response


def _planned(answer: Mapping[str, Any]) -> dict[str, object]:
    """The plan as it was kept: the time or the flashes, with limits, the working."""
    return {"time": kept_amount(answer), "limits": kept_limits(answer), "ledger": kept_ledger(answer), "notes": kept_notes(answer)}


def _facts(story: Story) -> list[tuple[str, str]]:
    """What is known of the sheet, without what nobody said."""
    sheet, exposure = story.line.sheet, story.line.exposure
    found = [
        ("Paper", str(sheet.paper)),
        ("Box", str(sheet.lot or "")),
        ("Process", story.process),
        *(_camera_facts(exposure) if exposure else ()),
        ("Told apart while wet", sheet.told_apart),
        ("Turned right", sheet.turned if sheet.turned != "no" else ""),
        ("Piece of", sheet.whole.number if sheet.whole else ""),
    ]
    return [(label, text) for label, text in found if text and text != "unknown"]


def _camera_facts(exposure: Exposure) -> Sequence[tuple[str, str]]:
    light = f"{exposure.light or ''}"
    return (
        ("Lens", str(exposure.lens or "")),
        ("Camera", str(exposure.camera or "")),
        ("Light", light or exposure.light_class),
        ("Holder", f"{exposure.side.holder}, side {exposure.side.side}" if exposure.side else ""),
        ("Exposed", short_day(exposure.exposed_at)),
    )


def _acts(story: Story) -> tuple[list[Act], list[Act]]:
    """What comes next for this sheet, the most likely first; and what can be done besides."""
    number = urlencode({"sheet": story.line.sheet.number})
    process = Act("Record its processing", f"/book/do/process?{number}")
    judge = Act("Say how it looks", f"/book/do/judge?{number}")
    measure = Act("Enter its densities", f"/findings/step-sheet?{number}")
    scanned = Act("Hand in a scan", f"/measure?{number}")
    cut = Act("Cut it into pieces", f"/book/do/cut?{number}")
    learnt = Act("See its curve" if story.curves else "What is known now", f"/findings?{number}")
    by_state = {
        "exposed": ([process], [cut]),
        "cut": ([], [Act("Cut it into more pieces", cut.href)]),
        "processed": ([judge, scanned, measure], [process]),
        "measured": ([learnt, judge], [scanned, measure, process]),
    }
    return by_state[story.line.state]
