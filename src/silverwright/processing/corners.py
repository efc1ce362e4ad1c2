"""Corners clipped off, so that wet sheets can be told apart by hand."""

from itertools import combinations
from typing import Final, Literal

Corner = Literal["upper left", "upper right", "lower right", "lower left"]
CORNERS: Final[tuple[Corner, ...]] = ("upper left", "upper right", "lower right", "lower left")  # on the way round: a half turn is two places on
CODE_NAMES: Final = {
    frozenset[Corner](): "no corner",
    frozenset(CORNERS): "all four corners",
    frozenset[Corner](("upper left", "upper right")): "both upper corners",
    frozenset[Corner](("lower right", "lower left")): "both lower corners",
    frozenset[Corner](("upper left", "lower left")): "both left corners",
    frozenset[Corner](("upper right", "lower right")): "both right corners",
}


def half_turned(corners: frozenset[Corner]) -> frozenset[Corner]:
    """
    How does a sheet with these corners clipped look when it is turned upside down?

    Each corner becomes the one opposite.

    Args:
        corners: The clipped corners, with the emulsion towards you and a short side up.

    Returns:
        The corners as they lie then. No uncertainty: it is counted.

    Source:
        our judgement: geometry of a rectangle.
    """
    return frozenset(CORNERS[(CORNERS.index(one) + len(CORNERS) // 2) % len(CORNERS)] for one in corners)


def corner_codes() -> tuple[frozenset[Corner], ...]:
    """
    Which clipped corners tell sheets apart that may lie upside down in the tray?

    Of the sixteen ways to clip four corners those that a half turn does not make into an earlier one: ten. Fewest cuts first, none last.

    Returns:
        Ten sets of corners, with the emulsion towards you and a short side up. No uncertainty: it is counted.

    Source:
        our judgement: the emulsion side can be told from the back, up from down cannot.
    """
    found: list[frozenset[Corner]] = []
    for many in range(1, len(CORNERS) + 1):
        for corners in map(frozenset, combinations(CORNERS, many)):
            if half_turned(corners) not in found:
                found.append(corners)
    return (*found, frozenset())


def code_name(corners: frozenset[Corner]) -> str:
    """
    How is such a set of clipped corners called?

    One corner by its name, two by their side or both names, three by the one that stays.

    Args:
        corners: The clipped corners.

    Returns:
        Words for a label. No uncertainty.

    Source:
        our judgement: the fewest words.
    """
    if corners in CODE_NAMES:
        return CODE_NAMES[corners]
    kept = [one for one in CORNERS if one not in corners]
    if len(kept) == 1:
        return f"all but {kept[0]}"
    return " and ".join(one for one in CORNERS if one in corners)


def corners_named(name: str) -> frozenset[Corner] | None:
    """
    Which corners does such a name mean?

    The inverse of `code_name`.

    Args:
        name: Words as `code_name` writes them.

    Returns:
        The clipped corners; nothing where the words mean none of them.

    Source:
        our judgement: arithmetic.
    """
    every = (frozenset(found) for many in range(len(CORNERS) + 1) for found in combinations(CORNERS, many))
    return next((corners for corners in every if code_name(corners) == name), None)
