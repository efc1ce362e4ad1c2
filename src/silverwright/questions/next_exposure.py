"""How do I expose the next sheet, by all that my sheets tell?"""

from collections.abc import Sequence
from math import exp, sqrt
from typing import TYPE_CHECKING, Annotated, Final

from pydantic import field_validator

from silverwright.asking.fields import Choice, Plain, Words
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Question, Remark, Rests, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.believed import Process, Stated, belief_of, camera_lx_s, guess_stops, tone_of
from silverwright.questions.entry import around
from silverwright.questions.light import against, doubt_of_light
from silverwright.questions.paper import Tone as ToneWord
from silverwright.questions.reciprocity import PointRow
from silverwright.questions.seen import BATCH, DAY, LIGHT, LOT, MOST_SHEETS, SeenRow, darkroom_of, faults, newest
from silverwright.records import OwnPoint
from silverwright.units import STOP
from silverwright.vocabulary import (
    AT_EI_ONE_S,
    BRACKET_S,
    BRACKET_STOPS,
    DOUBT_EI_STOPS,
    EFFECTIVE_DRAWS,
    EI_PART_STOPS,
    EXPONENT_FACTOR,
    EXPONENT_SD,
    LIGHT_OFFSET_STOPS,
    LIGHT_PART_STOPS,
    LIGHT_SD_STOPS,
    LIGHT_STOPS,
    ONE_SHEET_PERCENT,
    PAPER_EI,
    SHEETS_BEFORE,
    STATED_EI,
    SUREST_AT_S,
    TIME_S,
    TWO_SHEETS_PERCENT,
)

if TYPE_CHECKING:
    from silverwright.sensitometry.lit import Lit
    from silverwright.sensitometry.next_sheet import Coming, Forecast, Known
    from silverwright.sensitometry.weigh import Pulls

SEED: Final = 1  # our judgement: any number does; always the same one, so that the same sheets give the same answer
PERCENT: Final = 80  # our judgement: the limits of this house
SHOWN_STOPS: Final = 0.005  # our judgement: less does not show in two digits
SHOWN_PERCENT: Final = 1.0  # our judgement: a chance is told as so many of 100
WORTH_SAYING_STOPS: Final = 0.05  # our judgement: below it a line of the ledger is folded
OLD_BATHS: Final = 5  # our judgement: from so many sheets on a bath has lost a fifth of a stop, by the usual loss of each
PLURALS: Final = {
    "step sheet": ("step sheet", "step sheets"),
    "control": ("control step sheet", "control step sheets"),
    "scene patch": ("picture with metered places", "pictures with metered places"),
    "verdict": ("verdict", "verdicts"),
    "strip by eye": ("strip by eye", "strips by eye"),
    "typed": ("typed EI", "typed EIs"),
}


class NextQuestion(Question):
    """All that own sheets tell, and what is known of the next one."""

    evidence: Annotated[
        tuple[SeenRow, ...],
        Rows(
            row=SeenRow,
            help="A line for each patch or judgement: sheet, what it is, log exposure before reciprocity, time, density, what it shared with others.",
            example="26-018, step sheet, 0.3, 8, 1.12",
            label="What sheets told",
        ),
    ] = ()
    process: Annotated[Process, Choice(help="What becomes of the sheet.", example="direct positive", label="Process")] = "direct positive"
    tone: Annotated[
        ToneWord, Choice(help="The reading is of this tone: the EI then is the one that makes it right.", example="skin", label="The reading is of")
    ] = "mid-grey"
    light: Annotated[str, LIGHT] = ""
    light_sd_stops: Annotated[float | None, LIGHT_SD_STOPS] = None
    light_stops: Annotated[float | None, LIGHT_STOPS] = None
    day: Annotated[str, DAY] = ""
    batch: Annotated[str, BATCH] = ""
    age: Annotated[float, SHEETS_BEFORE] = 0.0
    lot: Annotated[str, LOT] = ""
    at_ei_one_s: Annotated[float | None, AT_EI_ONE_S] = None
    stated_ei: Annotated[float | None, STATED_EI] = None
    stated_ei_sd_stops: Annotated[float | None, DOUBT_EI_STOPS] = None
    exponent_factor: Annotated[float | None, EXPONENT_FACTOR] = None
    exponent_sd: Annotated[float | None, EXPONENT_SD] = None
    own_points: Annotated[
        tuple[PointRow, ...],
        Rows(row=PointRow, help="Your own tests: metered time, and the time that gave the same density.", example="60 90", label="Own points"),
    ] = ()

    @field_validator("evidence")
    @classmethod
    def _whole(cls, rows: tuple[SeenRow, ...]) -> tuple[SeenRow, ...]:
        if found := faults(rows):
            raise refuse(" ".join(found))
        return rows

    @property
    def stated(self) -> Stated:
        """What somebody knows of the paper from elsewhere."""
        points = tuple(OwnPoint(one.metered_s, one.needed_s) for one in self.own_points)
        return Stated(self.stated_ei, self.stated_ei_sd_stops, self.exponent_factor, self.exponent_sd, points)


