"""What reacts with what, as equations for people: the table is balanced by hand, and the tests count atoms, charges and electrons."""

import re
from dataclasses import dataclass
from functools import cache
from typing import Final

from silverwright.facts.load import UNSOURCED, cited, table

_RAISED: Final = str.maketrans("0123456789+-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻")
_LOWERED: Final = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_CHARGE: Final = re.compile(r"\((\d*[+-])\)(?=\s|$)")
_COUNT: Final = re.compile(r"(?<=[A-Za-z)])\d+")


@dataclass(frozen=True, slots=True)
class Reaction:
    """One reaction: its equation as it is printed, what it means at the trays, and who says so."""

    key: str
    equation: str
    says: str
    source: str


@cache
def reactions() -> dict[str, Reaction]:
    """Every reaction that matters at the trays, by its key."""
    return {row["key"]: Reaction(row["key"], printed(row["equation"]), row["says"], _source(row)) for row in table("reactions")}


def printed(equation: str) -> str:
    """`2 Ag + H₂O₂ + 2 H⁺ → 2 Ag⁺ + 2 H₂O`."""
    raised = _CHARGE.sub(lambda found: found[1].translate(_RAISED), equation)
    return _COUNT.sub(lambda found: found[0].translate(_LOWERED), raised).replace("->", "→")


def _source(row: dict[str, str]) -> str:
    return UNSOURCED.get(row["kind"]) or cited(f"{row['source']}, {row['where']}")
