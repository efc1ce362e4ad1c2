"""Anything in the book, corrected: what stood there is kept, and two people who correct the same thing see both values."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from http import HTTPStatus
from typing import Any, Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book.find import find_thing
from silverwright.book.models.kept import Kept
from silverwright.book.queries import names
from silverwright.errors import BadQuestion, Contradiction, Fault, Stale, of_kind
from silverwright.web.fields import by_field, fields
from silverwright.web.live import kept, live
from silverwright.web.pages.doing import SENT_BEFORE
from silverwright.web.recorded import ON_A_SHEET, seen_there, thing_href
from silverwright.web.when import local
from silverwright.workshop.correct import correctable, standing
from silverwright.workshop.correctable import FORMS
from silverwright.workshop.deeds import do
from silverwright.workshop.scene import SceneForm

WAS: Final = "was."
SEEN: Final = "seen"
UNUSABLE: Final = HTTPStatus.UNPROCESSABLE_ENTITY
TAKEN: Final = HTTPStatus.CONFLICT
NOTHING_NEW: Final = "Nothing here differs from what stands in the book."
CHANGED: Final = "Changed meanwhile. In the book now: {now}. Send it again to put yours in its place, or type what is right."


@dataclass(frozen=True, slots=True)
class Wrong:
    """What hinders a correction."""

    faults: Mapping[str, Fault] = field(default_factory=dict)
    says: str = ""
    status: HTTPStatus = UNUSABLE


def page(request: HttpRequest, kind: str, name: str) -> HttpResponse:
    """The form with what stands in the book; or what was typed, written."""
    if live(request):
        return kept(request)
    thing = find_thing(kind, name)
    if request.method != "POST" and SEEN in request.GET:
        found = {one: request.GET.get(one, "") for one in correctable(kind)}
        return _form(request, kind, thing, found, request.GET.get("key") or secrets.token_urlsafe(12))
    if request.method != "POST":
        return _form(request, kind, thing, _stands(kind, thing), secrets.token_urlsafe(12))
    typed = _typed(request, kind)
    key = request.POST.get("key", "") or secrets.token_urlsafe(12)
    wrong = _correct(request, kind, name, typed, key)
    if isinstance(wrong, str):
        return seen_there(thing_href(kind, wrong), key)
    fresh = secrets.token_urlsafe(12) if wrong.status == TAKEN else key
    return _form(request, kind, find_thing(kind, name), typed, fresh, wrong)


def _typed(request: HttpRequest, kind: str) -> dict[str, str]:
    """Every field that can be corrected, the emptied ones too."""
    return {name: _sent(request, name) for name in correctable(kind) if name in request.POST}


def _sent(request: HttpRequest, name: str) -> str:
    """What a form sent; browsers end lines in two letters, the book in one."""
    return str(request.POST.get(name, "")).replace("\r\n", "\n").strip()


def _correct(request: HttpRequest, kind: str, name: str, typed: Mapping[str, str], key: str) -> str | Wrong:
    """The thing's name afterwards, or what hinders it."""
    changes = [{"field": one, "to": text} for one, text in typed.items() if text != _sent(request, WAS + one)]
    if not changes:
        return Wrong(says=NOTHING_NEW)
    given: dict[str, Any] = {"kind": kind, "name": name, "changes": changes, SEEN: request.POST.get(SEEN, "")}
    try:
        return do("correct", given, key=key).name
    except BadQuestion as bad:
        return Wrong(by_field(bad.faults))
    except Stale as stale:
        now = {one: Fault(one, mine, CHANGED.format(now=stale.theirs.get(one) or "empty")) for one, mine in stale.mine.items()}
        return Wrong(now, str(stale), TAKEN)
    except Contradiction:
        return Wrong(says=SENT_BEFORE, status=TAKEN)


def _form(request: HttpRequest, kind: str, thing: Kept, typed: Mapping[str, str], key: str, wrong: Wrong | None = None) -> HttpResponse:  # noqa: PLR0913, PLR0917 (everything that the form shows)
    faults = wrong.faults if wrong else {}
    again = wrong.status == UNUSABLE if wrong else SEEN in request.GET
    name = request.resolver_match.kwargs["name"] if request.resolver_match else str(thing)
    context = {
        "kind": kind,
        "name": name,
        "says_its_kind": of_kind(kind, name) == name,
        "is_number": kind in ON_A_SHEET,
        **_fields(kind, typed, faults),
        "hidden": _as_sent(request) if again else _as_it_stands(kind, thing),
        "strangers": [fault for one, fault in faults.items() if one not in correctable(kind)],
        "says": wrong.says if wrong else "",
        "key": key,
        "back": thing_href(kind, name),
    }
    return render(request, "correct.html", context, status=wrong.status if wrong else 200)


def _stands(kind: str, thing: Kept) -> dict[str, str]:
    """What stands in the book, times by this computer's clock, to the minute."""
    times = {name: local(value) for name in correctable(kind) if isinstance(value := getattr(thing, name, None), datetime)}
    return standing(kind, thing) | {name: f"{at:%Y-%m-%d %H:%M}" for name, at in times.items()}


def _as_it_stands(kind: str, thing: Kept) -> dict[str, str]:
    """What the form was made from: a correction is measured against it."""
    stands = _stands(kind, thing)
    return {SEEN: str(thing.version), **{WAS + one: stands.get(one, "") for one in correctable(kind)}}


def _as_sent(request: HttpRequest) -> dict[str, str]:
    """The same once more, after a slip: what somebody else changed meanwhile is still found."""
    sent = request.POST or request.GET
    return {name: str(sent[name]) for name in sent if name == SEEN or name.startswith(WAS)}


def _fields(kind: str, typed: Mapping[str, str], faults: Mapping[str, Fault]) -> dict[str, object]:
    """The fields of the thing's own form; what was metered for an exposure, and how the camera stood, lies in a drawer."""
    marks = correctable(kind)
    own = [one for one in marks if one in FORMS[kind].model_fields]
    scene = [one for one in marks if one not in FORMS[kind].model_fields]
    shown = [replace(one, recall="on") for one in fields(FORMS[kind], typed, faults, only=own, things=names)]
    drawer = [replace(one, recall="on") for one in fields(SceneForm, typed, faults, only=scene, things=names)] if scene else []
    return {"fields": shown, "drawer": drawer, "open": any(one in faults for one in scene)}
