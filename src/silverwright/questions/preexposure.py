"""What does a weak even exposure before the picture do, and how is it given?"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import hypot, log2, log10
from typing import Annotated, ClassVar, Final

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Operation, Remark, refuse, remark
from silverwright.errors import BadQuestion, Fault
from silverwright.exposure.papercurve import density_at
from silverwright.exposure.preexposure import (
    black_lost_density,
    highlight_cost_stops,
    picture_less_stops,
    preexposure_for_loss_log10,
    preexposure_s,
    raised_log10,
    range_gain_stops,
    shadow_gain_stops,
)
from silverwright.exposure.reciprocity import effective_s
from silverwright.exposure.scene import image_range_log10
from silverwright.facts.load import fact, facts
from silverwright.notes import Note
from silverwright.questions.entry import around_stops, stops_said
from silverwright.questions.paper import Tone
from silverwright.questions.papercurve import STOP_LOG10, CurveFields, CurveInHand, curve_in_hand, rules_from, tone_log10
from silverwright.questions.reciprocity import ReciprocityFields, reciprocity_of
from silverwright.records import PaperCurve
from silverwright.vocabulary import APERTURE_F, EXPOSURE_S, READING_EV
from silverwright.vocabulary_camera import (
    AFTER_DENSITY,
    AFTER_HIGH,
    AFTER_LOW,
    BEFORE_DENSITY,
    BLACK_COST,
    BLACK_LOST,
    CARD_AT_S,
    CARD_EV,
    CARD_F,
    CARD_S,
    HIGHLIGHT_COST_STOPS,
    IMAGE_STOPS,
    LESS_STOPS,
    PICTURE_S,
    PREEXPOSURE_PERCENT,
    RANGE_GAIN_STOPS,
    SCENE_STOPS,
    SHADOW_GAIN_STOPS,
    TONES_STOPS,
    UNDER_GREY_STOPS,
)

LADDER: Final = (-4.0, -3.0, -2.0, -1.0, 0.0, 1.0, 2.0)  # our judgement: from below any paper's black to above its white
SMALLER: Final = 3  # our judgement: three smaller apertures are choice enough
WHOLE_STOP: Final = 0.1  # our judgement: marks this near to a whole stop away are whole stops
SMALLEST_S: Final = 1e-9  # our judgement: no shutter and no hand gives less


class PreexposureQuestion(CurveFields, ReciprocityFields):
    """The paper; how strong the pre-exposure is, or what it may cost in the black; and if it shall be timed, a card and the picture."""

    preexposure_percent: Annotated[float | None, PREEXPOSURE_PERCENT] = None
    black_lost_density: Annotated[float | None, BLACK_LOST] = None
    scene_stops: Annotated[float | None, SCENE_STOPS] = None
    tones_stops: Annotated[tuple[float, ...], TONES_STOPS] = ()
    reading_tone: Annotated[
        Tone, Choice(help="What the reading is of: the EI then is the one that makes this tone right.", example="skin", label="The reading is of")
    ] = "mid-grey"
    reading_ev: Annotated[float | None, READING_EV] = None
    exposure_s: Annotated[float | None, EXPOSURE_S] = None
    aperture_f: Annotated[float | None, APERTURE_F] = None
    card_ev: Annotated[float | None, CARD_EV] = None

    @field_validator("black_lost_density")
    @classmethod
    def _one_strength(cls, black_lost_density: float | None, seen: ValidationInfo) -> float | None:
        if black_lost_density is not None and seen.data.get("preexposure_percent") is not None:
            raise refuse("The strength is told in two ways, as percent of the mid-grey and by what it may cost. Leave one of them out.")
        return black_lost_density

    @field_validator("card_ev")
    @classmethod
    def _a_picture_for_the_card(cls, card_ev: float | None, seen: ValidationInfo) -> float | None:
        if card_ev is None:
            return None
        for name, words in (("reading_ev", "the reading that the picture was planned with"), ("exposure_s", "the planned time of the picture")):
            if seen.data.get(name, 0) is None:
                raise refuse(f"To time the card, {words} is needed too.", field=name)
        return card_ev


class PreexposureAnswer(Answer):
    """What it does to the shadows, to the highlights and to the black; how to give it; and what some parts become without and with it."""

    table: ClassVar[tuple[str, ...]] = ("tones_stops", "before_density", "after_density", "after_low", "after_high")
    preexposure_percent: Annotated[Estimate, PREEXPOSURE_PERCENT]
    under_grey_stops: Annotated[Estimate, UNDER_GREY_STOPS]
    black_cost_density: Annotated[Estimate, BLACK_COST]
    shadow_gain_stops: Annotated[Estimate, SHADOW_GAIN_STOPS]
    range_gain_stops: Annotated[Estimate, RANGE_GAIN_STOPS]
    highlight_cost_stops: Annotated[Estimate, HIGHLIGHT_COST_STOPS]
    image_stops: Annotated[Estimate | None, IMAGE_STOPS] = None
    less_stops: Annotated[Estimate, LESS_STOPS]
    picture_s: Annotated[Estimate | None, PICTURE_S] = None
    card_s: Annotated[Estimate | None, CARD_S] = None
    card_f: Annotated[Sequence[float], CARD_F] = ()
    card_at_s: Annotated[Sequence[float], CARD_AT_S] = ()
    tones_stops: Annotated[Sequence[float], TONES_STOPS] = ()
    before_density: Annotated[Sequence[float], BEFORE_DENSITY] = ()
    after_density: Annotated[Sequence[float], AFTER_DENSITY] = ()
    after_low: Annotated[Sequence[float], AFTER_LOW] = ()
    after_high: Annotated[Sequence[float], AFTER_HIGH] = ()


@dataclass(frozen=True, slots=True)
class Effect:
    """A pre-exposure on this paper: its strength against the mid-grey, and what it gains and costs."""

    strength_log10: float
    black_cost: Estimate
    clear_gain: Estimate
    range_gain: Estimate
    highlight_cost: Estimate


def effect_of(paper: CurveInHand, strength_log10: float) -> Effect:
    """What it does, each figure as unsure as the curve."""
    step = fact("scene", "separation_step").value * STOP_LOG10
    part = fact("curve", "part_of_net").value

    def told(figure: Callable[[PaperCurve], float]) -> Estimate:
        value, half = figure(paper.curve), EIGHTY_PERCENT_SD * paper.sd(figure)
        return Estimate(value=value, low=max(0.0, value - half), high=value + half, percent=80)

    return Effect(
        strength_log10,
        told(lambda curve: black_lost_density(curve, strength_log10)),
        told(lambda curve: shadow_gain_stops(curve, strength_log10, step)),
        told(lambda curve: range_gain_stops(curve, strength_log10, part)),
        told(lambda curve: highlight_cost_stops(curve, strength_log10)),
    )


def usual_strength_log10(paper: CurveInHand, black_lost: float | None) -> float:
    """The strength that costs so much of the black, or as much as is given up unasked."""
    lost = fact("scene", "black_lost").value if black_lost is None else black_lost
    found = preexposure_for_loss_log10(paper.curve, lost)
    if found is None:
        deep = abs(paper.curve.density[0] - paper.curve.density[-1])
        problem = (
            f"From its deepest black to its white this paper has {deep:.2f} only: {lost:g} cannot be given up. Give less, or the strength in percent."
        )
        raise BadQuestion([Fault("black_lost_density", f"{lost:g}", problem)])
    most = PREEXPOSURE_PERCENT.high
    if 100 * float(10**found) > most:
        problem = f"To lose {lost:g} of the black takes more than {most:g} % of what a mid-grey gets, and little of the picture is left. Give less."
        raise BadQuestion([Fault("black_lost_density", f"{lost:g}", problem)])
    return found


def answer(question: PreexposureQuestion) -> PreexposureAnswer:
    """Light adds on the paper; its own curve tells what that makes of each tone."""
    paper = curve_in_hand(question)
    if question.preexposure_percent is not None:
        strength = log10(question.preexposure_percent / 100)
    else:
        strength = usual_strength_log10(paper, question.black_lost_density)
    effect = effect_of(paper, strength)
    tones = question.tones_stops or LADDER
    less = picture_less_stops(float(10**strength))
    after = [density_at(paper.curve, raised_log10((one - less) * STOP_LOG10, strength)) for one in tones]
    metered = _card_metered_s(question, paper, strength)
    card_f, card_at_s = _smaller(question, metered)
    return PreexposureAnswer(
        preexposure_percent=Estimate(value=100 * float(10**strength)),
        under_grey_stops=Estimate(value=-strength / STOP_LOG10),
        black_cost_density=effect.black_cost,
        shadow_gain_stops=effect.clear_gain,
        range_gain_stops=effect.range_gain,
        highlight_cost_stops=effect.highlight_cost,
        image_stops=_image(question, paper, strength),
        less_stops=Estimate(value=less),
        picture_s=_picture_s(question, less),
        card_s=None if metered is None else _card_s(question, metered),
        card_f=card_f,
        card_at_s=card_at_s,
        tones_stops=tones,
        before_density=tuple(density_at(paper.curve, one * STOP_LOG10)[0] for one in tones),
        after_density=tuple(density for density, _, _ in after),
        after_low=tuple(low for _, low, _ in after),
        after_high=tuple(high for _, _, high in after),
        notes=_notes(question, paper, effect),
        sources=tuple(dict.fromkeys((paper.source, "our judgement (arithmetic: light adds)", *rules_from()))),
    )


def _image(question: PreexposureQuestion, paper: CurveInHand, strength_log10: float) -> Estimate | None:
    """How long the scene is on the paper, its brightest part just kept."""
    if question.scene_stops is None:
        return None
    scene_log10 = question.scene_stops * STOP_LOG10

    def stops(curve: PaperCurve) -> float:
        return image_range_log10(scene_log10, float(10 ** (strength_log10 - curve.highlight_log10))) / STOP_LOG10

    value, half = stops(paper.curve), EIGHTY_PERCENT_SD * paper.sd(stops)
    return Estimate(value=value, low=max(0.0, value - half), high=value + half, percent=80)


def _card_metered_s(question: PreexposureQuestion, paper: CurveInHand, strength_log10: float) -> float | None:
    """The card's time before reciprocity, where card and picture were read."""
    if question.card_ev is None or question.reading_ev is None or question.exposure_s is None:
        return None
    metered = effective_s(question.exposure_s, reciprocity_of(question).needed)
    grey_ev = question.reading_ev - tone_log10(paper, question.reading_tone) / STOP_LOG10
    return max(SMALLEST_S, preexposure_s(metered, grey_ev, question.card_ev, float(10**strength_log10)))


