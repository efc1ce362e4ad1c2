"""Sharpening by the scanner is seen beside the edges; gaps and grain are not taken for it."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy import ndimage
from tests.scanning.files import WHOLE, Pixels, steps, tiff

from silverwright.records import Grid
from silverwright.scanning.measure import measure
from silverwright.scanning.orders import Measure

SHARES = (0.8, 0.6, 0.45, 0.3, 0.2, 0.12)


def halo(path: Path, numbers: Pixels, orientation: int = 1) -> Any:
    tiff(path, numbers, extratags=[(274, "H", 1, orientation, True)])
    grid = Grid(WHOLE, 1, 6) if orientation == 1 else Grid(WHOLE, 6, 1)
    return measure(Measure(str(path), "linear", grid), lambda _: None)["halo_percent"]


def sharpened(numbers: Pixels, amount: float) -> Pixels:
    """What a scanner's own sharpening does: the picture less a blurred one."""
    light = numbers.astype(float)
    soft = np.stack([ndimage.gaussian_filter(light[..., one], 1.0) for one in range(3)], axis=2)
    mask = np.stack([ndimage.gaussian_filter(soft[..., one], 3.0) for one in range(3)], axis=2)
    sharp: Pixels = np.clip(soft + amount * (soft - mask), 0, 65535).astype("u2")
    return sharp


@pytest.mark.parametrize("noise", [0.0, 0.005])
def test_more_sharpening_is_more_halo(tmp_path: Path, noise: float) -> None:
    numbers = steps(SHARES, height=200, patch_px=80, noise=noise)
    none, some, much = (halo(tmp_path / f"{amount}.tif", sharpened(numbers, amount)) for amount in (0, 0.5, 1.5))
    assert none < 2
    assert none < some < much
    assert much > 10


def test_beside_the_overshoot_of_an_edge_in_closed_form(tmp_path: Path) -> None:
    """A line of 5 % beside every edge: that is what overshoots."""
    numbers = steps(SHARES, height=200, patch_px=80, noise=0.0).astype(float)
    for edge in range(80, 480, 80):
        step = numbers[0, edge - 1] - numbers[0, edge]
        numbers[:, edge - 3 : edge] += 0.05 * step
    assert halo(tmp_path / "a.tif", numbers.astype("u2")) == pytest.approx(5, abs=0.1)


def test_a_gap_between_patches_is_no_halo(tmp_path: Path) -> None:
    numbers = steps(SHARES, height=200, patch_px=80)
    for edge in range(80, 480, 80):
        numbers[:, edge - 2 : edge + 2] = 60000
    assert halo(tmp_path / "a.tif", numbers) is None


def test_a_single_column_and_a_single_patch_tell_nothing(tmp_path: Path) -> None:
    numbers = steps(SHARES, height=200, patch_px=80)
    assert halo(tmp_path / "a.tif", numbers, orientation=6) is None
    path = tiff(tmp_path / "b.tif", numbers)
    assert measure(Measure(str(path), "linear", Grid(WHOLE, 1, 1)), lambda _: None)["halo_percent"] is None


@pytest.mark.parametrize(("orientation", "turns"), [(6, 1), (8, 3), (3, 2)])
def test_edges_of_a_turned_file_are_those_that_are_seen(tmp_path: Path, orientation: int, turns: int) -> None:
    """Stored on its side with a tag that sets it right: the same six patches in a row, and the same overshoot."""
    numbers = sharpened(steps(SHARES, height=200, patch_px=80, noise=0.0), 1.0)
    plain = tiff(tmp_path / "plain.tif", numbers)
    stored = tiff(tmp_path / "turned.tif", np.rot90(numbers, turns), extratags=[(274, "H", 1, orientation, True)])
    told = [measure(Measure(str(path), "linear", Grid(WHOLE, 1, 6)), lambda _: None)["halo_percent"] for path in (plain, stored)]
    assert told[0] > 5
    assert told[1] == pytest.approx(told[0], abs=0.2)


def test_dust_beside_some_edges_is_no_sharpening(tmp_path: Path) -> None:
    """Ten edges, a hair along three of them: sharpening would show beside all."""
    shares = tuple(0.8 * 0.8**place for place in range(11))
    numbers = steps(shares, height=200, patch_px=80, noise=0.002)
    for edge in (80, 400, 640):
        lighter, darker = (int(numbers[:, edge + off].mean()) for off in (-9, 9))
        numbers[:, edge - 6 : edge - 3] = lighter + (lighter - darker) // 5
    path = tiff(tmp_path / "a.tif", numbers)
    assert measure(Measure(str(path), "linear", Grid(WHOLE, 1, 11)), lambda _: None)["halo_percent"] < 1
