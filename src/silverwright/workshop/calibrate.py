"""A scanner is calibrated: signals of a step tablet, beside its known densities."""

from collections.abc import Mapping
from typing import Annotated, Any, Final

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Flag, Thing
from silverwright.asking.operation import Typed, refuse
from silverwright.asking.rows import Rows
from silverwright.book.models import Calibration, KeptAnswer, Scan, Scanner, StepLeftOut
from silverwright.book.scans import newest_calibration
from silverwright.errors import BadQuestion, Fault
from silverwright.questions.calibration import CALIBRATION, CalibrationAnswer, StepRow
from silverwright.vocabulary import TABLET_DENSITY
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.scans import WHICH_SCAN

SIGNALS: Final = ("grey", "red", "green", "blue", "spread_share", "clipped")


class CalibrateForm(Typed):
    """A scanned step tablet with its densities, or both typed."""

    scanner: Annotated[str | None, Thing(kind="scanner", help="Which scanner; a scan knows it by itself.", example="flatbed in the office")] = None
    scan: Annotated[str | None, WHICH_SCAN] = None
    densities: Annotated[tuple[float, ...], TABLET_DENSITY] = ()
    steps: Annotated[
        tuple[StepRow, ...],
        Rows(row=StepRow, help="Without a scan in the book: each step with its density and its signals.", example="0.05 0.81"),
    ] = ()
    turned: Annotated[bool, Flag(help="The tablet lay the other way round: its last patch is the first density.", example="yes")] = False

    @field_validator("steps")
    @classmethod
    def _one_way(cls, steps: tuple[StepRow, ...], seen: ValidationInfo) -> tuple[StepRow, ...]:
        if steps and seen.data.get("scan"):
            raise refuse("The signals are given twice, by a scan and in a table. Leave one of them out.")
        return steps


def _faults(given: Mapping[str, object]) -> list[Fault]:
    faults = []
    if not given.get("scan") and not given.get("steps"):
        faults.append(Fault("scan", "", "Which scan shows the step tablet? Or type its steps as a table."))
    if given.get("scan") and not given.get("densities"):
        faults.append(Fault("densities", "", "Needed: the densities of the tablet, as its maker or a densitometer says."))
    if given.get("steps") and not given.get("scanner"):
        faults.append(Fault("scanner", "", "Which scanner do these signals come from?"))
    return faults


def _prepare(doing: Doing[CalibrateForm]) -> tuple[dict[str, Any], CalibrationAnswer, Scanner]:
    scan: Scan | None = doing.things.get("scan")
    scanner = _scanner(doing, scan)
    steps = _from_scan(scan, doing.form.densities) if scan else [row.model_dump(mode="json", exclude_defaults=True) for row in doing.form.steps]
    halo = scan.header.get("halo_percent") if scan else None
    asked: dict[str, Any] = {"steps": steps, "turned": doing.form.turned} | ({} if halo is None else {"halo_percent": halo})
    if stays := _left_out_before(scan, scanner, asked):
        asked["left_out_steps"] = [one.step for one in stays]
    try:
        answer: CalibrationAnswer = CALIBRATION.ask(asked)
    except BadQuestion as bad:
        beside = "densities" if scan else "steps"
        raise BadQuestion([Fault(one.field if one.field == "turned" else beside, "", one.problem) for one in bad.faults]) from None
    return asked, answer, scanner


def _left_out_before(scan: Scan | None, scanner: Scanner, asked: Mapping[str, Any]) -> list[StepLeftOut]:
    """What was left out of this very tablet before; it stays so while the tablet is the same."""
    before = newest_calibration(scanner)
    if scan is None or before is None or before.scan != scan or len(before.steps) != len(asked["steps"]):
        return []
    return list(before.left_out.filter(archived_at=None)) if before.tablet["turned"] == asked["turned"] else []


def _scanner(doing: Doing[CalibrateForm], scan: Scan | None) -> Scanner:
    """The scanner that is calibrated; a scan from another one is refused."""
    named: Scanner | None = doing.things.get("scanner")
    own = scan.scanner if scan else None
    if named is not None and own is not None and named != own:
        raise BadQuestion([Fault("scanner", named.name, f"{scan} was made with “{own}”: it cannot calibrate “{named}”.")])
    if (scanner := named or own) is None:
        raise BadQuestion([Fault("scanner", "", f"It is not said which scanner made {scan}. Name it here.")])
    return scanner


def _from_scan(scan: Scan, densities: tuple[float, ...]) -> list[dict[str, Any]]:
    """Each known density with the signals of its patch."""
    if not scan.signals:
        raise BadQuestion([Fault("scan", scan.name, scan.said or f"The patches of {scan} are not measured yet: place the grid first.")])
    if len(scan.signals) != len(densities):
        raise BadQuestion([Fault("densities", "", f"{len(densities)} densities for {len(scan.signals)} patches of the grid.")])
    rows = zip(densities, scan.signals, strict=True)
    return [{"density": density} | {name: row[name] for name in SIGNALS if row.get(name) not in {None, ""}} for density, row in rows]


def _calibrate(doing: Doing[CalibrateForm]) -> Done:
    asked, answer, scanner = doing.ready
    scan: Scan | None = doing.things.get("scan")
    kept = KeptAnswer.objects.create(
        operation=CALIBRATION.name,
        operation_version=CALIBRATION.version,
        question=asked,
        answer=answer.model_dump(mode="json"),
        evidence={"scan": scan.name, "version": scan.version} if scan else {},
        kept_at=doing.at,
        name=f"calibration of {scanner}"[:80],
    )
    miss = answer.largest_miss.value
    stays = _left_out_before(scan, scanner, asked)
    fresh = Calibration.objects.create(scanner=scanner, scan=scan, answer=kept, largest_miss=miss, calibrated_at=doing.at)
    for one in stays:
        StepLeftOut.objects.create(calibration=fresh, step=one.step, reason=one.reason, left_out_at=one.left_out_at)
    says = f"“{scanner}” is calibrated by {len(answer.steps_used)} steps; a step left out is missed by at most {miss:.3f}."
    return doing.done(("scanner", scanner.name), says, answer.notes, largest_miss=miss)


CALIBRATE: Final[Deed[Any]] = Deed(
    name="calibrate",
    says="Calibrate a scanner by a step tablet of known densities.",
    form=CalibrateForm,
    perform=_calibrate,
    prepare=_prepare,
    faults=_faults,
    examples={"a scanned tablet": {"scan": "scan-001", "densities": "0.05 0.20 0.35 0.50 0.65 0.80 0.95 1.10 1.25 1.40 1.55 1.70"}},
)
