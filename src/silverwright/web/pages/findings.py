"""Findings: what own sheets say of a paper, how its curve runs, and what the camera makes of it."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlencode

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.fields import Mark, fields_of
from silverwright.asking.operation import Estimate
from silverwright.book import words
from silverwright.book.evidence import told_by
from silverwright.book.find import find_thing
from silverwright.book.forecast import Next
from silverwright.book.life import is_old, process_of
from silverwright.book.models import Curve, Paper, Sheet, StepSheet
from silverwright.book.queries import PaperKnown, first_page, names, paper_known, sheets
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.curve import CurveAnswer
from silverwright.report.curve import CurvePicture, curve_chart, picture_of
from silverwright.report.draw import svg
from silverwright.report.inks import PAGE
from silverwright.units import SECOND
from silverwright.web.cards import sheet_card
from silverwright.web.coming import FRESH, coming_fields, coming_of, controls_shown, evidence_shown, next_shown
from silverwright.web.fields import Field, Option, sent_text
from silverwright.web.figures import Figure, Ledger, SheetCard, figure
from silverwright.web.kept import Document, kept_estimate, kept_ledger, kept_notes
from silverwright.web.recorded import recorded
from silverwright.web.swatch import swatch
from silverwright.web.when import short_day

MAIN: Final = ("camera_ei", "range_stops", "dmax", "dmin", "veil", "gradient")
OTHERS: Final = ("shadow_log10", "highlight_log10", "middle_log10", "range_log10", "ei_2240", "paper_speed", "patch_noise")
DENSITIES: Final = frozenset({"dmax", "dmin", "veil"})
UNIT_IN_LABEL: Final = {"camera_ei": ("Camera EI", "EI"), "range_stops": ("Range in stops", "stops"), "ei_2240": ("Index from both ends", "EI")}
PROCESSES: Final = words.listed(words.Process)
DRAWN: Final = Path(settings.SILVERWRIGHT_HOME) / "drawn"  # drawings by their content: losing the folder costs a second


@dataclass(frozen=True, slots=True)
class Patch:
    """One patch of a step sheet."""

    position: int
    exposure: str
    density: str
    tone: SafeString
    note: str
    href: str


@dataclass(frozen=True, slots=True)
class Shown:
    """A curve as the page shows it."""

    sheet: str
    learnt: str
    drawing: SafeString
    figures: Sequence[Figure]
    others: Sequence[Figure]
    grade_class: str
    shape: str
    notes: Sequence[Any]
    ledger: Ledger | None


def page(request: HttpRequest) -> HttpResponse:
    """What is known of the paper in the address, or of the one in use."""
    typed = sent_text(request.GET)
    sheet = _sheet(typed["sheet"]) if "sheet" in typed else None
    paper, process = _chosen(typed, sheet)
    context: dict[str, object] = {"done": recorded(request), "key": secrets.token_urlsafe(12), "paper": paper, "process": process}
    if paper is None:
        return render(request, "findings.html", context)
    coming = coming_of(typed, told_by(paper, process))
    known = paper_known(paper.name, process, coming)
    curve = _curve(known, sheet)
    read = curve.step_sheet if curve else getattr(sheet, "step_sheet", None)
    context |= {
        "choose": [*_choose(paper, process), *coming_fields(coming)],
        "curve": _shown(curve) if curve else None,
        "curves": [(one.step_sheet.sheet.number, short_day(one.learnt_at), one == curve) for one in _newest(known.curves)],
        "patches": _patches(read),
        "to_learn": read.sheet.number if read and (curve is None or is_old(curve)) else "",
        "coming": coming,
        "next": next_shown(known),
        "evidence": evidence_shown(known.told),
        "controls": controls_shown(known),
        "long": _long(known),
        "camera": f"/camera?{urlencode(_at_the_camera(known, coming))}",
        "waiting": _waiting(paper, process),
        "afresh": f"/findings?{urlencode(typed | {'paper': paper.name, 'process': process, 'baths': FRESH})}" if _old_baths(known) else "",
    }
    return render(request, "findings.html", context)


def _at_the_camera(known: PaperKnown, coming: Next) -> dict[str, str]:
    """What of it the camera is told; it asks by itself for the baths as they stand, so the EI for fresh ones is brought along."""
    tone = {} if coming.tone == "mid-grey" else {"reading_tone": coming.tone}
    if not coming.fresh_baths:
        return {"paper": known.paper.name, "process": known.process} | tone
    answer = known.next
    ei, sd = answer.paper_ei.value or 0.0, (answer.ei_part_stops or answer.sd_stops).value or 0.0
    fresh = {"paper_ei": f"{ei:.3g}", "paper_ei_sd_stops": f"{sd:.2f}"}
    if answer.light_offset_stops is not None and answer.light_part_stops is not None:
        offset, part = answer.light_offset_stops.value or 0.0, answer.light_part_stops.value or 0.0
        fresh |= {"light_class": coming.light or "unknown", "light_offset_stops": f"{offset:.2f}", "light_offset_sd_stops": f"{part:.2f}"}
    return {"paper": known.paper.name, "process": known.process} | tone | fresh


def _old_baths(known: PaperKnown) -> bool:
    return any(one.note == Note.BATHS_COUNTED for one in known.next.notes)


def _sheet(number: str) -> Sheet:
    found = find_thing("sheet", number)
    assert isinstance(found, Sheet)  # noqa: S101 (the kind says so)
    return found


def _chosen(typed: dict[str, str], sheet: Sheet | None) -> tuple[Paper | None, str]:
    """The paper and process in the address, else those of the sheet, else those in use."""
    if sheet is not None:
        return sheet.paper, process_of(sheet)
    used = first_page() if "paper" not in typed or "process" not in typed else None
    paper = find_thing("paper", typed["paper"]) if "paper" in typed else used.paper if used else None
    process = typed.get("process") or (used.process if used else "")
    return paper if isinstance(paper, Paper) else None, process if process in PROCESSES else PROCESSES[0]


def _choose(paper: Paper, process: str) -> list[Field]:
    """Both choices, as a form shows them."""
    papers = tuple(Option(one, one, one == paper.name) for one in dict.fromkeys([*names("paper"), paper.name]))
    processes = tuple(Option(one, one.capitalize(), one == process) for one in PROCESSES)
    return [
        Field("paper", "Paper", "", "choice", paper.name, choices=papers),
        Field("process", "Process", "", "choice", process, choices=processes),
    ]


def _newest(curves: Sequence[Curve]) -> list[Curve]:
    """The newest curve of each step sheet, the newest sheet first."""
    found: dict[int, Curve] = {}
    for curve in sorted(curves, key=lambda one: one.learnt_at):
        found[curve.step_sheet_id] = curve
    return sorted(found.values(), key=lambda one: one.learnt_at, reverse=True)


def _curve(known: PaperKnown, sheet: Sheet | None) -> Curve | None:
    """The curve of the sheet in the address, or the newest one."""
    newest = _newest(known.curves)
    if sheet is not None and hasattr(sheet, "step_sheet"):
        return next((one for one in newest if one.step_sheet.sheet_id == sheet.pk), None)
    return newest[0] if newest else None


def _shown(curve: Curve) -> Shown:
    document: Document = curve.answer.answer
    sheet = curve.step_sheet.sheet.number
    drawing = svg(
        curve_chart(_with_left_out(picture_of(document), curve.step_sheet), PAGE),
        f"Curve of step sheet {sheet} with its patches, its band of doubt and its range",
        DRAWN,
    )
    tried = ", ".join(
        f"{shape} {miss:.3f}" for shape, miss in zip(document.get("shapes_tried", ()), document.get("left_out_density", ()), strict=False)
    )
    return Shown(
        sheet=sheet,
        learnt=short_day(curve.learnt_at),
        drawing=mark_safe(drawing),  # noqa: S308 (drawn by report/draw.py from numbers and our own words)
        figures=_figures(document, MAIN),
        others=_figures(document, OTHERS),
        grade_class=str(document.get("grade_class") or ""),
        shape=f"Line drawn: {document.get('shape', 'unknown')}. Density by which each shape misses a patch that was left out: {tried}."
        if tried
        else "",
        notes=kept_notes(document),
        ledger=kept_ledger(document),
    )


def _with_left_out(picture: CurvePicture, step_sheet: StepSheet) -> CurvePicture:
    """The patches that the curve does not rest on, drawn as crosses."""
    out = [one for one in step_sheet.readings.filter(archived_at=None, left_out=True) if one.density is not None and one.exposure_log10 is not None]
    kept = len(picture.patch_log10)
    return replace(
        picture,
        patch_log10=(*picture.patch_log10, *(one.exposure_log10 or 0.0 for one in out)),
        patch_density=(*picture.patch_density, *(one.density or 0.0 for one in out)),
        left_out=frozenset(range(kept, kept + len(out))),
    )


def _figures(document: Document, wanted: Sequence[str]) -> list[Figure]:
    """The values that the document has, under today's words."""
    marks = fields_of(CurveAnswer)
    return [_brief(name, marks[name], kept_estimate(document, name)) for name in wanted if document.get(name)]


