"""What was mixed is recorded where its steps stand: the bath's name and what it is in; the rest follows from the steps."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Final

from django.db import transaction
from django.http import HttpRequest, HttpResponse

from silverwright.asking.fields import fields_of, label_of
from silverwright.errors import BadQuestion, Contradiction, UnknownName
from silverwright.web.fields import Field, sent_text
from silverwright.web.pages.doing import Grid, Sent, Trouble, carry_out, form_fields, fresh, sent, strangers
from silverwright.workshop.deeds import do
from silverwright.workshop.mixing import MIX

ASKED: Final = ("role", "name", "kept_in", "vented")
SELDOM: Final = ("taken", "when", "remarks")


@dataclass(frozen=True, slots=True)
class Noted:
    """Bottles whose label left the percent open, and which one it was answered to be."""

    bottles: Sequence[str] = ()
    unit: str = ""


NOTED, NOTED_UNIT = "noted", "noted_unit"
NOTHING_NOTED: Final = Noted()


@dataclass(frozen=True, slots=True)
class RecordForm:
    """The form below the steps."""

    fields: Sequence[Field | Grid]
    seldom: Sequence[Field | Grid]
    hidden: Mapping[str, str]
    noted: Noted
    problems: Sequence[tuple[str, str]]
    says: str
    key: str
    open: bool
    action: str


def recorded_here(request: HttpRequest) -> tuple[HttpResponse | None, Trouble, Mapping[str, str]]:
    """What came of recording it, where the form was sent: the way to the bath, or what is wrong, with everything that was typed."""
    if request.method != "POST":
        return None, Trouble(), {}
    typed = sent_text(request.POST)
    with transaction.atomic():
        _note_on_bottles(typed)
        outcome = carry_out(MIX, sent(MIX.form, typed))
        if not isinstance(outcome, HttpResponse):
            transaction.set_rollback(True)  # what was not mixed leaves no note on a bottle
    if isinstance(outcome, HttpResponse):
        return outcome, Trouble(), {}
    return None, outcome, typed


def _note_on_bottles(typed: Mapping[str, str]) -> None:
    """What was answered of a label is written onto the bottle, before something is taken from it; its history keeps what stood there."""
    for place, name in enumerate(typed.get(NOTED, "").splitlines()):
        changes = [{"field": "strength_unit", "to": typed.get(NOTED_UNIT, "")}]
        with suppress(BadQuestion, Contradiction, UnknownName):  # then the mix itself says what is still open
            do("correct", {"kind": "stock", "name": name, "changes": changes}, key=f"{typed.get('key', '')}-label-{place}")


def record_form(
    request: HttpRequest, made: Mapping[str, str], trouble: Trouble, typed: Mapping[str, str], noted: Noted = NOTHING_NOTED
) -> RecordForm:
    """The form, filled in with what the steps make; what was typed wins. `noted` are bottles whose label was asked about, and the answer."""
    found: Sent = sent(MIX.form, {**made, **typed})
    here = (*ASKED, *SELDOM)
    marks = fields_of(MIX.form)
    elsewhere = [one for name, one in trouble.faults.items() if name in marks and name not in here]
    return RecordForm(
        fields=form_fields(MIX.form, found, trouble.faults, ASKED),
        seldom=form_fields(MIX.form, found, trouble.faults, SELDOM),
        hidden={
            **{name: text for name, text in found.typed.items() if name in marks and name not in here},
            **({NOTED: "\n".join(noted.bottles), NOTED_UNIT: noted.unit} if noted.bottles else {}),
        },
        noted=noted,
        problems=[
            *((label_of(one.field, marks[one.field]), one.problem) for one in elsewhere),
            *(("", one.problem) for one in strangers(MIX.form, trouble.faults)),
        ],
        says=trouble.says,
        key=fresh(found, trouble).key,
        open=any(name in trouble.faults for name in SELDOM),
        action=request.get_full_path(),
    )
