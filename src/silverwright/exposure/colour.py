"""The colour of light: paper and meter do not see the same part of it, so the one gets more or less than the other tells."""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot, log2, sqrt
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records import LightBand, Passed, Stops

LEAST_SHARE: Final = 1e-4  # our judgement: a glass that is said to pass nothing still leaks a ten thousandth by haze and reflections
PIECES: Final = 20  # our judgement: a band of 20 nm is looked at every nanometre


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
        our judgement (both papers are as likely).
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
        our judgement (normal doubts that have nothing to do with one another).
    """
    told = (table, *sheets)
    least = min(one.doubt_stops for one in told)
    if not least > 0:
        raise OutOfRange("doubt_stops", least, "above 0")
    weights = [one.doubt_stops**-2 for one in told]
    middle = sum(weight * one.amount_stops for weight, one in zip(weights, told, strict=True)) / sum(weights)
    return Stops(middle, sum(weights) ** -0.5)


def coloured_filter_stops(light: Sequence[LightBand], filter_passes: Sequence[Passed], last_nm: float) -> float:
    """
    How much of this light does a coloured filter take from a paper that sees up to a wavelength?

    log2( sum E dl / sum E T dl ), E even within each band, T on straight lines between the points and held beyond them

    Args:
        light: The light's energy, band by band. [nm, share]
        filter_passes: What the filter lets through, at two wavelengths at least, in rising order. [nm, share 0 to 1]
        last_nm: Up to where the paper sees. [nm]

    Returns:
        Stops to add. [stops] >= 0. Uncertainty: where a filter begins to pass near the end of the paper's sight, that end decides; a glass
        is taken to pass a ten thousandth at least, so that no answer is above 13 stops.

    Raises:
        OutOfRange: fewer than two points, or a paper that sees nothing of these bands.

    Source:
        our judgement (a paper that sees all up to its end alike, as in the table of lights).
    """
    if len(filter_passes) < 2:  # noqa: PLR2004 (a line has two ends)
        raise OutOfRange("filter_passes", len(filter_passes), "two points or more")
    whole = through = 0.0
    for band in light:
        step = (band.to_nm - band.from_nm) / PIECES
        for place in range(PIECES):
            at = band.from_nm + step * (place + 0.5)
            seen = min(max((last_nm - (at - step / 2)) / step, 0.0), 1.0)  # the piece in which the paper's sight ends counts in part
            whole += seen * band.share / PIECES
            through += seen * band.share / PIECES * max(_passed(filter_passes, at), LEAST_SHARE)
    if whole == 0:
        raise OutOfRange("last_nm", last_nm, "above the shortest wavelength of the light")
    return max(0.0, log2(whole / through))


def _passed(filter_passes: Sequence[Passed], at_nm: float) -> float:
    """On a straight line between two points."""
    if at_nm <= filter_passes[0].at_nm:
        return filter_passes[0].share
    for one, other in pairwise(filter_passes):
        if at_nm <= other.at_nm:
            along = (at_nm - one.at_nm) / (other.at_nm - one.at_nm)
            return one.share + along * (other.share - one.share)
    return filter_passes[-1].share
