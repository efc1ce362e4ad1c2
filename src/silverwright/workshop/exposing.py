"""
An exposure that is counted: started, held while somebody walks through the picture, stopped, and recorded as it was really given.

The plan is asked at the start and kept then. The end is a moment of the server's clock: no page has to stay open.
"""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Annotated, Any, Final, NamedTuple

from pydantic import create_model

from silverwright.asking.fields import Choice, Flag, Thing
from silverwright.asking.operation import Remark, Typed, remark
from silverwright.book.counting import SAME_STOPS, events_of, known, written
from silverwright.book.find import NAMED
from silverwright.book.models import Count, Exposure, HolderSide
from silverwright.errors import BadQuestion, Fault
from silverwright.notes import Note
from silverwright.processing.clock import Event, Stamp, count, off_stops
from silverwright.questions.ledger import LedgerQuestion
from silverwright.units import SECOND, STOP
from silverwright.vocabulary import COUNT_IN_S, GIVEN_S, TO_GIVE_S
from silverwright.workshop.act import Deed, Doing, Done
from silverwright.workshop.expose import (
    AtTheCamera,
    DoneAtTheCamera,
    ExposeForm,
    expose_as,
    is_planned,
    keep,
    paper_in_camera,
    plan_faults,
    planned_fields,
    side_in_camera,
)
from silverwright.workshop.holders import Side
from silverwright.workshop.light_read import given_so_far
from silverwright.workshop.plan import Planned, plan
from silverwright.workshop.scene import by_flash, relaxed
from silverwright.workshop.stamp import stamp

COUNT: Final = Thing(kind="count", help="Which running exposure; needed where several run.", example="count-001")
NAMED_AT_START: Final = ("paper", "camera", "lens", "light", "meter", "holder", "lot")
SAME_S: Final = 0.5  # our judgement: a hand on a cable release is no quicker
A_TENTH_S: Final = 0.1  # our judgement: what a hand may know of a time


class ToBeCounted(AtTheCamera):
    """What is exposed, and for how long."""

    holder: Annotated[str | None, Thing(kind="holder", help="The holder that is in the camera.", example="holder 1")] = None
    side: Annotated[Side | None, Choice(help="The side of it that faces the lens.", example="1")] = None
    to_give_s: Annotated[float | None, TO_GIVE_S] = None
    count_in_s: Annotated[float, COUNT_IN_S] = 0
    beside: Annotated[bool, Flag(help="Another one is being counted, in another camera: this one is counted beside it.", example="no")] = False


StartForm: type[ToBeCounted] = create_model(
    "StartForm", __base__=ToBeCounted, __doc__="An exposure that is counted from now on.", **relaxed(LedgerQuestion)
)


class RunningForm(Typed):
    """Which count is meant."""

    count: Annotated[str | None, COUNT] = None


class StopForm(RunningForm):
    """The shutter is closed."""

    given_s: Annotated[float | None, GIVEN_S] = None
    nothing_exposed: Annotated[bool, Flag(help="The shutter stayed shut, or the start was a slip: no sheet is recorded.", example="no")] = False


class Begun(NamedTuple):
    """The moment at which an act arrived, and the plan that was asked then."""

    at: Stamp
    planned: Planned | None = None


def _begin(doing: Doing[Any]) -> Begun:
    at = stamp()  # first of all: what takes long comes after
    return Begun(at, plan(planned_fields(doing.given)) if is_planned(doing.given) else None)


def _faults(given: Mapping[str, object]) -> Sequence[Fault]:
    """What the plan finds wrong; a flash has no count at all."""
    if by_flash(given):
        return [Fault("to_give_s", "", "A flash has no count. Release it as planned, and record the sheet with `expose`.")]
    return plan_faults(given)


def arrive(_: Doing[Any]) -> Begun:
    """The moment, before anything else."""
    return Begun(stamp())


def _start(doing: Doing[ToBeCounted]) -> Done:
    begun: Begun = doing.ready
    side = side_in_camera(doing)
    if side is not None and side.state in {"empty", "unloaded"} and "lot" not in doing.things:
        raise BadQuestion(
            [
                Fault(
                    "side", side.side, "By the book nothing is in this side. Load it first, say which box its sheet is from, or leave the holder out."
                )
            ]
        )
    _one_at_a_time(doing)
    again = side is not None and side.state == "exposed" and side.sheet is not None
    paper, lot = (None, None) if again else paper_in_camera(doing, side)
    length_s = _to_give_s(doing, begun.planned)
    found = {"paper": paper, "lot": lot} | {name: doing.things[name] for name in NAMED_AT_START if name in doing.things}
    row = Count.objects.create(
        name=f"count-{1 + Count.objects.count():03}",
        given=doing.form.model_dump(mode="json", exclude_unset=True),
        things={name: thing.pk for name, thing in found.items() if thing is not None},
        planned=keep(doing, begun.planned) if begun.planned else None,
        side=side,
        events=[written(Event("start", begun.at, length_s=length_s, count_in_s=doing.form.count_in_s))],
    )
    opens = f" The shutter opens in {SECOND.show(doing.form.count_in_s)}." if doing.form.count_in_s else ""
    planned_s = begun.planned.answer.time_s.value if begun.planned else None
    says = f"{row.name}: counting {SECOND.show(length_s)} for {side or found['paper']}.{opens}"
    return doing.done(("count", row.name), says, to_give_s=length_s, planned_s=planned_s)


