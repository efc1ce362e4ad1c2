"""Recipes of one's own; a change makes another edition, and the earlier ones stay."""

from typing import Annotated, Any, Final

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Flag, Words
from silverwright.asking.operation import Typed, refuse
from silverwright.book import words
from silverwright.book.models import Recipe
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.questions.ingredients import ROOM_CELSIUS, Ingredients, impossible
from silverwright.questions.recipe import recipe_named
from silverwright.vocabulary_shelf import BATH_ML
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import ONE_LINE, REMARKS
from silverwright.workshop.mixing import more_than_none
from silverwright.workshop.pouring import come_in, unknown_in


class RecipeParts(Typed):
    """What a recipe consists of."""

    role: Annotated[words.BathRole, Choice(help="What it is for.", example="bleach", label="For")]
    volume_ml: Annotated[float, BATH_ML] = 1000
    parts: Ingredients
    source: Annotated[str, Words(help="Where you have it from.", example="an old notebook", longest=200)] = ""
    remarks: Annotated[str, REMARKS] = ""

    @field_validator("volume_ml")
    @classmethod
    def _some(cls, volume_ml: float) -> float:
        return more_than_none(volume_ml)

    @field_validator("parts")
    @classmethod
    def _can_be(cls, parts: Ingredients, seen: ValidationInfo) -> Ingredients:
        if not parts:
            raise refuse("Needed: its parts, a line each.")
        volume_ml = seen.data.get("volume_ml")
        if volume_ml is not None and (why := impossible(parts, volume_ml, ROOM_CELSIUS)):
            raise refuse(why)
        return parts


class RecipeForm(RecipeParts):
    """A recipe of one's own."""

    name: Annotated[str, Words(help="What you call it.", example="bleach of the shed", longest=80, label="Name of the recipe"), ONE_LINE]
    new_edition: Annotated[bool, Flag(help="It takes the place of the recipe of that name, which stays as it is.", example="yes")] = False


def _recipe(doing: Doing[RecipeForm]) -> Done:
    form = doing.form
    poured = come_in(form.parts, (), form.volume_ml, None)
    if recipe_named(form.name) is not None:
        raise BadQuestion([Fault("name", form.name, "A recipe that comes with silverwright has this name. Take another one for yours.")])
    before = Recipe.objects.filter(name__iexact=form.name).order_by("edition").last()
    if before is not None and not form.new_edition:
        problem = f"There is already a recipe called “{before.name}”. Say that this is a new edition of it, take another name, or correct that one."
        raise BadQuestion([Fault("name", form.name, problem)])
    columns = form.model_dump(mode="json", exclude={"new_edition", "name"})
    kept = Recipe.objects.create(name=before.name if before else form.name, edition=before.edition + 1 if before else 1, **columns)
    which = f", edition {kept.edition}" if kept.edition > 1 else ""
    return doing.done(("recipe", f"{kept.name}/{kept.edition}"), f"Recipe “{kept.name}”{which} is in the book.", unknown_in(poured))


RECIPE_DEED: Final[Deed[Any]] = Deed(
    name="recipe",
    says="Enter a recipe of your own, or a new edition of one.",
    form=RecipeForm,
    perform=_recipe,
    caution=Note.AT_THE_BENCH,
    examples={
        "boatyard": {
            "name": "bleach of the shed",
            "role": "bleach",
            "volume_ml": "1 L",
            "parts": "citric acid; 4; % w/w\nhydrogen peroxide; 7; % w/w",
            "source": "an old notebook",
        }
    },
)
