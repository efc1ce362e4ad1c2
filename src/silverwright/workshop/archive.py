"""Out of the lists, never out of the book: archive, and bring back."""

from typing import Annotated, Any, Final, Literal

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Typed
from silverwright.book.find import called, find_thing
from silverwright.book.models import Holder
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.settling import follow

Kind = Literal[
    "paper",
    "lot",
    "chip",
    "camera",
    "lens",
    "light",
    "meter",
    "holder",
    "scanner",
    "scan",
    "sheet",
    "exposure",
    "processing",
    "step",
    "step-sheet",
    "reading",
    "verdict",
    "scene-patch",
    "stock",
    "stock-test",
    "recipe",
    "bath",
    "bath-event",
    "waste-bottle",
    "emptying",
]
KIND: Final = Choice(help="What kind of thing.", example="lens")
NAME: Final = Words(help="Its name or its number; the second exposure of a sheet is 26-018/2.", example="210 mm lens in a leaf shutter", longest=100)


class ThingForm(Typed):
    """Anything in the book."""

    kind: Annotated[Kind, KIND]
    name: Annotated[str, NAME]


def named_in(form: ThingForm) -> Any:  # noqa: ANN401 (any row of the book)
    """The thing that the form names; unknown is a fault of the form."""
    try:
        return find_thing(form.kind, form.name)
    except UnknownName as unknown:
        raise BadQuestion([Fault("name", form.name, str(unknown))]) from None


def _archive(doing: Doing[ThingForm]) -> Done:
    thing = named_in(doing.form)
    if thing.archived_at is not None:
        raise BadQuestion([Fault("name", doing.form.name, f"This {doing.form.kind} is archived already.")])
    if isinstance(thing, Holder) and thing.sides.filter(state__in=("loaded", "exposed")).exists():
        raise BadQuestion([Fault("name", doing.form.name, "There is still paper in this holder. Unload it first.")])
    thing.archived_at = doing.at
    thing.save()
    follow(thing)
    kind, name = called(thing)
    return doing.done((kind, name), f"{kind.capitalize()} {name} is archived: out of the lists, still in the book.")


def _bring_back(doing: Doing[ThingForm]) -> Done:
    thing = named_in(doing.form)
    if thing.archived_at is None:
        raise BadQuestion([Fault("name", doing.form.name, f"This {doing.form.kind} is not archived.")])
    thing.archived_at = None
    thing.save()
    follow(thing)
    kind, name = called(thing)
    return doing.done((kind, name), f"{kind.capitalize()} {name} is back.")


ARCHIVE: Final[Deed[Any]] = Deed(
    name="archive",
    says="Take something out of the lists; it stays in the book.",
    form=ThingForm,
    perform=_archive,
    examples={"boatyard": {"kind": "lens", "name": "210 mm lens in a leaf shutter"}},
)
BRING_BACK: Final[Deed[Any]] = Deed(
    name="bring-back",
    says="Bring something back from the archive.",
    form=ThingForm,
    perform=_bring_back,
    examples={"boatyard": {"kind": "lens", "name": "210 mm lens in a leaf shutter"}},
)
