"""The light is read again while the shutter is open: the end of the count follows it."""

from typing import TYPE_CHECKING, Annotated, Any, Final, Literal

from silverwright.asking.fields import Choice
from silverwright.book.counting import known, written
from silverwright.book.models import Count
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.processing.clock import Event
from silverwright.units import SECOND
from silverwright.vocabulary import DIAL_TIME_S, READ_AT_S, READING_EV, READING_LUMINANCE, READING_LX
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.exposing import Begun, RunningForm, arrive, running_count
from silverwright.workshop.light_read import WAYS, first_read, given_so_far, read

if TYPE_CHECKING:
    from silverwright.questions.changing import ChangingAnswer

LONG_ENOUGH_S: Final = 20.0  # our judgement: beside it, the moments between the first reading and the opening weigh little
A_MOMENT_S: Final = 1.0  # our judgement: from the meter to the key


class ReadingChangedForm(RunningForm):
    """The light now."""

    reading_ev: Annotated[float | None, READING_EV] = None
    reading_lx: Annotated[float | None, READING_LX] = None
    reading_cd_per_m2: Annotated[float | None, READING_LUMINANCE] = None
    dial_time_s: Annotated[float | None, DIAL_TIME_S] = None
    at_s: Annotated[float | None, READ_AT_S] = None
    light_goes: Annotated[
        Literal["as last read", "evenly on"],
        Choice(
            help="What the light does from now on: it stays, or falls or rises evenly on, as at dusk and dawn.",
            example="as last read",
            label="From now on",
        ),
    ] = "as last read"


def _changed(doing: Doing[ReadingChangedForm]) -> Done:
    begun: Begun = doing.ready
    row = running_count(doing)
    now = known(row, begun.at)
    at_s = round(now.passed_s, 1) if doing.form.at_s is None else doing.form.at_s
    if at_s > now.passed_s + A_MOMENT_S:
        problem = f"The shutter has been open for {SECOND.show(now.passed_s)}: nothing can have been read later than that."
        raise BadQuestion([Fault("at_s", f"{at_s:g}", problem)])
    row.readings = [*row.readings, {"at_s": at_s, "light_goes": doing.form.light_goes, **_same_way(doing, row)}]
    answer = given_so_far(row, max(at_s, now.passed_s))
    end_s = answer.end_s.value
    if end_s is None:
        says = f"{row.name}: the light fails before the sheet has all it needs. The count still ends at {SECOND.show(now.length_s)}."
    else:
        row.events = [*row.events, written(Event("length", begun.at, length_s=end_s))]
        says = f"{row.name}: close at {SECOND.show(end_s)}{_limits(answer)}, in place of {SECOND.show(now.length_s)}."
    row.save()
    trend_known = len(row.readings) > 1 or at_s >= LONG_ENOUGH_S  # nobody knows how long before the opening the first one was taken
    notes = [one for one in answer.notes if trend_known or one.note is not Note.LIGHT_GOES]
    return doing.done(("count", row.name), says, notes, end_s=end_s, was_s=now.length_s)


def _limits(answer: "ChangingAnswer") -> str:
    """` (8 of 10: 102 s to 139 s)`."""
    low, high = answer.end_s.low, answer.end_s.high
    if low is None:
        return ""
    return f" (8 of 10: {SECOND.show(low)} to {SECOND.show(high)})" if high is not None else f" (8 of 10: at least {SECOND.show(low)})"


def _same_way(doing: Doing[ReadingChangedForm], row: Count) -> dict[str, float]:
    """The reading, taken in the same way as those before it: others would bring their own constants."""
    found, before = read(doing.form.model_dump()), first_read(row)
    if found is None:
        way = before[0] if before else "reading_ev"
        raise BadQuestion([Fault(way, "", f"What does the meter say now? Read it {WAYS[way]}.")])
    way, value = found
    if before is not None and before[0] != way:
        raise BadQuestion([Fault(way, f"{value:g}", f"The first reading was {WAYS[before[0]]}. Read it the same way, from the same place.")])
    return {way: value}


READING_CHANGED: Final[Deed[Any]] = Deed(
    name="reading-changed",
    says="Say what the meter reads now, while an exposure is counted: its end follows the light.",
    form=ReadingChangedForm,
    perform=_changed,
    prepare=arrive,
    examples={"a cloud": {"count": "count-001", "reading_ev": 9.5, "at_s": 20}},
)
