"""A bath is mixed, replenished for its strength, or topped up for its level."""

from datetime import datetime
from typing import Annotated, Any, Final

from pydantic import field_validator

from silverwright.asking.fields import Choice, Flag, Thing, Words
from silverwright.asking.operation import Remark, Typed, refuse, remark
from silverwright.book import words
from silverwright.book.bottles import together
from silverwright.book.ledger import contents_in
from silverwright.book.models import Bath, BathEvent
from silverwright.errors import Fault
from silverwright.notes import Note
from silverwright.questions.ingredients import Ingredients
from silverwright.questions.recipe import RECIPE
from silverwright.records_chemistry import Contents
from silverwright.units import MILLILITRE
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_shelf import BATH_ML
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.apart import refuse_apart
from silverwright.workshop.by_recipe import parts_of, recipe_meant
from silverwright.workshop.forms import DATED, REMARKS, WHEN
from silverwright.workshop.once import refuse_twice
from silverwright.workshop.pouring import (
    ANYWAY,
    BottlesMay,
    Taken,
    come_in,
    gives_oxygen,
    moment,
    room_for_crystals_ml,
    take_off,
    unclear_in,
    unknown_in,
    volume_taken_ml,
)
from silverwright.workshop.settling import settle

BATH_THING: Final = Thing(kind="bath", help="Which bath or working solution.", example="bleach 1", label="Bath")
KEPT_IN: Final = Choice(help="What it is in: a tray, or the bottle of a working solution.", example="tray", label="Kept in")
VENTED: Final = Flag(help="The cap of its bottle lets gas out.", example="yes", label="Vented cap on it")


class MixForm(Typed):
    """A bath or working solution as it was mixed."""

    role: Annotated[words.BathRole, Choice(help="What it is for.", example="bleach", label="For")]
    name: Annotated[
        str, Words(help="The name on its tray or bottle; one is given where you name none.", example="bleach 1", longest=80, label="Name of the bath")
    ] = ""
    recipe: Annotated[str, RECIPE] = ""
    volume_ml: Annotated[float, BATH_ML]
    ingredients: Ingredients = ()
    taken: Taken = ()
    anyway: Annotated[bool, ANYWAY] = False
    temperature_celsius: Annotated[float | None, TEMPERATURE_CELSIUS] = None
    kept_in: Annotated[words.KeptIn, KEPT_IN] = "tray"
    vented: Annotated[bool, VENTED] = False
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("volume_ml")
    @classmethod
    def _some(cls, volume_ml: float) -> float:
        return more_than_none(volume_ml)


class AddForm(Typed):
    """Something poured into a bath."""

    bath: Annotated[str, BATH_THING]
    volume_ml: Annotated[float | None, BATH_ML] = None
    ingredients: Ingredients = ()
    taken: Taken = ()
    anyway: Annotated[bool, ANYWAY] = False
    temperature_celsius: Annotated[float | None, TEMPERATURE_CELSIUS] = None
    when: Annotated[datetime | None, WHEN, DATED] = None
    remarks: Annotated[str, REMARKS] = ""


class TopUpForm(AddForm):
    """A bath is brought back to its level."""

    volume_ml: Annotated[float, BATH_ML]


def more_than_none(volume_ml: float) -> float:
    """A bath has a volume."""
    if not volume_ml > 0:
        raise refuse("A volume above 0 is needed.")
    return volume_ml


def _mix(doing: Doing[MixForm]) -> Done:
    form = doing.form
    name = " ".join(form.name.split()) or next_name(form.role)
    refuse_twice("bath", name)
    recipe_name, recipe = recipe_meant(form.recipe)
    if not (form.ingredients or form.taken):
        form = form.model_copy(update={"ingredients": parts_of(recipe_name, recipe, form.volume_ml)})
    made_at = moment(doing, form.when)
    poured = come_in(form.ingredients, form.taken, form.volume_ml, form.temperature_celsius, bottles_may(form))
    taken, left = take_off(form.taken)
    bath = Bath.objects.create(
        name=name,
        role=form.role,
        kept_in=form.kept_in,
        vented=form.vented,
        recipe_name=recipe_name,
        recipe=recipe,
        made_at=made_at,
        remarks=form.remarks,
    )
    BathEvent.objects.create(bath=bath, what="made", happened_at=made_at, poured=poured, **_rows(form, taken), volume_ml=form.volume_ml)
    settle(bath)
    says = f"Bath “{bath}”, {MILLILITRE.show(form.volume_ml)}, is on the shelf.{_sentence(left)}"
    return doing.done(("bath", bath.name), says, [*unknown_in(poured), *unclear_in(form.taken), *gas_in(bath)], volume_ml=form.volume_ml)


