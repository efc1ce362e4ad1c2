"""Measure: scans are handed in, one or several at once, and listed with where each stands; scanners beside them."""

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, JsonResponse
from django.shortcuts import render
from django.utils.http import urlencode

from silverwright.book import words
from silverwright.book.files import keep_open
from silverwright.book.queries import gear, names
from silverwright.book.scans import listed_scans, newest_calibration, scan_known
from silverwright.errors import BadQuestion, Contradiction, Fault
from silverwright.web.fields import Field, by_field, sent_text
from silverwright.web.live import kept, live
from silverwright.web.pages.doing import SENT_BEFORE, Sent, form_fields, sent, strangers
from silverwright.web.recorded import once_read, recorded_by, thing_href
from silverwright.web.scanned import card
from silverwright.web.when import short_day
from silverwright.workshop.act import Done
from silverwright.workshop.deeds import do, find_deed
from silverwright.workshop.folder import sheet_of

if TYPE_CHECKING:
    from django.core.files.uploadedfile import UploadedFile

SHOWN_AT_ONCE: Final = 48  # our judgement: a dozen rows of cards
LONGEST_FILE_NAME: Final = 200  # our judgement: what the book keeps of a file's name
WHAT_IT_SHOWS: Final = {
    "step sheet": "patches of known exposure, for the curve",
    "picture": "places that were metered, for the next exposure",
    "step tablet": "known densities, to calibrate the scanner",
}
BY_NAME: Final = "as the file's name says"
NO_FILE: Final = "Choose a file: the scan as the scanner wrote it."
EMPTY_FILE: Final = "This file is empty. Scan again, or choose another file."


@dataclass(frozen=True, slots=True)
class Arrived:
    """A file that has arrived: its SHA-256, and what it is called."""

    sha256: str
    name: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of one file: the act, or what is wrong."""

    name: str
    done: Done | None = None
    key: str = ""
    faults: tuple[Fault, ...] = ()
    arrived: Arrived | None = None


@dataclass(frozen=True, slots=True)
class ScannerLine:
    """A scanner with its newest calibration, if it has one."""

    name: str
    href: str
    miss: str
    when: str
    scan: str


def page(request: HttpRequest) -> HttpResponse:
    """The scans and the form for new ones; a form that is sent, by a person or by the page's own script, is carried out."""
    if request.method != "POST":
        return kept(request) if live(request) else _page(request, sent(find_deed("scan").form, _only_scanner() | sent_text(request.GET)), ())
    typed = sent_text(request.POST)
    found = sent(find_deed("scan").form, typed)
    outcomes = [_hand_in(found, one) for one in _arrived(request)] or [Outcome("", faults=(Fault("file", "", NO_FILE),))]
    if request.headers.get("Accept") == "application/json":
        return _for_script(outcomes[0])
    if all(one.done for one in outcomes):
        return _there(outcomes)
    return _page(request, found, outcomes, status=422)


def _only_scanner() -> dict[str, str]:
    """Who has one scanner need not choose it."""
    known = names("scanner")
    return {"scanner": known[0]} if len(known) == 1 else {}


def work(request: HttpRequest) -> HttpResponse:
    """The list of scans by itself, as the page asks for it while something is being read."""
    return render(request, "parts/scans.html", _listed())


def _arrived(request: HttpRequest) -> list[Arrived | Outcome]:
    """Files that arrived before, by their SHA-256, and those that come with this form: each is kept before anything else is asked."""
    before = [Arrived(*pair) for pair in zip(request.POST.getlist("file"), request.POST.getlist("handed_in_as"), strict=False)]
    return [*before, *(_kept(file) for file in request.FILES.getlist("files") if file.name)]


def _kept(file: "UploadedFile[Any]") -> Arrived | Outcome:
    name = _printable(file.name or "")
    return Arrived(keep_open(file).sha256, name) if file.size else Outcome(name, faults=(Fault("file", "", EMPTY_FILE),))


def _printable(name: str) -> str:
    """A file's name as the book keeps it."""
    return "".join(letter if letter.isprintable() else "_" for letter in name)[:LONGEST_FILE_NAME]


