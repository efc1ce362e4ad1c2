"""The exposure as a sum of stops: lines add up, doubts add in quadrature, and the sum is a time."""

from collections.abc import Callable, Sequence
from math import erf, hypot, log2, prod, sqrt
from statistics import NormalDist
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.exposure.meter import time_from_ev
from silverwright.exposure.reciprocity import effective_s
from silverwright.records import Stops

_NORMAL: Final = NormalDist()
BRACKET_SHARES: Final[dict[int, tuple[float, ...]]] = {  # our judgement: 400 simulated darkrooms gave 88 % for two sheets and 93 % for three
    1: (0.5,),
    2: (0.27, 0.73),
    3: (0.17, 0.5, 0.83),
}
_INTEGRAL_REACH: Final = 4.0  # arithmetic: standard deviations to either side; beyond lies 0.006 %
_INTEGRAL_POINTS: Final = 32  # our judgement: an eighth of a standard deviation apart, good to 0.001 for doubts up to 2 stops
_EVEN_STOPS: Final = 1e-6  # our judgement: rounding, far below anything that shows
_HALF: Final = tuple(_INTEGRAL_REACH * number / _INTEGRAL_POINTS for number in range(_INTEGRAL_POINTS + 1))
_WHOLE: Final = sum((1 if z == 0 else 2) * _NORMAL.pdf(z) for z in _HALF)
_NODES: Final = tuple((z, (1 if z == 0 else 2) * _NORMAL.pdf(z) / _WHOLE) for z in _HALF)


def total(lines: Sequence[Stops]) -> Stops:
    """
    The sum of the ledger: amounts add, doubts add in quadrature.

    Args:
        lines: Amount and doubt of each line. [stops]

    Returns:
        Sum and its standard deviation. [stops] Holds for doubts that have nothing to do with each other.

    Source:
        our judgement (independent doubts).
    """
    return Stops(sum(line.amount_stops for line in lines), hypot(*(line.doubt_stops for line in lines)))


def reciprocity_line(before: Stops, needed: Callable[[float], float], law_sd_stops: float) -> Stops:
    """
    The reciprocity line: its own doubt, and what it adds to the doubt above it.

    s^2 = s_law^2 + (k^2 - 1) s_before^2, k = slope of log2 Tc over log2 Tm across +- one standard deviation: then plain quadrature of all
    lines is right to first order, though every doubt above the line is stretched by k

    Args:
        before: Sum of the lines above, in stops from one second.
        needed: Needed time for a metered time. [s] to [s]
        law_sd_stops: Doubt of the law at this time, one standard deviation. [stops] >= 0

    Returns:
        Amount and doubt of the line. [stops]

    Source:
        our judgement (first-order propagation).
    """
    amount, sd = before.amount_stops, before.doubt_stops
    stops = log2(needed(2**amount)) - amount
    if sd == 0:
        return Stops(stops, law_sd_stops)
    slope = log2(needed(2 ** (amount + sd)) / needed(2 ** (amount - sd))) / (2 * sd)
    return Stops(stops, hypot(law_sd_stops, sd * sqrt(max(0.0, slope**2 - 1))))


def bracket_stops(doubt_stops: float, sheets: int) -> tuple[float, ...]:
    """
    How far to move each sheet of a bracket: to where the forecast is cut into even chances.

    Two sheets at the 27 % and 73 % points of the forecast, three at 17, 50 and 83 %

    Args:
        doubt_stops: Doubt of the exposure, one standard deviation. [stops] >= 0
        sheets: 1, 2 or 3.

    Returns:
        Stops from the middle for each sheet, shortest first. [stops]

    Raises:
        OutOfRange: another number of sheets.

    Source:
        our judgement (simulated darkrooms).
    """
    if sheets not in BRACKET_SHARES:
        raise OutOfRange("sheets", sheets, "1, 2 or 3")
    return tuple(doubt_stops * _NORMAL.inv_cdf(share) for share in BRACKET_SHARES[sheets])


def bracket_chance(shared_sd_stops: float, sheet_sd_stops: float, steps_stops: Sequence[float], within_stops: float) -> float:
    """
    How likely at least one sheet of a bracket lands close enough.

    1 - integral of the normal of the shared error e times the product over sheets of P(|e + step + own scatter| > within)

    Args:
        shared_sd_stops: Doubt that all sheets share: reading, EI, bellows, reciprocity, one standard deviation. [stops] >= 0
        sheet_sd_stops: Scatter of one sheet from the next, one standard deviation. [stops] > 0
        steps_stops: Stops from the middle for each sheet, as many above it as below, as `bracket_stops` gives them. [stops]
        within_stops: How close is close enough. [stops] > 0

    Returns:
        The chance. [1] 0 to 1. Uncertainty: as good as the doubts in the ledger; the integral is exact to 0.001.

    Raises:
        OutOfRange: sheet_sd_stops not above 0, or steps that do not lie evenly around the middle.

    Source:
        our judgement (normal doubts).
    """
    if not sheet_sd_stops > 0:
        raise OutOfRange("sheet_sd_stops", sheet_sd_stops, "above 0")
    if abs(sum(steps_stops)) > _EVEN_STOPS:
        raise OutOfRange("steps_stops", sum(steps_stops), "steps evenly around the middle")
    spread = sheet_sd_stops * sqrt(2)
    missed = 0.0
    for z, weight in _NODES:
        off = shared_sd_stops * z
        missed += weight * prod(
            1 - (erf((within_stops - off - step) / spread) + erf((within_stops + off + step) / spread)) / 2 for step in steps_stops
        )
    return 1 - missed


def index_of_exposure(given_s: float, f_number: float, ev: float, other_stops: float, needed: Callable[[float], float]) -> float:
    """
    The exposure index that an exposure amounts to: the ledger read backwards.

    EI = 100 N^2 2^(bellows + filter) / (2^EV Tm), Tm = what the given time amounts to

    Args:
        given_s: True time that was given. [s] > 0
        f_number: True f-number. [1] > 0
        ev: Exposure value at ISO 100, against K 12.5. [EV]
        other_stops: Bellows and filters together. [stops] >= 0
        needed: Needed time for a metered time. [s] to [s]

    Returns:
        Exposure index. [EI] > 0. Uncertainty: the lines of the ledger.

    Raises:
        OutOfRange: given_s or f_number not above 0.

    Source:
        wikipedia-ev, definition and table at ISO 100.
    """
    return time_from_ev(ev, f_number, 1.0) * float(2**other_stops) / effective_s(given_s, needed)