def _card_s(question: PreexposureQuestion, metered_s: float) -> Estimate:
    """With reciprocity and the doubt of the card's reading."""
    reciprocity = reciprocity_of(question)
    return around_stops(reciprocity.needed(metered_s), hypot(fact("scene", "card_reading").sd, reciprocity.sd_stops(metered_s)))


def _picture_s(question: PreexposureQuestion, less_stops: float) -> Estimate | None:
    """The picture's own time, so much less, with reciprocity again; as unsure as it was."""
    if question.exposure_s is None:
        return None
    needed = reciprocity_of(question).needed
    return Estimate(value=needed(effective_s(question.exposure_s, needed) / float(2**less_stops)))


def _smaller(question: PreexposureQuestion, metered_s: float | None) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The time for the card at smaller marked apertures, a whole stop apart: a longer time is easier to give."""
    if metered_s is None or question.aperture_f is None:
        return (), ()
    needed = reciprocity_of(question).needed
    marks = {float(key): row.value for key, row in facts("aperture").items()}
    here = marks.get(question.aperture_f, 2 * log2(question.aperture_f))
    found = []
    for down in range(1, SMALLER + 1):
        near = min(marks, key=lambda mark: abs(marks[mark] - here - down))
        if abs(marks[near] - here - down) < WHOLE_STOP:
            found.append((near, needed(metered_s * float(2 ** (marks[near] - here)))))
    return tuple(mark for mark, _ in found), tuple(time_s for _, time_s in found)


def _notes(question: PreexposureQuestion, paper: CurveInHand, effect: Effect) -> tuple[Remark, ...]:
    """What is worth saying."""
    notes = list(paper.notes)
    if question.process == "direct positive":
        notes.append(
            remark(Note.PREEXPOSURE_OPENS_SHADOWS, lost=f"{effect.black_cost.value:.2f}", burnt=stops_said(effect.highlight_cost.value or 0.0))
        )
    else:
        notes.append(remark(Note.PREEXPOSURE_VEILS, veil=f"{effect.black_cost.value:.2f}"))
    if question.card_ev is None:
        notes.append(remark(Note.PREEXPOSURE_BY_CARD))
    notes.append(remark(Note.PREEXPOSURE_UNTRIED))
    return tuple(notes)


PREEXPOSURE: Final = Operation(
    name="exposure.preexposure",
    version=1,
    asks="What does a pre-exposure do, what does it cost, and how do I give it?",
    question=PreexposureQuestion,
    answer=PreexposureAnswer,
    compute=answer,
    examples={
        "for a little of the black": {"range_stops": 3.4, "range_sd_stops": 0.2, "black_lost_density": 0.1, "scene_stops": 5.2},
        "timed with a card": {
            "range_stops": 3.4,
            "range_sd_stops": 0.2,
            "preexposure_percent": 20,
            "reading_ev": 10,
            "exposure_s": 97,
            "aperture_f": "f/22",
            "card_ev": 11.5,
        },
        "a paper negative": {"process": "negative", "preexposure_percent": 10, "tones_stops": "-3 -2 -1 0"},
    },
)
