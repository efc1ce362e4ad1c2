"""Pictures for the eye and tiles for the zoom: all of them, upright, in tones that another program makes of the same file."""

import json
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import pyvips
from tests.scanning.files import SRGB, WHOLE, Pixels, curv, jpeg, photograph, pixels, png, srgb_light, table_profile, tiff, with_curves

from silverwright.records import Grid
from silverwright.scanning import look as looking
from silverwright.scanning.look import look
from silverwright.scanning.measure import measure
from silverwright.scanning.orders import Look, Measure


def looked(path: Path, **order: Any) -> dict[str, Any]:
    """As the child does it, in its own folder."""
    (path.parent / "temporary").mkdir(exist_ok=True)
    given = {"untagged": "sRGB", "find": False, **order}
    return look(Look(str(path), tiles_folder=str(path.parent / "views"), **given), lambda _: None)


def seen(path: Path) -> Pixels:
    numbers: Pixels = pyvips.Image.new_from_file(str(path)).numpy()
    return numbers


def put_together(folder: Path) -> Pixels:
    """The largest picture of the tiles, joined again."""
    size = ET.parse(folder / "tiles.dzi").getroot()[0]
    width, height = int(size.attrib["Width"]), int(size.attrib["Height"])
    largest = max((one for one in (folder / "tiles_files").iterdir() if one.is_dir()), key=lambda one: int(one.name))
    whole = np.zeros((height, width, 3), "u1")
    for tile in largest.iterdir():
        column, row = (int(one) for one in tile.stem.split("_"))
        numbers = seen(tile)
        left, top = (max(0, place * looking.TILE_PX - looking.OVERLAP_PX) for place in (column, row))
        whole[top : top + numbers.shape[0], left : left + numbers.shape[1]] = numbers
    return whole


def large_photograph() -> Pixels:
    """A real one, 800 x 1200, with 16 bits."""
    numbers: Pixels = np.kron(photograph("coffee").astype("u2") * 257, np.ones((2, 2, 1), "u2"))
    return numbers


def test_pictures_have_their_sizes(tmp_path: Path) -> None:
    large = np.tile(large_photograph(), (3, 3, 1))
    path = tiff(tmp_path / "a.tif", large, compression="lzw")
    looked(path)
    assert seen(tmp_path / "views" / "preview.png").shape[1] in range(1050, looking.PREVIEW_PX + 1)
    assert seen(tmp_path / "views" / "thumb.png").shape == (213, 320, 3)
    assert put_together(tmp_path / "views").shape == large.shape


def test_a_small_picture_is_not_blown_up(tmp_path: Path) -> None:
    looked(png(tmp_path / "a.png", pixels()))
    assert seen(tmp_path / "views" / "preview.png").shape == (90, 120, 3)


@pytest.mark.parametrize("orientation", [1, 2, 3, 6, 8])
def test_tones_and_direction_as_another_program_has_them(tmp_path: Path, orientation: int) -> None:
    """The tiles against the file itself, turned by libvips: what was sRGB is sRGB again."""
    numbers = large_photograph()
    path = tiff(tmp_path / "a.tif", numbers, extratags=[(274, "H", 1, orientation, True)])
    told = looked(path)
    image = pyvips.Image.new_from_array(np.rint(numbers / 257).astype("u1"))
    image.set_type(pyvips.GValue.gint_type, "orientation", orientation)
    upright = image.autorot().numpy().astype(int)
    tiles = put_together(tmp_path / "views").astype(int)
    assert tiles.shape == upright.shape == (told["header"]["height_px"], told["header"]["width_px"], 3)
    assert np.abs(tiles - upright).mean() < 3
    preview = seen(tmp_path / "views" / "preview.png").astype(int)
    assert preview.shape == upright.shape
    assert np.abs(preview - upright).max() <= 1


