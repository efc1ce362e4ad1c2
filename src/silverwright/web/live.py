"""
While somebody types: which problems are told, and what stands in the address.

Three ways to the same page. A page that is opened or sent tells every fault. Somebody who leaves a field (`Left-Field`, sent by the form's inner
element on `change`) is told what is wrong with what was typed, not what is still missing. Somebody still typing is told nothing; only what
has become right is taken away.
"""

from collections.abc import Mapping, Sequence
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse

from silverwright.errors import Fault
from silverwright.web.fields import Field


def live(request: HttpRequest) -> bool:
    """Is only the answer asked for, not the page?"""
    return request.headers.get("HX-Request") == "true"


def left(request: HttpRequest) -> bool:
    """Has a field just been left?"""
    return request.headers.get("Left-Field") == "yes"


def told(request: HttpRequest, faults: Mapping[str, Fault]) -> dict[str, Fault]:
    """The faults that are told now."""
    if not live(request):
        return dict(faults)
    return {name: fault for name, fault in faults.items() if fault.given} if left(request) else {}


def swapped(request: HttpRequest, shown: Sequence[Field], faults: Mapping[str, Fault]) -> list[Field]:
    """The fields whose problem is written anew: all when a field was left, else those that have become right."""
    return [field for field in shown if left(request) or field.name not in faults]


def address(path: str, typed: Mapping[str, str]) -> str:
    """A page's address with what was typed and nothing empty."""
    return f"{path}?{urlencode(typed)}" if typed else path


def kept(request: HttpRequest) -> HttpResponse:
    """Somebody fills in an act: nothing is shown anew; the address keeps what was typed, and the key that makes it one act after "back" too."""
    return keep_address(HttpResponse(), request, {name: str(text) for name, text in request.GET.items() if text})


def keep_address(response: HttpResponse, request: HttpRequest, typed: Mapping[str, str]) -> HttpResponse:
    """The answer's state goes into the address, so that reload, bookmark and "back" find it."""
    if live(request):
        response["HX-Replace-Url"] = address(request.path, typed)
    response["Vary"] = "HX-Request"  # the same address answers a page or a part of it
    return response
