"""A sitter's blur over time: what is drawn lies where the numbers say."""

import re
from math import log2
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.report.sitter import Sway, sway_curve
from silverwright.units import MILLIMETRE, SECOND

TIMES = (0.5, 1, 2, 4, 8, 15, 30)
ASKED = (0.28, 0.51, 0.86, 1.28, 1.7, 2.1, 2.6)
HALF = (0.09, 0.17, 0.29, 0.44, 0.65, 0.9, 1.3)


def drawn(allowed_mm: float = 0.5, planned_s: float = 4, planned_mm: float = 1.28, longest_s: float | None = 0.98) -> str:
    return sway_curve(Sway(TIMES, ASKED, HALF, allowed_mm, planned_s, planned_mm, longest_s, 90), SECOND.show, MILLIMETRE.show)


def points(svg: str, kind: str) -> list[tuple[float, float]]:
    """The corners of a line."""
    path = next(one for one in re.findall(rf'class="{kind}" d="M([^"]+)"', svg) if "L" in one)
    return [(float(x), float(y)) for x, y in (one.split() for one in path.split("L"))]


@given(st.floats(0.005, 10), st.floats(1e-5, 1e6), st.floats(1e-6, 1e4), st.none() | st.floats(0.5, 30))
def test_the_picture_is_well_formed_and_its_mark_stands_in_it(allowed: float, planned: float, blur: float, longest: float | None) -> None:
    svg = drawn(allowed, planned, blur, longest)
    width, height = (float(part) for part in ET.fromstring(svg).attrib["viewBox"].split()[2:])
    x, y = (float(one) for one in re.findall(r'<circle class="[a-z-]+" cx="([-\d.]+)" cy="([-\d.]+)"', svg)[0])
    assert 0 < x < width
    assert 0 < y < height
    assert "nan" not in svg
    assert "style=" not in svg


def test_lines_lie_where_their_figures_say() -> None:
    svg = drawn()
    asked, half = points(svg, "ink"), points(svg, "mid")
    for (x, y), (_, lower) in zip(asked, half, strict=True):
        assert y < lower
        assert 70 < x < 404
    steps = [(x - asked[0][0]) / (asked[1][0] - asked[0][0]) for x, _ in asked]
    assert steps == pytest.approx([log2(one / 0.5) for one in TIMES], abs=0.05)
    foot = 156
    assert [(foot - y) / (foot - asked[0][1]) for _, y in asked] == pytest.approx([one / 0.28 for one in ASKED], abs=0.1)
    top, high = (float(one) for one in re.findall(r'fill-water" x="70.0" y="([\d.]+)" width="[\d.]+" height="([\d.]+)"', svg)[0])
    assert top + high == pytest.approx(foot)
    assert high / (foot - asked[0][1]) == pytest.approx(0.5 / 0.28, abs=0.02)


def test_what_is_not_sharp_is_told_by_shape_and_in_words() -> None:
    assert 'circle class="ink"' in drawn()
    assert 'circle class="fill-ink"' in drawn(allowed_mm=2)
    assert "sharp to 0.98\N{NO-BREAK SPACE}s" in drawn()
    assert "sharp to" not in drawn(longest_s=None)
    says = ET.fromstring(drawn()).attrib["aria-label"]
    assert "4\N{NO-BREAK SPACE}s give 1.28\N{NO-BREAK SPACE}mm in 90 of 100 sittings. Sharp up to 0.98" in says


def test_the_line_reaches_the_planned_time() -> None:
    for planned_s, end in ((43, -1), (0.2, 0)):
        svg = drawn(planned_s=planned_s, planned_mm=3)
        mark = tuple(float(one) for one in re.findall(r'<circle class="[a-z-]+" cx="([-\d.]+)" cy="([-\d.]+)"', svg)[0])
        assert points(svg, "ink")[end] == pytest.approx(mark, abs=0.1)
