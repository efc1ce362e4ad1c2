"""The scene is too long for the paper: what may be done, and what does each way gain?"""

from dataclasses import dataclass, replace
from typing import Annotated, Final, Literal

from pydantic import field_validator

from silverwright.asking.fields import Choice, Plain, Words
from silverwright.asking.operation import Answer, Estimate, Operation, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.contrast import fill_factor, softer_gain_stops
from silverwright.exposure.preexposure import preexposure_for_loss_log10
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import around, stops_said
from silverwright.questions.papercurve import STOP_LOG10, CurveFields, CurveInHand, curve_in_hand, range_of_grade
from silverwright.questions.preexposure import effect_of
from silverwright.vocabulary_camera import (
    DEVELOPER_GAIN_STOPS,
    FILL_FACTOR,
    FILL_GAIN_STOPS,
    FILTER_GAIN_STOPS,
    GRADE_GAIN_STOPS,
    OWN_GAIN_SD_STOPS,
    OWN_GAIN_STOPS,
    PREEXPOSURE_GAIN_STOPS,
    TOO_LONG_STOPS,
)

Way = Literal["grade", "filter", "first developer", "pre-exposure", "fill light"]
FilterNow = Literal["none", "00", "0", "1", "2", "3", "4", "5"]
SOFTEST: Final = "00"
SHOWN_STOPS: Final = 0.05  # our judgement: less than that is nothing
OWN_GAIN_SD: Final = 0.25  # our judgement: two step sheets compared, without more said


class OwnGain(Record):
    """What one way gained in the photographer's own test."""

    way: Annotated[Way, Choice(help="Which way.", example="first developer", label="Way")]
    gain_stops: Annotated[float, OWN_GAIN_STOPS]
    gain_sd_stops: Annotated[float | None, OWN_GAIN_SD_STOPS] = None
    note: Annotated[str | None, Words(help="What it was, and which sheets told it.", example="half the developer, sheets 26-018 and 26-024")] = None


class ContrastQuestion(CurveFields):
    """By how much the scene is too long, which paper it is, and what own tests told."""

    too_long_stops: Annotated[float, TOO_LONG_STOPS]
    contrast_of: Annotated[
        Literal["unknown", "graded", "variable contrast"] | None,
        Choice(
            help="Whether the paper has one grade, or changes it with the colour of light.", example="variable contrast", label="Paper's contrast"
        ),
    ] = None
    filter_now: Annotated[FilterNow, Choice(help="Contrast filter in use on variable-contrast paper.", example="none", label="Filter now")] = "none"
    own_gains: Annotated[
        tuple[OwnGain, ...],
        Rows(
            row=OwnGain,
            help="What a way gained in your own tests: stops, doubt, and what it was.",
            example="first developer, 0.8, 0.2, half the developer",
            label="Own tests",
        ),
    ] = ()

    @field_validator("own_gains")
    @classmethod
    def _each_way_once(cls, own_gains: tuple[OwnGain, ...]) -> tuple[OwnGain, ...]:
        ways = [one.way for one in own_gains]
        twice = next((one for one in ways if ways.count(one) > 1), None)
        if twice is not None:
            raise refuse(f"“{twice}” stands in two rows. Give the test that counts, or the mean of both.")
        return own_gains


class ContrastAnswer(Answer):
    """What each way gains, and how it is done; what nobody has measured is unknown."""

    too_long_stops: Annotated[Estimate, TOO_LONG_STOPS]
    grade_gain_stops: Annotated[Estimate, GRADE_GAIN_STOPS]
    filter_gain_stops: Annotated[Estimate, FILTER_GAIN_STOPS]
    developer_gain_stops: Annotated[Estimate, DEVELOPER_GAIN_STOPS]
    preexposure_gain_stops: Annotated[Estimate, PREEXPOSURE_GAIN_STOPS]
    fill_gain_stops: Annotated[Estimate, FILL_GAIN_STOPS]
    fill_light_factor: Annotated[Estimate, FILL_FACTOR]
    ways: Annotated[tuple[str, ...], Plain(help="Each way in words, with what it rests on.", example="A softer grade: 0.6 stop.", label="Ways")] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """One way: how it is called, what it gains, what that rests on, how it is done, and why nothing is known of it where nothing is."""

    called: str
    gain: Estimate
    source: str
    how: str
    unknown: str = ""

    def said(self, needed_stops: float) -> str:
        """As a sentence."""
        value, low, high = self.gain.value, self.gain.low, self.gain.high
        if value is None:
            return f"{self.called}: unknown. {self.unknown}"
        limits = "" if low is None or high is None else f", 80 % limits {low:.1f} to {high:.1f}"
        lacks = needed_stops - value
        enough = "enough" if lacks < SHOWN_STOPS else f"{stops_said(lacks)} too little alone"
        return f"{self.called}: {stops_said(value)}{limits}, {enough} ({self.source}). {self.how}"


