"""A strength drawn on its scale: what is solid, what is barred, where the marks stand; read back from the drawing."""

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.report.strengthline import LEFT, RIGHT, strength_line

WIDTH = re.compile(r'class="fill-deep" x="[\d.]+" y="\d+" width="([\d.-]+)"')


def test_what_can_be_counted_on_is_as_long_as_its_share() -> None:
    drawn = strength_line(4.0, 6.0, 8.0, 9.0, "peroxide")
    solid = float(WIDTH.findall(drawn)[0])
    mixed = float(re.findall(r'class="mid" d="M([\d.]+) 6V', drawn)[0]) - LEFT
    assert solid / mixed == pytest.approx(4 / 9, rel=0.01)
    bars = [float(at) for at in re.findall(r'class="hatch" d="M([\d.]+) ', drawn)]
    assert bars
    assert LEFT + solid < min(bars) < max(bars) < LEFT + mixed * 8 / 9


def test_a_strength_without_doubt_has_no_bars() -> None:
    assert "hatch" not in strength_line(9.0, 9.0, 9.0, 9.0, "peroxide")


STRENGTHS = st.floats(min_value=0, max_value=100, allow_subnormal=False)


@given(ends=st.tuples(STRENGTHS, STRENGTHS, STRENGTHS), mixed=st.floats(min_value=1e-3, max_value=100))
def test_everything_stays_on_the_paper(ends: tuple[float, float, float], mixed: float) -> None:
    low, value, high = sorted(ends)
    drawn = strength_line(low, value, high, mixed, "peroxide")
    ET.fromstring(drawn)
    places = [float(at) for at in re.findall(r"[M x=\"]([\d.]+)(?: |\")", drawn) if float(at) > 100]
    assert all(at <= RIGHT + 8 for at in places)
    assert drawn.count("<text") <= 8
    assert "nan" not in drawn
