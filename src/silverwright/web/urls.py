"""Addresses."""

from django.http import HttpRequest, HttpResponse
from django.urls import get_resolver, path, re_path

from silverwright.web import frame, pulse, scanfiles
from silverwright.web.guard import WRONG_METHOD
from silverwright.web.pages import (
    ask,
    book,
    camera,
    correcting,
    doing,
    exposing,
    fieldlog,
    findings,
    first,
    measure,
    outdoors,
    record,
    scan,
    sheet,
    shelves,
    stepsheet,
    wrong,
)


def programs(request: HttpRequest, rest: str) -> HttpResponse:
    """The JSON addresses: their own module, imported when the first program asks, so that no page waits for it."""
    match = get_resolver("silverwright.web.http").resolve(f"/{rest}")
    answer: HttpResponse = match.func(request, *match.args, **match.kwargs)
    return wrong.wrong(request, WRONG_METHOD) if answer.status_code == WRONG_METHOD.status else answer


urlpatterns = [
    path("", first.page, name="first"),
    path("example", first.example, name="example"),
    path("camera", camera.camera, name="camera"),
    path("camera/exposing", exposing.start, name="exposing"),
    path("camera/exposing/<str:name>", exposing.bench, name="count"),
    path("camera/exposing/<str:name>/now", exposing.now, name="count-now"),
    path("camera/record", record.record, name="record"),
    path("camera/fieldnote.pdf", record.fieldnote, name="fieldnote"),
    path("camera/fieldpage", outdoors.page, name="take-along"),
    path("camera/fieldpage.html", outdoors.field_page, name="field-page"),
    path("camera/card.pdf", outdoors.card, name="card"),
    path("camera/ruler.pdf", outdoors.ruler, name="ruler"),
    path("measure", measure.page, name="measure"),
    path("measure/scans", measure.work, name="scans"),
    path("measure/<str:name>", scan.page, name="scan"),
    path("measure/<str:name>/work", scan.work, name="scan-work"),
    path("measure/<str:name>/patches.csv", scan.table, name="scan-table"),
    path("measure/<str:name>/original", scanfiles.original, name="scan-original"),
    path("measure/<str:name>/view/<path:path>", scanfiles.view, name="scan-view"),
    path("findings", findings.page, name="findings"),
    path("findings/step-sheet", stepsheet.page, name="step-sheet"),
    path("book", book.page, name="book"),
    path("book/do/<str:name>", doing.act, name="do"),
    path("book/correct/<str:kind>/<path:name>", correcting.page, name="correct"),
    re_path(r"^book/(?P<number>\d{2}-\d+[a-z]{0,2})$", sheet.page, name="sheet"),
    re_path(r"^book/(?P<number>\d{2}-\d+[a-z]{0,2})/note\.pdf$", sheet.note, name="sheet-note"),
    path("book/log", fieldlog.page, name="field-log"),
    path("book/<str:slug>", shelves.shelf, name="shelf"),
    path("book/<str:slug>/<path:name>", shelves.thing, name="thing"),
    path("ask", ask.questions, name="ask"),
    path("ask/<str:name>", ask.question, name="question"),
    path("api/<path:rest>", programs),
    path("pulse", pulse.pulse, name="pulse"),
    path("theme", frame.theme, name="theme"),
]

handler400 = "silverwright.web.pages.wrong.bad_request"
handler403 = "silverwright.web.pages.wrong.forbidden"
handler404 = "silverwright.web.pages.wrong.not_found"
handler500 = "silverwright.web.pages.wrong.broken"
