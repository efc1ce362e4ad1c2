"""Every fault at once, beside its field, in a photographer's words."""

from datetime import UTC, date, datetime
from typing import Annotated, Any, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.faults import LONGEST_ECHO
from silverwright.asking.fields import Choice, Flag, Moment, Words, fields_of, label_of
from silverwright.asking.operation import Question, refuse
from silverwright.errors import BadQuestion
from silverwright.vocabulary import DENSITY, EXTENSION_MM, FOCAL_MM


class Scene(Question):
    focal_mm: Annotated[float, FOCAL_MM]
    extension_mm: Annotated[float | None, EXTENSION_MM] = None
    densities: Annotated[tuple[float, ...], DENSITY, Field(min_length=1)] = (0.1,)
    process: Annotated[Literal["direct positive", "negative"], Choice(help="What it becomes.", example="negative")] = "negative"
    said: Annotated[str, Words(help="A remark.", example="rope, coiled", longest=20)] = ""
    metered: Annotated[bool, Flag(help="Whether it was metered.", example="yes")] = False
    day: Annotated[date | None, Moment(help="The day.", example="2026-01-31")] = None
    at: Annotated[datetime | None, Moment(help="The moment.", example="2026-01-31T10:00:00Z")] = None

    @field_validator("extension_mm")
    @classmethod
    def _not_both(cls, extension_mm: float | None, seen: ValidationInfo) -> float | None:
        if extension_mm == seen.data.get("focal_mm"):
            raise refuse("Too even.", field="focal_mm")
        if extension_mm == 100:
            raise refuse("Not a hundred.")
        return extension_mm


def faults(**given: Any) -> dict[str, tuple[str, str]]:
    with pytest.raises(BadQuestion) as caught:
        Scene.model_validate(given)
    return {fault.field: (fault.given, fault.problem) for fault in caught.value.faults}


def test_all_at_once() -> None:
    found = faults(extension_mm="far", densities="dark", process="print", said="x" * 30, metered="perhaps", day="yesterday", colour="blue")
    assert set(found) == {"focal_mm", "extension_mm", "densities", "process", "said", "metered", "day", "colour"}
    assert found["focal_mm"] == ("", "Needed. Focal length marked on the lens.")
    assert found["extension_mm"] == ("far", "This is not a number that can be read here. Write it like 315.")
    assert found["process"] == ("print", "Choose 'direct positive' or 'negative'.")
    assert found["said"][1] == "Too long: at most 20 letters."
    assert found["metered"][1] == "Say yes or no."
    assert found["day"][1] == "A day is needed here, such as 2026-01-31."
    assert found["colour"][1] == "This is not asked here."


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (5, "Too small: allowed is 20 mm to 2000 mm. Focal length marked on the lens."),
        ("3 m", "Too large: allowed is 20 mm to 2000 mm. Focal length marked on the lens."),
        ("1e999", "Not a finite number: allowed is 20 mm to 2000 mm."),
        (float("nan"), "Not a finite number: allowed is 20 mm to 2000 mm."),
        (None, "A number is needed here, such as 210."),
        ([210], "A number is needed here, such as 210."),
        (True, "A number is needed here, such as 210."),
        ("1,250", "1,250 can mean 1250 or 1.250: write it with a point, or without a comma. Write it like 210."),
    ],
)
def test_a_number(given: object, words: str) -> None:
    assert faults(focal_mm=given)["focal_mm"][1].replace("\xa0", " ") == words


def test_a_misspelt_field_is_guessed() -> None:
    assert faults(focal_mm=210, extention_mm=300) == {"extention_mm": ("300", "This is not asked here. Did you mean extension_mm?")}


def test_a_rule_between_fields_stands_where_it_belongs() -> None:
    assert faults(focal_mm=210, extension_mm=100) == {"extension_mm": ("100", "Not a hundred.")}
    assert faults(focal_mm=210, extension_mm=210) == {"focal_mm": ("210", "Too even.")}


def test_one_of_a_row_is_named() -> None:
    assert faults(focal_mm=210, densities=[0.1, 99])["densities"][1].startswith("Number 2 of the row: Too large: allowed is")
    assert faults(focal_mm=210, densities="")["densities"][1] == "At least one is needed here, such as 1.88 1.41 0.28."


def test_no_fields_at_all() -> None:
    with pytest.raises(BadQuestion, match="Fields with their values are needed here"):
        Scene.model_validate("210")


def test_long_echoes_are_cut() -> None:
    assert len(faults(focal_mm="9" * 500)["focal_mm"][0]) == LONGEST_ECHO


def test_right_things_are_read() -> None:
    scene = Scene.model_validate(
        {
            "focal_mm": "8 1/2 in",
            "densities": "1,88; 0.1 0,3",
            "said": " rope ",
            "metered": "yes",
            "day": "2026-01-31",
            "at": "2026-01-31T10:00:00Z",
        }
    )
    assert scene.focal_mm == pytest.approx(215.9)
    assert scene.densities == (1.88, 0.1, 0.3)
    assert (scene.said, scene.metered, scene.day) == ("rope", True, date(2026, 1, 31))
    assert scene.at == datetime(2026, 1, 31, 10, tzinfo=UTC)


def test_labels_without_their_unit() -> None:
    fields = fields_of(Scene)
    assert list(fields) == ["focal_mm", "extension_mm", "densities", "process", "said", "metered", "day", "at"]
    assert [label_of(name, mark) for name, mark in fields.items()][:4] == ["Focal length", "Bellows extension", "Densities", "Process"]


def test_the_schema_carries_unit_help_and_example() -> None:
    """What forms, the command line and other programs are made from."""
    field = Scene.model_json_schema()["properties"]["focal_mm"]
    assert (field["unit"], field["description"], field["examples"]) == ("mm", "Focal length marked on the lens.", [210])


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8) | st.binary(max_size=3),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=6,
)


@given(st.dictionaries(st.sampled_from([*Scene.model_fields, "other"]), JUNK) | JUNK)
def test_junk_is_refused_in_our_words(given: Any) -> None:
    """Never a traceback, never a sentence of the library's own."""
    try:
        Scene.model_validate(given)
    except BadQuestion as bad:
        for fault in bad.faults:
            assert fault.problem
            assert "Input should" not in fault.problem
            assert "{" not in fault.problem.replace(fault.given, "")
