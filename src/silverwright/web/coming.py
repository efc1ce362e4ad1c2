"""The next exposure as a page shows it: the forecast with both chances, everything that it rests on, and the control step sheets."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import Remark
from silverwright.book import words
from silverwright.book.controls import Control, day_words, history_told
from silverwright.book.evidence import Piece, Told
from silverwright.book.forecast import Next, unasked
from silverwright.book.queries import PaperKnown
from silverwright.questions.doubts import doubts_told
from silverwright.questions.ledger import LedgerQuestion
from silverwright.questions.next_exposure import NextAnswer
from silverwright.report.days import Day, days_drawn
from silverwright.web.fields import Field, Option, literal_words
from silverwright.web.figures import Figure, Ledger, figure, ledger, stops

TONES: Final = tuple(literal_words(LedgerQuestion.model_fields["reading_tone"].annotation))
LIGHTS: Final = words.listed(words.LightClass)
FIRST_GUESS: Final = "our first guess, until a sheet says how fast the paper is"
FRESH: Final = "afresh"
BLUE_FILTERED_STOPS: Final = 0.1  # our judgement: what a reading through a blue filter leaves in doubt


@dataclass(frozen=True, slots=True)
class Chances:
    """How many of a hundred pictures come out right: one sheet, and one of two that are exposed apart."""

    one: str
    two: str
    apart: str


@dataclass(frozen=True, slots=True)
class NextShown:
    """The forecast."""

    figure: Figure
    doubts: Sequence[str]
    rests_on: str
    own: bool
    chances: Chances
    narrows: Sequence[str]
    ledger: Ledger | None
    notes: Sequence[Remark]


@dataclass(frozen=True, slots=True)
class SaidShown:
    """One thing that a sheet tells, whether it counts, and the act that changes that."""

    sheet: str
    says: str
    light: str
    day: str
    evidence: str
    counts: str
    left_out: bool
    leaves: bool


@dataclass(frozen=True, slots=True)
class ControlShown:
    """A control step sheet: its day, the index that it speaks for by itself, and by how much it differs from the mean of the days."""

    sheet: str
    day: str
    lamp: str
    ei: str
    off: str


@dataclass(frozen=True, slots=True)
class HistoryShown:
    """The control step sheets: what they tell in words, their lamp if it was one only, the days drawn with their doubt, and one by one."""

    told: Sequence[str]
    lamp: str
    drawing: SafeString
    sheets: Sequence[ControlShown]


def coming_of(typed: Mapping[str, str], told: Told) -> Next:
    """The sheet that comes next, as the address says; in the light of the last one, unless said."""
    usual = unasked(told)
    tone, light = typed.get("tone", ""), typed.get("light", usual.light)
    blue = typed.get("light_sd_stops") == f"{BLUE_FILTERED_STOPS}"
    return replace(
        usual,
        tone=tone if tone in TONES else TONES[0],
        light=light if light in LIGHTS and light != "unknown" else "",
        light_sd_stops=BLUE_FILTERED_STOPS if blue else None,
        fresh_baths=typed.get("baths") == FRESH,
    )


def coming_fields(coming: Next) -> list[Field]:
    """What can be said of the next sheet, as a form shows it."""
    tones = tuple(Option(one, one.capitalize(), one == coming.tone) for one in TONES)
    lights = tuple(Option(one, one[:1].upper() + one[1:], one == coming.light) for one in LIGHTS)
    lights = (Option("unknown", "Not said", not coming.light), *lights[1:])
    blue = coming.light_sd_stops is not None
    readings = (Option("", "Plain reading", not blue), Option(f"{BLUE_FILTERED_STOPS}", "Through a blue filter", blue))
    baths = (Option("", "As they stand", not coming.fresh_baths), Option(FRESH, "Mixed afresh", coming.fresh_baths))
    return [
        Field("tone", "The reading is of", "", "choice", coming.tone, choices=tones),
        Field("light", "Light", "", "choice", coming.light, choices=lights),
        Field("light_sd_stops", "Metered", "", "choice", f"{BLUE_FILTERED_STOPS}" if blue else "", choices=readings),
        Field("baths", "Baths", "", "choice", FRESH if coming.fresh_baths else "", choices=baths),
    ]


def next_shown(known: PaperKnown) -> NextShown:
    """The forecast in words and figures."""
    answer = known.next
    shown = figure("paper_ei", fields_of(NextAnswer)["paper_ei"], answer.paper_ei)
    low, high = answer.bracket_stops[0], answer.bracket_stops[-1]
    return NextShown(
        figure=replace(shown, value=shown.value.removesuffix("EI").strip()),
        doubts=doubts_told(answer),
        rests_on=answer.rests_on if known.told.gives_ei else FIRST_GUESS,
        own=known.told.gives_ei,
        chances=Chances(f"{answer.one_sheet_percent.value or 0:.0f}", f"{answer.two_sheets_percent.value or 0:.0f}", f"{high - low:.1f}"),
        narrows=answer.narrows,
        ledger=ledger(answer.ledger, caption="What each sheet says of the EI, in stops", total="Together") if answer.ledger else None,
        notes=answer.notes,
    )


def evidence_shown(told: Told) -> list[SaidShown]:
    """Everything that own sheets tell: what counts, what was left out and why, what tells nothing and why."""
    return [_said(piece) for piece in told.pieces]


def _said(piece: Piece) -> SaidShown:
    counts = f"left out: {piece.left_out}" if piece.left_out else piece.why_not or "counts"
    return SaidShown(
        sheet=piece.sheet,
        says=f"{piece.says}. In place of the earlier {piece.instead_of}." if piece.instead_of else piece.says,
        light=piece.light,
        day=piece.day,
        evidence=piece.evidence,
        counts=counts,
        left_out=bool(piece.left_out),
        leaves=bool(piece.rows) and not piece.left_out,
    )


def controls_shown(known: PaperKnown) -> HistoryShown | None:
    """The control step sheets, the oldest first: each by itself, against the mean of the days under its lamp."""
    if not known.controls:
        return None
    of_one_lamp = [one for one in known.controls if one.lamp == known.controls[-1].lamp]
    drawing = days_drawn([Day(day_words(one.day), one.off_stops, one.sd_stops) for one in of_one_lamp]) if len(of_one_lamp) > 1 else ""
    return HistoryShown(
        told=history_told(known.controls),
        lamp=of_one_lamp[0].lamp if len(of_one_lamp) == len(known.controls) else "",
        drawing=mark_safe(drawing),  # noqa: S308 (drawn by report/days.py from numbers and days)
        sheets=[_control(one) for one in known.controls],
    )


def _control(one: Control) -> ControlShown:
    return ControlShown(one.sheet, day_words(one.day), one.lamp, f"{one.ei:.2f}", f"{stops(one.off_stops)} ± {one.sd_stops:.2f}")