def _hand_in(found: Sent, arrived: Arrived | Outcome) -> Outcome:
    """One file becomes a scan; the sheet that nobody chose is the one in the file's name."""
    if isinstance(arrived, Outcome):
        return arrived
    given = {**found.given, "file": arrived.sha256, "handed_in_as": _printable(arrived.name)}
    if not given.get("sheet") and given.get("shows") != "step tablet":
        given["sheet"] = sheet_of(arrived.name)
    key = f"{found.key}-{arrived.sha256[:12]}"
    try:
        if (name := given.get("scanner")) and not names("scanner"):
            do("scanner", {"name": name}, key=f"{found.key}-scanner")  # the first scanner is entered by its name alone
        return Outcome(arrived.name, done=do("scan", given, key=key), key=key)
    except BadQuestion as bad:
        return Outcome(arrived.name, faults=bad.faults, arrived=arrived)
    except Contradiction:
        return Outcome(arrived.name, faults=(Fault("file", "", SENT_BEFORE),), arrived=arrived)


def _for_script(outcome: Outcome) -> JsonResponse:
    if outcome.done is None:
        return JsonResponse({"problems": [{"field": one.field, "problem": one.problem} for one in outcome.faults]}, status=422)
    return JsonResponse({"says": outcome.done.says, "href": _href(outcome)}, status=201)


def _there(outcomes: Sequence[Outcome]) -> HttpResponse:
    """To the scan, or to the list that says what was handed in."""
    href = _href(outcomes[0]) if len(outcomes) == 1 else f"/measure?{urlencode([('recorded', one.key) for one in outcomes])}"
    response = HttpResponseRedirect(href)
    response.status_code = 303
    return response


def _href(outcome: Outcome) -> str:
    assert outcome.done is not None  # noqa: S101 (asked only of what was done)
    return f"{thing_href('scan', outcome.done.name)}?{urlencode({'recorded': outcome.key})}"


def _page(request: HttpRequest, found: Sent, outcomes: Sequence[Outcome], status: int = 200) -> HttpResponse:
    deed = find_deed("scan")
    faults = by_field(fault for one in outcomes for fault in one.faults)
    done = [one.done for one in outcomes if one.done] + [told for key in request.GET.getlist("recorded") if (told := _receipt(key))]
    no_sheets = not names("sheet")
    shows = found.typed.get("shows", "")
    shows = shows if shows in WHAT_IT_SHOWS else "step tablet" if no_sheets else "step sheet"
    context: dict[str, Any] = {
        "done": done,
        "fields": [_unsaid(one) for one in form_fields(deed.form, found, faults, ("sheet", "scanner", "rows", "columns")) if isinstance(one, Field)],
        "seldom": form_fields(deed.form, found, faults, ("when", "remarks")),
        "seldom_open": any(name in found.typed or name in faults for name in ("when", "remarks")),
        "shows": [(word, WHAT_IT_SHOWS[word], word == shows) for word in words.listed(words.Shows)],
        "troubles": [(one.name, one.faults) for one in outcomes if one.faults],
        "arrived": [one.arrived for one in outcomes if one.arrived],
        "no_file": [fault.problem for one in outcomes if not one.name for fault in one.faults],
        "strangers": strangers(deed.form, faults),
        "key": found.key if not outcomes else secrets.token_urlsafe(12),
        "largest": settings.LARGEST_FILE_BYTES,
        "scanners": _scanners(),
        "no_sheets": no_sheets,
        **_listed(),
    }
    return render(request, "measure.html", context, status=status)


def _receipt(key: str) -> Done | None:
    """What was handed in, and whether it was read since."""
    done = recorded_by(key)
    return once_read(done, scan_known(done.name).state) if done and done.kind == "scan" else done


def _unsaid(field: Field) -> Field:
    """The empty choice of a sheet says who chooses then."""
    if field.name != "sheet" or not field.choices:
        return field
    return replace(field, choices=(replace(field.choices[0], label=BY_NAME), *field.choices[1:]))


def _listed() -> Mapping[str, Any]:
    """The newest scans, and whether any of them is still being read."""
    found = listed_scans(SHOWN_AT_ONCE)
    return {"cards": [card(scan, state) for scan, state in found.scans], "more": found.more, "busy": found.busy}


def _scanners() -> list[ScannerLine]:
    lines = []
    for scanner in gear()["scanner"]:
        calibration = newest_calibration(scanner)  # type: ignore[arg-type]  # the kind says so
        lines.append(
            ScannerLine(
                name=str(scanner),
                href=thing_href("scanner", str(scanner)),
                miss=f"{calibration.largest_miss:.3f}" if calibration else "",
                when=short_day(calibration.calibrated_at) if calibration else "",
                scan=calibration.scan.name if calibration and calibration.scan else "",
            )
        )
    return lines
