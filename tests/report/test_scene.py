"""A scene on its paper: what is drawn lies where the numbers say."""

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.report.scene import PartDrawn, scene_scale

STOPS = st.floats(-60, 60)
NAMES = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=40)
PARTS = st.lists(st.builds(PartDrawn, NAMES, STOPS, st.floats(-0.3, 6), st.booleans()), max_size=12)


def marks(svg: str) -> list[float]:
    """The middles of the parts."""
    return [float(x) + 8 for x in re.findall(r'class="pt" x="([-\d.]+)"', svg)]


@given(PARTS, st.floats(-20, -0.1), st.floats(0.1, 20))
def test_every_part_stands_on_the_scale_and_the_picture_is_well_formed(parts: list[PartDrawn], shadow: float, highlight: float) -> None:
    svg = scene_scale(parts, shadow, highlight)
    assert "style=" not in svg
    assert "<script" not in svg
    width, height = (float(part) for part in ET.fromstring(svg).attrib["viewBox"].split()[2:])
    places = marks(svg)
    assert len(places) == len(parts)
    assert all(0 < x < width for x in places)
    assert height > 26 * len(parts)
    assert svg.count("L") >= sum(not one.kept for one in parts)


def test_parts_lie_between_the_ticks_that_their_stops_say() -> None:
    svg = scene_scale([PartDrawn("a", -1.0, 1.6, kept=True), PartDrawn("b", 0.0, 0.7, kept=True), PartDrawn("c", 3.0, 0.1, kept=False)], -1.3, 1.5)
    one, grey, lost = marks(svg)
    assert lost - grey == pytest.approx(3 * (grey - one), abs=0.3)
    ticks = {words: float(x) for x, words in re.findall(r'class="t2" x="([\d.]+)"[^>]*>([^<]+)<', svg)}
    assert ticks["0"] == pytest.approx(grey, abs=0.1)
    assert ticks["+3"] == pytest.approx(lost, abs=0.1)
    start, wide = (float(part) for part in re.findall(r'fill-water" x="([\d.]+)" y="\d+" width="([\d.]+)"', svg)[0])
    stop = (lost - grey) / 3
    assert (start, wide) == pytest.approx((grey - 1.3 * stop, 2.8 * stop), abs=0.2)


def test_a_name_is_only_a_name() -> None:
    svg = scene_scale([PartDrawn('<b onload="x">&', 0.0, 0.7, kept=True)], -1, 1)
    ET.fromstring(svg)
    assert "<b" not in svg


def test_it_says_in_words_what_it_shows() -> None:
    said = ET.fromstring(scene_scale([PartDrawn("sail", 2.5, 0.1, kept=False)], -1.3, 1.5)).attrib["aria-label"]
    assert said == "Stops from mid-grey. The paper tells \N{MINUS SIGN}1.3 to +1.5 apart. sail at +2.5, lost"
