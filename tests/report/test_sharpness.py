"""Near and far against the opening, drawn."""

import re
from xml.etree.ElementTree import fromstring

from silverwright.questions.sharpness import SHARPNESS
from silverwright.report.sharpness import Openings, opening_curve
from silverwright.units import F_NUMBER, MILLIMETRE
from silverwright.web.drawn import picture

STILL_LIFE = {"focal_mm": 210, "extension_mm": 315, "aperture_f": "f/22", "nearest_mm": 590, "farthest_mm": 690, "sharp_mm": 0.2, "pupil_factor": 1}


def drawn(set_mm: float | None = 0.4, wanted_mm: float = 0.2) -> str:
    openings = Openings((8, 16, 32, 64, 128), (1.0, 0.5, 0.26, 0.16, 0.21), wanted_mm, 72, 0.159, None if set_mm is None else 22.6, set_mm)
    return opening_curve(openings, F_NUMBER.show, MILLIMETRE.show)


def circle(svg: str) -> tuple[str, float, float]:
    found = re.search(r'<circle class="([^"]+)" cx="([\d.]+)" cy="([\d.]+)"', svg)
    assert found
    return found[1], float(found[2]), float(found[3])


def test_it_is_said_in_words() -> None:
    said = fromstring(drawn()).attrib["aria-label"]
    assert said == "Blur near and far against the opening, sharpest at f/72 with 0.159\xa0mm; wanted are 0.2\xa0mm. As the lens stands, 0.4\xa0mm."


def test_a_lens_that_is_not_sharp_is_hollow_and_above_the_wash() -> None:
    wash = float(re.search(r'fill-water" x="[\d.]+" y="([\d.]+)"', drawn())[1])  # type: ignore[index]
    kind, _, y = circle(drawn())
    assert (kind, y < wash) == ("ink", True)
    kind, _, y = circle(drawn(0.15))
    assert (kind, y > wash) == ("fill-ink", True)


def test_the_line_is_lowest_at_the_sharpest_opening() -> None:
    path = re.search(r'<path class="ink" d="M([^"]+)"', drawn())
    assert path
    points = [tuple(float(one) for one in point.split()) for point in path[1].split("L")]
    assert max(points, key=lambda point: point[1])[0] == sorted(points)[3][0]
    assert [x for x, _ in points] == sorted(x for x, _ in points)


def test_nothing_lies_outside() -> None:
    for svg in (drawn(), drawn(50.0), drawn(None), drawn(0.4, 0.01)):
        box = fromstring(svg)
        for one in box.iter():
            for name, most in (("x", 420), ("cx", 420), ("y", 190), ("cy", 190)):
                assert 0 <= float(one.attrib.get(name, 0)) <= most


def test_an_answer_has_its_picture_where_something_must_be_sharp() -> None:
    assert "sharpest f/71.9" in picture(SHARPNESS.ask(STILL_LIFE))
    assert picture(SHARPNESS.ask({"focal_mm": 210, "extension_mm": 315, "aperture_f": "f/22"})) == ""
    assert picture(SHARPNESS.ask({"camera_kind": "pinhole", "extension_mm": 150, "stop_mm": 0.4})) == ""
    assert "now" not in picture(SHARPNESS.ask({"focal_mm": 210, "magnification_factor": 0.1, "focus_spread_mm": 6}))
