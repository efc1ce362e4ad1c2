"""Any answer as a page shows it: every field of it, rounded to read and exact in its value, and what belongs together row by row."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.fields import Quantity, fields_of, label_of
from silverwright.asking.operation import Answer, Estimate
from silverwright.asking.show import show
from silverwright.web.drawn import picture
from silverwright.web.figures import Figure, exact, figure
from silverwright.web.swatch import swatch


@dataclass(frozen=True, slots=True)
class Listed:
    """Sentences of an answer, one below the other."""

    name: str
    label: str
    sentences: Sequence[str]
    exact: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a table, with the tone of its density where it is one; numbers stand to the right."""

    words: str
    tone: str = ""
    number: bool = True


@dataclass(frozen=True, slots=True)
class Shown:
    """The figures of an answer, its sentences, its table, and what is empty, which is for programs only."""

    values: Sequence[Figure]
    lists: Sequence[Listed]
    limits: bool
    empty: Sequence[Figure]
    columns: Sequence[Figure]
    words: frozenset[str]
    rows: Sequence[Sequence[Cell]]
    picture: SafeString


def shown(answer: Answer, tones: Iterable[str] = ()) -> Shown:
    """Everything that an answer says; the columns in `tones` are densities and show how dark they are."""
    told = exact(answer)
    values = _figures(answer, told)
    empty = {one.name for one in values if getattr(answer, one.name) in {None, (), ""}}
    columns = [one for one in values if one.name in answer.table and one.name not in empty]
    lists = [Listed(one.name, one.label, getattr(answer, one.name), one.exact) for one in values if one.name not in empty and _is_told(answer, one)]
    elsewhere = {*empty, *(one.name for one in columns), *(one.name for one in lists)}
    return Shown(
        values=[one for one in values if one.name not in elsewhere],
        lists=lists,
        limits=any(one.low or one.high for one in values),
        empty=[one for one in values if one.name in empty],
        columns=columns,
        words=frozenset(name for name, mark in fields_of(type(answer)).items() if not isinstance(mark, Quantity)),
        rows=list(zip(*(_column(answer, one.name, one.name in tones) for one in columns), strict=True)),
        picture=picture(answer),
    )


def _is_told(answer: Answer, one: Figure) -> bool:
    """Whether a field is a row of sentences."""
    value = getattr(answer, one.name)
    return one.name not in answer.table and isinstance(value, tuple) and all(isinstance(part, str) and part.endswith(".") for part in value)


def _column(answer: Answer, name: str, tone: bool) -> list[Cell]:  # noqa: FBT001 (one place asks it)
    mark = fields_of(type(answer))[name]
    number = isinstance(mark, Quantity)
    return [Cell(show(mark, value), mark_safe(swatch(value)) if tone else "", number) for value in getattr(answer, name)]  # noqa: S308 (drawn from numbers only)


def _figures(answer: Answer, told: Mapping[str, str]) -> list[Figure]:
    values = []
    for name, mark in fields_of(type(answer)).items():
        value = getattr(answer, name)
        if isinstance(value, Estimate):
            values.append(figure(name, mark, value, told[name]))
        else:
            values.append(Figure(name, label_of(name, mark), show(mark, value), "", "", told[name], mark.help))
    return values
