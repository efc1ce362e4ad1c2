"""How acid a solution is, and how much alkali it takes: one balance of charges, solved by halving."""

from collections.abc import Sequence
from dataclasses import replace
from math import hypot, log, sqrt
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records_chemistry import IonAt

LOWEST_PH: Final = -10.0  # our judgement: no vessel holds more than that; the root of every balance lies between the two
HIGHEST_PH: Final = 25.0  # our judgement: as above
_HALVINGS: Final = 46  # arithmetic: 35 units of pH halved so often leave less than a million-millionth
_MOST_IONIC: Final = 0.5  # source: from memory, mol/L up to which Davies' rule is used
_DAVIES_SLOPE: Final = 0.3  # source: from memory, the linear term of Davies' rule
_SMALL_PH: Final = 1e-3  # arithmetic: a step for a slope
_KELVIN: Final = 273.15  # arithmetic: 0 °C
_ROOM_KELVIN: Final = 298.15  # arithmetic: 25 °C, where constants are tabled
GAS_J_PER_MOL_K: Final = 8.314462618  # arithmetic: Avogadro's number times Boltzmann's, both exact since 2019


def lost_protons(ph: float, pk: Sequence[float]) -> float:
    """
    How many of its protons an acid has given up at this pH.

    n = sum k w_k / sum w_k, w_k = 10^(k pH - pK_1 - ... - pK_k)

    Args:
        ph: The pH. [1]
        pk: Its constants, the strongest first; none for what takes part in nothing. [1]

    Returns:
        Protons given up, on average. [1], 0 to the number of constants. Uncertainty: that of the constants.

    Source:
        common practice, no source (the law of mass action).
    """
    top, bottom, weight = 0.0, 1.0, 1.0
    for count, one in enumerate(pk, 1):
        weight *= float(10 ** (ph - one))
        top += count * weight
        bottom += weight
    return top / bottom


def bare_share(ph: float, pk: Sequence[float]) -> float:
    """
    Which share of an acid has given up every proton.

    w_n / sum w_k, w_k = 10^(k pH - pK_1 - ... - pK_k)

    Args:
        ph: The pH. [1]
        pk: Its constants, the strongest first. [1]

    Returns:
        The share. [1], 0 to 1. Uncertainty: that of the constants.

    Source:
        common practice, no source (the law of mass action).
    """
    bottom = weight = 1.0
    for one in pk:
        weight *= float(10 ** (ph - one))
        bottom += weight
    return weight / bottom


def charge_mol_per_l(ph: float, ions: Sequence[IonAt], water_pk: float) -> float:
    """
    How far the charges in a solution are from balance at a pH that is tried.

    [H+] - [OH-] + sum c_i (z_i - n_i(pH))

    Args:
        ph: The pH that is tried. [1]
        ions: What is dissolved: amount, charge with all its protons, constants. [mol/L]
        water_pk: Ion product of water, as -log10. [1]

    Returns:
        Charge left over; 0 at the true pH, falling with pH throughout. [mol/L]

    Source:
        common practice, no source (the condition that a solution carries no charge).
    """
    total = 10**-ph - 10 ** (ph - water_pk)
    for one in ions:
        total += one.mol_per_l * (one.charge - lost_protons(ph, one.pk))
    return float(total)


def ph_of(ions: Sequence[IonAt], water_pk: float) -> float:
    """
    How acid a solution is.

    The pH at which the charges balance, found by halving; concentrations stand for activities.

    Args:
        ions: What is dissolved: amount, charge with all its protons, constants. [mol/L]
        water_pk: Ion product of water, as -log10. [1]

    Returns:
        The pH. [1]. Uncertainty: `ph_sd`.

    Source:
        common practice, no source (the condition that a solution carries no charge).
    """
    low, high = LOWEST_PH, HIGHEST_PH
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if charge_mol_per_l(middle, ions, water_pk) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def base_to_ph_mol_per_l(to_ph: float, ions: Sequence[IonAt], water_pk: float) -> float:
    """
    How much strong alkali brings a solution to a pH: its acid reserve.

    The charge that is missing there: b = -([H+] - [OH-] + sum c_i (z_i - n_i)); the volume of the alkali is left out.

    Args:
        to_ph: The pH to be reached. [1]
        ions: What is dissolved. [mol/L]
        water_pk: Ion product of water, as -log10. [1]

    Returns:
        Strong alkali for each litre; below 0 it is strong acid. [mol/L]. Uncertainty: constants near that pH, and the strength of the solution.

    Source:
        common practice, no source (the condition that a solution carries no charge).
    """
    return -charge_mol_per_l(to_ph, ions, water_pk)


