"""How fast a peroxide loses its strength, from two assays, and what warmth does to that."""

from collections.abc import Callable
from math import exp, hypot, log
from typing import Final

from silverwright.errors import OutOfRange

_GAS_J_PER_MOL_K: Final = 8.314462618  # arithmetic: the gas constant is fixed by the definition of the units
_FREEZING_K: Final = 273.15  # arithmetic: 0 °C
_JOULES: Final = 1000.0  # arithmetic: in a kilojoule
_HALVINGS: Final = 80  # arithmetic: enough for the last digit of a double
_LEAST_PART: Final = 1e-20  # arithmetic: what so many halvings leave of the whole
_TEN_DEGREES: Final = 10.0  # arithmetic: what Q10 counts


def loss_ln_per_days(first_percent: float, second_percent: float, apart_days: float) -> float:
    """
    How fast the strength falls, by two assays.

    k = ln(c1/c2) / (t2 - t1)

    Args:
        first_percent: Strength at the first assay. [%] > 0
        second_percent: Strength at the second one, in the same unit. [%] > 0
        apart_days: Days between them. [days] > 0

    Returns:
        What the logarithm of the strength loses in a day; below 0 where the second is stronger. [1/day]. Uncertainty: `loss_sd_ln_per_days`.

    Raises:
        OutOfRange: a strength or a time that is not above 0.

    Source:
        kotz2018, first order, and arithmetic.
    """
    if not min(first_percent, second_percent, apart_days) > 0:
        raise OutOfRange("assay", min(first_percent, second_percent, apart_days), "above 0")
    return log(first_percent / second_percent) / apart_days


def loss_sd_ln_per_days(first_share: float, second_share: float, apart_days: float) -> float:
    """
    How unsure that is.

    u(k) = hypot(u1, u2) / (t2 - t1)

    Args:
        first_share: Doubt of the first assay, one standard deviation as a share of it. [1] >= 0
        second_share: Doubt of the second one. [1] >= 0
        apart_days: Days between them. [days] > 0

    Returns:
        One standard deviation. [1/day]

    Raises:
        OutOfRange: no time between them.

    Source:
        our judgement (independent errors, first order).
    """
    if not apart_days > 0:
        raise OutOfRange("apart_days", apart_days, "above 0")
    return hypot(first_share, second_share) / apart_days


def strength_after_percent(second_percent: float, loss_ln_per_days: float, ahead_days: float) -> float:
    """
    How strong it is so many days after the second assay.

    c = c2 exp(-k t)

    Args:
        second_percent: Strength at the second assay. [%] >= 0
        loss_ln_per_days: What the logarithm loses in a day. [1/day]
        ahead_days: Days since then. [days]

    Returns:
        Strength in the same unit. [%]. Uncertainty: `strength_after_sd_share`.

    Source:
        kotz2018, first order, and arithmetic.
    """
    return second_percent * exp(-loss_ln_per_days * ahead_days)


def strength_after_sd_share(first_share: float, second_share: float, ahead_factor: float) -> float:
    """
    How unsure the strength ahead is: the straight line through two points, drawn on.

    u = hypot((1 + a) u2, a u1), a = days ahead / days between the assays

    Args:
        first_share: Doubt of the first assay, one standard deviation as a share of it. [1] >= 0
        second_share: Doubt of the second one. [1] >= 0
        ahead_factor: Days ahead over the days between both. [1]

    Returns:
        One standard deviation as a share. [1]

    Source:
        our judgement (independent errors, first order).
    """
    return hypot((1 + ahead_factor) * second_share, ahead_factor * first_share)


def lasts_days(second_percent: float, wanted_percent: float, loss_ln_per_days: float) -> float | None:
    """
    How many days it stays as strong as wanted.

    t = ln(c2/c) / k

    Args:
        second_percent: Strength at the second assay. [%] > 0
        wanted_percent: The least that is wanted. [%] > 0
        loss_ln_per_days: What the logarithm loses in a day. [1/day]

    Returns:
        Days from the second assay on; 0 where it is weaker already, nothing where no loss was seen. [days]. Uncertainty: that of the loss.

    Raises:
        OutOfRange: a strength that is not above 0.

    Source:
        kotz2018, first order, and arithmetic.
    """
    if not min(second_percent, wanted_percent) > 0:
        raise OutOfRange("strength", min(second_percent, wanted_percent), "above 0")
    if second_percent <= wanted_percent:
        return 0.0
    return log(second_percent / wanted_percent) / loss_ln_per_days if loss_ln_per_days > 0 else None


def days_until(reached: Callable[[float], bool], most_days: float) -> float | None:
    """
    After how many days something is reached that, once reached, stays so.

    The least t with reached(t), by halving

    Args:
        reached: Whether it is reached after so many days. [days]
        most_days: How far to look. [days] > 0

    Returns:
        Days; nothing where it is not reached. [days]

    Source:
        our judgement.
    """
    if not reached(most_days):
        return None
    low, high = 0.0, most_days
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if reached(middle) else (middle, high)
    return high if high > most_days * _LEAST_PART else 0.0


def warmer_factor(celsius: float, other_celsius: float, activation_kj_per_mol: float) -> float:
    """
    How many times faster a reaction goes at another temperature.

    k2/k1 = exp(-Ea/R (1/T2 - 1/T1))

    Args:
        celsius: The first temperature. [°C] above -273
        other_celsius: The other one. [°C] above -273
        activation_kj_per_mol: Activation energy. [kJ/mol] >= 0

    Returns:
        The factor. [1] > 0. Uncertainty: that of the activation energy, which a catalyst lowers.

    Raises:
        OutOfRange: a temperature at or below the absolute zero.

    Source:
        bodner, and arithmetic (Arrhenius' rule).
    """
    if not min(celsius, other_celsius) > -_FREEZING_K:
        raise OutOfRange("celsius", min(celsius, other_celsius), "above -273.15")
    inverse = 1 / (other_celsius + _FREEZING_K) - 1 / (celsius + _FREEZING_K)
    return exp(-activation_kj_per_mol * _JOULES / _GAS_J_PER_MOL_K * inverse)


def q10_factor(celsius: float, activation_kj_per_mol: float) -> float:
    """
    How many times faster it goes ten degrees warmer.

    Q10 = k(t + 10) / k(t)

    Args:
        celsius: Temperature from which on. [°C] above -273
        activation_kj_per_mol: Activation energy. [kJ/mol] >= 0

    Returns:
        The factor. [1] >= 1. Uncertainty: that of the activation energy.

    Raises:
        OutOfRange: a temperature at or below the absolute zero.

    Source:
        bodner, and arithmetic (Arrhenius' rule).
    """
    return warmer_factor(celsius, celsius + _TEN_DEGREES, activation_kj_per_mol)
