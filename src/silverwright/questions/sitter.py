"""Can somebody hold still for so long, and what would make it possible?"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from math import exp, hypot, log2
from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Plain, Words
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Line, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.optics import effective_f_number
from silverwright.exposure.reciprocity import effective_s
from silverwright.exposure.sitter import learnt_stillness, out_of_focus_mm, still_of_hundred, stops_missing, time_for_wander_s, wander_mm
from silverwright.facts.load import Fact, fact, facts
from silverwright.notes import Note
from silverwright.questions.aperture import ApertureFields, f_number
from silverwright.questions.bellows import f_number_by_stop, pupil_of, ways_of
from silverwright.questions.entry import stops_said
from silverwright.questions.heads import GuideFields, guide_metres
from silverwright.questions.reciprocity import ReciprocityFields, reciprocity_of
from silverwright.questions.ways import Sit, ways
from silverwright.records import Sitting, Wander
from silverwright.units import F_NUMBER, MILLIMETRE, RATIO, SECOND
from silverwright.vocabulary import EXPOSURE_S, MAGNIFICATION_FACTOR, PAPER_EI, READING_EV
from silverwright.vocabulary_camera import (
    AT_TIMES_HALF_MM,
    AT_TIMES_MM,
    AT_TIMES_S,
    FORE_AFT_F,
    FORE_AFT_MM,
    LONGEST_SHARP_S,
    MISSING_STOPS,
    OF_HUNDRED,
    ROOM_TO_SIT_STOPS,
    SAT_BLUR_MM,
    SAT_S,
    SIDEWAYS_MEDIAN_MM,
    SIDEWAYS_MM,
    SINCE_FOCUS_S,
    STILL_PERCENT,
)
from silverwright.vocabulary_lens import SHARP_MM

Direction = Literal["sideways", "fore_aft"]
Posture = Literal["standing", "seated", "head rest"]
POSTURES: Final[tuple[Posture, ...]] = ("standing", "seated", "head rest")
HALF: Final = 50.0  # arithmetic: the median
SMALLEST: Final = 0.001  # our judgement: a face is a quarter of a metre high
NO_SIZE: Final = (
    "How large does the face become on the sheet? Give the magnification, image and subject size, or the focal length with extension or distance."
)


class SittingRow(Record):
    """One own sheet of this sitter in this posture: how long it took, how far the face is drawn out on it, and its magnification if another."""

    sat_s: Annotated[float, SAT_S]
    sat_blur_mm: Annotated[float, SAT_BLUR_MM]
    magnification_factor: Annotated[float | None, MAGNIFICATION_FACTOR] = None


class SitFields(Question):
    """How long the paper needs, how the sitter is held, and how sharp it shall be."""

    exposure_s: Annotated[float, EXPOSURE_S]
    posture: Annotated[Posture, Choice(help="How the sitter is held.", example="seated")] = "standing"
    sharp_mm: Annotated[float | None, SHARP_MM] = None
    of_hundred: Annotated[float | None, OF_HUNDRED] = None
    since_focus_s: Annotated[float | None, SINCE_FOCUS_S] = None
    own_sittings: Annotated[
        tuple[SittingRow, ...],
        Rows(row=SittingRow, help="Sheets of this sitter in this posture: time, blur seen on the sheet.", example="4 0.4", label="Own sheets"),
    ] = ()


class SitterQuestion(ReciprocityFields, GuideFields, ApertureFields, SitFields):
    """The sitter, how large the face becomes; light, lens, paper and flash for the ways out."""

    paper_ei: Annotated[float | None, PAPER_EI] = None
    reading_ev: Annotated[float | None, READING_EV, Field(validate_default=True)] = None

    @field_validator("aperture_f")
    @classmethod
    def _one_opening(cls, aperture_f: float | None, seen: ValidationInfo) -> float | None:  # noqa: ARG003 (the shape of the usual one)
        """Here an aperture may be missing: then nothing is said of to and fro."""
        return aperture_f

    @field_validator("reading_ev")
    @classmethod
    def _some_size(cls, reading_ev: float | None, seen: ValidationInfo) -> float | None:
        if any(name not in seen.data for name in ApertureFields.model_fields):
            return reading_ev  # a fault of its own stands beside that field
        found = ways_of(cls.model_construct(**seen.data))
        if not found:
            raise refuse(NO_SIZE, field="magnification_factor")
        if found[0].magnification < SMALLEST:
            raise refuse("A face smaller than a quarter of a millimetre: there is nothing to hold still for.", field="magnification_factor")
        return reading_ev


class SitterAnswer(Answer):
    """Whether it will be sharp, what is missing, and what would make it possible."""

    table: ClassVar[tuple[str, ...]] = ("at_times_s", "at_times_mm", "at_times_half_mm")

    verdict: Annotated[str, Words(help="Whether so long is sharp in so many sittings.", example="not sharp")]
    longest_s: Annotated[Estimate, LONGEST_SHARP_S]
    missing_stops: Annotated[Estimate, MISSING_STOPS]
    room_stops: Annotated[Estimate | None, ROOM_TO_SIT_STOPS] = None
    still_percent: Annotated[Estimate, STILL_PERCENT]
    sideways_mm: Annotated[Estimate, SIDEWAYS_MM]
    sideways_median_mm: Annotated[Estimate, SIDEWAYS_MEDIAN_MM]
    fore_aft_mm: Annotated[Estimate | None, FORE_AFT_MM] = None
    fore_aft_f: Annotated[Estimate | None, FORE_AFT_F] = None
    ways: Annotated[
        Sequence[str],
        Plain(
            help="What would make it possible, each way by itself.",
            example="2.0 stops more light on the face, EV 12 instead of EV 10.",
            label="What would make it possible",
        ),
    ] = ()
    at_times_s: Annotated[Sequence[float], AT_TIMES_S]
    at_times_mm: Annotated[Sequence[float], AT_TIMES_MM]
    at_times_half_mm: Annotated[Sequence[float], AT_TIMES_HALF_MM]
    exposure_s: Annotated[Estimate, EXPOSURE_S]
    sharp_mm: Annotated[Estimate, SHARP_MM]
    of_hundred: Annotated[Estimate, OF_HUNDRED]


@dataclass(frozen=True, slots=True)
class Stillness:
    """How still this sitter is: the way over that of standing people, the doubt of its logarithm, and who says so."""

    factor: float
    doubt_ln: float
    row: Fact
    own: int = 0

    def limits(self, of: Callable[[float], float]) -> Estimate:
        """A figure that grows or falls with the way, with its limits."""
        ends = sorted(of(self.factor * exp(sign * EIGHTY_PERCENT_SD * self.doubt_ln)) for sign in (-1, +1))
        return Estimate(value=of(self.factor), low=ends[0], high=ends[1], percent=80)


@dataclass(frozen=True, slots=True)
class Wish:
    """What is wanted: so sharp in so many of 100, at a magnification; and how long that holds for a sitter so still."""

    magnification: float
    sharp_mm: float
    of_hundred: float

    @property
    def allowed_mm(self) -> float:
        """How far the head may move."""
        return self.sharp_mm / self.magnification

    def longest_s(self, factor: float) -> float:
        """How long it stays within that."""
        return time_for_wander_s(self.allowed_mm / factor, wanders("sideways"), self.of_hundred)

    def way_mm(self, factor: float, time_s: float, direction: Direction) -> float:
        """How far it moves."""
        return factor * wander_mm(time_s, wanders(direction), self.of_hundred)


@cache
def wanders(direction: Direction) -> tuple[Wander, ...]:
    """The table of movement in one direction."""
    rows = {key.removeprefix(f"{direction}_"): row for key, row in facts("sitter").items() if key.startswith(f"{direction}_")}
    return tuple(Wander(float(key), row.value, row.high or row.value) for key, row in rows.items())


def answer(question: SitterQuestion) -> SitterAnswer:
    """The way of a head on the sheet against the blur that is allowed."""
    way, sideways, wanted_s = ways_of(question)[0], wanders("sideways"), question.exposure_s
    wish = Wish(way.magnification, _or(question.sharp_mm, "blur"), _or(question.of_hundred, "of_hundred"))
    still = _still(question, way.magnification, way.sd)
    longest, missing = still.limits(wish.longest_s), still.limits(lambda factor: stops_missing(wanted_s, wish.longest_s(factor)))
    blurred = still.limits(lambda factor: way.magnification * wish.way_mm(factor, wanted_s, "sideways"))
    depth = _depth(question, still, wish)
    short = missing.value or 0.0
    return SitterAnswer(
        verdict="not sharp" if short > 0 else "sharp" if (missing.high or 0) <= 0 else "sharp, by less than the doubt",
        longest_s=_within(longest, sideways),
        missing_stops=_above(missing, +1),
        room_stops=None if short > 0 else _above(missing, -1),
        still_percent=still.limits(lambda factor: still_of_hundred(wish.allowed_mm / factor, wanted_s, sideways)),
        sideways_mm=blurred,
        sideways_median_mm=still.limits(lambda factor: way.magnification * factor * wander_mm(wanted_s, sideways, HALF)),
        fore_aft_mm=depth[0],
        fore_aft_f=depth[1] if (depth[1].value or 0) >= 1 else None,  # wider than f/1 no lens opens
        ways=ways(_sit(question, still, wish, blurred.value or wish.sharp_mm)),
        at_times_s=tuple(one.time_s for one in sideways),
        at_times_mm=tuple(way.magnification * wish.way_mm(still.factor, one.time_s, "sideways") for one in sideways),
        at_times_half_mm=tuple(way.magnification * still.factor * wander_mm(one.time_s, sideways, HALF) for one in sideways),
        exposure_s=Estimate(value=wanted_s),
        sharp_mm=Estimate(value=wish.sharp_mm),
        of_hundred=Estimate(value=wish.of_hundred),
        ledger=_lines(question, still, wish),
        notes=_notes(question, still, wish, missing, depth),
        sources=(facts("sitter")["sideways_1"].says, still.row.says, "jacobson1995, depth of field (close up)"),
    )


def _or(typed: float | None, key: str) -> float:
    """What was typed, else what is taken."""
    return fact("sitter", key).value if typed is None else typed


def _still(question: SitterQuestion, magnification: float, magnification_sd: float) -> Stillness:
    """The posture as we judge it, and what own sheets made of it."""
    row = fact("sitter", question.posture.replace(" ", "_"))
    own = [Sitting(one.sat_s, one.sat_blur_mm / (one.magnification_factor or magnification)) for one in question.own_sittings]
    factor, doubt = learnt_stillness(own, wanders("sideways"), row.value, row.sd)
    return Stillness(factor, hypot(doubt, magnification_sd / magnification), row, len(own))


def _above(missing: Estimate, sign: int) -> Estimate:
    """What is missing, or what is to spare: nothing of it is below 0."""
    ends = sorted(max(0.0, sign * (end or 0.0)) for end in (missing.low, missing.high))
    return Estimate(value=max(0.0, sign * (missing.value or 0.0)), low=ends[0], high=ends[1], percent=80)


def _within(longest: Estimate, table: Sequence[Wander]) -> Estimate:
    """Outside the times that were measured only the end of them is told."""
    value = longest.value or 0.0
    if value < table[0].time_s:
        return Estimate(high=table[0].time_s, percent=80)
    return Estimate(low=table[-1].time_s, percent=80) if value > table[-1].time_s else longest


def _depth(question: SitterQuestion, still: Stillness, wish: Wish) -> tuple[Estimate | None, Estimate]:
    """Blur to and fro at the aperture, and the aperture that would hold it; from the last look at the ground glass on."""
    time_s, number = question.exposure_s + (question.since_focus_s or 0.0), _number(question)
    bellows = effective_f_number(1.0, wish.magnification, pupil_of(question)[0])

    def at_one_mm(factor: float) -> float:
        return out_of_focus_mm(wish.way_mm(factor, time_s, "fore_aft"), wish.magnification, bellows)

    needed = still.limits(lambda factor: at_one_mm(factor) / wish.sharp_mm)
    return None if number is None else still.limits(lambda factor: at_one_mm(factor) / number), needed


def _number(question: SitterQuestion) -> float | None:
    """The true f-number, where one was given."""
    known = question.aperture_f is not None or f_number_by_stop(question) is not None
    return f_number(question) if known else None


def _sit(question: SitterQuestion, still: Stillness, wish: Wish, blur_mm: float) -> Sit:
    """What the ways out need to know. A shorter exposure needs less for reciprocity, so less light is missing than time is."""
    longest_s, law = wish.longest_s(still.factor), reciprocity_of(question)
    number = _number(question)
    calmer = POSTURES[POSTURES.index(question.posture) + 1 :]
    return Sit(
        missing_stops=stops_missing(question.exposure_s, longest_s),
        light_stops=log2(effective_s(question.exposure_s, law.needed) / effective_s(longest_s, law.needed)),
        wanted_s=question.exposure_s,
        magnification=wish.magnification,
        sharp_mm=wish.sharp_mm,
        blur_mm=blur_mm,
        calmer_s={one: wish.longest_s(fact("sitter", one.replace(" ", "_")).value) for one in calmer},
        f_number=number,
        effective_f=None if number is None else effective_f_number(number, wish.magnification, pupil_of(question)[0]),
        reading_ev=question.reading_ev,
        paper_ei=question.paper_ei,
        flash_mm=question.flash_distance_mm,
        guide_number=None if question.guide_number is None else guide_metres(question.guide_number, question.guide_unit),
        guide_ei=question.guide_ei,
    )


def _lines(question: SitterQuestion, still: Stillness, wish: Wish) -> tuple[Line, ...]:
    """What is missing, in stops: the time that is wanted, what standing people hold, and this sitter."""
    standing, one_sd = wish.longest_s(1.0), exp(still.doubt_ln)
    doubt = log2(wish.longest_s(still.factor / one_sd) / wish.longest_s(still.factor * one_sd)) / 2
    table = facts("sitter")["sideways_1"]
    held = f"{wish.of_hundred:.0f} of 100 standing people keep within {MILLIMETRE.show(wish.allowed_mm)} for {SECOND.show(standing)}"
    as_far = "as far as they" if RATIO.show(still.factor) == "1" else f"{RATIO.show(still.factor)} times as far"
    this = f"This sitter, {question.posture}, moves {as_far}"
    source = f"{still.own} own sheet{'s' if still.own > 1 else ''}" if still.own else still.row.says
    return (
        Line(
            what=f"{SECOND.show(question.exposure_s)} wanted", amount=log2(question.exposure_s), doubt=0, unit="stops", source="as asked", rests="own"
        ),
        Line(what=held, amount=-log2(standing), doubt=0, unit="stops", source=table.says, rests=table.rests),
        Line(
            what=this,
            amount=log2(standing / wish.longest_s(still.factor)),
            doubt=doubt,
            unit="stops",
            source=source,
            rests="own" if still.own else still.row.rests,
        ),
    )


def _notes(question: SitterQuestion, still: Stillness, wish: Wish, missing: Estimate, depth: tuple[Estimate | None, Estimate]) -> tuple[Remark, ...]:
    """The caution first, then the verdict, and where the table ends."""
    table, short, longest_s, notes = wanders("sideways"), missing.value or 0.0, wish.longest_s(still.factor), []
    if short > 0:
        notes.append(remark(Note.SITTER_FACE_LIGHT))
        notes.append(remark(Note.SITTER_MOVES, of_hundred=f"{wish.of_hundred:.0f}", stops=stops_said(short)))
    elif (missing.high or 0.0) > 0:
        notes.append(remark(Note.SITTER_MAYBE))
    if min(longest_s, question.exposure_s) < table[0].time_s:
        notes.append(remark(Note.SITTER_SHORT, shortest=SECOND.show(table[0].time_s)))
    if max(longest_s, question.exposure_s) > table[-1].time_s:
        notes.append(remark(Note.SITTER_LONG, longest=SECOND.show(table[-1].time_s)))
    if still.own:
        sheets = f"{still.own} sheet{'s' if still.own > 1 else ''}"
        notes.append(remark(Note.SITTER_OWN, sheets=sheets, before=RATIO.show(still.row.value), after=RATIO.show(still.factor)))
    blur, needed, number = depth[0], depth[1], _number(question)
    if blur is not None and number is not None and (blur.value or 0) > wish.sharp_mm:
        shown = {"blur": MILLIMETRE.show(blur.value or 0), "aperture": F_NUMBER.show(number), "needed": F_NUMBER.show(needed.value or 0)}
        notes.append(remark(Note.SITTER_DEPTH, **shown))
    return tuple(notes)


SITTER: Final = Operation(
    name="exposure.sitter",
    version=1,
    asks="Can somebody hold still for so long, and what would make it possible?",
    question=SitterQuestion,
    answer=SitterAnswer,
    compute=answer,
    examples={
        "portrait, standing": {
            "magnification_factor": 0.1,
            "exposure_s": 4,
            "sharp_mm": 0.5,
            "aperture_f": "f/22",
            "reading_ev": 10,
            "paper_ei": 1.5,
        },
        "seated, two own sheets": {
            "focal_mm": 210,
            "subject_mm": "2.3 m",
            "exposure_s": 2,
            "posture": "seated",
            "own_sittings": "2 0.2\n4 0.25",
        },
        "a flash at hand": {
            "magnification_factor": 0.1,
            "exposure_s": 8,
            "aperture_f": "f/8",
            "paper_ei": 0.8,
            "guide_number": 45,
            "guide_unit": "m",
            "guide_ei": 100,
            "flash_distance_mm": "1.5 m",
        },
    },
)
