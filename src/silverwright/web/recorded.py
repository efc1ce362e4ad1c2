"""What has just been recorded, and where it stands: the address carries the act's key, so that a page can say it once more after a reload."""

from collections.abc import Mapping
from typing import Final
from urllib.parse import quote, urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect

from silverwright.book.queries import act_of
from silverwright.errors import BadQuestion
from silverwright.workshop.act import Done

SHELVES: Final[Mapping[str, str]] = {
    "paper": "papers",
    "lot": "boxes",
    "camera": "cameras",
    "lens": "lenses",
    "light": "lights",
    "meter": "meters",
    "holder": "holders",
    "scanner": "scanners",
}
AFTERWARDS: Final[Mapping[str, str]] = {"is being read": "was read", "being measured": "measured"}
ABOUT_THE_FORECAST: Final = frozenset({"learn", "leave-out", "take-back"})
ON_THE_SHELF: Final[Mapping[str, str]] = {"stock": "/shelf/stocks", "bath": "/shelf/baths", "waste-bottle": "/shelf/waste"}
PLACES: Final[Mapping[str, str]] = {
    **{kind: f"/book/{slug}" for kind, slug in SHELVES.items()},
    "paper": "/shelf/papers",
    "lot": "/shelf/boxes",
    **ON_THE_SHELF,
    "scan": "/measure",
    "count": "/camera/exposing",
}
ALONE: Final[Mapping[str, str]] = {"side": "/book/holders", "recipe": "/shelf/recipes", "workroom": "/shelf"}
ON_A_SHEET: Final = frozenset({"sheet", "exposure", "processing", "step", "step-sheet", "reading", "verdict", "scene-patch"})


def href_of(done: Done) -> str:
    """The page on which the result of an act stands."""
    if done.deed in ABOUT_THE_FORECAST and done.kind == "sheet":
        return f"/findings?{urlencode({'sheet': done.name.partition('/')[0]})}"
    return thing_href(done.kind, done.name)


def thing_href(kind: str, name: str) -> str:
    """The page of a thing of the book."""
    if kind in ON_A_SHEET:
        return f"/book/{quote(name.partition('/')[0])}"
    if kind == "chip":
        return thing_href("lot", name.rpartition("/")[0] or name)
    place = PLACES.get(kind)
    if place is None:
        return ALONE.get(kind, "/book")
    return f"{place}/{quote(name.partition('/')[0] if kind in ON_THE_SHELF else name, safe='')}"


def seen_there(href: str, key: str) -> HttpResponse:
    """Go to the page where the result of the act with this key stands."""
    response = HttpResponseRedirect(f"{href}{'&' if '?' in href else '?'}{urlencode({'recorded': key})}")
    response.status_code = 303
    return response


def recorded(request: HttpRequest) -> Done | None:
    """What the act did that led here."""
    return recorded_by(request.GET.get("recorded", ""))


def once_read(done: Done | None, state: str) -> Done | None:
    """What was recorded of a scan, in the words of now: its work is not for ever under way, and what failed is told by the scan's own page."""
    if done is None or state in {"waiting", "running"} or not any(now in done.says for now in AFTERWARDS):
        return done
    if state in {"failed", "stopped"}:
        return None
    says = done.says
    for under_way, over in AFTERWARDS.items():
        says = says.replace(under_way, over)
    return done.model_copy(update={"says": says})


def recorded_by(key: str) -> Done | None:
    """What the act with this key did."""
    act = act_of(key) if key else None
    if act is None:
        return None
    try:
        return Done.model_validate(act.result)
    except BadQuestion:
        return None
