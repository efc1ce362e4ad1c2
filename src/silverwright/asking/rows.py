"""Tables that people paste: with or without a header, with commas, semicolons, tabs or blanks between."""

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from silverwright.asking.fields import Plain, fields_of, label_of

if TYPE_CHECKING:
    from pydantic import BaseModel, GetCoreSchemaHandler
    from pydantic_core.core_schema import CoreSchema

MOST_ROWS: Final = 500  # our judgement: more than any step sheet or bench day

SAME_FRACTION: Final = 1e-9  # arithmetic: what doubles leave of 1/29


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows(Plain):
    """A table (a tuple of row records): one CSV text serves textarea, file, command line and HTTP."""

    row: "type[BaseModel]"

    def __get_pydantic_core_schema__(self, source: Any, handler: "GetCoreSchemaHandler") -> "CoreSchema":  # noqa: ANN401
        from pydantic_core import core_schema as schema

        table = handler(source)
        pasted = schema.union_schema([table, schema.str_schema()])
        return schema.no_info_before_validator_function(lambda given: read_rows(self.row, given), table, json_schema_input_schema=pasted)


def read_rows(row: "type[BaseModel]", given: object) -> object:
    """
    The rows of a pasted table, each as a dict for its record; what is not text is passed on unread.

    The first line may name the columns (by name, or as the page labels them); without it the columns stand in the record's order. Where a
    row needs one number only, a single line of plain numbers is a column: one row for each number.
    """
    if not isinstance(given, str):
        return given
    lines = [line.strip() for line in given.removeprefix("\ufeff").replace("\r", "\n").split("\n") if line.strip()]
    if not lines:
        return ()
    if len(lines) > MOST_ROWS:
        raise ValueError(f"{len(lines)} lines; at most {MOST_ROWS} are read.")
    needed = sum(field.is_required() for field in row.model_fields.values())
    table = [_cells(line, _between(lines)) for line in lines]
    if "," in given and min(len(cells) for cells in table) < needed:
        table = [_cells(line, ",") for line in lines]  # a decimal comma would leave a needed column empty
    names = _header(row, table[0]) or _header(row, lines[:1])
    if names is not None:
        table = table[1:]
    elif len(table) == 1 and needed <= 1 and all(_numeric(cell) for cell in table[0]) and len(fields_of(row)) < len(table[0]):
        table = [[cell] for cell in table[0]]
    columns = names or list(fields_of(row))
    rows = []
    for cells in table:
        if len(cells) > len(columns):
            raise ValueError(f"The line “{' '.join(cells)[:60]}” has {len(cells)} columns; these are asked: {', '.join(columns)}.")
        rows.append({name: cell for name, cell in zip(columns, cells, strict=False) if cell})
    return rows


def _between(lines: list[str]) -> str | None:
    """What separates the cells of this table; nothing means blanks, and then a comma is a decimal one."""
    text = "\n".join(lines)
    for sign in (";", "\t"):
        if sign in text:
            return sign
    body = [line for line in lines if "," in line or all(_numeric(part) for part in line.split())]
    plain = all(_numeric(part) for line in body for part in line.split())
    return None if "," not in text or (plain and "." not in text) else ","


def _cells(line: str, between: str | None) -> list[str]:
    if between is None:
        return line.split()
    return [cell.strip() for cell in next(csv.reader([line], delimiter=between, skipinitialspace=True))]


def _numeric(cell: str) -> bool:
    return bool(cell) and cell.lstrip("+-").replace(".", "", 1).replace(",", "", 1).isdigit()


def _header(row: "type[BaseModel]", cells: list[str]) -> list[str] | None:
    """The columns that the first line names, or nothing when it is a line of values."""
    known: dict[str, str] = {}
    for name, mark in fields_of(row).items():
        known |= {name: name, label_of(name, mark).lower(): name, name.replace("_", " "): name}
    wanted = [known.get(cell.strip().lower()) for cell in cells]
    if not any(wanted):
        return None
    for cell, found in zip(cells, wanted, strict=True):
        if found is None:
            raise ValueError(f"No column is called “{cell}”; these are asked: {', '.join(fields_of(row))}.")
    return [name for name in wanted if name]


def as_lines(row: "type[BaseModel]", rows: Sequence[Mapping[str, object]]) -> str:
    """A table of the book as a hand writes it: numbers short, fractions as fractions, and no header where every cell is a number."""
    names = list(fields_of(row))
    if all(isinstance(one.get(name), int | float) for one in rows for name in names):
        return "\n".join(" ".join(short_number(float(str(one[name]))) for name in names) for one in rows)
    there = [name for name in names if any(one.get(name) is not None for one in rows)]
    return "\n".join([",".join(there), *(in_a_line("" if one.get(name) is None else str(one[name]) for name in there) for one in rows)])


def in_a_line(cells: Iterable[str]) -> str:
    """Cells with commas between; one that holds a comma itself stands in quotes."""
    return ",".join('"{}"'.format(cell.replace('"', '""')) if "," in cell else cell for cell in cells)


def short_number(number: float) -> str:
    """`1/29`, `1.1`, `90`."""
    turned = 1 / number if 0 < number < 1 else 0.0
    whole = round(turned)
    return f"1/{whole}" if whole > 1 and abs(turned / whole - 1) < SAME_FRACTION else f"{number:.6g}"


def write_rows(row: "type[BaseModel]", rows: "tuple[BaseModel, ...]") -> str:
    """The same table as text, so that a page can show again what was typed."""
    names = [name for name in fields_of(row) if any(getattr(one, name) is not None for one in rows)]
    lines = [",".join(names)]
    lines += [in_a_line("" if getattr(one, name) is None else str(getattr(one, name)) for name in names) for one in rows]
    return "\n".join(lines)
