"""Any question as a page from its record: a quiet place for whoever wants one figure, or the working of one."""

from collections.abc import Mapping
from itertools import groupby

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from pydantic import BaseModel

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import Answer, AnyOperation
from silverwright.asking.rows import Rows
from silverwright.catalogue import catalogue, find
from silverwright.errors import BadQuestion, Fault, NotEnoughReadings, OutOfRange
from silverwright.web.answers import shown
from silverwright.web.fields import by_field, fields, sent_text, typed_in, written
from silverwright.web.figures import ledger, sources
from silverwright.web.live import address, keep_address, live, swapped, told


def questions(request: HttpRequest) -> HttpResponse:
    """List every question by its subject."""
    by_room = groupby(catalogue(), key=lambda operation: operation.name.partition(".")[0])
    return render(request, "ask.html", {"groups": [{"name": room, "operations": list(of)} for room, of in by_room]})


def question(request: HttpRequest, name: str) -> HttpResponse:
    """Show one question with what was typed, its problems, and its answer."""
    operation = find(name)
    sent = sent_text(request.GET)
    typed = typed_in(sent, operation.question)
    answer, faults = _answer(operation, sent)
    if not request.GET:
        faults = {}  # a page that was only opened asks nothing yet, and nothing is wrong
    asked_for = fields(operation.question, typed, told(request, faults), only=_in_order(operation.question))
    context = {
        "operation": operation,
        "fields": asked_for,
        "swapped": swapped(request, asked_for, faults),
        "strangers": [fault for name, fault in faults.items() if name not in operation.question.model_fields],
        "answer": answer,
        "asked": bool(typed),
        "sources": sources(answer) if answer else (),
        "told": shown(answer) if answer else None,
        "ledger": ledger(answer.ledger, caption="The working, line by line", total="All together") if answer else None,
        "examples": [{"name": name, "href": address(request.path, written(operation.question, given))} for name, given in operation.examples.items()],
    }
    return keep_address(render(request, "parts/asked.html" if live(request) else "question.html", context), request, typed)


def _answer(operation: AnyOperation, typed: Mapping[str, str]) -> tuple[Answer | None, dict[str, Fault]]:
    try:
        return operation.ask(typed), {}
    except BadQuestion as error:
        return None, by_field(error.faults)
    except (OutOfRange, NotEnoughReadings) as error:
        return None, {"": Fault("", "", str(error))}


def _in_order(record: type[BaseModel]) -> list[str]:
    """The fields of a question as they are asked for: the table without which there is no answer comes first."""
    marks = fields_of(record)
    needed = [name for name, mark in marks.items() if isinstance(mark, Rows) and record.model_fields[name].validate_default]
    return [*needed, *(name for name in marks if name not in needed)]
