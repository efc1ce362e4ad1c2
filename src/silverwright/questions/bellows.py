"""How much longer do I expose because the lens is racked out?"""

from math import log2
from typing import Annotated, Final

from silverwright.asking.operation import Answer, Estimate, Operation, Question
from silverwright.exposure.bellows import bellows_factor
from silverwright.vocabulary import BELLOWS_FACTOR, BELLOWS_STOPS, EXTENSION_MM, FOCAL_MM


class BellowsQuestion(Question):
    """The lens and how far it is racked out."""

    focal_mm: Annotated[float, FOCAL_MM]
    extension_mm: Annotated[float, EXTENSION_MM]


class BellowsAnswer(Answer):
    """How much longer."""

    factor: Annotated[Estimate, BELLOWS_FACTOR]
    bellows_stops: Annotated[Estimate, BELLOWS_STOPS]


def answer(question: BellowsQuestion) -> BellowsAnswer:
    """Magnification from the extension, then the factor."""
    factor = bellows_factor(question.extension_mm / question.focal_mm - 1)
    return BellowsAnswer(factor=Estimate(value=factor), bellows_stops=Estimate(value=log2(factor)))


BELLOWS: Final = Operation(
    name="exposure.bellows",
    version=1,
    asks="How much longer do I expose because the lens is racked out?",
    question=BellowsQuestion,
    answer=BellowsAnswer,
    compute=answer,
    examples={"half life size": {"focal_mm": 210, "extension_mm": 315}},
)
