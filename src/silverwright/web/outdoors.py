"""The files that are taken along, as answers: a page to save on the phone, and sheets to print."""

from typing import TYPE_CHECKING, Final

from django.http import HttpResponse

if TYPE_CHECKING:
    from silverwright.report.card import Size
    from silverwright.report.kit import Kit
    from silverwright.report.target import Paper

HTML: Final = "text/html; charset=utf-8"
PDF: Final = "application/pdf"


def field_page_file(kit: "Kit") -> HttpResponse:
    """The field page, to be saved: opened from here it would be a page of this server, and its script would not run."""
    from silverwright.report.fieldpage import field_page  # noqa: PLC0415 (only who goes out needs it)

    return _file(field_page(kit).encode(), HTML, 'attachment; filename="field-page.html"')


def card_file(kit: "Kit", size: "Size") -> HttpResponse:
    """The exposure card."""
    from silverwright.report.card import card_pdf  # noqa: PLC0415 (only who goes out needs it)

    return _file(card_pdf(kit, size), PDF, 'inline; filename="exposure-card.pdf"')


def ruler_file(paper: "Paper") -> HttpResponse:
    """The ruler target."""
    from silverwright.report.target import target_pdf  # noqa: PLC0415 (only who goes out needs it)

    return _file(target_pdf(paper), PDF, 'inline; filename="ruler-target.pdf"')


def _file(content: bytes, kind: str, how: str) -> HttpResponse:
    return HttpResponse(content, content_type=kind, headers={"Content-Disposition": how})
