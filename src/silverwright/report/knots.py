"""A smooth law as a short table: as many points as straight lines between them need, and no more."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final

NEAR_STOPS: Final = 0.003  # our judgement: a tenth of what a field page may differ from the ledger
HALVINGS: Final = 9  # our judgement: where a law jumps, the jump is this narrow a part of its range, and no table grows without end
Row = tuple[float, ...]


def knots(law: Callable[[float], Row], places: Sequence[float]) -> list[Row]:
    """
    Points of a law, each its place and then its values, so dense that the middle of every straight line lies on the law to 0.003.

    Starts from the places given, in rising order; where the law bends, the gap is halved again and again, at most nine times.
    """
    points = [(place, *law(place)) for place in places]
    found = points[:1]
    for left, right in pairwise(points):
        found += [*_between(law, left, right, HALVINGS), right]
    return found


def _between(law: Callable[[float], Row], left: Row, right: Row, halvings: int) -> list[Row]:
    """What has to stand between two points."""
    middle = (left[0] + right[0]) / 2
    there = (middle, *law(middle))
    off = max(abs(true - (first + last) / 2) for true, first, last in zip(there[1:], left[1:], right[1:], strict=True))
    if off <= NEAR_STOPS or halvings == 0:
        return []
    return [*_between(law, left, there, halvings - 1), there, *_between(law, there, right, halvings - 1)]
