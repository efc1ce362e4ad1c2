"""How dense water and solutions are, and how much of each thing a litre of them holds."""

from collections.abc import Sequence
from math import exp, hypot
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records_chemistry import DensityModel, Substance

# source: laliberte2009, the coefficients of water in its supporting table
_WATER_ABOVE: Final = (999.83952, 16.945176, -0.0079870401, -4.6170461e-5, 1.0556302e-7, -2.8054253e-10)
_WATER_BELOW: Final = 0.01687985  # source: laliberte2009, the same table
_COLDEST_CELSIUS: Final = -10.0  # our judgement: water that has not frozen yet; no bath is colder
_HOTTEST_CELSIUS: Final = 100.0  # arithmetic: water boils
_KG_PER_M3: Final = 1000.0  # arithmetic: in a gram per millilitre
_MILLIONTH: Final = 1e-6  # arithmetic: how the source writes its exponent
APPARENT_UNKNOWN_ML_PER_G: Final = 0.45  # our judgement: organic substances take about 0.6, salts 0.4 down to nothing, as they draw water together
APPARENT_UNKNOWN_SD_ML_PER_G: Final = 0.25  # our judgement: so that both kinds lie within
_FIT_SD_SHARE: Final = 0.001  # our judgement: against printed tables the fits miss by up to two grams in a litre
_BEYOND_SD_ML_PER_G: Final = 0.1  # our judgement: what the room of a gram may be off, for each whole that a strength lies beyond the points
_SAME: Final = 1e-15  # arithmetic: as near as doubles lie
_ROUNDS: Final = 60  # our judgement: each round leaves a small part of the error, so that far fewer reach the last digit of a double


def water_density_g_per_ml(celsius: float) -> float:
    """
    How dense water is.

    rho_w = (999.83952 + 16.945176 t - 0.0079870401 t^2 - ... ) / (1 + 0.01687985 t), t in degrees Celsius

    Args:
        celsius: Temperature. [°C] -10 to 100

    Returns:
        Density at ordinary pressure. [g/mL]. Uncertainty: less than 0.00002 between 0 and 40 °C, that of the polynomial.

    Raises:
        OutOfRange: a temperature at which this is no liquid water.

    Source:
        laliberte2009, density of water in its supporting table.
    """
    if not _COLDEST_CELSIUS <= celsius <= _HOTTEST_CELSIUS:
        raise OutOfRange("celsius", celsius, "-10 to 100")
    above = sum(coefficient * celsius**power for power, coefficient in enumerate(_WATER_ABOVE))
    return above / (1 + _WATER_BELOW * celsius) / _KG_PER_M3


def apparent_volume_ml_per_g(model: DensityModel | None, solutes_fraction: float, celsius: float) -> float:
    """
    How much room a gram of a dissolved substance takes in its solution.

    v = (w + c2 + c3 t) / ((c0 w + c1) exp(1e-6 (t + c4)^2)), w the mass fraction of all that is dissolved. Beyond the strengths and
    temperatures of the fit it stays as at their end, or goes straight to the density of the liquid alone where that is known

    Args:
        model: The coefficients of the substance; without them, the room that is taken for a substance of which none is known.
        solutes_fraction: Mass of all that is dissolved in the mass of the solution. [1] 0 to 1
        celsius: Temperature. [°C] -10 to 100

    Returns:
        Apparent specific volume; in dilute solutions of some salts it is below 0, as they draw the water together. [mL/g]. Uncertainty:
        that of the fit, or of the room that is taken.

    Source:
        laliberte2009, equation of the apparent density; what is taken for an unknown substance is our judgement.
    """
    if model is None:
        return APPARENT_UNKNOWN_ML_PER_G
    beyond = solutes_fraction - model.most_fraction
    if beyond > 0 and model.pure_g_per_ml:
        at_end = apparent_volume_ml_per_g(model, model.most_fraction, celsius)
        return at_end + (1 / model.pure_g_per_ml - at_end) * beyond / (1 - model.most_fraction)
    fraction = min(solutes_fraction, model.most_fraction)
    at_celsius = min(max(celsius, model.lowest_celsius), model.highest_celsius)
    warmth = exp(_MILLIONTH * (at_celsius + model.c4) ** 2)
    return _KG_PER_M3 * (fraction + model.c2 + model.c3 * at_celsius) / ((model.c0 * fraction + model.c1) * warmth)


