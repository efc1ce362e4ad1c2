"""Gas over water: against another formula of the vapour, round trips, and doubts by a library."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat
from uncertainties.umath import exp as uexp

from silverwright.chemistry.gas import (
    dissolved_most_mol,
    gas_ml,
    oxygen_mol,
    oxygen_sd_share,
    peroxide_mol_per_l,
    vapour_pressure_kpa,
)
from silverwright.errors import OutOfRange

R = 8.314462618
ROOM = st.floats(0, 50)


@given(ROOM)
def test_vapour_by_the_antoine_equation(celsius: float) -> None:
    """Its three constants for 1 to 99 °C, as encyclopedias print them: within half a percent in rooms, one near freezing."""
    torr = 10 ** (8.07131 - 1730.63 / (233.426 + celsius))
    assert vapour_pressure_kpa(celsius) == pytest.approx(torr * 101.325 / 760, rel=0.012)


def test_vapour_at_the_ends() -> None:
    """The triple point and the boiling point of the newer temperature scale."""
    assert vapour_pressure_kpa(0.01) == pytest.approx(0.611657, abs=2e-6)
    assert vapour_pressure_kpa(99.974) == pytest.approx(101.325, abs=0.005)


def test_the_published_equivalent() -> None:
    """1.701 mg of peroxide gives 0.56 mL of dry oxygen at 0 °C and one atmosphere: 22.414 L a mole, two peroxides an oxygen."""
    assert pytest.approx(0.56, abs=0.005) == 1.701e-3 / 34.0147 / 2 * 22414
    dry = oxygen_mol(0.5604, 0.0, 101.325 + vapour_pressure_kpa(0.0))
    assert peroxide_mol_per_l(dry, 1.0) * 34.0147 == pytest.approx(1.701, abs=0.0005)


@given(st.floats(0.001, 20), st.floats(0.1, 50), ROOM, st.floats(60, 110))
def test_gas_that_is_expected_gives_the_strength_back(strength: float, sample_ml: float, celsius: float, pressure_kpa: float) -> None:
    volume_ml = gas_ml(strength, sample_ml, celsius, pressure_kpa)
    assert peroxide_mol_per_l(oxygen_mol(volume_ml, celsius, pressure_kpa), sample_ml) == pytest.approx(strength)


@given(st.floats(5, 35), st.floats(0.01, 2), st.floats(90, 105), st.floats(0.01, 3))
def test_doubts_are_those_of_a_library(celsius: float, celsius_sd: float, pressure_kpa: float, pressure_sd: float) -> None:
    """`uncertainties` with another formula of the vapour (an exponential through the same slope)."""
    slope = (vapour_pressure_kpa(celsius + 0.01) - vapour_pressure_kpa(celsius - 0.01)) / 0.02
    warmth, pressure = ufloat(celsius, celsius_sd), ufloat(pressure_kpa, pressure_sd)
    vapour = vapour_pressure_kpa(celsius) * uexp(slope / vapour_pressure_kpa(celsius) * (warmth - celsius))
    amount = (pressure - vapour) * 1e-3 / (R * (warmth + 273.15))
    share = amount.std_dev / amount.nominal_value
    assert oxygen_sd_share(celsius, celsius_sd, pressure_kpa, pressure_sd) == pytest.approx(share, rel=0.01, abs=1e-9)


def test_what_stays_in_the_water() -> None:
    """20 mL under an atmosphere of oxygen keep 0.026 mmol, about 0.6 mL: two percent of 33 mL."""
    stays = dissolved_most_mol(20, 0.0013, 101.325)
    assert stays == pytest.approx(2.6e-5)
    assert stays * R * 298.15 / 101325 * 1e6 == pytest.approx(0.636, abs=0.001)


def test_it_is_a_growing_curve() -> None:
    values = [vapour_pressure_kpa(celsius) for celsius in range(101)]
    assert values == sorted(values)


@pytest.mark.parametrize("celsius", [-11, 101])
def test_no_liquid_water_no_vapour(celsius: float) -> None:
    with pytest.raises(OutOfRange):
        vapour_pressure_kpa(celsius)


def test_boiling_water_holds_no_gas() -> None:
    with pytest.raises(OutOfRange):
        oxygen_mol(10, 90, 60)
    with pytest.raises(OutOfRange):
        oxygen_sd_share(90, 1, 60, 1)
    with pytest.raises(OutOfRange):
        oxygen_mol(-1, 20, 101)
    with pytest.raises(OutOfRange):
        peroxide_mol_per_l(0.001, 0)
