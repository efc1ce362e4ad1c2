"""Answers that are drawn: on the question's own page, and beside an exposure."""

import pytest
from django.test import Client

pytestmark = pytest.mark.django_db
READINGS = "12.6,light with tone,<b>sail\n10,mid-grey,planks\n7.4,dark with detail,under the boat"


def test_a_scene_is_drawn_on_the_paper() -> None:
    page = Client().get("/ask/exposure.scene", {"readings": READINGS, "range_stops": "3.4"}).content.decode()
    assert page.count('class="chart scale"') == 1
    assert page.count('class="pt"') == 3
    assert "The paper tells \N{MINUS SIGN}1.5 to +1.9 apart" in page
    assert "<b>sail" not in page


def test_the_camera_draws_it_too() -> None:
    page = Client().get("/camera", {"reading_ev": "10", "aperture_f": "f/22", "open": "range", "readings": READINGS}).content.decode()
    assert page.count('class="pt"') >= 3
    assert "under the boat at" in page


def test_an_answer_without_a_picture_has_none() -> None:
    page = Client().get("/ask/exposure.contrast", {"too_long_stops": "1.2"}).content.decode()
    assert 'class="chart scale"' not in page
