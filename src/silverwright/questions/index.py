"""Which exposure index do my sheets speak for?"""

from math import log2
from typing import Annotated, Final, Literal

from silverwright.asking.fields import Choice, Flag, Words
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Question, Record, Rests, remark
from silverwright.asking.rows import Rows
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import around_stops
from silverwright.records import Evidence
from silverwright.sensitometry.index import Combined, combine, judged_index_stops, judged_sd_stops
from silverwright.vocabulary import DOUBT_EI_STOPS, EVIDENCE_EI, OFF_STOPS, PAPER_EI

Kind = Literal["curve", "strip by eye", "verdict", "typed"]
SIGNS: Final = {"direct positive": -1.0, "negative": 1.0}
USUAL_SD: Final[dict[Kind, str]] = {"strip by eye": "strip_by_eye", "verdict": "half_stop_verdict", "typed": "ei_typed"}
SURE_ENOUGH_STOPS: Final = 0.01  # our judgement: nothing is surer than this; a curve said to be is taken at this
HALF_STOP: Final = 0.5  # common practice: what people mean by too dark when they name no amount
PLURALS: Final[dict[Kind, tuple[str, str]]] = {
    "curve": ("step sheet", "step sheets"),
    "strip by eye": ("strip by eye", "strips by eye"),
    "verdict": ("verdict", "verdicts"),
    "typed": ("typed EI", "typed EIs"),
}


class EvidenceRow(Record):
    """One thing that speaks for an index."""

    kind: Annotated[Kind, Choice(help="What it is.", example="curve")]
    ei: Annotated[float, EVIDENCE_EI]
    sd_stops: Annotated[float | None, DOUBT_EI_STOPS] = None
    verdict: Annotated[Literal["right", "too dark", "too light"], Choice(help="How the picture looks.", example="too dark")] = "right"
    off_stops: Annotated[float | None, OFF_STOPS] = None
    judged: Annotated[Literal["dry", "wet"], Choice(help="State of the sheet when it was judged.", example="dry")] = "dry"
    lamp: Annotated[Literal["usual", "unknown"], Choice(help="Lamp that it was judged under.", example="usual")] = "usual"
    note: Annotated[str | None, Words(help="Which sheet.", example="sheet 26-018")] = None


class IndexQuestion(Question):
    """Everything that speaks for an index of this paper in this process."""

    evidence: Annotated[
        tuple[EvidenceRow, ...],
        Rows(row=EvidenceRow, help="A line for each: kind, EI, its doubt in stops, and for a picture how it looks.", example="curve, 6.8, 0.1"),
    ] = ()
    process: Annotated[Literal["direct positive", "negative"], Choice(help="What becomes of the sheet.", example="direct positive")] = (
        "direct positive"
    )
    first_guess: Annotated[
        bool, Flag(help="Our first guess counts too, by its doubt of a stop and a half.", example=True, label="With our first guess")
    ] = True


class IndexAnswer(Answer):
    """The index, how sure, and what it rests on."""

    paper_ei: Annotated[Estimate, PAPER_EI]
    sd_stops: Annotated[Estimate, DOUBT_EI_STOPS]
    rests_on: Annotated[str, Words(help="What the index rests on.", example="1 step sheet, 2 verdicts")]


def answer(question: IndexQuestion) -> IndexAnswer:
    """Normals in log2 EI, each by its doubt; our first guess is one of them."""
    guess = fact("paper", "ei_unknown")
    prior = Evidence(log2(guess.value), guess.sd) if question.first_guess or not question.evidence else None
    pieces = [_piece(row, SIGNS[question.process]) for row in question.evidence]
    found = combine(prior, pieces)
    notes = []
    if not pieces:
        notes.append(remark(Note.PRIOR_ONLY))
    if found.widened_factor > 1:
        notes.append(remark(Note.EVIDENCE_DISAGREES, factor=f"{found.widened_factor:.1f}"))
    ledger = _ledger(question, prior, pieces, found)
    return IndexAnswer(
        paper_ei=around_stops(2**found.index_stops, found.sd_stops),
        sd_stops=Estimate(value=found.sd_stops),
        rests_on=_rests_on(question.evidence),
        ledger=ledger,
        notes=tuple(notes),
        sources=tuple(dict.fromkeys(line.source for line in ledger)),
    )


def _piece(row: EvidenceRow, sign: float) -> Evidence:
    """One row as an index in stops with its doubt; a picture's verdict moves the index of its exposure."""
    off = 0.0
    if row.verdict != "right":
        off = HALF_STOP if row.off_stops is None else row.off_stops
    dark = -off if row.verdict == "too light" else off
    usual = fact("paper", USUAL_SD[row.kind]).sd if row.kind in USUAL_SD else fact("meter", "reading_again").sd
    own = max(usual if row.sd_stops is None else row.sd_stops, off * fact("paper", "large_verdict").value, SURE_ENOUGH_STOPS)
    by_eye = row.kind in {"strip by eye", "verdict"}
    added = [
        fact("paper", name).sd for name, holds in (("judged_wet", row.judged == "wet"), ("unknown_lamp", row.lamp == "unknown")) if holds and by_eye
    ]
    return Evidence(judged_index_stops(log2(row.ei), dark, sign), judged_sd_stops(own, added))


def _ledger(question: IndexQuestion, prior: Evidence | None, pieces: list[Evidence], found: Combined) -> tuple[Line, ...]:
    """Each piece with its share: amounts add up to log2 of the index, doubts in quadrature to its own."""
    guess = fact("paper", "ei_unknown")
    said: list[tuple[str, str, Rests]] = [] if prior is None else [(f"Our first guess, EI {guess.value:g}", guess.says, guess.rests)]
    for row, piece in zip(question.evidence, pieces, strict=True):
        name = f"{row.kind}, {row.note}" if row.note else row.kind
        typed = row.kind == "typed"
        source = "as you typed it" if typed else "your own sheets"
        said.append((f"{name[:1].upper()}{name[1:]}: EI {2**piece.index_stops:.3g}", source, "judgement" if typed else "own"))
    whole = [] if prior is None else [(prior, 1.0)]
    whole += [(piece, found.widened_factor) for piece in pieces]
    return tuple(
        Line(
            what=f"{what}, counts {100 * weight:.0f} %",
            amount=weight * one.index_stops,
            doubt=weight * one.sd_stops * factor,
            unit="stops",
            source=source,
            rests=rests,
        )
        for (what, source, rests), (one, factor), weight in zip(said, whole, found.weights, strict=True)
    )


def _rests_on(evidence: tuple[EvidenceRow, ...]) -> str:
    """`1 step sheet, 2 verdicts`."""
    counts = [(sum(row.kind == kind for row in evidence), words) for kind, words in PLURALS.items()]
    return ", ".join(f"{count} {words[count > 1]}" for count, words in counts if count) or "our first guess alone"


INDEX: Final = Operation(
    name="sensitometry.index",
    version=1,
    asks="Which exposure index do my sheets speak for?",
    question=IndexQuestion,
    answer=IndexAnswer,
    compute=answer,
    examples={
        "a curve and two pictures": {
            "evidence": "kind,ei,sd_stops,verdict,off_stops,judged\ncurve,6.8,0.1,,,\nverdict,5,,too dark,0.5,dry\nverdict,6,,right,,wet",
        },
        "strip 3 is right": {"evidence": [{"kind": "strip by eye", "ei": 2.1}]},
        "nothing yet": {},
    },
)