class NextAnswer(Answer):
    """The EI and the time for the next sheet, the chances of one sheet and of two, and what would narrow it."""

    paper_ei: Annotated[Estimate, PAPER_EI]
    sd_stops: Annotated[Estimate, DOUBT_EI_STOPS]
    light_offset_stops: Annotated[Estimate | None, LIGHT_OFFSET_STOPS] = None
    light_part_stops: Annotated[Estimate | None, LIGHT_PART_STOPS] = None
    ei_part_stops: Annotated[Estimate | None, EI_PART_STOPS] = None
    exponent: Annotated[Estimate, EXPONENT_FACTOR]
    exponent_sd: Annotated[Estimate, EXPONENT_SD]
    surest_at_s: Annotated[Estimate, SUREST_AT_S]
    time_s: Annotated[Estimate | None, TIME_S] = None
    one_sheet_percent: Annotated[Estimate, ONE_SHEET_PERCENT]
    two_sheets_percent: Annotated[Estimate, TWO_SHEETS_PERCENT]
    bracket_stops: Annotated[Sequence[float], BRACKET_STOPS]
    bracket_s: Annotated[Sequence[float], BRACKET_S] = ()
    rests_on: Annotated[str, Words(help="What the EI rests on.", example="1 step sheet, 2 verdicts")]
    narrows: Annotated[
        Sequence[str],
        Plain(
            help="What would narrow it most, and what one sheet gains by it.",
            example="A control step sheet under a fixed lamp on the same day: one sheet right 68 of 100 instead of 61.",
        ),
    ]
    effective_draws: Annotated[Estimate, EFFECTIVE_DRAWS]
    sampler: Annotated[str, Words(help="How the likely curves were drawn.", example="importance")]


def answer(question: NextQuestion) -> NextAnswer:
    """One paper, its curve, and what sheets share: everything seen speaks at once, each by its doubt."""
    from silverwright.sensitometry.lit import lit
    from silverwright.sensitometry.next_sheet import forecast, learn

    rows, left = newest(question.evidence)
    seen, names = darkroom_of(rows, question.process)
    known = learn(seen, belief_of(question.stated, question.tone, question.process), SEED)
    coming = coming_of(question)
    found = forecast(known, coming)
    light = None if question.light_stops is None else lit(known, coming, found.surest_stops, found.sd_stops)
    ledger = _ledger(question, known, coming, (names, found, 0.0 if light is None else light.more_stops))
    low, need, high = (one + (light.more_stops if light else 0.0) for one in found.need_stops)
    return NextAnswer(
        paper_ei=Estimate(value=2**-need, low=2**-high, high=2**-low, percent=PERCENT),
        sd_stops=Estimate(value=found.sd_stops),
        light_offset_stops=around((question.light_stops or 0.0) + light.more_stops, light.sd_stops) if light else None,
        light_part_stops=Estimate(value=light.part_stops) if light else None,
        ei_part_stops=Estimate(value=sqrt(max(0.0, found.sd_stops**2 - light.part_stops**2))) if light else None,
        exponent=Estimate(value=found.exponent),
        exponent_sd=Estimate(value=found.exponent_sd),
        surest_at_s=Estimate(value=found.surest_at_s),
        time_s=_time(found),
        one_sheet_percent=Estimate(value=100 * found.one_sheet_share),
        two_sheets_percent=Estimate(value=100 * found.two_sheets_share),
        bracket_stops=found.bracket_stops,
        bracket_s=found.bracket_s or (),
        rests_on=rests_on(question),
        narrows=_narrows(question, known, coming, found),
        effective_draws=Estimate(value=known.draws.effective_draws),
        sampler=known.draws.sampler,
        ledger=ledger,
        notes=(*_light_notes(question, light, 2**-need), *_notes(question, known, names, left)),
        sources=tuple(dict.fromkeys(line.source for line in ledger)),
    )


def coming_of(question: NextQuestion) -> "Coming":
    """The next sheet as a record."""
    from silverwright.sensitometry.darkroom import Conditions
    from silverwright.sensitometry.next_sheet import Coming, own_scatter_stops

    conditions = Conditions(
        light=question.light,
        day=question.day,
        batch=question.batch,
        lot=question.lot,
        age=round(question.age),
        light_sd_stops=question.light_sd_stops,
        class_sd_stops=None if question.light_stops is None else doubt_of_light(question.light),
    )
    return Coming(
        conditions=conditions,
        tone=tone_of(question.tone, question.process),
        camera_lx_s=camera_lx_s(),
        near_stops=fact("lens", "near_enough").value,
        sheet_sd_stops=own_scatter_stops(fact("forecast", "sheet").sd, fact("forecast", "place").sd),
        at_ei_one_s=None if question.at_ei_one_s is None else question.at_ei_one_s * 2 ** -(question.light_stops or 0.0),
    )


