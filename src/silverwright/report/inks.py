"""The colours of a drawing by what they are for: on a page the page's own names, so that day, dark, safelight and print follow; on paper black."""

from dataclasses import dataclass
from typing import Any, Final


@dataclass(frozen=True, slots=True)
class Inks:
    """What a drawing is made with."""

    paper: str
    ink: str
    second: str
    rule: str
    line: str
    wash: str
    mark: str
    problem: str


PAGE: Final = Inks(
    paper="var(--paper)",
    ink="var(--ink)",
    second="var(--ink-2)",
    rule="var(--rule)",
    line="var(--line)",
    wash="var(--water)",
    mark="var(--bar)",
    problem="var(--stop)",
)
PRINT: Final = Inks(
    paper="#FFFFFF", ink="#000000", second="#000000", rule="#BBBBBB", line="#000000", wash="#DDDDDD", mark="#000000", problem="#000000"
)


def config(inks: Inks) -> dict[str, Any]:
    """What every chart has in common."""
    return {
        "background": "transparent",
        "font": "Archivo, sans-serif",
        "padding": 0,
        "view": {"stroke": None},
        "axis": {
            "domain": False,
            "ticks": False,
            "gridColor": inks.rule,
            "labelColor": inks.second,
            "titleColor": inks.ink,
            "labelFontSize": 14,
            "titleFontSize": 14,
            "titleFontWeight": 400,
        },
        "line": {"color": inks.ink, "strokeWidth": 3},
        "area": {"color": inks.wash, "opacity": 1},
        "rule": {"color": inks.mark, "strokeWidth": 2},
        "point": {"shape": "square", "size": 80, "fill": inks.paper, "stroke": inks.ink, "strokeWidth": 1.75, "opacity": 1},
        "text": {"color": inks.ink, "fontSize": 14},
        "legend": {"disable": True},
    }
