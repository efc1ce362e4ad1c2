"""How strong a peroxide is, by the colour of a test strip in a sample that was diluted far enough."""

from collections.abc import Sequence
from math import hypot, log, prod, sqrt
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange

_RECTANGLE: Final = sqrt(12)  # arithmetic: width of a rectangle over its standard deviation


def dilution_factor(taken_ml: Sequence[float], made_up_ml: Sequence[float]) -> float:
    """
    How many times weaker a sample is after it was diluted, once or several times.

    F = made up 1 / taken 1 * made up 2 / taken 2 ...

    Args:
        taken_ml: What was taken at each step. [mL] > 0
        made_up_ml: To what it was made up. [mL] at least what was taken

    Returns:
        The factor. [1] >= 1. Uncertainty: each volume, added as shares.

    Raises:
        OutOfRange: nothing taken, or made up to less than was taken.

    Source:
        our judgement (arithmetic).
    """
    for taken, made_up in zip(taken_ml, made_up_ml, strict=True):
        if not 0 < taken <= made_up:
            raise OutOfRange("taken_ml", taken, f"above 0, and at most the {made_up:g} mL to which it was made up")
    return prod(made_up / taken for taken, made_up in zip(taken_ml, made_up_ml, strict=True))


def between_colours(read_mg_per_l: float, scale_mg_per_l: Sequence[float]) -> tuple[float | None, float | None]:
    """
    Between which strengths a strip's colour stands: half way, in logarithms, to the neighbours on its scale.

    sqrt(c c_below), sqrt(c c_above)

    Args:
        read_mg_per_l: What the colour is like; between two colours, a figure between theirs. [mg/L] >= 0
        scale_mg_per_l: The colours of the scale, without its zero. [mg/L] > 0

    Returns:
        Lower and upper end; nothing below the lowest colour, nothing above the highest. [mg/L]. Uncertainty: how the eye tells colours.

    Raises:
        NotEnoughReadings: fewer than two colours.
        OutOfRange: a reading beyond the scale.

    Source:
        our judgement.
    """
    colours = sorted(one for one in scale_mg_per_l if one > 0)
    if len(colours) < 2:  # noqa: PLR2004 (two colours make a step)
        raise NotEnoughReadings("colours of the scale", len(colours), 2)
    if not 0 <= read_mg_per_l <= colours[-1]:
        raise OutOfRange("read_mg_per_l", read_mg_per_l, f"0 to {colours[-1]:g}, the last colour of the scale")
    if read_mg_per_l < colours[0]:
        return None, colours[0]
    below = max((one for one in colours if one < read_mg_per_l), default=None)
    above = min((one for one in colours if one > read_mg_per_l), default=None)
    low = None if below is None else sqrt(read_mg_per_l * below)
    return low, None if above is None else sqrt(read_mg_per_l * above)


def colour_sd_share(low_mg_per_l: float, high_mg_per_l: float) -> float:
    """
    How unsure the strength is when all that is known is that it lies between two others.

    u = ln(high/low) / sqrt(12)

    Args:
        low_mg_per_l: Lower end. [mg/L] > 0
        high_mg_per_l: Upper end. [mg/L] at least the lower end

    Returns:
        One standard deviation of the logarithm. [1]

    Raises:
        OutOfRange: ends that are not above 0, or the wrong way round.

    Source:
        our judgement.
    """
    if not 0 < low_mg_per_l <= high_mg_per_l:
        raise OutOfRange("low_mg_per_l", low_mg_per_l, "above 0, and at most the upper end")
    return log(high_mg_per_l / low_mg_per_l) / _RECTANGLE


def read_again_sd_share(colour_share: float, shares: Sequence[float]) -> float:
    """
    How unsure the strength in the bottle is: the colour, and every volume of the dilution.

    u = hypot(u_colour, u_1, u_2, ...)

    Args:
        colour_share: Of the colour, one standard deviation. [1] >= 0
        shares: Of each volume, one standard deviation as a share of it. [1] >= 0

    Returns:
        One standard deviation of the logarithm. [1]

    Source:
        our judgement.
    """
    return hypot(colour_share, *shares)


def wanted_factor(strength_mg_per_l: float, scale_mg_per_l: Sequence[float]) -> float:
    """
    How far to dilute, so that the colour falls into the middle of the scale.

    F = c / sqrt(lowest highest), at least 1

    Args:
        strength_mg_per_l: What the label says. [mg/L] >= 0
        scale_mg_per_l: The colours of the scale, without its zero. [mg/L] > 0

    Returns:
        The factor. [1] >= 1

    Raises:
        NotEnoughReadings: no colour.

    Source:
        our judgement.
    """
    colours = [one for one in scale_mg_per_l if one > 0]
    if not colours:
        raise NotEnoughReadings("colours of the scale", 0, 1)
    return max(1.0, strength_mg_per_l / sqrt(min(colours) * max(colours)))
