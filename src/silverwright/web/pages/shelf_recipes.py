"""Every recipe by what it is for: what goes in, who says so, what can hurt, and why one is not recommended."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.asking.operation import Rests
from silverwright.book.models import Recipe as OwnRecipe
from silverwright.book.shelf import own_recipes
from silverwright.questions.recipe import part_said, recipes
from silverwright.records_chemistry import Recipe, Role
from silverwright.units import MILLILITRE
from silverwright.web.recorded import recorded

HEADS: Final[dict[Role, str]] = {
    "first developer": "First developer",
    "bleach": "Bleach",
    "clearing": "Clearing",
    "second developer": "Second developer",
    "stop": "Stop",
    "fixer": "Fixer",
    "wash aid": "Wash aid",
    "toner": "Toner",
}


@dataclass(frozen=True, slots=True)
class PartLine:
    """One substance of a recipe, and who says so much of it."""

    says: str
    note: str


@dataclass(frozen=True, slots=True)
class RecipeLine:
    """A recipe in its list."""

    name: str
    use: str
    parts: Sequence[PartLine]
    says: str
    rests: Rests
    against: str
    href: str


@dataclass(frozen=True, slots=True)
class RoleBand:
    """Every recipe that serves for one step."""

    head: str
    recipes: Sequence[RecipeLine]


def page(request: HttpRequest) -> HttpResponse:
    """The recipes in the order of the process."""
    bands = [RoleBand(HEADS.get(role, role.capitalize()), [line_of(one) for one in found]) for role, found in _by_role().items()]
    own = [_own(one) for one in own_recipes()]
    bands = [RoleBand("My own", own), *bands] if own else bands
    return render(request, "shelf/recipes.html", {"bands": bands, "done": recorded(request)})


def line_of(recipe: Recipe) -> RecipeLine:
    """A recipe as its list shows it."""
    parts = [PartLine(part_said(part), part.note) for part in recipe.parts]
    if recipe.water_parts is not None:
        parts = [PartLine(f"1 part of the concentrate to {recipe.water_parts:g} of water", "")]
    href = f"/shelf/mix?{urlencode({'recipe': recipe.name})}"
    return RecipeLine(recipe.name, recipe.use, parts, recipe.says, recipe.rests, recipe.against, href)


def _own(recipe: OwnRecipe) -> RecipeLine:
    """A recipe of one's own, in its newest edition."""
    parts = [PartLine(" ".join(str(row.get(name, "")) for name in ("substance", "amount", "unit")), "") for row in recipe.parts]
    volume = f"For {MILLILITRE.show(recipe.volume_ml)}. " if recipe.volume_ml else ""
    says = recipe.source or "your own"
    return RecipeLine(recipe.name, f"{volume}{recipe.remarks}", parts, says, "own", "", f"/shelf/mix?{urlencode({'recipe': recipe.name})}")


def _by_role() -> dict[Role, list[Recipe]]:
    """Each recipe once, under what it is for in the first place; those that are not recommended last."""
    found: dict[Role, list[Recipe]] = {}
    for one in recipes():
        found.setdefault(one.role, []).append(one)
    return {role: sorted(of, key=lambda one: bool(one.against)) for role, of in found.items()}
