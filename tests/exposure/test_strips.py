"""Strips by the dark slide."""

from functools import partial
from itertools import pairwise
from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.reciprocity import needed_s
from silverwright.exposure.strips import slide_times_s, strip_totals_s, strips_apart_s, strips_effective_s
from silverwright.questions.reciprocity import first_guess

NEEDED = partial(needed_s, law=first_guess())


def test_five_half_stops_from_8_to_32() -> None:
    assert slide_times_s(strip_totals_s(8, 32, 5)) == pytest.approx((8, 3.3, 4.7, 6.6, 9.4), abs=0.05)


@given(st.floats(0.1, 1000), st.floats(1.1, 100), st.integers(2, 12))
def test_strips_add_up_in_even_steps(shortest_s: float, times: float, strips: int) -> None:
    totals = strip_totals_s(shortest_s, shortest_s * times, strips)
    give = slide_times_s(totals)
    assert len(give) == strips
    assert totals[0] == pytest.approx(shortest_s)
    assert totals[-1] == pytest.approx(shortest_s * times)
    assert [sum(give[: number + 1]) for number in range(strips)] == pytest.approx(list(totals))
    steps = [log2(longer / shorter) for shorter, longer in pairwise(totals)]
    assert max(steps) == pytest.approx(min(steps), abs=1e-6)


@given(st.floats(0.1, 1000), st.floats(1.1, 100), st.integers(2, 12))
def test_one_exposure_is_the_lower_end_and_pieces_the_upper(shortest_s: float, times: float, strips: int) -> None:
    totals = strip_totals_s(shortest_s, shortest_s * times, strips)
    give = slide_times_s(totals)
    one, apart = strips_effective_s(give, NEEDED), strips_apart_s(give, NEEDED)
    for total_s, low, high in zip(totals, one, apart, strict=True):
        assert low <= high * (1 + 1e-9)
        assert high <= total_s * (1 + 1e-9)
    assert list(one) == sorted(one)


def test_what_the_longest_amounts_to() -> None:
    """Closed form of the prior: 3 (32/3)^(1/1.08)."""
    assert strips_effective_s(slide_times_s(strip_totals_s(8, 32, 5)), NEEDED)[-1] == pytest.approx(3 * (32 / 3) ** (1 / 1.08))


@pytest.mark.parametrize(
    "call", [lambda: strip_totals_s(0, 1, 3), lambda: strip_totals_s(8, 8, 3), lambda: strip_totals_s(8, 32, 1), lambda: slide_times_s((8, 8))]
)
def test_strips_must_grow(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
