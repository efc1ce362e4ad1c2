"""The pulse: has anything been done since a page was made? Asked each second by pages that show what goes on, from every device."""

from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from silverwright.book.queries import newest_act

NOTHING_NEW: Final = 204  # arithmetic: the standard's status for an answer without content


def pulse(request: HttpRequest) -> HttpResponse:
    """Nothing while nothing was done; else a new pulse, and the word to the page that the book has changed."""
    newest = newest_act()
    if request.GET.get("seen") == str(newest):
        return HttpResponse(status=NOTHING_NEW)
    response = render(request, "parts/pulse.html", {"newest": newest})
    response["HX-Trigger"] = "book-changed"
    return response
