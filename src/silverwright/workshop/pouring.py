"""What comes into a bath: parts as they are typed, and what is taken from the bottles on the shelf."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Annotated, Any, Final, Literal

from silverwright.asking.fields import Choice, Flag, Words
from silverwright.asking.operation import Record, Remark, remark
from silverwright.asking.rows import Rows
from silverwright.book.bottles import Brought, brought_by, readings, together, unclear
from silverwright.book.find import find_thing
from silverwright.book.models import Bath, BathEvent, Stock
from silverwright.chemistry.strength import PEROXIDE
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.notes import Note
from silverwright.questions.ingredients import ROOM_CELSIUS, IngredientRow, contents_of, impossible
from silverwright.questions.substances import named, substance
from silverwright.records_chemistry import Contents
from silverwright.units import GRAM, MILLILITRE
from silverwright.vocabulary_shelf import TAKEN_AMOUNT
from silverwright.workshop.act import Doing
from silverwright.workshop.apart import refuse_apart

POURED_IN: Final = frozenset({"made", "replenished", "topped up"})
WEIGHED_SHARE: Final = 0.01  # our judgement: a scale of a tenth of a gram and a measuring cylinder, read with care
GASSES_G_PER_L: Final = 1.0  # our judgement: a litre of it gives a third of a litre of oxygen, as much as a closed bottle should bear
SLOW_CLOCK: Final = timedelta(minutes=10)  # our judgement: so far the clocks of a phone and a computer may be apart


class TakenRow(Record):
    """Something that was taken from a bottle of the shelf."""

    stock: Annotated[str, Words(help="The bottle, by its name on the shelf.", example="peroxide 35 %", longest=80, label="Bottle")]
    amount: Annotated[float, TAKEN_AMOUNT]
    unit: Annotated[Literal["g", "mL"], Choice(help="Weighed in grams, or measured in millilitres.", example="g")] = "g"


TAKEN: Final = Rows(
    row=TakenRow,
    help="What was taken from bottles of the shelf, a line each: bottle, amount, g or mL. It is taken off what is left in them.",
    example="peroxide 35 %; 265; g",
    label="Taken from bottles",
)
BottlesMay = Literal["be taken now", "be unclear", "be taken already"]
ANYWAY: Final = Flag(
    help="A bottle whose label leaves open of what its per cent are is taken all the same; the limits hold both.",
    example="yes",
    label="Label unclear, taken all the same",
)
Taken = Annotated[tuple[TakenRow, ...], TAKEN]


def gives_oxygen(contents: Contents) -> bool:
    """Whether there is so much peroxide in it that a closed vessel must not hold it."""
    return contents.g_per_l(PEROXIDE) > GASSES_G_PER_L


def moment(doing: Doing[Any], when: datetime | None, field: str = "when") -> datetime:
    """When it happened: as typed, else now; nothing has happened yet tomorrow."""
    if when is not None and when > doing.at + SLOW_CLOCK:
        raise BadQuestion([Fault(field, f"{when:%Y-%m-%d %H:%M}", "This moment has not come yet. Record it when it is done, or look at the day.")])
    return when or doing.at


def come_in(
    ingredients: Sequence[IngredientRow],
    taken: Sequence[TakenRow],
    volume_ml: float,
    celsius: float | None,
    bottles_may: BottlesMay = "be taken now",
) -> dict[str, Any]:
    """
    What so much of a solution brings, with its limits; every fault at once where it cannot be.

    `bottles_may`: be taken now; be unclear, too, about what their per cent are of; or have been taken already, when an earlier act is corrected.
    """
    bottles, faults = _bottles(taken, bottles_may)
    why = impossible(ingredients, volume_ml, ROOM_CELSIUS if celsius is None else celsius) if ingredients else ""
    faults += [Fault("ingredients", "", why)] if why else []
    if faults:
        raise BadQuestion(faults)
    brought = [brought_by(bottle, row.amount, row.unit) for bottle, row in zip(bottles, taken, strict=True)]
    brought += _typed(contents_of(ingredients, volume_ml, ROOM_CELSIUS if celsius is None else celsius))
    poured = together(brought, volume_ml)
    _possible(poured, volume_ml, "taken" if taken else "ingredients")
    whole = Contents(volume_ml, {key: ends["value"] for key, ends in poured["mass_g"].items()})
    refuse_apart("taken" if taken else "ingredients", whole, whole)
    return poured


def room_for_crystals_ml(ingredients: Sequence[IngredientRow], taken: Sequence[TakenRow], bath: Bath) -> float:
    """Crystals that are stirred in dry find their room in what is there; anything else comes with a volume of its own."""
    if any(row.unit != "g" for row in ingredients) or any(row.unit != "g" for row in taken):
        raise BadQuestion([Fault("volume_ml", "0", "Only what is weighed in dry takes up no room. Give the volume that came in.")])
    return float(bath.ledger["volume_ml"])


def take_off(taken: Sequence[TakenRow]) -> tuple[list[dict[str, Any]], list[str]]:
    """Take it off what is left in the bottles; the rows as they are kept, and what is left, in words."""
    kept, told = [], []
    for row in taken:
        bottle = _bottle(row)
        left = _left_after(bottle, row)
        if left is not None:
            column, amount = left
            setattr(bottle, column, amount)
            bottle.save()
            told.append(f"{(MILLILITRE if column == 'left_ml' else GRAM).show(amount)} left in “{bottle}”")
        kept.append({"stock": bottle.name, "amount": row.amount, "unit": row.unit})
    return kept, told


def poured_again(event: BathEvent) -> dict[str, Any]:
    """What an event brought, after its rows or its volume were corrected."""
    ingredients = [IngredientRow.model_validate(row) for row in event.ingredients]
    taken = [TakenRow.model_validate(row) for row in event.taken]
    volume_ml = event.volume_ml or 0.0
    try:
        if not ingredients and not taken:
            return together((), volume_ml)
        room_ml = volume_ml or room_for_crystals_ml(ingredients, taken, event.bath)
        return come_in(ingredients, taken, room_ml, event.temperature_celsius, "be taken already") | {"volume_ml": volume_ml}
    except BadQuestion as bad:
        raise BadQuestion([Fault("changes", one.given, one.problem) for one in bad.faults]) from None


def unclear_in(taken: Sequence[TakenRow]) -> list[Remark]:
    """A bottle that was taken although its label is unclear is said, with both readings."""
    notes = []
    for bottle in map(_bottle, taken):
        if unclear(bottle):
            by_weight, by_volume = readings(bottle.substance, bottle.strength, bottle.strength_unit)
            notes.append(remark(Note.BOTTLE_EITHER, bottle=bottle.name, by_weight=f"{by_weight:.3g}", by_volume=f"{by_volume:.3g}"))
    return notes


def unknown_in(poured: dict[str, Any]) -> list[Remark]:
    """Every substance of which nothing is known here is named, always."""
    names = [key for key in poured["mass_g"] if substance(key) is None]
    return [remark(Note.NO_DATA_HERE, names=" and ".join(names))] if names else []


def volume_taken_ml(taken: Sequence[TakenRow]) -> float:
    """How much room the bottles' liquid takes."""
    return sum(brought_by(_bottle(row), row.amount, row.unit).contents.volume_ml for row in taken)


