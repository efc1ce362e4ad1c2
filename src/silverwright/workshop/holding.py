"""The light is kept out of a running exposure for a while, and let in again: the count waits meanwhile."""

from typing import Annotated, Any, Final

from silverwright.book.counting import known, written
from silverwright.book.models import Count
from silverwright.errors import BadQuestion, Fault
from silverwright.processing.clock import Event
from silverwright.units import SECOND
from silverwright.vocabulary import COUNT_IN_S, GIVEN_S
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.exposing import Begun, RunningForm, arrive, running_count


class HeldForm(RunningForm):
    """The light is kept out for a while."""

    given_s: Annotated[float | None, GIVEN_S] = None


class GoOnForm(RunningForm):
    """The light is let in again."""

    count_in_s: Annotated[float, COUNT_IN_S] = 0


def _hold(doing: Doing[HeldForm]) -> Done:
    begun: Begun = doing.ready
    row = running_count(doing)
    now = known(row, begun.at)
    if now.how == "held":
        raise BadQuestion([Fault("count", row.name, "The light is kept out already. Let it in again, or stop.")])
    _add(row, Event("hold", begun.at, given_s=doing.form.given_s))
    now = known(row, begun.at)
    left = f"after {SECOND.show(now.passed_s)}; {SECOND.show(max(0, now.left_s))} are left" if now.passed_s else "before the shutter opened"
    return doing.done(("count", row.name), f"{row.name}: held {left}.")


def _go_on(doing: Doing[GoOnForm]) -> Done:
    begun: Begun = doing.ready
    row = running_count(doing)
    if known(row, begun.at).how != "held":
        raise BadQuestion([Fault("count", row.name, "The light is not kept out: the count goes on already.")])
    _add(row, Event("go on", begun.at, count_in_s=doing.form.count_in_s))
    left_s = known(row, begun.at).left_s
    return doing.done(("count", row.name), f"{row.name} goes on; {SECOND.show(max(0, left_s))} are left.")


def _add(row: Count, event: Event) -> None:
    row.events = [*row.events, written(event)]
    row.save()


HOLD: Final[Deed[Any]] = Deed(
    name="hold-exposure",
    says="Keep the light out for a while: the count waits.",
    form=HeldForm,
    perform=_hold,
    prepare=arrive,
    examples={"somebody walks through": {"count": "count-001"}},
)
GO_ON: Final[Deed[Any]] = Deed(
    name="go-on-exposing",
    says="Let the light in again: the count goes on.",
    form=GoOnForm,
    perform=_go_on,
    prepare=arrive,
    examples={"the way is free": {"count": "count-001", "count_in_s": 3}},
)
