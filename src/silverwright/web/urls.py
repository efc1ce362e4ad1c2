"""Addresses."""

from collections.abc import Callable
from importlib import import_module

from django.http import HttpRequest, HttpResponse
from django.urls import get_resolver, path, re_path

from silverwright.web import frame, pulse, scanfiles
from silverwright.web.guard import WRONG_METHOD
from silverwright.web.pages import wrong


def later(module: str, view: str) -> Callable[..., HttpResponse]:
    """A page that is loaded when somebody first wants it, so that the server starts without waiting for all of them."""

    def page(request: HttpRequest, **named: str) -> HttpResponse:
        answer: HttpResponse = getattr(import_module(f"silverwright.web.pages.{module}"), view)(request, **named)
        return answer

    return page


def programs(request: HttpRequest, rest: str) -> HttpResponse:
    """The JSON addresses: their own module, imported when the first program asks, so that no page waits for it."""
    match = get_resolver("silverwright.web.http").resolve(f"/{rest}")
    answer: HttpResponse = match.func(request, *match.args, **match.kwargs)
    return wrong.wrong(request, WRONG_METHOD) if answer.status_code == WRONG_METHOD.status else answer


urlpatterns = [
    path("", later("first", "page"), name="first"),
    path("example", later("first", "example"), name="example"),
    path("camera", later("camera", "camera"), name="camera"),
    path("camera/exposing", later("exposing", "start"), name="exposing"),
    path("camera/exposing/<str:name>", later("exposing", "bench"), name="count"),
    path("camera/exposing/<str:name>/now", later("exposing", "now"), name="count-now"),
    path("camera/record", later("record", "record"), name="record"),
    path("camera/fieldnote.pdf", later("record", "fieldnote"), name="fieldnote"),
    path("camera/fieldpage", later("outdoors", "page"), name="take-along"),
    path("camera/fieldpage.html", later("outdoors", "field_page"), name="field-page"),
    path("camera/card.pdf", later("outdoors", "card"), name="card"),
    path("camera/ruler.pdf", later("outdoors", "ruler"), name="ruler"),
    path("measure", later("measure", "page"), name="measure"),
    path("measure/scans", later("measure", "work"), name="scans"),
    path("measure/<str:name>", later("scan", "page"), name="scan"),
    path("measure/<str:name>/work", later("scan", "work"), name="scan-work"),
    path("measure/<str:name>/patches.csv", later("scan", "table"), name="scan-table"),
    path("measure/<str:name>/original", scanfiles.original, name="scan-original"),
    path("measure/<str:name>/view/<path:path>", scanfiles.view, name="scan-view"),
    path("findings", later("findings", "page"), name="findings"),
    path("findings/step-sheet", later("stepsheet", "page"), name="step-sheet"),
    path("shelf", later("shelf", "page"), name="shelf"),
    path("shelf/mix", later("shelf_mix", "page"), name="mix"),
    path("shelf/mixing-card.pdf", later("mixing_card", "page"), name="mixing-card"),
    path("shelf/hazard-card.pdf", later("hazard_card", "page"), name="hazard-card"),
    path("shelf/dilute", later("shelf_dilute", "page"), name="dilute"),
    path("shelf/test", later("shelf_test", "page"), name="test"),
    path("shelf/discard", later("shelf_discard", "page"), name="discard"),
    path("shelf/baths/<path:name>", later("shelf_thing", "bath"), name="bath"),
    path("shelf/stocks/<path:name>", later("shelf_thing", "stock"), name="stock"),
    path("shelf/waste/<path:name>", later("shelf_thing", "waste"), name="waste"),
    path("shelf/cut", later("cutting", "page"), name="cut-paper"),
    path("shelf/labels", later("labels", "shelf_page"), name="labels"),
    path("shelf/labels.pdf", later("labels", "shelf_file"), name="labels-file"),
    re_path(r"^shelf/(?P<slug>papers|boxes)$", later("shelves", "things"), name="paper-things"),
    re_path(r"^shelf/(?P<slug>papers|boxes)/(?P<name>.+)$", later("shelves", "thing"), name="paper-thing"),
    path("shelf/recipes", later("shelf_recipes", "page"), name="recipes"),
    path("book", later("book", "page"), name="book"),
    path("book/do/<str:name>", later("doing", "act"), name="do"),
    path("book/correct/<str:kind>/<path:name>", later("correcting", "page"), name="correct"),
    re_path(r"^book/(?P<number>\d{2}-\d+[a-z]{0,2})$", later("sheet", "page"), name="sheet"),
    re_path(r"^book/(?P<number>\d{2}-\d+[a-z]{0,2})/note\.pdf$", later("sheet", "note"), name="sheet-note"),
    path("book/labels", later("labels", "sheet_page"), name="sheet-labels"),
    path("book/labels.pdf", later("labels", "sheet_file"), name="sheet-labels-file"),
    path("go/<str:kind>/<path:name>", later("labels", "go"), name="go"),
    path("book/log", later("fieldlog", "page"), name="field-log"),
    re_path(r"^book/(?P<rest>(?:papers|boxes)(?:/.+)?)$", later("shelves", "moved")),
    path("book/<str:slug>", later("shelves", "things"), name="things"),
    path("book/<str:slug>/<path:name>", later("shelves", "thing"), name="thing"),
    path("ask", later("ask", "questions"), name="ask"),
    path("ask/<str:name>", later("ask", "question"), name="question"),
    path("api/<path:rest>", programs),
    path("pulse", pulse.pulse, name="pulse"),
    path("theme", frame.theme, name="theme"),
]

handler400 = "silverwright.web.pages.wrong.bad_request"
handler403 = "silverwright.web.pages.wrong.forbidden"
handler404 = "silverwright.web.pages.wrong.not_found"
handler500 = "silverwright.web.pages.wrong.broken"
