"""A step of a scanner's tablet is left out, or taken back: the calibration is asked anew, and what was read by it follows."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import isclose
from statistics import median
from typing import Any, Final

from silverwright.asking.operation import Typed
from silverwright.book.models import Calibration, KeptAnswer, Scan, Scanner, ScenePatch, StepLeftOut, StepSheet
from silverwright.book.scans import calibration_known, densities_of
from silverwright.book.sent_on import SAME_DENSITY
from silverwright.errors import BadQuestion, Fault
from silverwright.questions.calibration import CALIBRATION, CalibrationAnswer
from silverwright.questions.patches import PatchesAnswer
from silverwright.workshop.act import Doing, Done

Densities = Mapping[int, float]
NOT_TOLD: Final = "beyond the steps of the tablet that count"


@dataclass(frozen=True, slots=True)
class ReadBy:
    """A scan from which something was kept, and its densities by the calibration as it was."""

    scan: Scan
    before: PatchesAnswer | None


def leave_out_step(doing: Doing[Any]) -> Done:
    """The calibration rests on the other steps from now on."""
    scanner: Scanner = doing.things["scanner"]
    calibration, step = calibration_known(scanner.name), int(doing.form.step)
    if step > len(calibration.steps):
        raise BadQuestion([Fault("step", str(step), f"The tablet of “{scanner}” has {len(calibration.steps)} steps.")])
    if (there := calibration.left_out.filter(step=step, archived_at=None).first()) is not None:
        raise BadQuestion([Fault("step", str(step), f"It is left out already: {there.reason}.")])
    StepLeftOut.objects.create(calibration=calibration, step=step, reason=doing.form.reason, left_out_at=doing.at)
    return _asked_anew(doing, calibration, f"Step {step} of the tablet does not count any more for “{scanner}”: {doing.form.reason}.")


def take_back_step(doing: Doing[Any]) -> Done:
    """The calibration rests on this step again."""
    scanner: Scanner = doing.things["scanner"]
    calibration, step = calibration_known(scanner.name), int(doing.form.step)
    if (there := calibration.left_out.filter(step=step, archived_at=None).first()) is None:
        raise BadQuestion([Fault("step", str(step), f"Step {step} of the tablet of “{scanner}” was not left out.")])
    there.archived_at = doing.at
    there.save()
    return _asked_anew(doing, calibration, f"Step {step} of the tablet counts again for “{scanner}”.")


def _asked_anew(doing: Doing[Typed], calibration: Calibration, says: str) -> Done:
    left_out = list(calibration.left_out.filter(archived_at=None).values_list("step", flat=True))
    asked = {**calibration.answer.question, "left_out_steps": left_out}
    try:
        answer: CalibrationAnswer = CALIBRATION.ask(asked)
    except BadQuestion as bad:
        raise BadQuestion([Fault("step", one.given, one.problem) for one in bad.faults]) from None
    earlier = calibration.answer
    read = [ReadBy(scan, densities_of(scan, calibration)[0]) for scan in _kept_from(calibration.scanner)]
    calibration.answer = KeptAnswer.objects.create(
        operation=CALIBRATION.name,
        operation_version=CALIBRATION.version,
        question=asked,
        answer=answer.model_dump(mode="json"),
        evidence=earlier.evidence,
        kept_at=doing.at,
        name=earlier.name,
    )
    calibration.largest_miss = answer.largest_miss.value
    calibration.save()
    followed = sorted({str(one.scan.sheet) for one in read if _follows(one, calibration, doing)})
    rests = f"It rests on {len(answer.steps_used)} steps; one that is left out in turn is missed by at most {calibration.largest_miss:.3f}."
    tells = f"The densities of {_sheets(followed)} follow." if followed else ""
    told = " ".join(filter(None, (says, rests, tells)))
    scanner = calibration.scanner
    return doing.done(("scanner", scanner.name), told, answer.notes, largest_miss=calibration.largest_miss, followed=followed)


def _sheets(numbers: Sequence[str]) -> str:
    """`sheet 26-018`, `sheets 26-018 and 26-019`."""
    *before, last = numbers
    return f"sheets {', '.join(before)} and {last}" if before else f"sheet {last}"


def _kept_from(scanner: Scanner) -> list[Scan]:
    """The measured scans of sheets whose densities stand elsewhere in the book."""
    measured = Scan.objects.filter(scanner=scanner, sheet__isnull=False).exclude(signals=[]).select_related("scanner", "sheet")
    return [scan for scan in measured if scan.step_sheets.exists() or (scan.places and scan.sheet is not None and scan.sheet.scene_patches.exists())]


def _follows(read: ReadBy, calibration: Calibration, doing: Doing[Typed]) -> bool:
    """Whatever still stands as the calibration had it before stands as it has it now; what a hand corrected since stays."""
    answer, _ = densities_of(read.scan, calibration)
    before, after = _by_place(read.before), _by_place(answer)
    sheets = [_step_sheet(one, read.before, answer) for one in read.scan.step_sheets.filter(archived_at=None)]
    return any([*sheets, *(_place(one, before, after, doing) for one in _places_of(read.scan))])


def _by_place(answer: PatchesAnswer | None) -> Densities:
    return dict(zip(map(int, answer.positions), answer.densities, strict=True)) if answer else {}


def _same(one: float | None, other: float | None) -> bool:
    return one is other if one is None or other is None else isclose(one, other, abs_tol=SAME_DENSITY)


def _step_sheet(kept: StepSheet, answer_before: PatchesAnswer | None, answer: PatchesAnswer | None) -> bool:
    """The readings of a step sheet, and their usual doubt."""
    before, after = _by_place(answer_before), _by_place(answer)
    changed = False
    for row in kept.patches:
        was, now = before.get(row.position), after.get(row.position)
        if _same(row.density, was) and not _same(was, now):
            row.density, row.note = now, NOT_TOLD if now is None else "" if row.note == NOT_TOLD else row.note
            row.save()
            changed = True
    if changed and answer_before and answer and answer.density_sds and _same(kept.density_sd, median(answer_before.density_sds)):
        kept.density_sd = median(answer.density_sds)
        kept.save()
    return changed


def _places_of(scan: Scan) -> list[tuple[int, ScenePatch]]:
    """The metered places of the sheet that may have been read from this scan, each with its number on the scan."""
    rows = list(scan.sheet.scene_patches.all()) if scan.sheet else []
    numbered = list(enumerate(scan.places, start=1))
    return [(number, row) for row in rows for number, place in numbered if place.get("reading_ev") == row.reading_ev]


def _place(numbered: tuple[int, ScenePatch], before: Densities, after: Densities, doing: Doing[Typed]) -> bool:
    """A place that can be told no longer goes to the archive; it comes back when its old density does."""
    number, row = numbered
    was, now = before.get(number), after.get(number)
    if _same(was, now) or not _same(row.density, now if was is None else was) or (row.archived_at is None) == (was is None):
        return False
    row.density, row.archived_at = (row.density, doing.at) if now is None else (now, None)
    row.save()
    return True