def solution_density_g_per_ml(fractions: Sequence[tuple[Substance, float]], celsius: float) -> float:
    """
    How dense a solution is.

    1/rho = w_water / rho_water + sum of w_i v_i. The crystal water of a substance counts as water

    Args:
        fractions: Each dissolved substance with its mass fraction. [1] each >= 0, together <= 1
        celsius: Temperature. [°C] -10 to 100

    Returns:
        Density. [g/mL]. Uncertainty: that of `solution_density_sd_g_per_ml`.

    Raises:
        OutOfRange: a fraction below 0, or more dissolved than there is solution.

    Source:
        laliberte2009, mixing rule of the apparent densities.
    """
    dry = _dry(fractions)
    solutes_fraction = sum(fraction for _, fraction in dry)
    dissolved = sum(fraction * apparent_volume_ml_per_g(one.density, solutes_fraction, celsius) for one, fraction in dry)
    return 1 / ((1 - solutes_fraction) / water_density_g_per_ml(celsius) + dissolved)


def solution_density_sd_g_per_ml(fractions: Sequence[tuple[Substance, float]], celsius: float) -> float:
    """
    How unsure the density of a solution is.

    sd = hypot(rho f, rho^2 w_i u_i ...), u_i 0.25 mL/g for a substance without a model, else a tenth of how far beyond its points it is

    Args:
        fractions: Each dissolved substance with its mass fraction. [1] each >= 0, together <= 1
        celsius: Temperature. [°C] -10 to 100

    Returns:
        One standard deviation of the density. [g/mL]

    Source:
        our judgement.
    """
    density = solution_density_g_per_ml(fractions, celsius)
    dry = _dry(fractions)
    solutes_fraction = sum(fraction for _, fraction in dry)
    parts = [density**2 * fraction * _volume_sd_ml_per_g(one, solutes_fraction) for one, fraction in dry]
    fit = _FIT_SD_SHARE if any(fraction > 0 for _, fraction in dry) else 0.0
    return hypot(density * fit, *parts)


def fractions_in(masses: Sequence[tuple[Substance, float]], volume_ml: float, celsius: float) -> tuple[float, ...]:
    """
    How large a part of a solution's mass each dissolved substance is, when so much of each is in so much of it.

    w_i = m_i / (V rho(w))

    Args:
        masses: Each dissolved substance with its mass. [g] >= 0
        volume_ml: Volume of the solution. [mL] > 0
        celsius: Temperature. [°C] -10 to 100

    Returns:
        Mass fraction of each. [1]. Uncertainty: that of the density.

    Raises:
        OutOfRange: no volume, or so much that no water is left beside it.

    Source:
        laliberte2009, mixing rule of the apparent densities.
    """
    if not volume_ml > 0:
        raise OutOfRange("volume_ml", volume_ml, "above 0")
    whole_g = sum(mass_g for _, mass_g in masses)
    density = 1.0
    for _ in range(_ROUNDS):
        share = min(1.0, whole_g / (volume_ml * density))
        scale = share / whole_g if whole_g > 0 else 0.0
        before, density = density, solution_density_g_per_ml([(one, mass_g * scale) for one, mass_g in masses], celsius)
        if abs(density - before) <= _SAME * density:
            break
    if whole_g > volume_ml * density * (1 + _MILLIONTH):
        raise OutOfRange("what is dissolved, in grams", whole_g, f"at most {volume_ml * density:.4g}, which leaves no water")
    return tuple(mass_g / (volume_ml * density) for _, mass_g in masses)


def _dry(fractions: Sequence[tuple[Substance, float]]) -> list[tuple[Substance, float]]:
    """The same without crystal water, after a look at whether it is possible."""
    lowest = min((fraction for _, fraction in fractions), default=0.0)
    whole = sum(fraction for _, fraction in fractions)
    if not (lowest >= 0 and whole <= 1 + _MILLIONTH):
        raise OutOfRange("a mass fraction", lowest if lowest < 0 else whole, "0 to 1, all together")
    return [(one, fraction * (1 - one.crystal_water_share)) for one, fraction in fractions]


def _volume_sd_ml_per_g(substance: Substance, solutes_fraction: float) -> float:
    """How unsure the room of a gram is."""
    if substance.density is None:
        return APPARENT_UNKNOWN_SD_ML_PER_G
    return _BEYOND_SD_ML_PER_G * max(0.0, solutes_fraction - substance.density.most_fraction)
