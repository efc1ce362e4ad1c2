"""Beside the exposure: a section is one question of the catalogue, asked with what stands on the page; and the holder side that is ready."""

import json
import re
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from django.test import Client
from tests.web.pages import LEFT, LIVE, OWN, Page, page

from silverwright import api
from silverwright.asking.fields import fields_of
from silverwright.book.models import Exposure
from silverwright.web.pages.camera import DRAWERS, ON_THE_PAGE
from silverwright.web.pages.camera_sections import SECTIONS, own_fields
from silverwright.workshop.deeds import do
from silverwright.workshop.scene import PlanForm

pytestmark = pytest.mark.django_db
STILL_LIFE = {"reading_ev": "10", "meter_k": "12.5", "focal_mm": "210", "extension_mm": "315", "aperture_f": "f/22", "paper_ei": "1.5"}
SAID_BY_THE_BOOK = {"ei_from", "ei_rests_on", "light_rests_on"}
PAPER = "RC paper, grade 2"


def state_of(response: Any) -> dict[str, str]:
    return {name: texts[-1] for name, texts in parse_qs(urlsplit(response.headers["HX-Replace-Url"]).query).items()}


@pytest.fixture
def shed() -> None:
    """Two papers, a box of each, and a holder with one side of each; a second holder is empty."""
    for paper, box in ((PAPER, "box A"), ("fibre paper", "box B")):
        do("paper", {"name": paper})
        do("lot", {"name": box, "paper": paper, "size": "4x5 in", "sheets_left": 25})
    do("holder", {"name": "holder 1"})
    do("load", {"holder": "holder 1", "side": "1", "lot": "box A"})
    do("load", {"holder": "holder 1", "side": "2", "lot": "box B"})
    do("holder", {"name": "holder 2"})


def test_everything_that_the_ledger_asks_has_its_place_on_the_page() -> None:
    assert set(fields_of(PlanForm)) - ON_THE_PAGE - SAID_BY_THE_BOOK == {"bracket_sheets"}
    places = [name for names in DRAWERS.values() for name in names]
    assert len(places) == len(set(places))


def test_every_field_stands_once_however_many_sections_ask_for_it() -> None:
    found = page("/camera", {**STILL_LIFE, "open": " ".join(section.name for section in SECTIONS)})
    ids = re.findall(r'\bid="([^"]+)"', found.html)
    assert sorted(ids) == sorted(set(ids))
    assert {name for section in SECTIONS for name in own_fields(section.operation)} <= set(found.typed)


def test_what_is_closed_costs_one_line() -> None:
    found = page("/camera", STILL_LIFE)
    for section in SECTIONS:
        assert found.html.count(f'id="b-{section.name}"') == 1
        assert not set(own_fields(section.operation)) & set(found.typed)


@pytest.mark.parametrize("section", SECTIONS, ids=lambda section: section.name)
def test_every_section_opens_by_its_line_and_by_its_address(section: Any) -> None:
    found = page("/camera", {**STILL_LIFE, "open": section.name})
    assert set(own_fields(section.operation)) <= set(found.typed)
    assert found.problems == {}, "nothing is wrong with what was only opened"
    told = Client().get("/camera", {**STILL_LIFE, "open": section.name}, headers={**LEFT, "HX-Target": "beside"})
    assert set(own_fields(section.operation)) <= set(Page(told.content.decode()).typed)
    assert state_of(told)["open"] == section.name
    assert 'id="ledger"' not in told.content.decode(), "only the section comes"


def test_a_section_that_is_closed_keeps_what_was_typed() -> None:
    typed = {**STILL_LIFE, "shortest_s": "8", "longest_s": "64"}
    told = Client().get("/camera", typed, headers={**LEFT, "HX-Target": "beside"})
    assert Page(told.content.decode()).typed["shortest_s"] == "8"
    kept = state_of(told)
    assert (kept["shortest_s"], kept["longest_s"], "open" in kept) == ("8", "64", False)
    again = page("/camera", kept)
    assert (again.typed["shortest_s"], again.typed["longest_s"]) == ("8", "64"), "out of sight, and sent again with the next key"


