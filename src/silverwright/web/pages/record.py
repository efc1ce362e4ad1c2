"""Record a sheet with what the Camera says, and take its field note along."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.timezone import now

from silverwright import __version__
from silverwright.asking.fields import fields_of, label_of
from silverwright.asking.rows import Rows
from silverwright.asking.show import show
from silverwright.book.queries import names
from silverwright.report.fieldnote import FieldNote, Paper, field_note_pdf, from_answer
from silverwright.web.fields import Field, sent_text
from silverwright.web.live import kept, live
from silverwright.web.pages.camera_answer import answered, flashed
from silverwright.web.pages.camera_asked import Asked, ask
from silverwright.web.pages.doing import Grid, Trouble, carry_out, form_fields, fresh, sent, strangers
from silverwright.web.pages.wrong import Trouble as Wrong
from silverwright.web.pages.wrong import wrong
from silverwright.web.when import short_day
from silverwright.workshop.deeds import find_deed
from silverwright.workshop.flashes import PlannedFlashes
from silverwright.workshop.plan import Planned
from silverwright.workshop.scene import EitherForm

UNPLANNED: Final = ("paper", "process")  # what the Camera brings; without it they are asked here
WHICH_PAPER: Final = "Which paper it was; a holder that was loaded, or a box, says it by itself."
DONE: Final = ("subject", "holder", "side", "remarks")
SELDOM: Final = ("aperture_given_f", "lot", "told_apart", "when", "anyway")
NO_ANSWER: Final = Wrong(422, "No answer yet", "A field note needs a reading and an aperture. Go back to the camera and give them.")


def record(request: HttpRequest) -> HttpResponse:
    """Show the form with what was planned above it, or record the sheet; the ledger is asked again, whatever the page said."""
    if live(request):
        return kept(request)
    deed = find_deed("expose")
    typed = sent_text(request.POST if request.method == "POST" else request.GET)
    trouble = Trouble()
    if request.method == "POST":
        outcome = carry_out(deed, sent(deed.form, typed))
        if isinstance(outcome, HttpResponse):
            return outcome
        trouble = outcome
    found = sent(deed.form, typed)
    asked = ask(typed)
    asked_here = UNPLANNED if asked.either is None else ("paper",) if "paper" not in typed else ()
    given = ("flashes_given",) if asked.flashes else ("given_s",) if asked.planned else ("given_s", "flashes_given")
    done = (*asked_here, *DONE[:1], *given, *DONE[1:])
    hidden = {name: text for name, text in typed.items() if name in deed.form.model_fields and name not in done + SELDOM}
    unseen = [fault for name, fault in trouble.faults.items() if name in deed.form.model_fields and name not in done + SELDOM]
    seldom = form_fields(deed.form, found, trouble.faults, SELDOM)
    context = {
        **(answered(asked, asked.planned) if asked.planned else flashed(asked, asked.flashes) if asked.flashes else {}),
        "fields": [_says_when_needed(one) for one in form_fields(deed.form, found, trouble.faults, done)],
        "no_paper": "paper" in done and not names("paper"),
        "seldom": seldom,
        "seldom_open": bool(trouble.faults) or any(name in typed for name in SELDOM),
        "hidden": hidden,
        "elsewhere": [(label_of(fault.field, fields_of(deed.form)[fault.field]), fault.problem) for fault in unseen],
        "strangers": strangers(deed.form, trouble.faults),
        "says": trouble.says,
        "key": fresh(found, trouble).key,
    }
    return render(request, "record.html", context, status=trouble.status)


def _says_when_needed(shown: Field | Grid) -> Field | Grid:
    """A paper is needed only where nothing else tells it."""
    return replace(shown, help=WHICH_PAPER) if shown.name == "paper" else shown


def fieldnote(request: HttpRequest) -> HttpResponse:
    """The exposure's ledger as a page to take along."""
    asked = ask(sent_text(request.GET))
    if asked.either is None:
        return wrong(request, NO_ANSWER)
    paper: Paper = "us-letter" if request.GET.get("page") == "us-letter" else "a4"
    page = field_note_pdf(note_of(asked, asked.either), paper)
    return HttpResponse(page, content_type="application/pdf", headers={"Content-Disposition": 'inline; filename="field-note.pdf"'})


def note_of(asked: Asked, planned: Planned | PlannedFlashes) -> FieldNote:
    """The page's content."""
    answer = planned.model_dump(mode="json")["answer"]
    notes = [one.model_dump(mode="json") for one in planned.notes]
    bracket = [] if len(answer.get("bracket_s", ())) == 1 else answer.get("bracket_s", ())
    return from_answer(
        answer | {"notes": [*notes, *answer["notes"]], "bracket_s": bracket},
        title=asked.typed.get("paper", "Exposure"),
        facts=_facts(planned.question),
        made=f"{short_day(now())}, version {__version__}",
        invented=settings.EXAMPLE,
    )


def _facts(question: Mapping[str, object]) -> dict[str, str]:
    """What was read and set; tables are too long for it."""
    marks = fields_of(EitherForm)
    told = {name: value for name, value in question.items() if name in marks and not isinstance(marks[name], Rows)}
    return {label_of(name, marks[name]): show(marks[name], value) for name, value in told.items()}
