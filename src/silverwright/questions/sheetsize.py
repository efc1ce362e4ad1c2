"""The size of a sheet as people write it: `8x10 in`, `24 x 30.5 cm`, `9x12`."""

import re
from dataclasses import dataclass
from functools import cache
from typing import Final

from silverwright.asking.fields import Words
from silverwright.asking.operation import refuse
from silverwright.facts.load import table
from silverwright.units import MILLIMETRE

SHEET_SIZE: Final = Words(help="Size of a sheet, with its unit.", example="8x10 in", longest=40)
SMALLEST_MM: Final = 10.0  # our judgement: nothing smaller goes into a holder
LARGEST_MM: Final = 1600.0  # our judgement: rolls of paper are not so wide
_TIMES: Final = re.compile(r"\s*(?:x|×|\*|by)\s*", re.IGNORECASE)
_UNIT: Final = re.compile(r"(mm|cm|inches|inch|in|″|\"|m)\s*$", re.IGNORECASE)
_PLAIN_UNITS: Final = {"inches": "in", "inch": "in", "″": "in", '"': "in"}
HOW: Final = "Write both sides and the unit, such as 8x10 in or 9x12 cm."


@dataclass(frozen=True, slots=True)
class SheetSize:
    """Both sides of a sheet, and how somebody wrote them."""

    width_mm: float
    height_mm: float
    says: str

    @property
    def short_mm(self) -> float:
        """The shorter side."""
        return min(self.width_mm, self.height_mm)

    @property
    def long_mm(self) -> float:
        """The longer side."""
        return max(self.width_mm, self.height_mm)


def sheet_size(written: str) -> SheetSize:
    """The size that somebody wrote, or a refusal in words: two sides, each above a centimetre, in a unit that is said or that the trade means."""
    sides = _TIMES.split(written.strip())
    if len(sides) != 2:  # noqa: PLR2004 (arithmetic: a sheet has two sides)
        raise refuse(f"This is not the size of a sheet. {HOW}")
    unit = _unit_of(sides[1]) or _usual("x".join(side.strip() for side in sides))
    if unit is None:
        raise refuse(f"{written.strip()} in inches or in centimetres? {HOW}")
    first, second = (_side_mm(side, unit) for side in sides)
    return SheetSize(first, second, _said(written, unit, named=bool(_unit_of(sides[1]))))


def size_said(width_mm: float, height_mm: float) -> str:
    """`100.1 x 125.5 mm`: a size in millimetres, for people."""
    return f"{width_mm:.4g} x {height_mm:.4g}\N{NO-BREAK SPACE}mm"


def known_size(written: str) -> SheetSize | None:
    """The size that the book has in words, or nothing where it cannot be read."""
    try:
        return sheet_size(written)
    except ValueError:
        return None


def _side_mm(side: str, unit: str) -> float:
    number = side if _unit_of(side) else f"{side} {unit}"
    try:
        side_mm = MILLIMETRE.read(number)
    except ValueError:
        raise refuse(f"“{side.strip()}” is not a side of a sheet. {HOW}") from None
    if not isinstance(side_mm, float) or not SMALLEST_MM <= side_mm <= LARGEST_MM:
        bounds = f"{MILLIMETRE.show(SMALLEST_MM)} to {MILLIMETRE.show(LARGEST_MM)}"
        raise refuse(f"{side.strip()} {'' if _unit_of(side) else unit} is no side of a sheet; {bounds} are possible. {HOW}".replace("  ", " "))
    return side_mm


def _unit_of(side: str) -> str | None:
    """The unit at the end of a side, if there is one."""
    found = _UNIT.search(side)
    return None if found is None else _PLAIN_UNITS.get(found[1].lower(), found[1].lower())


def _usual(size: str) -> str | None:
    """The unit that the trade means by such a size: 4x5 is in inches, 9x12 in centimetres."""
    return _usual_units().get(_turned(size.lower().replace(",", ".")))


@cache
def _usual_units() -> dict[str, str]:
    return {row["size"]: row["unit"] for row in table("sheet_sizes")}


def _turned(size: str) -> str:
    """The shorter side first."""
    try:
        return "x".join(sorted(size.split("x"), key=float))
    except ValueError:
        return size


def _said(written: str, unit: str, *, named: bool) -> str:
    """As it was written, with its unit."""
    text = " ".join(written.split())
    return text if named else f"{text} {unit}"