def bottles_may(form: MixForm | AddForm) -> BottlesMay:
    """Whether somebody said that an unclear label is taken all the same."""
    return "be unclear" if form.anyway else "be taken now"


def next_name(role: str) -> str:
    """`bleach 3`: the first number that no bath of this role has yet."""
    there = {name.lower() for name in Bath.objects.filter(name__istartswith=role).values_list("name", flat=True)}
    number = 1
    while f"{role} {number}" in there:
        number += 1
    return f"{role} {number}"


def _rows(form: MixForm | AddForm, taken: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "ingredients": [row.model_dump(mode="json") for row in form.ingredients],
        "taken": taken,
        "temperature_celsius": form.temperature_celsius,
    }


def gas_in(bath: Bath) -> list[Remark]:
    """A closed bottle on a peroxide mix is said at once."""
    gasses = gives_oxygen(contents_in(Bath.objects.get(pk=bath.pk).ledger))
    return [remark(Note.VENT_IT)] if gasses and bath.kept_in in {"bottle", "drum"} and not bath.vented else []


def _sentence(parts: list[str]) -> str:
    return f" {'; '.join(parts)}." if parts else ""


def _add(what: words.BathEventName, verb: str) -> Any:  # noqa: ANN401 (a deed's function)
    def perform(doing: Doing[AddForm]) -> Done:
        form, bath = doing.form, doing.things["bath"]
        volume_ml = volume_taken_ml(form.taken) if form.volume_ml is None else form.volume_ml
        poured = together((), volume_ml)
        if form.ingredients or form.taken:
            room_ml = volume_ml or room_for_crystals_ml(form.ingredients, form.taken, bath)
            poured = come_in(form.ingredients, form.taken, room_ml, form.temperature_celsius, bottles_may(form)) | {"volume_ml": volume_ml}
        added = Contents(volume_ml or 1.0, {key: ends["value"] for key, ends in poured["mass_g"].items()})
        notes = refuse_apart("bath", contents_in(bath.ledger), added)
        taken, left = take_off(form.taken)
        BathEvent.objects.create(
            bath=bath,
            what=what,
            happened_at=moment(doing, form.when),
            volume_ml=volume_ml,
            poured=poured,
            remarks=form.remarks,
            **_rows(form, taken),
        )
        account = settle(bath)
        says = f"Bath “{bath}” {verb}: {MILLILITRE.show(account.volume_ml)} now.{_sentence(left)}"
        return doing.done(
            ("bath", bath.name), says, [*notes, *unknown_in(poured), *unclear_in(form.taken), *gas_in(bath)], volume_ml=account.volume_ml
        )

    return perform


def _needs_something(given: Any) -> list[Fault]:  # noqa: ANN401 (what was typed)
    return (
        []
        if given.get("ingredients") or given.get("taken")
        else [Fault("ingredients", "", "Needed: what was added, as ingredients or from bottles.")]
    )


MIX: Final[Deed[Any]] = Deed(
    name="mix",
    says="Record a bath or working solution that was mixed.",
    form=MixForm,
    perform=_mix,
    caution=Note.AT_THE_BENCH,
    examples={
        "from a bottle": {"role": "bleach", "volume_ml": "1 L", "taken": "peroxide 12 %; 760; g\ncitric acid; 55; g", "kept_in": "tray"},
        "by its parts": {"role": "clearing", "volume_ml": "1 L", "ingredients": "sodium sulphite; 2; % w/w"},
    },
)
REPLENISH: Final[Deed[Any]] = Deed(
    name="replenish",
    says="Record that a bath was brought back to strength.",
    form=AddForm,
    perform=_add("replenished", "is replenished"),
    faults=_needs_something,
    caution=Note.AT_THE_BENCH,
    examples={"boatyard": {"bath": "bleach 1", "volume_ml": 50, "taken": "peroxide 12 %; 50; mL"}},
)
TOP_UP: Final[Deed[Any]] = Deed(
    name="top-up",
    says="Record that a bath was brought back to its level.",
    form=TopUpForm,
    perform=_add("topped up", "is topped up"),
    caution=Note.AT_THE_BENCH,
    examples={"with water": {"bath": "bleach 1", "volume_ml": 40}},
)
