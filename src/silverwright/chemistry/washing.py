"""Washing by filling and dumping: what is left after so many fills."""

from math import ceil, log

from silverwright.errors import OutOfRange


def left_after_fills(held_ml: float, fill_ml: float, fills: float, even_share: float = 1.0) -> float:
    """
    What is left in the paper after so many fills of fresh water.

    (1 - e V / (V + v))^n; e = 1, (v / (V + v))^n, where each fill is left until it is even

    Args:
        held_ml: What the sheets hold when they have drained. [mL] > 0
        fill_ml: Fresh water of each fill. [mL] > 0
        fills: How many. [1] >= 0
        even_share: How much of what would go out of the paper does so while the fill lasts. [1], above 0 up to 1

    Returns:
        Share of the first amount. [1], 0 to 1. Uncertainty: a lower bound; fibre and baryta hold thiosulphate that water takes out slowly.

    Raises:
        OutOfRange: a volume not above 0, fills below 0 or a share outside its bounds.

    Source:
        torzynski2004 (there v / V, which is a little more); our judgement (the share).
    """
    _volumes(held_ml, fill_ml, even_share)
    if fills < 0:
        raise OutOfRange("fills", fills, "0 or more")
    return float(_stays(held_ml, fill_ml, even_share) ** fills)


def fills_to_share(held_ml: float, fill_ml: float, share: float, even_share: float = 1.0) -> int:
    """
    How many fills bring down what the paper holds to a share.

    The least whole n with (1 - e V / (V + v))^n <= s

    Args:
        held_ml: What the sheets hold when they have drained. [mL] > 0
        fill_ml: Fresh water of each fill. [mL] > 0
        share: The share to come to. [1] > 0
        even_share: As in `left_after_fills`. [1], above 0 up to 1

    Returns:
        Whole fills; 0 where nothing need be done. [1]. Uncertainty: as `left_after_fills`.

    Raises:
        OutOfRange: a volume or the share not above 0, or the other share outside its bounds.

    Source:
        torzynski2004 (the rule, turned round).
    """
    _volumes(held_ml, fill_ml, even_share)
    if share <= 0:
        raise OutOfRange("share", share, "above 0")
    return max(0, ceil(log(share) / log(_stays(held_ml, fill_ml, even_share)))) if share < 1 else 0


def _stays(held_ml: float, fill_ml: float, even_share: float) -> float:
    """What one fill leaves; written so that neither a drop of water nor a sea of it is lost in rounding."""
    return (held_ml + (1 - even_share) * fill_ml) / (fill_ml + held_ml)


def _volumes(held_ml: float, fill_ml: float, even_share: float) -> None:
    if held_ml <= 0:
        raise OutOfRange("held_ml", held_ml, "above 0")
    if fill_ml <= 0:
        raise OutOfRange("fill_ml", fill_ml, "above 0")
    if not 0 < even_share <= 1:
        raise OutOfRange("even_share", even_share, "above 0, up to 1")
