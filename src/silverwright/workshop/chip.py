"""Two chips show what a box of paper can do: its base white, and its fullest black."""

from datetime import datetime
from typing import Annotated, Any, Final

from silverwright.asking.fields import Choice, Thing
from silverwright.asking.operation import Typed
from silverwright.book import words
from silverwright.book.models import Chip
from silverwright.vocabulary_shelf import CHIP_DENSITY
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, REMARKS, WHEN

SHOWS: Final = Choice(
    help="Base white: fixed without any light, washed, dried. Fullest black: fogged in room light, developed to the end.", example="base white"
)
READ_BY: Final = Choice(help="How the density was read.", example="densitometer")


class ChipForm(Typed):
    """A chip of a box, and its density."""

    lot: Annotated[str, Thing(kind="lot", label="Box", help="The box that it was cut from.", example="box A")]
    shows: Annotated[words.ChipShows, SHOWS]
    density: Annotated[float | None, CHIP_DENSITY] = None
    read_by: Annotated[words.ReadBy, READ_BY] = "densitometer"
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""


def _keep_chip(doing: Doing[ChipForm]) -> Done:
    form, lot = doing.form, doing.things["lot"]
    earlier = Chip.objects.filter(lot=lot, shows=form.shows, archived_at=None).last()
    chip = Chip.objects.create(
        lot=lot, shows=form.shows, density=form.density, read_by=form.read_by, made_at=form.when or doing.at, remarks=form.remarks
    )
    says = f"A chip of “{lot}” shows its {chip.shows}" + ("." if chip.density is None else f", density {chip.density:.2f}.")
    if earlier is not None:
        was = "" if earlier.density is None else f", density {earlier.density:.2f}"
        says += f" The earlier one of {earlier.made_at:%Y-%m-%d}{was} stays in the book."
    return doing.done(("lot", lot.name), says, density=chip.density)


CHIP: Final[Deed[Any]] = Deed(
    name="chip",
    says="Keep a reference chip of a box: its base white or its fullest black.",
    form=ChipForm,
    perform=_keep_chip,
    examples={"boatyard": {"lot": "box A", "shows": "base white", "density": 0.06}},
)
