"""Every figure of every answer is a figure, and its limits hold it: near the examples, where people ask."""

from collections.abc import Iterator
from itertools import pairwise
from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel
from tests.doors.test_every_door import REFUSALS, values

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import AnyOperation, Estimate
from silverwright.catalogue import catalogue

HAIR = 1e-9  # of the value: what rounding may move


def figures(part: object) -> Iterator[float | Estimate]:
    """Every number and every estimate of an answer, however deep."""
    if isinstance(part, Estimate | float):
        yield part
    elif isinstance(part, BaseModel):
        for name in type(part).model_fields:
            yield from figures(getattr(part, name))
    elif isinstance(part, tuple):
        for one in part:
            yield from figures(one)


def holds(figure: float | Estimate) -> bool:
    """A number is finite; limits are finite, in order, and hold the value."""
    if isinstance(figure, float):
        return isfinite(figure)
    told = [one for one in (figure.low, figure.value, figure.high) if one is not None]
    return all(map(isfinite, told)) and all(one <= other + HAIR * abs(other) for one, other in pairwise(told))


@pytest.mark.parametrize("operation", catalogue(), ids=lambda one: one.name)
@given(data=st.data())
@settings(max_examples=25)
def test_an_example_with_any_of_its_fields_changed_is_answered_with_figures_that_hold(operation: AnyOperation, data: st.DataObject) -> None:
    marks = fields_of(operation.question)
    example = data.draw(st.sampled_from(list(operation.examples.values())))
    changed = data.draw(st.lists(st.sampled_from(list(marks)), min_size=1, max_size=3, unique=True))
    typed = {**example, **{name: data.draw(values(operation.question, name, marks[name])) for name in changed}}
    try:
        answer = operation.ask(typed)
    except REFUSALS as refused:
        assert str(refused)
        return
    assert [figure for figure in figures(answer) if not holds(figure)] == []


def test_limits_that_hold_nothing_are_found() -> None:
    assert holds(Estimate(value=2, low=1, high=3))
    assert holds(Estimate(low=1))
    assert not holds(Estimate(value=2, low=2.1, high=3))
    assert not holds(Estimate(low=3, high=1))
    assert not holds(float("nan"))