def _brief(name: str, mark: Mark, estimate: Estimate) -> Figure:
    """A figure whose label carries the unit; densities to the hundredth, as they are read."""
    shown = replace(figure(name, mark, estimate), name=f"curve-{name}")
    if name in DENSITIES and estimate.value is not None:
        value, low, high = (
            "" if one is None else f"{one:.2f}".replace("-", "\N{MINUS SIGN}") for one in (estimate.value, estimate.low, estimate.high)
        )
        return replace(shown, value=value, low=low, high=high)
    label, sign = UNIT_IN_LABEL.get(name, (shown.label, ""))
    return replace(shown, label=label, value=shown.value.removesuffix(sign).strip())


def _patches(step_sheet: StepSheet | None) -> list[Patch]:
    if step_sheet is None:
        return []
    return [
        Patch(
            position=one.position,
            exposure="" if one.exposure_log10 is None else f"{one.exposure_log10:.2f}".replace("-", "\N{MINUS SIGN}"),
            density="" if one.density is None else f"{one.density:.2f}",
            tone=mark_safe(swatch(one.density)) if one.density is not None else mark_safe(""),  # noqa: S308 (drawn from a number)
            note=", ".join(filter(None, ("left out" if one.left_out else "", one.note))),
            href=f"/book/correct/reading/{step_sheet.sheet.number}/{one.position}",
        )
        for one in step_sheet.readings.filter(archived_at=None)
    ]


def _long(known: PaperKnown) -> dict[str, object]:
    """How long exposures are lengthened: by own tests, or by our first guess; and what the sheets make of it."""
    tests = [(SECOND.show(one["metered_s"]), SECOND.show(one["needed_s"])) for one in known.told.points]
    threshold_s = fact("reciprocity", "paper_threshold").value
    tells = any(row.get("time_s", 0.0) > threshold_s for row in known.told.rows)
    learnt = f"{known.next.exponent.value:.2f} ± {known.next.exponent_sd.value:.2f}, one standard deviation" if known.told.gives_ei and tells else ""
    return {
        "tests": tests,
        "learnt": learnt,
        "exponent": fact("reciprocity", "paper_exponent"),
        "threshold": SECOND.show(threshold_s),
        "href": f"/book/do/reciprocity-test?{urlencode({'paper': known.paper.name})}",
    }


def _waiting(paper: Paper, process: str) -> list[SheetCard]:
    """Sheets of this paper that could teach something: processed, and neither measured nor judged."""
    return [sheet_card(line) for line in sheets({"paper": paper.name, "process": process, "state": "processed"})[:4]]
