"""The Camera by flashes: a way of exposing among the readings; the answer is a number of flashes, and the record carries it."""

import json
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from tests.web.pages import LEFT, LIVE, OWN, Page, page

from silverwright import api
from silverwright.book.models import Exposure
from silverwright.web.pages.camera_asked import WAYS
from silverwright.workshop.deeds import do
from silverwright.workshop.scene import OF_A_FLASH

pytestmark = pytest.mark.django_db
PORTRAIT = {
    "by": "flash",
    "flash_meter_f": "f/11",
    "flash_meter_ei": "3",
    "focal_mm": "210",
    "extension_mm": "231",
    "aperture_f": "f/8",
    "paper_ei": "0.8",
}


def test_the_flashes_are_those_of_the_question() -> None:
    found = page("/camera", PORTRAIT)
    asked = {name: text for name, text in PORTRAIT.items() if name != "by"}
    answer: Any = api.ask("exposure.flash", **asked)
    assert json.loads(found.values["flashes"]) == answer.model_dump(mode="json")["flashes"]
    assert f"{answer.set_flashes.value:g} flash" in found.text
    assert "time_s" not in found.values
    assert "From one flash to" in found.text


def test_by_hand_from_the_marks() -> None:
    """f/11 at EI 3 instead of f/8 at EI 0.8, at a tenth of life size: 2 log2(8/11.3) + log2(3/0.8) + 2 log2(1.1) stops from one flash."""
    stops = -1 + 1.907 + 0.275
    assert json.loads(page("/camera", PORTRAIT).values["flashes"])["value"] == pytest.approx(2**stops, rel=0.02)


def test_what_is_hot_or_bright_is_said_before_the_number() -> None:
    found = page("/camera", {**PORTRAIT, "flash_distance_mm": "0.5 m"})
    first = found.html.index('id="answer"')
    assert first < found.html.index('role="note"', first) < found.html.index('id="flashes"')


def test_without_a_flash_the_page_says_what_it_needs() -> None:
    found = page("/camera", {"by": "flash", "aperture_f": "f/8"})
    assert "flash meter" in found.problems["flash_meter_f"].lower()
    assert page("/camera", {"by": "flash"}).problems == {}, "nothing is wrong with a way that was only chosen"
    half = page("/camera", {**PORTRAIT, "flash_meter_ei": ""})
    assert "EI" in half.problems["flash_meter_ei"]


def test_the_way_is_known_by_what_was_typed() -> None:
    typed = {name: text for name, text in PORTRAIT.items() if name != "by"}
    assert 'value="flash" checked' in page("/camera", typed).html
    assert "time_s" in page("/camera", {**typed, "by": "ev", "reading_ev": "10"}).values, "the chosen way counts"


def test_daylight_meanwhile_is_read_as_before() -> None:
    open_long = {**PORTRAIT, "reading_ev": "4", "open_s": "8", "light_class": "direct sun"}
    less = json.loads(page("/camera", open_long).values["flashes"])["value"]
    assert less < json.loads(page("/camera", PORTRAIT).values["flashes"])["value"]


def test_the_answer_follows_while_one_types() -> None:
    told = Client().get("/camera", PORTRAIT, headers=LIVE)
    assert "flashes" in Page(told.content.decode()).values
    state = {name: texts[-1] for name, texts in parse_qs(urlsplit(told.headers["HX-Replace-Url"]).query).items()}
    assert state == PORTRAIT
    assert page("/camera", state).values["flashes"] == Page(told.content.decode()).values["flashes"]


def test_every_field_of_a_flash_has_its_place() -> None:
    found = page("/camera", PORTRAIT)
    assert set(OF_A_FLASH) - {"short_flash_rests_on"} <= set(found.typed)
    assert set(WAYS["flash"][1]) <= set(OF_A_FLASH)


def test_a_flash_portrait_is_recorded_with_its_flashes() -> None:
    do("paper", {"name": "RC paper, grade 2"})
    found = page("/camera", {**PORTRAIT, "paper": "RC paper, grade 2"})
    there = next(link for link in found.links if link.startswith("/camera/record"))
    form = page(there)
    assert form.typed["flashes_given"] == "2"
    told: Any = Client().post("/camera/record", {**form.typed, "subject": "the foreman"}, headers=OWN)
    assert told.status_code == 303
    kept = Exposure.objects.get()
    assert (kept.flashes_given, kept.light_class, kept.given_s) == (2, "flash", None)
    again = page("/camera")
    assert 'value="flash" checked' in again.html, "what was used last time stands there"
    assert again.typed["flash_meter_f"] in {"11", "f/11"}
    today = page("/")
    assert "2 flashes" in today.text
    assert "For the last scene again. Flash meter f/11" in today.text
    assert today.html.index('data-sev="care"') < today.html.index('class="of">flashes'), "the caution comes before the number"


@given(data=st.data())
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
def test_junk_never_breaks_the_flashes(data: st.DataObject) -> None:
    words = st.text(max_size=12) | st.sampled_from(["1/4", "1,25", "f/5.6", "1e999", "NaN", "-1", "0", "\x00", "m", "yes", "30 1.5m\n20 2m"])
    typed = data.draw(st.fixed_dictionaries({}, optional=dict.fromkeys([*OF_A_FLASH, "reading_ev", "aperture_f", "paper_ei"], words)))
    for headers in ({}, LIVE, LEFT):
        assert Client().get("/camera", {"by": "flash", **typed}, headers=headers).status_code == 200
    assert Client().get("/camera/record", typed).status_code == 200


def test_the_field_note_of_flashes_says_their_number(tmp_path: Any) -> None:
    told = Client().get("/camera/fieldnote.pdf", PORTRAIT)
    (tmp_path / "note.pdf").write_bytes(told.content)
    text = " ".join(PdfReader(tmp_path / "note.pdf").pages[0].extract_text().replace("\N{NO-BREAK SPACE}", " ").split())
    assert "2.3 flashes" in text
    assert "nearest to give: 2 flashes" in text


def test_a_typed_index_stays_until_own_sheets_say_one() -> None:
    do("paper", {"name": "RC paper, grade 2"})
    form = page("/camera/record", {**PORTRAIT, "paper": "RC paper, grade 2", "flashes_given": "2"})
    Client().post("/camera/record", form.typed, headers=OWN)
    assert page("/camera").typed["paper_ei"] == "0.8"
    do("judge", {"sheet": Exposure.objects.get().sheet.number, "looks": "right"})
    assert page("/camera").typed["paper_ei"] == ""


def test_what_needs_a_time_says_that_one_flash_has_none_and_a_series_has() -> None:
    one = page("/camera", {**PORTRAIT, "aperture_f": "f/5.6", "open": "sitter"})
    assert "one flash is over before anything moves" in one.text
    series = page("/camera", {**PORTRAIT, "open": "sitter"})
    assert "Between 2 flashes a sitter moves as in a long exposure." in series.text
    told = page("/camera", {**PORTRAIT, "recycle_s": "6", "open": "sitter"})
    alone = next(link for link in told.links if link.startswith("/ask/exposure.sitter"))
    assert parse_qs(urlsplit(alone).query)["exposure_s"] == ["6.0"]
    assert "sitter-longest_s" in told.values
