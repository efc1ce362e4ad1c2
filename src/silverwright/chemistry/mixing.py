"""Stock and water, bath and stock: how much of each, and what comes of it."""

from collections.abc import Sequence
from typing import Final

from silverwright.chemistry.density import solution_density_g_per_ml, water_density_g_per_ml
from silverwright.chemistry.strength import fraction_of_grams_per_litre, grams_per_litre
from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.records_chemistry import Contents, Cylinder, Dilution, Substance

_SAME: Final = 1e-9  # arithmetic: what doubles leave of a whole


def dilution(stock_fraction: float, wanted_fraction: float, volume_ml: float, substance: Substance, celsius: float) -> Dilution:
    """
    How much stock and how much water make so much of a weaker solution.

    m = V rho(w2), m1 = m w2 / w1, water = m - m1, V1 = m1 / rho(w1): masses add up, volumes do not

    Args:
        stock_fraction: Mass fraction of the stock. [1] above 0, to 1
        wanted_fraction: Mass fraction that is wanted. [1] 0 to stock_fraction
        volume_ml: Volume of what is wanted. [mL] >= 0
        substance: What is dissolved.
        celsius: Temperature at which volumes are measured. [°C] -10 to 100

    Returns:
        Stock and water, weighed and measured. [g], [mL]. Uncertainty: the strength of the stock, and the densities.

    Raises:
        OutOfRange: wanted stronger than the stock, or a volume below 0.

    Source:
        laliberte2009, mixing rule of the apparent densities.
    """
    if not (0 <= wanted_fraction <= stock_fraction and stock_fraction > 0):
        raise OutOfRange("wanted_fraction", wanted_fraction, f"0 to {stock_fraction:.4g}, that of the stock")
    if not volume_ml >= 0:
        raise OutOfRange("volume_ml", volume_ml, "0 and more")
    whole_g = volume_ml * solution_density_g_per_ml([(substance, wanted_fraction)], celsius)
    stock_g = whole_g * wanted_fraction / stock_fraction
    water_g = whole_g - stock_g
    stock_ml = stock_g / solution_density_g_per_ml([(substance, stock_fraction)], celsius)
    return Dilution(stock_g=stock_g, stock_ml=stock_ml, water_g=water_g, water_ml=water_g / water_density_g_per_ml(celsius))


def filled_up_fraction(stock_fraction: float, stock_share: float, substance: Substance, celsius: float) -> float:
    """
    How strong it is when so large a part of the volume is stock and the rest is filled up with water.

    1000 w rho(w) = share c1, c1 the grams in a litre of the stock

    Args:
        stock_fraction: Mass fraction of the stock. [1] 0 to 1
        stock_share: Volume of stock in the volume of the whole. [1] 0 to 1
        substance: What is dissolved.
        celsius: Temperature at which volumes are measured. [°C] -10 to 100

    Returns:
        Mass fraction. [1]. Uncertainty: the densities.

    Raises:
        OutOfRange: a share that is not within 0 to 1.

    Source:
        laliberte2009, mixing rule of the apparent densities.
    """
    if not 0 <= stock_share <= 1:
        raise OutOfRange("stock_share", stock_share, "0 to 1")
    return fraction_of_grams_per_litre(stock_share * grams_per_litre(stock_fraction, substance, celsius), substance, celsius)


def poured_fraction(stock_fraction: float, stock_g: float, water_g: float) -> float:
    """
    How strong it is when so much stock and so much water were put together.

    w = w1 m1 / (m1 + m_water)

    Args:
        stock_fraction: Mass fraction of the stock. [1] 0 to 1
        stock_g: Stock. [g] >= 0
        water_g: Water. [g] >= 0

    Returns:
        Mass fraction; 0 where nothing was put together. [1]. Uncertainty: the strength of the stock, and scale or cylinder.

    Source:
        our judgement.
    """
    whole_g = stock_g + water_g
    return stock_fraction * stock_g / whole_g if whole_g > 0 else 0.0


def replenish_g(bath_g: float, bath_fraction: float, wanted_fraction: float, stock_fraction: float) -> float:
    """
    How much stock brings a bath back to its strength, when it is added to all of it.

    m = m_bath (w2 - w_bath) / (w1 - w2)

    Args:
        bath_g: Mass of the bath. [g] >= 0
        bath_fraction: Mass fraction in the bath. [1] 0 to 1
        wanted_fraction: Mass fraction that is wanted. [1] bath_fraction to below stock_fraction
        stock_fraction: Mass fraction of the stock. [1] to 1

    Returns:
        Stock to add. [g]. Uncertainty: both strengths.

    Raises:
        OutOfRange: wanted weaker than the bath, or no weaker than the stock.

    Source:
        our judgement.
    """
    if not bath_fraction <= wanted_fraction < stock_fraction:
        raise OutOfRange(
            "wanted_fraction", wanted_fraction, f"{bath_fraction:.4g}, that of the bath, to below {stock_fraction:.4g}, that of the stock"
        )
    return bath_g * (wanted_fraction - bath_fraction) / (stock_fraction - wanted_fraction)


