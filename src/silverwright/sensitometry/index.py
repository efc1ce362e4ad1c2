"""The paper's index from everything that speaks for one: normals in log2 EI, each counting by its doubt."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.records import Evidence

BEYOND_CHANCE_SD: Final = 2.0  # our judgement: so many standard deviations above what chance explains, evidence disagrees


@dataclass(frozen=True, slots=True)
class Combined:
    """An index in stops from EI 1, its standard deviation, how much each piece counted, and by what the doubts had to be widened."""

    index_stops: float
    sd_stops: float
    weights: tuple[float, ...]
    widened_factor: float


def judged_index_stops(index_stops: float, dark_stops: float, sign: float) -> float:
    """
    The index that a picture asks for after it was judged.

    Direct positive: half a stop too dark asks for half a stop more exposure, so a lower index; a paper negative for a higher one.

    Args:
        index_stops: Index that its exposure amounted to, in stops from EI 1. [stops] any
        dark_stops: By how much it is too dark; too light is negative. [stops] any
        sign: -1 for a direct positive, +1 for a paper negative.

    Returns:
        The index it should have had, in stops from EI 1. [stops] Uncertainty: that of the eye (facts/paper.csv, half_stop_verdict).

    Source:
        our judgement (arithmetic of the two processes).
    """
    return index_stops + sign * dark_stops


def judged_sd_stops(eye_sd_stops: float, added_sd_stops: Sequence[float]) -> float:
    """
    The doubt of a judgement by eye, with what makes it worse: a wet sheet, an unknown lamp.

    s^2 = s_eye^2 + sum s_i^2

    Args:
        eye_sd_stops: Doubt of the judgement, one standard deviation. [stops] >= 0
        added_sd_stops: What is added. [stops] each >= 0

    Returns:
        One standard deviation. [stops] >= 0

    Source:
        our judgement (independent doubts).
    """
    return hypot(eye_sd_stops, *added_sd_stops)


def combine(prior: Evidence | None, pieces: Sequence[Evidence]) -> Combined:
    """
    One index from our first guess and all that was found.

    mu = sum w_i x_i, w_i = s_i^-2 / sum s^-2, s = (sum s_i^-2)^-1/2; when the pieces disagree beyond chance
    (chi^2 > n + 2 sqrt(2 n), n one less than the pieces), their s_i grow by sqrt(chi^2 / n) first

    Args:
        prior: Our first guess, as a piece of evidence; none to leave it out.
        pieces: What was found. May be empty when there is a first guess.

    Returns:
        The index; weights are those of the first guess where there is one, then of each piece. Uncertainty: the standard deviation, if doubts are
        independent.

    Raises:
        NotEnoughReadings: neither a first guess nor a piece.
        OutOfRange: a doubt not above 0.

    Source:
        our judgement (normals until there is a forecast); widening: common practice, no source (Birge's ratio).
    """
    guess = [] if prior is None else [prior]
    if not guess and not pieces:
        raise NotEnoughReadings("pieces of evidence", 0, 1)
    for one in (*guess, *pieces):
        if not one.sd_stops > 0:
            raise OutOfRange("sd_stops", one.sd_stops, "above 0")
    factor = _disagreement(pieces)
    whole = [*guess, *(Evidence(one.index_stops, one.sd_stops * factor) for one in pieces)]
    precision = [one.sd_stops**-2 for one in whole]
    weights = tuple(one / sum(precision) for one in precision)
    middle = sum(weight * one.index_stops for weight, one in zip(weights, whole, strict=True))
    return Combined(middle, 1 / sqrt(sum(precision)), weights, factor)


def _disagreement(pieces: Sequence[Evidence]) -> float:
    """By what the doubts must grow so that the pieces agree; 1 while chance explains their spread."""
    free = len(pieces) - 1
    if free < 1:
        return 1.0
    precision = [one.sd_stops**-2 for one in pieces]
    middle = sum(weight * one.index_stops for weight, one in zip(precision, pieces, strict=True)) / sum(precision)
    spread = sum(weight * (one.index_stops - middle) ** 2 for weight, one in zip(precision, pieces, strict=True))
    return sqrt(spread / free) if spread > free + BEYOND_CHANCE_SD * sqrt(2 * free) else 1.0
