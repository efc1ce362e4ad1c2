"""Steps of a scanned tablet that do not go with the others: scratched, dusty, or of another density than is said."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

import numpy as np

from silverwright.densitometry.calibration import FEWEST_STEPS, Calibration, Doubts, calibrate, read_density

ODD_DENSITY: Final = 0.03  # our judgement: three times what a film scanner's steps are usually missed by; less is the scanner's own
ODD_TIMES: Final = 4  # our judgement: a step of a sound tablet is missed by so many times the usual miss once in some hundred tablets
MOST_ODD_SHARE: Final = 0.2  # our judgement: where more steps than a fifth seem odd, the tablet is read wrongly as a whole
TRIED: Final = 3  # our judgement: an odd step draws both its neighbours' misses along, so it is one of the three largest
UNEVEN_DENSITY: Final = 0.02  # our judgement: eight of ten pixels of a sound step lie nearer together, or its neighbours are as grainy
UNEVEN_TIMES: Final = 3  # our judgement: noise and grain grow slowly from step to step, a scratch all at once
NEAR: Final = 2  # our judgement: noise grows slowly towards the dark steps; two to each side are of the same kind
NORMAL_SD: Final = 1.4826  # arithmetic: standard deviation of a normal over the median of its absolute values
LN10: Final = float(np.log(10))  # arithmetic


@dataclass(frozen=True, slots=True)
class OddStep:
    """A step that the others foretell badly: its place, by how much they miss it, and how they miss one another without it."""

    place: int
    miss_density: float
    usual_density: float


def odd_steps(calibration: Calibration) -> tuple[OddStep, ...]:
    """
    Which steps of the tablet do not go with the others?

    One after another, the step without which the rest is missed least, as long as |m| > max(0.03, 4 r); m: what a calibration by the rest makes
    of its light, less its known density; r: 1.4826 x the middle one of the rest's misses, or the root mean square of the four beside it where that
    is larger

    Args:
        calibration: The scanner's, by all steps.

    Returns:
        The odd ones between both ends, the oddest first, by their place in the calibration. Uncertainty: of two odd neighbours only one may be
        named until it is left out.

    Source:
        our judgement.
    """
    signals = 10**calibration.log_signals + calibration.offset
    left = list(range(len(signals)))
    found: list[OddStep] = []
    made = calibration
    while len(left) > FEWEST_STEPS and len(found) < MOST_ODD_SHARE * len(signals):
        tried = sorted(range(1, len(left) - 1), key=lambda at: -abs(made.misses[at]))[:TRIED]
        rests = {at: calibrate(calibration.densities[_without(left, at)], signals[_without(left, at)]) for at in tried}
        at = min(tried, key=lambda one: rests[one].rms_miss)
        miss = read_density(rests[at], float(signals[left[at]]), 0.0, Doubts()).density - float(calibration.densities[left[at]])
        near = rests[at].inner_misses[max(0, at - 1 - NEAR) : at - 1 + NEAR]
        usual = max(NORMAL_SD * float(np.median(np.abs(rests[at].inner_misses))), float(np.sqrt(np.mean(near**2))))
        if abs(miss) <= max(ODD_DENSITY, ODD_TIMES * usual):
            break
        found.append(OddStep(left[at], miss, usual))
        left, made = _without(left, at), rests[at]
    return tuple(found)


def uneven_steps(spread_share: Sequence[float]) -> tuple[int, ...]:
    """
    Which steps of the tablet are uneven inside?

    w / ln 10 > max(0.02, 3 x the middle one of its neighbours' w / ln 10), w: from the 10 % to the 90 % quantile of its pixels

    Args:
        spread_share: How far each step's pixels lie apart, as a share of its light, in the order of the densities; 0: unknown. [1] >= 0

    Returns:
        Their places. Uncertainty: dust that covers less than a tenth of a step does not show, and does no harm.

    Source:
        our judgement.
    """
    in_density = [share / LN10 for share in spread_share]
    found = []
    for place, spread in enumerate(in_density):
        near = [one for one in (*in_density[max(0, place - NEAR) : place], *in_density[place + 1 : place + 1 + NEAR]) if one]
        if near and spread > max(UNEVEN_DENSITY, UNEVEN_TIMES * median(near)):
            found.append(place)
    return tuple(found)


def _without(places: list[int], at: int) -> list[int]:
    return [*places[:at], *places[at + 1 :]]
