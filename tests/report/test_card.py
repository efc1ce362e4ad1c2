"""The exposure card and the ruler target as they are printed: sizes, figures read back from the PDF, geometry."""

import io
import re
from itertools import pairwise
from math import log2
from time import perf_counter
from typing import Any, Final

import pypdf
import pytest
from tests.report.kits import LEARNT, LENSES, OPEN_SHADE, kit

from silverwright.questions.light import table_offset
from silverwright.report.card import LOG, LOG_LINES, Size, card_pdf
from silverwright.report.grids import MAGNIFICATIONS, lights
from silverwright.report.kit import Kit, ask
from silverwright.report.target import Paper, target_pdf
from silverwright.units import SECOND

SIZES_MM: Final[dict[Size, tuple[float, float, int]]] = {"a6": (105, 148, 2), "a4": (210, 297, 1)}
NEAR_STOPS: Final = 0.1
ROW: Final = re.compile("[\N{MINUS SIGN}]?[\\d.]+( [\\d:.–]+)+")
CARD: Final = kit(light="open shade")
POINT_MM: Final = 25.4 / 72


def pages(content: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(content)).pages)


def words(page: pypdf.PageObject) -> list[str]:
    return [line.strip() for line in page.extract_text().replace("\N{NO-BREAK SPACE}", " ").splitlines() if line.strip()]


def printed_times(page: pypdf.PageObject, columns: int) -> dict[str, list[tuple[float, ...] | None]]:
    """Row by row what stands on the card: the reading, then of each column the time and its limits as `1:19 52 – 2:02`, or a dash."""
    rows: dict[str, list[tuple[float, ...] | None]] = {}
    for line in words(page):
        reading, *rest = line.split()
        row: list[tuple[float, ...] | None] = []
        while rest and ROW.fullmatch(line):
            alone = rest[0] == "–"
            row.append(None if alone else tuple(seconds(rest[place]) for place in (0, 1, 3)))
            rest = rest[1 if alone else 4 :]
        if len(row) == columns:
            rows[reading] = row
    return rows


def seconds(text: str) -> float:
    found = SECOND.read(text)
    assert isinstance(found, float)
    return found


@pytest.mark.parametrize("size", SIZES_MM)
def test_the_size_is_exact(size: Size) -> None:
    wide, high, count = SIZES_MM[size]
    found = pages(card_pdf(CARD, size))
    assert len(found) == count
    for page in found:
        assert (float(page.mediabox.width) * POINT_MM, float(page.mediabox.height) * POINT_MM) == pytest.approx((wide, high), abs=0.1)


@pytest.mark.parametrize("lens", range(len(LENSES)))
@pytest.mark.parametrize("reads", ["ev", "lx"])
def test_interpolating_on_the_card_gives_what_the_ledger_says(lens: int, reads: str) -> None:
    """Between rows and between columns, anywhere on the card; from its printed text, against the ledger."""
    made = kit(light="open shade", lenses=[LENSES[lens]], reads=reads)
    found = printed_times(pages(card_pdf(made))[0], len(MAGNIFICATIONS))
    assert len(found) >= 8
    worst, compared = 0.0, 0
    for upper, lower in pairwise(list(found)):
        for column in range(len(MAGNIFICATIONS) - 1):
            corners = [found[reading][place] for reading in (upper, lower) for place in (column, column + 1)]
            if any(corner is None for corner in corners):
                continue
            for down, across in ((0, 0), (0.5, 0.5), (0.25, 0.75), (1, 1)):
                off = between(made, (upper, lower), column, corners, (down, across))
                worst, compared = max(worst, *map(abs, off)), compared + len(off)
    assert compared > 300
    assert worst <= NEAR_STOPS


def between(made: Kit, readings: tuple[str, str], column: int, corners: list[Any], place: tuple[float, float]) -> list[float]:
    """How far a place between four cells lies off the ledger: the time and both limits, in stops."""
    down, across = place
    scales = list(MAGNIFICATIONS.values())[column : column + 2]
    focal_mm = made.lenses[0].fields.get("focal_mm")
    if focal_mm is None:
        near: dict[str, Any] = {"magnification_factor": scales[0] + across * (scales[1] - scales[0])}
    else:
        far = made.lenses[0].fields.get("infinity_extension_mm", focal_mm)
        first, last = (round(far + focal_mm * scale) for scale in scales)
        near = {"extension_mm": first + across * (last - first)}
    low, high = (float(one.replace("\N{MINUS SIGN}", "-")) for one in readings)
    light = {"reading_ev": low + down * (high - low)} if made.reads == "ev" else {"reading_lx": low * (high / low) ** down}
    time = ask({**LEARNT, **OPEN_SHADE, **made.lenses[0].fields, **opening(made.lenses[0].fields), **light, **near}).time_s
    off = []
    for place_in, true in enumerate((time.value, time.low, time.high)):
        edges = [log2(corner[place_in]) for corner in corners]
        top, bottom = (edges[row] + across * (edges[row + 1] - edges[row]) for row in (0, 2))
        off.append(top + down * (bottom - top) - log2(true or 0))
    return off


