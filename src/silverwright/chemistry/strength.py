"""How strong a solution is, from one unit into another."""

from typing import Final

from silverwright.chemistry.density import solution_density_g_per_ml
from silverwright.errors import OutOfRange
from silverwright.records_chemistry import Strength, StrengthUnit, Substance

_GAS_J_PER_MOL_K: Final = 8.314462618  # arithmetic: the gas constant is fixed by the definition of the units
_FREEZING_K: Final = 273.15  # arithmetic: 0 °C
_ATMOSPHERE_KPA: Final = 101.325  # arithmetic: one atmosphere by definition
LITRES_PER_MOL: Final = _GAS_J_PER_MOL_K * _FREEZING_K / _ATMOSPHERE_KPA  # arithmetic: a mole of gas at 0 °C and one atmosphere
_PEROXIDES_PER_OXYGEN: Final = 2  # arithmetic: 2 H2O2 -> 2 H2O + O2
PEROXIDE: Final = "hydrogen_peroxide"
_HALVINGS: Final = 60  # arithmetic: halving the whole range so often reaches the last digit of a double


def grams_per_litre(mass_fraction: float, substance: Substance, celsius: float) -> float:
    """
    How many grams of a substance are in a litre of its solution.

    c = 1000 w rho(w, t)

    Args:
        mass_fraction: Mass of the substance in the mass of the solution. [1] 0 to 1
        substance: What is dissolved.
        celsius: Temperature at which the litre is measured. [°C] -10 to 100

    Returns:
        Grams in a litre. [g/L]. Uncertainty: that of the density.

    Source:
        laliberte2009, mixing rule of the apparent densities.
    """
    return 1000 * mass_fraction * solution_density_g_per_ml([(substance, mass_fraction)], celsius)


def fraction_of_grams_per_litre(strength_g_per_l: float, substance: Substance, celsius: float) -> float:
    """
    Which part of a solution's mass a substance is, when a litre holds so many grams of it.

    1000 w rho(w, t) = c, solved by halving

    Args:
        strength_g_per_l: Grams in a litre. [g/L] >= 0
        substance: What is dissolved.
        celsius: Temperature at which the litre is measured. [°C] -10 to 100

    Returns:
        Mass fraction. [1]. Uncertainty: that of the density.

    Raises:
        OutOfRange: below 0, or more than a litre of the substance alone would weigh.

    Source:
        laliberte2009, mixing rule of the apparent densities.
    """
    most = grams_per_litre(1.0, substance, celsius)
    if not 0 <= strength_g_per_l <= most:
        raise OutOfRange("strength_g_per_l", strength_g_per_l, f"0 to {most:.4g}, what a litre of it alone holds")
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if grams_per_litre(middle, substance, celsius) < strength_g_per_l else (low, middle)
    return (low + high) / 2 if strength_g_per_l > 0 else 0.0


def mass_fraction(strength: Strength, substance: Substance, celsius: float) -> float:
    """
    Which part of a solution's mass a substance is, however its strength was said.

    w = a/100 for % w/w; 1000 w rho = 10 a for % w/v, a for g/L, a M for mol/L, 2 a M / 22.414 for volumes of oxygen

    Args:
        strength: The strength with its unit.
        substance: What is dissolved.
        celsius: Temperature at which volumes are measured. [°C] -10 to 100

    Returns:
        Mass fraction. [1] 0 to 1. Uncertainty: that of the density, and nothing for % w/w.

    Raises:
        OutOfRange: stronger than the substance itself, below 0, volumes of oxygen of what gives none, or moles of a mole unknown.

    Source:
        laliberte2009, mixing rule of the apparent densities.
    """
    if strength.unit == "% w/w":
        if not 0 <= strength.amount <= 100:  # noqa: PLR2004 (percent)
            raise OutOfRange("strength in % w/w", strength.amount, "0 to 100")
        return strength.amount / 100
    if strength.unit == "% w/v":
        return fraction_of_grams_per_litre(10 * strength.amount, substance, celsius)
    if strength.unit == "g/L":
        return fraction_of_grams_per_litre(strength.amount, substance, celsius)
    strength_mol_per_l = strength.amount if strength.unit == "mol/L" else _mol_per_l_of_volumes(strength.amount, substance)
    return fraction_of_grams_per_litre(strength_mol_per_l * _mole_of(substance), substance, celsius)


def strength_in(unit: StrengthUnit, mass_fraction: float, substance: Substance, celsius: float) -> float:
    """
    How strong a solution is in another unit.

    100 w; 100 w rho; 1000 w rho; 1000 w rho / M; 22.414 / 2 times that

    Args:
        unit: The unit that is wanted.
        mass_fraction: Mass of the substance in the mass of the solution. [1] 0 to 1
        substance: What is dissolved.
        celsius: Temperature at which volumes are measured. [°C] -10 to 100

    Returns:
        The strength, in that unit. Uncertainty: that of the density, and nothing for % w/w.

    Raises:
        OutOfRange: volumes of oxygen of what gives none, or moles of a mole unknown.

    Source:
        laliberte2009, mixing rule of the apparent densities.
    """
    if unit == "% w/w":
        return 100 * mass_fraction
    strength_g_per_l = grams_per_litre(mass_fraction, substance, celsius)
    if unit == "% w/v":
        return strength_g_per_l / 10
    if unit == "g/L":
        return strength_g_per_l
    strength_mol_per_l = strength_g_per_l / _mole_of(substance)
    return strength_mol_per_l if unit == "mol/L" else strength_mol_per_l / _mol_per_l_of_volumes(1.0, substance)


def anhydrous_g(hydrate_g: float, hydrate: Substance) -> float:
    """
    How much of a substance is in crystals that hold water, too.

    m = m_hydrate (1 - share of crystal water)

    Args:
        hydrate_g: Mass of the crystals. [g]
        hydrate: What they are.

    Returns:
        Mass without the crystal water. [g]. Uncertainty: crystals that have dried or taken up water.

    Source:
        ciaaw2021, standard atomic weights.
    """
    return hydrate_g * (1 - hydrate.crystal_water_share)


def _mole_of(substance: Substance) -> float:
    if not substance.molar_g_per_mol > 0:
        raise OutOfRange("molar_g_per_mol", substance.molar_g_per_mol, f"above 0: the mole of {substance.name} is not known here")
    return substance.molar_g_per_mol


def _mol_per_l_of_volumes(volumes: float, substance: Substance) -> float:
    if substance.key != PEROXIDE:
        raise OutOfRange("volumes of oxygen", volumes, f"for hydrogen peroxide only, and this is {substance.name}")
    return volumes * _PEROXIDES_PER_OXYGEN / LITRES_PER_MOL
