"""One page for every act: its form comes from the deed's record, so that a new act costs no template."""

import re
import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from pydantic import BaseModel

from silverwright.asking.fields import Choice, Quantity, Thing, fields_of, label_of
from silverwright.asking.rows import Rows
from silverwright.book.queries import last_processing, names, sheet_story, sheets
from silverwright.errors import BadQuestion, Contradiction, Fault
from silverwright.web.fields import Field, by_field, fields, sent_text
from silverwright.web.live import kept, live
from silverwright.web.recorded import SHELVES, href_of, seen_there
from silverwright.workshop.act import AnyDeed
from silverwright.workshop.correct import as_typed
from silverwright.workshop.deeds import do, find_deed
from silverwright.workshop.process import StepRow

LEAST_ROWS: Final = 8  # our judgement: a reversal with its rinses
SPARE_ROWS: Final = 2  # our judgement: a step that was forgotten, and one more
_CELL: Final = re.compile(r"(\w+)\.(\d+)\.(\w+)")
SENT_BEFORE: Final = "What you sent from this page before is recorded. What stands here now is something else: send it again to record it as well."
ELSEWHERE: Final = {  # acts with a page of their own
    "cut-paper": "/shelf/cut",
    "expose": "/camera/record",
    "start-exposure": "/camera/exposing",
    "field-log": "/book/log",
    "scan": "/measure",
    "step-sheet": "/findings/step-sheet",
    "discard-bath": "/shelf/discard",
}
ON_THE_SHELF: Final = frozenset(
    {
        "paper",
        "lot",
        "cut-paper",
        "chip",
        "stock",
        "stock-tested",
        "data-sheet",
        "recipe",
        "mix",
        "use-bath",
        "replenish",
        "top-up",
        "test-bath",
        "filter-bath",
        "leave-open",
        "split-bath",
        "merge-baths",
        "match-bath",
        "waste-bottle",
        "empty-waste",
        "workroom",
    }
)
Given = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Grid:
    """A table to fill in, one row for each step."""

    name: str
    label: str
    help: str
    problem: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Field, ...], ...]
    kind: str = "grid"


@dataclass(frozen=True, slots=True)
class Sent:
    """What a form sent: as typed, as an act takes it, and the key that makes it one act."""

    typed: Mapping[str, str]
    given: Given
    key: str


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is wrong with what was sent, beside its fields or above them."""

    faults: Mapping[str, Fault] = field(default_factory=dict)
    says: str = ""
    status: int = 200


def act(request: HttpRequest, name: str) -> HttpResponse:
    """Show the form of an act, or carry it out."""
    deed = find_deed(name)
    if request.method != "POST":
        if name in ELSEWHERE:
            return redirect(f"{ELSEWHERE[name]}?{request.GET.urlencode()}".rstrip("?"))
        if live(request):
            return kept(request)
        typed, as_last = _as_last_time(deed, sent_text(request.GET))
        return _page(request, deed, sent(deed.form, typed), Trouble(), as_last)
    found = sent(deed.form, sent_text(request.POST))
    outcome = carry_out(deed, found)
    if isinstance(outcome, Trouble):
        return _page(request, deed, found, outcome)
    return outcome


def carry_out(deed: AnyDeed, found: Sent, on: str = "") -> HttpResponse | Trouble:
    """Do it and go where its result stands, or to that sheet's view on the page `on`; or say what is wrong, with nothing lost."""
    try:
        done = do(deed.name, found.given, key=found.key)
    except BadQuestion as bad:
        return Trouble(by_field(bad.faults), status=422)
    except Contradiction:
        return Trouble(says=SENT_BEFORE, status=409)
    there = f"{on}?{urlencode({'sheet': done.name.partition('/')[0]})}" if on else href_of(done)
    return seen_there(there, found.key)


def sent(form: type[BaseModel], typed: Mapping[str, str]) -> Sent:
    """What belongs to this form, with the rows of its tables put together."""
    given: Given = {name: typed[name] for name in form.model_fields if name in typed}
    rows: dict[str, dict[int, dict[str, str]]] = {}
    for cell, text in typed.items():
        if match := _CELL.fullmatch(cell):
            rows.setdefault(match[1], {}).setdefault(int(match[2]), {})[match[3]] = text
    given |= {name: [found[place] for place in sorted(found)] for name, found in rows.items() if name in form.model_fields}
    return Sent(typed, given, typed.get("key") or secrets.token_urlsafe(12))


