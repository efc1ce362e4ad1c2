"""Whether a used bleach still works, by how long it takes to clear a black strip."""

from collections.abc import Sequence
from math import erf, exp, log, sqrt
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange

_EIGHTY_PERCENT_SD: Final = 1.2815515655446004  # arithmetic: half the width of the middle 80 % of a normal, in standard deviations
# The first terms in 1/f of the 80 % point of Student's distribution (Cornish and Fisher), from z = 1.28155.
_STUDENT_FIRST: Final = (_EIGHTY_PERCENT_SD**3 + _EIGHTY_PERCENT_SD) / 4  # arithmetic: the term in 1/f
_STUDENT_SECOND: Final = (5 * _EIGHTY_PERCENT_SD**5 + 16 * _EIGHTY_PERCENT_SD**3 + 3 * _EIGHTY_PERCENT_SD) / 96  # arithmetic: that in 1/f^2


def strips_sd_ln(times_s: Sequence[Sequence[float]], usual_sd_ln: float, usual_weight: float) -> tuple[float, float]:
    """
    How far two strips of one sheet differ in one bath: what yours showed, together with what is usual.

    s^2 = (f0 s0^2 + sum (ln t - mean)^2) / (f0 + sum (n - 1)), over fresh and used bath

    Args:
        times_s: Clearing times in each bath. [s] > 0
        usual_sd_ln: What is usual, one standard deviation of the logarithm. [1] > 0
        usual_weight: For how many strips that stands. [1] > 0

    Returns:
        One standard deviation of the logarithm, and the degrees of freedom that it has. [1], [1]

    Raises:
        OutOfRange: a time that is not above 0.

    Source:
        our judgement.
    """
    squares, freedom = usual_weight * usual_sd_ln**2, usual_weight
    for times in times_s:
        if any(not time > 0 for time in times):
            raise OutOfRange("times_s", min(times), "above 0")
        logs = [log(time) for time in times]
        middle = sum(logs) / len(logs) if logs else 0.0
        squares += sum((one - middle) ** 2 for one in logs)
        freedom += max(0, len(logs) - 1)
    return sqrt(squares / freedom), freedom


def clearing_factor(used_s: Sequence[float], fresh_s: Sequence[float], warmth_factor: float = 1.0) -> float:
    """
    How many times longer the used bath takes than the fresh one did.

    F = geometric mean of the used times / that of the fresh ones * q, q brings the used bath to the temperature of the fresh one

    Args:
        used_s: Clearing times in the used bath. [s] > 0
        fresh_s: Clearing times in the fresh bath. [s] > 0
        warmth_factor: How many times faster the used bath worked because it was warmer. [1] > 0

    Returns:
        The factor. [1] > 0. Uncertainty: `clearing_sd_ln`.

    Raises:
        NotEnoughReadings: no strip in one of them.
        OutOfRange: a time that is not above 0.

    Source:
        our judgement, by analogy with the clearing time of fixers (navy14209, photrio61690).
    """
    if not used_s or not fresh_s:
        raise NotEnoughReadings("strips in a bath", 0, 1)
    if not min(*used_s, *fresh_s, warmth_factor) > 0:
        raise OutOfRange("times_s", min(*used_s, *fresh_s, warmth_factor), "above 0")
    used, fresh = (sum(log(one) for one in times) / len(times) for times in (used_s, fresh_s))
    return exp(used - fresh) * warmth_factor


def warmth_factor(used_celsius: float, fresh_celsius: float, q10_factor: float) -> float:
    """
    How many times faster a bath works because it is warmer.

    q = Q10^((t_used - t_fresh) / 10)

    Args:
        used_celsius: Temperature of the used bath. [°C]
        fresh_celsius: Temperature of the fresh one when it was tried. [°C]
        q10_factor: How many times faster it goes ten degrees warmer. [1] > 0

    Returns:
        The factor. [1] > 0. Uncertainty: that of Q10, for each ten degrees between them.

    Raises:
        OutOfRange: a factor that is not above 0.

    Source:
        roybijster2018, range of factors for ten degrees.
    """
    if not q10_factor > 0:
        raise OutOfRange("q10_factor", q10_factor, "above 0")
    return float(q10_factor ** ((used_celsius - fresh_celsius) / 10))


def clearing_sd_ln(strip_sd_ln: float, used: int, fresh: int) -> float:
    """
    How unsure the factor is by the strips alone.

    u = s sqrt(1/n_used + 1/n_fresh)

    Args:
        strip_sd_ln: How far two strips differ, one standard deviation of the logarithm. [1] >= 0
        used: Strips in the used bath. [1] >= 1
        fresh: Strips in the fresh bath. [1] >= 1

    Returns:
        One standard deviation of the logarithm. [1]

    Raises:
        NotEnoughReadings: no strip in one of them.

    Source:
        our judgement.
    """
    if min(used, fresh) < 1:
        raise NotEnoughReadings("strips in a bath", 0, 1)
    return strip_sd_ln * sqrt(1 / used + 1 / fresh)


def widened_factor(freedom: float) -> float:
    """
    How much wider limits stand because the spread itself was learnt from few strips.

    t80(f) / z80, t80 = z + (z^3 + z) / (4 f) + (5 z^5 + 16 z^3 + 3 z) / (96 f^2)

    Args:
        freedom: Degrees of freedom of the spread. [1] > 0

    Returns:
        The factor. [1] >= 1. Uncertainty: less than half a percent from 4 degrees of freedom on.

    Raises:
        OutOfRange: no degree of freedom.

    Source:
        our judgement (Student's distribution, after Cornish and Fisher).
    """
    if not freedom > 0:
        raise OutOfRange("freedom", freedom, "above 0")
    return 1 + (_STUDENT_FIRST / freedom + _STUDENT_SECOND / freedom**2) / _EIGHTY_PERCENT_SD


def chance_over(factor: float, limit_factor: float, sd_ln: float) -> float:
    """
    How likely it is that the used bath is beyond a limit.

    P = 1/2 (1 + erf(ln(F/limit) / (u sqrt 2)))

    Args:
        factor: How many times longer it takes. [1] > 0
        limit_factor: The limit. [1] > 0
        sd_ln: Doubt of the factor, one standard deviation of the logarithm. [1] > 0

    Returns:
        Probability. [1] 0 to 1

    Raises:
        OutOfRange: a factor, a limit or a doubt that is not above 0.

    Source:
        our judgement.
    """
    if not min(factor, limit_factor, sd_ln) > 0:
        raise OutOfRange("factor", min(factor, limit_factor, sd_ln), "above 0")
    return (1 + erf(log(factor / limit_factor) / sd_ln / sqrt(2))) / 2
