"""The mixing card as an answer, for the page and for programs."""

from typing import TYPE_CHECKING

from django.http import HttpResponse

from silverwright.questions.mix import MixQuestion, answer

if TYPE_CHECKING:
    from silverwright.report.mixingcard import CardPaper


def mixing_card_file(given: object, page: "CardPaper") -> HttpResponse:
    """One bath on one card; every fault at once where it cannot be mixed."""
    from silverwright.report.mixingcard import mixing_card_pdf  # noqa: PLC0415 (only who prints needs it)

    question = MixQuestion.model_validate(given)
    content = mixing_card_pdf(question, answer(question), page)
    return HttpResponse(content, content_type="application/pdf", headers={"Content-Disposition": 'inline; filename="mixing-card.pdf"'})
