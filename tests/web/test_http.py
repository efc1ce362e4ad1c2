"""Questions, acts and the book for programs: one description, equal answers, one event for each key, and our own words for all that is wrong."""

import json
from typing import Any

import jsonschema
import pytest
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from silverwright.asking.operation import AnyOperation
from silverwright.book.models import Act, Sheet
from silverwright.catalogue import catalogue
from silverwright.workshop.deeds import DEEDS

pytestmark = pytest.mark.django_db
Dump = dict[str, Any]


def post(address: str, body: object, **headers: str) -> Any:
    text = body if isinstance(body, str) else json.dumps(body)
    return Client().post(f"/api/{address}", text, content_type="application/json", headers=headers)


def get(address: str, **query: str) -> Any:
    return Client().get(f"/api/{address}", query)


@pytest.fixture(scope="module")
def description() -> Dump:
    told: Dump = Client().get("/api/openapi.json").json()
    return told


def resolved(description: Dump, schema: Dump) -> Dump:
    """A schema that stands alone: the description's own components are its definitions."""
    return {**schema, "components": description["components"]}


def answer_schema(description: Dump, path: str, method: str, status: str) -> Dump:
    return resolved(description, description["paths"][path][method]["responses"][status]["content"]["application/json"]["schema"])


def test_everything_is_described(description: Dump) -> None:
    assert description["openapi"].startswith("3.")
    paths = {f"/api/ask/{one.name}" for one in catalogue()} | {f"/api/do/{one.name}" for one in DEEDS}
    paths |= {"/api/plan", "/api/sheets", "/api/sheets/{number}", "/api/papers/{name}", "/api/files", "/api/scans", "/api/scans/{name}"}
    paths |= {"/api/scanners/{name}/calibration", "/api/counts", "/api/counts/{name}", "/api/field-page", "/api/card", "/api/ruler"}
    paths |= {"/api/shelf", "/api/baths/{name}", "/api/stocks/{name}", "/api/recipes", "/api/boxes", "/api/boxes/{name}", "/api/holders"}
    paths |= {"/api/labels", "/api/sheet-labels", "/api/mixing-card", "/api/hazard-card"}
    assert set(description["paths"]) == paths
    for schema in description["components"]["schemas"].values():
        jsonschema.Draft202012Validator.check_schema(schema)


def test_every_reference_leads_somewhere(description: Dump) -> None:
    def references(part: object) -> set[str]:
        if isinstance(part, dict):
            return {str(part["$ref"])} if "$ref" in part else set().union(*map(references, part.values()))
        return set().union(*map(references, part)) if isinstance(part, list) else set()

    known = {f"#/components/schemas/{name}" for name in description["components"]["schemas"]}
    assert references(description["paths"]) | references(description["components"]) <= known


def test_the_description_is_the_same_every_time(description: Dump) -> None:
    assert json.dumps(get("openapi.json").json()) == json.dumps(description)


def test_fields_are_described_with_their_unit_and_help(description: Dump) -> None:
    told = description["components"]["schemas"]["LedgerQuestion"]["properties"]["extension_mm"]
    assert told["unit"] == "mm"
    assert told["description"] == "Lens board to ground glass, by ruler."


def test_answers_are_as_described(operation: AnyOperation, example: Dump, description: Dump) -> None:
    told = post(f"ask/{operation.name}", example)
    assert told.status_code == 200
    schema = answer_schema(description, f"/api/ask/{operation.name}", "post", "200")
    jsonschema.validate(told.json(), schema, cls=jsonschema.Draft202012Validator)


def test_examples_are_questions_as_described(operation: AnyOperation, example: Dump, description: Dump) -> None:
    body = description["paths"][f"/api/ask/{operation.name}"]["post"]["requestBody"]["content"]["application/json"]["schema"]
    jsonschema.validate(json.loads(json.dumps(example)), resolved(description, body), cls=jsonschema.Draft202012Validator)


def test_every_fault_at_once(description: Dump) -> None:
    told = post("ask/exposure.ledger", {"extension_mm": 3, "aperture_f": "wide", "focal": 210})
    assert told.status_code == 422
    assert {one["field"] for one in told.json()["problems"]} >= {"extension_mm", "aperture_f", "focal"}
    jsonschema.validate(told.json(), answer_schema(description, "/api/ask/exposure.ledger", "post", "422"))


PAPER = {"name": "RC paper, grade 2"}


def test_a_key_makes_one_event() -> None:
    first, again = (post("do/paper", PAPER, **{"Idempotency-Key": "one"}) for _ in range(2))
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json() == again.json()
    assert Act.objects.count() == 1


def test_a_key_with_another_content_is_refused(description: Dump) -> None:
    post("do/paper", PAPER, **{"Idempotency-Key": "one"})
    told = post("do/paper", {"name": "fibre paper"}, **{"Idempotency-Key": "one"})
    assert told.status_code == 409
    assert Act.objects.count() == 1
    jsonschema.validate(told.json(), answer_schema(description, "/api/do/paper", "post", "409"))


