"""Published laws of reciprocity, each found on film and named after who published it."""

from math import log2

from silverwright.errors import OutOfRange
from silverwright.exposure.reciprocity import halved


def reciprocity_schwarzschild1900(metered_s: float, exponent: float) -> float:
    """
    Needed time after Schwarzschild: the effect of light grows as a power of time below one.

    effect ~ I t^p, so Tc = Tm^(1/p) above 1 s

    Args:
        metered_s: Time before this correction. [s] > 0
        exponent: p. [1] 0 to 1

    Returns:
        The time. [s] >= metered_s. Uncertainty: p differs from material to material, and from one range of times to another.

    Raises:
        OutOfRange: metered_s not above 0, or exponent not in 0 to 1.

    Source:
        wikipedia-reciprocity, Schwarzschild law.
    """
    _check(metered_s, exponent, 0, 1)
    return metered_s if metered_s <= 1 else float(metered_s ** (1 / exponent))


def reciprocity_covington1999(metered_s: float, exponent: float) -> float:
    """
    Needed time after Covington: speed falls as a power of time plus one second, so that short times need no threshold.

    Tc (Tc + 1)^(p - 1) = Tm

    Args:
        metered_s: Time before this correction. [s] > 0
        exponent: p. [1] 0 to 1

    Returns:
        The time. [s] >= metered_s. Uncertainty: p differs from material to material.

    Raises:
        OutOfRange: metered_s not above 0, or exponent not in 0 to 1.

    Source:
        covington1999, p. 180.
    """
    _check(metered_s, exponent, 0, 1)
    start = log2(metered_s)
    deepest = (start + 1) / exponent + 1 if start > 0 else start + 2
    return float(2 ** halved(start, deepest, lambda stops: 2**stops * (2**stops + 1) ** (exponent - 1) > metered_s))


def reciprocity_maker2017(metered_s: float, exponent: float) -> float:
    """
    Needed time after a maker's sheet for one film: a power of the metered time above one second.

    Tc = Tm^p above 1 s

    Args:
        metered_s: Time before this correction. [s] > 0
        exponent: p. [1] 1 to 2

    Returns:
        The time. [s] >= metered_s. Uncertainty: none stated.

    Raises:
        OutOfRange: metered_s not above 0, or exponent not in 1 to 2.

    Source:
        maker2017, formula.
    """
    _check(metered_s, exponent, 1, 2)
    return metered_s if metered_s <= 1 else float(metered_s**exponent)


def reciprocity_gainer2004(metered_s: float, factor: float, exponent: float) -> float:
    """
    Needed time after Gainer's fit to Bond's tests of five films: one exponent for all, one factor for each.

    Tc = Tm + a Tm^1.62

    Args:
        metered_s: Time before this correction. [s] > 0
        factor: a, the seconds to add at one second. [1] >= 0
        exponent: 1.62. [1] 1 to 2

    Returns:
        The time. [s] >= metered_s. Uncertainty: none stated.

    Raises:
        OutOfRange: metered_s not above 0, exponent not in 1 to 2, or factor below 0.

    Source:
        gainer2004, first post.
    """
    _check(metered_s, exponent, 1, 2)
    if factor < 0:
        raise OutOfRange("factor", factor, "0 or more")
    return metered_s + factor * float(metered_s**exponent)


def gainer_factor(metered_s: float, needed_s: float, exponent: float) -> float:
    """
    The factor of a film from one own test, for Gainer's law.

    a = (Tc - Tm) / Tm^1.62

    Args:
        metered_s: Metered time of the test. [s] > 0
        needed_s: Time that gave the same density. [s] >= metered_s
        exponent: 1.62. [1] 1 to 2

    Returns:
        a. [1] >= 0. Uncertainty: that of the test.

    Raises:
        OutOfRange: metered_s not above 0, needed_s below it, or exponent not in 1 to 2.

    Source:
        gainer2004, first post.
    """
    _check(metered_s, exponent, 1, 2)
    if needed_s < metered_s:
        raise OutOfRange("needed_s", needed_s, "the metered time or more")
    return (needed_s - metered_s) / float(metered_s**exponent)


def _check(metered_s: float, exponent: float, low: float, high: float) -> None:
    if not metered_s > 0:
        raise OutOfRange("metered_s", metered_s, "above 0")
    if not low <= exponent <= high or exponent == 0:
        raise OutOfRange("exponent", exponent, f"{low:g} to {high:g}")
