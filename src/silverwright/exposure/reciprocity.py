"""Long exposures: dim light does less than time says, so the paper needs longer than the meter tells."""

from collections.abc import Callable, Sequence
from math import log2, sqrt
from statistics import NormalDist
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.records import OwnPoint, ReciprocityLaw

_NORMAL: Final = NormalDist()
_DEEPEST_STOPS: Final = 40.0  # our judgement: no law asks for more, and from 40 stops 52 halvings reach the last digit
_HALVINGS: Final = 52  # arithmetic: a float has so many binary digits
_TENTH: Final = 0.1  # arithmetic: the lower end of the middle 80 %
_EIGHTY_PERCENT_SD: Final = 1.2815515655446004  # arithmetic: half the width of the middle 80 % of a normal, in standard deviations


def correction_stops(metered_s: float, law: ReciprocityLaw) -> float:
    """
    How many stops longer than the meter tells.

    c = max(0, c0 + (p - 1) log2(Tm / T0)); with c0 = 0 this is Tc = T0 (Tm/T0)^p above the threshold T0, and Tc = Tm below it

    Args:
        metered_s: Time before this correction. [s] > 0
        law: Threshold, exponent and start.

    Returns:
        Stops to add. [stops] >= 0. Uncertainty: `correction_limits_stops`.

    Raises:
        OutOfRange: metered_s not above 0.

    Source:
        maker2017, formula; the threshold and its prior are our judgement.
    """
    if not metered_s > 0:
        raise OutOfRange("metered_s", metered_s, "above 0")
    return max(0.0, law.start_stops + (law.exponent - 1) * log2(metered_s / law.threshold_s))


def needed_s(metered_s: float, law: ReciprocityLaw) -> float:
    """
    How long to expose where the meter tells this time.

    Tc = Tm 2^c

    Args:
        metered_s: Time before this correction. [s] > 0
        law: Threshold, exponent and start.

    Returns:
        The time. [s] >= metered_s. Uncertainty: `correction_limits_stops`.

    Raises:
        OutOfRange: metered_s not above 0.

    Source:
        maker2017, formula; the threshold and its prior are our judgement.
    """
    return metered_s * 2 ** correction_stops(metered_s, law)


def effective_s(given_s: float, needed: Callable[[float], float]) -> float:
    """
    What a time that was given amounts to: the metered time that would have asked for it.

    The Tm with Tc(Tm) = given_s, by halving the interval in stops

    Args:
        given_s: Time that was given. [s] > 0
        needed: Needed time for a metered time, growing and nowhere below it. [s] to [s]

    Returns:
        The metered time. [s] <= given_s. Uncertainty: that of the law.

    Raises:
        OutOfRange: given_s not above 0.

    Source:
        our judgement (arithmetic).
    """
    if not given_s > 0:
        raise OutOfRange("given_s", given_s, "above 0")
    if needed(given_s) <= given_s:
        return given_s
    most = log2(given_s)
    return float(2 ** halved(most - _DEEPEST_STOPS, most, lambda stops: needed(2**stops) > given_s))


def halved(low: float, high: float, beyond: Callable[[float], bool]) -> float:
    """
    Where a growing law passes a limit, by halving the interval.

    Args:
        low: Where it is not yet beyond.
        high: Where it is.
        beyond: Whether it is beyond there.

    Returns:
        The place. Uncertainty: the last digit of a float.

    Source:
        our judgement (arithmetic).
    """
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if beyond(middle) else (middle, high)
    return (low + high) / 2


def exponent_limits(law: ReciprocityLaw) -> tuple[float, float]:
    """
    Between which exponents the true one lies, 8 times of 10.

    The 10 % and 90 % points of a normal that is cut off at 1

    Args:
        law: Exponent with its doubt.

    Returns:
        Lower and upper limit. [1] >= 1

    Source:
        our judgement.
    """
    if law.exponent_sd == 0:
        return law.exponent, law.exponent
    cut = _NORMAL.cdf((1 - law.exponent) / law.exponent_sd)
    low, high = (law.exponent + law.exponent_sd * _NORMAL.inv_cdf(cut + (1 - cut) * share) for share in (_TENTH, 1 - _TENTH))
    return low, high


def start_s(law: ReciprocityLaw) -> float:
    """
    Up to which time no correction is asked for.

    T0 2^(-c0 / (p - 1))

    Args:
        law: Threshold, exponent and start.

    Returns:
        The time; the threshold itself where the exponent is 1. [s] Uncertainty: that of start and exponent together.

    Source:
        our judgement (arithmetic).
    """
    if law.exponent == 1:
        return law.threshold_s
    return law.threshold_s * float(2 ** (-law.start_stops / (law.exponent - 1)))


