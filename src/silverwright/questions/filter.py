"""How much longer do I expose because of the filter?"""

from math import hypot
from typing import Annotated, Final

from pydantic import Field

from silverwright.asking.operation import Answer, Estimate, Operation, Question, remark
from silverwright.exposure.filters import combined_factor, filter_density, filter_stops
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import Entry, around, around_stops
from silverwright.records import Stops
from silverwright.units import RATIO
from silverwright.vocabulary import FILTER_DENSITY, FILTER_FACTOR, FILTER_FACTORS, FILTER_STOPS

SOURCE: Final = "wikipedia-filter-factor, table"


def filter_entry(filter_factor: float | None) -> Entry:
    """The filter line of the ledger."""
    if filter_factor is None or filter_factor == 1:
        return Entry("No filter", Stops(0.0), SOURCE, "published")
    stops = Stops(filter_stops(filter_factor), fact("lens", "filter").sd)
    return Entry(f"Filter, factor {RATIO.show(filter_factor)}", stops, SOURCE, "published", (remark(Note.NEUTRAL_ONLY),))


class FilterQuestion(Question):
    """The factors of the filters in front of the lens."""

    filter_factors: Annotated[tuple[float, ...], FILTER_FACTORS, Field(min_length=1)]


class FilterAnswer(Answer):
    """All of them together."""

    factor: Annotated[Estimate, FILTER_FACTOR]
    filter_stops: Annotated[Estimate, FILTER_STOPS]
    density: Annotated[Estimate, FILTER_DENSITY]


def answer(question: FilterQuestion) -> FilterAnswer:
    """Factors multiply; stops and densities add."""
    factor = combined_factor(question.filter_factors)
    entries = [filter_entry(one) for one in question.filter_factors]
    doubt = hypot(*(entry.stops.doubt_stops for entry in entries))
    return FilterAnswer(
        factor=around_stops(factor, doubt),
        filter_stops=around(filter_stops(factor), doubt),
        density=Estimate(value=filter_density(factor)),
        ledger=tuple(entry.line for entry in entries),
        notes=(remark(Note.NEUTRAL_ONLY),),
        sources=(SOURCE,),
    )


FILTER: Final = Operation(
    name="exposure.filter",
    version=1,
    asks="How much longer do I expose because of the filter?",
    question=FilterQuestion,
    answer=FilterAnswer,
    compute=answer,
    examples={"two neutral filters": {"filter_factors": "2 4"}},
)
