"""How long do I expose, and how sure is that?"""

from math import hypot, log2, sqrt
from typing import Annotated, Final, Literal

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Answer, Estimate, Operation, Remark, remark
from silverwright.exposure.ledger import bracket_stops, total
from silverwright.exposure.meter import time_from_ev
from silverwright.exposure.shutter import hand_doubt_stops, settable_by_hand_s, settable_on_shutter_s, true_f_number
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.bellows import LensFields, bellows_entry
from silverwright.questions.entry import Entry, Unknown, around, around_stops, says
from silverwright.questions.filter import filter_entry
from silverwright.questions.marks import aperture_marks, counted_steps, time_marks
from silverwright.questions.meter import ReadingFields, reading_of
from silverwright.questions.reciprocity import ReciprocityFields, law_of, reciprocity_entry, reciprocity_estimate
from silverwright.records import Stops
from silverwright.units import F_NUMBER, SECOND
from silverwright.vocabulary import (
    APERTURE_F,
    BEFORE_S,
    BELLOWS_STOPS,
    BRACKET_S,
    DOUBT_EI_STOPS,
    FILTER_FACTOR,
    LEDGER_SD_STOPS,
    PAPER_EI,
    RECIPROCITY_STOPS,
    SETTABLE_S,
    TIME_S,
    TOTAL_STOPS,
)


class LedgerQuestion(ReciprocityFields, LensFields, ReadingFields):
    """A reading, the paper, the lens: what is not known may stay empty."""

    paper_ei: Annotated[float | None, PAPER_EI] = None
    paper_ei_sd_stops: Annotated[float | None, DOUBT_EI_STOPS] = None
    ei_from: Annotated[
        Literal["typed", "own sheets", "unknown"] | None,
        Choice(help="Where the EI comes from: typed, own sheets, or unknown.", example="typed", label="EI from"),
    ] = None
    ei_rests_on: Annotated[str, Words(help="What the EI rests on.", example="1 step sheet, 2 verdicts", label="EI rests on")] = ""
    aperture_f: Annotated[float, APERTURE_F]
    aperture_scale: Annotated[
        Literal["marked", "exact"], Choice(help="As marked on the lens, or a measured f-number.", example="marked", label="Aperture scale")
    ] = "marked"
    filter_factor: Annotated[float | None, FILTER_FACTOR] = None
    timed_by: Annotated[
        Literal["hand", "shutter"] | None,
        Choice(help="By hand (cap, B or T) or by the shutter; left open, by hand from one second on.", example="hand", label="Timed by"),
    ] = None
    process: Annotated[
        Literal["direct positive", "negative"], Choice(help="What becomes of the sheet.", example="direct positive", label="Process")
    ] = "direct positive"
    turned: Annotated[
        Literal["no", "mirror or prism"], Choice(help="Whether a mirror or prism turns the image right.", example="no", label="Turned right")
    ] = "no"
    bracket_sheets: Annotated[
        Literal["1", "2", "3"], Choice(help="How many sheets for this picture.", example="2", label="Sheets for this picture")
    ] = "1"


class LedgerAnswer(Answer):
    """How long, with every line of the working."""

    time_s: Annotated[Estimate, TIME_S]
    settable_s: Annotated[Estimate, SETTABLE_S]
    before_s: Annotated[Estimate, BEFORE_S]
    bellows_stops: Annotated[Estimate, BELLOWS_STOPS]
    reciprocity_stops: Annotated[Estimate, RECIPROCITY_STOPS]
    total_stops: Annotated[Estimate, TOTAL_STOPS]
    doubt_stops: Annotated[Estimate, LEDGER_SD_STOPS]
    bracket_s: Annotated[tuple[float, ...], BRACKET_S]


def answer(question: LedgerQuestion) -> LedgerAnswer:
    """Line by line in stops from one second; doubts in quadrature."""
    first = [*_reading_and_ei(question)]
    corrections = [bellows_entry(question), filter_entry(question.filter_factor)]
    metered = total([entry.stops for entry in first + corrections])
    entries = [*first, *corrections, reciprocity_entry(question, metered)]
    entries += [_aperture_and_clock(question, 2 ** total([entry.stops for entry in entries]).amount_stops), _one_sheet()]
    before, whole = total([entry.stops for entry in first]), total([entry.stops for entry in entries])
    time_s, doubt = 2**whole.amount_stops, whole.doubt_stops
    bellows = corrections[0].stops
    steps = bracket_stops(doubt, int(question.bracket_sheets))
    return LedgerAnswer(
        time_s=around_stops(time_s, doubt),
        settable_s=Estimate(value=_settable(question, time_s)),
        before_s=around_stops(2**before.amount_stops, before.doubt_stops),
        bellows_stops=around(bellows.amount_stops, bellows.doubt_stops),
        reciprocity_stops=reciprocity_estimate(2**metered.amount_stops, law_of(question)),
        total_stops=around(whole.amount_stops, doubt),
        doubt_stops=Estimate(value=doubt),
        bracket_s=tuple(_settable(question, time_s * 2**step) for step in steps),
        ledger=tuple(entry.line for entry in entries),
        notes=_notes(question, entries, doubt),
        sources=tuple(dict.fromkeys(entry.source for entry in entries)),
    )


