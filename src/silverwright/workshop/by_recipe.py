"""A bath that is mixed by a recipe's name: one's own or one that comes with silverwright, and its parts for the volume that is wanted."""

from silverwright.book.find import find_thing
from silverwright.book.models import Recipe
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.questions.ingredients import IngredientRow
from silverwright.questions.recipe import recipe_named, recipe_or_refuse
from silverwright.questions.substances import named

OF_THE_VOLUME = frozenset({"g", "mL"})  # these grow with the volume; a strength does not


def recipe_meant(written: str) -> tuple[str, Recipe | None]:
    """The recipe's name as the bath keeps it, and the row where it is one's own; an unknown one is refused with what is near."""
    if not written:
        return "", None
    try:
        own = find_thing("recipe", written)
    except UnknownName:
        own = None
    if isinstance(own, Recipe):
        return str(own), own
    try:
        return recipe_or_refuse(written).name, None
    except ValueError as unknown:
        raise BadQuestion([Fault("recipe", written, str(unknown))]) from None


def parts_of(name: str, own: Recipe | None, volume_ml: float) -> tuple[IngredientRow, ...]:
    """What the recipe puts into so much of it; a ready-made concentrate has no parts, its bottle is taken."""
    if own is not None:
        rows = [IngredientRow.model_validate(row) for row in own.parts]
        scale = volume_ml / (own.volume_ml or volume_ml)
        return tuple(row.model_copy(update={"amount": row.amount * scale}) if row.unit in OF_THE_VOLUME else row for row in rows)
    known = recipe_named(name) if name else None
    if known is None or not known.parts:
        raise BadQuestion([Fault("ingredients", "", "Needed: what is in it, as ingredients, from bottles of the shelf, or both.")])
    return tuple(IngredientRow(substance=named(part.substance), amount=part.amount, unit=part.unit) for part in known.parts)
