"""The colour of light: paper and meter do not see the same part of it, so the one gets more or less than the other tells."""

from collections.abc import Sequence
from math import hypot, sqrt

from silverwright.errors import OutOfRange
from silverwright.records import Stops


def either_sensitivity(blue: Stops, ortho: Stops) -> Stops:
    """
    What does a paper get of this light when nobody knows whether it sees blue alone, or green too?

    m = (b + o) / 2, s^2 = (s_b^2 + s_o^2) / 2 + ((b - o) / 2)^2: middle and spread of both cases, each as likely

    Args:
        blue: What a blue-sensitive paper gets against the meter, and its doubt. [stops]
        ortho: What an orthochromatic paper gets against the meter, and its doubt. [stops]

    Returns:
        Middle and standard deviation. [stops] Uncertainty: half the difference of both papers, beside the doubt of each.

    Source:
        our judgement (both papers are as likely; moments of a mixture).
    """
    middle, apart = (blue.amount_stops + ortho.amount_stops) / 2, (blue.amount_stops - ortho.amount_stops) / 2
    return Stops(middle, hypot(hypot(blue.doubt_stops, ortho.doubt_stops) / sqrt(2), apart))


def learnt_offset(table: Stops, sheets: Sequence[Stops]) -> Stops:
    """
    What do the table and own sheets together say of a paper in a light?

    m = (o / s^2 + sum o_j / s_j^2) / (1 / s^2 + sum 1 / s_j^2); 1 / s_m^2 = 1 / s^2 + sum 1 / s_j^2

    Args:
        table: What the paper gets of this light against the meter, by the table, and its doubt. [stops] doubt > 0
        sheets: The same as each own sheet shows it, each with its own doubt. [stops] doubt > 0

    Returns:
        Offset and standard deviation. [stops] Uncertainty: right where the doubts are normal and have nothing to do with each other; a
        doubt that all sheets share, such as that of the EI, is not made smaller by more of them.

    Raises:
        OutOfRange: a doubt that is not above 0.

    Source:
        our judgement (normal doubts, independent; the usual mean weighted by precision).
    """
    told = (table, *sheets)
    least = min(one.doubt_stops for one in told)
    if not least > 0:
        raise OutOfRange("doubt_stops", least, "above 0")
    weights = [one.doubt_stops**-2 for one in told]
    middle = sum(weight * one.amount_stops for weight, one in zip(weights, told, strict=True)) / sum(weights)
    return Stops(middle, sum(weights) ** -0.5)