def _reading_and_ei(question: LedgerQuestion) -> tuple[Entry, Entry]:
    """The first two lines: the time for the meter's own EI, then the paper's EI instead of it."""
    own = question.ei_from == "own sheets"
    reading = reading_of(question, question.aperture_f, own_sheets=own)
    n = true_f_number(question.aperture_f, aperture_marks()) if question.aperture_scale == "marked" else question.aperture_f
    time_s = time_from_ev(reading.ev, n, reading.dial_ei)
    what = f"Reading {reading.said}; at {F_NUMBER.show(question.aperture_f)}, meter at EI {reading.dial_ei:g}: {SECOND.show(time_s)}"
    source = says(fact("meter", "meter_k"), fact("meter", "reading_again" if own else "reading"))
    first = Entry(what, Stops(log2(time_s), reading.sd_stops), source, "trade", reading.notes, reading.unknown)
    return first, _ei(question, reading.dial_ei)


def _ei(question: LedgerQuestion, dial_ei: float) -> Entry:
    """The paper's EI instead of the meter's."""
    guess = fact("paper", "ei_unknown")
    if question.paper_ei is None:
        note = remark(Note.EI_UNKNOWN, ei=f"{guess.value:g}", sd=f"{guess.sd:g}")
        stops, unknown = Stops(log2(dial_ei / guess.value), guess.sd), Unknown("the paper's EI", guess.sd)
        return Entry(f"The paper's EI, {guess.value:g} taken instead of {dial_ei:g}", stops, guess.says, "judgement", (note,), (unknown,))
    typed = guess if question.ei_from == "unknown" else fact("paper", "ei_typed")
    sd = typed.sd if question.paper_ei_sd_stops is None else question.paper_ei_sd_stops
    stops = Stops(log2(dial_ei / question.paper_ei), sd)
    what = f"The paper's EI {question.paper_ei:g} instead of {dial_ei:g}"
    if question.ei_from == "own sheets":
        return Entry(what, stops, question.ei_rests_on or "your own sheets", "own")
    doubt = "as you typed it" if question.paper_ei_sd_stops is not None else f"typed; how sure was not said: {typed.says}"
    return Entry(what, stops, question.ei_rests_on or doubt, "judgement")


def _aperture_and_clock(question: LedgerQuestion, time_s: float) -> Entry:
    """What the engraving and the clock leave in doubt."""
    marking, hand, shutter = fact("lens", "aperture_marking"), fact("lens", "hand_count"), fact("lens", "shutter")
    by_hand = _by_hand(question, time_s)
    clock = hand_doubt_stops(time_s, hand.sd) if by_hand else shutter.sd
    marked = question.aperture_scale == "marked"
    aperture, timed = "Aperture as marked" if marked else "Aperture as measured", "time counted by hand" if by_hand else "time by the shutter"
    doubt = hypot(marking.sd if marked else 0.0, clock)
    return Entry(f"{aperture}, {timed}", Stops(0.0, doubt), says(marking, hand if by_hand else shutter), "trade")


def _one_sheet() -> Entry:
    scatter = fact("paper", "one_sheet")
    return Entry("One sheet from the next", Stops(0.0, scatter.sd), scatter.says, scatter.rests)


def _by_hand(question: LedgerQuestion, time_s: float) -> bool:
    return question.timed_by == "hand" or (question.timed_by is None and time_s >= fact("lens", "hand_from").value)


def _settable(question: LedgerQuestion, time_s: float) -> float:
    if _by_hand(question, time_s):
        return settable_by_hand_s(time_s, counted_steps())
    return settable_on_shutter_s(time_s, time_marks())


def _notes(question: LedgerQuestion, entries: list[Entry], doubt_stops: float) -> tuple[Remark, ...]:
    notes = [note for entry in entries for note in entry.notes]
    unknown = [one for entry in entries for one in entry.unknown]
    if unknown:
        then = sqrt(max(0.0, doubt_stops**2 - sum(one.doubt_stops**2 for one in unknown)))
        words = ", ".join(f"{one.words}, ±{one.doubt_stops:.2f}" for one in unknown)
        notes.append(remark(Note.NOT_GIVEN, what=words, now=f"{doubt_stops:.2f}", then=f"{then:.2f}"))
    if question.process == "direct positive" and question.turned == "no":
        notes.append(remark(Note.MIRROR_IMAGE))
    return tuple(notes)


LEDGER: Final = Operation(
    name="exposure.ledger",
    version=1,
    asks="How long do I expose, and how sure is that?",
    question=LedgerQuestion,
    answer=LedgerAnswer,
    compute=answer,
    examples={
        "still life": {"reading_ev": 10, "meter_k": 12.5, "focal_mm": 210, "extension_mm": 315, "aperture_f": "f/22", "paper_ei": 1.5},
        "off the dial, unknown paper": {"dial_time_s": "1/8", "dial_aperture_f": "f/8", "dial_ei": 100, "aperture_f": "f/11"},
        "own sheets": {
            "reading_lx": 640,
            "incident_head": "dome",
            "paper_ei": 2.5,
            "paper_ei_sd_stops": 0.2,
            "ei_from": "own sheets",
            "ei_rests_on": "6 sheets, 2 step sheets",
            "aperture_f": "f/22",
            "magnification_factor": 0.5,
            "pupil_factor": 1,
            "bracket_sheets": "2",
        },
    },
)