def test_the_answer_is_that_of_the_question_by_itself() -> None:
    found = page("/camera", {**STILL_LIFE, "open": "changing", "light_readings": "1:00 9.5"})
    alone = next(link for link in found.links if link.startswith("/ask/exposure.changing"))
    asked = {name: texts[-1] for name, texts in parse_qs(urlsplit(alone).query).items()}
    assert (float(asked["exposure_s"]), asked["reading_ev"]) == (97, "10")
    assert found.values["changing-end_s"] == page("/ask/exposure.changing", asked).values["end_s"]
    told = api.ask("exposure.changing", exposure_s=97, reading_ev=10, light_readings="1:00 9.5")
    assert json.loads(found.values["changing-end_s"]) == told.model_dump(mode="json")["end_s"]


def test_an_answer_beside_follows_while_one_types() -> None:
    told = Client().get("/camera", {**STILL_LIFE, "open": "strip", "shortest_s": "8", "longest_s": "64"}, headers=LIVE)
    found = Page(told.content.decode())
    assert json.loads(found.values["strip-step_stops"])["value"] == pytest.approx(0.75)
    assert {"time_s", "strip-give_s"} <= set(found.values)
    assert state_of(told) == {"by": "ev", **STILL_LIFE, "open": "strip", "shortest_s": "8", "longest_s": "64"}


def test_a_section_answers_while_the_ledger_still_waits() -> None:
    told = Client().get("/camera", {"aperture_f": "f/22", "open": "strip", "shortest_s": "8", "longest_s": "64"}, headers=LIVE)
    assert told.headers["HX-Reswap"] == "none"
    assert "strip-step_stops" in Page(told.content.decode()).values


def test_a_fault_stands_beside_its_field_in_the_section() -> None:
    typed = {**STILL_LIFE, "open": "strip", "shortest_s": "8", "longest_s": "4"}
    assert "must get more than the shortest" in page("/camera", typed).problems["longest_s"]
    assert Page(Client().get("/camera", typed, headers=LIVE).content.decode()).problems == {}, "nobody is told off in mid-word"
    left = Page(Client().get("/camera", typed, headers=LEFT).content.decode())
    assert "must get more than the shortest" in left.problems["longest_s"]
    assert "To mend: longest strip." in left.text
    assert "time_s" in left.values, "the ledger is not held up by it"


@pytest.mark.usefixtures("shed")
def test_a_holder_side_brings_its_paper_and_goes_into_the_record() -> None:
    found = page("/camera", {**STILL_LIFE, "holder_side": "holder 1/1"})
    assert found.typed["holder_side"] == "holder 1/1"
    assert "holder 1, side 1" in found.text
    there = next(link for link in found.links if link.startswith("/camera/record"))
    form = page(there)
    assert (form.typed["holder"], form.typed["side"], form.typed["paper"]) == ("holder 1", "1", PAPER)
    assert Client().post("/camera/record", form.typed, headers=OWN).status_code == 303
    again = page("/camera", {**STILL_LIFE, "holder_side": "holder 1/1"})
    assert "was exposed already, as sheet" in again.problems["holder_side"]
    assert "time_s" in again.values


@pytest.mark.usefixtures("shed")
def test_only_a_side_that_waits_with_the_same_paper_is_taken() -> None:
    assert "holds “fibre paper”" in page("/camera", {**STILL_LIFE, "paper": PAPER, "holder_side": "holder 1/2"}).problems["holder_side"]
    assert "nothing is in this side" in page("/camera", {**STILL_LIFE, "holder_side": "holder 2/1"}).problems["holder_side"]
    assert "holder 9" in page("/camera", {**STILL_LIFE, "holder_side": "holder 9/1"}).problems["holder_side"]
    offered = page("/camera").html
    assert '<option value="holder 1/2">holder 1, side 2: fibre paper, box B</option>' in offered
    assert 'value="holder 2/1"' not in offered


