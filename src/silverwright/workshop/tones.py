"""Places of a picture that were metered: what the meter read there, and how dense they came out."""

from collections.abc import Mapping
from typing import Annotated, Any, Final

from silverwright.asking.fields import Thing, Words
from silverwright.asking.operation import Record, Typed
from silverwright.asking.rows import Rows
from silverwright.book.models import Scan, ScenePatch, Sheet
from silverwright.book.scans import densities_of, newest_calibration
from silverwright.errors import BadQuestion, Fault
from silverwright.vocabulary import DENSITY, READING_EV
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.scans import WHICH_SCAN


class PlaceRow(Record):
    """One place."""

    reading_ev: Annotated[float, READING_EV]
    density: Annotated[float, DENSITY]
    note: Annotated[str, Words(help="What is there.", example="shaded side of the mallet")] = ""


class ScenePatchesForm(Typed):
    """The places, as read by a densitometer, or from a scan whose places carry their readings."""

    sheet: Annotated[str, Thing(kind="sheet", help="Which sheet, by its number.", example="26-018")]
    scan: Annotated[str | None, WHICH_SCAN] = None
    places: Annotated[
        tuple[PlaceRow, ...], Rows(row=PlaceRow, help="A line for each place: the reading there, its density.", example="9.5 1.12")
    ] = ()


def _faults(given: Mapping[str, object]) -> list[Fault]:
    if given.get("scan") or given.get("places"):
        return []
    return [Fault("places", "", "Needed: places with their reading and their density, or a scan whose places have readings.")]


def _from_scan(scan: Scan) -> list[PlaceRow]:
    """The places that were metered and measured."""
    answer, why_not = densities_of(scan, newest_calibration(scan.scanner))
    if answer is None:
        raise BadQuestion([Fault("scan", scan.name, why_not or f"{scan} has no measured places yet.")])
    found = dict(zip(answer.positions, answer.densities, strict=True))
    rows = [
        PlaceRow(reading_ev=one["reading_ev"], density=found[place], note=one.get("note", ""))
        for place, one in enumerate(scan.places, start=1)
        if place in found and one.get("reading_ev") is not None
    ]
    if not rows:
        raise BadQuestion([Fault("scan", scan.name, f"No place of {scan} has a reading. Say what was metered there.")])
    return rows


def _scene_patches(doing: Doing[ScenePatchesForm]) -> Done:
    sheet: Sheet = doing.things["sheet"]
    scan: Scan | None = doing.things.get("scan")
    if scan is not None and scan.sheet_id != sheet.pk:
        raise BadQuestion([Fault("scan", scan.name, f"{scan} shows {'sheet ' + str(scan.sheet) if scan.sheet else 'no sheet'}, not sheet {sheet}.")])
    rows = list(doing.form.places) or (_from_scan(scan) if scan else [])
    there = {one.position: one for one in sheet.scene_patches.all()}
    for position, row in enumerate(rows, start=1):
        place = there.pop(position, None) or ScenePatch(sheet=sheet, position=position)
        place.reading_ev, place.density, place.note, place.archived_at = row.reading_ev, row.density, row.note, None
        place.save()
    for left_over in there.values():
        if left_over.archived_at is None:
            left_over.archived_at = doing.at
            left_over.save()
    many = len(rows)
    return doing.done(("sheet", sheet.number), f"Sheet {sheet}: {many} metered place{'s' if many > 1 else ''} with density.", places=many)


SCENE_PATCHES: Final[Deed[Any]] = Deed(
    name="scene-patches",
    says="Enter places of a picture that were metered, with their densities.",
    form=ScenePatchesForm,
    perform=_scene_patches,
    faults=_faults,
    examples={"two places": {"sheet": "26-016", "places": "9.5 1.12 planks\n12 0.24 sky"}},
)
