"""What comes of a scan: a scanner's calibration with the miss of every step, and what is left out of it; or the curve of a sheet read from it."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from django.conf import settings
from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.operation import Remark
from silverwright.book.models import Calibration, Curve, Scan
from silverwright.book.scans import StepKnown, newest_calibration, steps_known
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
    """One step of the tablet: its known density, by how much the others miss it, and what is to be said of it."""

    number: int
    tone: SafeString
    density: str
    miss: str
    says: str
    standing: str


@dataclass(frozen=True, slots=True)
class Standing:
    """The calibration that counts for a scanner."""

    scanner: str
    miss: str
    when: str
    steps: list[StepLine]
    notes: list[Remark]
    scan: str


@dataclass(frozen=True, slots=True)
class CurveShown:
    """The newest curve that rests on this scan."""

    sheet: str
    drawing: SafeString


def calibrated(scan: Scan, typed: Mapping[str, str], faults: Mapping[str, Fault]) -> dict[str, Any]:
    """For a step tablet: the form that calibrates, and the calibration that stands; nothing for other scans."""
    if scan.shows != "step tablet":
        return {"tablet": None}
    last = newest_calibration(scan.scanner)
    newest = last if last and last.scan_id == scan.pk else None
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
            "standing": standing(newest) if newest else None,
        }
    }


def standing(calibration: Calibration) -> Standing:
    """What a calibration says, step by step."""
    return Standing(
        scanner=str(calibration.scanner),
        miss=f"{calibration.largest_miss:.3f}",
        when=short_day(calibration.calibrated_at),
        steps=[_line(one) for one in steps_known(calibration)],
        notes=kept_notes(calibration.answer.answer),
        scan=str(calibration.scan or ""),
    )


def _line(step: StepKnown) -> StepLine:
    """A step; one that counts and is sound needs no word."""
    says = f"left out: {step.reason}" if step.reason else "" if step.standing == "counts" else step.standing
    return StepLine(
        number=step.number,
        tone=mark_safe(swatch(step.density)),  # noqa: S308 (drawn from a number)
        density=f"{step.density:.2f}",
        miss=_signed(step.miss_density),
        says=says,
        standing=step.standing.replace(" ", "-"),
    )


def _signed(miss: float | None) -> str:
    if miss is None:
        return ""
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
