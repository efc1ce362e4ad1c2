"""Grids found on small pictures made here: right where it is sure, and not sure where it cannot know."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter, rotate

from silverwright.densitometry.contrast import Contrast
from silverwright.densitometry.find_grid import UNTOLD, GridFound, find_grid
from silverwright.densitometry.grid import middle_half, patch_quads
from silverwright.densitometry.ground import Box, grounds
from silverwright.densitometry.laid import Laid, is_even
from silverwright.densitometry.lattice import measurable, series_tried, spans
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


def test_grounds_lie_one_inside_another() -> None:
    found = grounds(-np.log10(sheet(3, 5, border=0.12)))
    lid = next(one for one in found if one.part.top_px == 0 and one.tone_log10 == pytest.approx(0.9, abs=0.02))
    assert (lid.inner.top_px, lid.inner.left_px) == pytest.approx((40, 50), abs=6)
    border = next(one for one in found if one.tone_log10 == pytest.approx(0.12, abs=0.02))
    assert (border.inner.top_px, border.inner.left_px) == pytest.approx((TOP, LEFT), abs=6)
    assert border.inner.bottom_px == pytest.approx(TOP + 3 * PATCH + 16, abs=6)
    assert grounds(np.random.default_rng(1).normal(0, 3, (200, 200))) == ()


def drawn(shape: tuple[int, int], lattice: tuple[float, ...], tones: np.ndarray) -> np.ndarray:
    """A picture of even patches on a ground of tone 0."""
    picture = np.zeros(shape)
    across, down = (spans(np.array([series]), count) for series, count in ((lattice[:3], tones.shape[1]), (lattice[3:], tones.shape[0])))
    for row, (top, bottom) in enumerate(zip(down[0][0], down[1][0], strict=True)):
        for column, (left, right) in enumerate(zip(across[0][0], across[1][0], strict=True)):
            picture[round(top) : round(bottom), round(left) : round(right)] = tones[row, column]
    return picture


TONES = np.array([[0.2, 0.5, 0.9, 1.2], [0.3, 0.6, 1.0, 1.4]])
LATTICE = (40.0, 274.0, 6.0, 30.0, 136.0, 6.0)


def test_contrast_is_summed_up_as_it_is_defined() -> None:
    picture = np.random.default_rng(4).normal(0.4, 0.2, (170, 320))
    contrast = Contrast(picture, Box(10, 20, 160, 300), 0.3)
    away = picture[10:160, 20:300] - 0.3
    plain = np.sign(away) * np.log(1 + np.abs(away) / 0.2)
    assert contrast.total == pytest.approx((plain**2).sum())
    means, squares, size = contrast.means(np.array([LATTICE]), (2, 4))
    first = plain[20:70, 20:74]  # rows 30 to 80 and columns 40 to 94 of the picture: 50 by 54 pixels
    assert size[0, 0, 0] == first.size
    assert (means[0, 0, 0], squares[0, 0, 0]) == pytest.approx((first.mean(), (first**2).mean()))


def test_the_true_lattice_explains_most_and_is_settled_to() -> None:
    picture = drawn((170, 320), LATTICE, TONES)
    contrast = Contrast(picture, Box(0, 0, 170, 320), 0.0)
    assert contrast.weigh(np.array([LATTICE]), (2, 4))[0] == pytest.approx(contrast.total)
    for off in ((9, 9, 0, 0, 0, 0), (0, -13, 4, 0, 0, 0), (5, 0, -3, -7, 8, 5), (-6, 12, 0, 10, 10, 0)):
        lattice, weight = contrast.settle(np.array(LATTICE) + off, (2, 4))
        assert lattice == pytest.approx(np.array(LATTICE), abs=1)
        assert weight > 0.97 * contrast.total


def test_a_patch_further_is_never_as_good() -> None:
    picture = drawn((170, 320), LATTICE, TONES) + np.random.default_rng(5).normal(0, 0.01, (170, 320))
    contrast = Contrast(picture, Box(0, 0, 170, 320), 0.0)

    def laid(lattice: tuple[float, ...], shape: tuple[int, int]) -> Laid:
        return Laid(picture, contrast, np.array(lattice), shape, float(contrast.weigh(np.array([lattice]), shape)[0]))

    assert laid(LATTICE, (2, 4)).doubt() == ""
    left_out = laid((100.0, *LATTICE[1:]), (2, 3))
    assert "outside the patches" in left_out.doubt() or "beside the field" in left_out.doubt()
    added = laid((LATTICE[0], 274.0 + 60.0 - 26.0, *LATTICE[2:]), (2, 4))
    assert added.doubt() == "Not every patch is even inside."
    pale = laid((40.0, 274.0, 6.0, 30.0, 192.0, 6.0), (3, 4))
    assert pale.doubt() == "One side of the field hardly differs from what lies beside it."
    halves = laid((40.0, 274.0, 0.0, 30.0, 136.0, 6.0), (2, 8))
    assert halves.doubt()
    assert laid(LATTICE, (2, 4)).alike(laid((45.0, *LATTICE[1:]), (2, 4)))
    assert not laid(LATTICE, (2, 4)).alike(laid((56.0, *LATTICE[1:]), (2, 4)))


def test_a_border_that_ends_where_a_patch_would_is_no_patch() -> None:
    """The lightest patch is as light as its card, and the card ends a patch beyond the darkest one: the lid makes a step there, too."""
    strips = np.concatenate([[0.003], np.linspace(0.1, 1.3, 7)])[None]
    picture = drawn((170, 480), (60.0, 380.0, 0.0, 30.0, 136.0, 0.0), strips)
    picture[:, 420:] -= 0.03  # the lid is lighter than the card
    contrast = Contrast(picture, Box(0, 0, 170, 480), 0.0)
    aside = np.array((100.0, 420.0, 0.0, 30.0, 136.0, 0.0))
    assert is_even(picture, aside, (1, 8))
    laid = Laid(picture, contrast, aside, (1, 8), float(contrast.weigh(aside[None], (1, 8))[0]))
    assert laid.doubt() == "One side of the field hardly differs from what lies beside it."


def test_strips_counted_twice_are_doubted() -> None:
    strips = np.linspace(0.2, 1.4, 6)[None]
    picture = drawn((170, 320), (40.0, 280.0, 0.0, 30.0, 136.0, 0.0), strips)
    contrast = Contrast(picture, Box(0, 0, 170, 320), 0.0)
    twice = np.array((40.0, 280.0, 0.0, 30.0, 136.0, 0.0))
    doubled = Laid(picture, contrast, twice, (1, 12), float(contrast.weigh(twice[None], (1, 12))[0]))
    assert doubled.even
    assert doubled.doubt() == "Fewer patches would be as even: one may be counted twice."
    assert Laid(picture, contrast, twice, (1, 6), float(contrast.weigh(twice[None], (1, 6))[0])).doubt() == ""


def test_series_have_the_count_and_gap_that_they_say() -> None:
    starts, ends = spans(np.array([[10.0, 106.0, 4.0]]), 5)
    assert starts[0] == pytest.approx([10, 30, 50, 70, 90])
    assert ends[0] == pytest.approx([26, 46, 66, 86, 106])
    assert measurable(np.array([[10.0, 106.0, 4.0], [10.0, 40.0, 0.0], [10.0, 106.0, 12.0]]), 5).tolist() == [True, False, False]
    near = series_tried(100.0, 400.0, 5)
    true = np.array([100 - 66.0, 400.0, 6.0])  # the first patch has the tone of its ground
    assert (np.abs(near - true).max(axis=1) <= 66 / 8).any()


def test_a_patch_of_two_tones_is_not_even() -> None:
    picture = drawn((170, 320), LATTICE, TONES)
    assert is_even(picture, np.array(LATTICE), (2, 4))
    picture[30:80, 70:94] += 0.05
    assert not is_even(picture, np.array(LATTICE), (2, 4))


@pytest.mark.parametrize(("rows", "columns", "gap"), [(3, 5, 8), (1, 8, 0)])
def test_untold_rows_and_columns_are_guessed_and_asked_about(rows: int, columns: int, gap: int) -> None:
    picture = sheet(rows, columns, gap=gap)
    found = find_grid(picture)
    assert is_right(found, picture.shape, (rows, columns, gap), 0.0), found
    assert not found.sure
    assert found.why.startswith(UNTOLD)
