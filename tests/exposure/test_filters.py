"""Factor, stops and density say the same thing."""

from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.filters import combined_factor, factor_from_density, filter_density, filter_stops

FACTOR = st.floats(1, 1e4)


@given(FACTOR)
def test_there_and_back(factor: float) -> None:
    assert factor_from_density(filter_density(factor)) == pytest.approx(factor)
    assert filter_density(factor) / 0.30103 == pytest.approx(filter_stops(factor), rel=1e-5)


@given(st.lists(FACTOR, max_size=4))
def test_stops_add(factors: list[float]) -> None:
    assert log2(combined_factor(factors)) == pytest.approx(sum(filter_stops(one) for one in factors), abs=1e-9)


@pytest.mark.parametrize(
    "call", [lambda: filter_stops(0.9), lambda: filter_density(0), lambda: factor_from_density(-0.1), lambda: combined_factor((2, 0.5))]
)
def test_no_filter_gives_light(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
