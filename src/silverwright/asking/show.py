"""A value as people read it, and as they would type it."""

from collections.abc import Mapping, Sequence
from typing import Final

from silverwright.asking.fields import Mark, Quantity
from silverwright.asking.operation import Estimate
from silverwright.asking.rows import in_a_line

LONGEST_ROW: Final = 24  # our judgement: a longer row is for drawing; people read its ends, and JSON has all of it


def show_estimate(mark: Mark | None, estimate: Estimate) -> str:
    """`97 s (1:37), 80 % limits 70 to 133 s`; an open end reads `at least 1.2`."""
    value, low, high = (None if one is None else show(mark, one) for one in (estimate.value, estimate.low, estimate.high))
    if value is None:
        return f"at least {low}" if low is not None else f"at most {high}" if high is not None else "unknown"
    if low is None and high is None:
        return value
    if low is None or high is None:
        return f"{value}, {estimate.percent} % limit: {f'at least {low}' if low is not None else f'at most {high}'}"
    return f"{value}, {estimate.percent} % limits {low} to {high}"


def show(mark: Mark | None, value: object) -> str:
    """Any value of an answer or of the book."""
    match value:
        case Estimate():
            return show_estimate(mark, value)
        case None:
            return "unknown"
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return mark.unit.show(value) if isinstance(mark, Quantity) else f"{value:.4g}"
        case tuple() | list():
            return _show_row(mark, value)
        case _:
            return str(value)


def _show_row(mark: Mark | None, value: Sequence[object]) -> str:
    """A row of values, or of sentences one after the other."""
    if len(value) > LONGEST_ROW:
        return f"{len(value)} numbers, {show(mark, value[0])} to {show(mark, value[-1])}"
    between = " " if all(str(one).endswith(".") for one in value) else ", "
    return between.join(show(mark, one) for one in value)


def as_typed(given: Mapping[str, object]) -> dict[str, str]:
    """What an example gives, as somebody would type it: a table as lines, a row of numbers with blanks between."""
    return {name: _typed(value) for name, value in given.items()}


def _typed(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str) or not isinstance(value, Sequence):
        return str(value)
    rows = [row for row in value if isinstance(row, Mapping | tuple | list)]
    if not rows:
        return " ".join(str(one) for one in value)
    if not all(isinstance(row, Mapping) for row in rows):
        return "\n".join(in_a_line(str(cell) for cell in row) for row in rows)
    names = list(dict.fromkeys(name for row in rows if isinstance(row, Mapping) for name in row))
    lines = [in_a_line("" if row.get(name) is None else str(row[name]) for name in names) for row in rows if isinstance(row, Mapping)]
    return "\n".join([",".join(names), *lines])
