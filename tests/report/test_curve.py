"""The curve as a picture: what it shows, that the chart grammar's own schema takes it, and that a strict page can hold it."""

import json
import re
from dataclasses import replace
from itertools import pairwise
from math import exp
from pathlib import Path
from xml.etree import ElementTree as ET

import altair as alt
import pytest

from silverwright.questions.curve import CURVE
from silverwright.report.curve import HEIGHT, WIDTH, CurvePicture, curve_chart, picture_of
from silverwright.report.draw import svg
from silverwright.report.inks import PAGE, PRINT, Inks
from silverwright.report.tone import grey

EXPOSURES = tuple(-0.9 + 0.15 * place for place in range(12))
DENSITIES = (1.88, 1.87, 1.85, 1.81, 1.68, 1.41, 0.98, 0.55, 0.28, 0.15, 0.11, 0.09)
ALONG = tuple(-0.9 + 1.65 * place / 80 for place in range(81))


def _density(exposure_log10: float) -> float:
    return 0.08 + 1.8 / (1 + exp(6.3 * exposure_log10))


PICTURE = CurvePicture(
    curve_log10=ALONG,
    curve_density=tuple(_density(one) for one in ALONG),
    band_low=tuple(_density(one + 0.05) for one in ALONG),
    band_high=tuple(_density(one - 0.05) for one in ALONG),
    patch_log10=EXPOSURES,
    patch_density=DENSITIES,
    shadow_log10=-0.35,
    highlight_log10=0.504,
    range_says="range 2.8 stops",
    speed_log10=0.077,
    speed_density=0.745,
    speed_says="EI 6.8",
)
RISING = replace(
    PICTURE,
    curve_density=tuple(_density(-one) for one in ALONG),
    band_low=tuple(_density(-one + 0.05) for one in ALONG),
    band_high=tuple(_density(-one - 0.05) for one in ALONG),
    patch_density=DENSITIES[::-1],
    shadow_log10=-0.504,
    highlight_log10=0.35,
)
WORLDS = {
    "falling": PICTURE,
    "rising": RISING,
    "no metered light": replace(PICTURE, metered=False, speed_log10=None),
    "open shadow": replace(PICTURE, shadow_log10=None, range_says="range at least 2.8 stops"),
    "open highlight": replace(PICTURE, highlight_log10=None, range_says="range at least 2.8 stops"),
    "both ends open": replace(PICTURE, shadow_log10=None, highlight_log10=None, range_says="range at least 3 stops"),
    "no range": replace(PICTURE, shadow_log10=None, highlight_log10=None, range_says=""),
    "a patch left out": replace(PICTURE, left_out=frozenset({4, 7})),
}


def _texts(drawn: str) -> list[str]:
    return [str(one.text) for one in ET.fromstring(drawn).iter("{http://www.w3.org/2000/svg}text")]


@pytest.mark.parametrize("world", WORLDS)
@pytest.mark.parametrize("inks", [PAGE, PRINT], ids=["page", "print"])
def test_the_schema_of_the_chart_grammar_takes_every_picture(world: str, inks: Inks) -> None:
    alt.LayerChart.from_dict(curve_chart(WORLDS[world], inks))


@pytest.mark.parametrize("world", WORLDS)
def test_a_strict_page_can_hold_it(world: str) -> None:
    drawn = svg(curve_chart(WORLDS[world], PAGE), 'Curve of "box A" & its band')
    for forbidden in ("style=", "<style", "<script", "href=", "url(", " on"):
        assert forbidden not in re.sub(r">[^<]*<", "><", drawn.replace('aria-label="Curve of &quot;box A&quot; &amp; its band"', ""))
    root = ET.fromstring(drawn)
    assert root.get("role") == "img"
    assert root.get("aria-label") == 'Curve of "box A" & its band'
    assert root.get("width") is None
    assert drawn.count("role=") == 1


