"""The mixing card for what stands in the address."""

from typing import Final

from django.http import HttpRequest, HttpResponse

from silverwright.errors import BadQuestion
from silverwright.questions.mix import MixQuestion
from silverwright.web.fields import sent_text, typed_in
from silverwright.web.mixing import mixing_card_file
from silverwright.web.pages.wrong import Trouble, wrong

NOT_YET: Final = "Nothing to mix yet"


def page(request: HttpRequest) -> HttpResponse:
    """The card as PDF; a file cannot stand beside its fields, so every fault stands on one page."""
    try:
        given = typed_in(sent_text(request.GET), MixQuestion)
        return mixing_card_file(given, "half-letter" if request.GET.get("page") == "half-letter" else "a5")
    except BadQuestion as bad:
        return wrong(request, Trouble(422, NOT_YET, " ".join(fault.problem for fault in bad.faults)))
