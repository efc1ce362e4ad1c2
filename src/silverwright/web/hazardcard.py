"""The hazard card as an answer, for the page and for programs."""

from django.http import HttpResponse


def hazard_card_file(page: str) -> HttpResponse:
    """The card of the room as it stands today, in the size that was asked for."""
    from silverwright.report.hazardcard import hazard_card_pdf  # noqa: PLC0415 (only who prints needs it)
    from silverwright.workshop.hazardcard import hazard_card  # noqa: PLC0415 (the same)

    content = hazard_card_pdf(hazard_card(), "us-letter" if page == "us-letter" else "a4")
    return HttpResponse(content, content_type="application/pdf", headers={"Content-Disposition": 'inline; filename="hazard-card.pdf"'})
