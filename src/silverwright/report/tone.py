"""How a density looks on a screen: the grey of a patch."""

from typing import Final

from silverwright.densitometry.density import reflectance_of_density

LINEAR_BELOW: Final = 0.0031308  # source: iec61966-2-1; below it the curve of sRGB is a straight line


def grey(density: float) -> str:
    """
    The screen's grey for a density, as `#RRGGBB`: the reflectance 10^-D in sRGB.

    Args:
        density: Reflection density. [1]

    Returns:
        A colour. Uncertainty: the screen's own; a picture is no measurement.

    Source:
        iec61966-2-1, sRGB transfer characteristic; from memory, unverified.
    """
    light = min(1.0, reflectance_of_density(density))
    signal = 12.92 * light if light <= LINEAR_BELOW else 1.055 * light ** (1 / 2.4) - 0.055
    return f"#{round(255 * signal):02X}" + f"{round(255 * signal):02X}" * 2
