"""The ledger's bars and the scale of doubt: what is drawn lies where the numbers say."""

import re
from math import log2
from xml.etree import ElementTree as ET

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from silverwright.report.ledger import Bar, bars
from silverwright.report.scale import Doubt, doubt_scale
from silverwright.units import show_time

STOPS = st.floats(-20, 20)
DOUBTS = st.floats(0, 3)
TIMES = st.floats(0.01, 10_000)


def drawn(svg: str) -> ET.Element:
    """It is well formed, holds no style and no code."""
    assert "style=" not in svg
    assert "<script" not in svg
    return ET.fromstring(svg)


def box(svg: ET.Element) -> tuple[float, float]:
    left, _, width, _ = (float(part) for part in svg.attrib["viewBox"].split())
    return left, left + width


@given(st.floats(1, 1e6))
def test_a_ledger_of_grams_has_no_grey_field_of_lines(amount: float) -> None:
    picture = drawn(bars([Bar(amount, 0)])[0])
    lines = [line for line in picture.findall("line") if line.attrib["class"] == "grid"]
    assert len(lines) <= 41


@given(st.lists(st.builds(Bar, STOPS, DOUBTS), min_size=1, max_size=8))
def test_bars_share_one_scale_and_hold_their_whiskers(lines: list[Bar]) -> None:
    pictures = [drawn(svg) for svg in bars(lines)]
    assert len({picture.attrib["viewBox"] for picture in pictures}) == 1
    for line, picture in zip(lines, pictures, strict=True):
        left, right = box(picture)
        assert left < 100 * min(0.0, line.amount_stops - line.doubt_stops)
        assert right > 100 * max(0.0, line.amount_stops + line.doubt_stops)
        for rect in picture.findall("rect"):
            start, width = float(rect.attrib["x"]), float(rect.attrib["width"])
            assert rect.attrib["class"] == ("more" if line.amount_stops >= 0 else "less")
            assert (start if line.amount_stops < 0 else start + width) == pytest.approx(100 * line.amount_stops, abs=0.11)
        whiskers = [one for one in picture.findall("line") if one.attrib["class"] == "whisk" and one.attrib["y1"] == one.attrib["y2"]]
        for whisker in whiskers:
            reach = float(whisker.attrib["x2"]) - float(whisker.attrib["x1"])
            assert reach == pytest.approx(200 * line.doubt_stops, abs=0.21)  # drawn to a tenth of a unit at both ends


def test_a_line_of_nothing_has_no_bar() -> None:
    nothing, total = bars([Bar(0, 0), Bar(1, 0.5)])
    assert "<rect" not in nothing
    assert "<rect" in total


def uprights(svg: str) -> list[float]:
    """Where the limits stand."""
    return [float(x) for x in re.findall(r'class="ink" d="M([\d.]+) 34V68"', svg)]


@given(TIMES, st.floats(0.05, 4), st.floats(0.05, 4))
def test_limits_stand_in_proportion_to_stops(time_s: float, below: float, above: float) -> None:
    svg = doubt_scale(Doubt(time_s, time_s / 2**below, time_s * 2**above), show_time)
    drawn(svg)
    low, high = uprights(svg)
    assert (210 - low) / (high - 210) == pytest.approx(below / above, rel=0.05)
    assert 0 <= low < 210 < high <= 420
    wash = re.search(r'fill-water" x="([\d.]+)" y="40" width="([\d.]+)"', svg)
    assert wash
    assert float(wash[1]) == pytest.approx(low, abs=0.1)
    assert float(wash[1]) + float(wash[2]) == pytest.approx(high, abs=0.2)


def test_an_open_end_is_washed_to_the_edge_and_read_as_open() -> None:
    svg = doubt_scale(Doubt(60, 30, None), show_time)
    assert len(uprights(svg)) == 1
    assert "at least 30" in svg
    wash = re.search(r'fill-water" x="([\d.]+)" y="40" width="([\d.]+)"', svg)
    assert wash
    assert float(wash[1]) + float(wash[2]) == pytest.approx(410)


@given(st.floats(1, 1000), st.floats(0.1, 2), st.integers(2, 3))
def test_the_bracket_stands_where_its_times_are(time_s: float, step: float, sheets: int) -> None:
    times = [time_s * 2 ** (step * (number - (sheets - 1) / 2)) for number in range(sheets)]
    assume(max(times) > min(times))
    svg = doubt_scale(Doubt(time_s, time_s / 2, time_s * 2, times), show_time)
    drawn(svg)
    low, high = uprights(svg)
    unit = (high - low) / 2
    places = [float(x) + 5 for x in re.findall(r'class="pt" x="([\d.]+)"', svg)]
    assert places == pytest.approx([210 + unit * log2(one / time_s) for one in times], abs=0.2)


def test_one_sheet_needs_no_bracket() -> None:
    assert 'class="pt"' not in doubt_scale(Doubt(60, 30, 120, [60]), show_time)


@pytest.mark.parametrize(("low", "high", "ticks"), [(50, 72, ["1/3"]), (30, 120, ["1"]), (4, 900, ["2"]), (0.001, 1e6, ["9"])])
def test_the_step_of_the_ticks_follows_the_reach(low: float, high: float, ticks: list[str]) -> None:
    words = re.findall(r'class="t2" x="[\d.]+" y="100" text-anchor="middle">([^<]+)<', doubt_scale(Doubt(60, low, high), show_time))
    assert "stops" in words
    assert {word[1:] for word in words if word != "stops"} & set(ticks)
    assert all(word[0] in "+\N{MINUS SIGN}" for word in words if word != "stops")