def test_every_patch_is_drawn_where_it_belongs() -> None:
    """The squares' places, read back from the drawing, are the patches: a second way from pixels to densities."""
    drawn = svg(curve_chart(PICTURE, PAGE), "Curve")
    squares = re.findall(r'<path transform="translate\(([-\d.]+),([-\d.]+)\)"[^>]*stroke="var\(--ink\)"[^>]*opacity="1"', drawn)
    assert len(squares) == len(DENSITIES)
    for (x, y), exposure, density in zip(squares, EXPOSURES, DENSITIES, strict=True):
        assert float(x) == pytest.approx((exposure + 0.9) / 1.65 * WIDTH, abs=0.01)
        assert float(y) == pytest.approx((1 - density / 2) * HEIGHT, abs=0.01)


def test_the_words_stand_in_it() -> None:
    words = _texts(svg(curve_chart(PICTURE, PAGE), "Curve"))
    for wanted in ("range 2.8 stops", "shadow point", "highlight point", "EI 6.8", "density", "exposure, log of lx·s", "\N{MINUS SIGN}0.5", "1.5"):
        assert wanted in words


def test_an_open_end_has_no_point_and_no_upright() -> None:
    words = _texts(svg(curve_chart(WORLDS["open shadow"], PAGE), "Curve"))
    assert "highlight point" in words
    assert "shadow point" not in words
    assert "range at least 2.8 stops" in words
    both = _texts(svg(curve_chart(WORLDS["both ends open"], PAGE), "Curve"))
    assert "range at least 3 stops" in both
    assert not {"shadow point", "highlight point"} & set(both)
    assert not any("range" in word for word in _texts(svg(curve_chart(WORLDS["no range"], PAGE), "Curve")))


def test_without_metered_light_no_lux_is_claimed() -> None:
    words = _texts(svg(curve_chart(WORLDS["no metered light"], PAGE), "Curve"))
    assert not any("lx" in word for word in words)
    assert "EI 6.8" not in words


def test_a_patch_left_out_is_a_cross() -> None:
    drawn = svg(curve_chart(WORLDS["a patch left out"], PAGE), "Curve")
    assert drawn.count('stroke="var(--stop)"') == 2


def test_a_page_names_its_colours_and_paper_is_black() -> None:
    page, paper = svg(curve_chart(PICTURE, PAGE), "Curve"), svg(curve_chart(PICTURE, PRINT), "Curve")
    tones = re.compile(r'<g class="tones">.*?</g>', re.DOTALL)
    assert not re.findall(r'(?:fill|stroke)="#', tones.sub("", page))
    assert "var(" not in paper
    assert len(tones.findall(page)) == 2


def test_the_tones_are_the_papers() -> None:
    """0.745 is an 18 % grey; sRGB gives it 118 of 255 (published in many colour charts as #767676 and its neighbours)."""
    assert grey(0.745) == "#767676"
    assert grey(0) == "#FFFFFF"
    assert grey(6) == "#000000"
    assert grey(-0.02) == "#FFFFFF"
    greys = [int(grey(density / 20)[1:3], 16) for density in range(45)]
    assert all(lighter > darker for lighter, darker in pairwise(greys))


def test_a_drawing_is_kept_by_its_content(tmp_path: Path) -> None:
    first = svg(curve_chart(PICTURE, PAGE), "kept", tmp_path)
    (file,) = tmp_path.glob("*.svg")
    assert file.read_text(encoding="utf-8") == first
    svg(curve_chart(RISING, PAGE), "kept", tmp_path)
    assert len(list(tmp_path.glob("*"))) == 2


@pytest.mark.parametrize("example", CURVE.examples)
def test_a_kept_answer_becomes_a_picture(example: str) -> None:
    """From the question's own examples, through JSON as the book keeps it, to the figures in the drawing."""
    answer = CURVE.ask(CURVE.examples[example])
    picture = picture_of(json.loads(answer.model_dump_json()))
    assert picture.patch_density == answer.patch_density
    assert picture.metered == (answer.camera_ei is not None)
    assert picture.shadow_log10 == answer.shadow_log10.value
    if (speed := picture.speed_log10) is not None:
        drawn = dict(zip(picture.curve_log10, picture.curve_density, strict=True))
        assert drawn[min(drawn, key=lambda one: abs(one - speed))] == pytest.approx(picture.speed_density, abs=0.1)
    alt.LayerChart.from_dict(curve_chart(picture, PAGE))
    assert picture.range_says in _texts(svg(curve_chart(picture, PAGE), "Curve"))
