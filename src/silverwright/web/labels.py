"""Labels as an answer, for the page and for programs."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final, cast

from django.http import HttpResponse

from silverwright.workshop.labels import sheet_labels, shelf_labels

if TYPE_CHECKING:
    from silverwright.report.labels import LabelSize

SIZES: Final = ("62x29", "a4", "us-letter")


def shelf_labels_file(given: Mapping[str, object], size: str) -> HttpResponse:
    """Labels for bottles, baths and waste."""
    from silverwright.report.labels import labels_pdf  # noqa: PLC0415 (only who prints needs it)

    return _file(labels_pdf(shelf_labels(given), size_of(size)), "labels")


def sheet_labels_file(given: Mapping[str, object], size: str) -> HttpResponse:
    """Labels for sheets, or for holder sides."""
    from silverwright.report.labels import labels_pdf  # noqa: PLC0415 (only who prints needs it)

    return _file(labels_pdf(sheet_labels(given), size_of(size)), "sheet-labels")


def size_of(size: str) -> "LabelSize":
    """The size that was asked for, or the label's own."""
    return cast("LabelSize", size if size in SIZES else SIZES[0])


def _file(content: bytes, name: str) -> HttpResponse:
    return HttpResponse(content, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}.pdf"'})
