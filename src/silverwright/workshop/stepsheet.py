"""A step sheet was read: the exposure of each patch is worked out, and kept with its density."""

from collections.abc import Mapping, Sequence
from statistics import median
from typing import Annotated, Any, Final

from pydantic import ValidationInfo, create_model, field_validator

from silverwright.asking.fields import Choice, Flag, Thing, fields_of
from silverwright.asking.operation import Typed, refuse
from silverwright.asking.rows import Rows
from silverwright.book import words
from silverwright.book.find import find_thing
from silverwright.book.life import exposures_of, own_points
from silverwright.book.models import KeptAnswer, Reading, Scan, Sheet, StepSheet
from silverwright.book.scans import densities_of, newest_calibration
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.questions.curve import Patch
from silverwright.questions.stepsheet import STEPS, StepsAnswer, StepsQuestion
from silverwright.vocabulary import DENSITY, DENSITY_SD, FIXED_OUT_DENSITY
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import REMARKS
from silverwright.workshop.scans import WHICH_SCAN
from silverwright.workshop.scene import relaxed

Patches = list[tuple[float | None, float | None, str]]
WORKED_OUT: Final = frozenset({"timed strips", "dark slide", "apertures", "step tablet"})


class PatchesForm(Typed):
    """The patches of a step sheet. A strip that is only judged by eye needs no density."""

    sheet: Annotated[str, Thing(kind="sheet", help="Which sheet, by its number.", example="26-018")]
    how: Annotated[words.HowExposed, Choice(help="How the patches got their exposure.", example="dark slide", label="Exposed by")] = "typed"
    metered: Annotated[bool, Flag(help="The typed log exposures are of lux seconds, because the light was metered.", example="yes")] = False
    densities: Annotated[tuple[float, ...], DENSITY] = ()
    patches: Annotated[
        tuple[Patch, ...], Rows(row=Patch, help="A line for each patch: density, its log exposure, a note.", example="1.88, -0.9")
    ] = ()
    read_by: Annotated[words.ReadBy, Choice(help="How the densities were read.", example="grey scale by eye")] = "densitometer"
    density_sd: Annotated[float | None, DENSITY_SD] = None
    fixed_out_density: Annotated[float | None, FIXED_OUT_DENSITY] = None
    again: Annotated[bool, Flag(help="Read anew: these readings take the place of those in the book.", example="yes")] = False
    scan: Annotated[str | None, WHICH_SCAN] = None
    lamp: Annotated[
        str | None,
        Thing(
            kind="light",
            label="Fixed lamp",
            help="A lamp that never changes: this is the control step sheet of its day.",
            example="lamp over the tray",
        ),
    ] = None
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("patches")
    @classmethod
    def _one_way(cls, patches: tuple[Patch, ...], seen: ValidationInfo) -> tuple[Patch, ...]:
        if patches and seen.data.get("densities"):
            raise refuse("Densities are given twice, in the table and in a row. Leave one of them out.")
        return patches


ELSEWHERE: Final = frozenset({"how", "typed_metered", "right_strip"})
StepSheetForm: type[PatchesForm] = create_model(
    "StepSheetForm", __base__=PatchesForm, __doc__="A step sheet.", **relaxed(StepsQuestion, without=ELSEWHERE)
)


def _work_out(given: Mapping[str, object]) -> tuple[dict[str, Any], StepsAnswer] | None:
    """
    What each patch got, from what was typed and what the book knows of the sheet's own exposure; nothing where nothing tells it.

    What was typed wins. Raises `BadQuestion` with every fault.
    """
    asked = {name: value for name, value in given.items() if name in fields_of(StepsQuestion)}
    how = str(asked.setdefault("how", "typed"))
    if how not in WORKED_OUT and "exposure_log10" not in asked:
        return None
    filled = (_from_exposure(given) | asked) if how in WORKED_OUT else asked | {"typed_metered": given.get("metered", False)}
    question = STEPS.question.model_validate(filled)
    return question.model_dump(mode="json", exclude_defaults=True), STEPS.compute(question)


def _from_exposure(given: Mapping[str, object]) -> dict[str, Any]:
    """What was metered for the sheet, and how the camera stood, as its exposure is in the book; the paper's own reciprocity tests."""
    try:
        sheet = find_thing("sheet", str(given.get("sheet", "")))
    except UnknownName:
        return {}
    if not isinstance(sheet, Sheet):
        return {}
    tests = {"own_points": own_points(sheet.paper)}
    shots = exposures_of(sheet)
    if len(shots) != 1:
        return tests
    scene: dict[str, Any] = {"given_s": shots[0].given_s}
    if "paper_lx" not in given:  # light that was metered on the paper needs neither the scene nor the lens, only the time
        mirror = {} if sheet.turned != "no" else {"mirror_stops": None, "mirror_sd_stops": None}
        scene |= {**shots[0].scene, "aperture_f": shots[0].aperture_f, "turned": sheet.turned, **mirror}
    return tests | {name: value for name, value in scene.items() if value is not None and name in fields_of(StepsQuestion)}


def _faults(given: Mapping[str, object]) -> Sequence[Fault]:
    try:
        _work_out(given)
    except BadQuestion as bad:
        own = fields_of(StepSheetForm)
        return [one if one.field in own else Fault("how", one.given, one.problem) for one in bad.faults]
    return ()


def _prepare(doing: Doing[PatchesForm]) -> tuple[dict[str, Any], StepsAnswer] | None:
    return _work_out(doing.given)


