"""What comes of a scan: a scanner's calibration with the miss of every step, or the curve of a sheet that was read from it."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from django.conf import settings
from django.utils.safestring import SafeString, mark_safe

from silverwright.book.models import Calibration, Curve, Scan
from silverwright.book.scans import newest_calibration
from silverwright.errors import Fault
from silverwright.report.curve import curve_chart, picture_of
from silverwright.report.draw import svg
from silverwright.report.inks import PAGE
from silverwright.web.kept import kept_notes
from silverwright.web.pages.doing import form_fields, sent
from silverwright.web.swatch import swatch
from silverwright.web.when import short_day
from silverwright.workshop.deeds import find_deed

DRAWN: Final = Path(settings.SILVERWRIGHT_HOME) / "drawn"  # drawings by their content: losing the folder costs a second


@dataclass(frozen=True, slots=True)
class StepLine:
    """One step of the tablet: its known density, and by how much the others miss it."""

    number: int
    tone: SafeString
    density: str
    miss: str


@dataclass(frozen=True, slots=True)
class CurveShown:
    """The newest curve that rests on this scan."""

    sheet: str
    drawing: SafeString


def calibrated(scan: Scan, typed: Mapping[str, str], faults: Mapping[str, Fault]) -> dict[str, Any]:
    """For a step tablet: the form that calibrates, and the calibration that stands; nothing for other scans."""
    if scan.shows != "step tablet":
        return {"tablet": None}
    newest = scan.calibrations.filter(archived_at=None).select_related("answer").first()
    last = newest or newest_calibration(scan.scanner)
    form = find_deed("calibrate").form
    there = {"densities": " ".join(f"{step['density']:g}" for step in last.steps)} if last else {}
    if newest and newest.answer.question.get("turned"):
        there["turned"] = "yes"
    asks_scanner = scan.scanner is None or "scanner" in faults
    wanted = ["densities", *(("scanner",) if asks_scanner else ()), *(("turned",) if "turned" in {*there, *typed, *faults} else ())]
    return {
        "tablet": {
            "fields": form_fields(form, sent(form, {**there, **typed}), faults, wanted),
            "turn": "turned" in faults,
            "others": [fault for name, fault in faults.items() if name not in wanted],
            "steps": _steps(newest) if newest else [],
            "miss": f"{newest.largest_miss:.3f}" if newest else "",
            "when": short_day(newest.calibrated_at) if newest else "",
            "notes": kept_notes(newest.answer.answer) if newest else [],
        }
    }


def _steps(calibration: Calibration) -> list[StepLine]:
    """The steps that were used, each with the miss that it had when it was left out."""
    document = calibration.answer.answer
    rows = zip(document.get("steps_used", ()), document.get("step_density", ()), document.get("step_misses", ()), strict=False)
    return [StepLine(int(number), mark_safe(swatch(density)), f"{density:.2f}", _signed(miss)) for number, density, miss in rows]  # noqa: S308 (drawn from numbers)


def _signed(miss: float) -> str:
    shown = f"{miss:+.3f}"
    return "0.000" if shown[1:] == "0.000" else shown.replace("-", "\N{MINUS SIGN}")


def curve_of(scan: Scan) -> CurveShown | None:
    """The newest curve of a step sheet whose densities were read from this scan."""
    curve = Curve.objects.filter(step_sheet__scan=scan, archived_at=None).select_related("answer", "step_sheet__sheet").order_by("learnt_at").last()
    if curve is None:
        return None
    sheet = curve.step_sheet.sheet.number
    words = f"Curve of step sheet {sheet} with its patches, its band of doubt and its range"
    drawing = svg(curve_chart(picture_of(curve.answer.answer), PAGE), words, DRAWN)
    return CurveShown(sheet, mark_safe(drawing))  # noqa: S308 (drawn by report/draw.py from numbers and our own words)
