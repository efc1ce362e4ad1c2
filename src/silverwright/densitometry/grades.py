"""Classes of contrast by exposure range, as the trade grades its papers."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GradeLimits:
    """One class: its number, its word, and the exposure ranges that it takes in."""

    number: int
    word: str
    low_log10: float
    high_log10: float


def grade_of_range(range_log10: float, grades: Sequence[GradeLimits]) -> GradeLimits | None:
    """
    The class of contrast that an exposure range falls in.

    low <= range < high

    Args:
        range_log10: Exposure range of the paper. [log10] >= 0
        grades: The classes.

    Returns:
        The class, or nothing where the range lies outside all of them. A filter's number is no class. Uncertainty: that of the range.

    Source:
        stroebel1993, from memory, unverified.
    """
    return next((grade for grade in grades if grade.low_log10 <= range_log10 < grade.high_log10), None)