def correction_limits_stops(metered_s: float, law: ReciprocityLaw) -> tuple[float, float]:
    """
    Between which corrections the true one lies, 8 times of 10.

    The prior: by the limits of the exponent. Own points: +- 1.28 standard deviations of the line, not below 0

    Args:
        metered_s: Time before this correction. [s] > 0
        law: Threshold, exponent and start, each with its doubt.

    Returns:
        Lower and upper limit. [stops] >= 0

    Raises:
        OutOfRange: metered_s not above 0.

    Source:
        our judgement.
    """
    middle = correction_stops(metered_s, law)
    if law.from_points:
        half = _EIGHTY_PERCENT_SD * law_sd_stops(metered_s, law)
        return max(0.0, middle - half), middle + half
    over_stops = max(0.0, log2(metered_s / law.threshold_s))
    low, high = exponent_limits(law)
    return (low - 1) * over_stops, (high - 1) * over_stops


def correction_sd_stops(metered_s: float, law: ReciprocityLaw) -> float:
    """
    One standard deviation of the correction: half the width of its limits over 1.28, so that lines can be added in quadrature.

    Args:
        metered_s: Time before this correction. [s] > 0
        law: Threshold, exponent and start, each with its doubt.

    Returns:
        One standard deviation. [stops] >= 0

    Raises:
        OutOfRange: metered_s not above 0.

    Source:
        our judgement.
    """
    if law.from_points:
        return law_sd_stops(metered_s, law)
    low, high = correction_limits_stops(metered_s, law)
    return (high - low) / 2 / _EIGHTY_PERCENT_SD


def law_sd_stops(metered_s: float, law: ReciprocityLaw) -> float:
    """
    One standard deviation of a line through own points at this time, with what a straight line misses.

    s^2 = s_c0^2 + 2 x cov + (x s_p)^2 + misfit^2, x = log2(Tm / T0)

    Args:
        metered_s: Time before this correction. [s] > 0
        law: A law that came from own points.

    Returns:
        One standard deviation. [stops] >= 0

    Source:
        our judgement.
    """
    x = log2(metered_s / law.threshold_s)
    return sqrt(max(0.0, law.start_sd_stops**2 + 2 * x * law.covariance + (x * law.exponent_sd) ** 2 + law.misfit_stops**2))


def law_from_points(points: Sequence[OwnPoint], prior: ReciprocityLaw, point_sd_stops: float) -> ReciprocityLaw:
    """
    The law that own sheets tell: a straight line of the correction over log time, drawn towards the prior as far as the points leave room.

    Weighted least squares for c0 and p - 1 with the prior as two more readings (a conjugate normal regression).

    Args:
        points: Metered and needed time of each. At least one.
        prior: The law without points; its start_sd_stops says how far the threshold may move.
        point_sd_stops: Doubt of each point, one standard deviation. [stops] > 0

    Returns:
        The law; its doubts are those of the regression.

    Raises:
        NotEnoughReadings: no point.
        OutOfRange: point_sd_stops or a doubt of the prior not above 0.

    Source:
        our judgement (textbook regression).
    """
    if not points:
        raise NotEnoughReadings("own points", 0, 1)
    for name, value in (("point_sd_stops", point_sd_stops), ("start_sd_stops", prior.start_sd_stops), ("exponent_sd", prior.exponent_sd)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    weight = point_sd_stops**-2
    start, slope = prior.start_sd_stops**-2, prior.exponent_sd**-2
    s0, s1, s2 = start, 0.0, slope
    y0, y1 = start * prior.start_stops, slope * (prior.exponent - 1)
    for point in points:
        x, y = log2(point.metered_s / prior.threshold_s), log2(point.needed_s / point.metered_s)
        s0, s1, s2 = s0 + weight, s1 + weight * x, s2 + weight * x * x
        y0, y1 = y0 + weight * y, y1 + weight * x * y
    whole = s0 * s2 - s1 * s1
    found_start, found_slope = (s2 * y0 - s1 * y1) / whole, (s0 * y1 - s1 * y0) / whole
    if found_slope < 0:  # the exponent is not below 1: the line lies level at the weighted mean
        found_start, found_slope = y0 / s0, 0.0
    return ReciprocityLaw(
        threshold_s=prior.threshold_s,
        exponent=1 + found_slope,
        exponent_sd=sqrt(s0 / whole),
        start_stops=found_start,
        start_sd_stops=sqrt(s2 / whole),
        covariance=-s1 / whole,
        misfit_stops=prior.misfit_stops,
        from_points=len(points),
    )
