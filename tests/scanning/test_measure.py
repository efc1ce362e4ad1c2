"""Patches of a grid and places of a picture: the same signals from every kind of file, turned or not."""

import itertools
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import pyvips
import tifffile
from tests.scanning.files import SRGB, WHOLE, Pixels, jpeg, photograph, pixels, png, srgb_light, steps, tiff, with_curves

from silverwright.densitometry.patch import patch_signal
from silverwright.errors import ScanRefused
from silverwright.records import Grid
from silverwright.scanning import bands as ways
from silverwright.scanning import measure as measuring
from silverwright.scanning.header import stored_place
from silverwright.scanning.kinds import read_header
from silverwright.scanning.measure import measure
from silverwright.scanning.orders import Measure, Place, as_line, from_line

SHARES = tuple(float(one) for one in np.round(10 ** -np.linspace(0.1, 1.9, 7), 5))
GRID = Grid(WHOLE, 1, len(SHARES))


def asked(path: Path, **order: Any) -> dict[str, Any]:
    return measure(Measure(str(path), order.pop("untagged", "linear"), **{"grid": GRID, **order}), lambda _: None)


def greys(path: Path, **order: Any) -> list[float]:
    return [one["grey"] for one in asked(path, **order)["patches"]]


@pytest.mark.parametrize("how", [{}, {"byteorder": ">"}, {"compression": "lzw", "predictor": True}, {"tile": (32, 32)}, {"compression": "deflate"}])
def test_patches_give_the_light_that_was_put_in(tmp_path: Path, how: dict[str, Any]) -> None:
    path = tiff(tmp_path / "a.tif", steps(SHARES), **how)
    assert greys(path) == pytest.approx(SHARES, rel=2e-3)


def test_every_way_gives_the_same_figures(tmp_path: Path) -> None:
    """To the last digit, not only to three: in place, unpacked piece by piece, streamed, and as PNG."""
    numbers = steps(SHARES)
    ways = [
        tiff(tmp_path / "a.tif", numbers),
        tiff(tmp_path / "b.tif", numbers, byteorder=">", rowsperstrip=3),
        tiff(tmp_path / "c.tif", numbers, compression="lzw", predictor=True, rowsperstrip=8),
        tiff(tmp_path / "d.tif", np.moveaxis(numbers, 2, 0), compression="deflate", planarconfig="separate"),
        png(tmp_path / "e.png", numbers),
    ]
    first, *others = [asked(path)["patches"] for path in ways]
    assert others == [first] * 4


def test_beside_the_whole_picture_in_numpy(tmp_path: Path) -> None:
    """A second route: tifffile reads everything, the middle half is cut out by hand."""
    path = tiff(tmp_path / "a.tif", steps(SHARES))
    whole = tifffile.imread(path).astype(np.float64) / 65535
    for place, one in enumerate(asked(path)["patches"]):
        middle = whole[20:60, place * 40 + 10 : place * 40 + 30].reshape(-1, 3)
        by_hand = patch_signal(middle)
        assert one["pixels"] == len(middle)
        assert [one["red"], one["green"], one["blue"]] == pytest.approx(by_hand.channel_signals, rel=1e-6)
        assert one["sd"] == pytest.approx(by_hand.sd, rel=1e-4)
        assert one["red"] == pytest.approx(np.sort(middle[:, 0])[80:-80].mean(), rel=1e-6)


def test_the_profile_is_taken_off(tmp_path: Path) -> None:
    numbers = steps(SHARES, noise=0.0)
    found = greys(tiff(tmp_path / "a.tif", numbers, iccprofile=with_curves(SRGB)), untagged="")
    assert found == pytest.approx(srgb_light(np.array(SHARES)), rel=1e-3)
    assert greys(tiff(tmp_path / "b.tif", numbers), untagged="sRGB") == pytest.approx(found, rel=1e-3)


def test_grey_files_have_no_colours(tmp_path: Path) -> None:
    (first, *_) = asked(tiff(tmp_path / "a.tif", steps(SHARES)[..., 0]))["patches"]
    assert (first["red"], first["green"], first["blue"]) == (None, None, None)
    assert first["grey"] == pytest.approx(SHARES[0], rel=2e-3)


def test_eight_bits_and_jpeg_are_near(tmp_path: Path) -> None:
    eight = steps(SHARES, kind="u1")
    found = asked(tiff(tmp_path / "a.tif", eight))
    assert found["bits"] == 8
    assert [one["grey"] for one in found["patches"]] == pytest.approx(SHARES, abs=0.6 / 255)
    assert greys(jpeg(tmp_path / "a.jpg", eight)) == pytest.approx(SHARES, rel=0.1)


def test_clipped_ends_are_named(tmp_path: Path) -> None:
    found = asked(tiff(tmp_path / "a.tif", steps((1.2, 0.5, 0.0))), grid=Grid(WHOLE, 1, 3))["patches"]
    assert [one["clipped"] for one in found] == ["white", "", "black"]


def upright(numbers: Pixels, orientation: int) -> Pixels:
    """How it is to be seen, by another program."""
    image = pyvips.Image.new_from_array(numbers).copy(interpretation="rgb16")
    image.set_type(pyvips.GValue.gint_type, "orientation", orientation)
    turned: Pixels = image.autorot().numpy()
    return turned


