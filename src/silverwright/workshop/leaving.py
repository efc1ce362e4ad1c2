"""What misleads is left out with a reason, and taken back: what a sheet says to the forecast, a step of the tablet to a scanner's calibration."""

from collections.abc import Mapping
from typing import Annotated, Any, Final

from silverwright.asking.fields import Choice, Thing, Words
from silverwright.asking.operation import Typed
from silverwright.book import words
from silverwright.book.evidence import kinds_told
from silverwright.book.models import LeftOut, Sheet
from silverwright.errors import BadQuestion, Fault
from silverwright.vocabulary import TABLET_STEP
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.forms import ONE_LINE, WHOLE
from silverwright.workshop.tablet_steps import leave_out_step, take_back_step

MANY: Final = "scene patches"


class TakeBackForm(Typed):
    """What shall count again."""

    sheet: Annotated[str | None, Thing(kind="sheet", help="Which sheet, by its number.", example="26-018")] = None
    evidence: Annotated[words.Evidence | None, Choice(help="What of it.", example="verdict")] = None
    scanner: Annotated[str | None, Thing(kind="scanner", help="Or which scanner.", example="flatbed in the office")] = None
    step: Annotated[float | None, TABLET_STEP, WHOLE] = None


class LeaveOutForm(TakeBackForm):
    """What shall not count, and why."""

    reason: Annotated[str, Words(help="Why it shall not count; it stays in the book.", example="judged in the wrong light", longest=200), ONE_LINE]


def _faults(given: Mapping[str, object]) -> list[Fault]:
    """Either a sheet and what of it, or a scanner and which step of its tablet."""
    if given.get("sheet") and given.get("scanner"):
        return [Fault("scanner", str(given["scanner"]), "A sheet and a scanner are both named. Leave one of them out.")]
    if given.get("scanner"):
        return [] if given.get("step") else [Fault("step", "", "Needed: which step of its tablet, by its number?")]
    if not given.get("sheet"):
        return [Fault("sheet", "", "Needed: a sheet and what of it, or a scanner and which step of its tablet.")]
    return [] if given.get("evidence") else [Fault("evidence", "", "Needed: what of the sheet?")]


def _named(sheet: Sheet, form: TakeBackForm) -> str:
    """`The verdict of sheet 26-018`; the scene's patches under the word that the pages have for them."""
    return f"The {'metered places' if form.evidence == MANY else form.evidence} of sheet {sheet}"


def _standing(doing: Doing[Any]) -> LeftOut | None:
    sheet: Sheet = doing.things["sheet"]
    return LeftOut.objects.filter(sheet=sheet, evidence=doing.form.evidence, archived_at=None).first()


def _leave_out(doing: Doing[LeaveOutForm]) -> Done:
    if "scanner" in doing.things:
        return leave_out_step(doing)
    sheet, form = doing.things["sheet"], doing.form
    if (there := _standing(doing)) is not None:
        raise BadQuestion([Fault("sheet", sheet.number, f"It is left out already: {there.reason}.")])
    if form.evidence not in kinds_told(sheet):
        raise BadQuestion([Fault("evidence", str(form.evidence), f"Sheet {sheet} says nothing of that kind: there is nothing to leave out.")])
    LeftOut.objects.create(sheet=sheet, evidence=form.evidence or "", reason=form.reason, left_out_at=doing.at)
    return doing.done(
        ("sheet", sheet.number), f"{_named(sheet, form)} {'do' if form.evidence == MANY else 'does'} not count any more: {form.reason}."
    )


def _take_back(doing: Doing[TakeBackForm]) -> Done:
    if "scanner" in doing.things:
        return take_back_step(doing)
    sheet, form = doing.things["sheet"], doing.form
    if (there := _standing(doing)) is None:
        raise BadQuestion([Fault("sheet", sheet.number, f"The {form.evidence} of sheet {sheet} was not left out.")])
    there.archived_at = doing.at
    there.save()
    return doing.done(("sheet", sheet.number), f"{_named(sheet, form)} {'count' if form.evidence == MANY else 'counts'} again.")


LEAVE_OUT: Final[Deed[Any]] = Deed(
    name="leave-out",
    says="Leave out something that a sheet says, or a step of a scanner's tablet, with the reason.",
    form=LeaveOutForm,
    perform=_leave_out,
    faults=_faults,
    examples={
        "a verdict": {"sheet": "26-018", "evidence": "verdict", "reason": "judged in the wrong light"},
        "a step of the tablet": {"scanner": "flatbed in the office", "step": 7, "reason": "scratched"},
    },
)
TAKE_BACK: Final[Deed[Any]] = Deed(
    name="take-back",
    says="Let count again what was left out.",
    form=TakeBackForm,
    perform=_take_back,
    faults=_faults,
    examples={
        "a verdict": {"sheet": "26-018", "evidence": "verdict"},
        "a step of the tablet": {"scanner": "flatbed in the office", "step": 7},
    },
)
