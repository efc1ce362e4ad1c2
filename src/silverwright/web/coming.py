"""The next exposure as a page shows it: the forecast with both chances, everything that it rests on, and the control step sheets."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot, log2
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import Remark
from silverwright.book import words
from silverwright.book.evidence import Piece, Told
from silverwright.book.forecast import Next
from silverwright.book.queries import PaperKnown
from silverwright.facts.load import fact
from silverwright.questions.ledger import LedgerQuestion
from silverwright.questions.next_exposure import NextAnswer
from silverwright.report.ledger import Bar, bars
from silverwright.web.fields import Field, Option, literal_words
from silverwright.web.figures import Figure, Ledger, figure, ledger, stops

TONES: Final = tuple(literal_words(LedgerQuestion.model_fields["reading_tone"].annotation))
LIGHTS: Final = words.listed(words.LightClass)
FIRST_GUESS: Final = "our first guess, until a sheet says how fast the paper is"
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
    doubt: str
    rests_on: str
    own: bool
    chances: Chances
    narrows: Sequence[str]
    ledger: Ledger | None
    drawn: str
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
    """A control step sheet: its day, the index that it speaks for by itself, and by how much it differs from the usual one."""

    sheet: str
    day: str
    lamp: str
    ei: str
    off: str
    bar: SafeString


def coming_of(typed: Mapping[str, str], last_light: str) -> Next:
    """The sheet that comes next, as the address says; in the light of the last one, unless said."""
    tone, light = typed.get("tone", ""), typed.get("light", last_light)
    blue = typed.get("light_sd_stops") == f"{BLUE_FILTERED_STOPS}"
    return Next(
        tone=tone if tone in TONES else TONES[0],
        light=light if light in LIGHTS and light != "unknown" else "",
        light_sd_stops=BLUE_FILTERED_STOPS if blue else None,
    )


def coming_fields(coming: Next) -> list[Field]:
    """What can be said of the next sheet, as a form shows it."""
    tones = tuple(Option(one, one.capitalize(), one == coming.tone) for one in TONES)
    lights = tuple(Option(one, one[:1].upper() + one[1:], one == coming.light) for one in LIGHTS)
    lights = (Option("unknown", "Not said", not coming.light), *lights[1:])
    blue = coming.light_sd_stops is not None
    readings = (Option("", "Plain reading", not blue), Option(f"{BLUE_FILTERED_STOPS}", "Through a blue filter", blue))
    return [
        Field("tone", "The reading is of", "", "choice", coming.tone, choices=tones),
        Field("light", "Light", "", "choice", coming.light, choices=lights),
        Field("light_sd_stops", "Metered", "", "choice", f"{BLUE_FILTERED_STOPS}" if blue else "", choices=readings),
    ]


def next_shown(known: PaperKnown) -> NextShown:
    """The forecast in words and figures."""
    answer = known.next
    shown = figure("paper_ei", fields_of(NextAnswer)["paper_ei"], answer.paper_ei)
    low, high = answer.bracket_stops[0], answer.bracket_stops[-1]
    return NextShown(
        figure=replace(shown, value=shown.value.removesuffix("EI").strip()),
        doubt=f"{answer.sd_stops.value or 0:.2f}",
        rests_on=answer.rests_on if known.told.gives_ei else FIRST_GUESS,
        own=known.told.gives_ei,
        chances=Chances(f"{answer.one_sheet_percent.value or 0:.0f}", f"{answer.two_sheets_percent.value or 0:.0f}", f"{high - low:.1f}"),
        narrows=answer.narrows,
        ledger=ledger(answer.ledger, caption="What each sheet says of the EI, in stops", total="Together") if answer.ledger else None,
        drawn=f"{answer.effective_draws.value or 0:.0f} effective draws, {answer.sampler}",
        notes=answer.notes,
    )


def evidence_shown(told: Told) -> list[SaidShown]:
    """Everything that own sheets tell: what counts, what was left out and why, what tells nothing and why."""
    return [_said(piece) for piece in told.pieces]


def _said(piece: Piece) -> SaidShown:
    counts = f"left out: {piece.left_out}" if piece.left_out else piece.why_not or "counts"
    return SaidShown(
        sheet=piece.sheet,
        says=piece.says,
        light=piece.light,
        day=piece.day,
        evidence=piece.evidence,
        counts=counts,
        left_out=bool(piece.left_out),
        leaves=bool(piece.rows) and not piece.left_out,
    )


def controls_shown(known: PaperKnown) -> list[ControlShown]:
    """The control step sheets, the oldest first: each by itself, against the middle one."""
    if not known.controls:
        return []
    indices = sorted(log2(one.ei) for one in known.controls)
    usual = indices[len(indices) // 2]
    offs = [log2(one.ei) - usual for one in known.controls]
    sd = hypot(fact("forecast", "timer").sd, fact("forecast", "step").sd)  # against each other: the lamp is the same
    drawn = bars([Bar(off, sd) for off in offs])
    return [
        ControlShown(
            sheet=one.sheet,
            day=one.day,
            lamp=one.lamp,
            ei=f"{one.ei:.2g}",
            off=f"{stops(off)} ± {sd:.2f}",
            bar=mark_safe(bar),  # noqa: S308 (drawn by report/ledger.py from numbers only)
        )
        for one, off, bar in zip(known.controls, offs, drawn, strict=True)
    ]
