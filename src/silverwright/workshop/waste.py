"""What is used up goes into a waste bottle, never two things into one that make gas together; and the bottle is handed in."""

from datetime import datetime
from typing import Annotated, Any, Final

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Flag, Thing, Words
from silverwright.asking.operation import Remark, Typed, refuse, remark
from silverwright.book.ledger import accounts_with
from silverwright.book.models import BathEvent, WasteBottle, WasteEmptied
from silverwright.chemistry.balance import parted
from silverwright.errors import BadQuestion, Fault, OutOfRange
from silverwright.notes import Note
from silverwright.questions.apart import vented_because
from silverwright.questions.ingredients import ROOM_CELSIUS, Ingredients, impossible
from silverwright.records_chemistry import Contents
from silverwright.units import MILLILITRE
from silverwright.vocabulary_shelf import BATH_ML, BEGUN_ML, CAPACITY_ML
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.apart import refuse_apart
from silverwright.workshop.forms import DATED, ONE_LINE, REMARKS, WHEN
from silverwright.workshop.mixing import BATH_THING
from silverwright.workshop.once import refuse_twice
from silverwright.workshop.pouring import moment
from silverwright.workshop.settling import cannot_take, held_by, settle, settle_waste

WASTE_THING: Final = Thing(kind="waste-bottle", help="Which waste bottle.", example="waste: bleach", label="Waste bottle")


class WasteBottleForm(Typed):
    """A bottle for what is used up."""

    name: Annotated[str, Words(help="What stands on it.", example="waste: bleach", longest=80, label="Name of the waste bottle"), ONE_LINE]
    capacity_ml: Annotated[float | None, CAPACITY_ML] = None
    vented: Annotated[bool, Flag(help="Its cap lets gas out.", example="yes", label="Vented cap on the waste bottle")] = False
    metal: Annotated[bool, Flag(help="It is of metal, or has metal inside.", example="no", label="Of metal")] = False
    begun_ml: Annotated[float | None, BEGUN_ML] = None
    begun_with: Ingredients = ()
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("begun_ml")
    @classmethod
    def _goes_in(cls, begun_ml: float | None, seen: ValidationInfo) -> float | None:
        capacity_ml = seen.data.get("capacity_ml")
        if begun_ml is not None and capacity_ml is not None and begun_ml > capacity_ml:
            raise refuse(f"It takes {MILLILITRE.show(capacity_ml)}: more cannot be in it.")
        return begun_ml

    @field_validator("begun_with")
    @classmethod
    def _can_be(cls, rows: Ingredients, seen: ValidationInfo) -> Ingredients:
        if rows and not seen.data.get("begun_ml"):
            raise refuse("How much of it is in the bottle? Without a volume nobody knows how strong.", "begun_ml")
        if rows and (why := impossible(rows, seen.data["begun_ml"], ROOM_CELSIUS)):
            raise refuse(why)
        return rows


class DiscardForm(Typed):
    """A bath, or a part of it, that is used up."""

    bath: Annotated[str, BATH_THING]
    waste: Annotated[str, WASTE_THING]
    volume_ml: Annotated[float | None, BATH_ML] = None
    reason: Annotated[str, Words(help="Why it is discarded.", example="the black strip clears in twice the time", longest=200)] = ""
    when: Annotated[datetime | None, WHEN, DATED] = None


class EmptyForm(Typed):
    """A waste bottle that was handed in."""

    waste: Annotated[str, WASTE_THING]
    taken_to: Annotated[str, Words(help="Who took it.", example="collection point of the town", longest=120)] = ""
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""


def _waste_bottle(doing: Doing[WasteBottleForm]) -> Done:
    form = doing.form
    refuse_twice("waste-bottle", form.name)
    rows = [row.model_dump(mode="json") for row in form.begun_with]
    bottle = WasteBottle.objects.create(**(form.model_dump() | {"begun_with": rows}))
    settle_waste(bottle)
    cap = "vented cap" if form.vented else "closed cap: no peroxide goes into it"
    return doing.done(("waste-bottle", bottle.name), f"Waste bottle “{bottle}” is on the shelf, {cap}.")