def with_base(ions: Sequence[IonAt], base_mol_per_l: float) -> tuple[IonAt, ...]:
    """
    What is in a solution after so much strong alkali has come in.

    Args:
        ions: What is dissolved. [mol/L]
        base_mol_per_l: Strong alkali, one charge for each mole; below 0 strong acid. [mol/L]

    Returns:
        The same with the alkali's metal, or the acid's anion. [mol/L]

    Source:
        common practice, no source.
    """
    return (*ions, IonAt("alkali" if base_mol_per_l >= 0 else "acid", 1 if base_mol_per_l >= 0 else -1, abs(base_mol_per_l)))


def ionic_strength_mol_per_l(ph: float, ions: Sequence[IonAt], water_pk: float) -> float:
    """
    How much the charges in a solution hold each other.

    I = 1/2 sum c z^2, each acid spread over its steps as `lost_protons` has it

    Args:
        ph: The pH. [1]
        ions: What is dissolved. [mol/L]
        water_pk: Ion product of water, as -log10. [1]

    Returns:
        Ionic strength. [mol/L] >= 0. Uncertainty: ions that pair up are counted as free.

    Source:
        common practice, no source (the definition of Lewis and Randall).
    """
    total = 10**-ph + 10 ** (ph - water_pk)
    for one in ions:
        weight = bottom = 1.0
        top = float(one.charge**2)
        for count, constant in enumerate(one.pk, 1):
            weight *= float(10 ** (ph - constant))
            top += weight * (one.charge - count) ** 2
            bottom += weight
        total += one.mol_per_l * top / bottom
    return float(total) / 2


def davies_log10(ionic_mol_per_l: float, slope: float) -> float:
    """
    How much less active an ion of one charge is among others.

    -log10 g = A (sqrt I / (1 + sqrt I) - 0.3 I), I not above 0.5

    Args:
        ionic_mol_per_l: Ionic strength. [mol/L] >= 0
        slope: The constant A of water. [1]

    Returns:
        -log10 of the activity coefficient. [log10]. Uncertainty: about 0.1 of it up to 0.1 mol/L, unknown in strong solutions.

    Raises:
        OutOfRange: an ionic strength below 0.

    Source:
        from memory, unverified (Davies' rule).
    """
    if ionic_mol_per_l < 0:
        raise OutOfRange("ionic_mol_per_l", ionic_mol_per_l, "0 or more")
    held = min(ionic_mol_per_l, _MOST_IONIC)
    return slope * (sqrt(held) / (1 + sqrt(held)) - _DAVIES_SLOPE * held)


def among_ions(ions: Sequence[IonAt], single_log10: float) -> tuple[IonAt, ...]:
    """
    The constants as a glass electrode would find them among so many ions.

    pK' = pK - (1 - 2 z) f for an acid of charge z, f of an ion of one charge

    Args:
        ions: What is dissolved. [mol/L]
        single_log10: -log10 of the activity coefficient of an ion of one charge, `davies_log10`. [log10]

    Returns:
        The same with moved constants. [mol/L]

    Source:
        from memory, unverified (Davies' rule).
    """
    return tuple(
        replace(one, pk=tuple(constant - (1 - 2 * (one.charge - step)) * single_log10 for step, constant in enumerate(one.pk))) for one in ions
    )


