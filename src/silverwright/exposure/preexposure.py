"""A weak even exposure before or after the picture: what it does to each tone, to the range and to the deepest black."""

from math import log2, log10
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.exposure.papercurve import curve_ends, density_at, exposure_for_density, separation_density
from silverwright.records import PaperCurve

HALVINGS: Final = 24  # our judgement: a range halved so often is exact to a millionth of a stop
FARTHEST_LOG10: Final = 4.0  # our judgement: thirteen stops under the shadow point nothing of the scene is left


def raised_log10(exposure_log10: float, preexposure_log10: float) -> float:
    """
    What a part amounts to when an even exposure was given before.

    log10(H + Hf)

    Args:
        exposure_log10: The part's own exposure. [log10]
        preexposure_log10: The even exposure, in the same scale. [log10]

    Returns:
        Both together. [log10] Uncertainty: what the paper makes of two exposures is taken to be their sum; a paper may add more.

    Source:
        our judgement (arithmetic: light adds).
    """
    more, less = max(exposure_log10, preexposure_log10), min(exposure_log10, preexposure_log10)
    return more + log10(1 + float(10 ** (less - more)))


def black_lost_density(curve: PaperCurve, preexposure_log10: float) -> float:
    """
    What a pre-exposure costs in the deepest black of a direct positive, or adds as veil to the clear parts of a negative.

    |D(no light) - D(xf)|

    Args:
        curve: The paper's curve.
        preexposure_log10: The pre-exposure against the mid-grey's exposure. [log10]

    Returns:
        Density lost. [1] >= 0. Uncertainty: the band of the curve.

    Source:
        our judgement (arithmetic on the paper's own curve).
    """
    return abs(curve_ends(curve)[0] - density_at(curve, preexposure_log10)[0])


def preexposure_for_loss_log10(curve: PaperCurve, lost_density: float) -> float | None:
    """
    The strongest pre-exposure that costs no more than so much of the deepest black.

    D(xf) = D(no light) -+ loss

    Args:
        curve: The paper's curve.
        lost_density: Density that may be lost. [1] > 0

    Returns:
        Pre-exposure against the mid-grey's exposure, or nothing where the whole curve is not so deep. [log10] Uncertainty: the curve's band.

    Raises:
        OutOfRange: lost_density not above 0.

    Source:
        our judgement (arithmetic on the paper's own curve).
    """
    if not lost_density > 0:
        raise OutOfRange("lost_density", lost_density, "above 0")
    black = curve_ends(curve)[0]
    return exposure_for_density(curve, black - lost_density if curve.falls else black + lost_density)


def shadow_gain_stops(curve: PaperCurve, preexposure_log10: float, step_log10: float) -> float:
    """
    How much deeper shadows may lie and still stand apart as clearly as at the paper's own shadow point.

    The smallest x with |D(log(10^x + Hf)) - D(log(10^(x + d) + Hf))| >= |D(s) - D(s + d)|, in stops below s

    Args:
        curve: The paper's curve.
        preexposure_log10: The pre-exposure against the mid-grey's exposure. [log10]
        step_log10: The small difference in the scene that is looked at, d. [log10] > 0

    Returns:
        Stops gained in the shadows. [stops] >= 0. Uncertainty: the curve's shoulder, which few step sheets tell well.

    Raises:
        OutOfRange: step_log10 not above 0.

    Source:
        our judgement: a shadow has detail as long as the same step in the scene makes the same step in density.
    """
    if not step_log10 > 0:
        raise OutOfRange("step_log10", step_log10, "above 0")
    point = curve.shadow_log10
    enough = separation_density(curve, point, point + step_log10)

    def apart(place_log10: float) -> float:
        return separation_density(curve, raised_log10(place_log10, preexposure_log10), raised_log10(place_log10 + step_log10, preexposure_log10))

    if enough <= 0 or apart(point) < enough:
        return 0.0
    deep, clear = point - FARTHEST_LOG10, point
    for _ in range(HALVINGS):
        middle = (deep + clear) / 2
        deep, clear = (deep, middle) if apart(middle) >= enough else (middle, clear)
    return (point - clear) / log10(2)


