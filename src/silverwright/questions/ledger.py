"""How long do I expose, and how sure is that?"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, log2, sqrt
from typing import Annotated, Final, Literal

from silverwright.asking.fields import Choice, Plain
from silverwright.asking.operation import Answer, Estimate, Operation, Remark, remark
from silverwright.exposure.ledger import BRACKET_SHARES, bracket_chance, bracket_stops
from silverwright.exposure.reciprocity import effective_s
from silverwright.exposure.shutter import settable_by_hand_s, settable_on_shutter_s
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.aperture import f_number
from silverwright.questions.camera import CameraFields, by_hand, clock_entry, corrections, reading_entry, sheet_entry, summed
from silverwright.questions.doubted import narrows
from silverwright.questions.entry import Entry, around, around_stops, not_given, stops_said
from silverwright.questions.marks import counted_steps, time_marks
from silverwright.questions.paper import PaperFields, ei_entry
from silverwright.questions.reciprocity import Reciprocity, reciprocity_entry, reciprocity_of
from silverwright.questions.shutter import nearest_on_shutter, true_on_shutter_s
from silverwright.records import Stops
from silverwright.units import F_NUMBER, SECOND
from silverwright.vocabulary import (
    BEFORE_S,
    BELLOWS_STOPS,
    BRACKET_S,
    CHANCE_PERCENT,
    LEDGER_SD_STOPS,
    RECIPROCITY_STOPS,
    SETTABLE_S,
    TIME_S,
    TOTAL_STOPS,
)

MINUTE_S: Final = 60  # arithmetic
HOUR_S: Final = 3600  # arithmetic


class LedgerQuestion(PaperFields, CameraFields):
    """What stands at the camera, the paper, and what becomes of the sheet."""

    process: Annotated[
        Literal["direct positive", "negative"], Choice(help="What becomes of the sheet.", example="direct positive", label="Process")
    ] = "direct positive"
    bracket_sheets: Annotated[
        Literal["1", "2", "3"], Choice(help="How many sheets for this picture.", example="2", label="Sheets for this picture")
    ] = "1"


class LedgerAnswer(Answer):
    """How long, with every line of the working. (A row in an answer is a `Sequence`: bounds are for what people type.)"""

    time_s: Annotated[Estimate, TIME_S]
    settable_s: Annotated[Estimate, SETTABLE_S]
    before_s: Annotated[Estimate, BEFORE_S]
    bellows_stops: Annotated[Estimate, BELLOWS_STOPS]
    reciprocity_stops: Annotated[Estimate, RECIPROCITY_STOPS]
    total_stops: Annotated[Estimate, TOTAL_STOPS]
    doubt_stops: Annotated[Estimate, LEDGER_SD_STOPS]
    bracket_s: Annotated[Sequence[float], BRACKET_S]
    chance_percent: Annotated[Sequence[float], CHANCE_PERCENT]
    narrows: Annotated[
        Sequence[str],
        Plain(
            help="What matters most in the doubt, and what would make it surer.",
            example="The paper's EI: 84 of 100 parts of the doubt. A test strip in this process would bring the whole from ±1.57 to ±0.51 stop.",
            label="What would narrow it",
        ),
    ] = ()


@dataclass(frozen=True, slots=True)
class Worked:
    """The lines, and what reciprocity does: its law, at which metered time, and what of the doubt it has for itself."""

    above: tuple[Entry, ...]
    reciprocity: Entry
    below: tuple[Entry, ...]
    law: Reciprocity
    metered: Stops

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All lines in their order."""
        return (*self.above, self.reciprocity, *self.below)

    @property
    def own_sd_stops(self) -> float:
        """The doubt of the law alone."""
        return self.law.sd_stops(2**self.metered.amount_stops)

    @property
    def stretched_factor(self) -> float:
        """By which factor the reciprocity line stretches the variance above it."""
        if self.metered.doubt_stops == 0:
            return 1.0
        return 1 + (self.reciprocity.stops.doubt_stops**2 - self.own_sd_stops**2) / self.metered.doubt_stops**2

    def narrows(self) -> tuple[str, ...]:
        """What matters most; the reciprocity line counts with its own doubt, and what it stretches counts for the lines above."""
        place, stretch = len(self.above), sqrt(self.stretched_factor)
        own = [entry.stops.doubt_stops for entry in self.entries]
        own[place] = self.own_sd_stops
        return narrows(self.entries, own, lambda doubts: hypot(stretch * hypot(*doubts[:place]), *doubts[place:]))


def worked(question: LedgerQuestion) -> Worked:
    """Line by line in stops from one second."""
    reading, first = reading_entry(question, own_sheets=question.ei_from == "own sheets")
    above = (first, ei_entry(question, reading.dial_ei), *corrections(question, question.reading_tone))
    metered, law = summed(above), reciprocity_of(question)
    reciprocity = reciprocity_entry(question, law, metered)
    time_s = 2 ** (metered.amount_stops + reciprocity.stops.amount_stops)
    return Worked(above, reciprocity, (clock_entry(question, time_s), sheet_entry()), law, metered)


