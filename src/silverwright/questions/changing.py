"""How long does the shutter stay open, now that the light has changed?"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, inf, log, log2
from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.changing import DARKEST_STOPS, carried_on, pieces_given, remaining_s, share_given, share_rate
from silverwright.exposure.reciprocity import effective_s
from silverwright.exposure.unread import (
    fitted_trend_sd_stops_per_min,
    fitted_trend_stops_per_min,
    moved_sd,
    wander_between_stops,
    wander_stops,
)
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import around, says, stops_said
from silverwright.questions.reciprocity import ReciprocityFields, reciprocity_of
from silverwright.questions.sun import SunFields, place_of, twilight_note
from silverwright.records import LightAt
from silverwright.units import SECOND, STOP_PER_MINUTE
from silverwright.vocabulary import (
    AMOUNTS_TO_S,
    DONE_PERCENT,
    END_S,
    EXPOSURE_S,
    LIGHT_NOW_STOPS,
    LIGHT_TREND,
    NOW_S,
    PIECE_END_S,
    PIECE_LIGHT_STOPS,
    PIECE_PERCENT,
    READ_AT_S,
    READING_EV,
    REMAINING_S,
)

SOURCE: Final = "wellington, scans 102 to 105"
READ_AGAIN_STOPS: Final = 0.1  # our judgement: as much as the same meter strays when it is read again
WORTH_SAYING: Final = 0.02  # our judgement: stops in a minute; slower light changes by a tenth of a stop in five minutes
APART_S: Final = 0.5  # our judgement: nobody reads a meter twice within half a second
LONG_S: Final = 3600  # our judgement: from an hour on other things become the limit


class LightRow(Record):
    """The light, read while the shutter is open."""

    at_s: Annotated[float, READ_AT_S]
    reading_ev: Annotated[float, READING_EV]


class ChangingFields(Question):
    """A planned time, the reading that it was planned with, and the readings since."""

    exposure_s: Annotated[float, EXPOSURE_S]
    reading_ev: Annotated[float | None, READING_EV] = None
    light_readings: Annotated[
        tuple[LightRow, ...],
        Rows(row=LightRow, help="The light read again, a line each: when, and the exposure value.", example="1:00 9.6", label="Read again"),
        Field(validate_default=True),
    ] = ()
    now_s: Annotated[float | None, NOW_S] = None
    light_goes: Annotated[
        Literal["as last read", "evenly on"],
        Choice(
            help="What the light does after the last reading: it stays, or falls or rises evenly on, as at dusk and dawn.",
            example="as last read",
            label="After the last reading",
        ),
    ] = "as last read"

    @field_validator("light_readings")
    @classmethod
    def _one_after_the_other(cls, rows: tuple[LightRow, ...], seen: ValidationInfo) -> tuple[LightRow, ...]:
        if not rows and seen.data.get("reading_ev", 0) is None:
            raise refuse("No reading yet. Give the one that the time was planned with, or a line with one: when, and the exposure value.")
        ordered = tuple(sorted(rows, key=lambda row: row.at_s))
        for one, other in pairwise(ordered):
            if other.at_s - one.at_s < APART_S:
                raise refuse(f"Two readings at {SECOND.show(one.at_s)}: leave one of them out, or give each its own time.")
        return ordered

    @field_validator("now_s")
    @classmethod
    def _not_before_the_last_reading(cls, now_s: float | None, seen: ValidationInfo) -> float | None:
        rows = seen.data.get("light_readings") or ()
        if now_s is not None and rows and now_s < rows[-1].at_s:
            raise refuse(f"The last reading is from {SECOND.show(rows[-1].at_s)}, open since {SECOND.show(now_s)}: one of the two is wrong.")
        return now_s


class ChangingQuestion(SunFields, ReciprocityFields, ChangingFields):
    """An exposure under way, what is known of the paper in dim light, and day, clock and place if twilight is to be told."""


class ChangingAnswer(Answer):
    """When to close, what has been given, and what each stretch gave."""

    table: ClassVar[tuple[str, ...]] = ("piece_end_s", "piece_light_stops", "piece_percent")
    remaining_s: Annotated[Estimate, REMAINING_S]
    end_s: Annotated[Estimate, END_S]
    done_percent: Annotated[Estimate, DONE_PERCENT]
    amounts_to_s: Annotated[Estimate, AMOUNTS_TO_S]
    light_now_stops: Annotated[Estimate, LIGHT_NOW_STOPS]
    trend_stops_per_min: Annotated[Estimate, LIGHT_TREND]
    piece_end_s: Annotated[Sequence[float], PIECE_END_S] = ()
    piece_light_stops: Annotated[Sequence[float], PIECE_LIGHT_STOPS] = ()
    piece_percent: Annotated[Sequence[float], PIECE_PERCENT] = ()


@dataclass(frozen=True, slots=True)
class Course:
    """What is known of an exposure that is under way."""

    moments: Sequence[LightAt]
    now_s: float
    rate: Callable[[float], float]
    evenly: bool

    def trend(self, moments: Sequence[LightAt]) -> float:
        """How the light goes on after these readings."""
        return fitted_trend_stops_per_min(moments) if self.evenly and len(moments) > 1 else 0.0

    def given(self, moments: Sequence[LightAt]) -> float:
        """The share of the exposure that is given by now, by these readings."""
        return share_given(moments, self.now_s, self.rate, self.trend(moments))

    def left_s(self, moments: Sequence[LightAt]) -> float:
        """Time to go, by these readings; below 0 where more than all has been given, without end where the light fails."""
        trend, over = self.trend(moments), self.given(moments) - 1
        if over >= 0:
            return -over / self.rate(carried_on(moments, self.now_s, trend)[-1].light_stops)
        left = remaining_s(moments, self.now_s, self.rate, trend)
        return inf if left is None else left


def course_of(question: ChangingQuestion) -> Course:
    """The readings in stops against the light of the plan; without a reading for the plan, the first one is it."""
    law = reciprocity_of(question)
    rows = question.light_readings
    planned_ev = rows[0].reading_ev if question.reading_ev is None else question.reading_ev
    moments = [LightAt(row.at_s, row.reading_ev - planned_ev) for row in rows]
    if not rows or (rows[0].at_s >= APART_S and question.reading_ev is not None):
        moments.insert(0, LightAt(0.0, 0.0))
    now_s = moments[-1].at_s if question.now_s is None else question.now_s
    rate = share_rate(effective_s(question.exposure_s, law.needed), law.needed)
    return Course(moments, now_s, rate, question.light_goes == "evenly on")


def answer(question: ChangingQuestion) -> ChangingAnswer:
    """Each moment gives the share that its own light gives; what is missing takes its time in the light of now."""
    course = course_of(question)
    share, left_s = course.given(course.moments), course.left_s(course.moments)
    until_now = carried_on(course.moments, course.now_s, course.trend(course.moments))
    pieces = pieces_given(until_now, course.rate)
    share_sd, left_sd = _share_sd(course), _left_sd(course, left_s)
    again = fact("meter", "reading_again").sd
    return ChangingAnswer(
        remaining_s=_going_on(course, _not_below_zero(left_s, left_sd)),
        end_s=_going_on(course, _not_below_zero(left_s, left_sd, course.now_s), course.now_s),
        done_percent=around(100 * share, 100 * share_sd, least=0.0),
        amounts_to_s=around(share * question.exposure_s, share_sd * question.exposure_s, least=0.0),
        light_now_stops=around(until_now[-1].light_stops, hypot(again, _unread_stops(course.now_s - course.moments[-1].at_s))),
        trend_stops_per_min=_trend(course),
        piece_end_s=tuple(piece.end_s for piece in pieces),
        piece_light_stops=tuple(piece.light_stops for piece in pieces),
        piece_percent=tuple(100 * piece.share for piece in pieces),
        ledger=_working(question, course.now_s + left_s, left_sd),
        notes=(*_notes(course, left_s, share), *_dusk(question)),
        sources=(SOURCE, says(fact("daylight", "wander"), fact("meter", "reading_again")), reciprocity_of(question).source),
    )


def _unread_stops(ahead_s: float) -> float:
    return wander_stops(ahead_s, fact("daylight", "wander").sd)


def _between_sd(course: Course) -> float:
    """What the light may have done between two readings, as a share of the exposure."""
    wander = fact("daylight", "wander").sd
    ends = [0.0, *(one.at_s for one in course.moments if one.at_s > 0)]
    pieces = pieces_given(course.moments, course.rate)
    gaps = zip(pieces, ends, strict=False)
    return hypot(*(piece.share * log(2) * wander_between_stops(piece.end_s - first_s, wander) for piece, first_s in gaps))


def _share_sd(course: Course) -> float:
    """How unsure it is what has been given: the readings, and the light between and after them."""
    last_s = course.moments[-1].at_s
    since = course.given(course.moments) - share_given(course.moments, last_s, course.rate)
    readings = moved_sd(course.moments, fact("meter", "reading_again").sd, course.given)
    return hypot(readings, _between_sd(course), since * log(2) * _unread_stops(course.now_s - last_s))


def _left_sd(course: Course, left_s: float) -> float:
    """How unsure the time to go is; without end where a reading a little lower would let the light fail."""
    if left_s == inf:
        return inf
    last_s = course.moments[-1].at_s
    rate = course.rate(carried_on(course.moments, course.now_s, course.trend(course.moments))[-1].light_stops)
    since_last = 1 - share_given(course.moments, last_s, course.rate)
    unread = since_last * log(2) * _unread_stops(max(0.0, course.now_s + left_s - last_s))
    return hypot(moved_sd(course.moments, fact("meter", "reading_again").sd, course.left_s), hypot(_between_sd(course), unread) / rate)


def _not_below_zero(left_s: float, sd: float, from_s: float = 0.0) -> Estimate:
    """A time to go, from a moment on: nothing where it has no end, and an open upper limit where it may have none."""
    if left_s == inf:
        return Estimate()
    if sd == inf:
        return Estimate(value=from_s + max(0.0, left_s), low=from_s, percent=80)
    low, high = (from_s + max(0.0, left_s + side * EIGHTY_PERCENT_SD * sd) for side in (-1, 1))
    return Estimate(value=from_s + max(0.0, left_s), low=low, high=high, percent=80)


def _going_on(course: Course, told: Estimate, from_s: float = 0.0) -> Estimate:
    """Where the light is taken as last read, the limits reach to where it would end if the trend of the last two readings went on."""
    trend = _seen_trend(course)
    if course.evenly or trend == 0 or told.value is None:
        return told
    left = remaining_s(course.moments, course.now_s, course.rate, trend)
    if left is None:
        return Estimate(value=told.value, low=told.low, percent=80)
    low, high = told.low or 0.0, told.high
    return Estimate(value=told.value, low=min(low, from_s + left), high=None if high is None else max(high, from_s + left), percent=80)


def _seen_trend(course: Course) -> float:
    """The trend of the last two readings as far as they bear it out: less of it the nearer it lies to its own doubt, nothing within it."""
    trend = _trend(course)
    if trend.value is None or trend.high is None or trend.high - trend.value >= abs(trend.value):
        return 0.0
    return trend.value * (1 - ((trend.high - trend.value) / trend.value) ** 2)


def _trend(course: Course) -> Estimate:
    """How fast the light goes: by all readings where it is said to go evenly, else by the last two."""
    moments = course.moments if course.evenly else course.moments[-2:]
    if len(moments) <= 1:
        return Estimate()
    again = fact("meter", "reading_again").sd
    return around(fitted_trend_stops_per_min(moments), fitted_trend_sd_stops_per_min(moments, again))


def _working(question: ChangingQuestion, end_s: float, sd: float) -> tuple[Line, ...]:
    """The whole time in stops: as planned, and what the light made of it."""
    planned = log2(question.exposure_s)
    lines = (Line(what=f"As planned, {SECOND.show(question.exposure_s)}", amount=planned, doubt=0, unit="stops", source="as typed", rests="own"),)
    if inf in {end_s, sd} or end_s <= 0:
        return lines
    source = f"your readings; the rule: {SOURCE}"
    since = Line(what="The light since then", amount=log2(end_s) - planned, doubt=sd / end_s / log(2), unit="stops", source=source, rests="own")
    return (*lines, since)


def _notes(course: Course, left_s: float, share: float) -> tuple[Remark, ...]:
    """Where the light goes, and where that leads."""
    notes = []
    trend = _trend(course)
    if trend.value is not None and trend.low is not None and trend.high is not None and trend.low * trend.high > 0 and left_s > 0:
        notes += _goes(trend)
    if left_s == inf:
        end_s = course.now_s + 60 * max(0.0, course.moments[-1].light_stops - DARKEST_STOPS) / abs(course.trend(course.moments))
        whole = share_given(course.moments, end_s, course.rate, course.trend(course.moments))
        notes.append(remark(Note.LIGHT_FAILS, stops=stops_said(max(0.0, -log2(whole)))))
    elif course.now_s + left_s >= LONG_S:
        notes.append(remark(Note.LIGHT_LONG, time=SECOND.show(course.now_s + left_s)))
    if left_s < 0:
        notes.append(remark(Note.ALL_GIVEN, stops=stops_said(log2(share))))
    return tuple(notes)


def _dusk(question: ChangingQuestion) -> tuple[Remark, ...]:
    """What the height of the sun foretells; it warns and sets nothing."""
    place = place_of(question)
    return () if place is None else twilight_note(place)


def _goes(trend: Estimate) -> list[Remark]:
    value, low, high = trend.value or 0.0, trend.low or 0.0, trend.high or 0.0
    if abs(value) < WORTH_SAYING:
        return []
    slow, fast = sorted((abs(low), abs(high)))
    shown = [STOP_PER_MINUTE.show(one).removesuffix("stops/min").strip() for one in (abs(value), slow, fast)]
    soon_s = float(round(60 * READ_AGAIN_STOPS / abs(value)))
    by_then = f"by then it will have changed by {READ_AGAIN_STOPS} stop"
    again = f"within {SECOND.show(soon_s)}: {by_then}" if soon_s >= 1 else "at once: it changes faster than one can read"
    goes = "falls" if value < 0 else "rises"
    return [remark(Note.LIGHT_GOES, goes=goes, trend=f"{shown[0]} stop{'s' if abs(value) > 1 else ''}", low=shown[1], high=shown[2], again=again)]


CHANGING: Final = Operation(
    name="exposure.changing",
    version=1,
    asks="How long does the shutter stay open, now that the light has changed?",
    question=ChangingQuestion,
    answer=ChangingAnswer,
    compute=answer,
    examples={
        "read again after a minute": {"exposure_s": "1:37", "reading_ev": 10, "light_readings": "1:00 9.5"},
        "dusk at the window": {
            "exposure_s": "4m",
            "light_readings": "at_s,reading_ev\n0,7\n60,6.8\n120,6.55",
            "now_s": "2:20",
            "light_goes": "evenly on",
            "on_day": "2026-12-01",
            "clock_hours": "15:50",
            "utc_offset_hours": 1,
            "latitude_deg": 60.4,
            "longitude_deg": 5.3,
        },
    },
)
