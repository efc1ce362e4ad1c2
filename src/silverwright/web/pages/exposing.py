"""Expose a sheet by the count: start it, watch it from any device, close the shutter, and see what was given."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any, Final

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from silverwright.asking.fields import fields_of, label_of
from silverwright.book.counting import SAME_STOPS, CountKnown, count_known, counts_running, events_of
from silverwright.book.models import Count
from silverwright.book.queries import names
from silverwright.errors import BadQuestion, Contradiction
from silverwright.processing.clock import off_stops
from silverwright.units import SECOND, STOP, clock
from silverwright.vocabulary import TO_GIVE_S
from silverwright.web.fields import Field, by_field, fields, sent_text
from silverwright.web.live import address, kept, live
from silverwright.web.pages.camera_answer import answered
from silverwright.web.pages.camera_asked import ask
from silverwright.web.pages.doing import SENT_BEFORE, Sent, Trouble, carry_out, form_fields, fresh, sent, strangers
from silverwright.web.pages.wrong import NOTHING_THERE, wrong
from silverwright.web.recorded import recorded, seen_there
from silverwright.web.when import local
from silverwright.workshop.deeds import do
from silverwright.workshop.exposing import START, STOP_EXPOSURE
from silverwright.workshop.holding import GO_ON, HOLD
from silverwright.workshop.light_read import WAYS, first_read
from silverwright.workshop.reading_changed import READING_CHANGED
from silverwright.workshop.scene import by_flash
from silverwright.workshop.stamp import stamp

SHOWN: Final = ("to_give_s", "count_in_s", "holder", "side", "subject")
SELDOM: Final = ("lot", "aperture_given_f", "told_apart", "anyway", "remarks")
USUAL_COUNT_IN: Final = "5"  # our judgement: from the key of the screen to the cable release
NOW_UNLESS: Final = "When it was read, from the opening on; now, unless you say."
AT_THE_BENCH: Final = {deed.name: deed for deed in (STOP_EXPOSURE, HOLD, GO_ON, READING_CHANGED)}


def start(request: HttpRequest) -> HttpResponse:
    """Show what is planned and what is in the camera, or start the count; the plan is asked again, whatever the page said."""
    if live(request):
        return kept(request)
    typed = sent_text(request.POST if request.method == "POST" else request.GET)
    trouble = Trouble()
    if request.method == "POST":
        outcome = carry_out(START, sent(START.form, typed))
        if isinstance(outcome, HttpResponse):
            return outcome
        trouble = outcome
    asked = ask(typed)
    planned = asked.planned
    settable_s = planned.answer.settable_s.value if planned is not None else None
    usual = {"count_in_s": USUAL_COUNT_IN}
    if settable_s is not None:
        usual["to_give_s"] = f"{settable_s}".removesuffix(".0")
    found = sent(START.form, (usual if request.method != "POST" else {}) | typed)
    running = [shown(known) for known in counts_running(stamp())]
    here = (*(("beside",) if running else ()), *(("paper",) if "paper" not in typed and "holder" not in typed else ()), *SHOWN)
    elsewhere = [fault for name, fault in trouble.faults.items() if name in START.form.model_fields and name not in here + SELDOM]
    context = {
        **(answered(asked, planned) if planned else {}),
        "fields": form_fields(START.form, found, trouble.faults, here),
        "seldom": form_fields(START.form, found, trouble.faults, SELDOM),
        "seldom_open": any(name in trouble.faults or name in typed for name in SELDOM),
        "hidden": {name: text for name, text in typed.items() if name in START.form.model_fields and name not in here + SELDOM},
        "elsewhere": [(label_of(one.field, fields_of(START.form)[one.field]), one.problem) for one in elsewhere],
        "strangers": strangers(START.form, trouble.faults),
        "says": trouble.says,
        "key": fresh(found, trouble).key,
        "running": running,
        "uncounted": _uncounted(found.typed.get("to_give_s", ""), by_flashes=asked.flashes is not None or by_flash(typed)),
        "record_href": address("/camera/record", {name: text for name, text in typed.items() if name not in {"to_give_s", "count_in_s", "key"}}),
    }
    return render(request, "exposing_start.html", context, status=trouble.status)


def _uncounted(to_give: str, *, by_flashes: bool) -> str:
    """Why nothing is counted here, if so: a flash, or a time that no hand keeps pace with."""
    if by_flashes:
        return "A flash has no count. Release it as planned, and record the sheet afterwards."
    try:
        to_give_s = TO_GIVE_S.unit.read(to_give)
    except ValueError:
        return ""
    if not isinstance(to_give_s, float) or to_give_s >= TO_GIVE_S.low:
        return ""
    return f"{SECOND.show(to_give_s)} is too short to count. Set it on the shutter, and record the sheet afterwards."


def bench(request: HttpRequest, name: str) -> HttpResponse:
    """Show the count, or do what one of its keys says."""
    trouble, found = Trouble(), Sent({}, {}, "")
    if request.method == "POST":
        typed = sent_text(request.POST)
        deed = AT_THE_BENCH.get(typed.get("deed", ""))
        if deed is None:
            return wrong(request, NOTHING_THERE)
        found = sent(deed.form, {**typed, "count": name})
        try:
            do(deed.name, found.given, key=found.key)
            return seen_there(f"/camera/exposing/{name}", found.key)
        except BadQuestion as bad:
            trouble = Trouble(by_field(bad.faults), status=422)
        except Contradiction:
            trouble = Trouble(says=SENT_BEFORE, status=409)
    known = count_known(name, stamp())
    context = {
        "shown": shown(known),
        "reading": _reading(known.count, found.typed, trouble),
        "given": fields(STOP_EXPOSURE.form, found.typed, trouble.faults, only=("given_s",))[0],
        "problems": _elsewhere(trouble, found.typed),
        "key": fresh(sent(STOP_EXPOSURE.form, {}), trouble).key,
        "done": done if (done := recorded(request)) and done.deed != START.name else None,
    }
    return render(request, "exposing.html", context, status=trouble.status)


def now(request: HttpRequest, name: str) -> HttpResponse:  # noqa: ARG001 (Django's shape)
    """How the count stands, for the page that shows it."""
    return JsonResponse(told(count_known(name, stamp())))


def told(known: CountKnown) -> dict[str, Any]:
    """A count as programs see it."""
    return {
        "name": known.count.name,
        "how": known.how,
        "passed_s": known.passed_s,
        "length_s": known.length_s,
        "left_s": known.left_s,
        "begins_in_s": known.begins_in_s,
        "certain": known.certain,
        "happened": known.happened,
        "sheet": known.sheet,
    }


@dataclass(frozen=True, slots=True)
class Shown:
    """A count as a page shows it, until its script goes on by itself."""

    known: CountKnown
    clock: str
    says: str
    what: str
    closes_at: str
    facts: Mapping[str, str]
    off: str


HEADS: Final = {"counting in": "Opens in", "running": "Open", "held": "Held", "over": "Close now", "stopped": "Closed"}


def shown(known: CountKnown) -> Shown:
    """The count in words and figures."""
    row = known.count
    passed_s = known.begins_in_s if known.how == "counting in" else known.passed_s if known.how == "stopped" else abs(known.left_s)
    given_s = row.exposure.given_s if row.exposure is not None else None
    off = off_stops(given_s, known.length_s) if given_s else 0
    less = "less" if off < 0 else "more"
    return Shown(
        known=known,
        clock=clock(passed_s),
        says="Nothing exposed" if row.state == "nothing exposed" else HEADS[known.how],
        what=", ".join(part for part in (str(row.given.get("subject", "")), str(row.side or "")) if part),
        closes_at=_of_day(stamp().utc_s + known.begins_in_s + known.left_s),
        facts=_facts(known),
        off=f"{SECOND.show(known.length_s)} was meant: {STOP.show(abs(off))} {less}" if abs(off) >= SAME_STOPS else "",
    )


def _facts(known: CountKnown) -> dict[str, str]:
    """What else one may want to know of it."""
    row, opened = known.count, events_of(known.count)[0]
    kept_answer = row.planned.answer if row.planned else {}
    time = kept_answer.get("time_s", {})
    limits = f", 8 of 10 fall between {clock(time['low'])} and {clock(time['high'])}" if time.get("low") and time.get("high") else ""
    found = {
        "Planned": f"{SECOND.show(time['value'])}{limits}" if time.get("value") else "",
        "To give": SECOND.show(known.length_s),
        "Started": _of_day(opened.at.utc_s),
        "Read since": "; ".join(f"{_value(one)} at {clock(one['at_s'])}" for one in row.readings),
        "Clock": "" if known.certain else "Only the wall clock tells: the computer was started anew meanwhile, or has no clock that nobody can set.",
    }
    return {label: words for label, words in found.items() if words}


def _value(reading: Mapping[str, Any]) -> str:
    way = next(way for way in WAYS if way in reading)
    mark: Any = fields_of(READING_CHANGED.form)[way]
    return str(mark.unit.show(reading[way]))


def _of_day(utc_s: float) -> str:
    return f"{local(datetime.fromtimestamp(utc_s, UTC)):%H:%M:%S}"


def _reading(row: Count, typed: Mapping[str, str], trouble: Trouble) -> list[Field]:
    """The light read anew: one field, in the way of the plan, and what the light does from now on."""
    way = (first_read(row) or ("reading_ev", 0))[0]
    faults = {way if name in WAYS else name: fault for name, fault in trouble.faults.items()}
    shown_fields = fields(READING_CHANGED.form, typed, faults, only=(way, "at_s", "light_goes"), things=names)
    return [replace(one, help=NOW_UNLESS) if one.name == "at_s" else one for one in shown_fields]


def _elsewhere(trouble: Trouble, typed: Mapping[str, str]) -> list[str]:
    """What is wrong and has no field on this page, or came from a key that has none."""
    here = {*WAYS, "at_s", "light_goes"} | ({"given_s"} if "given_s" in typed else set())
    return [fault.problem for name, fault in trouble.faults.items() if name not in here] + ([trouble.says] if trouble.says else [])
