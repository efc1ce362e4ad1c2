"""The marks on a scan as a form has them, a grid or places: as typed, else as placed before, else a first guess."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from silverwright.book.models import Scan
from silverwright.book.scans import ScanKnown
from silverwright.records import Grid
from silverwright.web.pages.doing import sent
from silverwright.workshop.deeds import find_deed

CORNERS: Final = ("where patch 1 is", "the end of its row", "the last patch", "the start of the last row")
FIRST_GUESS: Final = ("10", "10", "90", "10", "90", "90", "10", "90")  # our judgement: a field that fills most of the scan, to be drawn into place
TURNS: Final[Mapping[str, tuple[int, ...]]] = {"quarter": (3, 0, 1, 2), "mirror": (1, 0, 3, 2)}
COLUMNS: Final[Mapping[str, str]] = {
    "x_percent": "Across",
    "y_percent": "Down",
    "width_percent": "Wide",
    "height_percent": "High",
    "reading_ev": "Reading there",
    "note": "What is there",
}
LEAST_PLACES, SPARE_PLACES = 4, 2  # our judgement: a shadow, a light, something between, and one more
DIGITS: Final = 4  # arithmetic: a pixel of the largest scan is more than a ten-thousandth of a percent of it
PERCENT: Final = 100  # arithmetic


@dataclass(frozen=True, slots=True)
class CornerField:
    """One corner as two numbers to type."""

    number: int
    says: str
    across: str
    down: str


@dataclass(frozen=True, slots=True)
class GridTyped:
    """The grid as the form has it; `moved` when it is not the one that was measured."""

    corners: tuple[CornerField, ...]
    rows: str
    columns: str
    moved: bool

    @property
    def grid(self) -> Grid | None:
        """For the drawing; nothing where a field holds no number."""
        try:
            found = [(_number(one.across), _number(one.down)) for one in self.corners]
            return Grid((found[0], found[1], found[2], found[3]), int(self.rows), int(self.columns))
        except ValueError:
            return None


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of the table of places."""

    name: str
    column: str
    label: str
    text: str


def corner_names() -> list[str]:
    """`x1`, `y1`, `x2` ... in the order in which an act takes them."""
    return [f"{axis}{number}" for number in range(1, len(CORNERS) + 1) for axis in "xy"]


def grid_typed(known: ScanKnown, typed: Mapping[str, str]) -> GridTyped:
    """What stands in the form of the grid, turned when somebody without script asks for it."""
    scan = known.scan
    there = scan.grid or {}
    asked = known.job.given if known.job else {}
    standing = [_shown(PERCENT * part) for corner in there.get("corners", ()) for part in corner] or list(FIRST_GUESS)
    numbers = [typed.get(name, old) for name, old in zip(corner_names(), standing, strict=True)]
    rows, columns = (typed.get(name) or str(there.get(name) or asked.get(name) or "") for name in ("rows", "columns"))
    if (turn := TURNS.get(typed.get("turn", ""))) is not None:
        numbers = [number for place in turn for number in numbers[2 * place : 2 * place + 2]]
        rows, columns = (columns, rows) if typed["turn"] == "quarter" else (rows, columns)
    measured = (standing, str(there.get("rows", "")), str(there.get("columns", "")))
    corners = tuple(CornerField(place + 1, says, *numbers[2 * place : 2 * place + 2]) for place, says in enumerate(CORNERS))
    return GridTyped(corners, rows, columns, moved=bool(scan.signals) and (numbers, rows, columns) != measured)


def places_typed(scan: Scan, typed: Mapping[str, str]) -> list[list[Cell]]:
    """The rows of the table of places, with some to spare."""
    found = sent(find_deed("places").form, typed).given.get("places")
    there: Sequence[Mapping[str, Any]] = found if isinstance(found, list) else scan.places
    rows: list[Mapping[str, Any]] = [*there, *[{}] * max(LEAST_PLACES - len(there), SPARE_PLACES)]
    return [
        [Cell(f"places.{place}.{name}", label, f"{label}, place {place + 1}", _cell(row.get(name))) for name, label in COLUMNS.items()]
        for place, row in enumerate(rows)
    ]


def _cell(value: object) -> str:
    return "" if value is None else f"{value:g}" if isinstance(value, float | int) else str(value)


def _number(text: str) -> float:
    return float(text.replace(",", ".")) / PERCENT


def _shown(percent: float) -> str:
    """`10.5`, with as many digits as a pixel needs."""
    return f"{percent:.{DIGITS}f}".rstrip("0").rstrip(".")
