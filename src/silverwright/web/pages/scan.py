"""One scan: its grid or its places under a zoom, its densities with their doubt, and where they go from here."""

import csv
import io
from collections.abc import Mapping
from typing import Any, Final
from urllib.parse import quote, urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book.files import VIEWS
from silverwright.book.models import Scan
from silverwright.book.scans import ScanKnown, scan_known
from silverwright.book.sent_on import differs, were_sent
from silverwright.errors import BadQuestion, Contradiction, Fault, UnknownName
from silverwright.units import file_size
from silverwright.web.fields import by_field, sent_text
from silverwright.web.live import kept, live
from silverwright.web.pages.calibrated import calibrated, curve_of
from silverwright.web.pages.doing import SENT_BEFORE, Sent, Trouble, form_fields, fresh, sent
from silverwright.web.pages.marking import COLUMNS, corner_names, grid_typed, places_typed
from silverwright.web.recorded import once_read, recorded, seen_there, thing_href
from silverwright.web.scanned import MARKS, SAYS, drawn, ends, notes_of, patch_lines, view_href
from silverwright.web.when import short_day
from silverwright.workshop.deeds import do, find_deed

ACTS: Final = ("grid", "places", "read-again", "stop-work", "calibrate", "scene-patches")
FORMS_BELOW: Final[Mapping[str, str]] = {"grid": "marks", "places": "marks", "calibrate": "calibrate", "scene-patches": "h-dens"}
UNDER_WAY: Final = frozenset({"waiting", "running"})
READ: Final = frozenset({"unsure", "looked", "measured"})
MEANINGS: Final[Mapping[str, str]] = {
    "linear": "twice the light, twice the number: a scanner's raw data",
    "gamma 2.2": "bent for the eye by a power of 2.2",
    "sRGB": "as screens and most cameras have it",
}
TABLE: Final = ("position", "density", "density_sd", "grey", "red", "green", "blue", "sd", "clipped", "reading_ev", "note")
SIGNALS: Final = ("grey", "red", "green", "blue", "sd", "clipped")


def page(request: HttpRequest, name: str) -> HttpResponse:
    """Show a scan, or carry out one of its acts."""
    known = scan_known(name)
    if request.method != "POST":
        return kept(request) if live(request) else _page(request, known, sent_text(request.GET), "", Trouble())
    typed = sent_text(request.POST)
    deed = typed.get("deed", "")
    if deed not in ACTS:
        raise UnknownName("act on a scan", deed, ACTS[:3])
    found = _sent(deed, {**typed, "scan": known.scan.name})
    try:
        do(deed, found.given, key=f"{found.key}-{deed}")
    except BadQuestion as bad:
        return _page(request, known, typed, deed, Trouble(by_field(bad.faults), status=422))
    except Contradiction:
        return _page(request, known, typed, deed, Trouble(says=SENT_BEFORE, status=409))
    return seen_there(thing_href("scan", known.scan.name), f"{found.key}-{deed}")


def work(request: HttpRequest, name: str) -> HttpResponse:
    """How far the reading is; when it is over, the page is asked for anew."""
    known = scan_known(name)
    if known.state not in UNDER_WAY:
        return HttpResponse(headers={"HX-Refresh": "true"})
    return render(request, "parts/work.html", {"known": known, "key": request.GET.get("key", "")})


def table(request: HttpRequest, name: str) -> HttpResponse:  # noqa: ARG001 (Django's shape)
    """The patches as a table for another program."""
    known = scan_known(name)
    scan, answer = known.scan, known.densities
    found = dict(zip(map(int, answer.positions), zip(answer.densities, answer.density_sds, strict=True), strict=True)) if answer else {}
    text = io.StringIO()
    rows = csv.writer(text)
    rows.writerow(TABLE)
    for one in scan.signals:
        place = int(one["position"])
        there = scan.places[place - 1] if place <= len(scan.places) else {}
        cells = [*(one.get(name) for name in SIGNALS), there.get("reading_ev"), there.get("note")]
        rows.writerow([place, *found.get(place, ("", "")), *("" if cell is None else cell for cell in cells)])
    called = quote(f"{scan.sheet or 'tablet'}-{scan.name}.csv")
    return HttpResponse(text.getvalue(), content_type="text/csv", headers={"Content-Disposition": f"attachment; filename*=UTF-8''{called}"})


def _sent(deed: str, typed: Mapping[str, str]) -> Sent:
    """What an act takes; the corners of a grid come as eight numbers."""
    if deed == "grid":
        typed = {**typed, "corners_percent": " ".join(typed.get(name, "?") for name in corner_names())}
    return sent(find_deed(deed).form, typed)


