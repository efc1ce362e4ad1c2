"""What is taken along: choose paper and lens, then save the field page, print the card or the ruler target."""

from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book.queries import last_exposure, names
from silverwright.errors import BadQuestion, Fault
from silverwright.web.fields import by_field, fields, sent_text, typed_in
from silverwright.web.outdoors import card_file, field_page_file, ruler_file
from silverwright.web.pages.wrong import Trouble, wrong
from silverwright.workshop.outdoors import OutdoorsForm, take_along

MAIN: Final = ("paper", "lens", "meter", "camera", "light", "process", "aperture_f", "paper_ei")
NOT_YET: Final = "Nothing to take along yet"


def page(request: HttpRequest) -> HttpResponse:
    """Show what can be taken along for what stands in the address."""
    typed = typed_in(sent_text(request.GET), OutdoorsForm) or _as_last_time()
    faults: dict[str, Fault] = {}
    kit = None
    try:
        kit = take_along(typed)
    except BadQuestion as bad:
        faults = by_field(bad.faults)
    context = {
        "fields": fields(OutdoorsForm, typed, faults, only=MAIN, things=names),
        "kit": kit,
        "strangers": [fault for name, fault in faults.items() if name not in MAIN],
    }
    return render(request, "fieldpage.html", context)


def _as_last_time() -> dict[str, str]:
    """What was in hand for the newest exposure."""
    last = last_exposure()
    if last is None:
        return {}
    things = {"paper": last.sheet.paper, "camera": last.camera, "light": last.light, "meter": last.meter}
    return {name: thing.name for name, thing in things.items() if thing is not None and thing.archived_at is None}


def field_page(request: HttpRequest) -> HttpResponse:
    """The field page itself, to be saved."""
    try:
        return field_page_file(take_along(typed_in(sent_text(request.GET), OutdoorsForm)))
    except BadQuestion as bad:
        return _wrong(request, bad)


def card(request: HttpRequest) -> HttpResponse:
    """The exposure card."""
    try:
        return card_file(take_along(typed_in(sent_text(request.GET), OutdoorsForm)), "a4" if request.GET.get("size") == "a4" else "a6")
    except BadQuestion as bad:
        return _wrong(request, bad)


def ruler(request: HttpRequest) -> HttpResponse:
    """The ruler target."""
    return ruler_file("us-letter" if request.GET.get("page") == "us-letter" else "a4")


def _wrong(request: HttpRequest, bad: BadQuestion) -> HttpResponse:
    """A file cannot stand beside its fields: every fault in one page."""
    return wrong(request, Trouble(422, NOT_YET, " ".join(fault.problem for fault in bad.faults)))
