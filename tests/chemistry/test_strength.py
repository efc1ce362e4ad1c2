"""Strengths from unit to unit: there and back, by a second program for moles and units, and at the edges."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from molmass import Formula

from silverwright import units
from silverwright.chemistry.density import solution_density_g_per_ml
from silverwright.chemistry.strength import (
    LITRES_PER_MOL,
    anhydrous_g,
    fraction_of_grams_per_litre,
    grams_per_litre,
    mass_fraction,
    strength_in,
)
from silverwright.errors import OutOfRange
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Strength, StrengthUnit, Substance
from silverwright.units import Unit

SUBSTANCES = substances()
PEROXIDE = SUBSTANCES["hydrogen_peroxide"]
UNITS: tuple[StrengthUnit, ...] = ("% w/w", "% w/v", "g/L", "mol/L")
REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()


@pytest.mark.parametrize("key", sorted(SUBSTANCES))
def test_moles_agree_with_a_second_program(key: str) -> None:
    assert SUBSTANCES[key].molar_g_per_mol == pytest.approx(Formula(SUBSTANCES[key].formula).mass, abs=0.001)


@pytest.mark.parametrize("key", sorted(one.key for one in SUBSTANCES.values() if one.anhydrous))
def test_crystals_lose_whole_molecules_of_water(key: str) -> None:
    one = SUBSTANCES[key]
    lost = (one.molar_g_per_mol - SUBSTANCES[one.anhydrous].molar_g_per_mol) / Formula("H2O").mass
    assert lost == pytest.approx(round(lost), abs=0.001)
    assert round(lost) >= 1
    assert anhydrous_g(100, one) == pytest.approx(100 * SUBSTANCES[one.anhydrous].molar_g_per_mol / one.molar_g_per_mol)


@given(st.sampled_from(UNITS), st.sampled_from(list(SUBSTANCES.values())), st.floats(0, 1), st.floats(-5, 60))
def test_there_and_back(unit: StrengthUnit, one: Substance, fraction: float, celsius: float) -> None:
    there = strength_in(unit, fraction, one, celsius)
    assert mass_fraction(Strength(there, unit), one, celsius) == pytest.approx(fraction, abs=1e-9)


@given(st.floats(0, 1), st.floats(0, 1), st.sampled_from(list(SUBSTANCES.values())))
def test_more_of_it_is_more_in_a_litre(one_fraction: float, other_fraction: float, one: Substance) -> None:
    weak, strong = sorted((one_fraction, other_fraction))
    assert grams_per_litre(weak, one, 20) <= grams_per_litre(strong, one, 20)


@given(st.floats(0.001, 1))
def test_every_unit_agrees_with_a_program_for_units(fraction: float) -> None:
    """A litre weighed, its share of peroxide taken, and the rest left to the other program."""
    litre_g = 1000 * solution_density_g_per_ml([(PEROXIDE, fraction)], 20)
    there = REGISTRY.Quantity(litre_g * fraction, "gram") / REGISTRY.Quantity(1, "litre")
    moles = (there / REGISTRY.Quantity(PEROXIDE.molar_g_per_mol, "gram / mole")).to("mole / litre")
    oxygen = (moles / 2 * REGISTRY.Quantity(1, "molar_gas_constant") * REGISTRY.Quantity(273.15, "kelvin") / REGISTRY.Quantity(1, "atm")).to("")
    assert strength_in("g/L", fraction, PEROXIDE, 20) == pytest.approx(there.to("gram / litre").magnitude)
    assert strength_in("% w/v", fraction, PEROXIDE, 20) == pytest.approx((there * REGISTRY.Quantity(100, "millilitre")).to("gram").magnitude)
    assert strength_in("mol/L", fraction, PEROXIDE, 20) == pytest.approx(moles.magnitude)
    assert strength_in("volumes", fraction, PEROXIDE, 20) == pytest.approx(oxygen.magnitude)


@pytest.mark.parametrize(
    ("unit", "typed", "expected"),
    [
        (units.GRAM, "1 kg", "1 kilogram"),
        (units.GRAM, "1 oz", "1 ounce"),
        (units.GRAM, "2 lb", "2 pound"),
        (units.GRAM, "250 mg", "250 milligram"),
        (units.MILLILITRE, "1 L", "1 litre"),
        (units.MILLILITRE, "1 fl oz", "1 fluid_ounce"),
        (units.MILLILITRE, "1 qt", "1 quart"),
        (units.MILLILITRE, "2 gal", "2 gallon"),
        (units.MILLILITRE, "5 cl", "5 centilitre"),
    ],
)
def test_what_a_hand_writes_agrees_with_a_program_for_units(unit: Unit, typed: str, expected: str) -> None:
    assert unit.read(typed) == pytest.approx(REGISTRY(expected).to({"g": "gram", "mL": "millilitre"}[unit.sign]).magnitude, rel=1e-6)


def test_a_mole_of_gas() -> None:
    """22.414 litres at 0 °C and one atmosphere, printed in every table."""
    assert pytest.approx(22.414, abs=0.0005) == LITRES_PER_MOL


def test_what_cannot_be_is_refused() -> None:
    acid, unknown = SUBSTANCES["citric_acid"], Substance(key="x", name="x", formula="", molar_g_per_mol=0)
    for strength, one in (
        (Strength(101, "% w/w"), PEROXIDE),
        (Strength(-1, "% w/w"), PEROXIDE),
        (Strength(-1, "g/L"), PEROXIDE),
        (Strength(1900, "g/L"), PEROXIDE),
        (Strength(10, "volumes"), acid),
        (Strength(1, "mol/L"), unknown),
    ):
        with pytest.raises(OutOfRange):
            mass_fraction(strength, one, 20)
    with pytest.raises(OutOfRange):
        strength_in("volumes", 0.1, acid, 20)
    with pytest.raises(OutOfRange):
        fraction_of_grams_per_litre(5000, acid, 20)
