"""Any question as a page: what was typed stays, problems stand beside their fields, and the page holds the exact answer."""

import json
import re

import pytest
from django.test import Client
from tests.web.pages import LEFT, LIVE, Page, page

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import AnyOperation
from silverwright.catalogue import catalogue
from silverwright.web.fields import written

Typed = dict[str, object]
HALF_LIFE_SIZE = "/ask/exposure.bellows?focal_mm=210&extension_mm=315"


def test_every_figure_is_on_the_page_exactly(operation: AnyOperation, example: Typed) -> None:
    answer = operation.ask(example).model_dump(mode="json")
    told = Client().get(f"/ask/{operation.name}", written(operation.question, example))
    found = Page(told.content.decode())
    assert {name: json.loads(value) for name, value in found.values.items()} == {name: answer[name] for name in fields_of(operation.answer)}
    assert found.problems == {}


def test_the_same_figures_as_json(operation: AnyOperation, example: Typed) -> None:
    told = Client().post(f"/api/ask/{operation.name}", json.dumps(example), content_type="application/json")
    assert told.status_code == 200
    assert told.json() == operation.ask(example).model_dump(mode="json")


def test_examples_lead_to_their_answer(operation: AnyOperation, example: Typed) -> None:  # noqa: ARG001 (one link for each)
    links = [link for link in page(f"/ask/{operation.name}").links if link.partition("?")[0] == f"/ask/{operation.name}"]
    assert len(links) == len(operation.examples)
    assert all(page(link).values for link in links)


def test_every_question_is_listed() -> None:
    links = page("/ask").links
    assert {f"/ask/{operation.name}" for operation in catalogue()} <= set(links)


def test_an_open_page_says_nothing_is_wrong() -> None:
    assert page("/ask/exposure.bellows").problems == {}


def test_sent_without_script_every_fault_stands_beside_its_field() -> None:
    found = page("/ask/exposure.bellows?focal_mm=wide&extension_mm=")
    assert found.problems["focal_mm"].startswith("This is not a number")
    assert found.typed["focal_mm"] == "wide"


def test_what_was_typed_stays_as_it_was_typed() -> None:
    assert page("/ask/exposure.bellows?focal_mm=8+1/4+in&extension_mm=31,5+cm").typed["focal_mm"] == "8 1/4 in"


def test_who_still_types_is_told_nothing() -> None:
    found = page("/ask/exposure.bellows?focal_mm=2&extension_mm=x", None, **LIVE)
    assert found.problems == {}


def test_who_leaves_a_field_is_told_what_is_wrong_but_not_what_is_missing() -> None:
    found = page("/ask/exposure.bellows?focal_mm=x&extension_mm=", None, **LEFT)
    assert set(found.problems) == {"focal_mm"}


def test_a_mended_field_loses_its_problem_while_one_types() -> None:
    told = Client().get("/ask/exposure.bellows?focal_mm=210&extension_mm=x", headers=LIVE).content.decode()
    assert 'id="p-focal_mm" hx-swap-oob="true"></div>' in told
    assert 'id="p-extension_mm"' not in told  # its problem, if one stands there, stays


def test_the_state_goes_into_the_address_without_what_is_empty() -> None:
    told = Client().get("/ask/exposure.bellows?focal_mm=210&extension_mm=", headers=LIVE)
    assert told.headers["HX-Replace-Url"] == "/ask/exposure.bellows?focal_mm=210"


def test_a_stranger_in_the_address_is_named() -> None:
    told = Client().get(f"{HALF_LIFE_SIZE}&focal=1").content.decode()
    assert "focal: This is not asked here. Did you mean focal_mm?" in told


@pytest.mark.parametrize("name", ["exposure.belows", "nothing", "..", "%00"])
def test_an_unknown_question_is_a_page_in_words(name: str) -> None:
    assert Client().get(f"/ask/{name}").status_code == 404


def test_the_theme_is_written_by_the_server() -> None:
    client = Client()
    client.cookies["theme"] = "safelight"
    assert '<html lang="en" data-theme="safelight">' in client.get("/ask").content.decode()
    client.cookies["theme"] = '"><script>'
    assert '<html lang="en" data-theme="day">' in client.get("/ask").content.decode()


ODD_TABLET = "0.05+0.803%0A0.25+0.507%0A0.45+0.319%0A0.65+0.202%0A0.85+0.108%0A1.05+0.0803%0A1.25+0.0508%0A1.45+0.0322%0A1.65+0.0206"


def test_what_belongs_together_is_a_table_and_what_is_empty_is_not_shown() -> None:
    text = Client().get(f"/ask/densitometry.calibration?steps={ODD_TABLET}").content.decode()
    rows = re.findall(r'<tr><th scope="row">(\d+)</th><td class="num">([\d.]+)</td><td class="num">([^<]+)</td></tr>', text)
    assert [int(number) for number, _, _ in rows] == list(range(1, 10))
    assert [density for _, density, _ in rows][:2] == ["0.05", "0.25"]
    assert "Misses, red" not in text
    assert '<data hidden id="red_misses" value="[]">' in text, "for programs it is there"
    assert "8 of 10 fall between" not in text, "no figure here has limits"
    assert "Step 5 does not go with the others" in text


def test_the_table_that_is_needed_is_asked_for_first_and_one_number_in_a_line() -> None:
    for name, first in (("calibration", ["steps", "turned"]), ("patches", ["steps", "patches", "turned"])):
        text = Client().get(f"/ask/densitometry.{name}").content.decode()
        assert re.findall(r'<(?:textarea|input|select) id="f-(\w+)"', text)[: len(first)] == first
        assert '<input id="f-left_out_steps"' in text
    assert page("/ask/densitometry.calibration?turned=yes").problems["steps"].startswith("Needed: at least 5 lines, one for each step of the tablet")
    turned = page(f"/ask/densitometry.calibration?turned=yes&steps={ODD_TABLET}").problems["turned"]
    assert turned.startswith("Turned, light would rise")
