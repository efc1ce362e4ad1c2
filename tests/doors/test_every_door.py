"""One question, four doors, one answer."""

import json
from collections.abc import Mapping
from html.parser import HTMLParser
from typing import Any, get_args

import pytest
from click.testing import CliRunner
from django.test import Client
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from silverwright.api import ask
from silverwright.asking.fields import Choice, Flag, Quantity, fields_of
from silverwright.asking.operation import AnyOperation
from silverwright.asking.rows import Rows
from silverwright.asking.show import as_typed
from silverwright.catalogue import catalogue
from silverwright.cli.fields import option_name
from silverwright.cli.main import main
from silverwright.errors import BadQuestion, NotEnoughReadings, OutOfRange

Typed = dict[str, object]
Dump = dict[str, Any]
REFUSALS = (BadQuestion, OutOfRange, NotEnoughReadings)
every_operation = pytest.mark.parametrize("operation", catalogue(), ids=lambda one: one.name)


def by_python(operation: AnyOperation, typed: Typed) -> Dump:
    return ask(operation.name, **typed).model_dump(mode="json")


def by_command_line(operation: AnyOperation, typed: Typed) -> Dump:
    words = [word for field, text in as_typed(typed).items() for word in (option_name(field), text)]
    told = CliRunner().invoke(main, ["ask", operation.name, *words, "--json"])
    assert told.exit_code == 0, told.output
    answer: Dump = json.loads(told.stdout)
    return answer


def by_http(operation: AnyOperation, typed: Typed) -> Dump:
    told = Client().post(f"/api/ask/{operation.name}", data=json.dumps(typed), content_type="application/json")
    assert told.status_code == 200, told.content
    answer: Dump = told.json()
    return answer


class _Shown(HTMLParser):
    """The `<data>` elements: what a page shows rounded, it also holds exactly."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.values: Dump = {}
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if tag == "data":
            self.values[str(found["id"])] = json.loads(str(found["value"]))


def by_page(operation: AnyOperation, typed: Mapping[str, object]) -> Dump:
    told = Client().get(f"/ask/{operation.name}", as_typed(typed))
    assert told.status_code == 200
    return _Shown(told.content.decode()).values


def test_same_answer_through_every_door(operation: AnyOperation, example: Typed) -> None:
    answer = by_python(operation, example)
    assert by_command_line(operation, example) == answer
    assert by_http(operation, example) == answer
    page = by_page(operation, example)
    assert {name: page.get(name) for name in fields_of(operation.answer)} == {name: answer[name] for name in fields_of(operation.answer)}


def test_the_command_line_shows_every_figure(operation: AnyOperation, example: Typed) -> None:
    """What is printed for people: each value by its label, each line of the working with its doubt and source, each note."""
    words = [word for field, text in as_typed(example).items() for word in (option_name(field), text)]
    told = CliRunner().invoke(main, ["ask", operation.name, *words])
    answer = operation.ask(example)
    assert told.exit_code == 0
    for line in answer.ledger:
        assert f"{line.what}" in told.stdout
        if not line.folded:
            assert f"{line.amount:+.2f}" in told.stdout.replace("\N{MINUS SIGN}", "-")
            assert line.source in told.stdout
    shown = " ".join(told.stdout.split())
    assert all(" ".join(remark.sentence.split()) in shown for remark in answer.notes)
    assert told.stderr == ""


def values(record: type[BaseModel], name: str, mark: object) -> st.SearchStrategy[object]:
    """Everything that a field's bounds allow."""
    annotation = record.model_fields[name].annotation
    if isinstance(mark, Quantity):
        number = st.floats(mark.low, mark.high)
        return st.lists(number, max_size=20) if "tuple" in str(annotation) else number
    if isinstance(mark, Choice):
        words = [part for part in get_args(annotation) if isinstance(part, str)]
        return st.sampled_from(words or [word for part in get_args(annotation) for word in get_args(part)])
    if isinstance(mark, Rows):
        return st.lists(filled(mark.row), max_size=24)
    return st.booleans() if isinstance(mark, Flag) else st.text(max_size=20)


def filled(record: type[BaseModel]) -> st.SearchStrategy[Typed]:
    """Every filling of a record that the bounds allow."""
    fields = {name: values(record, name, mark) for name, mark in fields_of(record).items()}
    needed = {name for name, info in record.model_fields.items() if info.is_required()}
    return st.fixed_dictionaries(
        {name: value for name, value in fields.items() if name in needed},
        optional={name: value for name, value in fields.items() if name not in needed},
    )