def _one_at_a_time(doing: Doing[ToBeCounted]) -> None:
    """A camera has one shutter; where nobody says which camera it is, somebody must say that it is another one."""
    camera = doing.things.get("camera")
    for row in Count.objects.filter(state="running"):
        other = row.things.get("camera")
        if camera is not None and other == camera.pk:
            raise BadQuestion([Fault("camera", camera.name, f"This camera is open now, as {row}. Stop that first, or say that nothing was exposed.")])
        if (camera is None or other is None) and not doing.form.beside:
            raise BadQuestion(
                [Fault("beside", "", f"Something is open already: {row}. Stop that first, or say “beside” if this is in another camera.")]
            )


def _to_give_s(doing: Doing[ToBeCounted], planned: Planned | None) -> float:
    """How long to count: as it was typed, or as it was planned; a blink of the shutter is not counted."""
    if doing.form.to_give_s is not None:
        return doing.form.to_give_s
    if planned is None:
        raise BadQuestion([Fault("to_give_s", "", "How long? Without a reading nothing says it: give the time, or the reading.")])
    length_s = planned.answer.settable_s.value or 0
    if length_s < TO_GIVE_S.low:
        problem = f"{SECOND.show(length_s)} is too short to count. Set it on the shutter, and record the sheet afterwards."
        raise BadQuestion([Fault("to_give_s", "", problem)])
    return length_s


def running_count(doing: Doing[Any]) -> Count:
    """The count that is meant: the one that was named, or the only one that runs."""
    named: Count | None = doing.things.get("count")
    if named is not None:
        if named.state != "running":
            became = f" as sheet {named.exposure.sheet}" if named.exposure else ""
            raise BadQuestion([Fault("count", named.name, f"This was stopped already{became}: {named.state}.")])
        return named
    running = list(Count.objects.filter(state="running")[:2])
    if not running:
        raise BadQuestion([Fault("count", "", "Nothing is being exposed. Start it first.")])
    if len(running) > 1:
        names = ", ".join(Count.objects.filter(state="running").values_list("name", flat=True))
        raise BadQuestion([Fault("count", "", f"Several run: {names}. Say which one.")])
    return running[0]


def _stop(doing: Doing[StopForm]) -> Done:
    begun: Begun = doing.ready
    row = running_count(doing)
    by_clock = known(row, begun.at)
    row.events = [*row.events, written(Event("stop", begun.at, given_s=doing.form.given_s))]
    if doing.form.nothing_exposed:
        row.state = "nothing exposed"
        row.save()
        return doing.done(("count", row.name), f"{row.name}: nothing was exposed; {_as_before(row.side)}.")
    found = count(events_of(row), begun.at)
    given_s = found.passed_s if doing.form.given_s is not None or not found.passed_s else max(A_TENTH_S, round(found.passed_s, 1))
    if given_s < GIVEN_S.low:
        raise BadQuestion(
            [Fault("given_s", "", "By the count the shutter has not opened yet. Say how long it was open, or that nothing was exposed.")]
        )
    row.state = "recorded"
    row.save()
    done = _record(doing, row, given_s)
    row.exposure = Exposure.objects.filter(sheet__number=done.name).order_by("pk").last()
    row.save()
    notes = [*_off(given_s, found.length_s), *done.notes]
    if doing.form.given_s is None and not found.certain:
        notes.append(remark(Note.CLOCK_UNSURE))
    if doing.form.given_s is not None and abs(given_s - by_clock.passed_s) > SAME_S:
        notes.append(remark(Note.COUNTED_OTHERWISE, clock=SECOND.show(by_clock.passed_s), given=SECOND.show(given_s)))
    return doing.done((done.kind, done.name), done.says, notes, **{**done.values, "meant_s": found.length_s})


def _as_before(side: HolderSide | None) -> str:
    return f"{side} is as it was" if side is not None else "no sheet is recorded"


def _record(doing: Doing[StopForm], row: Count, given_s: float) -> Done:
    """The sheet as the act `expose` records it, with what was typed and planned at the start, and what was really given."""
    opened_s = row.events[0]["at"]["utc_s"] + row.events[0]["count_in_s"]
    given = {name: value for name, value in row.given.items() if name in ExposeForm.model_fields}
    if row.readings:
        given["amounts_to_s"] = given_so_far(row, given_s).amounts_to_s.value
    given |= {"given_s": given_s, "when": datetime.fromtimestamp(opened_s, UTC).isoformat(), "anyway": True}
    things = {name: NAMED[name].objects.get(pk=pk) for name, pk in row.things.items()}  # type: ignore[attr-defined]
    form: DoneAtTheCamera = ExposeForm.model_validate(given)
    return expose_as(Doing("expose", form, things, doing.at, given), row.planned)


def _off(given_s: float, meant_s: float) -> list[Remark]:
    """Whether it was stopped early or late, where that matters."""
    stops = off_stops(given_s, meant_s)
    if abs(stops) < SAME_STOPS:
        return []
    note = Note.STOPPED_EARLY if stops < 0 else Note.STOPPED_LATE
    return [remark(note, given=SECOND.show(given_s), meant=SECOND.show(meant_s), stops=STOP.show(abs(stops)))]


START: Final[Deed[Any]] = Deed(
    name="start-exposure",
    says="Start counting an exposure; its plan is kept from now on.",
    form=StartForm,
    perform=_start,
    prepare=_begin,
    faults=_faults,
    examples={
        "still life": {
            "holder": "holder 1",
            "side": "1",
            "lens": "210 mm lens in a leaf shutter",
            "reading_ev": 10,
            "extension_mm": 315,
            "aperture_f": "f/22",
            "count_in_s": 5,
            "subject": "caulking mallet",
        }
    },
)
STOP_EXPOSURE: Final[Deed[Any]] = Deed(
    name="stop-exposure",
    says="Stop a counted exposure: the sheet is recorded with the time that it was really given.",
    form=StopForm,
    perform=_stop,
    prepare=arrive,
    examples={"as counted": {"count": "count-001"}, "early": {"count": "count-001", "given_s": 34}},
)