def range_gain_stops(curve: PaperCurve, preexposure_log10: float, net_share: float) -> float:
    """
    How much longer a step sheet would tell the range after a pre-exposure: its shadow point counts from the new, lighter black.

    In a direct positive the x with D(log(10^x + Hf)) = Dmin + p (D(xf) - Dmin), in stops below the old shadow point

    Args:
        curve: The paper's curve.
        preexposure_log10: The pre-exposure against the mid-grey's exposure. [log10]
        net_share: The part of the net density that makes the shadow point, p. [1] 0 to 1

    Returns:
        Stops gained in the shadows. [stops] >= 0. Uncertainty: the curve's band.

    Raises:
        OutOfRange: net_share not between 0 and 1.

    Source:
        our judgement (arithmetic on the paper's own curve, with the rule of the curve's own question).
    """
    if not 0 < net_share < 1:
        raise OutOfRange("net_share", net_share, "between 0 and 1")
    whole = exposure_for_density(curve, _point_density(curve, density_at(curve, preexposure_log10)[0], net_share))
    if whole is None or whole <= preexposure_log10:
        return 0.0
    own = whole + log10(1 - float(10 ** (preexposure_log10 - whole)))
    return max(0.0, (curve.shadow_log10 - own) / log10(2))


def _point_density(curve: PaperCurve, black: float, net_share: float) -> float:
    """The density of the shadow point below this black; in a negative so much over the clear parts as before."""
    first, last = curve_ends(curve)
    if curve.falls:
        return last + net_share * (black - last)
    return black + density_at(curve, curve.shadow_log10)[0] - first


def highlight_cost_stops(curve: PaperCurve, preexposure_log10: float) -> float:
    """
    How much sooner highlights burn out, because the pre-exposure lies over them as well.

    log2(1 + Hf/H) at the highlight point

    Args:
        curve: The paper's curve.
        preexposure_log10: The pre-exposure against the mid-grey's exposure. [log10]

    Returns:
        Stops lost in the highlights. [stops] >= 0. Uncertainty: that of the highlight point.

    Source:
        our judgement (arithmetic: light adds).
    """
    return log2(1 + float(10 ** (preexposure_log10 - curve.highlight_log10)))


def preexposure_s(metered_s: float, picture_ev: float, card_ev: float, fraction_factor: float) -> float:
    """
    How long to expose an even card at the same aperture and extension.

    tf = t x q x 2^(EV - EVc)

    Args:
        metered_s: Time of the picture before reciprocity. [s] > 0
        picture_ev: Exposure value for which that time was reckoned, of a mid-grey. [EV]
        card_ev: Reading of the card as it fills the picture. [EV]
        fraction_factor: Pre-exposure over the mid-grey's exposure, q. [1] >= 0

    Returns:
        The time before reciprocity. [s] Uncertainty: the reading of the card, and the clock.

    Raises:
        OutOfRange: metered_s not above 0, or fraction_factor below 0.

    Source:
        our judgement (arithmetic).
    """
    if not metered_s > 0:
        raise OutOfRange("metered_s", metered_s, "above 0")
    if not fraction_factor >= 0:
        raise OutOfRange("fraction_factor", fraction_factor, "0 or more")
    return metered_s * fraction_factor * float(2 ** (picture_ev - card_ev))


def picture_less_stops(fraction_factor: float) -> float:
    """
    How much less the picture itself gets, so that a mid-grey stays a mid-grey.

    -log2(1 - q)

    Args:
        fraction_factor: Pre-exposure over the mid-grey's exposure, q. [1] 0 to less than 1

    Returns:
        Stops less. [stops] >= 0. Uncertainty: none from the formula.

    Raises:
        OutOfRange: fraction_factor below 0, or 1 and more.

    Source:
        our judgement (arithmetic: light adds).
    """
    if not 0 <= fraction_factor < 1:
        raise OutOfRange("fraction_factor", fraction_factor, "0 to less than 1: more than a mid-grey cannot be made good")
    return -log2(1 - fraction_factor)
