"""The plan of the cuts, drawn: every part where it lies, and the same in words for whoever hears the page."""

import re

from silverwright.processing.cutparts import parts_of
from silverwright.processing.cutting import cutting_of
from silverwright.report.cutting import cutting_drawn

RECTANGLE = re.compile(r'<rect class="(mid|fill-water|ink)"[^>]*? x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"')


def drawn(sheet: tuple[float, float], piece: tuple[float, float]) -> str:
    return cutting_drawn(parts_of(cutting_of(sheet, piece)))


def test_the_parts_cover_the_sheet_in_the_drawing_too() -> None:
    found = [(kind, *map(float, place)) for kind, *place in RECTANGLE.findall(drawn((203.2, 254), (125.5, 176.3)))]
    (_, left, upper, wide, high) = next(one for one in found if one[0] == "ink")
    parts = [one for one in found if one[0] != "ink"]
    assert [one[0] for one in parts] == ["mid", "mid", "fill-water", "fill-water"]
    assert abs(sum(one[3] * one[4] for one in parts) / (wide * high) - 1) < 0.005
    assert abs(wide / high / (203.2 / 254) - 1) < 0.002
    assert all(one[1] >= left - 0.1 and one[2] >= upper - 0.1 for one in parts)


def test_pieces_are_numbered_and_strips_named() -> None:
    picture = drawn((203.2, 254), (125.5, 176.3))
    assert re.findall(r'class="tb"[^>]*>(\d+)<', picture) == ["1", "2"]
    assert "strip, 26.9 mm" in picture
    assert "176.3 x 125.5" in picture


def test_small_parts_have_no_words_over_their_edges() -> None:
    picture = drawn((500, 600), (24, 36))
    assert "24 x 36" not in picture
    assert "gives 341 pieces of 24 by 36 millimetres" in picture


def test_whoever_hears_the_page_hears_the_plan() -> None:
    assert 'aria-label="A sheet of 203.2 by 254 millimetres gives 4 pieces of 100.1 by 125.5 millimetres; 3 strips are left."' in drawn(
        (203.2, 254), (100.1, 125.5)
    )
