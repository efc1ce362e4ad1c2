"""One exposure's ledger as a field note: one page to take along, with blanks for what was really done."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from importlib.resources import as_file, files
from typing import Any, Final, Literal

from silverwright.asking.operation import Estimate, Line, Remark
from silverwright.notes import CAUTIONS
from silverwright.units import clock, flashes_said, show_time

Paper = Literal["a4", "us-letter"]
MINUS: Final = "\N{MINUS SIGN}"
WORDS: Final = {"know": "Know", "care": "Care", "stop": "Stop"}
TIME_GIVEN, FLASHES_GIVEN = "Time given", "Flashes given"
BLANKS: Final = (
    "Sheet",
    "Holder and side",
    "Day and hour",
    "Light",
    TIME_GIVEN,
    "Aperture",
    "Bellows extension",
    "Reading at the end",
    "What is in the picture",
    "What went otherwise",
    "Processed how",
    "Too dark or too light, by how many stops",
)
SKETCH: Final = "Sketch: what stands where, and what was metered"
PATCHES: Final = "Patch beside a source: full, your own sheets; half, published; empty, practice; dotted, our judgement."
QUIET_STOPS: Final = 0.005  # arithmetic: below it a line prints as 0.00 and has no bar
FOLDED: Final = "Folded, each under 0.05 stop, and counted: {lines}."


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldNote:
    """What the page says."""

    title: str
    time_s: float
    limits: Estimate
    settable_s: float | None = None
    lines: Sequence[Line] = ()
    total_stops: float
    total_doubt_stops: float
    notes: Sequence[Remark] = ()
    bracket_s: Sequence[float] = ()
    facts: Mapping[str, str] = field(default_factory=dict)  # what was read and set, in a photographer's words
    made: str = ""  # day, and by which version
    invented: bool = False
    in_flashes: bool = False  # the figures are numbers of flashes, not seconds

    def told(self, amount: float) -> str:
        """`1:37`, or `4.2 flashes`."""
        return flashes_said(float(f"{amount:.2g}")) if self.in_flashes else _short(amount)


def from_answer(
    answer: Mapping[str, Any], *, title: str, facts: Mapping[str, str] | None = None, made: str = "", invented: bool = False
) -> FieldNote:
    """The note of an answer of `exposure.ledger` or `exposure.flash`, fresh or as it was kept."""
    in_flashes = "flashes" in answer
    amount, settable, total = ("flashes", "set_flashes", "flash_stops") if in_flashes else ("time_s", "settable_s", "total_stops")
    return FieldNote(
        title=title,
        time_s=answer[amount]["value"],
        limits=Estimate.model_construct(**answer[amount]),
        settable_s=answer[settable]["value"],
        lines=[Line.model_construct(**row) for row in answer["ledger"]],
        total_stops=answer[total]["value"],
        total_doubt_stops=answer["doubt_stops"]["value"],
        notes=[Remark.model_construct(**one) for one in answer["notes"]],
        bracket_s=answer.get("bracket_s") or (),
        in_flashes=in_flashes,
        facts=facts or {},
        made=made,
        invented=invented,
    )


def field_note_pdf(note: FieldNote, paper: Paper = "a4") -> bytes:
    """The page as PDF."""
    return _typeset(note, paper, "pdf")


def field_note_png(note: FieldNote, paper: Paper = "a4") -> bytes:
    """The same page as a picture, to look at."""
    return _typeset(note, paper, "png")


def _typeset(note: FieldNote, paper: Paper, form: Literal["pdf", "png"]) -> bytes:
    import typst  # noqa: PLC0415 (only paper needs it)

    with as_file(files("silverwright.report")) as room:
        page: bytes = typst.compile(
            room / "fieldnote.typ",
            font_paths=[room / "fonts"],
            ignore_system_fonts=True,
            format=form,
            ppi=144.0 if form == "png" else None,
            sys_inputs={"note": json.dumps(_words(note, paper))},
        )
    return page


def _words(note: FieldNote, paper: Paper) -> dict[str, Any]:
    """Every figure as it is printed."""
    low, high = note.limits.low, note.limits.high
    return {
        "paper": paper,
        "title": note.title,
        "invented": note.invented,
        "time": note.told(note.time_s),
        "low": note.told(low) if low is not None else "",
        "high": note.told(high) if high is not None else "",
        "says": _says(note),
        "limits": _limits(note, low, high) if low is not None and high is not None else "",
        "bracket": [note.told(time_s) for time_s in note.bracket_s],
        "facts": list(note.facts.items()),
        "lines": [_row(line) for line in note.lines if not line.folded],
        "lowest": min([0.0, *(line.amount - line.doubt for line in note.lines if line.unit == "stops")]),
        "total": {
            "what": f"Together, in stops from one {'flash' if note.in_flashes else 'second'}",
            "amount": note.total_stops,
            "doubt": note.total_doubt_stops,
            "stops": _signed(note.total_stops),
            "sd": f"{note.total_doubt_stops:.2f}",
        },
        "bars": "right of zero: more" if note.in_flashes else "right of zero: longer",
        "patches": PATCHES + _folded_words(note.lines),
        "cautions": [_note_words(one) for one in note.notes if one.note in CAUTIONS],
        "notes": [_note_words(one) for one in note.notes if one.note not in CAUTIONS],
        "blanks": [FLASHES_GIVEN if one == TIME_GIVEN and note.in_flashes else one for one in BLANKS],
        "sketch": SKETCH,
        "foot": f"silverwright, {note.made}." if note.made else "silverwright.",
    }


def _folded_words(lines: Sequence[Line]) -> str:
    folded = ", ".join(line.what[0].lower() + line.what[1:] for line in lines if line.folded)
    return f" {FOLDED.format(lines=folded)}" if folded else ""


def _says(note: FieldNote) -> str:
    """The time in seconds, and what a shutter or a clock can be set to; the whole number of flashes."""
    if note.in_flashes:
        return f"To expose; nearest to give: {flashes_said(note.settable_s or 0)}."
    says = show_time(note.time_s) if show_time(note.time_s) != _short(note.time_s) else "To expose"
    if note.settable_s is not None and _short(note.settable_s) != _short(note.time_s):
        says += f"; nearest to set: {show_time(note.settable_s)}"
    return f"{says}."


def _limits(note: FieldNote, low: float, high: float) -> str:
    told = (note.told(low), note.told(high)) if note.in_flashes else (show_time(low), show_time(high))
    return f"Limits hold 8 of 10: between {told[0]} and {told[1]}."


def _short(time_s: float) -> str:
    """`1:37`, or seconds below a minute."""
    return clock(time_s) if round(time_s) >= 60 else show_time(time_s)  # noqa: PLR2004 (a minute)


def _signed(stops: float) -> str:
    """`+1.17`, with a real minus."""
    return f"{stops:+.2f}".replace("-", MINUS) if abs(stops) >= QUIET_STOPS else "0.00"


def _row(line: Line) -> dict[str, Any]:
    return asdict(
        _Row(
            what=line.what,
            source=line.source,
            rests=line.rests,
            amount=line.amount,
            doubt=line.doubt,
            stops=_signed(line.amount),
            sd=f"{line.doubt:.2f}",
            bar=abs(line.amount) >= QUIET_STOPS or line.doubt >= QUIET_STOPS,
        )
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One line as it is printed."""

    what: str
    source: str
    rests: str
    amount: float
    doubt: float
    stops: str
    sd: str
    bar: bool


def _note_words(one: Remark) -> dict[str, str]:
    """A note's flag, word and sentence."""
    return {"severity": one.severity, "word": WORDS[one.severity], "sentence": one.sentence}