@pytest.mark.usefixtures("shed")
def test_the_next_loaded_side_of_the_same_paper_stands_there() -> None:
    form = page("/camera/record", {**STILL_LIFE, "paper": "fibre paper", "given_s": "97"})
    assert Client().post("/camera/record", {**form.typed, "lot": "box B"}, headers=OWN).status_code == 303
    assert page("/camera").typed["holder_side"] == "holder 1/2"


@pytest.mark.usefixtures("shed")
def test_the_extension_of_last_time_stays_unless_the_camera_has_its_own() -> None:
    do("camera", {"name": "4x5 view camera"})
    for camera, there in (("4x5 view camera", "315"), ("box", "")):
        if camera == "box":
            do("camera", {"name": "box", "extension_mm": 150})
        form = page("/camera/record", {**STILL_LIFE, "paper": PAPER, "camera": camera, "given_s": "97", "lot": "box A"})
        assert Client().post("/camera/record", form.typed, headers=OWN).status_code == 303
        assert page("/camera").typed["extension_mm"] == there


@pytest.mark.usefixtures("shed")
def test_what_the_book_knows_is_handed_to_the_questions_beside() -> None:
    do("paper", {"name": "paper of grade 3", "grade": 3, "contrast": "graded"})
    do("lens", {"name": "single glass", "focal_mm": 210, "blue_shift_percent": 2})
    typed = {**STILL_LIFE, "paper": "paper of grade 3", "lens": "single glass", "readings": "13, light with tone\n7, dark with detail"}
    found = page("/camera", {**typed, "open": "range contrast sharpness sitter", "posture": "seated"})
    alone = {link.partition("?")[0]: parse_qs(urlsplit(link).query) for link in found.links if link.startswith("/ask/")}
    assert alone["/ask/exposure.contrast"]["grade"] == ["3.0"]
    assert alone["/ask/exposure.contrast"]["contrast_of"] == ["graded"]
    long = json.loads(found.values["range-too_long_stops"])["value"]
    assert float(alone["/ask/exposure.contrast"]["too_long_stops"][0]) == pytest.approx(long)
    assert alone["/ask/exposure.sharpness"]["blue_shift_percent"] == ["2.0"]
    moved = json.loads(found.values["sitter-sideways_mm"])["value"]
    assert float(alone["/ask/exposure.sharpness"]["movement_mm"][0]) == pytest.approx(moved)


def test_what_the_sky_tells_is_taken_as_the_reading() -> None:
    sky = {"on_day": "2026-06-21", "clock_hours": "12:00", "latitude_deg": "60.4 N", "weather": "overcast", "open": "daylight", "aperture_f": "f/22"}
    found = page("/camera", sky)
    told = json.loads(found.values["daylight-ev"])["value"]
    taken = next(link for link in found.links if "reading_sd_stops=" in link)
    there = Page(Client().get(taken).content.decode())
    assert float(there.typed["reading_ev"]) == pytest.approx(told, abs=0.01)
    assert float(there.typed["reading_sd_stops"]) > 0.3
    assert "time_s" in there.values
    assert there.typed["clock_hours"] == "12:00"


@pytest.mark.usefixtures("shed")
def test_what_the_last_scene_said_and_no_question_takes_any_more_is_left_out() -> None:
    form = page("/camera/record", {**STILL_LIFE, "paper": PAPER, "given_s": "97", "lot": "box A"})
    Client().post("/camera/record", form.typed, headers=OWN)
    kept = Exposure.objects.get()
    Exposure.objects.update(scene={**kept.scene, "distance_from": "the wall"})
    found = page("/camera")
    assert "time_s" in found.values
    assert "For the last scene again" in page("/").text
    wrong = page("/camera", {**STILL_LIFE, "distance_from": "the wall"})
    assert "To mend: distance from. " in wrong.text
    assert wrong.problems["distance_from"] in wrong.text.partition("To mend: ")[2]
