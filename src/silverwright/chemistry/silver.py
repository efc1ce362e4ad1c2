"""Silver in paper and bath: what a sheet gives, what citrate lets stay dissolved, what a chloride takes."""

from math import sqrt
from typing import Final

from silverwright.errors import OutOfRange

_IONS_OF_CITRATE: Final = 3  # arithmetic: Ag3 citrate


def silver_to_bleach_g(area_m2: float, g_per_m2: float, mean_share: float) -> float:
    """
    How much silver a sheet gives to the bleach.

    m = A (m_coat - m_pos), m_pos = m_coat s

    Args:
        area_m2: Area of the sheet. [m²] >= 0
        g_per_m2: Silver that was coated on it. [g/m²] >= 0
        mean_share: Share of the silver that stays for the positive: how dark the picture is, 0 white to 1 black. [1], 0 to 1

    Returns:
        Silver. [g]. Uncertainty: coatings differ threefold; a picture's share by its density is crude and on the high side.

    Raises:
        OutOfRange: an area or a coating below 0, a share outside 0 to 1.

    Source:
        our judgement.
    """
    if min(area_m2, g_per_m2) < 0:
        raise OutOfRange("area_m2 or g_per_m2", min(area_m2, g_per_m2), "0 or more")
    if not 0 <= mean_share <= 1:
        raise OutOfRange("mean_share", mean_share, "0 to 1")
    return area_m2 * g_per_m2 * (1 - mean_share)


def mean_share_of(mean_density: float, dmin: float, dmax: float) -> float:
    """
    How much of a sheet's silver stays in the picture, by how dark it is on average.

    s = (D - Dmin) / (Dmax - Dmin), held between 0 and 1

    Args:
        mean_density: Density of the picture on average. [1]
        dmin: Lightest tone that the process gives. [1]
        dmax: Darkest tone that the process gives. [1] above dmin

    Returns:
        The share. [1], 0 to 1. Uncertainty: density grows less than the silver does, so the silver of a dark picture is told too low.

    Raises:
        OutOfRange: Dmax not above Dmin.

    Source:
        our judgement.
    """
    if dmax <= dmin:
        raise OutOfRange("dmax", dmax, "above Dmin")
    return min(1.0, max(0.0, (mean_density - dmin) / (dmax - dmin)))


def silver_a_sheet_g(found_g_per_l: float, bath_ml: float, sheets: float) -> float:
    """
    How much silver each sheet gave, by what was found in a bath.

    m = c V / n

    Args:
        found_g_per_l: Silver found in the bath. [g/L] >= 0
        bath_ml: Volume of the bath. [mL] >= 0
        sheets: Sheets that went through it. [1] > 0

    Returns:
        Silver of a sheet. [g]. Uncertainty: that of the test; what the sheets carried out is not counted.

    Raises:
        OutOfRange: no sheet.

    Source:
        common practice, no source.
    """
    if sheets <= 0:
        raise OutOfRange("sheets", sheets, "above 0")
    return found_g_per_l * bath_ml / 1000 / sheets


def citrate_limit_mol_per_l(citrate_mol_per_l: float, solubility_product_pk: float) -> float:
    """
    How much silver stays dissolved before silver citrate can fall out.

    [Ag+] = (Ksp / [citrate])^(1/3), the citrate without any proton

    Args:
        citrate_mol_per_l: Citrate ions that hold no proton. [mol/L] > 0
        solubility_product_pk: Solubility product of silver citrate, as -log10. [1]

    Returns:
        Silver that may be dissolved. [mol/L]. Uncertainty: a lower bound, as citrate also holds silver in solution; the product is from memory.

    Raises:
        OutOfRange: citrate not above 0.

    Source:
        from memory, unverified (the product); common practice, no source (the rule).
    """
    if citrate_mol_per_l <= 0:
        raise OutOfRange("citrate_mol_per_l", citrate_mol_per_l, "above 0")
    return float((10**-solubility_product_pk / citrate_mol_per_l) ** (1 / _IONS_OF_CITRATE))


def bound_by_chloride_mol_per_l(silver_mol_per_l: float, chloride_mol_per_l: float, solubility_product_pk: float) -> float:
    """
    How much of the dissolved silver the chloride of the water takes out as silver chloride.

    (S - x) (C - x) = Ksp, or x = 0 where S C does not reach it

    Args:
        silver_mol_per_l: Dissolved silver. [mol/L] >= 0
        chloride_mol_per_l: Chloride. [mol/L] >= 0
        solubility_product_pk: Solubility product of silver chloride, as -log10. [1]

    Returns:
        Silver that falls out. [mol/L]. Uncertainty: what other ions hold in solution; in much chloride some of it dissolves again.

    Raises:
        OutOfRange: an amount below 0.

    Source:
        from memory, unverified (the product); common practice, no source (the rule).
    """
    if min(silver_mol_per_l, chloride_mol_per_l) < 0:
        raise OutOfRange("silver_mol_per_l or chloride_mol_per_l", min(silver_mol_per_l, chloride_mol_per_l), "0 or more")
    product = 10**-solubility_product_pk
    excess = silver_mol_per_l * chloride_mol_per_l - product
    if excess <= 0:
        return 0.0
    both = silver_mol_per_l + chloride_mol_per_l
    return 2 * excess / (both + sqrt(max(0.0, both**2 - 4 * excess)))
