"""Washing by filling and dumping: what is left after so many fills."""

from math import ceil, log, log1p

from silverwright.errors import OutOfRange


def left_after_fills(held_ml: float, fill_ml: float, fills: float) -> float:
    """
    What is left in the paper after so many fills of fresh water.

    (v / (V + v))^n, each fill left until it is even

    Args:
        held_ml: What the sheets hold when they have drained. [mL] > 0
        fill_ml: Fresh water of each fill. [mL] > 0
        fills: How many. [1] >= 0

    Returns:
        Share of the first amount. [1], 0 to 1. Uncertainty: a lower bound; fibre and baryta hold thiosulphate that water takes out slowly.

    Raises:
        OutOfRange: a volume not above 0, or fills below 0.

    Source:
        torzynski2004 (there v / V, which is a little more).
    """
    _volumes(held_ml, fill_ml)
    if fills < 0:
        raise OutOfRange("fills", fills, "0 or more")
    return float((held_ml / (fill_ml + held_ml)) ** fills)


def fills_to_share(held_ml: float, fill_ml: float, share: float) -> int:
    """
    How many fills bring down what the paper holds to a share.

    The least whole n with (v / (V + v))^n <= s

    Args:
        held_ml: What the sheets hold when they have drained. [mL] > 0
        fill_ml: Fresh water of each fill. [mL] > 0
        share: The share to come to. [1] > 0

    Returns:
        Whole fills; 0 where nothing need be done. [1]. Uncertainty: as `left_after_fills`.

    Raises:
        OutOfRange: a volume or the share not above 0.

    Source:
        torzynski2004 (the rule, turned round).
    """
    _volumes(held_ml, fill_ml)
    if share <= 0:
        raise OutOfRange("share", share, "above 0")
    return max(0, ceil(-log(share) / log1p(fill_ml / held_ml))) if share < 1 else 0


def _volumes(held_ml: float, fill_ml: float) -> None:
    if held_ml <= 0:
        raise OutOfRange("held_ml", held_ml, "above 0")
    if fill_ml <= 0:
        raise OutOfRange("fill_ml", fill_ml, "above 0")
