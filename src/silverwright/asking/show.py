"""A value as people read it: with its unit, its limits, and words where an end is open."""

from silverwright.asking.fields import Mark, Quantity
from silverwright.asking.operation import Estimate


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
            return ", ".join(show(mark, one) for one in value)
        case _:
            return str(value)
