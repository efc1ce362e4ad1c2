"""How much a tray, a tank or a drum takes, and which sheets lie in it."""

from math import hypot, pi
from typing import Final

from silverwright.errors import OutOfRange

_ML: Final = 1000  # arithmetic: cubic millimetres in a millilitre


def tray_ml(length_mm: float, width_mm: float, depth_mm: float) -> float:
    """
    How much goes into a tray up to a depth.

    V = l w d

    Args:
        length_mm: Length inside. [mm] >= 0
        width_mm: Width inside. [mm] >= 0
        depth_mm: Depth of the liquid. [mm] >= 0

    Returns:
        Volume. [mL] >= 0. Uncertainty: the depth; walls that lean are left out, so it is a little more.

    Raises:
        OutOfRange: a length below 0.

    Source:
        common practice, no source.
    """
    _not_below_zero(length_mm=length_mm, width_mm=width_mm, depth_mm=depth_mm)
    return length_mm * width_mm * depth_mm / _ML


def tray_depth_mm(volume_ml: float, length_mm: float, width_mm: float) -> float:
    """
    How deep so much liquid stands in a tray.

    d = V / (l w)

    Args:
        volume_ml: Volume. [mL] >= 0
        length_mm: Length inside. [mm] > 0
        width_mm: Width inside. [mm] > 0

    Returns:
        Depth. [mm] >= 0. Uncertainty: that of length and width.

    Raises:
        OutOfRange: a side that is not above 0, or a volume below 0.

    Source:
        common practice, no source.
    """
    _not_below_zero(volume_ml=volume_ml)
    if min(length_mm, width_mm) <= 0:
        raise OutOfRange("length_mm", min(length_mm, width_mm), "above 0")
    return _ML * volume_ml / (length_mm * width_mm)


def drum_ml(area_m2: float, film_ml_per_m2: float) -> float:
    """
    How much a turning drum needs for the paper in it.

    V = A f

    Args:
        area_m2: Area of the paper. [m²] >= 0
        film_ml_per_m2: Liquid for each area of paper. [mL/m²] >= 0

    Returns:
        Volume. [mL] >= 0. Uncertainty: the liquid for each area, a factor of nearly two either way.

    Raises:
        OutOfRange: an area or a share below 0.

    Source:
        common practice, no source.
    """
    _not_below_zero(area_m2=area_m2, film_ml_per_m2=film_ml_per_m2)
    return area_m2 * film_ml_per_m2


def tray_volume_sd_ml(length_mm: float, width_mm: float, depth_mm: float, depth_sd_mm: float, side_sd_mm: float) -> float:
    """
    How unsure the volume of a tray is, one standard deviation.

    s_V = V hypot(s_d/d, s/l, s/w), written so that nothing is divided

    Args:
        length_mm: Length inside. [mm] >= 0
        width_mm: Width inside. [mm] >= 0
        depth_mm: Depth of the liquid. [mm] >= 0
        depth_sd_mm: Doubt of the depth. [mm] >= 0
        side_sd_mm: Doubt of a side as a hand measures it. [mm] >= 0

    Returns:
        The doubt. [mL] >= 0

    Raises:
        OutOfRange: a length below 0.

    Source:
        common practice, no source (propagation of independent errors).
    """
    _not_below_zero(length_mm=length_mm, width_mm=width_mm, depth_mm=depth_mm, depth_sd_mm=depth_sd_mm, side_sd_mm=side_sd_mm)
    return hypot(length_mm * width_mm * depth_sd_mm, width_mm * depth_mm * side_sd_mm, length_mm * depth_mm * side_sd_mm) / _ML


def spare_mm(sheet_mm: tuple[float, float], inside_mm: tuple[float, float]) -> float:
    """
    How much room is left around a sheet in a tray, on the narrower pair of sides.

    min over both sides of (inside - sheet) / 2, the longer side along the longer one

    Args:
        sheet_mm: Both sides of the sheet. [mm] >= 0
        inside_mm: Both sides of the tray, inside. [mm] >= 0

    Returns:
        Room on each side; below 0 where the sheet does not lie flat. [mm]. Uncertainty: that of the sides.

    Raises:
        OutOfRange: a side below 0.

    Source:
        common practice, no source.
    """
    _not_below_zero(sheet_mm=min(sheet_mm), inside_mm=min(inside_mm))
    return min((inside - sheet) / 2 for sheet, inside in zip(sorted(sheet_mm), sorted(inside_mm), strict=True))


def spare_in_drum_mm(sheet_mm: tuple[float, float], diameter_mm: float, length_mm: float) -> float:
    """
    How much room is left around a sheet on the wall of a drum.

    The sheet bent either way around pi d, its other side along the drum; whichever leaves more, for each side half of the smaller rest

    Args:
        sheet_mm: Both sides of the sheet. [mm] >= 0
        diameter_mm: Diameter inside. [mm] >= 0
        length_mm: Length inside. [mm] >= 0

    Returns:
        Room on each side; below 0 where it does not go in. [mm]. Uncertainty: that of the sides.

    Raises:
        OutOfRange: a side below 0.

    Source:
        common practice, no source.
    """
    _not_below_zero(sheet_mm=min(sheet_mm), diameter_mm=diameter_mm, length_mm=length_mm)
    one, other = sheet_mm
    around = pi * diameter_mm
    return max(min(around - bent, length_mm - along) / 2 for bent, along in ((one, other), (other, one)))


def _not_below_zero(**lengths: float) -> None:
    """Refuse a length, area or volume below 0."""
    for name, value in lengths.items():
        if value < 0:
            raise OutOfRange(name, value, "0 or more")
