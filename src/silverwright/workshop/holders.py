"""Paper goes into holders, and comes out again."""

from datetime import datetime
from typing import Annotated, Any, Final, Literal

from silverwright.asking.fields import Choice, Flag, Thing
from silverwright.asking.operation import Remark, Typed, remark
from silverwright.book.models import Count, Holder, HolderSide, Lot
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, WHEN

Side = Literal["1", "2"]
HOLDER_THING: Final = Thing(kind="holder", help="Which holder.", example="holder 1")
SIDE: Final = Choice(help="Which side of it.", example="1")


class LoadForm(Typed):
    """A side of a holder gets a sheet."""

    holder: Annotated[str, HOLDER_THING]
    side: Annotated[Side, SIDE]
    lot: Annotated[str, Thing(kind="lot", label="Box", help="The box that the sheet comes from.", example="box A")]
    when: Annotated[datetime | None, WHEN, DATED] = None


class UnloadForm(Typed):
    """A side of a holder gives its sheet back."""

    holder: Annotated[str, HOLDER_THING]
    side: Annotated[Side, SIDE]
    back_in_box: Annotated[bool, Flag(help="An unexposed sheet goes back into its box; no when it is spoiled.", example="yes")] = True


def side_of(holder: Holder, side: str) -> HolderSide:
    """That side of the holder."""
    found = holder.sides.filter(side=side).select_related("lot__paper", "sheet").first()
    if found is None:
        raise BadQuestion([Fault("side", side, f"Holder “{holder}” has one side only: choose 1.")])
    return found


def not_being_exposed(side: HolderSide) -> None:
    """Nobody takes out, loads or records a side while it stands in an open camera."""
    running = Count.objects.filter(side=side, state="running").first()
    if running is not None:
        raise BadQuestion([Fault("side", side.side, f"This side is being exposed now, as {running}. Stop that first.")])


def take_from(lot: Lot) -> list[Remark]:
    """One sheet fewer in the box, and what to say of it."""
    if lot.sheets_left == 0:
        return [remark(Note.BOX_EMPTY, lot=lot.name)]
    if lot.sheets_left is not None:
        lot.sheets_left -= 1
        lot.save()
    return []


def left_in(lot: Lot | None) -> str:
    """` 24 left in “box A”.`"""
    return "" if lot is None or lot.sheets_left is None else f" {lot.sheets_left} left in “{lot}”."


def _load(doing: Doing[LoadForm]) -> Done:
    holder, lot = doing.things["holder"], doing.things["lot"]
    side = side_of(holder, doing.form.side)
    not_being_exposed(side)
    if side.state == "loaded":
        problem = f"This side is loaded already, from “{side.lot}”. Unload it first, or take another side."
        raise BadQuestion([Fault("side", side.side, problem)])
    if side.state == "exposed":
        raise BadQuestion([Fault("side", side.side, f"This side still holds the exposed sheet {side.sheet}. Unload or process it first.")])
    side.state, side.lot, side.sheet, side.loaded_at = "loaded", lot, None, doing.form.when or doing.at
    side.save()
    notes = take_from(lot)
    return doing.done(("side", f"{holder}/{side.side}"), f"Holder “{holder}”, side {side.side}: loaded from “{lot}”.{left_in(lot)}", notes)


def _unload(doing: Doing[UnloadForm]) -> Done:
    holder = doing.things["holder"]
    side = side_of(holder, doing.form.side)
    not_being_exposed(side)
    where = f"Holder “{holder}”, side {side.side}"
    if side.state not in {"loaded", "exposed"}:
        raise BadQuestion([Fault("side", side.side, "There is nothing in this side.")])
    says = f"{where}: the exposed sheet {side.sheet} is out." if side.state == "exposed" else f"{where}: unloaded."
    if side.state == "loaded" and doing.form.back_in_box and side.lot is not None and side.lot.sheets_left is not None:
        side.lot.sheets_left += 1
        side.lot.save()
        says += left_in(side.lot)
    empty(side)
    return doing.done(("side", f"{holder}/{side.side}"), says)


def empty(side: HolderSide) -> None:
    """The side holds nothing any more; what it held stands in its history."""
    side.state, side.lot, side.sheet, side.loaded_at = "unloaded", None, None, None
    side.save()


LOAD: Final[Deed[Any]] = Deed(
    name="load",
    says="Load a side of a holder.",
    form=LoadForm,
    perform=_load,
    examples={"boatyard": {"holder": "holder 1", "side": "1", "lot": "box A"}},
)
UNLOAD: Final[Deed[Any]] = Deed(
    name="unload",
    says="Take the sheet out of a side of a holder.",
    form=UnloadForm,
    perform=_unload,
    examples={"boatyard": {"holder": "holder 1", "side": "1"}},
)
