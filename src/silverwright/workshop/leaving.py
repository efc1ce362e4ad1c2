"""What a sheet says can be left out of the forecast with a reason, and taken back; nothing of it is lost."""

from typing import Annotated, Any, Final

from silverwright.asking.fields import Choice, Thing, Words
from silverwright.asking.operation import Typed
from silverwright.book import words
from silverwright.book.models import LeftOut, Sheet
from silverwright.errors import BadQuestion, Fault
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import ONE_LINE


class TakeBackForm(Typed):
    """What shall count again."""

    sheet: Annotated[str, Thing(kind="sheet", help="Which sheet, by its number.", example="26-018")]
    evidence: Annotated[words.Evidence, Choice(help="What of it.", example="verdict")]


class LeaveOutForm(TakeBackForm):
    """What shall not count, and why."""

    reason: Annotated[str, Words(help="Why it shall not count; it stays in the book.", example="judged in the wrong light", longest=200), ONE_LINE]


def _standing(doing: Doing[Any]) -> LeftOut | None:
    sheet: Sheet = doing.things["sheet"]
    return LeftOut.objects.filter(sheet=sheet, evidence=doing.form.evidence, archived_at=None).first()


def _leave_out(doing: Doing[LeaveOutForm]) -> Done:
    sheet, form = doing.things["sheet"], doing.form
    if (there := _standing(doing)) is not None:
        raise BadQuestion([Fault("sheet", sheet.number, f"It is left out already: {there.reason}.")])
    LeftOut.objects.create(sheet=sheet, evidence=form.evidence, reason=form.reason, left_out_at=doing.at)
    return doing.done(("sheet", sheet.number), f"The {form.evidence} of sheet {sheet} does not count any more: {form.reason}.")


def _take_back(doing: Doing[TakeBackForm]) -> Done:
    sheet, form = doing.things["sheet"], doing.form
    if (there := _standing(doing)) is None:
        raise BadQuestion([Fault("sheet", sheet.number, f"The {form.evidence} of sheet {sheet} was not left out.")])
    there.archived_at = doing.at
    there.save()
    return doing.done(("sheet", sheet.number), f"The {form.evidence} of sheet {sheet} counts again.")


LEAVE_OUT: Final[Deed[Any]] = Deed(
    name="leave-out",
    says="Leave out of the forecast something that a sheet says, with the reason.",
    form=LeaveOutForm,
    perform=_leave_out,
    examples={"a verdict": {"sheet": "26-018", "evidence": "verdict", "reason": "judged in the wrong light"}},
)
TAKE_BACK: Final[Deed[Any]] = Deed(
    name="take-back",
    says="Let count again what was left out of the forecast.",
    form=TakeBackForm,
    perform=_take_back,
    examples={"a verdict": {"sheet": "26-018", "evidence": "verdict"}},
)