def _time(found: "Forecast") -> Estimate | None:
    if found.time_s is None:
        return None
    low, best, high = found.time_s
    return Estimate(value=best, low=low, high=high, percent=PERCENT)


def rests_on(question: NextQuestion) -> str:
    """`1 step sheet, 2 verdicts`."""
    rows, parts = question.evidence, []
    for kind, words in PLURALS.items():
        named = {row.sheet for row in rows if row.kind == kind and row.sheet}
        count = len(named) + sum(row.kind == kind and not row.sheet for row in rows)
        parts += [f"{count} {words[count > 1]}"] * (count > 0)
    if question.own_points:
        parts.append(f"{len(question.own_points)} own point{'s' * (len(question.own_points) > 1)}")
    return ", ".join(parts) or ("our first guess alone" if question.stated_ei is None else "the EI as you stated it")


def _ledger(question: NextQuestion, known: "Known", coming: "Coming", told: "tuple[tuple[str, ...], Forecast, float]") -> tuple[Line, ...]:
    """What each piece pulls: amounts add up to log2 of the EI, doubts in quadrature nearly to its own."""
    from silverwright.sensitometry.weigh import pulls

    names, found, of_light_stops = told
    pulled: Pulls = pulls(known, coming)
    guess = fact("paper", "ei_unknown")
    start = guess_stops(question.stated)
    own: tuple[str, Rests] = ("your own sheets", "own")
    lines = [_line(f"Our first guess, EI {guess.value:g}", start, pulled.guess_doubt_stops, (guess.says, "judgement"))]
    if question.stated_ei is not None:
        lines = [_line(f"EI {question.stated_ei:g}, as you stated it", start, pulled.guess_doubt_stops, ("as you stated it", "own"))]
    free = len(known.seen.sheets)
    for number, (name, pull) in enumerate(zip(names, pulled.pieces, strict=True)):
        said: tuple[str, Rests] = own if number < free else ("as it was typed", "judgement")
        lines.append(_line(f"Sheet {name}" if number < free else name[:1].upper() + name[1:], -pull.amount_stops, pull.doubt_stops, said))
    shared = fact("forecast", "light")
    lines.append(_line("What this sheet's light, day and baths may do", 0.0, pulled.next_doubt_stops, (shared.says, "judgement")))
    if question.age:
        drift = fact("forecast", "log_drift")
        before = f"{question.age:.0f} sheet{'s' * (question.age > 1)} through these baths before, at the usual loss"
        lines.append(_line(before, -question.age * exp(drift.value), 0.0, (drift.says, "judgement")))
    if abs(of_light_stops) > SHOWN_STOPS:
        lines.append(_line("What your sheets show of this light is told by itself, beside the EI", -of_light_stops, 0.0, own))
    rest = -found.need_stops[1] - of_light_stops - sum(line.amount for line in lines)
    what = (
        "From a mid-grey to this tone, and what is no plain sum"
        if question.stated_ei is None and question.tone != "mid-grey"
        else "What is no plain sum"
    )
    if abs(rest) > SHOWN_STOPS:
        lines.append(_line(what, rest, 0.0, (fact("curve", "prior_log_slope").says, "judgement")))
    return tuple(lines)


def _line(what: str, amount: float, doubt: float, said: tuple[str, Rests]) -> Line:
    return Line(what=what, amount=amount, doubt=doubt, unit="stops", source=said[0], rests=said[1])


