"""The published laws: what they promise, and where they lie against our first guess for paper."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.reciprocity import needed_s
from silverwright.exposure.rivals import (
    gainer_factor,
    reciprocity_covington1999,
    reciprocity_gainer2004,
    reciprocity_maker2017,
    reciprocity_schwarzschild1900,
)
from silverwright.records import ReciprocityLaw

METERED = st.floats(1e-4, 1e5)
P = st.floats(0.5, 0.99)


@given(METERED, P)
def test_covington_solves_its_own_law(metered_s: float, p: float) -> None:
    needed = reciprocity_covington1999(metered_s, p)
    assert needed * (needed + 1) ** (p - 1) == pytest.approx(metered_s, rel=1e-9)
    assert needed >= metered_s


@given(st.floats(1, 1e5), P)
def test_schwarzschild_and_the_maker_are_one_law(metered_s: float, p: float) -> None:
    """p_maker = 1 / p_Schwarzschild; both are the threshold law with a threshold of 1 s."""
    schwarzschild = reciprocity_schwarzschild1900(metered_s, p)
    assert reciprocity_maker2017(metered_s, 1 / p) == pytest.approx(schwarzschild, rel=1e-9)
    assert needed_s(metered_s, ReciprocityLaw(1, 1 / p)) == pytest.approx(schwarzschild, rel=1e-9)


def test_no_loss_at_an_exponent_of_one() -> None:
    assert reciprocity_schwarzschild1900(60, 1) == 60
    assert reciprocity_covington1999(60, 1) == pytest.approx(60)
    assert reciprocity_maker2017(60, 1) == 60
    assert reciprocity_maker2017(3, 2) == 9


@given(st.floats(1e-4, 1))
def test_short_times_stay(metered_s: float) -> None:
    assert reciprocity_schwarzschild1900(metered_s, 0.86) == metered_s
    assert reciprocity_maker2017(metered_s, 1.31) == metered_s


@given(METERED, st.floats(1.0001, 10), P)
def test_more_is_more(metered_s: float, times: float, p: float) -> None:
    longer_s = metered_s * times
    assert reciprocity_schwarzschild1900(longer_s, p) > reciprocity_schwarzschild1900(metered_s, p)
    assert reciprocity_covington1999(longer_s, p) > reciprocity_covington1999(metered_s, p)
    assert reciprocity_maker2017(longer_s, 1 / p) > reciprocity_maker2017(metered_s, 1 / p)
    assert reciprocity_gainer2004(longer_s, 0.1, 1.62) > reciprocity_gainer2004(metered_s, 0.1, 1.62)


@given(METERED, st.floats(0, 1))
def test_one_test_gives_gainer_his_factor(metered_s: float, factor: float) -> None:
    needed = reciprocity_gainer2004(metered_s, factor, 1.62)
    assert gainer_factor(metered_s, needed, 1.62) == pytest.approx(factor, abs=1e-6)


@pytest.mark.parametrize(
    "call",
    [
        lambda: reciprocity_schwarzschild1900(0, 0.86),
        lambda: reciprocity_schwarzschild1900(1, 0),
        lambda: reciprocity_schwarzschild1900(1, 1.1),
        lambda: reciprocity_covington1999(1, 1.2),
        lambda: reciprocity_covington1999(1, 0),
        lambda: reciprocity_maker2017(1, 0.9),
        lambda: reciprocity_maker2017(1, 2.1),
        lambda: reciprocity_gainer2004(1, 0.1, 2.1),
        lambda: gainer_factor(10, 12, 2.1),
        lambda: reciprocity_gainer2004(1, -0.1, 1.62),
        lambda: gainer_factor(10, 9, 1.62),
    ],
)
def test_outside_its_range_a_law_says_nothing(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
