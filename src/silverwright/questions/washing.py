"""How often do I fill and dump to wash these sheets?"""

from collections.abc import Sequence
from typing import Annotated, ClassVar, Final

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Operation, Remark, remark
from silverwright.chemistry.washing import fills_to_share, left_after_fills
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import says
from silverwright.questions.papersheet import Held, SheetFields, area_m2, held_by, spread_stops, weighing
from silverwright.units import GRAM_PER_SQUARE_METRE, SECOND
from silverwright.vocabulary_chemistry import (
    FILL_ML,
    FILL_NUMBER,
    FILLS,
    FILLS_NEEDED,
    LEFT_IN_PAPER,
    LEFT_ON_AREA,
    LEFT_THEN,
    ON_AREA_THEN,
    SOAK_S,
    THIOSULPHATE,
    WASH_S,
    WATER_NEEDED_ML,
)

MILLI: Final = 1000.0  # arithmetic
LAST_SHOWN: Final = 6  # our judgement: so many fills are told one by one where fewer were asked for
FILLS_FROM: Final = 0.5  # arithmetic: the least number of fills that rounds to one
LEAST_G_PER_L: Final = 1e-9  # our judgement: less thiosulphate than that is none


class WashingQuestion(SheetFields):
    """The sheets, the water of each fill, and how strong what they bring along is."""

    fill_ml: Annotated[float, FILL_ML]
    fills: Annotated[float, FILLS] = 4
    soak_s: Annotated[float | None, SOAK_S] = None
    thiosulphate_g_per_l: Annotated[float | None, THIOSULPHATE] = None


class WashingAnswer(Answer):
    """What the fills leave, how many it takes, and how it goes from fill to fill."""

    table: ClassVar[tuple[str, ...]] = ("fill_number", "left_then_percent", "left_then_g_per_m2")
    left_percent: Annotated[Estimate, LEFT_IN_PAPER]
    left_g_per_m2: Annotated[Estimate, LEFT_ON_AREA]
    fills_needed: Annotated[Estimate, FILLS_NEEDED]
    water_needed_ml: Annotated[Estimate, WATER_NEEDED_ML]
    wash_s: Annotated[Estimate, WASH_S]
    fill_number: Annotated[Sequence[float], FILL_NUMBER] = ()
    left_then_percent: Annotated[Sequence[float], LEFT_THEN] = ()
    left_then_g_per_m2: Annotated[Sequence[float], ON_AREA_THEN] = ()


def answer(question: WashingQuestion) -> WashingAnswer:
    """Each fill comes nearly even with what the sheets hold: v / (V + v) of it stays, and what did not come out in time."""
    carried = held_by(question)
    held = [carried.value * float(2 ** (side * EIGHTY_PERCENT_SD * carried.sd_stops)) * max(1.0, question.sheets) for side in (-1, 0, 1)]
    even = _even()
    low, value, high = (left_after_fills(one, question.fill_ml, question.fills, share) for one, share in zip(held, even, strict=True))
    strong = _thiosulphate(question)
    each_m2 = [one / max(1.0, question.sheets) / area_m2(question.sheet_size) / MILLI for one in held]
    on_area = [share * litres * g_per_l for share, litres, g_per_l in zip((low, value, high), each_m2, strong, strict=True)]
    top = None if question.paper_base != "RC" else 1.0
    shown = [float(number) for number in range(max(LAST_SHOWN, round(question.fills)) + 1)]
    left_then = [left_after_fills(held[1], question.fill_ml, number, even[1]) for number in shown]
    return WashingAnswer(
        left_percent=Estimate(value=100 * value, low=100 * low, high=None if top is None else 100 * high, percent=80),
        left_g_per_m2=Estimate(value=on_area[1], low=on_area[0], high=None if top is None else on_area[2], percent=80),
        fills_needed=_needed(question, held, each_m2, strong),
        water_needed_ml=Estimate(value=question.fills * question.fill_ml),
        wash_s=Estimate(value=question.fills * (question.soak_s or fact("carry", "fill_soak").value)),
        fill_number=tuple(shown),
        left_then_percent=tuple(100 * one for one in left_then),
        left_then_g_per_m2=tuple(one * each_m2[1] * strong[1] for one in left_then),
        notes=_notes(question, held, carried),
        sources=(says(fact("carry", "thiosulphate_limit")), carried.source, "torzynski2004"),
    )


