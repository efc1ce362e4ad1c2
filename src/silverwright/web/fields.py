"""A record's fields as a form shows them: label, help, what was typed, what is wrong with it."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, get_args

from django.http import QueryDict
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from silverwright.asking.fields import Choice, Flag, Mark, Quantity, Thing, Words, fields_of, label_of
from silverwright.asking.rows import Rows
from silverwright.asking.show import as_typed, show
from silverwright.errors import Fault

Kind = Literal["line", "lines", "choice"]
Things = Callable[[str], Sequence[str]]
NOTHING: Final[Mapping[str, str]] = {}
ROWS_OF_TABLE: Final = 6  # our judgement: enough to see that a table goes there
ROWS_OF_TEXT: Final = 3  # our judgement: a remark, not a letter


@dataclass(frozen=True, slots=True)
class Option:
    """One of the words to choose."""

    value: str
    label: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Field:
    """Everything that `parts/field.html` shows."""

    name: str
    label: str
    help: str
    kind: Kind
    typed: str
    sign: str = ""
    placeholder: str = ""
    problem: str = ""
    rows: int = 1
    wide: bool = False
    choices: tuple[Option, ...] = ()
    recall: Literal["on", "off"] = "off"  # on: the browser puts back what was typed after a reload or "back"; where the address holds it, off


def fields(  # noqa: PLR0913 (four of them by name)
    record: type[BaseModel],
    typed: Mapping[str, str],
    faults: Mapping[str, Fault],
    *,
    only: Iterable[str] | None = None,
    things: Things | None = None,
    unsaid: Mapping[str, str] = NOTHING,
) -> list[Field]:
    """
    The fields of a record, or those named in that order.

    `things` tells what the book has of a kind: `things("lens")`. `unsaid` gives words to an empty choice, for fields that something else fills in.
    """
    marks = fields_of(record)
    shown = []
    for name in only or marks:
        text = typed.get(name, "")
        problem = faults[name].problem if name in faults else ""
        field = _field(name, marks[name], record.model_fields[name], text, things, problem)
        shown.append(_may_stay_unsaid(field, unsaid[name]) if name in unsaid else field)
    return shown


def sent_text(sent: QueryDict) -> dict[str, str]:
    """Everything that a form sent; an empty field says nothing."""
    return {name: text for name in sent if (text := str(sent[name])).strip()}


def typed_in(sent: Mapping[str, str], record: type[BaseModel]) -> dict[str, str]:
    """What of it belongs to a record, in the record's order."""
    return {name: sent[name] for name in record.model_fields if name in sent}


def written(record: type[BaseModel], given: Mapping[str, object]) -> dict[str, str]:
    """What a form holds when somebody else has filled it in: an example, or what was recorded before."""
    whole = {name: int(value) if isinstance(value, float) and value.is_integer() else value for name, value in given.items()}
    return as_typed({name: value for name, value in whole.items() if name in record.model_fields and value is not None})


def by_field(faults: Iterable[Fault]) -> dict[str, Fault]:
    """Each field's fault."""
    return {fault.field: fault for fault in faults}


def _one_number(mark: Mark) -> bool:
    """A row of numbers that is mostly a single one is typed in a line."""
    return isinstance(mark, Quantity) and str(mark.example).isdigit()


def _field(name: str, mark: Mark, info: FieldInfo, text: str, things: Things | None, problem: str) -> Field:  # noqa: PLR0913, PLR0917 (one place asks it)
    choices = _choices(mark, info, text, things)
    lines = (info.annotation == tuple[float, ...] and not _one_number(mark)) or isinstance(mark, Rows) or (isinstance(mark, Words) and mark.lines)
    offered = isinstance(mark, Choice | Flag) or (isinstance(mark, Thing) and bool(choices))
    return Field(
        name=name,
        label=label_of(name, mark),
        help=_help(mark),
        kind="choice" if offered else "lines" if lines else "line",
        typed=text,
        sign=mark.unit.sign if isinstance(mark, Quantity) and not lines else "",
        placeholder=_placeholder(mark, info),
        problem=problem,
        rows=ROWS_OF_TABLE if isinstance(mark, Rows) else ROWS_OF_TEXT if lines else 1,
        wide=lines,
        choices=choices,
    )


def _may_stay_unsaid(field: Field, words: str) -> Field:
    choices = [replace(option, chosen=option.value == field.typed) for option in field.choices if option.value]
    return replace(field, choices=(Option("", words, not field.typed), *choices))


def _help(mark: Mark) -> str:
    """What the field means; a table names its columns, shows a line, and tells the words that a column knows."""
    return _help_of_rows(mark) if isinstance(mark, Rows) else mark.help


def _help_of_rows(mark: Rows) -> str:
    columns = {name: label_of(name, column) for name, column in fields_of(mark.row).items()}
    such = next((line for line in str(mark.example).splitlines() if not columns.keys() & {cell.strip() for cell in line.split(",")}), "")
    parted = f", such as “{such}”" if such else ""
    told = [mark.help, f"One line each: {', '.join(label.lower() for label in columns.values())}{parted}."]
    for name, label in columns.items():
        if isinstance(fields_of(mark.row)[name], Choice):
            told.append(f"{label}: {', '.join(literal_words(mark.row.model_fields[name].annotation))}.")
    return " ".join(told)


def _placeholder(mark: Mark, info: FieldInfo) -> str:
    """What is used when nothing is typed."""
    if info.is_required() or info.default in {None, "", ()}:
        return ""
    shown = show(mark, info.default)
    return shown.removesuffix(mark.unit.sign).strip() if isinstance(mark, Quantity) else shown


def _choices(mark: Mark, info: FieldInfo, text: str, things: Things | None) -> tuple[Option, ...]:
    needed = info.is_required()
    match mark:
        case Choice():
            words = literal_words(info.annotation)
            blank = needed or info.default is None
            chosen = text or ("" if blank else str(info.default))
        case Flag():
            words, blank = ["yes", "no"], needed or info.default is None
            chosen = text or ("" if blank else "yes" if info.default else "no")
        case Thing() if things is not None:
            words, blank, chosen = list(things(mark.kind)), True, text
            if text and text not in words:
                words = [text, *words]  # what was typed stays, though the book does not know it
            if not words:
                return ()  # nothing to choose from: it is typed
        case _:
            return ()
    options = [Option(word, word, word == chosen) for word in words]
    return tuple([Option("", "not said" if not needed else "choose", not chosen), *options] if blank else options)


def literal_words(annotation: object) -> list[str]:
    """The words of a `Literal`, also inside `... | None`."""
    found = [part for part in get_args(annotation) if isinstance(part, str)]
    return found or [word for part in get_args(annotation) for word in literal_words(part)]