def test_the_small_picture_is_the_mean_of_the_light(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By hand: means of squares in linear light, then sRGB."""
    monkeypatch.setattr(looking, "AROUND_PX", 600)
    numbers = large_photograph()
    looked(tiff(tmp_path / "a.tif", numbers, rowsperstrip=7))
    by_hand = srgb_light(numbers / 65535).reshape(400, 2, 600, 2, 3).mean(axis=(1, 3))
    again = srgb_light(seen(tmp_path / "views" / "preview.png") / 255)
    assert again.shape == by_hand.shape
    assert np.abs(again - by_hand).max() < 0.005


@pytest.mark.parametrize("each", [2, 3, 5, 7, 8, 13])
def test_squares_of_every_size_keep_an_even_tone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, each: int) -> None:
    """Whatever rows are passed over, nothing gets lighter or darker, and the far edge is no exception."""
    monkeypatch.setattr(looking, "AROUND_PX", 500 / each)
    looked(tiff(tmp_path / "a.tif", np.full((331, 500, 3), 40000, "u2"), rowsperstrip=9))
    preview = seen(tmp_path / "views" / "preview.png")
    assert set(np.unique(preview)) == {round(40000 / 257)}


@pytest.mark.parametrize("icc", [with_curves(SRGB), with_curves(curv(0x0233)), table_profile(srgb_light)], ids=["sRGB", "gamma 2.2", "table"])
def test_profiles_are_respected_for_the_eye(tmp_path: Path, icc: bytes) -> None:
    numbers = large_photograph()
    looked(tiff(tmp_path / "a.tif", numbers, iccprofile=icc), untagged="")
    tiles, preview = (one.astype(int) for one in (put_together(tmp_path / "views"), seen(tmp_path / "views" / "preview.png")))
    light = (numbers / 65535) ** 2.2 if icc == with_curves(curv(0x0233)) else srgb_light(numbers / 65535)
    wanted = np.where(light > 0.0031308, 1.055 * light ** (1 / 2.4) - 0.055, 12.92 * light) * 255
    assert np.abs(preview - wanted).mean() < 1
    assert np.abs(tiles - wanted).mean() < 3


@pytest.mark.parametrize("shape", [(1, 1, 3), (1, 1), (1, 3000), (3000, 1, 3)])
def test_the_smallest_pictures_are_looked_at(tmp_path: Path, shape: tuple[int, ...]) -> None:
    """A single pixel, a single row: too small for patches, and said so."""
    told = looked(tiff(tmp_path / "a.tif", np.full(shape, 30000, "u2")), find=True)
    assert "too small" in told["grid_why"]
    assert told["grid"] is None


def test_a_grey_picture_stays_grey(tmp_path: Path) -> None:
    looked(tiff(tmp_path / "a.tif", large_photograph()[..., 1]))
    assert seen(tmp_path / "views" / "preview.png").ndim == 2 or seen(tmp_path / "views" / "preview.png").shape[2] == 1


def test_pictures_tell_nothing_of_where_they_come_from(tmp_path: Path) -> None:
    looked(tiff(tmp_path / "a.tif", large_photograph(), description="the negative of Anna"))
    for path in (tmp_path / "views").rglob("*.*g"):
        assert b"Anna" not in path.read_bytes()


def test_a_grid_is_looked_for_when_asked(tmp_path: Path) -> None:
    """A plain sheet of twelve patches on light paper: whether it is sure or not, the answer can be kept as JSON and measured."""
    sheet = np.full((500, 1200, 3), 60000, "u2")
    for place in range(12):
        sheet[150:350, 120 + 80 * place : 200 + 80 * place] = round(60000 * 10 ** -(0.15 * place + 0.1))
    path = tiff(tmp_path / "a.tif", sheet)
    told = looked(path, find=True, rows=1, columns=12, untagged="linear")
    assert json.loads(json.dumps(told)) == told | {"grid": json.loads(json.dumps(told["grid"]))}
    assert isinstance(told["grid_sure"], bool)
    assert told["grid"] is not None
    assert (told["grid"]["rows"], told["grid"]["columns"]) == (1, 12)
    grid = Grid(**told["grid"])
    found = measure(Measure(str(path), "linear", grid), lambda _: None)["patches"]
    greys = sorted((one["grey"] for one in found), reverse=True)
    assert greys == pytest.approx([60000 / 65535 * 10 ** -(0.15 * place + 0.1) for place in range(12)], rel=0.01)


@pytest.mark.parametrize("name", ["astronaut", "coffee", "chelsea", "camera", "page", "coins"])
def test_real_photographs_go_through_without_nonsense(tmp_path: Path, name: str) -> None:
    """Photographs hold no step sheet: nothing is claimed to be sure, pictures are made, places are measured."""
    photograph_8 = photograph(name)
    path = jpeg(tmp_path / "a.jpg", photograph_8)
    told = looked(path, find=True)
    assert not told["grid_sure"]
    assert (told["header"]["height_px"], told["header"]["width_px"]) == photograph_8.shape[:2]
    found = measure(Measure(str(path), "sRGB", Grid(WHOLE, 3, 4)), lambda _: None)["patches"]
    by_hand = srgb_light(photograph_8.reshape(*photograph_8.shape[:2], -1) / 255).mean(axis=(0, 1)).mean()
    assert np.mean([one["grey"] for one in found]) == pytest.approx(by_hand, rel=0.5)
