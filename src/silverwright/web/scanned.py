"""A scan as pages show it: where it stands, its grid drawn over it, its patches with their tones and their doubt."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any, Final
from urllib.parse import quote

from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate, Remark
from silverwright.book.models import Scan
from silverwright.book.scans import ScanKnown
from silverwright.densitometry.grid import middle_half, patch_quads
from silverwright.errors import OutOfRange
from silverwright.records import Corner, Grid
from silverwright.web.figures import MINUS, Figure
from silverwright.web.swatch import swatch
from silverwright.web.when import short_day

MARKS: Final = {
    "waiting": "planned",
    "running": "trays",
    "failed": "fault",
    "stopped": "planned",
    "refused": "fault",
    "untagged": "dry",
    "unsure": "dry",
    "looked": "dry",
    "measured": "measured",
}
SAYS: Final = {
    "waiting": "Waits to be read",
    "running": "Being read",
    "failed": "Could not be read",
    "stopped": "Stopped",
    "refused": "Cannot be used",
    "untagged": "What do its numbers mean?",
    "unsure": "Grid to be placed",
    "looked": "Read, no places marked",
    "measured": "Measured",
}
CLIPPED: Final = {"white": "clipped at white, left out", "black": "clipped at black, left out"}
PERCENT: Final = 100  # arithmetic
WIDE: Final = 1200  # our judgement: the drawing's own units across; the style sheet's letters are made for it
LETTERS: Final = 22  # our judgement: numbers stand this far below the measured middle


@dataclass(frozen=True, slots=True)
class ScanCard:
    """A scan among others."""

    name: str
    href: str
    thumb: str
    head: str
    line: str
    mark: str
    says: str
    file: str


@dataclass(frozen=True, slots=True)
class PatchLine:
    """One patch, or one place of a picture."""

    position: int
    tone: SafeString
    density: str
    doubt: str
    light: str
    reading: str
    note: str
    out: bool


def card(scan: Scan, state: str) -> ScanCard:
    """A scan as a card."""
    many = len(scan.signals)
    counted = f"; {many} {'place' if scan.shows == 'picture' else 'patch'}{'' if many == 1 else 's' if scan.shows == 'picture' else 'es'}"
    return ScanCard(
        name=scan.name,
        href=f"/measure/{quote(scan.name)}",
        thumb=view_href(scan, "thumb.png") if "width_px" in scan.header and not scan.said else "",
        head=f"Sheet {scan.sheet}" if scan.sheet else "Step tablet",
        line=f"{short_day(scan.scanned_at)}{counted if many else ''}",
        mark=MARKS[state],
        says=SAYS[state],
        file=str(scan.file),
    )


def view_href(scan: Scan, path: str) -> str:
    """Where one of its pictures for the eye stands; what its numbers mean belongs to the address, because the picture differs with it."""
    return f"/measure/{quote(scan.name)}/view/{path}?as={quote(scan.untagged)}"


def patch_lines(known: ScanKnown) -> list[PatchLine]:
    """Every patch in its order: those with a density, those left out with the reason, and without a calibration their light."""
    scan, answer = known.scan, known.densities
    found = dict(zip((int(one) for one in answer.positions), zip(answer.densities, answer.density_sds, strict=True), strict=True)) if answer else {}
    return [_patch_line(signal, found.get(int(signal["position"])), _typed(scan, int(signal["position"]))) for signal in scan.signals]


def _typed(scan: Scan, position: int) -> Mapping[str, Any]:
    """What was typed for a marked place; a patch of a grid has none."""
    return scan.places[position - 1] if 0 < position <= len(scan.places) else {}


def _patch_line(signal: Mapping[str, Any], read: tuple[float, float] | None, place: Mapping[str, Any]) -> PatchLine:
    density, doubt = read or (None, None)
    reading = place.get("reading_ev")
    out = CLIPPED.get(signal.get("clipped") or "", "")
    return PatchLine(
        position=int(signal["position"]),
        tone=mark_safe(swatch(density)) if density is not None else SafeString(""),  # noqa: S308 (drawn from a number)
        density="" if density is None else f"{density:.2f}",
        doubt="" if doubt is None else f"{doubt:.3f}",
        light=f"{PERCENT * signal['grey']:.2f}",
        reading="" if reading is None else f"{reading:g}",
        note="; ".join(filter(None, (out, str(place.get("note") or "")))),
        out=bool(out),
    )


def ends(known: ScanKnown) -> list[Figure]:
    """The darkest and the lightest patch, each with the limits that its doubt gives."""
    answer = known.densities
    if answer is None or not answer.densities:
        return []
    rows = list(zip(answer.densities, answer.density_sds, strict=True))
    return [_end("darkest", "Darkest", *max(rows)), _end("lightest", "Lightest", *min(rows))]


def _end(name: str, label: str, density: float, sd: float) -> Figure:
    reach = EIGHTY_PERCENT_SD * sd
    exact = Estimate(value=density, low=density - reach, high=density + reach, percent=80)
    return Figure(name, label, f"{density:.2f}", f"{density - reach:.2f}".replace("-", MINUS), f"{density + reach:.2f}", exact.model_dump_json())


def notes_of(notes: Sequence[Any]) -> list[Remark]:
    """What the reading of the file had to say, as it was kept that day."""
    return [Remark.model_construct(**one) for one in notes if isinstance(one, Mapping)]


def drawn(scan: Scan, grid: Grid | None, left_out: Sequence[int]) -> SafeString:
    """The grid, or the marked places, as lines over the still picture; each patch's measured middle, numbered, those left out crossed."""
    wide, high = int(scan.header.get("width_px") or 1), int(scan.header.get("height_px") or 1)
    down = WIDE * high / wide
    try:
        boxes = [middle_half(one) for one in patch_quads(grid)] if grid else [_box(place) for place in scan.places]
    except OutOfRange:
        boxes = []
    parts = [_polygon(grid.corners, "edge", down)] if grid else []
    for place, box in enumerate(boxes, start=1):
        parts += [_polygon(box, "cell-b", down), _polygon(box, "cell", down)]
        if place in left_out:
            parts += [_polygon((box[0], box[2]), "out", down), _polygon((box[1], box[3]), "out", down)]
        parts.append(_number(box, place, down))
    words = escape(f"Grid of {len(boxes)} patches" if grid else f"{len(boxes)} marked places")
    return mark_safe(f'<svg viewBox="0 0 {WIDE} {down:.1f}" role="img" aria-label="{words}">{"".join(parts)}</svg>')  # noqa: S308 (drawn from numbers)


def _box(place: Mapping[str, float]) -> tuple[Corner, Corner, Corner, Corner]:
    x, y, wide, high = (place[name] / PERCENT for name in ("x_percent", "y_percent", "width_percent", "height_percent"))
    left, right, top, bottom = x - wide / 2, x + wide / 2, y - high / 2, y + high / 2
    return (left, top), (right, top), (right, bottom), (left, bottom)


def _polygon(points: Sequence[Corner], kind: str, down: float) -> str:
    placed = " ".join(f"{WIDE * x:.2f},{down * y:.2f}" for x, y in points)
    return f'<polygon class="{kind}" points="{placed}"/>'


def _number(box: Sequence[Corner], place: int, down: float) -> str:
    x, y = sum(one[0] for one in box) / len(box), max(one[1] for one in box)
    return f'<text x="{WIDE * x:.1f}" y="{down * y + LETTERS:.1f}" text-anchor="middle">{place}</text>'
