"""What a sheet carries from one bath into the next, and what many sheets make of both."""

from math import expm1, log, log1p
from typing import Final

from silverwright.errors import OutOfRange

SMALLEST_WET: Final = 1e-12  # arithmetic: below that share of the bath the series is the number of sheets, to the last digit of a double


def carried_ml(area_m2: float, ml_per_m2: float) -> float:
    """
    How much of a bath a sheet takes along.

    v = A q

    Args:
        area_m2: Area of the sheet, one side. [m²] >= 0
        ml_per_m2: What a square metre of this paper holds when it has drained. [mL/m²] >= 0

    Returns:
        Volume that goes with the sheet. [mL]. Uncertainty: that of q, half as much again either way unless one's own sheets were weighed.

    Raises:
        OutOfRange: a figure below 0.

    Source:
        torzynski2004 (film); our judgement (paper).
    """
    if min(area_m2, ml_per_m2) < 0:
        raise OutOfRange("area_m2 or ml_per_m2", min(area_m2, ml_per_m2), "0 or more")
    return area_m2 * ml_per_m2


def carried_by_weight_ml(dry_g: float, drained_g: float, density_g_per_ml: float) -> float:
    """
    How much of a bath my own sheet took along, by weighing it dry and drained.

    v = (m_drained - m_dry) / rho

    Args:
        dry_g: The sheet before it went in. [g] > 0
        drained_g: The same sheet drained. [g] >= dry_g
        density_g_per_ml: Density of the bath. [g/mL] > 0

    Returns:
        Volume that went with it. [mL]. Uncertainty: that of the balance, and of how long it drained.

    Raises:
        OutOfRange: a drained sheet that is lighter than the dry one, or a density not above 0.

    Source:
        common practice, no source.
    """
    if drained_g < dry_g:
        raise OutOfRange("drained_g", drained_g, "as much as the dry sheet, or more")
    if density_g_per_ml <= 0:
        raise OutOfRange("density_g_per_ml", density_g_per_ml, "above 0")
    return (drained_g - dry_g) / density_g_per_ml


def share_left(bath_ml: float, carried_each_ml: float, sheets: float) -> float:
    """
    What is left in a bath of what was in it, after so many sheets brought in water and took bath away.

    (V / (V + v))^n

    Args:
        bath_ml: Volume of the bath. [mL] > 0
        carried_each_ml: What each sheet brings in, and takes out again. [mL] >= 0
        sheets: How many. [1] >= 0

    Returns:
        Share of the first amount. [1], 0 to 1. Uncertainty: that of what is carried; each sheet is taken to mix with the whole bath.

    Raises:
        OutOfRange: a bath not above 0, or anything else below 0.

    Source:
        torzynski2004 (the rule); common practice, no source (that it counts sheets).
    """
    _held(bath_ml, carried_each_ml, sheets)
    return float((bath_ml / (bath_ml + carried_each_ml)) ** sheets)


def brought_in_share(bath_ml: float, carried_each_ml: float, sheets: float) -> float:
    """
    How strong what the sheets bring along has become in a bath, as a share of its strength where they come from.

    1 - (V / (V + v))^n

    Args:
        bath_ml: Volume of the bath. [mL] > 0
        carried_each_ml: What each sheet brings in. [mL] >= 0
        sheets: How many. [1] >= 0

    Returns:
        Share of the strength of the bath before. [1], 0 to 1. Uncertainty: that of what is carried.

    Raises:
        OutOfRange: a bath not above 0, or anything else below 0.

    Source:
        common practice, no source (`share_left` of the bath before).
    """
    _held(bath_ml, carried_each_ml, sheets)
    return -expm1(-sheets * log1p(carried_each_ml / bath_ml))


def built_up(each_mol_per_l: float, bath_ml: float, carried_each_ml: float, sheets: float) -> float:
    """
    How much has gathered in a bath of what each sheet gives to it, after what each sheet takes out with it.

    c = g r (1 - r^n) / (1 - r), r = V / (V + v), g what one sheet gives to the whole bath; g n where nothing is carried

    Args:
        each_mol_per_l: What one sheet adds to a litre of this bath. [mol/L] >= 0
        bath_ml: Volume of the bath. [mL] > 0
        carried_each_ml: What each sheet takes out. [mL] >= 0
        sheets: How many. [1] >= 0

    Returns:
        How much is in a litre. [mol/L]. Uncertainty: that of what a sheet gives.

    Raises:
        OutOfRange: a bath not above 0, or anything else below 0.

    Source:
        common practice, no source (a geometric series).
    """
    _held(bath_ml, carried_each_ml, sheets)
    wet = carried_each_ml / bath_ml
    return each_mol_per_l * -expm1(-sheets * log1p(wet)) / wet if wet > SMALLEST_WET else each_mol_per_l * sheets


def sheets_to_share(bath_ml: float, carried_each_ml: float, share: float) -> float | None:
    """
    After how many sheets no more than a share is left of what a bath held.

    n = ln s / ln(V / (V + v))

    Args:
        bath_ml: Volume of the bath. [mL] > 0
        carried_each_ml: What each sheet brings in, and takes out again. [mL] >= 0
        share: The share. [1], above 0 up to 1

    Returns:
        Sheets, not rounded; nothing where nothing is carried. [1]. Uncertainty: that of what is carried.

    Raises:
        OutOfRange: a bath not above 0, a volume below 0 or a share outside its bounds.

    Source:
        torzynski2004 (the rule, turned round).
    """
    _held(bath_ml, carried_each_ml)
    if not 0 < share <= 1:
        raise OutOfRange("share", share, "above 0, up to 1")
    return -log(share) / log1p(carried_each_ml / bath_ml) if carried_each_ml > 0 else None


def _held(bath_ml: float, carried_each_ml: float, sheets: float = 0.0) -> None:
    if sheets < 0:
        raise OutOfRange("sheets", sheets, "0 or more")
    if bath_ml <= 0:
        raise OutOfRange("bath_ml", bath_ml, "above 0")
    if carried_each_ml < 0:
        raise OutOfRange("carried_each_ml", carried_each_ml, "0 or more")
