"""The exposure card: times by reading and extension to carry in a pocket, with a log to fill in on its back."""

import json
from collections.abc import Sequence
from importlib.resources import as_file, files
from typing import Any, Final, Literal

from silverwright.asking.operation import Estimate
from silverwright.report.grids import FLASH, Shift, TimeGrid, apertures, card_time, filters, how_near, lights, time_grid
from silverwright.report.kit import Kit

Size = Literal["a6", "a4"]
LOG: Final = ("Hour", "Holder, side", "Reading", "Extension", "Aperture", "Given", "What is on it, note")
LOG_LINES: Final = 12  # our judgement: two days' holders, and a line high enough for a cold hand
NEAR_HEAD: Final = ("Image to subject", "extension, mm", "lens to subject, m", "ruler target, mm")
NEAR_SAYS: Final = "Which column: by extension, by distance, or by the ruler target of 200 mm as long as it is on the ground glass."
FOOT: Final = (
    "Reciprocity is in every time; below a minute in seconds. Small: 8 of 10 sheets need a time between these. "
    "–: over an hour, or under half a second."
)
MOST_CAUTIONS: Final = 2  # our judgement: more than that nobody reads on a card


def card_pdf(kit: Kit, size: Size = "a6") -> bytes:
    """The card as PDF: two pages of A6, or one of A4 to fold twice."""
    return _typeset(kit, size, "pdf")[0]


def card_png(kit: Kit, size: Size = "a6") -> Sequence[bytes]:
    """The same pages as pictures, to look at."""
    return _typeset(kit, size, "png")


def _typeset(kit: Kit, size: Size, form: Literal["pdf", "png"]) -> Sequence[bytes]:
    import typst  # noqa: PLC0415 (only paper needs it)

    with as_file(files("silverwright.report")) as room:
        pages: bytes | list[bytes] = typst.compile(
            room / "card.typ",
            font_paths=[room / "fonts"],
            ignore_system_fonts=True,
            format=form,
            ppi=200.0 if form == "png" else None,
            sys_inputs={"card": json.dumps(_words(kit, size))},
        )
    return [pages] if isinstance(pages, bytes) else pages


def _words(kit: Kit, size: Size) -> dict[str, Any]:
    """Every figure as it is printed."""
    lenses = kit.lenses[: 1 if size == "a6" else 2]
    lux = kit.reads == "lx"
    return {
        "size": size,
        "title": f"Exposure card, {kit.paper}",
        "invented": kit.invented,
        "says": f"{kit.paper}, {kit.process}. {kit.rests} {_light(kit)}",
        "grids": [_grid(time_grid(kit, lens)) for lens in lenses],
        "adds": "in stops (+1 is twice the lux), then look it up:" if lux else "then look it up:",
        "apertures": _shifts(apertures(kit, kit.lenses[0])),
        "filters": _shifts(filters(kit)),
        "lights": _shifts([light for light in lights(kit) if light.name != FLASH]),
        "foot": f"{FOOT} {_made(kit)}",
        "log": LOG,
        "log_lines": LOG_LINES,
        "log_says": f"{kit.paper}, {kit.process}. What was not as the card says goes into the last column.",
        "log_foot": f"At home: Book, Bring in a field log. {_made(kit)}",
        "near": [{"name": lens.name, "rows": how_near(lens)} for lens in lenses],
        "near_head": NEAR_HEAD,
        "near_says": NEAR_SAYS,
        "cautions": " ".join(kit.cautions[:MOST_CAUTIONS]),
    }


def _light(kit: Kit) -> str:
    return f"In {kit.light}." if kit.light else "Light not named: the limits are wide."


def _made(kit: Kit) -> str:
    made = f"silverwright {kit.made}" if kit.made else "silverwright"
    return f"Made {kit.day}, {made}; good until the box or the developer changes."


def _shifts(rows: Sequence[Shift]) -> list[dict[str, str]]:
    return [{"name": one.name, "said": one.said} for one in rows]


def _grid(grid: TimeGrid) -> dict[str, Any]:
    return {
        "title": grid.title,
        "unit": grid.unit,
        "columns": [{"extension": column.extension, "scale": column.scale} for column in grid.columns],
        "lines": [{"reading": line.reading, "times": [_cell(time) for time in line.times]} for line in grid.lines],
    }


def _cell(time: Estimate | None) -> dict[str, str] | None:
    if time is None:
        return None
    return {"value": card_time(time.value or 0), "low": card_time(time.low or 0), "high": card_time(time.high or 0)}
