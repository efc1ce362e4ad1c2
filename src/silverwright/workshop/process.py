"""A sheet was in the trays: every step as it was done."""

from datetime import datetime
from typing import Annotated, Any, Final

from silverwright.asking.fields import Choice, Thing, Words
from silverwright.asking.operation import Record, Typed
from silverwright.asking.rows import Rows
from silverwright.book import words
from silverwright.book.models import Bath, Processing, ProcessingStep, Sheet
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.vocabulary import STEP_S, TEMPERATURE_CELSIUS
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, REMARKS, WHEN
from silverwright.workshop.holders import empty
from silverwright.workshop.settling import settle
from silverwright.workshop.through import bath_called, sizes_missing, went_through

PROCESS: Final = Choice(help="Direct positive by reversal, or a negative.", example="direct positive")


class StepRow(Record):
    """One step."""

    step: Annotated[words.StepName, Choice(help="Which step.", example="first development")]
    step_s: Annotated[float | None, STEP_S] = None
    temperature_celsius: Annotated[float | None, TEMPERATURE_CELSIUS] = None
    bath: Annotated[str, Words(help="The bath, by the name on its tray.", example="developer 1+9, tray 1", longest=80)] = ""
    light_given: Annotated[str, Words(help="The light that the sheet was given.", example="60 W lamp at 1 m", longest=120)] = ""
    remarks: Annotated[str, Words(help="Anything worth knowing later.", example="agitated by hand", longest=200)] = ""


class ProcessForm(Typed):
    """A sheet in the trays."""

    sheet: Annotated[str, Thing(kind="sheet", help="Which sheet, by its number.", example="26-018")]
    process: Annotated[words.Process | None, PROCESS] = None
    steps: Annotated[
        tuple[StepRow, ...],
        Rows(
            row=StepRow,
            help="Step, time, temperature, bath and light given, one line for each step, in their order.",
            example="first development; 2m30s; 20; developer 1+9",
        ),
    ] = ()
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""


def _process(doing: Doing[ProcessForm]) -> Done:
    sheet: Sheet = doing.things["sheet"]
    form = doing.form
    if sheet.pieces.filter(archived_at=None).exists():
        raise BadQuestion([Fault("sheet", sheet.number, f"This sheet is cut: process {', '.join(map(str, sheet.pieces.all()))} one by one.")])
    intended = sheet.exposed_as.exposures.order_by("exposed_at").last()
    process = form.process or (intended.process if intended else "direct positive")
    kept = Processing.objects.create(sheet=sheet, process=process, processed_at=form.when or doing.at, remarks=form.remarks)
    baths: dict[int, Bath] = {}
    for position, row in enumerate(form.steps, start=1):
        step = ProcessingStep.objects.create(processing=kept, position=position, **row.model_dump())
        if (bath := bath_called(row.bath)) is not None:
            went_through(step, bath, kept.processed_at)
            baths[bath.pk] = bath
    for bath in baths.values():
        settle(bath)
    for side in sheet.exposed_as.sides.filter(state="exposed"):
        empty(side)
    count = f"{len(form.steps)} step{'s' if len(form.steps) > 1 else ''}" if form.steps else "no steps noted"
    notes = sizes_missing([sheet]) if baths else []
    return doing.done(("sheet", sheet.number), f"Sheet {sheet}: processed as {process}, {count}.", notes, process=process)


PROCESS_DEED: Final[Deed[Any]] = Deed(
    name="process",
    says="Record how a sheet was processed.",
    form=ProcessForm,
    perform=_process,
    caution=Note.AT_THE_TRAYS,
    examples={
        "boatyard": {
            "sheet": "26-018",
            "steps": "first development; 2m30s; 20; developer\nbleach; 90; 20; bleach\nsecond development; 2m; 20; developer",
        }
    },
)
