"""A test strip in the camera: the dark slide is pushed on between exposures, so that every strip got more than the one before."""

from collections.abc import Callable, Sequence
from itertools import accumulate
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.exposure.reciprocity import effective_s

_FEWEST: Final = 2  # arithmetic: one strip is no strip


def strip_totals_s(shortest_s: float, longest_s: float, strips: int) -> tuple[float, ...]:
    """
    What each strip gets in all, in equal steps of stops.

    t_i = t_1 (t_n / t_1)^((i - 1)/(n - 1))

    Args:
        shortest_s: Time of the strip that gets least. [s] > 0
        longest_s: Time of the strip that gets most. [s] > shortest_s
        strips: How many. [1] >= 2

    Returns:
        One time for each strip, shortest first. [s] Uncertainty: the hand, about 0.2 s for each piece.

    Raises:
        OutOfRange: shortest_s not above 0, longest_s not above it, or fewer than two strips.

    Source:
        our judgement (arithmetic).
    """
    if not shortest_s > 0:
        raise OutOfRange("shortest_s", shortest_s, "above 0")
    if not longest_s > shortest_s:
        raise OutOfRange("longest_s", longest_s, "more than the shortest")
    if strips < _FEWEST:
        raise OutOfRange("strips", strips, "2 or more")
    whole = longest_s / shortest_s
    return tuple(shortest_s * float(whole ** (number / (strips - 1))) for number in range(strips))


def slide_times_s(totals_s: Sequence[float]) -> tuple[float, ...]:
    """
    The times to give one after the other: first the whole sheet, then the slide is pushed over a strip before each further time.

    Args:
        totals_s: What each strip gets in all, shortest first. [s] growing

    Returns:
        One time for each push. [s] > 0. Uncertainty: the hand, about 0.2 s each.

    Raises:
        OutOfRange: the times do not grow.

    Source:
        our judgement (arithmetic).
    """
    given = []
    before = 0.0
    for total in totals_s:
        if not total > before:
            raise OutOfRange("totals_s", total, "more than the strip before")
        given.append(total - before)
        before = total
    return tuple(given)


def strips_effective_s(slide_s: Sequence[float], needed: Callable[[float], float]) -> tuple[float, ...]:
    """
    What each strip amounts to after reciprocity, its pieces taken as one exposure of their sum.

    The light is as dim in every piece, and what a pause may undo are specks too young to matter; so the pauses of a few seconds are left out.

    Args:
        slide_s: The times given one after the other. [s] > 0
        needed: Needed time for a metered time. [s] to [s]

    Returns:
        Metered time that each strip amounts to. [s] Uncertainty: the law of reciprocity, and up to the difference to `strips_apart_s`.

    Raises:
        OutOfRange: a time not above 0.

    Source:
        our judgement, from webb1950, abstract (loss at low intensity is loss of specks in their first stage).
    """
    return tuple(effective_s(total, needed) for total in accumulate(slide_s))


def strips_apart_s(slide_s: Sequence[float], needed: Callable[[float], float]) -> tuple[float, ...]:
    """
    What each strip would amount to if every piece counted by itself: the other end of what interruption can do.

    Args:
        slide_s: The times given one after the other. [s] > 0
        needed: Needed time for a metered time. [s] to [s]

    Returns:
        Metered time that each strip amounts to, at most. [s] >= `strips_effective_s`

    Raises:
        OutOfRange: a time not above 0.

    Source:
        our judgement.
    """
    return tuple(accumulate(effective_s(piece, needed) for piece in slide_s))