def _even() -> tuple[float, float, float]:
    """How near to even a fill comes, from the best to the worst."""
    usual = fact("carry", "fill_even")
    return usual.high or 1.0, usual.value, usual.low or usual.value


def _thiosulphate(question: WashingQuestion) -> tuple[float, float, float]:
    """How strong what the sheets carry in is, with its limits."""
    usual = fact("carry", "fixer_thiosulphate")
    told = question.thiosulphate_g_per_l
    return (usual.low or usual.value, usual.value, usual.high or usual.value) if told is None else (told, told, told)


def _needed(question: WashingQuestion, held: Sequence[float], each_m2: Sequence[float], strong: Sequence[float]) -> Estimate:
    """Whole fills until the limit; more where fibre holds it fast."""
    limit = fact("carry", "thiosulphate_limit").value
    low, value, high = (
        float(fills_to_share(one, question.fill_ml, limit / max(LEAST_G_PER_L, litres * g_per_l), share))
        for one, litres, g_per_l, share in zip(held, each_m2, strong, _even(), strict=True)
    )
    return Estimate(value=value, low=low, high=high if question.paper_base == "RC" else None, percent=80)


def _notes(question: WashingQuestion, held: Sequence[float], carried: Held) -> tuple[Remark, ...]:
    """What the sum does not know, and what the same water could do."""
    notes = [remark(Note.WASH_LIMIT, limit=GRAM_PER_SQUARE_METRE.show(fact("carry", "thiosulphate_limit").value))]
    if question.paper_base != "RC":
        notes.append(remark(Note.WASH_FIBRE))
    if question.paper_base != "unknown":
        usual = fact("carry", "rc_wash" if question.paper_base == "RC" else "fibre_wash").value
        base = "resin-coated paper" if question.paper_base == "RC" else "fibre-based paper at the least"
        notes.append(remark(Note.WASH_RUNNING, time=SECOND.show(usual), base=base))
    if question.fills >= FILLS_FROM:
        fills, fill_ml, share = question.fills, question.fill_ml, _even()[1]
        halved = left_after_fills(held[1], fill_ml / 2, 2 * fills, share) / left_after_fills(held[1], fill_ml, fills, share)
        notes.append(remark(Note.WASH_SMALLER_FILLS, share=_share_said(halved)))
    lacks = [] if carried.own else [f"{weighing()}, ±{carried.sd_stops:.2f} stop"]
    if question.thiosulphate_g_per_l is None:
        usual_fixer = fact("carry", "fixer_thiosulphate")
        lacks.append(f"the strength of the last bath, ±{spread_stops(usual_fixer):.2f} stop")
    return (*notes, remark(Note.LIMITS_HOLD, what="; ".join(lacks))) if lacks else tuple(notes)


def _share_said(share: float) -> str:
    """`a twelfth`, in figures: `1/12`, or in percent where it is not small."""
    return f"1/{1 / share:.0f}" if 0 < share < FILLS_FROM else f"{100 * share:.0f} %"


WASHING: Final = Operation(
    name="chemistry.washing",
    version=1,
    asks="How often do I fill and dump to wash these sheets?",
    question=WashingQuestion,
    answer=WashingAnswer,
    compute=answer,
    examples={
        "four sheets in a tray": {"sheet_size": "4x5 in", "sheets": 4, "paper_base": "RC", "fill_ml": 500, "fills": 3},
        "fibre, after a rinse": {"sheet_size": "8x10 in", "sheets": 2, "paper_base": "fibre", "fill_ml": "2 L", "thiosulphate_g_per_l": 9},
        "a sheet that was weighed": {"sheet_size": "8x10 in", "paper_base": "RC", "fill_ml": "1 L", "dry_g": 12.4, "drained_g": 16.1},
    },
)