def opening(fields: Any) -> dict[str, float]:
    """The card's aperture; of a hole its own."""
    return {} if "stop_mm" in fields else {"aperture_f": 22.0}


def test_other_lights_stand_on_it_as_the_table_of_lights_has_them() -> None:
    made = kit()
    text = " ".join(words(pages(card_pdf(made))[0]))
    for shift in lights(made):
        if shift.name != "open shade":
            table = table_offset(shift.name, "blue")
            assert table is not None
            assert shift.reading_stops == pytest.approx(table.amount_stops, abs=1e-6)
        assert (shift.name in text) == (shift.name != "flash"), "a flash has no time"
        assert shift.name == "flash" or shift.said in text


def test_the_log_is_on_the_back() -> None:
    page = pages(card_pdf(CARD))[1]
    text = " ".join(words(page))
    assert all(name in text for name in LOG)
    apart = [higher - lower for lower, higher in pairwise(ruled(page))]
    lines = [one for one in apart if one == pytest.approx(max(apart), abs=0.1)]
    assert len(lines) == LOG_LINES == 12
    assert min(lines) > 8, "high enough for a cold hand"


def ruled(page: pypdf.PageObject) -> list[float]:
    """How high above the foot of the page its horizontal rules lie, in millimetres."""
    content, at, found = page.get_contents(), 0.0, set()
    assert content is not None
    for values, name in content.operations:
        if name == b"cm":
            at = float(values[5])
        if name == b"l" and float(values[1]) == 0:
            found.add(round(at * POINT_MM, 2))
    return sorted(found)


def test_it_says_when_it_was_made_and_what_it_rests_on() -> None:
    text = " ".join(words(pages(card_pdf(CARD))[0]))
    for wanted in ("28 November 2026", CARD.rests, "In open shade", "8 of 10", "f/22"):
        assert wanted in text


def test_what_was_typed_is_no_markup() -> None:
    name = "#let x = 1; $y$ *z* _w_"
    assert name in " ".join(words(pages(card_pdf(kit(paper=name)))[0]))


def test_it_is_made_in_less_than_a_second() -> None:
    card_pdf(CARD)
    began = perf_counter()
    card_pdf(CARD)
    assert perf_counter() - began < 1


# ---------- the ruler target ----------


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_the_bars_are_exactly_so_far_apart(paper: Paper) -> None:
    """The path operators of the page itself, with the matrices before them."""
    (page,) = pages(target_pdf(paper))
    rectangles = filled(page)
    tall = [(left, right) for left, right, height in rectangles if height == pytest.approx(90, abs=0.1)]
    assert len(tall) == 2
    apart = max(right for _, right in tall) - min(left for left, _ in tall)
    assert apart == pytest.approx(200, abs=0.05), "the contract is 0.5 mm"
    assert min(left for left, _ in tall) > 10, "printers leave a margin"


def filled(page: pypdf.PageObject) -> list[tuple[float, float, float]]:
    """Left, right and height of each filled path, in millimetres."""
    content = page.get_contents()
    assert content is not None
    matrices: list[tuple[float, ...]] = [(1, 0, 0, 1, 0, 0)]
    points: list[tuple[float, float]] = []
    found = []
    for operands, operator in content.operations:
        numbers = [float(one) for one in operands if isinstance(one, int | float)]
        match operator:
            case b"q":
                matrices.append(matrices[-1])
            case b"Q":
                matrices.pop()
            case b"cm":
                matrices[-1] = times(numbers, matrices[-1])
            case b"m" | b"l":
                points.append(moved(numbers, matrices[-1]))
            case b"re":
                x, y, wide, high = numbers
                points += [moved((x, y), matrices[-1]), moved((x + wide, y + high), matrices[-1])]
            case b"f" | b"f*":
                across, up = [x for x, _ in points], [y for _, y in points]
                found.append((min(across) * POINT_MM, max(across) * POINT_MM, (max(up) - min(up)) * POINT_MM))
                points = []
            case b"S" | b"n":
                points = []
    return found


def times(first: Any, then: Any) -> tuple[float, ...]:
    """One matrix before another, as PDF multiplies them."""
    a, b, c, d, e, f = first
    g, h, i, j, k, m = then
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def moved(point: Any, matrix: tuple[float, ...]) -> tuple[float, float]:
    x, y = point
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f