@pytest.mark.parametrize("orientation", range(1, 9))
def test_turned_files_are_counted_as_they_are_seen(tmp_path: Path, orientation: int) -> None:
    """The same grid on a file that is turned by its tag, and on one that another program has turned."""
    numbers = pixels(64, 96)
    skewed = Grid(((0.1, 0.12), (0.85, 0.08), (0.9, 0.8), (0.07, 0.9)), 2, 3)
    tagged = asked(tiff(tmp_path / "a.tif", numbers, extratags=[(274, "H", 1, orientation, True)]), grid=skewed)
    plain = asked(tiff(tmp_path / "b.tif", upright(numbers, orientation)), grid=skewed)
    for ours, theirs in zip(tagged["patches"], plain["patches"], strict=True):
        assert abs(ours["pixels"] - theirs["pixels"]) <= 2
        assert ours["grey"] == pytest.approx(theirs["grey"], rel=0.02)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_places_lead_back_to_the_stored_picture(orientation: int) -> None:
    numbers = np.arange(12 * 20, dtype="u2").reshape(12, 20, 1).repeat(3, axis=2)
    seen = upright(numbers, orientation)
    for row, column in itertools.product(range(seen.shape[0]), range(seen.shape[1])):
        x, y = stored_place(orientation, (column + 0.5) / seen.shape[1], (row + 0.5) / seen.shape[0])
        assert numbers[int(y * 12), int(x * 20), 0] == seen[row, column, 0]


def test_a_skewed_grid_takes_only_its_own_pixels(tmp_path: Path) -> None:
    """Pixels within four corners, counted one by one."""
    numbers = pixels(100, 100)
    corners = ((0.31, 0.2), (0.83, 0.33), (0.7, 0.85), (0.18, 0.72))
    (found,) = asked(tiff(tmp_path / "a.tif", numbers), grid=Grid(corners, 1, 1))["patches"]
    middle = np.mean(corners, axis=0)
    half = middle + (np.array(corners) - middle) / 2  # a parallelogram: the middle half by hand
    y, x = (np.mgrid[0:100, 0:100] + 0.5) / 100
    inside = np.ones((100, 100), bool)
    for (x0, y0), (x1, y1) in zip(half, np.roll(half, -1, axis=0), strict=True):
        inside &= (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) > 0
    assert found["pixels"] == inside.sum()
    assert found["grey"] == pytest.approx(patch_signal(numbers[inside] / 65535).grey, rel=1e-6)


def test_places_are_taken_whole(tmp_path: Path) -> None:
    numbers = pixels(100, 200)
    found = asked(tiff(tmp_path / "a.tif", numbers), grid=None, places=(Place(0.5, 0.5, 0.2, 0.4), Place(0.99, 0.01, 0.1, 0.3)))["patches"]
    assert [one["pixels"] for one in found] == [40 * 40, 12 * 16]
    assert found[0]["grey"] == pytest.approx(patch_signal(numbers[30:70, 80:120].reshape(-1, 3) / 65535).grey, rel=1e-6)


def test_of_a_large_patch_enough_is_taken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(measuring, "ENOUGH_PIXELS", 2000)
    path = tiff(tmp_path / "a.tif", steps((0.5,), height=600, patch_px=300))
    (found,) = asked(path, grid=Grid(WHOLE, 1, 1))["patches"]
    assert 9000 <= found["pixels"] < 300 * 150
    assert found["grey"] == pytest.approx(0.5, rel=1e-3)


@pytest.mark.parametrize("rows_at_once", [1, 7, 64])
def test_what_is_taken_of_a_large_patch_does_not_hang_on_how_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rows_at_once: int) -> None:
    """Every third row, counted from the patch's own first: by hand, and whatever rows come together."""
    monkeypatch.setattr(measuring, "ENOUGH_PIXELS", 10_000)
    monkeypatch.setattr(ways, "BAND_BYTES", 300 * 3 * 2 * rows_at_once)
    numbers = pixels(400, 300)
    (found,) = asked(tiff(tmp_path / "a.tif", numbers), grid=Grid(WHOLE, 1, 1))["patches"]
    taken = numbers[100:300:3, 75:225].reshape(-1, 3)
    assert found["pixels"] == len(taken)
    assert found["grey"] == pytest.approx(patch_signal(taken / 65535).grey, rel=1e-6)


def test_what_is_too_small_or_nowhere_is_refused(tmp_path: Path) -> None:
    path = tiff(tmp_path / "a.tif", pixels(20, 20))
    with pytest.raises(ScanRefused, match=r"Patch 1 holds \d+ pixels.*Patch 400 holds"):
        asked(path, grid=Grid(WHOLE, 20, 20))
    with pytest.raises(ScanRefused, match="Patch 1 holds 0 pixels"):
        asked(path, grid=None, places=(Place(3, 3, 0.1, 0.1),))
    with pytest.raises(ScanRefused, match="Nothing was marked"):
        asked(path, grid=None)
    with pytest.raises(ScanRefused, match="enclose no field"):
        asked(path, grid=Grid(((0, 0), (1, 1), (1, 0), (0, 1)), 2, 2))


def test_orders_travel_unchanged() -> None:
    for order in (Measure("a", "", GRID), Measure("a", "sRGB", None, (Place(0.1, 0.2, 0.3, 0.4),))):
        assert from_line(as_line(order)) == order


def test_a_real_photograph(tmp_path: Path) -> None:
    """Light of a photograph lies between black and white, and differs from place to place."""
    path = tiff(tmp_path / "a.tif", photograph("astronaut"))
    found = asked(path, untagged="sRGB", grid=Grid(WHOLE, 6, 6))["patches"]
    assert len(found) == 36
    assert all(0 <= one["grey"] < 1 and np.isfinite(one["sd"]) for one in found)
    brightest = max(found, key=lambda one: one["grey"])
    assert brightest["grey"] > 3 * min(one["grey"] for one in found)
    assert read_header(path).as_json()["width_px"] == 512
