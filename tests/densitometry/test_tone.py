"""Tones and classes as a question."""

from typing import Any

import pytest

from silverwright.densitometry.grades import GradeLimits, grade_of_range
from silverwright.errors import BadQuestion
from silverwright.questions.tone import TONE


def tone(**given: Any) -> Any:
    return TONE.ask(given)


def test_the_grey_that_a_meter_looks_at() -> None:
    answer = tone(reflectance_percent=18)
    assert answer.density.value == pytest.approx(0.745, abs=0.0005)
    assert answer.lightness.value == pytest.approx(49.50, abs=0.01)


def test_any_way_leads_to_the_same_tone() -> None:
    by_density, by_light = tone(density=1.0), tone(lightness=tone(density=1.0).lightness.value)
    assert by_light.density.value == pytest.approx(1.0)
    assert by_light.reflectance_percent.value == pytest.approx(by_density.reflectance_percent.value)


def test_the_eye_is_less_sure_than_an_instrument() -> None:
    """Limits of 80 % are 1.28 standard deviations: 0.1 by eye, 0.02 else."""
    by_eye, by_instrument = tone(density=0.6, read_by="grey scale by eye"), tone(density=0.6)
    assert by_eye.density.high - 0.6 == pytest.approx(1.2816 * 0.1, rel=1e-3)
    assert by_instrument.density.high - 0.6 == pytest.approx(1.2816 * 0.02, rel=1e-3)
    assert by_eye.lightness.low < by_eye.lightness.value < by_eye.lightness.high


@pytest.mark.parametrize(
    ("range_log10", "name"),
    [
        (1.60, "0 very soft"),
        (1.30, "1 soft"),
        (1.10, "2 medium"),
        (0.90, "3 hard"),
        (0.60, "5 extra hard"),
        (0.40, "6 ultra hard"),
        (2.0, ""),
        (0.2, ""),
    ],
)
def test_published_ranges_in_their_classes(range_log10: float, name: str) -> None:
    """R 160, 130, 110, 90, 60, 40 fall in classes 0, 1, 2, 3, 5, 6: filters 4 and 5 of one maker are classes 5 and 6."""
    assert tone(range_log10=range_log10).grade_class == name


def test_a_limit_belongs_to_the_softer_class() -> None:
    classes = [GradeLimits(3, "hard", 0.80, 0.95), GradeLimits(2, "medium", 0.95, 1.15)]
    found = grade_of_range(0.95, classes)
    assert found is not None
    assert found.number == 2


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({}, "density"),
        ({"density": 1, "lightness": 30}, "lightness"),
        ({"lightness": 0}, "lightness"),
        ({"density": "dark"}, "density"),
        ({"range_log10": -1}, "range_log10"),
    ],
)
def test_refused_beside_the_field(given: dict[str, Any], field: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        tone(**given)
    assert [one.field for one in caught.value.faults] == [field]