def test_a_stale_correction_shows_both_values() -> None:
    post("do/paper", PAPER)
    seen = {"kind": "paper", "name": PAPER["name"], "seen": 1}
    assert post("do/correct", {**seen, "changes": "surface; matt"}).status_code == 201
    told = post("do/correct", {**seen, "changes": "surface; glossy"})
    assert told.status_code == 409
    assert told.json()["both"] == [{"field": "surface", "mine": "glossy", "theirs": "matt"}]


def test_faults_of_an_act_are_told_together() -> None:
    told = post("do/expose", {"paper": "nothing", "lens": "nothing", "given_s": "x"})
    assert told.status_code == 422
    assert {one["field"] for one in told.json()["problems"]} >= {"paper", "lens", "given_s"}
    assert Sheet.objects.count() == 0


def test_a_plan_uses_the_book_and_keeps_nothing() -> None:
    post("do/lens", {"name": "210 mm lens", "focal_mm": 210})
    acts = Act.objects.count()
    told = post("plan", {"lens": "210 mm lens", "reading_ev": 10, "meter_k": 12.5, "extension_mm": 315, "aperture_f": "f/22", "paper_ei": 1.5})
    assert told.status_code == 200
    assert round(told.json()["answer"]["time_s"]["value"]) == 97
    assert told.json()["from_book"][0] == {"field": "focal_mm", "value": 210.0, "says": "lens “210 mm lens”"}
    assert Act.objects.count() == acts


def test_the_book_is_read() -> None:
    post("do/paper", PAPER)
    number = post("do/expose", {"paper": PAPER["name"], "given_s": 97, "aperture_f": "f/22", "subject": "caulking mallet"}).json()["name"]
    assert [line["sheet"]["number"] for line in get("sheets").json()] == [number]
    assert get("sheets", state="measured").json() == []
    assert [line["sheet"]["number"] for line in get("sheets", words="mallet").json()] == [number]
    assert get(f"sheets/{number}").json()["line"]["exposures"][0]["given_s"] == 97
    assert get("papers/RC paper, grade 2").json()["process"] == "direct positive"


@pytest.mark.parametrize("address", ["sheets/26-999", "sheets/x", "papers/none", "ask/exposure.belows", "do/exposse", "nothing", "a/b/c"])
def test_what_is_not_there_is_said(address: str) -> None:
    told = post(address, {}) if address.startswith(("ask", "do")) else get(address)
    assert told.status_code == 404
    assert told.json()["problems"][0]["problem"]


def test_near_names_are_offered() -> None:
    assert "exposure.bellows" in post("ask/exposure.belows", {}).json()["problems"][0]["problem"]
    assert "expose" in post("do/exposse", {}).json()["problems"][0]["problem"]


@pytest.mark.parametrize("query", [{"state": "lost"}, {"archived": "perhaps"}])
def test_a_filter_without_that_value_is_refused(query: dict[str, str]) -> None:
    assert get("sheets", **query).status_code == 422


def test_a_wrong_method_is_json_too() -> None:
    assert get("do/paper").status_code == 405
    assert get("do/paper").json()["problems"]


BODIES = [
    "{",
    "[]",
    "null",
    '"x"',
    "3",
    '{"focal_mm": NaN}',
    '{"focal_mm": Infinity}',
    '{"focal_mm": 1e999}',
    '{"focal_mm": "\\ud800"}',
    '{"\\ud800": 1}',
    '{"focal_mm": ' + "[" * 100_000,
    '{"focal_mm": ' + "9" * 400 + "}",
    '{"focal_mm": ' + "9" * 5000 + "}",
    '{"focal_mm": "' + "9" * 500_000 + '"}',
    '{"focal_mm": "\\u0000"}',
    '{"focal_mm": {"a": [1, {"b": null}]}}',
]


@pytest.mark.parametrize("body", BODIES, ids=lambda body: body[:24])
@pytest.mark.parametrize("address", ["ask/exposure.ledger", "plan", "do/lens", "do/expose"])
def test_odd_json_is_refused_in_words(address: str, body: str) -> None:
    told = post(address, body)
    assert told.status_code in {400, 422}
    assert all(one["problem"] for one in told.json()["problems"])


JUNK = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["1/4", "1,25", "2m30s", "f/5.6", "box A", "26-001"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=4,
)


@pytest.mark.parametrize("deed", DEEDS, ids=lambda one: one.name)
@given(data=st.data())
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_junk_never_breaks_an_act(deed: Any, data: st.DataObject) -> None:
    fields = data.draw(st.fixed_dictionaries({}, optional=dict.fromkeys([*deed.form.model_fields, "stranger"], JUNK)))
    key = data.draw(st.text(st.characters(codec="latin-1", exclude_categories=["Cc"]), max_size=12))
    told = post(f"do/{deed.name}", fields, **{"Idempotency-Key": key})
    assert told.status_code in {200, 201, 400, 409, 422}, told.content


@pytest.mark.parametrize("operation", catalogue(), ids=lambda one: one.name)
@given(data=st.data())
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_junk_never_breaks_a_question(operation: AnyOperation, data: st.DataObject) -> None:
    fields = data.draw(st.fixed_dictionaries({}, optional=dict.fromkeys([*operation.question.model_fields, "stranger"], JUNK)))
    told = post(f"ask/{operation.name}", fields)
    assert told.status_code in {200, 400, 422}, told.content
