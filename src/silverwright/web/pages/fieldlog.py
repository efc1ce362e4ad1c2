"""Home again: the log of a field page as a file or as text, or a paper log typed in; each line becomes a sheet, once."""

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.timezone import localdate

from silverwright.asking.fields import fields_of, label_of
from silverwright.book.queries import act_of, last_exposure, names
from silverwright.errors import BadQuestion, Contradiction
from silverwright.web.fields import by_field, fields, sent_text
from silverwright.web.live import kept, live
from silverwright.web.pages.doing import SENT_BEFORE, Grid, Sent, Trouble, fresh, sent
from silverwright.web.recorded import recorded, seen_there
from silverwright.workshop.act import Done
from silverwright.workshop.deeds import do
from silverwright.workshop.fieldlog import FIELD_LOG, FieldLogForm
from silverwright.workshop.loglines import BY_HAND, LogRow, read_log

USUAL: Final = ("day", "paper", "lens", "camera", "meter", "light", "process", "anyway")
LINES: Final = 12  # our judgement: as many as the card has
SPARE: Final = 2  # our judgement: a line that was forgotten, and one more
DAMAGED: Final = "\N{REPLACEMENT CHARACTER}"


def page(request: HttpRequest) -> HttpResponse:
    """Show the form and what came of the last log, or bring a log in."""
    if live(request):
        return kept(request)
    if request.method != "POST":
        typed = sent_text(request.GET)
        done = recorded(request)
        usual = _as_that_time(request) if done else _as_last_time()
        return _page(request, sent(FieldLogForm, {**usual, **typed}), Trouble(), done)
    typed = _with_file(request)
    found = sent(FieldLogForm, typed)
    try:
        do(FIELD_LOG.name, {**found.given, "log": _lines(found)}, key=found.key)
    except BadQuestion as bad:
        return _page(request, found, Trouble(by_field(bad.faults), status=422), None)
    except Contradiction:
        return _page(request, found, Trouble(says=SENT_BEFORE, status=409), None)
    return seen_there("/book/log", found.key)


def _with_file(request: HttpRequest) -> dict[str, str]:
    """What was typed, with the file's text where the pasted text stands: so nothing of it is lost when something has to be mended."""
    typed = sent_text(request.POST)
    text = "\n".join(file.read().decode("utf-8", errors="replace") for file in request.FILES.getlist("file"))
    whole = "\n".join(part for part in (typed.get("log", ""), text) if part.strip())
    return {**typed, "log": whole} if whole else typed


def _lines(found: Sent) -> object:
    """The text's lines, and those of the table below it."""
    rows = found.given.get("log", ()) if not isinstance(found.given.get("log"), str) else ()
    try:
        text = read_log(found.typed.get("log", ""))
    except ValueError:
        return found.typed["log"]  # the act says what is wrong with it
    return [*(text if isinstance(text, list) else ()), *rows]


def _page(request: HttpRequest, found: Sent, trouble: Trouble, done: Done | None) -> HttpResponse:
    left = [one["row"] for one in done.values.get("left", ())] if done else []
    phone = [row for row in left if not row.keys() <= set(BY_HAND)]
    text = _as_text(phone) if phone else found.typed.get("log", "")
    typed = found.given.get("log", ()) if not isinstance(found.given.get("log"), str) else ()
    rows = [row for row in left if row not in phone] or typed
    context = {
        "done": done,
        "sheets": list(done.values.get("recorded", ())) if done else [],
        "usual": fields(FieldLogForm, found.typed, trouble.faults, only=USUAL, things=names),
        "text": text,
        "to_mend": bool(phone),
        "problem": trouble.faults["log"].problem if "log" in trouble.faults else "",
        "grid": _grid(rows),
        "typed_lines": bool(rows),
        "says": trouble.says,
        "strangers": [fault for name, fault in trouble.faults.items() if name not in FieldLogForm.model_fields],
        "key": fresh(found, trouble).key,
        "no_name": not names("paper"),
    }
    return render(request, "fieldlog.html", context, status=trouble.status)


def _grid(rows: Sequence[Mapping[str, str]]) -> Grid:
    """The paper log as a table: as many lines as the card has."""
    lines = [*rows, *({} for _ in range(max(LINES - len(rows), SPARE)))]
    marks = fields_of(LogRow)
    cells = [
        tuple(replace(cell, name=f"log.{place}.{cell.name}", recall="on") for cell in fields(LogRow, row, {}, only=BY_HAND))
        for place, row in enumerate(lines)
    ]
    return Grid("log", "Log", "", "", tuple(label_of(name, marks[name]) for name in BY_HAND), tuple(cells))


def _as_text(rows: Sequence[Mapping[str, Any]]) -> str:
    """Lines that could not be recorded, to be mended where they stand."""
    columns = list(dict.fromkeys(name for row in rows for name in row))
    written = io.StringIO()
    table = csv.writer(written, delimiter=";", lineterminator="\n")
    table.writerow(columns)
    table.writerows([row.get(name, "") for name in columns] for row in rows)
    return written.getvalue()


def _as_that_time(request: HttpRequest) -> dict[str, str]:
    """What was chosen for the log that has just come in stays chosen, for the lines that are left of it."""
    act = act_of(request.GET.get("recorded", ""))
    return {} if act is None else {name: str(value) for name, value in act.given.items() if name in USUAL}


def _as_last_time() -> dict[str, str]:
    """The day is today; paper and gear are those of the newest exposure."""
    last = last_exposure()
    things = {} if last is None else {"paper": last.sheet.paper, "lens": last.lens, "camera": last.camera, "meter": last.meter}
    return {"day": f"{localdate()}", **{name: thing.name for name, thing in things.items() if thing is not None and thing.archived_at is None}}
