"""The frame around every page: the places, the light in the room, and whether the book is an invented one."""

from typing import Final
from urllib.parse import urlsplit

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_POST

from silverwright.report.pictograms import symbols

THEMES: Final = {"day": "Day", "dark": "Dark", "safelight": "Safelight"}
PLACES: Final = (("Camera", "/camera"), ("Measure", "/measure"), ("Findings", "/findings"), ("Shelf", "/shelf"), ("Book", "/book"))
THEME_COOKIE: Final = "theme"
A_YEAR_S: Final = 365 * 24 * 3600  # arithmetic


def theme_of(request: HttpRequest) -> str:
    """The light in this room, as it was last chosen on this device."""
    chosen = request.COOKIES.get(THEME_COOKIE, "")
    return chosen if chosen in THEMES else "day"


def frame(request: HttpRequest) -> dict[str, object]:
    """What the base of every page needs."""
    theme = theme_of(request)
    return {
        "theme": theme,
        "themes": [{"name": name, "label": label, "chosen": name == theme} for name, label in THEMES.items()],
        "places": [{"label": label, "href": href, "here": _under(request.path, href)} for label, href in PLACES],
        "invented": settings.EXAMPLE,
        "pictograms": pictograms,
    }


def pictograms() -> SafeString:
    """The shapes that warn, for the pages that show them."""
    return mark_safe(symbols())  # noqa: S308 (our own drawings, nothing that anybody typed)


@require_POST
def theme(request: HttpRequest) -> HttpResponse:
    """Remember the light in this room and go back to the page."""
    came = urlsplit(request.headers.get("Referer", ""))  # it carries what was typed since the page came
    back = came._replace(scheme="", netloc="", fragment="").geturl() if came.netloc == request.get_host() else "/"
    response = HttpResponseRedirect("/" + back.lstrip("/"))
    response.status_code = 303
    chosen = request.POST.get("theme", "")
    if chosen in THEMES:
        response.set_cookie(THEME_COOKIE, chosen, max_age=A_YEAR_S, samesite="Strict", httponly=True)
    return response


def _under(path: str, place: str) -> bool:
    return path == place or path.startswith(f"{place}/")
