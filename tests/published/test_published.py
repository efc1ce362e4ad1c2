"""
Every published figure that we can compute, computed: one table for each source, one test for each row.

Columns: `where` in the source, `call` (a function under `silverwright`, or `ask exposure.ledger time_s`), `inputs` (as one would type
the arguments in Python; records and the engraved series may be used), `expected`, `unit`, `tolerance` (absolute, or with a `%`; half a
unit of the last printed digit unless `why` says more). A `why` that begins with "disagrees" keeps a figure that we do not reach, with the
reason: the row fails when it is reached after all.
"""

import csv
from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from silverwright import records
from silverwright.api import ask
from silverwright.facts.load import bibliography
from silverwright.questions.marks import aperture_marks, time_marks

HERE = Path(__file__).parent
TABLES = sorted(HERE.glob("*.csv"))
COLUMNS = ["where", "call", "inputs", "expected", "unit", "tolerance", "why"]
Row = dict[str, str]


def lines_of(table: Path) -> tuple[list[str], list[str]]:
    """The comments on top, and the table below."""
    lines = table.read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line.startswith("#")], [line for line in lines if line and not line.startswith("#")]


def rows() -> Iterator[Any]:
    for table in TABLES:
        for number, row in enumerate(csv.DictReader(lines_of(table)[1]), 1):
            yield pytest.param(row, id=f"{table.stem} row {number}: {row['where']}: {row['call']}({row['inputs']})")


def evaluated(text: str) -> Any:
    """A number, a tuple or words, as one types them in Python."""
    known = {"dict": dict, "aperture_marks": aperture_marks, "time_marks": time_marks, **vars(records)}
    return eval(text, {"__builtins__": {}}, known)


def called(call: str) -> Callable[..., Any]:
    """The function behind a call."""
    if call.startswith("ask "):
        _, operation, field = call.split(" ")
        return lambda **given: value_of(getattr(ask(operation, **given), field))
    module, _, name = call.rpartition(".")
    function: Callable[..., Any] = getattr(import_module(f"silverwright.{module}"), name)
    return function


def value_of(found: Any) -> Any:
    """What an answer says: an estimate's value, or the thing itself."""
    return getattr(found, "value", found)


def apart(found: Any, expected: Any) -> float:
    """The largest difference between what came out and what was printed."""
    if isinstance(expected, Sequence):
        assert len(found) == len(expected)
        return float(max(abs(one - other) for one, other in zip(found, expected, strict=True)))
    return abs(float(found) - float(expected))


def allowed(row: Row, expected: Any) -> float:
    """The tolerance as a number in the unit of the row."""
    if row["tolerance"].endswith("%"):
        size = max(abs(one) for one in expected) if isinstance(expected, Sequence) else abs(float(expected))
        return float(row["tolerance"].rstrip("% ")) / 100 * size
    return float(row["tolerance"])


@pytest.mark.parametrize("row", list(rows()))
def test_published(row: Row) -> None:
    expected = evaluated(row["expected"])
    found = called(row["call"])(**evaluated(f"dict({row['inputs']})"))
    if isinstance(expected, str):
        assert found == expected
        return
    difference = apart(found, expected)
    if row["why"].startswith("disagrees"):
        assert difference > allowed(row, expected), "The source is reached after all: take the reason away."
    else:
        assert difference <= allowed(row, expected), f"{found} {row['unit']}, printed {row['expected']} ± {row['tolerance']}"


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.stem)
def test_the_table_is_whole(table: Path) -> None:
    comments, body = lines_of(table)
    assert comments, "A comment on top says which source this is."
    assert table.stem in bibliography() or table.stem.startswith(("arithmetic", "computed")), "The file is named after its key in sources.toml."
    assert next(csv.reader(body[:1])) == COLUMNS
    for row in csv.DictReader(body):
        assert all(row[column] for column in ("where", "call", "unit", "tolerance")), row
