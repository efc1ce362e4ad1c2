"""A field of patches under four corners: where each patch lies, and the part of it that is measured."""

from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records import Corner, Grid

Quad = tuple[Corner, Corner, Corner, Corner]

INSET: Final = 0.25  # our judgement: a quarter left away at each side keeps edges, halo and a slip of the grid by a quarter patch out
SMALLEST_TURN: Final = 1e-9  # arithmetic: a corner with less than this, in fractions of the picture squared, is no corner


def patch_quads(grid: Grid) -> tuple[Quad, ...]:
    """
    Where each patch lies, row by row from the first corner.

    A flat sheet seen askew: (x, y) = (a u + b v + c, d u + e v + f) / (g u + h v + 1), u and v from 0 to 1 along and down the field

    Args:
        grid: Corners of the field in fractions of width and height, rows and columns. [1]

    Returns:
        For each patch its corners, in the grid's order and fractions. Uncertainty: that of the corners, shared out over the field.

    Raises:
        OutOfRange: fewer than one row or column; corners that do not go once around a field with four real corners.

    Source:
        arithmetic of a projection, from memory, unverified.
    """
    if grid.rows < 1:
        raise OutOfRange("rows", grid.rows, "1 or more")
    if grid.columns < 1:
        raise OutOfRange("columns", grid.columns, "1 or more")
    _check_around(grid.corners)
    return tuple(
        _part(grid.corners, (column / grid.columns, row / grid.rows), ((column + 1) / grid.columns, (row + 1) / grid.rows))
        for row in range(grid.rows)
        for column in range(grid.columns)
    )


def middle_half(quad: Quad) -> Quad:
    """
    The part of a patch that is measured: the middle half of its width and the middle half of its height.

    u and v from 1/4 to 3/4 in the patch's own projection

    Args:
        quad: Corners of the patch. [1]

    Returns:
        Corners of the middle, in the same order and measure. Uncertainty: that of the corners.

    Raises:
        OutOfRange: corners that do not go once around a field with four real corners.

    Source:
        our judgement.
    """
    _check_around(quad)
    return _part(quad, (INSET, INSET), (1 - INSET, 1 - INSET))


def _part(corners: Quad, first: Corner, last: Corner) -> Quad:
    """The four corners of a rectangle of u and v, put into the picture."""
    (left, top), (right, bottom) = first, last
    return (_place(corners, left, top), _place(corners, right, top), _place(corners, right, bottom), _place(corners, left, bottom))


def _place(corners: Quad, u: float, v: float) -> Corner:
    """Where the point (u, v) of the unit square comes to lie when its corners come to lie on these four."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    off_x, off_y = x0 - x1 + x2 - x3, y0 - y1 + y2 - y3
    down_x, down_y, along_x, along_y = x1 - x2, y1 - y2, x3 - x2, y3 - y2
    turn = down_x * along_y - down_y * along_x
    g = (off_x * along_y - off_y * along_x) / turn
    h = (down_x * off_y - down_y * off_x) / turn
    away = g * u + h * v + 1
    return (
        ((x1 - x0 + g * x1) * u + (x3 - x0 + h * x3) * v + x0) / away,
        ((y1 - y0 + g * y1) * u + (y3 - y0 + h * y3) * v + y0) / away,
    )


def _check_around(corners: Quad) -> None:
    """Four corners that all turn the same way; a mirrored field turns the other way and is allowed."""
    turns = []
    for at in range(len(corners)):
        (x0, y0), (x1, y1), (x2, y2) = corners[at - 2], corners[at - 1], corners[at]
        turns.append((x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1))
    if not (min(turns) > SMALLEST_TURN or max(turns) < -SMALLEST_TURN):
        raise OutOfRange("turn at a corner", min(turns, key=abs), "four corners in order around the field, each a real corner")
