"""Labels to print: for what stands on the shelf, for sheets, and for holders with their clipped corners."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render

from silverwright.asking.operation import Typed
from silverwright.errors import BadQuestion, Fault
from silverwright.report.labels import Label
from silverwright.web.fields import by_field, fields, sent_text, typed_in
from silverwright.web.labels import sheet_labels_file, shelf_labels_file
from silverwright.web.pages.wrong import Trouble, wrong
from silverwright.web.recorded import thing_href
from silverwright.workshop.labels import SheetLabelsForm, ShelfLabelsForm, sheet_labels, shelf_labels

NOT_YET: Final = "Nothing to label yet"
LOOPBACK: Final = frozenset({"127.0.0.1", "localhost", "[::1]"})
ORDER: Final = ("what", "names", "address")
NAMED: Final = 4  # our judgement: so many names are said, the others counted


@dataclass(frozen=True, slots=True)
class Printing:
    """One kind of labels: its form, its words, and where its file is."""

    form: type[Typed]
    labels: Callable[[dict[str, str]], list[Label]]
    sign: str
    asks: str
    file: str
    nothing: str
    act: str
    href: str
    other: tuple[str, str]
    otherwise: Mapping[str, str] = field(default_factory=dict)  # what is shown where the first choice has nothing


ON_THE_SHELF: Final = Printing(
    ShelfLabelsForm,
    shelf_labels,
    "Shelf",
    "What shall stand on bottles, baths and waste?",
    "/shelf/labels.pdf",
    "No bottle, bath or waste bottle is in the book yet.",
    "Enter a bottle",
    "/book/do/stock",
    ("Labels for sheets and holders", "/book/labels"),
)
IN_THE_BOOK: Final = Printing(
    SheetLabelsForm,
    sheet_labels,
    "Book",
    "Which sheet is it, and which side of which holder?",
    "/book/labels.pdf",
    "No sheet is in the book yet, and no holder is loaded.",
    "Load a holder",
    "/book/do/load",
    ("Labels for bottles, baths and waste", "/shelf/labels"),
    {"what": "holder sides"},
)


def shelf_page(request: HttpRequest) -> HttpResponse:
    """Choose which bottles, baths and waste bottles are labelled."""
    return _page(request, ON_THE_SHELF)


def sheet_page(request: HttpRequest) -> HttpResponse:
    """Choose which sheets or holder sides are labelled."""
    return _page(request, IN_THE_BOOK)


def _page(request: HttpRequest, printing: Printing) -> HttpResponse:
    """The form, and what would be printed for what stands in the address."""
    typed: Mapping[str, str] = typed_in(sent_text(request.GET), printing.form)
    found: list[Label] = []
    faults: dict[str, Fault] = {}
    try:
        found = printing.labels(dict(typed))
    except BadQuestion as bad:
        faults = by_field(bad.faults) if typed else {}
    if not found and not typed and printing.otherwise:
        typed, found = printing.otherwise, _otherwise(printing)
    context = {
        "printing": printing,
        "fields": fields(printing.form, {"address": _address(request), **typed}, faults, only=ORDER),
        "found": found,
        "says": said(found),
        "empty": not found and not request.GET,
    }
    return render(request, "labels.html", context)


def _otherwise(printing: Printing) -> list[Label]:
    """The second choice, or nothing."""
    try:
        return printing.labels(dict(printing.otherwise))
    except BadQuestion:
        return []


def said(found: Sequence[Label]) -> str:
    """`3 labels: B-05, B-06 and 1 more.`"""
    names = ", ".join(label.name for label in found[:NAMED])
    more = f" and {len(found) - NAMED} more" if len(found) > NAMED else ""
    return f"{len(found)} label{'' if len(found) == 1 else 's'}: {names}{more}." if found else ""


def shelf_file(request: HttpRequest) -> HttpResponse:
    """Labels for bottles, baths and waste as PDF."""
    return _printed(request, ShelfLabelsForm, shelf_labels_file)


def sheet_file(request: HttpRequest) -> HttpResponse:
    """Labels for sheets or holder sides as PDF."""
    return _printed(request, SheetLabelsForm, sheet_labels_file)


def go(request: HttpRequest, kind: str, name: str) -> HttpResponse:  # noqa: ARG001 (Django's shape)
    """The page of the thing whose label was scanned."""
    return HttpResponseRedirect(thing_href(kind, name))


def _printed(request: HttpRequest, form: type[Typed], file: Callable[[dict[str, str], str], HttpResponse]) -> HttpResponse:
    """A file cannot stand beside its fields: every fault on one page."""
    try:
        return file(typed_in(sent_text(request.GET), form), request.GET.get("size", ""))
    except BadQuestion as bad:
        return wrong(request, Trouble(422, NOT_YET, " ".join(fault.problem for fault in bad.faults)))


def _address(request: HttpRequest) -> str:
    """Where a phone finds this book: as this page was asked for, unless that is this computer's name for itself."""
    host = request.get_host()
    return "" if host.rpartition(":")[0] in LOOPBACK or host in LOOPBACK else f"{request.scheme}://{host}"