def _bottles(taken: Sequence[TakenRow], bottles_may: BottlesMay) -> tuple[list[Stock], list[Fault]]:
    """The bottle of each row, and what is wrong with it."""
    bottles, faults = [], []
    opened: dict[int, Stock] = {}  # what an earlier row took is not there for the next one
    for row in taken:
        try:
            bottle = _bottle(row)
            bottle = opened.setdefault(bottle.pk, bottle)
        except UnknownName as unknown:
            faults.append(Fault("taken", row.stock, f"{unknown} Enter the bottle first, or give its parts as ingredients."))
            continue
        bottles.append(bottle)
        if bottles_may == "be taken already":
            continue
        if bottle.archived_at is not None:
            faults.append(Fault("taken", row.stock, f"Bottle “{bottle}” is archived: used up. Bring it back first, or take another one."))
        elif unclear(bottle) and bottles_may != "be unclear":
            faults.append(Fault("taken", row.stock, _which(bottle)))
        elif (left := _left_after(bottle, row)) is not None and left[1] < 0:
            there = GRAM.show(left[1] + row.amount) if row.unit == "g" and left[0] == "left_g" else _there(bottle)
            faults.append(
                Fault(
                    "taken",
                    f"{row.amount:g} {row.unit}",
                    f"Bottle “{bottle}” holds {there}: less than that. Look at the amount, or correct the bottle.",
                )
            )
        elif left is not None:
            setattr(bottle, *left)
    return bottles, faults


def _bottle(row: TakenRow) -> Stock:
    """The bottle of that name, or the one that had it before its name was corrected."""
    try:
        found = find_thing("stock", row.stock)
    except UnknownName:
        before = Stock.history.filter(name=row.stock).first()
        if before is None:
            raise
        return Stock.objects.get(pk=before.id)
    assert isinstance(found, Stock)  # noqa: S101 (the kind says so)
    return found


def _which(bottle: Stock) -> str:
    by_weight, by_volume = readings(bottle.substance, bottle.strength, bottle.strength_unit)
    return (
        f"The label of “{bottle}” says {bottle.strength:g} % and leaves open of what: {by_weight:.3g} % by weight, or by volume, which is "
        f"{by_volume:.3g} % by weight. Look at its data sheet, and correct its strength unit to % w/w or % w/v; or say that it is taken all the same."
    )


def _left_after(bottle: Stock, row: TakenRow) -> tuple[str, float] | None:
    """Which column says what is left, and how much will be; nothing where nobody knows."""
    if row.unit == "g" and bottle.left_g is not None:
        return "left_g", bottle.left_g - row.amount
    if row.unit == "mL" and bottle.left_ml is not None:
        return "left_ml", bottle.left_ml - row.amount
    if bottle.left_ml is not None:  # weighed out of a bottle that is counted by volume
        return "left_ml", bottle.left_ml - brought_by(bottle, row.amount, "g").contents.volume_ml
    return None


def _there(bottle: Stock) -> str:
    return MILLILITRE.show(bottle.left_ml) if bottle.left_ml is not None else GRAM.show(bottle.left_g or 0.0)


def _typed(contents: Contents) -> list[Brought]:
    """Each substance by itself, with what a scale and a cylinder leave open."""
    off = WEIGHED_SHARE
    return [
        Brought(Contents(contents.volume_ml, {key: mass}), {key: mass * (1 - off)}, {key: mass * (1 + off)}) for key, mass in contents.mass_g.items()
    ]


def _possible(poured: dict[str, Any], volume_ml: float, field: str) -> None:
    """All together still leaves room for water, and dissolves."""
    if not poured["mass_g"]:
        return
    rows = [IngredientRow(substance=named(key), amount=ends["value"], unit="g") for key, ends in poured["mass_g"].items()]
    if why := impossible(rows, volume_ml, ROOM_CELSIUS):
        raise BadQuestion([Fault(field, "", why)])
