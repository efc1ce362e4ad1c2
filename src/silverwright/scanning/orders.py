"""What the child is asked to do with one file, and how an order travels to it: as one line of JSON."""

import json
from dataclasses import asdict, dataclass
from typing import Any, Final, Literal

from silverwright.records import Grid

Untagged = Literal["linear", "gamma 2.2", "sRGB", ""]
Share = float  # of the picture's width or height, 0 to 1


@dataclass(frozen=True, slots=True)
class Place:
    """A place of a picture: its middle and its size, in shares of width and height."""

    x: Share
    y: Share
    width: Share
    height: Share


@dataclass(frozen=True, slots=True)
class Look:
    """
    Read what a file says of itself, make pictures for the eye, and look for the field of patches.

    `untagged` is what the numbers of a file without a profile mean, nothing when nobody knows. `rows` and `columns` are known or not.
    `find` is false for a picture, which has no patches. Pictures go to `tiles_folder`: all of them, or none.
    """

    path: str
    untagged: str
    tiles_folder: str
    rows: int | None = None
    columns: int | None = None
    find: bool = True


@dataclass(frozen=True, slots=True)
class Measure:
    """Measure the patches of a grid, or the places of a picture."""

    path: str
    untagged: str
    grid: Grid | None = None
    places: tuple[Place, ...] = ()


Order = Look | Measure
KINDS: Final[dict[str, type[Look] | type[Measure]]] = {"look": Look, "measure": Measure}


def as_line(order: Order) -> str:
    """The order as one line of JSON."""
    return json.dumps({"kind": type(order).__name__.lower(), **asdict(order)})


def from_line(line: str) -> Order:
    """The order that `as_line` wrote."""
    given: dict[str, Any] = json.loads(line)
    kind = KINDS[given.pop("kind")]
    if kind is Look:
        return Look(**given)
    grid = given["grid"]
    if grid is not None:
        first, second, third, fourth = ((x, y) for x, y in grid["corners"])
        given["grid"] = Grid((first, second, third, fourth), grid["rows"], grid["columns"])
    return Measure(**{**given, "places": tuple(Place(**place) for place in given["places"])})