def ph_sd(ph: float, ions: Sequence[IonAt], water_pk: float, slope: float) -> float:
    """
    How unsure a computed pH is, one standard deviation.

    Each constant's doubt carried through the balance, d pH = -(dF/dpK) / (dF/dpH), and the shift that Davies' rule would make, in quadrature

    Args:
        ph: The pH, `ph_of`. [1]
        ions: What is dissolved, each constant with its doubt. [mol/L]
        water_pk: Ion product of water, as -log10. [1]
        slope: The constant A of Davies' rule. [1]

    Returns:
        The doubt. [1] >= 0

    Source:
        our judgement (that the whole of Davies' shift is doubt).
    """
    steep = (charge_mol_per_l(ph + _SMALL_PH, ions, water_pk) - charge_mol_per_l(ph - _SMALL_PH, ions, water_pk)) / (2 * _SMALL_PH)
    parts = []
    for one in ions:
        for step, doubt in enumerate(one.pk_sd):
            moved = tuple(constant + _SMALL_PH * (place == step) for place, constant in enumerate(one.pk))
            change = one.mol_per_l * (lost_protons(ph, one.pk) - lost_protons(ph, moved)) / _SMALL_PH
            parts.append(change / steep * doubt)
    single_log10 = davies_log10(ionic_strength_mol_per_l(ph, ions, water_pk), slope)
    return hypot(*parts, _ph_among(ions, water_pk, single_log10) - ph)


def reserve_sd_mol_per_l(to_ph: float, ions: Sequence[IonAt], water_pk: float, slope: float, reading_sd: float) -> float:
    """
    How unsure a reserve is, one standard deviation: what a glass electrode would find among the ions that are there by then, and its own reading.

    |b(pH, pK') - b(pH, pK)| with the ionic strength of the solution after the alkali, and the slope of b times the doubt of the end

    Args:
        to_ph: The pH to be reached. [1]
        ions: What is dissolved. [mol/L]
        water_pk: Ion product of water, as -log10. [1]
        slope: The constant A of Davies' rule. [1]
        reading_sd: Doubt of the pH at which one stops. [1]

    Returns:
        The doubt. [mol/L] >= 0

    Source:
        our judgement (that the whole of Davies' shift is doubt).
    """
    base = base_to_ph_mol_per_l(to_ph, ions, water_pk)
    single_log10 = davies_log10(ionic_strength_mol_per_l(to_ph, with_base(ions, base), water_pk), slope)
    among = base_to_ph_mol_per_l(to_ph, among_ions(ions, single_log10), water_pk)
    above = base_to_ph_mol_per_l(to_ph + reading_sd, ions, water_pk)
    return hypot(among - base, above - base)


def _ph_among(ions: Sequence[IonAt], water_pk: float, single_log10: float) -> float:
    """The pH of a glass electrode; in its balance 10^-pH is an activity, and so is what of the hydroxide is left over."""
    low, high = LOWEST_PH, HIGHEST_PH
    moved = among_ions(ions, single_log10)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        own = 10 ** (single_log10 - middle) - 10 ** (single_log10 + middle - water_pk)
        if own + sum(one.mol_per_l * (one.charge - lost_protons(middle, one.pk)) for one in moved) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def citric_pk1(celsius: float, coefficients: Sequence[float]) -> float:
    """
    The first constant of citric acid at a temperature.

    ln K1 = a + b/T + c ln T + d T

    Args:
        celsius: Temperature. [°C], 0 to 50
        coefficients: a, b, c, d. [1], [K], [1], [1/K]

    Returns:
        pK1 without other ions. [1]. Uncertainty: 0.005.

    Source:
        citricmiami, abstract.
    """
    kelvin = celsius + _KELVIN
    first, over, logarithm, linear = coefficients
    return -(first + over / kelvin + logarithm * log(kelvin) + linear * kelvin) / log(10)


def pk_at(celsius: float, pk: float, heat_kj_per_mol: float) -> float:
    """
    A constant of 25 °C at another temperature.

    pK(T) = pK(25 °C) + H / (R ln 10) (1/T - 1/298.15)

    Args:
        celsius: Temperature. [°C] > -273
        pk: The constant at 25 °C. [1]
        heat_kj_per_mol: Heat that the step takes up. [kJ/mol]

    Returns:
        The constant. [1]. Uncertainty: that of the heat, which itself changes a little with temperature.

    Raises:
        OutOfRange: a temperature at or below absolute zero.

    Source:
        common practice, no source (van 't Hoff's rule).
    """
    kelvin = celsius + _KELVIN
    if kelvin <= 0:
        raise OutOfRange("celsius", celsius, "above -273.15")
    return pk + 1000 * heat_kj_per_mol / (GAS_J_PER_MOL_K * log(10)) * (1 / kelvin - 1 / _ROOM_KELVIN)
