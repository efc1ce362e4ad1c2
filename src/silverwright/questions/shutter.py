"""What do the marks of my shutter really give?"""

from collections.abc import Sequence
from functools import lru_cache
from math import hypot, log2
from typing import Annotated, ClassVar, Final

from pydantic import Field, field_validator

from silverwright.asking.operation import Answer, Estimate, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows, short_number
from silverwright.exposure.shutter import marks_of_shutter, measured_speeds, settable_on_measured, speed_of_mark, true_time_s
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import around_stops
from silverwright.questions.marks import time_marks
from silverwright.records import MeasuredSpeed, ShutterSpeed
from silverwright.units import SECOND
from silverwright.vocabulary_lens import (
    GIVES_S,
    HAND_SD_S,
    MARKED_S,
    MEASURED_S,
    RELEASE_SD_STOPS,
    SET_ON_SHUTTER_S,
    SPEED_HIGH_S,
    SPEED_LOW_S,
    SPEED_MARK_S,
    SPEED_OFF_STOPS,
    SPEED_READINGS,
    SPEED_S,
    WANTED_S,
)

MOST_OFF_STOPS: Final = 3.0  # our judgement: a shutter three stops off is a mark misread, or milliseconds typed as seconds
SHUTTERS_REMEMBERED: Final = 64  # our judgement: more shutters than one works with in a day


class SpeedRow(Record):
    """One release that was measured: the mark, and how long the shutter was open."""

    marked_s: Annotated[float, MARKED_S]
    measured_s: Annotated[float, MEASURED_S]


SPEED_ROWS: Final = Rows(
    row=SpeedRow,
    help="Measured speeds of this shutter: a line for each release, the mark and the time that it was open.",
    example="1/25 1/29",
    label="Measured speeds",
)
Speeds = tuple[SpeedRow, ...]


class ShutterFields(Question):
    """What is known of the shutter."""

    measured_speeds: Annotated[Speeds, SPEED_ROWS] = ()

    @field_validator("measured_speeds")
    @classmethod
    def _of_this_mark(cls, rows: Speeds) -> Speeds:
        return check_speeds(rows)


class HandFields(Question):
    """How sure a hand is at cap, hat or B."""

    hand_sd_s: Annotated[float | None, HAND_SD_S] = None


def hand_of(question: HandFields) -> tuple[float, str]:
    """What a hand leaves in doubt, in seconds, and who says so."""
    usual = fact("lens", "hand_count")
    return (usual.sd, usual.says) if question.hand_sd_s is None else (question.hand_sd_s, "your own hand, as typed")


def check_speeds(rows: Speeds) -> Speeds:
    """The rows as they are, if none is too far from its mark to be true."""
    for number, row in enumerate(rows, 1):
        stops = log2(row.measured_s / true_time_s(row.marked_s, time_marks()))
        if abs(stops) > MOST_OFF_STOPS:
            said = f"Row {number}: marked {SECOND.show(row.marked_s)}, measured {SECOND.show(row.measured_s)}"
            raise refuse(f"{said}, {abs(stops):.0f} stops apart. Are the columns the other way round, or thousandths typed as seconds?")
    return rows


@lru_cache(maxsize=SHUTTERS_REMEMBERED)
def speeds_of(rows: Speeds) -> tuple[ShutterSpeed, ...]:
    """What was measured, mark by mark."""
    if not rows:
        return ()
    return measured_speeds([MeasuredSpeed(row.marked_s, row.measured_s) for row in rows], time_marks(), fact("lens", "release").sd)


def true_on_shutter_s(rows: Speeds, marked_s: float) -> float:
    """The time behind a mark of this shutter."""
    return speed_of_mark(marked_s, speeds_of(rows), time_marks(), fact("lens", "shutter").sd).time_s


@lru_cache(maxsize=SHUTTERS_REMEMBERED)
def _marks_of(rows: Speeds) -> tuple[ShutterSpeed, ...]:
    """Every mark of this shutter."""
    return marks_of_shutter(speeds_of(rows), time_marks(), fact("lens", "shutter").sd)


def nearest_on_shutter(rows: Speeds, time_s: float) -> ShutterSpeed:
    """The mark to set for a time, with what is known of it."""
    return settable_on_measured(time_s, _marks_of(rows))


