"""How strong a peroxide is, by the oxygen that it gives off over water."""

from math import exp, hypot
from typing import Final

from silverwright.errors import OutOfRange

_GAS_J_PER_MOL_K: Final = 8.314462618  # arithmetic: the gas constant is fixed by the definition of the units
_FREEZING_K: Final = 273.15  # arithmetic: 0 °C
_ATMOSPHERE_KPA: Final = 101.325  # arithmetic: one atmosphere by definition
_PEROXIDES_PER_OXYGEN: Final = 2  # arithmetic: 2 H2O2 -> 2 H2O + O2
_CRITICAL_K: Final = 647.096  # source: iapws1992, critical point
_CRITICAL_KPA: Final = 22064.0  # source: iapws1992, critical point
# source: iapws1992, equation of the vapour pressure: coefficient and power of each term
_TERMS: Final = ((-7.85951783, 1.0), (1.84408259, 1.5), (-11.7866497, 3.0), (22.6807411, 3.5), (-15.9618719, 4.0), (1.80122502, 7.5))
_HOTTEST_CELSIUS: Final = 100.0  # arithmetic: from here on water boils off
_COLDEST_CELSIUS: Final = -10.0  # our judgement: water that has not frozen yet


def vapour_pressure_kpa(celsius: float) -> float:
    """
    How much of the pressure over water is water's own vapour.

    ln(p/p_c) = T_c/T (a1 x + a2 x^1.5 + a3 x^3 + a4 x^3.5 + a5 x^4 + a6 x^7.5), x = 1 - T/T_c

    Args:
        celsius: Temperature of the water. [°C] -10 to 100

    Returns:
        Pressure of the vapour. [kPa]. Uncertainty: less than 0.1 %; that of the temperature matters more.

    Raises:
        OutOfRange: a temperature at which this is no liquid water.

    Source:
        iapws1992, equation of the vapour pressure.
    """
    if not _COLDEST_CELSIUS <= celsius <= _HOTTEST_CELSIUS:
        raise OutOfRange("celsius", celsius, "-10 to 100")
    kelvin = celsius + _FREEZING_K
    rest = 1 - kelvin / _CRITICAL_K
    return _CRITICAL_KPA * exp(_CRITICAL_K / kelvin * sum(coefficient * rest**power for coefficient, power in _TERMS))


def oxygen_mol(gas_ml: float, celsius: float, pressure_kpa: float) -> float:
    """
    How much oxygen stands in a tube over water.

    n = (P - p_w) V / (R T)

    Args:
        gas_ml: Volume of the gas, the water inside and outside the tube at one level. [mL] >= 0
        celsius: Temperature of gas and water. [°C] -10 to 100
        pressure_kpa: Pressure of the air at that place. [kPa] above that of the vapour

    Returns:
        Oxygen. [mol]. Uncertainty: `oxygen_sd_share`.

    Raises:
        OutOfRange: a volume below 0, or a pressure at which the water boils.

    Source:
        iapws1992, vapour pressure, and the gas law.
    """
    dry_kpa = pressure_kpa - vapour_pressure_kpa(celsius)
    if not dry_kpa > 0:
        raise OutOfRange("pressure_kpa", pressure_kpa, f"above {vapour_pressure_kpa(celsius):.3g}, the vapour of the water")
    if not gas_ml >= 0:
        raise OutOfRange("gas_ml", gas_ml, "0 or more")
    return dry_kpa * gas_ml / 1000 / (_GAS_J_PER_MOL_K * (celsius + _FREEZING_K))


def oxygen_sd_share(celsius: float, celsius_sd: float, pressure_kpa: float, pressure_sd: float) -> float:
    """
    How unsure an amount of gas is by its temperature and pressure, beside the reading of the volume.

    u = hypot(u(P)/(P - p_w), u(T) (1/T + dp_w/dT / (P - p_w)))

    Args:
        celsius: Temperature. [°C] -10 to 99
        celsius_sd: Its doubt, one standard deviation. [°C] >= 0
        pressure_kpa: Pressure of the air. [kPa] above that of the vapour
        pressure_sd: Its doubt, one standard deviation. [kPa] >= 0

    Returns:
        One standard deviation as a share of the amount. [1]

    Raises:
        OutOfRange: a pressure at which the water boils.

    Source:
        our judgement (propagation of independent errors, first order).
    """
    dry_kpa = pressure_kpa - vapour_pressure_kpa(celsius)
    if not dry_kpa > 0:
        raise OutOfRange("pressure_kpa", pressure_kpa, "above the vapour of the water")
    slope = vapour_pressure_kpa(min(celsius + 0.5, _HOTTEST_CELSIUS)) - vapour_pressure_kpa(min(celsius + 0.5, _HOTTEST_CELSIUS) - 1)
    return hypot(pressure_sd / dry_kpa, celsius_sd * (1 / (celsius + _FREEZING_K) + slope / dry_kpa))


def peroxide_mol_per_l(oxygen_mol: float, sample_ml: float) -> float:
    """
    How strong the sample was that gave off so much oxygen.

    c = 2 n / V_s

    Args:
        oxygen_mol: Oxygen that came off. [mol] >= 0
        sample_ml: What was taken of the bottle. [mL] > 0

    Returns:
        Peroxide in a litre. [mol/L]. Uncertainty: gas, sample, and what stays dissolved.

    Raises:
        OutOfRange: no sample.

    Source:
        bp2010, assay: 1.701 mg for 0.56 mL of oxygen, and arithmetic.
    """
    if not sample_ml > 0:
        raise OutOfRange("sample_ml", sample_ml, "above 0")
    return _PEROXIDES_PER_OXYGEN * oxygen_mol / (sample_ml / 1000)


def gas_ml(strength_mol_per_l: float, sample_ml: float, celsius: float, pressure_kpa: float) -> float:
    """
    How much gas a sample of known strength gives off: the tube must hold it.

    V = c V_s / 2 R T / (P - p_w)

    Args:
        strength_mol_per_l: Peroxide in a litre. [mol/L] >= 0
        sample_ml: What is taken of it. [mL] >= 0
        celsius: Temperature. [°C] -10 to 100
        pressure_kpa: Pressure of the air. [kPa] above that of the vapour

    Returns:
        Gas with its vapour. [mL]. Uncertainty: that of the strength.

    Raises:
        OutOfRange: a pressure at which the water boils.

    Source:
        iapws1992, vapour pressure, and the gas law.
    """
    return strength_mol_per_l * sample_ml / 1000 / _PEROXIDES_PER_OXYGEN / oxygen_mol(1.0, celsius, pressure_kpa)


def dissolved_most_mol(water_ml: float, solubility_mol_per_l: float, pressure_kpa: float) -> float:
    """
    How much of the oxygen may stay in the liquid of the vessel.

    n = k_H V P / P_0

    Args:
        water_ml: Liquid in the vessel. [mL] >= 0
        solubility_mol_per_l: Oxygen in a litre of water under an atmosphere of it. [mol/L] >= 0
        pressure_kpa: Pressure of the air. [kPa] >= 0

    Returns:
        Oxygen at most; the air above the liquid and its own air leave less. [mol]. Uncertainty: anything from 0 to it.

    Source:
        clutchprep139004, Henry's law with the constant of oxygen.
    """
    return water_ml / 1000 * solubility_mol_per_l * pressure_kpa / _ATMOSPHERE_KPA