def form_fields(form: type[BaseModel], found: Sent, faults: Mapping[str, Fault], only: Sequence[str] | None = None) -> list[Field | Grid]:
    """Every field of an act's form; a table whose rows begin with a word to choose is a grid."""
    shown: list[Field | Grid] = [replace(one, recall="on") for one in fields(form, found.typed, faults, only=only, things=names)]
    marks = fields_of(form)
    for place, one in enumerate(shown):
        mark = marks[one.name]
        if isinstance(mark, Thing) and mark.kind == "sheet" and isinstance(one, Field):
            shown[place] = _sheet_names(one)
        if isinstance(mark, Quantity) and isinstance(one, Field) and one.kind == "lines":
            shown[place] = replace(one, help=f"{one.help} Such as {mark.example}.")
        if isinstance(mark, Rows) and isinstance(next(iter(fields_of(mark.row).values())), Choice):
            shown[place] = _grid(one.name, mark, found.given.get(one.name, ()), faults)
    return shown


def _grid(name: str, mark: Rows, rows: object, faults: Mapping[str, Fault]) -> Grid:
    typed = [dict(row) for row in rows] if isinstance(rows, list | tuple) else []
    typed += [{}] * (max(LEAST_ROWS, len(typed) + SPARE_ROWS) - len(typed))
    lines = [
        tuple(replace(cell, name=f"{name}.{place}.{cell.name}", recall="on") for cell in fields(mark.row, row, {}, things=names))
        for place, row in enumerate(typed)
    ]
    columns = tuple(label_of(column, its) for column, its in fields_of(mark.row).items())
    return Grid(name, label_of(name, mark), mark.help, faults[name].problem if name in faults else "", columns, tuple(lines))


def strangers(form: type[BaseModel], faults: Mapping[str, Fault]) -> list[Fault]:
    """Faults that belong to no field of the form."""
    return [fault for name, fault in faults.items() if name not in form.model_fields]


def fresh(found: Sent, trouble: Trouble) -> Sent:
    """The same text with a key that was never used, when the old one is spent."""
    return replace(found, key=secrets.token_urlsafe(12)) if trouble.says == SENT_BEFORE else found


def _as_last_time(deed: AnyDeed, typed: Mapping[str, str]) -> tuple[Mapping[str, str], str]:
    """The steps in the trays as they were last time, and on which sheet that was; what the address says wins."""
    if deed.name != "process" or any(name.startswith("steps") for name in typed):
        return typed, ""
    process = typed.get("process") or (sheet_story(typed["sheet"]).process if "sheet" in typed else "")
    last = last_processing(process)
    if last is None:
        return typed, ""
    columns = fields_of(StepRow)
    steps = [one for one in last.steps.all() if one.archived_at is None]
    cells = {
        f"steps.{place}.{name}": as_typed(value) for place, one in enumerate(steps) for name in columns if (value := getattr(one, name)) is not None
    }
    return {**cells, **typed}, last.sheet.number


def _sheet_names(shown: Field) -> Field:
    """A choice of sheets with what is on them beside their numbers."""
    subjects = {line.sheet.number: line.sheet.subject for line in sheets()}
    choices = tuple(replace(one, label=f"{one.value}  {subjects[one.value]}".strip()) if one.value in subjects else one for one in shown.choices)
    return replace(shown, choices=choices)


def _page(request: HttpRequest, deed: AnyDeed, found: Sent, trouble: Trouble, as_last: str = "") -> HttpResponse:
    context = {
        "as_last": as_last,
        "deed": deed,
        "enters": deed.name in SHELVES,
        "fields": form_fields(deed.form, found, trouble.faults),
        "strangers": strangers(deed.form, trouble.faults),
        "says": trouble.says,
        "key": fresh(found, trouble).key,
        "back": "/shelf" if deed.name in ON_THE_SHELF else href_back(found),
        "sign": "Shelf" if deed.name in ON_THE_SHELF else "Book",
    }
    return render(request, "do.html", context, status=trouble.status)


def href_back(found: Sent) -> str:
    """Where somebody goes who changes their mind."""
    return f"/book/{found.typed['sheet']}" if found.typed.get("sheet") else "/book"
