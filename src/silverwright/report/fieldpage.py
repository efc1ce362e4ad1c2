"""The field page: one file for the phone, with every figure in it and nothing to fetch."""

import base64
import hashlib
import json
from collections.abc import Sequence
from html import escape
from importlib.resources import files
from string import Template
from typing import Any, Final

from silverwright.report.fieldtables import tables
from silverwright.report.grids import FLASH, Shift, TimeGrid, apertures, card_time, filters, how_near, lights, time_grid
from silverwright.report.kit import COLUMNS, Kit, Taken

FONTS: Final = {
    "Besley": ("besley-latin-wght-normal.woff2", "font-weight: 400 900"),
    "Archivo": ("archivo-latin-wdth-normal.woff2", "font-weight: 100 900; font-stretch: 62% 125%"),
}
SCRIPTS: Final = ("sums.js", "count.js", "log.js", "page.js")
WAYS: Final = {"ev": "EV", "lx": "lx, incident", "dial": "time on the meter"}
NEAR: Final = {
    "extension": "extension",
    "distance": "distance",
    "size": "ruler target",
    "far": "far away",
    "unknown": "not measured",
}
BLANK_LINES: Final = 12  # our judgement: as many as on the card, two days' holders
BY_HAND: Final = ("Hour", "Holder, side", "Reading", "Extension", "Aperture", "Given", "What is on it")


def field_page(kit: Kit) -> str:
    """The whole file."""
    look, code = _look(), _code()
    lenses = [(str(place), lens.name) for place, lens in enumerate(kit.lenses)]
    lit = [("", "not named: the limits are wide"), *((str(place), light.name) for place, light in enumerate(kit.lights))]
    return Template(_text("page.html")).substitute(
        look=f"<style>{look}</style>",
        look_hash=_hash(look),
        code=f"<script>{code}</script>",
        code_hash=_hash(code),
        paper=escape(kit.paper),
        process=escape(kit.process.capitalize()),
        rests=escape(kit.rests),
        day=escape(kit.day),
        made=escape(f", silverwright {kit.made}" if kit.made else ""),
        invented='<aside class="invented"><b>Invented example</b>: every figure of it</aside>' if kit.invented else "",
        cautions="".join(f'<div class="note care"><b>Care</b><p>{escape(one)}</p></div>' for one in kit.cautions),
        lens_options=_options(lenses),
        place_options=_options([("", "not said"), *((place.name, place.said) for place in kit.places)]),
        way_options=_options(WAYS.items(), kit.reads),
        near_options=_options(NEAR.items()),
        light_options=_options(lit, _chosen(kit)),
        aperture=f"{kit.aperture_f:g}",
        tables=_tables(kit),
        figures=f'<script type="application/json" id="figures">{_figures(kit)}</script>',
    )


def _chosen(kit: Kit) -> str:
    """The place of the light that one expects."""
    return next((str(place) for place, light in enumerate(kit.lights) if light.name == kit.light), "")


def _text(name: str) -> str:
    return (files("silverwright.report") / "field" / name).read_text(encoding="utf-8")


def _look() -> str:
    """The style with its fonts inside; they are those of the server's own pages."""
    faces = []
    for family, (name, more) in FONTS.items():
        font = (files("silverwright") / "web" / "static" / "fonts" / name).read_bytes()
        source = f'url("data:font/woff2;base64,{base64.b64encode(font).decode()}") format("woff2")'
        faces.append(f'@font-face {{ font-family: "{family}"; src: {source}; {more} }}\n')
    return "".join(faces) + _text("page.css")


def _code() -> str:
    return '"use strict"\n' + "".join(_text(name) for name in SCRIPTS)


def _hash(text: str) -> str:
    """What the page's own policy lets through: this text and no other."""
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


def _figures(kit: Kit) -> str:
    """The tables as JSON that no text in it can close."""
    found: dict[str, Any] = tables(kit)
    for place, lens in enumerate(kit.lenses):
        found["lenses"][place] |= {"fields": dict(lens.fields), "known": lens.known}
    found["lights"] = [[*row, dict(light.fields)] for row, light in zip(found["lights"], kit.lights, strict=True)]
    found |= {"fields": dict(kit.fields), "log": dict(kit.log), "columns": COLUMNS, **_states(kit)}
    return json.dumps(found, separators=(",", ":"), ensure_ascii=False).replace("<", "\\u003c")


def _states(kit: Kit) -> dict[str, list[str]]:
    """The sides that cannot be exposed without a word."""
    return {"exposed": [one.name for one in kit.places if one.exposed], "empty": [one.name for one in kit.places if one.empty]}


def _options(choices: Any, chosen: str = "") -> str:  # noqa: ANN401 (pairs of any kind)
    return "".join(f'<option value="{escape(value)}"{" selected" if value == chosen else ""}>{escape(words)}</option>' for value, words in choices)


# ---------- tables for when no script runs ----------


def _tables(kit: Kit) -> str:
    where = f"For {kit.light}." if kit.light else "For a light that is not named: the limits are wide."
    says = "Reciprocity is in every time. Small: 8 of 10 sheets need a time between these. Below a minute in seconds."
    parts = [f'<p class="quiet">{escape(where)} {says}</p>']
    parts += [_grid(time_grid(kit, lens)) + _near(lens) for lens in kit.lenses]
    head = "Add to the reading before you look it up"
    head += "" if kit.reads == "ev" else ", in stops: +1 is twice the lux"
    shifts = {"Aperture": apertures(kit, kit.lenses[0]), "Light": [light for light in lights(kit) if light.name != FLASH], "Filter": filters(kit)}
    parts += [f"<h3>{head}</h3>", *(_shifts(name, rows) for name, rows in shifts.items() if rows), _blank()]
    return "\n".join(parts)


def _table(caption: str, head: Sequence[str], rows: Sequence[Sequence[str]], kind: str = "") -> str:
    top = "".join(f'<th scope="col">{cell}</th>' for cell in head)
    body = "".join(f'<tr><th scope="row">{row[0]}</th>{"".join(f"<td>{cell}</td>" for cell in row[1:])}</tr>' for row in rows)
    above = f"<caption>{caption}</caption>" if caption else ""
    return f'<div class="scroll"><table{kind}>{above}<thead><tr>{top}</tr></thead><tbody>{body}</tbody></table></div>'


def _grid(grid: TimeGrid) -> str:
    head = [
        f"{grid.unit}, mm" if grid.columns[0].extension else grid.unit,
        *(f"{column.extension}<br>{column.scale}" if column.extension else column.scale for column in grid.columns),
    ]
    rows = []
    for line in grid.lines:
        cells = ["–" if time is None else _cell(time.value, time.low, time.high) for time in line.times]
        rows.append([line.reading, *cells])
    return f"<h3>{escape(grid.title)}</h3>" + _table("Time by reading and extension", head, rows)


def _cell(value: float | None, low: float | None, high: float | None) -> str:
    return f"{card_time(value or 0)}<small>{card_time(low or 0)}<br>{card_time(high or 0)}</small>"


def _near(lens: Taken) -> str:
    head = ("Image to subject", "extension<br>mm", "distance<br>m", "ruler target<br>mm")
    return _table("How near: which column", head, how_near(lens))


def _shifts(name: str, rows: Sequence[Shift]) -> str:
    return _table("", (name, "add"), [(escape(one.name), one.said) for one in rows])


def _blank() -> str:
    lines = [["&nbsp;"] * len(BY_HAND)] * BLANK_LINES
    return "<h3>Log by hand</h3>" + _table("To print, or to copy into a notebook", BY_HAND, lines, ' class="by-hand"')
