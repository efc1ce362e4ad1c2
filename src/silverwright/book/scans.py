"""What the book knows of scans: where each stands, and its densities by its scanner's calibration."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Prefetch

from silverwright.book import jobs
from silverwright.book.find import find_thing
from silverwright.book.models import Calibration, Job, Scan, Scanner, StepLeftOut
from silverwright.errors import BadQuestion, Fault, SilverwrightError
from silverwright.questions.patches import PATCHES, PatchesAnswer


@dataclass(frozen=True, slots=True)
class ScanKnown:
    """
    A scan with where it stands.

    `state` is one of: waiting, running, failed, stopped (its newest work), refused (the file cannot be used), untagged (it must be said what its
    numbers mean), unsure (the grid must be placed), looked (a picture without places), measured. `densities` are by `calibration`, the newest of its
    scanner; without one, `why_not` says why there are none.
    """

    scan: Scan
    state: str
    job: Job | None
    calibration: Calibration | None
    densities: PatchesAnswer | None
    why_not: str


def scan_known(name: str) -> ScanKnown:
    """One scan; `UnknownName` when there is no such scan."""
    scan = find_thing("scan", name)
    assert isinstance(scan, Scan)  # noqa: S101 (the kind says so)
    return known(scan)


@dataclass(frozen=True, slots=True)
class ScanLine:
    """A scan in a list: where it stands, and how many patches of it are measured; densities are worked out one scan at a time."""

    scan: Scan
    state: str
    patches: int


def scans() -> tuple[ScanLine, ...]:
    """Every scan that is not archived, the newest first."""
    found = list(Scan.objects.filter(archived_at=None).select_related("file", "scanner", "sheet"))
    newest = {job.about: job for job in Job.objects.order_by("pk")}
    return tuple(ScanLine(one, _state(one, newest.get(one.name)), len(one.signals)) for one in found)


@dataclass(frozen=True, slots=True)
class Listed:
    """The newest scans with their states; how many more there are, and whether any is being read."""

    scans: tuple[tuple[Scan, str], ...]
    more: int
    busy: bool


def listed_scans(most: int) -> Listed:
    """The newest scans for a list."""
    found = Scan.objects.filter(archived_at=None).select_related("file", "sheet")
    shown = list(found[:most])
    newest = {job.about: job for job in Job.objects.filter(about__in=[scan.name for scan in shown]).order_by("pk")}
    return Listed(tuple((scan, _state(scan, newest.get(scan.name))) for scan in shown), found.count() - len(shown), jobs.open_still().exists())


def measured_scans(number: str) -> tuple[str, ...]:
    """The names of a sheet's scans whose patches are measured, the newest first."""
    found = Scan.objects.filter(sheet__number=number, archived_at=None).exclude(signals=[])
    return tuple(found.values_list("name", flat=True))


def known(scan: Scan) -> ScanKnown:
    """Where a scan stands."""
    job = jobs.newest(scan.name)
    calibration = newest_calibration(scan.scanner)
    answer, why_not = densities_of(scan, calibration)
    return ScanKnown(scan, _state(scan, job), job, calibration, answer, why_not)


def _state(scan: Scan, job: Job | None) -> str:
    if job is not None and job.state in {"waiting", "running", "failed", "stopped"}:
        return job.state
    if scan.said:
        return "untagged" if "untagged" in scan.header.get("asked", ()) else "refused"
    if scan.signals:
        return "measured"
    return "looked" if scan.shows == "picture" else "unsure"


def newest_calibration(scanner: Scanner | None) -> Calibration | None:
    """The calibration that counts for a scanner."""
    if scanner is None:
        return None
    left_out = Prefetch("left_out", StepLeftOut.objects.filter(archived_at=None))
    return scanner.calibrations.filter(archived_at=None).select_related("answer").prefetch_related(left_out).first()


def calibration_known(scanner: str) -> Calibration:
    """The calibration that counts for a scanner, with the steps that are left out of it; `BadQuestion` when there is none."""
    found = find_thing("scanner", scanner)
    assert isinstance(found, Scanner)  # noqa: S101 (the kind says so)
    calibration = newest_calibration(found)
    if calibration is None:
        raise BadQuestion([Fault("scanner", str(found), "It is not calibrated yet: scan a step tablet with known densities first.")])
    return calibration


@dataclass(frozen=True, slots=True)
class StepKnown:
    """
    One step of a scanner's tablet: its density, the miss that it had when it was left out in turn, and the reason for which it does not count.

    `standing` is one of: counts, look at it (it does not go with the others, or is uneven inside), left out (by the photographer), not usable
    (clipped, or its light does not fall).
    """

    number: int
    density: float
    miss_density: float | None
    standing: str
    reason: str


def steps_known(calibration: Calibration) -> tuple[StepKnown, ...]:
    """Every step of the tablet, in its order."""
    answer = calibration.answer.answer
    misses = dict(zip(map(int, answer["steps_used"]), answer["step_misses"], strict=True))
    suspect = set(answer.get("suspect_steps", ()))
    reasons = {one.step: one.reason for one in calibration.left_out.all() if one.archived_at is None}

    def standing(number: int) -> str:
        if number in reasons:
            return "left out"
        return "not usable" if number not in misses else "look at it" if number in suspect else "counts"

    numbered = enumerate((step["density"] for step in calibration.steps), start=1)
    return tuple(StepKnown(one, density, misses.get(one), standing(one), reasons.get(one, "")) for one, density in numbered)


def densities_of(scan: Scan, calibration: Calibration | None) -> tuple[PatchesAnswer | None, str]:
    """The densities of its patches; nothing, and why, where there is no calibration or it does not fit."""
    if not scan.signals:
        return None, ""
    if scan.scanner is None or calibration is None:
        not_said = "It is not said which scanner made this scan, so its numbers mean no density."
        not_yet = f"The scanner “{scan.scanner}” is not calibrated yet: scan a step tablet with known densities first."
        return None, not_said if scan.scanner is None else not_yet
    if calibration.scanner_id != scan.scanner_id:
        return None, f"That calibration is of “{calibration.scanner}”; this scan is from “{scan.scanner}”."
    try:
        return PATCHES.ask(_asked(scan, calibration)), ""
    except BadQuestion as bad:
        return None, " ".join(fault.problem for fault in bad.faults)
    except SilverwrightError as error:
        return None, str(error)


def _asked(scan: Scan, calibration: Calibration) -> dict[str, Any]:
    """The scan's signals beside the tablet, as the question takes them."""
    of_file = {name: scan.header.get(name) for name in ("bits", "halo_percent")}
    return {**calibration.tablet, **of_file, "patches": patch_rows(scan.signals)}


def patch_rows(signals: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """The signals as rows of the question."""
    wanted = ("position", "grey", "red", "green", "blue", "sd", "clipped")
    return [{name: one[name] for name in wanted if one.get(name) not in (None, "")} for one in signals]