def _page(request: HttpRequest, known: ScanKnown, typed: Mapping[str, str], deed: str, trouble: Trouble) -> HttpResponse:
    scan = known.scan
    faults = {one: dict(trouble.faults) if one == deed else {} for one in ACTS}
    patches = patch_lines(known)
    context: dict[str, Any] = {
        "known": known,
        "scan": scan,
        "done": once_read(recorded(request), known.state),
        "says": SAYS[known.state],
        "mark": MARKS[known.state],
        "facts": _facts(scan),
        "size": file_size(scan.file.size_bytes),
        "refused": _refused(deed, trouble, measured=bool(patches)),
        "busy": known.state in UNDER_WAY,
        "lost": known.state in READ and not _viewable(known),
        "told": trouble.says,
        "problems": _homeless(deed, trouble, measured=bool(patches)),
        "key": fresh(sent(find_deed("grid").form, typed), trouble).key,
        "patches": patches,
        "notes": notes_of(scan.notes),
        "meanings": MEANINGS.items(),
        "remembered": typed.get("untagged") or (scan.scanner.untagged if scan.scanner else ""),
        "untagged": form_fields(find_deed("read-again").form, _sent("read-again", typed), faults["read-again"], ("untagged",)),
        "hand_in_again": urlencode({name: text for name, text in _given_before(scan).items() if text}),
        "curve": curve_of(scan),
        "figures": ends(known),
        **_marked(known, typed, faults),
        **_where_from_here(known, faults["scene-patches"]),
        **calibrated(scan, typed, faults["calibrate"]),
    }
    return render(request, "scan.html", context, status=trouble.status)


def _homeless(deed: str, trouble: Trouble, *, measured: bool) -> list[Fault]:
    """What is wrong with something that stands nowhere on the page now."""
    if deed in {"calibrate", "scene-patches"} and not measured:
        return list(trouble.faults.values())
    if deed in {"stop-work", "read-again"}:
        return [fault for name, fault in trouble.faults.items() if name != "untagged"]
    return []


def _refused(deed: str, trouble: Trouble, *, measured: bool) -> list[tuple[str, str]]:
    """What is wrong with a form that stands further down, with the place where it is mended: said at the top, because that is what is seen."""
    if deed not in FORMS_BELOW or (deed in {"calibrate", "scene-patches"} and not measured):
        return []
    beside = {"densities", "scanner", "turned"} if deed == "calibrate" else set()
    return [(fault.problem, f"f-{name}" if name in beside else FORMS_BELOW[deed]) for name, fault in trouble.faults.items()]


def _marked(known: ScanKnown, typed: Mapping[str, str], faults: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """The viewer and the form of its marks; a file that could not be read has none."""
    scan = known.scan
    if not _viewable(known):
        return {"readable": False}
    of_picture = scan.shows == "picture"
    grid = grid_typed(known, typed)
    standing = Sent({"rows": grid.rows, "columns": grid.columns}, {}, "")
    left_out = [line.position for line in patch_lines(known) if line.out]
    return {
        "readable": True,
        "marks": "places" if of_picture else "grid",
        "preview": view_href(scan, "preview.png"),
        "tiles": view_href(scan, "tiles.dzi"),
        "why": scan.header.get("grid_why", ""),
        "grid": grid,
        "counts": form_fields(find_deed("grid").form, standing, faults["grid"], ("rows", "columns")),
        "place_rows": places_typed(scan, typed),
        "columns": COLUMNS.values(),
        "mark_faults": [fault for name, fault in faults["places" if of_picture else "grid"].items() if name not in {"rows", "columns"}],
        "drawing": drawn(scan, None if of_picture else grid.grid, left_out),
        "left_out": left_out,
    }


def _where_from_here(known: ScanKnown, faults: Mapping[str, Any]) -> dict[str, Any]:
    """Where the densities go: those of a step sheet to the curve, those of metered places to the next exposure."""
    scan, sheet = known.scan, known.scan.sheet
    measured = known.densities is not None and sheet is not None
    before, other = were_sent(known), differs(known)
    to_curve = f"/findings/step-sheet?{urlencode({'sheet': sheet.number, 'scan': scan.name})}" if sheet else ""
    return {
        "send_on": to_curve if measured and scan.shows == "step sheet" else "",
        "keepable": measured and any(one.get("reading_ev") is not None for one in scan.places),
        "kept": measured and before and not other and scan.shows == "picture",
        "sent_before": before,
        "out_of_step": other,
        "scene_faults": list(faults.values()),
        "calibrated_on": short_day(known.calibration.calibrated_at) if known.calibration else "",
        "miss": f"{known.calibration.largest_miss:.3f}" if known.calibration else "",
    }


def _viewable(known: ScanKnown) -> bool:
    """Whether there are pictures of it for the eye."""
    return known.state not in {"refused", "untagged"} and (VIEWS / known.scan.views / "preview.png").is_file()


def _given_before(scan: Scan) -> Mapping[str, str]:
    """What was said of a file, for the one that takes its place."""
    return {"shows": scan.shows, "sheet": str(scan.sheet or ""), "scanner": str(scan.scanner or "")}


def _facts(scan: Scan) -> list[str]:
    """What the file says of itself, in the margin."""
    header = scan.header
    found = [
        str(scan.scanner or "scanner not said"),
        f"{header['bits']} bit{'s' * (header['bits'] > 1)}" if header.get("bits") else "",
        f"{header['width_px']} x {header['height_px']} pixels" if header.get("width_px") else "",
        f"{header['dpi']:g} to the inch" if header.get("dpi") else "",
        _profile(scan),
        f"scanned {short_day(scan.scanned_at)}",
    ]
    return [one for one in found if one]


def _profile(scan: Scan) -> str:
    if "width_px" not in scan.header:
        return ""
    if scan.header.get("has_profile"):
        return f"profile “{scan.header.get('profile_name') or 'without a name'}” read from the file"
    return "no profile in the file" if scan.untagged == "unknown" else f"no profile; taken as {scan.untagged}"