def speeds_said(rows: Speeds) -> str:
    """`1 gives 1.1, 1.08; 1/25 gives 1/29`, as the book shows them."""
    marks: dict[float, list[str]] = {}
    for row in rows:
        marks.setdefault(row.marked_s, []).append(short_number(row.measured_s))
    return "; ".join(f"{short_number(mark)} gives {', '.join(given)}" for mark, given in marks.items())


class ShutterQuestion(ShutterFields):
    """Releases that were measured, and if wanted the time that a sheet needs."""

    measured_speeds: Annotated[Speeds, SPEED_ROWS, Field(validate_default=True)] = ()
    wanted_s: Annotated[float | None, WANTED_S] = None

    @field_validator("measured_speeds")
    @classmethod
    def _some(cls, rows: Speeds) -> Speeds:
        if not rows:
            raise refuse("Needed. A line for each release that was measured, such as 1/25 1/29: the mark, and how long it was open.")
        return rows


class ShutterAnswer(Answer):
    """Mark by mark, and what to set."""

    table: ClassVar[tuple[str, ...]] = ("mark_s", "true_s", "low_s", "high_s", "slow_stops", "releases")
    set_s: Annotated[Estimate | None, SET_ON_SHUTTER_S] = None
    gives_s: Annotated[Estimate | None, GIVES_S] = None
    release_sd_stops: Annotated[Estimate, RELEASE_SD_STOPS]
    mark_s: Annotated[Sequence[float], SPEED_MARK_S] = ()
    true_s: Annotated[Sequence[float], SPEED_S] = ()
    low_s: Annotated[Sequence[float], SPEED_LOW_S] = ()
    high_s: Annotated[Sequence[float], SPEED_HIGH_S] = ()
    slow_stops: Annotated[Sequence[float], SPEED_OFF_STOPS] = ()
    releases: Annotated[Sequence[float], SPEED_READINGS] = ()


def answer(question: ShutterQuestion) -> ShutterAnswer:
    """The mean of each mark; how far the next release may lie from it comes from all of them together."""
    speeds = speeds_of(question.measured_speeds)
    limits = [around_stops(one.time_s, one.sd_stops) for one in speeds]
    one_release = speeds[0].sd_stops / hypot(1, speeds[0].readings ** -0.5)
    found = ShutterAnswer(
        release_sd_stops=Estimate(value=one_release),
        mark_s=tuple(one.marked_s for one in speeds),
        true_s=tuple(one.time_s for one in speeds),
        low_s=tuple(one.low or 0.0 for one in limits),
        high_s=tuple(one.high or 0.0 for one in limits),
        slow_stops=tuple(log2(one.time_s / true_time_s(one.marked_s, time_marks())) for one in speeds),
        releases=tuple(float(one.readings) for one in speeds),
        notes=_notes(speeds),
        sources=("our judgement", fact("lens", "shutter").says),
    )
    if question.wanted_s is None:
        return found
    nearest = nearest_on_shutter(question.measured_speeds, question.wanted_s)
    return found.model_copy(update={"set_s": Estimate(value=nearest.marked_s), "gives_s": around_stops(nearest.time_s, nearest.sd_stops)})


def _notes(speeds: tuple[ShutterSpeed, ...]) -> tuple[Remark, ...]:
    """What a photographer should know of this shutter."""
    notes = []
    off = {one.marked_s: log2(one.time_s / true_time_s(one.marked_s, time_marks())) for one in speeds}
    worst = max(off, key=lambda mark: abs(off[mark]))
    if abs(off[worst]) > fact("lens", "shutter").sd:
        way = "slow" if off[worst] > 0 else "fast"
        notes.append(remark(Note.SHUTTER_OFF, mark=SECOND.show(worst), stops=f"{abs(off[worst]):.2f}", way=way))
    if all(one.readings == 1 for one in speeds):
        notes.append(remark(Note.MEASURED_ONCE, sd=f"{fact('lens', 'release').sd:g}"))
    return tuple(notes)


SHUTTER: Final = Operation(
    name="exposure.shutter",
    version=1,
    asks="What do the marks of my shutter really give?",
    question=ShutterQuestion,
    answer=ShutterAnswer,
    compute=answer,
    examples={
        "an old leaf shutter": {"measured_speeds": "marked_s,measured_s\n1,1.1\n1/25,1/29\n1/100,1/95\n1/250,1/160", "wanted_s": "1/160"},
        "a mark three times": {"measured_speeds": "1 1.08\n1 1.12\n1 1.1\n1/2 0.52\n1/2 0.55"},
    },
)
