"""The hazard card for the wall."""

from django.http import HttpRequest, HttpResponse

from silverwright.web.hazardcard import hazard_card_file


def page(request: HttpRequest) -> HttpResponse:
    """The card as PDF."""
    return hazard_card_file(request.GET.get("page", "a4"))
