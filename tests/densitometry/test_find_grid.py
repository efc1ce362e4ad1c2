"""Grids found on small pictures made here: right where it is sure, and not sure where it cannot know."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter, rotate

from silverwright.densitometry.edges import upright_edges
from silverwright.densitometry.find_grid import GridFound, find_grid
from silverwright.densitometry.frame import boxes_inside
from silverwright.densitometry.grid import middle_half, patch_quads
from silverwright.densitometry.straight import set_straight

PATCH, LEFT, TOP = 60, 150, 120


def sheet(rows: int, columns: int, *, gap: int = 8, skew_degrees: float = 0.0, border: float = 0.08, seed: int = 0) -> np.ndarray:
    """Patches that fall from black to near white on a sheet with a border, on a grey lid; blurred, noisy, with dust, a little askew."""
    dice = np.random.default_rng(seed)
    high, wide = TOP * 2 + rows * PATCH + (rows - 1) * gap, LEFT * 2 + columns * PATCH + (columns - 1) * gap
    density = np.full((high, wide), 0.9)
    density[40:-40, 50:-50] = border
    for at, tone in enumerate(np.linspace(1.6, 0.2, rows * columns)):
        row, column = divmod(at, columns)
        y, x = TOP + row * (PATCH + gap), LEFT + column * (PATCH + gap)
        density[y : y + PATCH, x : x + PATCH] = tone
    light = gaussian_filter(10**-density, 0.8)
    light = rotate(light, -skew_degrees, reshape=False, order=1, mode="nearest")
    light[tuple(dice.integers(0, one, 40) for one in light.shape)] = 0.9
    return np.asarray(light * (1 + dice.normal(0, 0.01, light.shape)) + dice.normal(0, 0.0005, light.shape))


def is_right(found: GridFound, shape: tuple[int, int], field: tuple[int, int, int], skew_degrees: float) -> bool:
    """Whether the middle half of every patch that was found lies inside the patch that was drawn."""
    rows, columns, gap = field
    if found.grid is None or (found.grid.rows, found.grid.columns) != (rows, columns):
        return False
    turn, middle = np.radians(skew_degrees), (np.array(shape[::-1]) - 1) / 2
    back = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    for at, quad in enumerate(patch_quads(found.grid)):
        row, column = divmod(at, columns)
        place = (np.array(middle_half(quad)) * shape[::-1] - 0.5 - middle) @ back.T + middle
        inside = place - (LEFT + column * (PATCH + gap), TOP + row * (PATCH + gap))
        if inside.min() < 0 or inside.max() > PATCH:
            return False
    return True


@pytest.mark.parametrize("skew_degrees", [-1.5, 0.0, 0.7])
@pytest.mark.parametrize(("rows", "columns", "gap"), [(3, 5, 8), (2, 4, 12), (1, 8, 0), (4, 4, 6)])
def test_a_clear_sheet_is_found(rows: int, columns: int, gap: int, skew_degrees: float) -> None:
    picture = sheet(rows, columns, gap=gap, skew_degrees=skew_degrees)
    found = find_grid(picture, rows, columns)
    assert is_right(found, picture.shape, (rows, columns, gap), skew_degrees), found
    assert found.sure, found.why


@pytest.mark.parametrize("rows_columns", [(3, 6), (4, 5), (2, 5)])
def test_a_wrong_number_is_never_sure(rows_columns: tuple[int, int]) -> None:
    found = find_grid(sheet(3, 5), *rows_columns)
    assert not found.sure
    assert found.why


def test_nothing_is_never_sure() -> None:
    dice = np.random.default_rng(2)
    for picture in (
        np.full((400, 600), 0.5),
        np.zeros((300, 300)),
        np.clip(dice.normal(0.5, 0.1, (400, 600)), 0, 1),
        gaussian_filter(dice.random((400, 600)), 8),
    ):
        assert not find_grid(picture, 2, 5).sure
    assert find_grid(np.ones((50, 50)), 1, 3) == GridFound(None, sure=False, why="The picture is too small to find patches on it.")


@pytest.mark.parametrize("skew_degrees", [-2.0, -0.7, 0.0, 0.35, 1.3])
def test_the_skew_is_found(skew_degrees: float) -> None:
    straight = set_straight(sheet(3, 5, skew_degrees=skew_degrees))
    assert np.degrees(np.arctan2(straight.matrix[0, 1], straight.matrix[0, 0])) == pytest.approx(skew_degrees, abs=0.06)


def test_frames_are_taken_off_one_by_one() -> None:
    picture = -np.log10(sheet(3, 5, border=0.12))
    lid, border = boxes_inside(picture)
    assert (lid.top_px, lid.left_px) == pytest.approx((40, 50), abs=6)
    assert (border.top_px, border.left_px) == pytest.approx((TOP, LEFT), abs=6)
    assert border.bottom_px == pytest.approx(TOP + 3 * PATCH + 16, abs=6)
    assert boxes_inside(np.random.default_rng(1).normal(0, 1, (200, 200))) == ()


def test_an_edge_is_surer_the_longer_it_is() -> None:
    dice = np.random.default_rng(3)
    picture = dice.normal(0, 0.02, (240, 200))
    picture[:, 100:] += 0.03
    edges = upright_edges(picture)
    at = np.array([100.0])
    short, long = (float(edges.certainty(at, np.array([0.0]), np.array([end]))[0]) for end in (24.0, 240.0))
    assert long > short > 1
    assert float(edges.certainty(np.array([50.0]), np.array([0.0]), np.array([240.0]))[0]) < 4
