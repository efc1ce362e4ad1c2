"""Where the patches lie: beside a homography solved as equations, and by properties of a projection."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.densitometry.grid import Quad, middle_half, patch_quads
from silverwright.errors import OutOfRange
from silverwright.records import Corner, Grid

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
jitter = st.floats(-0.2, 0.2)
around = st.tuples(*[st.tuples(jitter, jitter)] * 4).map(
    lambda moves: tuple((x + dx, y + dy) for (x, y), (dx, dy) in zip(SQUARE, moves, strict=True)),
)


def solved(corners: tuple[Corner, ...]) -> np.ndarray:
    """The second route: the eight unknowns of the projection as linear equations."""
    rows, right = [], []
    for (u, v), (x, y) in zip(SQUARE, corners, strict=True):
        rows += [[u, v, 1, 0, 0, 0, -u * x, -v * x], [0, 0, 0, u, v, 1, -u * y, -v * y]]
        right += [x, y]
    return np.append(np.linalg.solve(np.array(rows), np.array(right)), 1).reshape(3, 3)


@given(around, st.integers(1, 5), st.integers(1, 12))
def test_every_patch_lies_where_the_projection_puts_it(corners: Quad, rows: int, columns: int) -> None:
    quads = patch_quads(Grid(corners, rows, columns))
    assert len(quads) == rows * columns
    matrix = solved(corners)
    for at, quad in enumerate(quads):
        row, column = divmod(at, columns)
        for (du, dv), found in zip(SQUARE, quad, strict=True):
            x, y, away = matrix @ [(column + du) / columns, (row + dv) / rows, 1]
            assert found == pytest.approx((x / away, y / away), abs=1e-9)


@given(around, st.integers(1, 5), st.integers(1, 12))
def test_the_field_ends_at_its_corners_and_neighbours_touch(corners: Quad, rows: int, columns: int) -> None:
    quads = patch_quads(Grid(corners, rows, columns))
    assert quads[0][0] == pytest.approx(corners[0])
    assert quads[columns - 1][1] == pytest.approx(corners[1])
    assert quads[-1][2] == pytest.approx(corners[2])
    assert quads[-columns][3] == pytest.approx(corners[3])
    for left, right in pairwise(quads[:columns]):
        assert left[1] == pytest.approx(right[0])


def test_the_middle_half_of_a_rectangle() -> None:
    assert middle_half(((2.0, 4.0), (6.0, 4.0), (6.0, 12.0), (2.0, 12.0))) == ((3.0, 6.0), (5.0, 6.0), (5.0, 10.0), (3.0, 10.0))


def test_another_corner_first_counts_from_another_patch() -> None:
    corners = ((0.1, 0.1), (0.9, 0.1), (0.9, 0.5), (0.1, 0.5))
    turned = patch_quads(Grid((*corners[2:], *corners[:2]), 2, 4))
    plain = patch_quads(Grid(corners, 2, 4))
    for one, other in zip(turned, reversed(plain), strict=True):
        assert np.array(one) == pytest.approx(np.roll(np.array(other), 2, axis=0))


@pytest.mark.parametrize(
    "corners",
    [
        ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)),
        ((0.0, 0.0), (1.0, 0.0), (0.5, 0.0), (0.0, 1.0)),
        ((0.0, 0.0), (0.0, 0.0), (1.0, 1.0), (0.0, 1.0)),
        ((0.0, 0.0), (1.0, 0.0), (0.2, 0.2), (0.0, 1.0)),
    ],
)
def test_corners_that_are_no_field_are_refused(corners: Quad) -> None:
    with pytest.raises(OutOfRange, match="corner"):
        patch_quads(Grid(corners, 1, 3))
    with pytest.raises(OutOfRange, match="corner"):
        middle_half(corners)


@pytest.mark.parametrize(("rows", "columns"), [(0, 3), (3, 0), (-1, 2)])
def test_no_patches_are_refused(rows: int, columns: int) -> None:
    with pytest.raises(OutOfRange, match="1 or more"):
        patch_quads(Grid(SQUARE, rows, columns))
