"""Paper goes into holders, and comes out again."""

from datetime import datetime
from typing import Annotated, Any, Final, Literal

from silverwright.asking.fields import Choice, Flag, Thing
from silverwright.asking.operation import Remark, Typed, remark
from silverwright.book.models import Count, Holder, HolderSide, Lot
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.processing.corners import Corner as OneCorner
from silverwright.processing.corners import code_name, corner_codes, corners_named, half_turned
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import DATED, WHEN

NO_CORNER: Final = code_name(frozenset())
Side = Literal["1", "2"]
LoadSide = Literal["1", "2", "both"]
HOLDER_THING: Final = Thing(kind="holder", help="Which holder.", example="holder 1")
SIDE: Final = Choice(help="Which side of it.", example="1")
Corner = Literal[
    "none",
    "next free",
    "upper left",
    "upper right",
    "both upper corners",
    "upper left and lower right",
    "both left corners",
    "upper right and lower left",
    "all but lower left",
    "all but lower right",
    "all four corners",
]
CORNER: Final = Choice(
    help="Corners that you clip off while loading, so that the wet sheet is told by hand: emulsion towards you, a short side up.",
    example="next free",
    label="Clipped corner",
)


class LoadForm(Typed):
    """A side of a holder gets a sheet."""

    holder: Annotated[str, HOLDER_THING]
    side: Annotated[LoadSide, Choice(help="Which side of it, or both.", example="both")]
    lot: Annotated[str, Thing(kind="lot", label="Box", help="The box that the sheet comes from.", example="box A")]
    corner: Annotated[Corner, CORNER] = "none"
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
    holder, lot, form = doing.things["holder"], doing.things["lot"], doing.form
    if form.side == "both" and holder.sides.count() == 1:
        raise BadQuestion([Fault("side", form.side, f"Holder “{holder}” has one side only: choose 1.")])
    sides = [side_of(holder, name) for name in (("1", "2") if form.side == "both" else (form.side,))]
    for side in sides:
        _can_be_loaded(side)
    _enough(lot, len(sides))
    codes = _codes(form.corner, sides)
    notes: list[Remark] = []
    for side, code in zip(sides, codes, strict=True):
        side.state, side.lot, side.sheet, side.loaded_at, side.corner = "loaded", lot, None, form.when or doing.at, code
        side.save()
        notes += take_from(lot)
    says = f"Holder “{holder}”, {_sides_said(sides)}: loaded from “{lot}”.{left_in(lot)}{_clips_said(sides, codes)}"
    thing = ("side", f"{holder}/{form.side}") if form.side != "both" else ("holder", str(holder))
    return doing.done(thing, says, list(dict.fromkeys(notes)), **({"corners": codes} if any(codes) else {}))


def _can_be_loaded(side: HolderSide) -> None:
    """Nothing is in this side, and nobody exposes it."""
    not_being_exposed(side)
    if side.state == "loaded":
        problem = f"Side {side.side} is loaded already, from “{side.lot}”. Unload it first, or take another side."
        raise BadQuestion([Fault("side", side.side, problem)])
    if side.state == "exposed":
        problem = f"Side {side.side} still holds the exposed sheet {side.sheet}. Unload or process it first."
        raise BadQuestion([Fault("side", side.side, problem)])


def _enough(lot: Lot, wanted: int) -> None:
    """Two sheets cannot come out of a box that holds one; an empty box is only doubted, as a count may be wrong."""
    if wanted > 1 and lot.sheets_left is not None and 0 < lot.sheets_left < wanted:
        problem = f"“{lot}” holds {lot.sheets_left} by the book: load one side from it, or correct its count."
        raise BadQuestion([Fault("lot", lot.name, problem)])


def _codes(asked: str, sides: list[HolderSide]) -> list[str]:
    """The corner code of each side; no two sheets in holders may look alike, not even upside down."""
    if asked == "none":
        return ["" for _ in sides]
    taken = HolderSide.objects.filter(state__in=("loaded", "exposed")).exclude(corner="")
    used = {_alike(side.corner): side for side in taken}
    if asked != "next free":
        if len(sides) > 1:
            raise BadQuestion([Fault("corner", asked, "Two sheets cannot have one code: choose “next free”, or load one side after the other.")])
        if _alike(asked) in used:
            problem = f"The sheet in {used[_alike(asked)]} has that code already. Choose “next free”, or another corner."
            raise BadQuestion([Fault("corner", asked, problem)])
        return [asked]
    free = [name for name in map(code_name, corner_codes()) if name != NO_CORNER and _alike(name) not in used]
    if len(free) < len(sides):
        problem = "All nine codes are in your holders. Mark this sheet otherwise: a pencil number on its back."
        raise BadQuestion([Fault("corner", asked, problem)])
    return free[: len(sides)]


def _alike(name: str) -> frozenset[frozenset[OneCorner]]:
    """A code and what it looks like upside down."""
    corners = corners_named(name) or frozenset()
    return frozenset({corners, half_turned(corners)})


def _sides_said(sides: list[HolderSide]) -> str:
    return "both sides" if len(sides) > 1 else f"side {sides[0].side}"


def _clips_said(sides: list[HolderSide], codes: list[str]) -> str:
    """` Clip upper left on side 1, upper right on side 2.`"""
    if not any(codes):
        return ""
    return f" Clip {', '.join(f'{code} on side {side.side}' for side, code in zip(sides, codes, strict=True))}."


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
    side.state, side.lot, side.sheet, side.loaded_at, side.corner = "unloaded", None, None, None, ""
    side.save()


LOAD: Final[Deed[Any]] = Deed(
    name="load",
    says="Load a side of a holder.",
    form=LoadForm,
    perform=_load,
    examples={
        "boatyard": {"holder": "holder 1", "side": "1", "lot": "box A"},
        "both sides with clipped corners": {"holder": "holder 1", "side": "both", "lot": "box A", "corner": "next free"},
    },
)
UNLOAD: Final[Deed[Any]] = Deed(
    name="unload",
    says="Take the sheet out of a side of a holder.",
    form=UnloadForm,
    perform=_unload,
    examples={"boatyard": {"holder": "holder 1", "side": "1"}},
)
