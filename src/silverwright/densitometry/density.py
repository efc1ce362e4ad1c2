"""Density, the light that comes back, and how light it looks."""

from math import log10
from typing import Final

from silverwright.errors import OutOfRange

LINEAR_BELOW: Final = (6 / 29) ** 3  # arithmetic of CIE 15: where the cube root meets its straight start
LINEAR_SLOPE: Final = (29 / 3) ** 3  # arithmetic of CIE 15: the slope of that start
ROOT_SCALE: Final = 116  # arithmetic of CIE 15: 100 of white and the offset
ROOT_OFFSET: Final = 16  # arithmetic of CIE 15


def density_of_reflectance(reflectance_factor: float) -> float:
    """
    How dark a tone is that sends back this share of the light.

    D = -log10 R

    Args:
        reflectance_factor: Share of the light of the perfect diffuser. [1] > 0

    Returns:
        Density. [1] Uncertainty: that of the reflectance.

    Raises:
        OutOfRange: reflectance_factor not above 0.

    Source:
        iso5, part 1.
    """
    if reflectance_factor <= 0:
        raise OutOfRange("reflectance_factor", reflectance_factor, "above 0")
    return -log10(reflectance_factor)


def reflectance_of_density(density: float) -> float:
    """
    The share of the light that comes back from this density.

    R = 10^-D

    Args:
        density: Reflection density. [1] any

    Returns:
        Share of the light of the perfect diffuser. [1] > 0. Uncertainty: that of the density.

    Source:
        iso5, part 1.
    """
    return float(10.0**-density)


def lightness_of_reflectance(reflectance_factor: float) -> float:
    """
    How light a grey looks beside a perfect white.

    L* = 116 f(R) - 16; f(R) = R^(1/3) above (6/29)^3, else (29/3)^3 R / 116 + 16/116

    Args:
        reflectance_factor: Share of the light of the perfect diffuser. [1] >= 0

    Returns:
        L*. [1] 0 to 100 for a reflectance up to 1. Uncertainty: that of the reflectance.

    Raises:
        OutOfRange: reflectance_factor below 0.

    Source:
        cie15, CIE 1976 L*.
    """
    if reflectance_factor < 0:
        raise OutOfRange("reflectance_factor", reflectance_factor, "0 or more")
    if reflectance_factor > LINEAR_BELOW:
        return float(ROOT_SCALE * reflectance_factor ** (1 / 3) - ROOT_OFFSET)
    return LINEAR_SLOPE * reflectance_factor


def reflectance_of_lightness(lightness: float) -> float:
    """
    The share of the light that a grey of this lightness sends back.

    R = ((L* + 16)/116)^3 above L* = 8, else L* / (29/3)^3

    Args:
        lightness: L*. [1] >= 0

    Returns:
        Share of the light of the perfect diffuser. [1] >= 0. Uncertainty: that of the lightness.

    Raises:
        OutOfRange: lightness below 0.

    Source:
        cie15, CIE 1976 L*.
    """
    if lightness < 0:
        raise OutOfRange("lightness", lightness, "0 or more")
    if lightness > LINEAR_SLOPE * LINEAR_BELOW:
        return float(((lightness + ROOT_OFFSET) / ROOT_SCALE) ** 3)
    return lightness / LINEAR_SLOPE