def answer(question: ContrastQuestion) -> ContrastAnswer:
    """Own tests before facts and arithmetic; what nobody measured stays unknown."""
    paper = curve_in_hand(question)
    needed = question.too_long_stops
    ways: dict[str, Known] = {
        "grade": _grade(question),
        "filter": _filter(question),
        "first developer": _developer(),
        "pre-exposure": _preexposure(paper),
        "fill light": _fill(needed),
    }
    for test in question.own_gains:
        ways[test.way] = _own(ways[test.way], test)
    return ContrastAnswer(
        too_long_stops=Estimate(value=needed),
        grade_gain_stops=ways["grade"].gain,
        filter_gain_stops=ways["filter"].gain,
        developer_gain_stops=ways["first developer"].gain,
        preexposure_gain_stops=ways["pre-exposure"].gain,
        fill_gain_stops=ways["fill light"].gain,
        fill_light_factor=Estimate(value=fill_factor(needed)),
        ways=tuple(one.said(needed) for one in ways.values()),
        notes=_notes(question, paper),
        sources=tuple(dict.fromkeys(one.source for one in ways.values() if one.gain.value is not None)),
    )


def _own(known: Known, test: OwnGain) -> Known:
    """What an own test told, in place of everything else."""
    sd = OWN_GAIN_SD if test.gain_sd_stops is None else test.gain_sd_stops
    source = f"your own test: {test.note}" if test.note else "your own test"
    return replace(known, gain=around(test.gain_stops, sd), source=source)


def _grade(question: ContrastQuestion) -> Known:
    """The next softer grade, where papers come in grades."""
    called, how = "A softer grade", "Another paper has another speed too: test it."
    if question.contrast_of == "variable contrast":
        return Known(called, Estimate(), "", how, "This paper changes its contrast by filters, not by grade.")
    if question.grade is None:
        return Known(called, Estimate(), "", how, "Say which grade the paper has.")
    if question.grade < 1:
        return Known(called, Estimate(), "", how, "There is no softer grade to be had.")
    now, softer = (range_of_grade(one)[0] * STOP_LOG10 for one in (question.grade, question.grade - 1))
    source = f"{fact('grades', 'grade_2').says}, as negatives; its doubt is our judgement"
    return Known(called, around(softer_gain_stops(now, softer), fact("contrast", "step_to_softer").sd), source, how)


def _filter(question: ContrastQuestion) -> Known:
    """The softest filter, on paper that answers to it."""
    called = "The softest filter, if the paper has variable contrast" if question.contrast_of in {None, "unknown"} else "The softest filter"
    how = "In front of the lens it costs light by its own factor on this paper, which only a test tells."
    if question.contrast_of == "graded":
        return Known(called, Estimate(), "", how, "A filter does not change a paper of one grade.")
    now, softest = fact("contrast", f"filter_{question.filter_now}"), fact("contrast", f"filter_{SOFTEST}")
    source = f"{softest.says}, as negatives; its doubt is our judgement"
    return Known(called, around(softer_gain_stops(now.value, softest.value), fact("contrast", "filter_elsewhere").sd), source, how)


def _developer() -> Known:
    """A softer first developer, of which nothing is published for reversed paper that we know of."""
    unknown = "We know of no published figure for reversed paper. Two step sheets, one in each developer, tell it: the difference of their ranges."
    return Known("A softer first developer", Estimate(), "", "The speed changes with it: take the EI from its own step sheet.", unknown)


def _preexposure(paper: CurveInHand) -> Known:
    """A pre-exposure that costs as much of the black as is given up unasked: between what stays clear and what a step sheet would tell."""
    lost = fact("scene", "black_lost").value
    strength = preexposure_for_loss_log10(paper.curve, lost)
    called, how = "Pre-exposure", f"It opens shadows only, at {lost:.2f} of the deepest black, and they come out flat."
    if strength is None:
        return Known(called, Estimate(), "", how, "The paper's black is too weak to give anything up.")
    effect = effect_of(paper, strength)
    clear, flat = effect.clear_gain, effect.range_gain
    ends = [one for each in (clear, flat) for one in (each.value, each.low, each.high) if one is not None]
    middle = ((clear.value or 0.0) + (flat.value or 0.0)) / 2
    source = f"computed on the paper's curve: {paper.source}"
    return Known(called, Estimate(value=middle, low=min(ends), high=max(ends), percent=80), source, how)


def _fill(needed_stops: float) -> Known:
    """Light in the shadows, by the meter."""
    more = fill_factor(needed_stops)
    how = (
        f"Add {more:.1f} times the light that falls in the shadow already, until a reading there is {stops_said(needed_stops)} higher. "
        "It opens what it reaches: the near side, not the far wall."
    )
    return Known("Fill light", around(needed_stops, fact("contrast", "fill_metered").sd, least=0.0), "arithmetic; the doubt is our judgement", how)


def _notes(question: ContrastQuestion, paper: CurveInHand) -> tuple[Remark, ...]:
    """What is worth saying."""
    notes = list(paper.notes)
    if question.too_long_stops < SHOWN_STOPS:
        notes.append(remark(Note.SCENE_FITS))
    return tuple(notes)


CONTRAST: Final = Operation(
    name="exposure.contrast",
    version=1,
    asks="The scene is too long for the paper: what does each way out gain?",
    question=ContrastQuestion,
    answer=ContrastAnswer,
    compute=answer,
    examples={
        "too long by 1.2 stops": {"too_long_stops": 1.2, "contrast_of": "graded", "grade": 3},
        "variable contrast, own developer test": {
            "too_long_stops": 1.2,
            "contrast_of": "variable contrast",
            "filter_now": "2",
            "range_stops": 3.4,
            "range_sd_stops": 0.2,
            "own_gains": "first developer,0.8,0.2,half the developer",
        },
        "nothing known": {"too_long_stops": 0.5},
    },
)
