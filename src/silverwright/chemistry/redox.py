"""Peroxide and silver: how much it takes to dissolve it, and which way the two drive each other."""

from math import log, log10
from typing import Final

from silverwright.chemistry.acidity import GAS_J_PER_MOL_K
from silverwright.errors import OutOfRange

_FARADAY_C_PER_MOL: Final = 96485.33212  # arithmetic: Avogadro's number times the charge of an electron, both exact since 2019
_ROOM_KELVIN: Final = 298.15  # arithmetic: 25 °C, where potentials are tabled
VOLT_PER_PH: Final = GAS_J_PER_MOL_K * _ROOM_KELVIN * log(10) / _FARADAY_C_PER_MOL  # arithmetic: RT ln 10 / F


def peroxide_for_silver_g(silver_g: float, peroxide_g_per_mol: float, silver_g_per_mol: float) -> float:
    """
    How much peroxide the silver of a sheet uses up.

    2 Ag + H2O2 + 2 H+ -> 2 Ag+ + 2 H2O: m = (m_Ag / M_Ag) M_H2O2 / 2

    Args:
        silver_g: Silver that is dissolved. [g] >= 0
        peroxide_g_per_mol: A mole of hydrogen peroxide. [g/mol] > 0
        silver_g_per_mol: A mole of silver. [g/mol] > 0

    Returns:
        Hydrogen peroxide, pure. [g]. Uncertainty: a lower bound, as much more falls apart on silver without dissolving it.

    Raises:
        OutOfRange: silver below 0.

    Source:
        common practice, no source (the balanced equation).
    """
    if silver_g < 0:
        raise OutOfRange("silver_g", silver_g, "0 or more")
    return silver_g / silver_g_per_mol / 2 * peroxide_g_per_mol


def acid_for_silver_mol(silver_g: float, silver_g_per_mol: float) -> float:
    """
    How much acid the silver of a sheet uses up.

    2 Ag + H2O2 + 2 H+ -> 2 Ag+ + 2 H2O: one proton for each atom of silver

    Args:
        silver_g: Silver that is dissolved. [g] >= 0
        silver_g_per_mol: A mole of silver. [g/mol] > 0

    Returns:
        Protons. [mol]. Uncertainty: that of the silver.

    Raises:
        OutOfRange: silver below 0.

    Source:
        common practice, no source (the balanced equation).
    """
    if silver_g < 0:
        raise OutOfRange("silver_g", silver_g, "0 or more")
    return silver_g / silver_g_per_mol


def peroxide_couple_v(standard_v: float, ph: float) -> float:
    """
    How strongly a couple of peroxide pulls at electrons in an acid.

    E = E0 - (RT ln 10 / F) pH, as many protons as electrons; peroxide and oxygen at 1 mol/L and 1 bar

    Args:
        standard_v: The couple's potential at pH 0. [V]
        ph: The pH. [1]

    Returns:
        Potential against hydrogen at 25 °C. [V]. Uncertainty: what peroxide and oxygen are off 1 mol/L and 1 bar, 0.03 V for a factor of ten.

    Source:
        common practice, no source (Nernst's rule).
    """
    return standard_v - VOLT_PER_PH * ph


def silver_couple_v(standard_v: float, silver_mol_per_l: float) -> float:
    """
    How strongly dissolved silver pulls at electrons.

    E = E0 + (RT ln 10 / F) log10 [Ag+]

    Args:
        standard_v: The couple's potential at 1 mol/L. [V]
        silver_mol_per_l: Silver ions that are free. [mol/L] > 0

    Returns:
        Potential against hydrogen at 25 °C. [V]. Uncertainty: silver that is held by citrate counts as free.

    Raises:
        OutOfRange: silver not above 0.

    Source:
        common practice, no source (Nernst's rule).
    """
    if silver_mol_per_l <= 0:
        raise OutOfRange("silver_mol_per_l", silver_mol_per_l, "above 0")
    return standard_v + VOLT_PER_PH * log10(silver_mol_per_l)
