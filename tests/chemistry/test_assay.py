"""Titration: a second route by counting electrons, a round trip, and errors against a library that propagates them."""

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from silverwright.chemistry.assay import (
    PEROXIDE_PER_PERMANGANATE_FACTOR,
    PEROXIDE_PER_THIOSULPHATE_FACTOR,
    taken_for_ml,
    titrated_mol_per_l,
    titrated_sd_mol_per_l,
)
from silverwright.errors import OutOfRange

POSITIVE = st.floats(0.01, 100)


def test_electrons_count_the_same_as_the_equations() -> None:
    """A peroxide gives or takes two electrons, permanganate takes five, thiosulphate gives one."""
    electrons = {"peroxide": 2, "permanganate": 5, "thiosulphate": 1}
    assert electrons["permanganate"] / electrons["peroxide"] == PEROXIDE_PER_PERMANGANATE_FACTOR
    assert electrons["thiosulphate"] / electrons["peroxide"] == PEROXIDE_PER_THIOSULPHATE_FACTOR


def test_the_equation_that_balances_but_is_wrong_is_not_ours() -> None:
    """2 MnO4- + H2O2 + 6 H+ -> 3 O2 + ... balances atoms and charge, and gives a fifth of the peroxide."""
    assert pytest.approx(5 * 0.5) == PEROXIDE_PER_PERMANGANATE_FACTOR


@given(POSITIVE, POSITIVE, POSITIVE, POSITIVE, st.floats(1, 1000))
def test_what_a_bottle_takes_gives_the_bottle_back(strength: float, reagent: float, factor: float, sample_ml: float, dilution: float) -> None:
    taken_ml = taken_for_ml(strength, reagent, factor, sample_ml, dilution)
    assert titrated_mol_per_l(taken_ml, reagent, factor, sample_ml, dilution) == pytest.approx(strength)


@given(st.floats(1, 50), st.tuples(st.floats(0.001, 0.5), st.floats(0.001, 0.2)), st.tuples(*[st.floats(0.0001, 0.05)] * 4))
def test_doubts_are_those_of_a_library(titre_ml: float, readings: tuple[float, float], shares: tuple[float, float, float, float]) -> None:
    """First order, independent: the same as `uncertainties` finds by differentiating the whole formula."""
    (reading, blank), (sample, made_up, aliquot, reagent) = readings, shares
    c_reagent, v_sample, v_made, v_aliquot = 0.02, 1.0, 100.0, 10.0
    whole = (
        (ufloat(titre_ml, reading) - ufloat(0.05, blank))
        * ufloat(c_reagent, c_reagent * reagent)
        * PEROXIDE_PER_PERMANGANATE_FACTOR
        / ufloat(v_sample, v_sample * sample)
        * ufloat(v_made, v_made * made_up)
        / ufloat(v_aliquot, v_aliquot * aliquot)
    )
    found = titrated_mol_per_l(titre_ml - 0.05, c_reagent, PEROXIDE_PER_PERMANGANATE_FACTOR, v_sample, v_made / v_aliquot)
    one_ml = titrated_mol_per_l(1.0, c_reagent, PEROXIDE_PER_PERMANGANATE_FACTOR, v_sample, v_made / v_aliquot)
    assert found == pytest.approx(whole.nominal_value)
    assert titrated_sd_mol_per_l(hypot(reading, blank), one_ml, found, shares) == pytest.approx(whole.std_dev, abs=1e-12)


@pytest.mark.parametrize(
    "wrong", [{"taken_ml": -1.0}, {"sample_ml": 0.0}, {"peroxide_factor": 0.0}, {"reagent_mol_per_l": -0.1}, {"dilution_factor": 0.0}]
)
def test_what_says_nothing_is_refused(wrong: dict[str, float]) -> None:
    right = {"taken_ml": 1.0, "reagent_mol_per_l": 0.02, "peroxide_factor": 2.5, "sample_ml": 1.0, "dilution_factor": 1.0}
    with pytest.raises(OutOfRange):
        titrated_mol_per_l(**{**right, **wrong})


def test_no_reagent_tells_nothing() -> None:
    with pytest.raises(OutOfRange):
        taken_for_ml(1.0, 0.0, 2.5, 1.0)
