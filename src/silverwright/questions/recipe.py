"""Recipes by their names: how each bath of the process is made, who says so, and what can hurt."""

from difflib import get_close_matches
from functools import cache
from typing import Final, Literal, cast, get_args

from silverwright.asking.fields import Words
from silverwright.asking.operation import refuse
from silverwright.errors import UnknownName
from silverwright.facts.load import UNSOURCED, cited, table
from silverwright.questions.substances import named
from silverwright.records_chemistry import Part, Recipe, Role, StrengthUnit

RECIPE: Final = Words(help="The recipe by its name; none where you give the parts yourself.", example="peroxide bleach", longest=80, label="Recipe")
VERSION: Final = Words(help="Which version of the recipe; the newest where none is given.", example="1", longest=20, label="Version of the recipe")
ROLES: Final[tuple[Role, ...]] = get_args(Role)
NEAR: Final = 0.4  # our judgement: a name half remembered is offered
Rests = Literal["published", "trade", "judgement"]


@cache
def recipes() -> tuple[Recipe, ...]:
    """Every recipe that is known here, in the order of the process; of several versions the newest last."""
    known = [_recipe(row) for row in table("recipes")]
    return tuple(sorted(known, key=lambda one: ROLES.index(one.role)))


def recipe_named(name: str, version: str = "") -> Recipe | None:
    """The recipe of that name, in that version or the newest; nothing where it is not known here."""
    wanted = " ".join(name.lower().split())
    found = [one for one in recipes() if one.name == wanted and version in {"", one.version}]
    return found[-1] if found else None


def recipe_or_refuse(name: str, version: str = "") -> Recipe:
    """The recipe of that name, or our sentence about what is known instead."""
    found = recipe_named(name, version)
    if found is not None:
        return found
    if recipe_named(name) is not None:
        versions = " and ".join(one.version for one in recipes() if one.name == " ".join(name.lower().split()))
        raise refuse(f"“{name}” has no version {version}; there is {versions}.", "version")
    near = get_close_matches(name.lower(), [one.name for one in recipes()], n=3, cutoff=NEAR)
    known = " or ".join(near) if near else ", ".join(one.name for one in recipes())
    raise refuse(f"“{name}” is not among the recipes that are known here. Is it {known}? Else give its parts, a line each.")


def for_role(role: Role) -> tuple[Recipe, ...]:
    """Every recipe that serves for this in the process, recommended ones first."""
    return tuple(sorted((one for one in recipes() if role in one.roles), key=lambda one: bool(one.against)))


def recipes_for(role: str = "") -> tuple[Recipe, ...]:
    """Every recipe, or those for one step of the process as somebody typed it."""
    if not role:
        return recipes()
    if role not in ROLES:
        raise UnknownName("step of the process", role, get_close_matches(role, ROLES))
    return for_role(role)


def part_said(part: Part) -> str:
    """`hydrogen peroxide 9 % w/w (6 to 12)`."""
    ends = [f"{end:g}" for end in (part.low, part.high) if end is not None]
    between = f" ({' to '.join(ends)})" if len(ends) > 1 else ""
    return f"{named(part.substance)} {part.amount:g} {part.unit}{between}"


def _recipe(row: dict[str, str]) -> Recipe:
    parts = [one for one in table("recipe_parts") if (one["recipe"], one["version"]) == (row["name"], row["version"])]
    return Recipe(
        name=row["name"],
        version=row["version"],
        roles=cast("tuple[Role, ...]", tuple(row["roles"].split("|"))),
        parts=tuple(_part(one) for one in parts),
        use=row["use"],
        says=_says(row),
        rests=_rests(row["kind"]),
        cautions=tuple(row["cautions"].split("|")),
        water_parts=_number(row["water_parts"]),
        against=row["against"],
    )


def _part(row: dict[str, str]) -> Part:
    return Part(
        substance=row["substance"],
        amount=float(row["amount"]),
        unit=cast("StrengthUnit", row["unit"]),
        low=_number(row["low"]),
        high=_number(row["high"]),
        says=_says(row),
        rests=_rests(row["kind"]),
        note=row["note"],
    )


def _says(row: dict[str, str]) -> str:
    return UNSOURCED.get(row["kind"]) or cited(f"{row['source']}, {row['where']}".rstrip(", "))


def _rests(kind: str) -> Rests:
    if kind == "judgement":
        return "judgement"
    return "trade" if kind in UNSOURCED else "published"


def _number(text: str) -> float | None:
    return float(text) if text else None