def _discard(doing: Doing[DiscardForm]) -> Done:
    form, bath, bottle = doing.form, doing.things["bath"], doing.things["waste"]
    at = moment(doing, form.when)
    going = _going(doing)
    notes = may_go(going, bottle)
    BathEvent.objects.create(bath=bath, what="discarded", happened_at=at, volume_ml=form.volume_ml, waste=bottle, remarks=form.reason)
    account = settle(bath)
    bottle.refresh_from_db()
    left = f" {MILLILITRE.show(account.volume_ml)} of it is left." if account.state == "in use" else ""
    full = MILLILITRE.show(bottle.holds["volume_ml"])
    says = f"Bath “{bath}”: {MILLILITRE.show(going.volume_ml)} discarded into “{bottle}”, which holds {full}.{left}"
    return doing.done(("bath", bath.name), says, notes, volume_ml=going.volume_ml)


def _going(doing: Doing[DiscardForm]) -> Contents:
    """What would go, refused where it cannot."""
    bath = doing.things["bath"]
    account = accounts_with(bath).get(bath.pk)
    if account is None or account.ended_at is not None:
        raise BadQuestion([Fault("bath", bath.name, f"Bath “{bath}” is not in use any more: there is nothing of it to discard.")])
    whole = account.ways["value"].bath
    try:
        return parted(whole, whole.volume_ml if doing.form.volume_ml is None else doing.form.volume_ml)[1]
    except OutOfRange:
        problem = f"Bath “{bath}” holds {MILLILITRE.show(whole.volume_ml)}: no more can be discarded. For all of it, leave this out."
        raise BadQuestion([Fault("volume_ml", f"{doing.form.volume_ml:g}", problem)]) from None


def may_go(going: Contents, bottle: WasteBottle) -> list[Remark]:
    """Refused before the act: a gas with what is in there, a closed cap on peroxide, metal, and a bottle that is too small; what else to mind."""
    holds = held_by(bottle)
    notes = refuse_apart("waste", going, holds)
    faults = cannot_take(bottle, going)
    room_ml = room_in(bottle)
    if room_ml is not None and going.volume_ml > room_ml:
        room, this = MILLILITRE.show(room_ml), MILLILITRE.show(going.volume_ml)
        faults.append(f"It has room for {room} more, and this is {this}. Take another bottle, or hand this one in.")
    if faults:
        raise BadQuestion([Fault("waste", bottle.name, " ".join(faults))])
    if not bottle.vented and (why := vented_because(going)):
        notes.append(remark(Note.MIND_TOGETHER, words=why))
    return notes


def room_in(bottle: WasteBottle) -> float | None:
    """How much more goes into it; nothing where nobody knows how much it takes."""
    return None if bottle.capacity_ml is None else max(0.0, bottle.capacity_ml - held_by(bottle).volume_ml)


def what_fits(going: Contents, bottle: WasteBottle) -> tuple[Contents, str]:
    """As much of it as the bottle still takes, and what to do where that is a part; all of it where not a drop has room, so that it is refused."""
    room_ml = room_in(bottle)
    if room_ml is None or room_ml >= going.volume_ml or room_ml == 0:
        return going, ""
    return parted(going, room_ml)[1], f"It has room for {MILLILITRE.show(room_ml)} more: say below how much goes in, at most that."


def _empty(doing: Doing[EmptyForm]) -> Done:
    form, bottle = doing.form, doing.things["waste"]
    WasteEmptied.objects.create(bottle=bottle, emptied_at=moment(doing, form.when), taken_to=form.taken_to, remarks=form.remarks)
    settle_waste(bottle)
    to = f", taken to {form.taken_to}" if form.taken_to else ""
    return doing.done(("waste-bottle", bottle.name), f"Waste bottle “{bottle}” is empty again{to}.")


WASTE_BOTTLE: Final[Deed[Any]] = Deed(
    name="waste-bottle",
    says="Enter a bottle for what is used up.",
    form=WasteBottleForm,
    perform=_waste_bottle,
    examples={"boatyard": {"name": "waste: bleach", "capacity_ml": "5 L", "vented": True}},
)
DISCARD_BATH: Final[Deed[Any]] = Deed(
    name="discard-bath",
    says="Discard a bath, or a part of it, into a waste bottle.",
    form=DiscardForm,
    perform=_discard,
    caution=Note.BEFORE_DISCARDING,
    examples={"boatyard": {"bath": "bleach 1", "waste": "waste: bleach", "reason": "the black strip clears in twice the time"}},
)
EMPTY_WASTE: Final[Deed[Any]] = Deed(
    name="empty-waste",
    says="Record that a waste bottle was handed in.",
    form=EmptyForm,
    perform=_empty,
    examples={"boatyard": {"waste": "waste: bleach", "taken_to": "collection point of the town"}},
)