def exchange_g(bath_g: float, bath_fraction: float, wanted_fraction: float, stock_fraction: float) -> float:
    """
    How much of a bath is taken out and given back as stock, so that it is as strong as wanted and weighs what it did.

    m = m_bath (w2 - w_bath) / (w1 - w_bath)

    Args:
        bath_g: Mass of the bath. [g] >= 0
        bath_fraction: Mass fraction in the bath. [1] 0 to 1
        wanted_fraction: Mass fraction that is wanted. [1] bath_fraction to stock_fraction
        stock_fraction: Mass fraction of the stock. [1] above bath_fraction, to 1

    Returns:
        Bath to take out, and stock to add. [g]. Uncertainty: both strengths.

    Raises:
        OutOfRange: wanted weaker than the bath, or stronger than the stock.

    Source:
        our judgement.
    """
    if not (bath_fraction <= wanted_fraction <= stock_fraction and bath_fraction < stock_fraction):
        raise OutOfRange("wanted_fraction", wanted_fraction, f"{bath_fraction:.4g}, that of the bath, to {stock_fraction:.4g}, that of the stock")
    return bath_g * (wanted_fraction - bath_fraction) / (stock_fraction - bath_fraction)


def merged(one: Contents, other: Contents) -> Contents:
    """
    What is there when one vessel is poured into another.

    V = V1 + V2, m_i = m_i1 + m_i2

    Args:
        one: What the one held.
        other: What the other held.

    Returns:
        Both together. Uncertainty: the volume draws together by up to 2 %, which is left out, so that nothing is lost in the counting.

    Source:
        our judgement.
    """
    keys = dict.fromkeys((*one.mass_g, *other.mass_g))
    return Contents(one.volume_ml + other.volume_ml, {key: one.mass_g.get(key, 0.0) + other.mass_g.get(key, 0.0) for key in keys})


def drawn(contents: Contents, volume_ml: float) -> Contents:
    """
    What is in so much of it, when it is poured out.

    m_i = m_i0 V / V0

    Args:
        contents: What the vessel holds, well stirred.
        volume_ml: What is poured out. [mL] 0 to all of it

    Returns:
        What was poured out. Uncertainty: that of the volume.

    Raises:
        OutOfRange: more than there is.

    Source:
        our judgement.
    """
    if not 0 <= volume_ml <= contents.volume_ml * (1 + _SAME):
        raise OutOfRange("volume_ml", volume_ml, f"0 to {contents.volume_ml:.4g}, all that is there")
    share = min(1.0, volume_ml / contents.volume_ml) if contents.volume_ml > 0 else 0.0
    return Contents(min(volume_ml, contents.volume_ml), {key: mass_g * share for key, mass_g in contents.mass_g.items()})


def settable_g(mass_g: float, step_g: float) -> float:
    """
    What a scale can show that is nearest to this mass.

    m' = step round(m / step)

    Args:
        mass_g: What should be weighed. [g]
        step_g: What the scale counts in. [g] > 0

    Returns:
        What is weighed. [g]. Uncertainty: that of the scale.

    Raises:
        OutOfRange: a step that is not above 0.

    Source:
        our judgement.
    """
    if not step_g > 0:
        raise OutOfRange("step_g", step_g, "above 0")
    return round(mass_g / step_g) * step_g


def cylinder_for(volume_ml: float, cylinders: Sequence[Cylinder]) -> Cylinder:
    """
    Which measuring cylinder to take.

    The smallest that holds all of it; where none does, the largest, filled several times

    Args:
        volume_ml: What should be measured. [mL]
        cylinders: Those at hand; at least one.

    Returns:
        The cylinder.

    Raises:
        NotEnoughReadings: no cylinder.

    Source:
        our judgement.
    """
    if not cylinders:
        raise NotEnoughReadings("measuring cylinders", 0, 1)
    by_size = sorted(cylinders, key=lambda one: one.holds_ml)
    return next((one for one in by_size if one.holds_ml >= volume_ml), by_size[-1])


def settable_ml(volume_ml: float, cylinders: Sequence[Cylinder]) -> float:
    """
    What a measuring cylinder can show that is nearest to this volume.

    V' = step round(V / step), the step of the cylinder that is taken

    Args:
        volume_ml: What should be measured. [mL]
        cylinders: Those at hand; at least one.

    Returns:
        What is measured. [mL]. Uncertainty: the tolerance of the cylinder.

    Source:
        our judgement.
    """
    step_ml = cylinder_for(volume_ml, cylinders).step_ml
    return round(volume_ml / step_ml) * step_ml
