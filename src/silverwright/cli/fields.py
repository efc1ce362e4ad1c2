"""One option for each field of a record, and what was typed into them."""

import sys
from collections.abc import Mapping
from errno import EFBIG, ENOENT
from pathlib import Path
from typing import TYPE_CHECKING, get_args

import click

from silverwright.errors import BadQuestion, Fault, UnknownName

if TYPE_CHECKING:
    from pydantic import BaseModel

    from silverwright.asking.fields import Mark

LONGEST_FILE: int = 1 << 20  # our judgement: a pasted table is some kilobytes; a megabyte is another file


def option_name(field: str) -> str:
    """`focal_mm` is `--focal-mm`: the same word as in Python and over HTTP, and it says what a bare number means."""
    return "--" + field.replace("_", "-")


def options_of(record: "type[BaseModel]") -> list[click.Parameter]:
    """The options of a command that fills in this record."""
    from silverwright.asking.fields import fields_of

    return [
        click.Option([option_name(name), name], help=_help(record, name, mark), metavar=_metavar(record, name, mark))
        for name, mark in fields_of(record).items()
    ]


def read_typed(record: "type[BaseModel]", typed: Mapping[str, str | None]) -> dict[str, str]:
    """What was typed, with the files that `@name` points to read; a file that cannot be read is a fault beside all others."""
    from silverwright.asking.fields import Upload, fields_of

    given: dict[str, str] = {}
    faults: list[Fault] = []
    marks = fields_of(record)
    for name, text in typed.items():
        if text is None:
            continue
        if isinstance(marks.get(name), Upload):
            try:
                given[name] = handed_in(text)
            except OSError as error:
                faults.append(Fault(name, text, f"The file {text} cannot be read: {error.strerror}."))
            continue
        if not text.startswith("@"):
            given[name] = text
            continue
        try:
            given[name] = _file(text[1:])
        except UnicodeDecodeError:
            faults.append(Fault(name, text, f"The file {text[1:]} holds no text."))
        except OSError as error:
            faults.append(Fault(name, text, f"The file {text[1:]} cannot be read: {error.strerror}."))
    if faults:
        try:
            record.model_validate(given)
        except BadQuestion as bad:
            faults += [fault for fault in bad.faults if fault.field not in {one.field for one in faults}]
        raise BadQuestion(faults)
    return given


def handed_in(name: str) -> str:
    """A file is kept byte for byte, and goes on by its SHA-256; what is none may be the SHA-256 of one that is kept already."""
    from silverwright.book.files import find_file, keep_open

    try:
        with Path(name).expanduser().open("rb") as file:
            return keep_open(file).sha256
    except FileNotFoundError:
        try:
            return name if find_file(name) else ""
        except UnknownName:
            raise FileNotFoundError(ENOENT, "there is no such file") from None


def _file(name: str) -> str:
    """The text of a file, or of what is piped in where the name is `-`."""
    if name == "-":
        text = sys.stdin.read(LONGEST_FILE + 1)
    else:
        with Path(name).open(encoding="utf-8-sig") as file:
            text = file.read(LONGEST_FILE + 1)
    if len(text) > LONGEST_FILE:
        raise OSError(EFBIG, "it is too long for a table")
    return text


def _help(record: "type[BaseModel]", name: str, mark: "Mark") -> str:
    """What the field means, and what stands there when nothing is typed."""
    info = record.model_fields[name]
    if info.is_required():
        return f"{mark.help} Needed."
    return mark.help if info.default in (None, "", (), False) else f"{mark.help} Without it: {info.default}."


def _metavar(record: "type[BaseModel]", name: str, mark: "Mark") -> str:
    """What stands behind the option: a unit, the words to choose from, a table, a day."""
    from silverwright.asking.fields import Choice, Flag, Moment, Quantity, Thing, Upload
    from silverwright.asking.rows import Rows

    if isinstance(mark, Quantity):
        return f"[{mark.unit.sign or 'number'}]"
    if isinstance(mark, Choice):
        return f"[{'|'.join(choices_of(record.model_fields[name].annotation))}]"
    if isinstance(mark, Thing):
        return f"[{mark.kind}]"
    return {Rows: "[table|@file]", Flag: "[yes|no]", Moment: "[day]", Upload: "[file]"}.get(type(mark), "[words]")


def choices_of(annotation: object) -> list[str]:
    """The words of a `Literal`, also inside `... | None`."""
    found = [part for part in get_args(annotation) if isinstance(part, str)]
    return found or [word for part in get_args(annotation) for word in choices_of(part)]