def _scanned(doing: Doing[PatchesForm]) -> tuple[Patches, float | None]:
    """The densities that a scan of this sheet gives, in the order of its grid, and their usual doubt; a clipped patch has none, and says so."""
    scan: Scan | None = doing.things.get("scan")
    if scan is None or doing.form.patches or doing.form.densities:
        return [], None
    if scan.sheet_id != doing.things["sheet"].pk:
        shows = f"sheet {scan.sheet}" if scan.sheet else "a step tablet"
        raise BadQuestion([Fault("scan", scan.name, f"{scan} shows {shows}, not sheet {doing.things['sheet']}.")])
    answer, why_not = densities_of(scan, newest_calibration(scan.scanner))
    if answer is None:
        raise BadQuestion([Fault("scan", scan.name, why_not or f"The patches of {scan} are not measured yet: place the grid first.")])
    found = dict(zip((int(place) for place in answer.positions), answer.densities, strict=True))
    rows: Patches = [(found.get(place), None, "" if place in found else "clipped in the scan") for place in range(1, len(scan.signals) + 1)]
    return rows, median(answer.density_sds) if answer.density_sds else None


def _patches_of(form: PatchesForm, scanned: Patches, exposures: tuple[float, ...]) -> Patches:
    """Density, log exposure and note of each patch; the two rows must be of one length."""
    typed: Patches = [(one.density, one.exposure_log10, one.note or "") for one in form.patches] or [(one, None, "") for one in form.densities]
    rows = typed or scanned
    if not rows:
        return [(None, one, "") for one in exposures]
    if not exposures:
        return rows
    if len(rows) != len(exposures):
        field = "patches" if form.patches else "densities" if form.densities else "scan"
        raise BadQuestion([Fault(field, str(len(rows)), f"{len(rows)} densities for {len(exposures)} patches that were exposed.")])
    return [(density, place if own is None else own, note) for (density, own, note), place in zip(rows, exposures, strict=True)]


def _step_sheet(doing: Doing[PatchesForm]) -> Done:
    sheet: Sheet = doing.things["sheet"]
    form = doing.form
    asked, answer = doing.ready or ({}, None)
    scanned, scan_sd = _scanned(doing)
    patches = _patches_of(form, scanned, answer.exposure_log10 if answer else ())
    if not patches:
        raise BadQuestion([Fault("densities", "", "Needed. Densities, a scan of the sheet, or at least how the strips were exposed.")])
    kept = StepSheet.objects.filter(sheet=sheet).first()
    if kept is not None and not form.again:
        problem = f"Sheet {sheet} has been read already. To read it anew say “again”; what stands there stays in its history."
        raise BadQuestion([Fault("sheet", sheet.number, problem)])
    kept = kept or StepSheet(sheet=sheet)
    for name in ("how", "fixed_out_density", "remarks"):
        setattr(kept, name, getattr(form, name))
    kept.read_by, kept.density_sd = ("scan", form.density_sd or scan_sd) if scanned else (form.read_by, form.density_sd)
    kept.lamp, kept.scan = doing.things.get("lamp"), doing.things.get("scan") if scanned else None
    kept.metered = answer.metered if answer else form.metered
    kept.worked_out = _keep(doing, sheet, asked, answer) if answer else None
    kept.archived_at = None
    kept.save()
    _write_readings(kept, patches, doing)
    read = sum(density is not None for density, _, _ in patches)
    says = f"Sheet {sheet}: {len(patches)} patches, {read} densities{', light metered' if kept.metered else ', light not metered'}."
    exposures = [exposure for _, exposure, _ in patches]
    return doing.done(("sheet", sheet.number), says, answer.notes if answer else (), exposure_log10=exposures, densities=read, metered=kept.metered)


def _keep(doing: Doing[PatchesForm], sheet: Sheet, asked: dict[str, Any], answer: StepsAnswer) -> KeptAnswer:
    return KeptAnswer.objects.create(
        operation=STEPS.name,
        operation_version=STEPS.version,
        question=asked,
        answer=answer.model_dump(mode="json"),
        evidence={"sheets": [sheet.number]},
        kept_at=doing.at,
        name=f"patches of sheet {sheet}",
    )


def _write_readings(kept: StepSheet, patches: Patches, doing: Doing[PatchesForm]) -> None:
    """One row for each patch; a reading that is no longer there is archived."""
    there = {one.position: one for one in kept.readings.all()}
    for position, (density, exposure, note) in enumerate(patches, start=1):
        row = there.pop(position, None) or Reading(step_sheet=kept, position=position)
        row.density, row.exposure_log10, row.note, row.left_out, row.archived_at = density, exposure, note, False, None
        row.save()
    for left_over in there.values():
        left_over.archived_at = doing.at
        left_over.save()


STEP_SHEET: Final[Deed[Any]] = Deed(
    name="step-sheet",
    says="Enter a step sheet: how its patches were exposed, and their densities.",
    form=StepSheetForm,
    perform=_step_sheet,
    prepare=_prepare,
    faults=_faults,
    examples={
        "twelve patches": {
            "sheet": "26-018",
            "metered": True,
            "exposure_log10": "-0.9 -0.75 -0.6 -0.45 -0.3 -0.15 0 0.15 0.3 0.45 0.6 0.75",
            "densities": "1.88 1.87 1.85 1.81 1.68 1.41 0.98 0.55 0.28 0.15 0.11 0.09",
        },
        "five strips with the dark slide": {"sheet": "26-017", "how": "dark slide", "strip_times_s": "8 3.3 4.7 6.6 9.4"},
    },
)
