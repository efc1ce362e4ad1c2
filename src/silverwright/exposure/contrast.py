"""A scene that is longer than the paper: what each way of making both fit gains."""

from math import log10
from typing import Final

from silverwright.errors import OutOfRange

STOP_LOG10: Final = log10(2)  # arithmetic


def softer_gain_stops(now_log10: float, softer_log10: float) -> float:
    """
    How much more scene a softer paper, filter or development takes in.

    (R2 - R1) / log10 2

    Args:
        now_log10: Exposure range as it is. [log10] > 0
        softer_log10: Exposure range of the other. [log10] > 0

    Returns:
        Stops gained; negative where the other is harder. [stops] Uncertainty: that of both ranges, measured in another process or not.

    Raises:
        OutOfRange: a range that is not above 0.

    Source:
        our judgement (arithmetic).
    """
    for name, value in (("now_log10", now_log10), ("softer_log10", softer_log10)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return (softer_log10 - now_log10) / STOP_LOG10


def fill_factor(opened_stops: float) -> float:
    """
    How much light must be added in the shadows to open them so far.

    2^g - 1 times the light that falls there already

    Args:
        opened_stops: By how much the shadows shall be opened. [stops] >= 0

    Returns:
        Added light over the light that is there. [1] >= 0. Uncertainty: none from the formula; the meter's when it is set up.

    Raises:
        OutOfRange: opened_stops below 0.

    Source:
        our judgement (arithmetic).
    """
    if not opened_stops >= 0:
        raise OutOfRange("opened_stops", opened_stops, "0 or more")
    return float(2**opened_stops) - 1
