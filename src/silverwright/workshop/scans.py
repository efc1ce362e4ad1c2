"""Scans come into the book: the file is kept, its reading is asked for, and the grid of patches is placed."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Annotated, Any, Final

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Thing, Upload, Words
from silverwright.asking.operation import Record, Typed, refuse
from silverwright.asking.rows import Rows
from silverwright.book import jobs, words
from silverwright.book.files import find_file
from silverwright.book.models import Scan, ScanFile, Scanner
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.vocabulary import (
    ACROSS_PERCENT,
    CORNERS_PERCENT,
    DOWN_PERCENT,
    GRID_COLUMNS,
    GRID_ROWS,
    HEIGHT_PERCENT,
    READING_EV,
    WIDTH_PERCENT,
)
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, REMARKS, WHEN, WHOLE

CORNER_NUMBERS: Final = 8  # arithmetic: four corners, each across and down
SMALLEST_PERCENT: Final = 0.5  # our judgement: a field of patches that is narrower is a slip of the hand
WHICH_SCAN: Final = Thing(kind="scan", help="Which scan.", example="scan-003")
UNTAGGED: Final = Choice(
    help="What the numbers mean in a file without a profile; remembered for the scanner.", example="gamma 2.2", label="Without a profile"
)


class ScanForm(Typed):
    """A scan: the file as the scanner wrote it, and what it shows."""

    file: Annotated[str, Upload(help="The scan as the scanner wrote it: TIFF, PNG or JPEG, best with 16 bits.", example="26-018.tif")]
    shows: Annotated[words.Shows, Choice(help="What was scanned.", example="step sheet")] = "step sheet"
    sheet: Annotated[str | None, Thing(kind="sheet", help="Which sheet it is; a step tablet is none.", example="26-018")] = None
    scanner: Annotated[str | None, Thing(kind="scanner", help="Which scanner; its calibration makes densities.", example="flatbed in the office")] = (
        None
    )
    untagged: Annotated[words.Untagged | None, UNTAGGED] = None
    rows: Annotated[float | None, GRID_ROWS, WHOLE] = None
    columns: Annotated[float | None, GRID_COLUMNS, WHOLE] = None
    handed_in_as: Annotated[str, Words(help="What the file was called.", example="26-018.tif", longest=200, label="Name of the file")] = ""
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""


class GridForm(Typed):
    """Where the patches lie."""

    scan: Annotated[str, WHICH_SCAN]
    corners_percent: Annotated[tuple[float, ...], CORNERS_PERCENT]
    rows: Annotated[float, GRID_ROWS, WHOLE]
    columns: Annotated[float, GRID_COLUMNS, WHOLE]

    @field_validator("corners_percent")
    @classmethod
    def _four_corners(cls, corners_percent: tuple[float, ...]) -> tuple[float, ...]:
        if len(corners_percent) != CORNER_NUMBERS:
            raise refuse(f"{len(corners_percent)} numbers; needed are 8, two for each of four corners.")
        x, y = corners_percent[0::2], corners_percent[1::2]
        if not _turns_one_way(list(zip(x, y, strict=True))):
            raise refuse("These corners do not go round a field: the sides cross, or three corners lie in one line.")
        if max(x) - min(x) < SMALLEST_PERCENT or max(y) - min(y) < SMALLEST_PERCENT:
            raise refuse("This field is too small to hold patches.")
        return corners_percent


class Place(Record):
    """A place of a picture."""

    x_percent: Annotated[float, ACROSS_PERCENT]
    y_percent: Annotated[float, DOWN_PERCENT]
    width_percent: Annotated[float, WIDTH_PERCENT] = 2
    height_percent: Annotated[float, HEIGHT_PERCENT] = 2
    reading_ev: Annotated[float | None, READING_EV] = None
    note: Annotated[str, Words(help="What is there.", example="shaded side of the mallet")] = ""


class PlacesForm(Typed):
    """Places of a picture that are to be measured."""

    scan: Annotated[str, WHICH_SCAN]
    places: Annotated[
        tuple[Place, ...],
        Rows(row=Place, help="A line for each place: its middle across and down, its size, what was metered there.", example="40 55 2 2 9.5"),
    ]

    @field_validator("places")
    @classmethod
    def _some(cls, places: tuple[Place, ...], info: ValidationInfo) -> tuple[Place, ...]:  # noqa: ARG003 (pydantic's shape)
        if not places:
            raise refuse("Needed: at least one place.")
        return places


class OfScan(Typed):
    """One scan."""

    scan: Annotated[str, WHICH_SCAN]


class ReadAgainForm(OfScan):
    """A scan, and what was not known when it was read before."""

    untagged: Annotated[words.Untagged | None, UNTAGGED] = None
    rows: Annotated[float | None, GRID_ROWS, WHOLE] = None
    columns: Annotated[float | None, GRID_COLUMNS, WHOLE] = None


def _turns_one_way(corners: Sequence[tuple[float, float]]) -> bool:
    """Whether four corners go round a field without crossing: every turn is to the same side."""
    turns = []
    for place in range(4):
        (ax, ay), (bx, by), (cx, cy) = (corners[(place + step) % 4] for step in range(3))
        turns.append((bx - ax) * (cy - by) - (by - ay) * (cx - bx))
    return all(turn > 0 for turn in turns) or all(turn < 0 for turn in turns)


def _scan_faults(given: Mapping[str, object]) -> Sequence[Fault]:
    """A file that was never handed in, and a scan that belongs to nothing."""
    faults = []
    if isinstance(file := given.get("file"), str):
        try:
            find_file(file)
        except UnknownName:
            faults.append(Fault("file", file[:40], "This file was not handed in, or did not arrive whole. Send it again."))
    if given.get("shows") == "step tablet":
        if not given.get("scanner"):
            faults.append(Fault("scanner", "", "Which scanner? A step tablet calibrates one."))
    elif not given.get("sheet"):
        faults.append(Fault("sheet", "", "Which sheet is it? Choose its number, or say that it shows a step tablet."))
    return faults


def _scan(doing: Doing[ScanForm]) -> Done:
    form, scanner = doing.form, doing.things.get("scanner")
    path = find_file(form.file)
    kept, _ = ScanFile.objects.get_or_create(sha256=form.file, defaults={"size_bytes": path.stat().st_size, "handed_in_as": form.handed_in_as})
    untagged = _remembered(scanner, form.untagged)
    scan = Scan.objects.create(
        name=f"scan-{Scan.objects.count() + 1:03}",
        file=kept,
        scanner=scanner,
        sheet=None if form.shows == "step tablet" else doing.things["sheet"],
        shows=form.shows,
        untagged=untagged,
        scanned_at=form.when or doing.at,
        remarks=form.remarks,
    )
    jobs.ask("look", scan.name, rows=_count(form.rows), columns=_count(form.columns))
    of = "a step tablet" if scan.sheet is None else f"sheet {scan.sheet}"
    return doing.done(("scan", scan.name), f"{scan.name} of {of} is in the book, and is being read.", sha256=kept.sha256)


def _remembered(scanner: Scanner | None, said: words.Untagged | None) -> str:
    """What a file without a profile means: as it was said now, which the scanner remembers, else as it was said before."""
    if scanner is None or not said:
        return said or (scanner.untagged if scanner else "unknown")
    if scanner.untagged != said:
        scanner.untagged = said
        scanner.save()
    return said


def _count(number: float | None) -> int | None:
    return None if number is None else int(number)


def _grid(doing: Doing[GridForm]) -> Done:
    scan: Scan = doing.things["scan"]
    form = doing.form
    _readable(scan)
    fractions = [part / 100 for part in form.corners_percent]
    scan.grid = {"corners": [list(pair) for pair in zip(fractions[0::2], fractions[1::2], strict=True)]}
    scan.grid |= {"rows": int(form.rows), "columns": int(form.columns)}
    scan.grid_by, scan.places, scan.signals = "by hand", [], []
    scan.save()
    jobs.ask("measure", scan.name)
    return doing.done(("scan", scan.name), f"{scan.name}: {int(form.rows * form.columns)} patches, being measured.")


def _places(doing: Doing[PlacesForm]) -> Done:
    scan: Scan = doing.things["scan"]
    _readable(scan)
    scan.grid, scan.grid_by, scan.signals = None, "nobody", []
    scan.places = [place.model_dump(mode="json") for place in doing.form.places]
    scan.save()
    jobs.ask("measure", scan.name)
    many = len(scan.places)
    return doing.done(("scan", scan.name), f"{scan.name}: {many} place{'s' if many > 1 else ''}, being measured.")


def _readable(scan: Scan) -> None:
    """Patches are placed on a picture that could be read."""
    if not scan.header or scan.said:
        why = scan.said or "It has not been read yet; wait a moment."
        raise BadQuestion([Fault("scan", scan.name, why)])


def _read_again(doing: Doing[ReadAgainForm]) -> Done:
    scan: Scan = doing.things["scan"]
    form = doing.form
    told = {"rows": _count(form.rows), "columns": _count(form.columns)}
    also = _waiting_for_the_same(scan) if form.untagged else []
    for one in (scan, *also):
        one.said, one.untagged = "", _remembered(scan.scanner, form.untagged) if form.untagged else one.untagged
        one.save()
        anew = one is scan and any(told.values())
        jobs.ask("look", one.name, **(told if anew else _told_before(one)))
    beside = f" With it, for the same answer was missing: {', '.join(one.name for one in also)}." if also else ""
    return doing.done(("scan", scan.name), f"{scan.name} is being read again.{beside}")


def _waiting_for_the_same(scan: Scan) -> list[Scan]:
    """Other scans of the same scanner whose files do not say what their numbers mean either."""
    if scan.scanner is None:
        return []
    others = scan.scanner.scans.filter(archived_at=None, untagged="unknown").exclude(pk=scan.pk).exclude(said="").order_by("pk")
    return [one for one in others if "untagged" in one.header.get("asked", ())]


def _told_before(scan: Scan) -> dict[str, Any]:
    """The rows and columns that were told when the scan was handed in; a grid that was placed by hand has its own."""
    before = {} if scan.grid_by == "by hand" else jobs.given_before("look", scan.name)
    return {name: before.get(name) for name in ("rows", "columns")}


def _stop(doing: Doing[OfScan]) -> Done:
    scan: Scan = doing.things["scan"]
    stopped = jobs.stop(scan.name)
    said = "Its work was stopped; what was there before is kept." if stopped else "There was no work to stop."
    return doing.done(("scan", scan.name), f"{scan.name}: {said}")


SCAN: Final[Deed[Any]] = Deed(
    name="scan",
    says="Hand in a scan of a sheet or of a step tablet.",
    form=ScanForm,
    perform=_scan,
    faults=_scan_faults,
    examples={"a step sheet": {"file": "26-018.tif", "sheet": "26-018", "scanner": "flatbed in the office", "columns": 12, "rows": 1}},
)
GRID: Final[Deed[Any]] = Deed(
    name="grid",
    says="Place the grid on a scan: where its patches lie.",
    form=GridForm,
    perform=_grid,
    examples={
        "twelve in a row": {"scan": "scan-003", "corners_percent": "10.5 40 89 41 89 62 10 61", "rows": 1, "columns": 12},
    },
)
PLACES: Final[Deed[Any]] = Deed(
    name="places",
    says="Mark places of a picture whose density is wanted.",
    form=PlacesForm,
    perform=_places,
    examples={"two tones": {"scan": "scan-004", "places": "40 55 2 2 9.5 planks\n62 30 2 2 12 sky"}},
)
READ_AGAIN: Final[Deed[Any]] = Deed(
    name="read-again",
    says="Read a scan's file again, with what was not known before.",
    form=ReadAgainForm,
    perform=_read_again,
    examples={"no profile": {"scan": "scan-003", "untagged": "gamma 2.2"}},
)
STOP_WORK: Final[Deed[Any]] = Deed(
    name="stop-work", says="Stop the reading of a scan.", form=OfScan, perform=_stop, examples={"a scan": {"scan": "scan-003"}}
)
