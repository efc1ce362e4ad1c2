"""The room's own numbers: whom to call, in which country, and by which rules hazards are told."""

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, Final

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Typed
from silverwright.book import words
from silverwright.book.models import Workroom
from silverwright.errors import Fault
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import REMARKS


class WorkroomForm(Typed):
    """The workroom; what is not named stays as it is."""

    poison_centre: Annotated[
        str | None,
        Words(help="The number of your poison centre: look it up today, and write it here.", example="the number that you looked up", longest=80),
    ] = None
    country: Annotated[str | None, Words(help="Where you work; rules differ.", example="Germany", longest=80)] = None
    rules: Annotated[
        words.RuleSet | None, Choice(help="By which rules hazards are told; a proposal is not law.", example="in force", label="Rules")
    ] = None
    remarks: Annotated[str | None, REMARKS] = None


def _something(given: Mapping[str, object]) -> Sequence[Fault]:
    named = {"poison_centre", "country", "rules", "remarks"} & set(given)
    return [] if named else [Fault("poison_centre", "", "Needed: the number of your poison centre, your country, or the rules to go by.")]


def _workroom(doing: Doing[WorkroomForm]) -> Done:
    room = Workroom.objects.order_by("pk").first() or Workroom()
    given = {name: value for name, value in doing.form.model_dump().items() if value is not None}
    for name, value in given.items():
        setattr(room, name, value)
    room.save()
    number = f" Poison centre: {room.poison_centre}." if room.poison_centre else " The number of the poison centre is not written down yet."
    return doing.done(("workroom", "workroom"), f"The workroom's own numbers are in the book.{number}")


WORKROOM: Final[Deed[Any]] = Deed(
    name="workroom",
    says="Write down the number of the poison centre, the country, and the rules for hazards.",
    form=WorkroomForm,
    perform=_workroom,
    faults=_something,
    examples={"boatyard": {"country": "Germany", "rules": "in force", "poison_centre": "the number that you looked up"}},
)