@every_operation
@given(data=st.data())
@settings(max_examples=40)
def test_whatever_the_bounds_allow_is_answered_or_refused_in_words(operation: AnyOperation, data: st.DataObject) -> None:
    typed = data.draw(filled(operation.question))
    try:
        answer = operation.ask(typed)
    except BadQuestion as bad:
        assert all(fault.problem for fault in bad.faults)
    except REFUSALS as refused:
        assert str(refused)
    else:
        told = answer.model_dump_json()
        assert operation.answer.model_validate_json(told).model_dump_json() == told
        assert all(line.doubt >= 0 for line in answer.ledger)


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8) | st.sampled_from(["1/4", "1,25", "2m30s", "f/5.6", "1/0", "½"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=4,
)
FOREIGN_WORDS = ("pydantic", "validation", "Input should", "value_error", "NoneType", "Traceback", "<class")


@every_operation
@given(data=st.data())
@settings(max_examples=60)
def test_junk_is_refused_in_our_words(operation: AnyOperation, data: st.DataObject) -> None:
    typed = data.draw(st.fixed_dictionaries({}, optional=dict.fromkeys([*operation.question.model_fields, "stranger"], JUNK)))
    try:
        operation.ask(typed)
    except REFUSALS as refused:
        assert not any(word in str(refused) for word in FOREIGN_WORDS), str(refused)
        assert "{" not in str(refused)


@every_operation
def test_every_fault_at_once(operation: AnyOperation) -> None:
    """A question mark in every field that is no free text: each field has its own fault, and the command line tells them all with exit code 2."""
    read = [name for name, mark in fields_of(operation.question).items() if isinstance(mark, Quantity | Choice | Flag | Rows)]
    typed: Typed = dict.fromkeys(read, "?")
    with pytest.raises(BadQuestion) as caught:
        operation.ask(typed)
    assert {fault.field for fault in caught.value.faults} >= set(read)
    told = CliRunner().invoke(main, ["ask", operation.name, *(word for name in read for word in (option_name(name), "?"))])
    assert told.exit_code == 2
    assert told.stdout == ""
    assert all(f"{option_name(name)} ?: " in told.stderr for name in read)
    sent = Client().post(f"/api/ask/{operation.name}", data=json.dumps(typed), content_type="application/json")
    assert sent.status_code == 422
    assert {one["field"] for one in sent.json()["problems"]} >= set(read)


@every_operation
def test_help_shows_the_fields_and_examples_that_can_be_typed(operation: AnyOperation) -> None:
    told = CliRunner().invoke(main, ["ask", operation.name, "--help"])
    assert told.exit_code == 0
    assert all(option_name(name) in told.stdout for name in fields_of(operation.question))
    assert f"silverwright ask {operation.name}" in told.stdout


def test_a_stranger_is_refused_with_what_is_near() -> None:
    told = CliRunner().invoke(main, ["ask", "exposure.belows"])
    assert told.exit_code == 2
    assert "exposure.bellows" in told.stderr


def test_a_file_is_read_and_a_missing_one_is_a_fault_beside_the_others(tmp_path: Any) -> None:
    (tmp_path / "extension").write_text("315\n", encoding="utf-8")
    told = CliRunner().invoke(main, ["ask", "exposure.bellows", "--focal-mm", "210", "--extension-mm", f"@{tmp_path / 'extension'}", "--json"])
    assert told.exit_code == 0, told.stderr
    missing = CliRunner().invoke(main, ["ask", "exposure.bellows", "--focal-mm", "?", "--extension-mm", f"@{tmp_path / 'nothing'}"])
    assert missing.exit_code == 2
    assert "--focal-mm ?: " in missing.stderr
    assert "--extension-mm @" in missing.stderr


@pytest.mark.parametrize(("content", "words"), [(b"\xff\xfe\x00", "holds no text"), (b"1 " * 700_000, "too long")])
def test_a_file_that_is_no_table_is_refused_in_words(tmp_path: Any, content: bytes, words: str) -> None:
    (tmp_path / "file").write_bytes(content)
    told = CliRunner().invoke(main, ["ask", "exposure.bellows", "--focal-mm", "210", "--extension-mm", f"@{tmp_path / 'file'}"])
    assert told.exit_code == 2
    assert words in told.stderr
