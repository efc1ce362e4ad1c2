"""Which steps of a scanned tablet can be believed, and whether it lay the other way round."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import log10


@dataclass(frozen=True, slots=True)
class TabletSteps:
    """Places of the steps, in order of density: those that fall as they must, those that turn back, those lost at the light and the dark end."""

    usable: tuple[int, ...]
    turning_back: tuple[int, ...]
    clipped_light: tuple[int, ...]
    clipped_dark: tuple[int, ...]


def sort_steps(densities: Sequence[float], signals: Sequence[float], flat_share: float) -> TabletSteps:
    """
    Which steps of the tablet can be believed.

    The longest series in which light falls while density rises; at either end, steps whose light falls by less than `flat_share` of 10^-D are lost

    Args:
        densities: Known density of each step. [1]
        signals: Its light; 0 where the scan is black. [any] >= 0
        flat_share: Part of the promised fall below which an end counts as clipped. [1] 0 to 1

    Returns:
        Places of the steps in the order given. Uncertainty: a fall smaller than the noise may be taken for a turn, and the other way round.

    Source:
        our judgement.
    """
    order = sorted(range(len(densities)), key=lambda one: densities[one])
    black = [place for place in order if signals[place] <= 0]
    lit = [place for place in order if signals[place] > 0]
    light, dark = _flat(lit, densities, signals, flat_share), _flat(lit[::-1], densities, signals, flat_share)
    left = [place for place in lit if place not in light and place not in dark]
    usable = _falling(left, densities, signals)
    turning = tuple(sorted(set(left) - set(usable)))
    return TabletSteps(tuple(usable), turning, tuple(sorted(light)), tuple(sorted([*dark, *black])))


def falls_better_turned(densities: Sequence[float], signals: Sequence[float]) -> bool:
    """
    Does the tablet lie the other way round?

    The longest falling series is longer when the last signal belongs to the first density

    Args:
        densities: Known density of each step. [1]
        signals: Its light. [any] >= 0

    Returns:
        Whether turning mends more than it breaks. Uncertainty: none where light falls or rises all along.

    Source:
        our judgement.
    """
    order = sorted(range(len(densities)), key=lambda one: densities[one])
    turned = list(signals)[::-1]
    return len(_falling(order, densities, turned)) > len(_falling(order, densities, signals))


def _falling(order: Sequence[int], densities: Sequence[float], signals: Sequence[float]) -> list[int]:
    """The longest series of places along which density rises and light falls."""
    longest: list[list[int]] = []
    for at, place in enumerate(order):
        before = [longest[one] for one in range(at) if densities[order[one]] < densities[place] and signals[order[one]] > signals[place]]
        longest.append([*max(before, key=len, default=[]), place])
    return max(longest, key=len, default=[])


def _flat(places: Sequence[int], densities: Sequence[float], signals: Sequence[float], flat_share: float) -> list[int]:
    """Steps from the end of the tablet on whose light hardly changes from one to the next: all of them stand at the end of the scale."""
    lost: list[int] = []
    for outer, inner in pairwise(places):
        promised = abs(densities[outer] - densities[inner])
        if abs(log10(signals[outer] / signals[inner])) >= flat_share * promised:
            break
        lost = [*places[: places.index(inner) + 1]]
    return lost
