"""A question on a page of its own: what was typed, what is wrong with it, and what comes back. The address is the state."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.asking.operation import AnyOperation
from silverwright.errors import BadQuestion, Fault, SilverwrightError
from silverwright.web.answers import shown
from silverwright.web.fields import Field, by_field, fields, sent_text, typed_in
from silverwright.web.figures import ledger, sources
from silverwright.web.live import keep_address, live, swapped, told

NOTHING: Final[Mapping[str, str]] = {}


@dataclass(frozen=True, slots=True)
class Page:
    """The whole page and the part of it that is written anew while somebody types."""

    whole: str
    part: str


@dataclass(frozen=True, slots=True)
class Asked:
    """A question as it stands in the address, with its answer where there is one."""

    typed: Mapping[str, str]
    answer: Any
    faults: Mapping[str, Fault]

    @property
    def missing(self) -> bool:
        """Whether nothing is wrong, and something is still needed."""
        return self.answer is None and all(not fault.given for fault in self.faults.values())


def ask_as_typed(operation: AnyOperation, sent: Mapping[str, str], usual: Mapping[str, str] = NOTHING) -> Asked:
    """Ask with what stands in the address; `usual` says what a person would have typed there."""
    typed = {**usual, **typed_in(sent, operation.question)}
    try:
        return Asked(typed, operation.ask(typed), {})
    except BadQuestion as error:
        return Asked(typed, None, by_field(error.faults))
    except SilverwrightError as error:
        return Asked(typed, None, {"": Fault("", "", str(error))})


def fields_of_page(request: HttpRequest, operation: AnyOperation, asked: Asked, only: Sequence[str] = ()) -> list[Field]:
    """The fields that the page shows, with the problems that are told now."""
    sent = request.GET.keys() & operation.question.model_fields.keys()  # a page that was only opened asks nothing yet, and nothing is wrong
    faults = told(request, asked.faults) if sent else {}
    return fields(operation.question, asked.typed, faults, only=only or None)


def as_page(request: HttpRequest, asked: Asked, shown_fields: Sequence[Field], page: Page, more: Mapping[str, object]) -> HttpResponse:
    """The page, or the part of it that follows what is typed."""
    names = {field.name for field in shown_fields}
    answer = asked.answer
    context = {
        "fields": shown_fields,
        "swapped": swapped(request, shown_fields, asked.faults),
        "strangers": [fault for name, fault in asked.faults.items() if name not in names and (fault.given or not name)],
        "answer": answer,
        "asked": bool(request.GET),
        "sources": sources(answer) if answer is not None else (),
        "told": shown(answer) if answer is not None else None,
        "ledger": ledger(answer.ledger, caption="The working, line by line", total="All together") if answer is not None else None,
        **more,
    }
    status = 200 if live(request) else int(str(more.get("status", 200)))
    there = more.get("address")
    typed = {str(name): str(text) for name, text in there.items() if text} if isinstance(there, Mapping) else sent_text(request.GET)
    return keep_address(render(request, page.part if live(request) else page.whole, context, status=status), request, typed)