def answer(question: LedgerQuestion) -> LedgerAnswer:
    """The sum of the lines; doubts in quadrature."""
    found = worked(question)
    entries, before, bellows = found.entries, summed(found.above[:2]), found.above[2].stops
    whole = summed(entries)
    time_s, doubt = 2**whole.amount_stops, whole.doubt_stops
    return LedgerAnswer(
        time_s=around_stops(time_s, doubt),
        settable_s=Estimate(value=_settable(question, time_s)),
        before_s=around_stops(2**before.amount_stops, before.doubt_stops),
        bellows_stops=around(bellows.amount_stops, bellows.doubt_stops, least=0.0),
        reciprocity_stops=found.law.estimate(2**found.metered.amount_stops),
        total_stops=around(whole.amount_stops, doubt),
        doubt_stops=Estimate(value=doubt),
        bracket_s=tuple(_settable(question, time_s * 2**step) for step in bracket_stops(doubt, int(question.bracket_sheets))),
        chance_percent=_chances(entries),
        narrows=found.narrows(),
        ledger=tuple(entry.line for entry in entries),
        notes=_notes(question, found, whole),
        sources=tuple(dict.fromkeys(entry.source for entry in entries)),
    )


def _settable(question: LedgerQuestion, time_s: float) -> float:
    """What can be counted or set."""
    if by_hand(question, time_s):
        return settable_by_hand_s(time_s, counted_steps())
    if question.measured_speeds:
        return nearest_on_shutter(question.measured_speeds, time_s).marked_s
    return settable_on_shutter_s(time_s, time_marks())


def _chances(entries: tuple[Entry, ...]) -> tuple[float, ...]:
    """With one, two or three sheets: the chance that one lands near enough. The last line is each sheet's own, the others all share."""
    whole, shared = summed(entries).doubt_stops, summed(entries[:-1]).doubt_stops
    own, near = entries[-1].stops.doubt_stops, fact("lens", "near_enough").value
    return tuple(100 * bracket_chance(shared, own, bracket_stops(whole, sheets), near) for sheets in BRACKET_SHARES)


def _notes(question: LedgerQuestion, found: Worked, whole: Stops) -> tuple[Remark, ...]:
    """The notes of the lines, what was not given, and which way round the picture is."""
    notes = [note for entry in found.entries for note in entry.notes]
    unknown = [one for entry in found.entries for one in entry.unknown]
    if unknown:
        of_them = found.stretched_factor * sum(one.doubt_stops**2 for one in unknown)
        notes.append(not_given(unknown, whole.doubt_stops, sqrt(max(0.0, whole.doubt_stops**2 - of_them))))
    if question.process == "direct positive" and question.turned == "no":
        notes.append(remark(Note.MIRROR_IMAGE))
    if 2**whole.amount_stops >= fact("lens", "settable_minute").value:
        notes.append(_hours(question, found, 2**whole.amount_stops))
    return (*notes, *_too_short(question, 2**whole.amount_stops))


def _too_short(question: LedgerQuestion, time_s: float) -> tuple[Remark, ...]:
    """What the shortest time that can be set or counted gives too much, and what takes it away."""
    least_s = _settable(question, time_s)
    counted = by_hand(question, time_s)
    over = log2((least_s if counted else true_on_shutter_s(question.measured_speeds, least_s)) / time_s)
    if over <= fact("lens", "near_enough").value:
        return ()
    opening = F_NUMBER.show(float(f"{f_number(question) * 2 ** (over / 2):.2g}"))
    how, least = "counted" if counted else "set", SECOND.show(least_s)
    return (remark(Note.TOO_SHORT, time=SECOND.show(time_s), how=how, least=least, stops=stops_said(over), opening=opening),)


def _hours(question: LedgerQuestion, found: Worked, time_s: float) -> Remark:
    """What else becomes the limit, and the opening at which it would not."""
    wanted_s = fact("lens", "settable_ten_seconds").value
    more = found.metered.amount_stops - log2(effective_s(wanted_s, found.law.needed))
    opened = f_number(question) / 2 ** (more / 2)
    usual = opened >= fact("lens", "widest").value
    return remark(
        Note.HOURS,
        hours=f"{time_s / HOUR_S:.1f}",
        reciprocity=f"{found.own_sd_stops:.1f}",
        opening=f", as {F_NUMBER.show(float(f'{opened:.2g}'))} lets through, at less depth of field" if usual else "",
        minutes=f"{wanted_s / MINUTE_S:.0f}",
        stops=f"{more:.1f}",
    )


LEDGER: Final = Operation(
    name="exposure.ledger",
    version=2,
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
