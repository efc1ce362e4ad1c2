"""A step sheet was read: the exposure of each patch, and its density."""

from typing import Annotated, Any, Final

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag, Thing
from silverwright.asking.operation import Typed, refuse
from silverwright.asking.rows import Rows
from silverwright.book import words
from silverwright.book.models import Reading, Sheet, StepSheet
from silverwright.errors import BadQuestion, Fault
from silverwright.questions.curve import Patch
from silverwright.vocabulary import DENSITY, DENSITY_SD, EXPOSURE_LOG10, FIXED_OUT_DENSITY
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import REMARKS


class StepSheetForm(Typed):
    """The patches of a step sheet. A strip that is only judged by eye needs no density."""

    sheet: Annotated[str, Thing(kind="sheet", help="Which sheet, by its number.", example="26-018")]
    how: Annotated[words.HowExposed, Choice(help="How the patches got their exposure.", example="step tablet")] = "typed"
    metered: Annotated[bool, Flag(help="Log exposures are in lux seconds, because the light was metered.", example="yes")] = False
    exposure_log10: Annotated[tuple[float, ...], EXPOSURE_LOG10] = ()
    densities: Annotated[tuple[float, ...], DENSITY] = ()
    patches: Annotated[
        tuple[Patch, ...], Rows(row=Patch, help="A line for each patch: density, its log exposure, a note.", example="1.88, -0.9")
    ] = ()
    read_by: Annotated[words.ReadBy, Choice(help="How the densities were read.", example="grey scale by eye")] = "densitometer or scan"
    density_sd: Annotated[float | None, DENSITY_SD] = None
    fixed_out_density: Annotated[float | None, FIXED_OUT_DENSITY] = None
    again: Annotated[bool, Flag(help="Read anew: these readings take the place of those in the book.", example="yes")] = False
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("patches")
    @classmethod
    def _one_way(cls, patches: tuple[Patch, ...], seen: ValidationInfo) -> tuple[Patch, ...]:
        if patches and seen.data.get("densities"):
            raise refuse("Densities are given twice, in the table and in a row. Leave one of them out.")
        return patches


Patches = list[tuple[float | None, float | None, str]]


def patches_of(form: StepSheetForm, exposures: tuple[float, ...]) -> Patches:
    """Density, log exposure and note of each patch; the two rows must be of one length."""
    rows: Patches = [(one.density, one.exposure_log10, one.note or "") for one in form.patches] or [(one, None, "") for one in form.densities]
    if not rows:
        return [(None, one, "") for one in exposures]
    if not exposures:
        return rows
    if len(rows) != len(exposures):
        field = "patches" if form.patches else "densities"
        raise BadQuestion([Fault(field, str(len(rows)), f"{len(rows)} densities for {len(exposures)} patches that were exposed.")])
    return [(density, place if own is None else own, note) for (density, own, note), place in zip(rows, exposures, strict=True)]


def _step_sheet(doing: Doing[StepSheetForm]) -> Done:
    sheet: Sheet = doing.things["sheet"]
    form = doing.form
    patches = patches_of(form, form.exposure_log10)
    if not patches:
        raise BadQuestion([Fault("densities", "", "Needed. Densities, or at least how the strips were exposed.")])
    kept = StepSheet.objects.filter(sheet=sheet).first()
    if kept is not None and not form.again:
        problem = f"Sheet {sheet} has been read already. To read it anew say “again”; what stands there stays in its history."
        raise BadQuestion([Fault("sheet", sheet.number, problem)])
    kept = kept or StepSheet(sheet=sheet)
    for name in ("how", "metered", "read_by", "density_sd", "fixed_out_density", "remarks"):
        setattr(kept, name, getattr(form, name))
    kept.archived_at = None
    kept.save()
    _write_readings(kept, patches, doing)
    read = sum(density is not None for density, _, _ in patches)
    says = f"Sheet {sheet}: {len(patches)} patches, {read} densities{', light metered' if form.metered else ''}."
    return doing.done(("sheet", sheet.number), says, patches=len(patches), densities=read, metered=form.metered)


def _write_readings(kept: StepSheet, patches: Patches, doing: Doing[StepSheetForm]) -> None:
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
    examples={
        "twelve patches": {
            "sheet": "26-018",
            "metered": True,
            "exposure_log10": "-0.9 -0.75 -0.6 -0.45 -0.3 -0.15 0 0.15 0.3 0.45 0.6 0.75",
            "densities": "1.88 1.87 1.85 1.81 1.68 1.41 0.98 0.55 0.28 0.15 0.11 0.09",
        }
    },
)
