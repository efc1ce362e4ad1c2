"""How long do I expose each strip when the dark slide is pushed on?"""

from collections.abc import Sequence
from math import log2
from typing import Annotated, Final, Literal

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Operation, refuse, remark
from silverwright.exposure.strips import slide_times_s, strip_totals_s, strips_apart_s, strips_effective_s
from silverwright.notes import Note
from silverwright.questions.reciprocity import ReciprocityFields, reciprocity_of
from silverwright.units import SECOND, STOP
from silverwright.vocabulary import EFFECTIVE_S, GIVE_S, LONGEST_S, SHORTEST_S, STEP_STOPS, STRIP_S


class StripsQuestion(ReciprocityFields):
    """From which time to which, in how many strips."""

    shortest_s: Annotated[float, SHORTEST_S]
    longest_s: Annotated[float, LONGEST_S]
    strips: Annotated[Literal["2", "3", "4", "5", "6", "7", "8", "9"], Choice(help="How many strips.", example="5", label="Strips")] = "5"

    @field_validator("longest_s")
    @classmethod
    def _longer(cls, longest_s: float, seen: ValidationInfo) -> float:
        shortest_s = seen.data.get("shortest_s")
        if shortest_s is not None and longest_s <= shortest_s:
            raise refuse(f"The longest strip must get more than the shortest, {SECOND.show(shortest_s)}.")
        return longest_s


class StripsAnswer(Answer):
    """What to give, what each strip then got, and what that amounts to."""

    give_s: Annotated[Sequence[float], GIVE_S]
    strip_s: Annotated[Sequence[float], STRIP_S]
    effective_s: Annotated[Sequence[float], EFFECTIVE_S]
    step_stops: Annotated[Estimate, STEP_STOPS]


def answer(question: StripsQuestion) -> StripsAnswer:
    """Equal steps in what is given; what each strip amounts to by reciprocity, its pieces taken as one exposure."""
    count = int(question.strips)
    totals = strip_totals_s(question.shortest_s, question.longest_s, count)
    give = slide_times_s(totals)
    law = reciprocity_of(question)
    effective, apart = strips_effective_s(give, law.needed), strips_apart_s(give, law.needed)
    notes = [remark(Note.SLIDE, first=SECOND.show(give[0]))]
    if effective[-1] < totals[-1]:
        notes.append(
            remark(
                Note.INTERRUPTED,
                given=SECOND.show(totals[-1]),
                effective=SECOND.show(effective[-1]),
                apart=SECOND.show(apart[-1]),
                stops=STOP.show(log2(apart[-1] / effective[-1])),
            )
        )
    return StripsAnswer(
        give_s=give,
        strip_s=totals,
        effective_s=effective,
        step_stops=Estimate(value=log2(totals[1] / totals[0])),
        notes=tuple(notes),
        sources=(law.source, "webb1950, abstract"),
    )


STRIPS: Final = Operation(
    name="exposure.strips",
    version=1,
    asks="How long do I expose each strip when the dark slide is pushed on?",
    question=StripsQuestion,
    answer=StripsAnswer,
    compute=answer,
    examples={"five half stops": {"shortest_s": 8, "longest_s": 32, "strips": "5"}},
)
