"""Any answer as a page shows it: every field of it, rounded to read and exact in its value, and what belongs together row by row."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from silverwright.asking.fields import fields_of, label_of
from silverwright.asking.operation import Answer, Estimate
from silverwright.asking.show import show
from silverwright.web.figures import Figure, exact, figure


@dataclass(frozen=True, slots=True)
class Shown:
    """The figures of an answer, its table, and what is empty, which is for programs only."""

    values: Sequence[Figure]
    limits: bool
    empty: Sequence[Figure]
    columns: Sequence[Figure]
    rows: Sequence[Sequence[str]]


def shown(answer: Answer) -> Shown:
    """Everything that an answer says."""
    told = exact(answer)
    values = _figures(answer, told)
    empty = [one for one in values if getattr(answer, one.name) in {None, (), ""}]
    columns = [one for one in values if one.name in answer.table and one not in empty]
    marks = fields_of(type(answer))
    rows = zip(*([show(marks[one.name], number) for number in getattr(answer, one.name)] for one in columns), strict=True)
    return Shown(
        values=[one for one in values if one not in empty and one not in columns],
        limits=any(one.low or one.high for one in values),
        empty=empty,
        columns=columns,
        rows=list(rows),
    )


def _figures(answer: Answer, told: Mapping[str, str]) -> list[Figure]:
    values = []
    for name, mark in fields_of(type(answer)).items():
        value = getattr(answer, name)
        if isinstance(value, Estimate):
            values.append(figure(name, mark, value, told[name]))
        else:
            values.append(Figure(name, label_of(name, mark), show(mark, value), "", "", told[name], mark.help))
    return values
