"""A scene against a paper: stray light, how far brightest and darkest lie apart, and which exposure loses least."""

from collections.abc import Sequence
from math import hypot, log2, log10

from silverwright.errors import OutOfRange
from silverwright.records import Stops


def flare_share(flare_factor: float, range_factor: float) -> float:
    """
    How much of the brightest light strays over the whole picture, when the range shrinks so many times.

    f = (F - 1) / (R - F), from F = R / image range and image range = (1 + f) / (1/R + f)

    Args:
        flare_factor: Range of the scene over range of its image, F. [1] >= 1
        range_factor: Range of the scene for which that was found, R. [1] > flare_factor

    Returns:
        Share of the brightest part. [1] >= 0. Uncertainty: that of the flare factor; it changes from picture to picture.

    Raises:
        OutOfRange: flare_factor below 1, or range_factor not above it.

    Source:
        our judgement (arithmetic on E = L + f Lmax).
    """
    if not flare_factor >= 1:
        raise OutOfRange("flare_factor", flare_factor, "1 or more")
    if not range_factor > flare_factor:
        raise OutOfRange("range_factor", range_factor, "more than the flare factor")
    return (flare_factor - 1) / (range_factor - flare_factor)


def image_range_log10(range_log10: float, stray_share: float) -> float:
    """
    How far brightest and darkest lie apart on the paper, when a share of the brightest light lies over everything.

    log10((1 + f) / (10^-R + f))

    Args:
        range_log10: Brightest over darkest in the scene, R. [log10] >= 0
        stray_share: Stray light, or light given before, as a share of the brightest part, f. [1] >= 0

    Returns:
        Brightest over darkest on the paper. [log10] >= 0. Uncertainty: none from the formula; the share differs from picture to picture.

    Raises:
        OutOfRange: range_log10 or stray_share below 0.

    Source:
        our judgement (arithmetic on E = L + f Lmax).
    """
    if not range_log10 >= 0:
        raise OutOfRange("range_log10", range_log10, "0 or more")
    _share(stray_share)
    return log10((1 + stray_share) / (float(10**-range_log10) + stray_share))


def with_flare_ev(reading_ev: float, brightest_ev: float, stray_share: float) -> float:
    """
    What a part amounts to on the paper, when light from the brightest one strays over it.

    log2((L + f Lmax) / (1 + f)): the light that strays is missing where it comes from, so the brightest part stays where it is

    Args:
        reading_ev: The part's own reading. [EV]
        brightest_ev: The brightest reading of the scene. [EV] >= reading_ev
        stray_share: Share that strays, f. [1] >= 0

    Returns:
        Exposure value that the paper sees. [EV] Uncertainty: that of the share, most of all in the shadows.

    Raises:
        OutOfRange: stray_share below 0.

    Source:
        our judgement (arithmetic on E = L + f Lmax).
    """
    _share(stray_share)
    below = float(2 ** (reading_ev - brightest_ev))
    return brightest_ev + log2((below + stray_share) / (1 + stray_share))


def split_loss(least: Stops | None, most: Stops | None, wanted: Stops | None) -> Stops | None:
    """
    The exposure that loses least: what is wanted while everything fits, else as much lost in the shadows as in the highlights.

    wanted, held between `least` and `most`; the middle of both where nothing is wanted or where `least` lies above `most`

    Args:
        least: What the shadows need at least, nothing where none must keep detail. [stops]
        most: What the highlights bear at most, nothing where none must keep detail. [stops]
        wanted: What puts the wanted tone where it belongs, nothing where none is wanted. [stops]

    Returns:
        The exposure with its doubt, or nothing where nothing was asked for. [stops] Uncertainty: each of the three moved by one standard
        deviation, the moves added in quadrature.

    Source:
        our judgement: a loss is easier to forgive in two places than twice as much of it in one.
    """
    given = (least, most, wanted)
    amounts = [None if one is None else one.amount_stops for one in given]
    here = _held(amounts)
    if here is None:
        return None
    moves = []
    for place, one in enumerate(given):
        if one is not None:
            for side in (one.doubt_stops, -one.doubt_stops):
                moved = [*amounts[:place], one.amount_stops + side, *amounts[place + 1 :]]
                moves.append((_held(moved) or 0.0) - here)
    return Stops(here, hypot(*moves) / hypot(1, 1))


def _held(amounts: Sequence[float | None]) -> float | None:
    """The rule without doubts."""
    least, most, wanted = amounts
    if least is None or most is None:
        ends = [one for one in (least, most) if one is not None]
        if wanted is None:
            return ends[0] if ends else None
        return max(wanted, least) if least is not None else min(wanted, most) if most is not None else wanted
    if least >= most or wanted is None:
        return (least + most) / 2
    return min(max(wanted, least), most)


def lost_stops(beyond: Stops, reach_sd: float) -> tuple[float, float, float]:
    """
    By how much a tone lies beyond the end of the paper, and no less than not at all.

    max(0, d), with limits from d -+ r s

    Args:
        beyond: How far beyond the end, negative inside it. [stops]
        reach_sd: How many standard deviations the limits lie apart from the middle. [sd] > 0

    Returns:
        Loss with its lower and upper limit. [stops] >= 0. Uncertainty: that of `beyond`.

    Source:
        our judgement (arithmetic).
    """
    value, half = beyond.amount_stops, reach_sd * beyond.doubt_stops
    return max(0.0, value), max(0.0, value - half), max(0.0, value + half)


def _share(stray_share: float) -> None:
    if not stray_share >= 0:
        raise OutOfRange("stray_share", stray_share, "0 or more")