def _narrows(question: NextQuestion, known: "Known", coming: "Coming", found: "Forecast") -> tuple[str, ...]:
    """How often one sheet would be right then, best first; what brings nothing that shows is not said."""
    from dataclasses import replace

    from silverwright.sensitometry.darkroom import Patch
    from silverwright.sensitometry.next_sheet import chance_within
    from silverwright.sensitometry.weigh import doubt_stops, with_picture, with_step_sheet

    today = replace(coming, conditions=replace(coming.conditions, day=question.day or "today"))
    now = doubt_stops(known, today)
    sd = fact("curve", "density_sd").value
    step = Patch(0, 0.0, 0.0, density_sd=sd, metering_sd_stops=fact("forecast", "step").sd)
    place = replace(step, metering_sd_stops=fact("forecast", "place").sd)
    blue = replace(today, conditions=replace(today.conditions, light_sd_stops=fact("forecast", "light_measured").sd))
    lamps = [one.light for one in known.seen.sheets if one.lamp]
    ways = {
        "A control step sheet under a fixed lamp on the same day": with_step_sheet(known, today, lamps[-1] if lamps else "lamp", step),
        "A reading through a blue filter, good to 0.1 stop": doubt_stops(known, blue),
        "The next picture with six metered places, measured": with_picture(known, today, place),
    }
    own, near = coming.sheet_sd_stops, coming.near_stops
    was, said = chance_within(sqrt(now**2 + own**2), near), []
    for what, then in sorted(ways.items(), key=lambda way: way[1]):
        more = 100 * (chance_within(sqrt(then**2 + own**2), near) - was)
        if more >= SHOWN_PERCENT:
            said.append(f"{what}: one sheet right {100 * found.one_sheet_share + more:.0f} of 100 instead of {100 * found.one_sheet_share:.0f}.")
    return tuple(said)


def _light_notes(question: NextQuestion, light: "Lit | None", ei: float) -> tuple[Remark, ...]:
    """What the EI is in the light of the next sheet, where that differs from noon daylight."""
    if light is None or abs(offset := (question.light_stops or 0.0) + light.more_stops) < WORTH_SAYING_STOPS:
        return ()
    here = len({row.sheet for row in question.evidence if row.light == question.light and row.kind != "control"})
    rests = f"by {here} sheet{'s' * (here > 1)} of yours in it and the table of lights" if here else "by the table of lights alone"
    figures = {"ei": f"{ei:.2g}", "light": question.light or "this light", "offset": against(offset), "rests": rests, "here": f"{ei * 2**offset:.2g}"}
    return (remark(Note.EI_OF_LIGHT, **figures),)


def _notes(question: NextQuestion, known: "Known", names: tuple[str, ...], left: int) -> list[Remark]:
    """What is worth saying: what disagrees, what was left out, how it was drawn."""
    from silverwright.sensitometry.weigh import disagreements

    notes = []
    if not question.evidence:
        notes.append(remark(Note.PRIOR_ONLY))
    odd = max(zip(disagreements(known), names, strict=True), key=lambda pair: pair[0].deviation_sd, default=None)
    if odd is not None and len(names) > 1 and odd[0].deviation_sd > fact("forecast", "odd_sd").value:
        free = odd[1].startswith("typed")
        stops, more = odd[0].faster_stops, "more" if odd[0].faster_stops > 0 else "less"
        sheet = odd[1][:1].upper() + odd[1][1:] if free else f"Sheet {odd[1]}"
        notes.append(remark(Note.WHICH_DISAGREES, sheet=sheet, stops=STOP.show(abs(stops)), more=more, sd=f"{odd[0].deviation_sd:.1f}"))
    if known.draws.sampler == "slow":
        notes.append(remark(Note.SLOW_SAMPLER))
    if question.age >= OLD_BATHS:
        lost = question.age * float(known.draws.weights @ known.draws.believed.drift)
        notes.append(remark(Note.BATHS_COUNTED, nth=f"{question.age + 1:.0f}", batch=question.batch or "not named", lost=f"{lost:.1f}"))
    if left:
        notes.append(remark(Note.NEWEST_SHEETS, kept=MOST_SHEETS, left=left))
    return notes


NEXT: Final = Operation(
    name="sensitometry.next",
    version=3,
    asks="How do I expose the next sheet, by all that my sheets tell?",
    question=NextQuestion,
    answer=NextAnswer,
    compute=answer,
    examples={
        "a step sheet and two pictures": {
            "evidence": (
                "sheet,kind,exposure_log10,time_s,density,dark_stops,light,day,batch,age\n"
                "26-018,step sheet,-0.3,8,1.71,,north window,2026-11-20,A4,0\n"
                "26-018,step sheet,0,8,1.38,,north window,2026-11-20,A4,0\n"
                "26-018,step sheet,0.3,8,0.94,,north window,2026-11-20,A4,0\n"
                "26-018,step sheet,0.6,8,0.49,,north window,2026-11-20,A4,0\n"
                "26-018,step sheet,0.9,8,0.22,,north window,2026-11-20,A4,0\n"
                "26-019,verdict,0.32,20,,0.5,north window,2026-11-20,A4,1\n"
                "26-020,verdict,0.5,24,,0,open door,2026-11-21,A4,2"
            ),
            "light": "north window",
            "day": "2026-11-21",
            "batch": "A4",
            "age": 3,
            "at_ei_one_s": 97,
        },
        "strip 3 is right": {"evidence": [{"kind": "strip by eye", "exposure_log10": 0.59, "time_s": 16}], "tone": "mid-grey"},
        "nothing yet": {},
    },
)
