"""Three readers agree, and whatever way a file is packed and read, the same numbers come out."""

from pathlib import Path
from typing import Any

import imagecodecs
import numpy as np
import pytest
import pyvips
import tifffile
from tests.scanning.files import SRGB, curv, icc, jpeg, pixels, png, read_by_opencv, srgb_light, table_profile, tag, tiff, with_curves

from silverwright.scanning import bands as ways
from silverwright.scanning.bands import bands, merged, streamed
from silverwright.scanning.kinds import read_header
from silverwright.scanning.light import to_light

PACKED: dict[str, dict[str, Any]] = {
    "plain": {},
    "plain, strips of 7 rows": {"rowsperstrip": 7},
    "plain, big-endian": {"byteorder": ">"},
    "plain, tiles": {"tile": (32, 48)},
    "plain, channels apart": {"planarconfig": "separate"},
    "plain, BigTIFF": {"bigtiff": True},
    "LZW": {"compression": "lzw", "rowsperstrip": 7},
    "LZW with predictor": {"compression": "lzw", "predictor": True, "rowsperstrip": 16},
    "LZW, big-endian, predictor": {"compression": "lzw", "predictor": True, "byteorder": ">", "rowsperstrip": 9},
    "LZW, tiles": {"compression": "lzw", "tile": (32, 48)},
    "LZW, channels apart": {"compression": "lzw", "planarconfig": "separate", "rowsperstrip": 11},
    "Deflate": {"compression": "deflate", "rowsperstrip": 7},
    "Deflate with predictor, tiles": {"compression": "deflate", "predictor": True, "tile": (16, 16)},
    "PackBits": {"compression": "packbits", "rowsperstrip": 7},
}


def whole(path: Path) -> np.ndarray[Any, Any]:
    """All rows, joined."""
    header = read_header(path)
    return np.concatenate([band.copy() for _, band in bands(path, header, [(0, header.height_px)])])


@pytest.mark.parametrize("kind", ["u1", "u2"])
@pytest.mark.parametrize("how", PACKED, ids=str)
def test_every_packing_gives_the_pixels_that_went_in(tmp_path: Path, how: str, kind: str) -> None:
    numbers = pixels(kind=kind)
    path_numbers = np.moveaxis(numbers, 2, 0) if PACKED[how].get("planarconfig") else numbers
    path = tiff(tmp_path / "a.tif", path_numbers, **PACKED[how])
    np.testing.assert_array_equal(whole(path), numbers)


@pytest.mark.parametrize("how", PACKED, ids=str)
def test_both_ways_of_reading_agree(tmp_path: Path, how: str) -> None:
    """Piece by piece, and streamed from the top."""
    numbers = pixels()
    path = tiff(tmp_path / "a.tif", np.moveaxis(numbers, 2, 0) if PACKED[how].get("planarconfig") else numbers, **PACKED[how])
    header = read_header(path)
    (_, band), *_ = streamed(path, header, [(0, header.height_px)])
    np.testing.assert_array_equal(band, whole(path))


@pytest.mark.parametrize("how", ["plain", "plain, big-endian", "LZW with predictor", "plain, channels apart", "LZW, tiles"])
def test_only_what_is_wanted_is_read(tmp_path: Path, how: str) -> None:
    numbers = pixels()
    path = tiff(tmp_path / "a.tif", np.moveaxis(numbers, 2, 0) if PACKED[how].get("planarconfig") else numbers, **PACKED[how])
    met = 0
    for first, band in bands(path, read_header(path), [(60, 63), (20, 25), (24, 30)]):
        np.testing.assert_array_equal(band, numbers[first : first + len(band)])
        met += len(band)
    assert met < len(numbers)


def test_damage_where_nobody_looks_does_no_harm(tmp_path: Path) -> None:
    """Strips without wanted rows are not even unpacked."""
    path = tiff(tmp_path / "a.tif", pixels(), compression="lzw", rowsperstrip=10)
    with tifffile.TiffFile(path) as file:
        start = file.pages[0].dataoffsets[0]
    content = bytearray(path.read_bytes())
    content[start : start + 40] = b"\xff" * 40
    path.write_bytes(content)
    (first, band), *_ = bands(path, read_header(path), [(40, 50)])
    np.testing.assert_array_equal(band, pixels()[first : first + 10])


@pytest.mark.parametrize(
    "packing", [{}, {"byteorder": ">"}, {"tile": (32, 48)}, {"compression": "lzw", "predictor": True}, {"compression": "deflate", "tile": (32, 48)}]
)
def test_three_readers_agree_on_a_tiff(tmp_path: Path, packing: dict[str, Any]) -> None:
    """tifffile, OpenCV (blue first) and libvips against ours: the same whole numbers."""
    path = tiff(tmp_path / "a.tif", pixels(), **packing)
    ours = whole(path)
    assert ours.dtype.kind == "u"
    assert ours.dtype.itemsize == 2
    np.testing.assert_array_equal(ours, tifffile.imread(path))
    np.testing.assert_array_equal(ours, read_by_opencv(path))
    np.testing.assert_array_equal(ours, pyvips.Image.new_from_file(str(path)).numpy())


def test_three_readers_agree_on_a_png(tmp_path: Path) -> None:
    """OpenCV, imagecodecs and libvips against ours: sixteen bits stay sixteen."""
    path = png(tmp_path / "a.png", pixels())
    ours = whole(path)
    assert ours.dtype.itemsize == 2
    np.testing.assert_array_equal(ours, read_by_opencv(path))
    np.testing.assert_array_equal(ours, imagecodecs.imread(path))
    np.testing.assert_array_equal(ours, pyvips.Image.new_from_file(str(path)).numpy())


@pytest.mark.parametrize("channels", [1, 3])
@pytest.mark.parametrize("kind", ["u1", "u2"])
def test_png_gives_the_pixels_that_went_in(tmp_path: Path, kind: str, channels: int) -> None:
    numbers = pixels(kind=kind, channels=channels)
    np.testing.assert_array_equal(whole(png(tmp_path / "a.png", numbers)), numbers.reshape(90, 120, channels))


def test_jpeg_as_another_reader_sees_it(tmp_path: Path) -> None:
    smooth = np.tile(np.linspace(0, 255, 120).astype("u1")[None, :, None], (90, 1, 3))
    path = jpeg(tmp_path / "a.jpg", smooth)
    assert np.abs(whole(path).astype(int) - read_by_opencv(path).astype(int)).max() <= 2


def test_a_jpeg_inside_a_tiff_as_another_reader_sees_it(tmp_path: Path) -> None:
    """It holds luminance and hue, which become red, green and blue again; edges of colours are soft, their middles are not."""
    flat = np.kron(np.random.default_rng(1).integers(30, 220, (6, 8, 3)), np.ones((16, 16, 1))).astype("u1")
    pyvips.Image.new_from_array(flat).copy(interpretation="srgb").tiffsave(str(tmp_path / "a.tif"), compression="jpeg", Q=90)
    found = whole(tmp_path / "a.tif").astype(int)
    assert np.abs(found - read_by_opencv(tmp_path / "a.tif").astype(int)).max() <= 2
    assert np.abs(found - flat)[8::16, 8::16].max() <= 8


@pytest.mark.parametrize("packing", [{}, {"compression": "lzw"}])
def test_white_is_zero_is_turned_over(tmp_path: Path, packing: dict[str, Any]) -> None:
    numbers = pixels(channels=1)
    path = tiff(tmp_path / "a.tif", numbers, photometric="miniswhite", **packing)
    np.testing.assert_array_equal(whole(path)[..., 0], 65535 - numbers)
    (_, band), *_ = streamed(path, read_header(path), [(0, 90)])
    np.testing.assert_array_equal(band, whole(path))


@pytest.mark.parametrize("packing", [{}, {"compression": "lzw"}, {"compression": "deflate", "tile": (16, 16)}])
def test_a_fourth_channel_is_left_out(tmp_path: Path, packing: dict[str, Any]) -> None:
    numbers = pixels(channels=4)
    path = tiff(tmp_path / "a.tif", numbers, extrasamples=["unspecified"], **packing)
    np.testing.assert_array_equal(whole(path), numbers[..., :3])


def test_a_picture_of_one_large_piece_is_streamed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    numbers = pixels()
    path = tiff(tmp_path / "a.tif", numbers, compression="lzw", rowsperstrip=90)
    monkeypatch.setattr(ways, "MOST_PIECE_BYTES", 1000)
    np.testing.assert_array_equal(whole(path), numbers)


def test_a_strip_of_sixty_megabytes(tmp_path: Path) -> None:
    """Some programs pack a whole picture as one strip."""
    numbers = np.tile(pixels(100, 100), (32, 32, 1))
    path = tiff(tmp_path / "a.tif", numbers, compression="lzw", predictor=True, rowsperstrip=3200)
    (first, band), *_ = bands(path, read_header(path), [(3000, 3010)])
    np.testing.assert_array_equal(band, numbers[first : first + len(band)])


def test_bands_are_small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tiff(tmp_path / "a.tif", pixels())
    monkeypatch.setattr(ways, "BAND_BYTES", 120 * 6 * 4)
    assert {len(band) for _, band in bands(path, read_header(path), [(0, 90)])} == {4, 2}


def test_runs_of_rows_are_joined() -> None:
    assert merged([(8, 9), (1, 4), (3, 6), (6, 7), (5, 5)]) == [(1, 7), (8, 9)]


def test_srgb_numbers_become_the_light_of_the_standard(tmp_path: Path) -> None:
    """IEC 61966-2-1: 33374, 55745, 60366 of 65535 are 14595, 45429, 54385 in light; ± 2."""
    path = tiff(tmp_path / "a.tif", np.full((4, 4, 3), (33374, 55745, 60366), "u2"), iccprofile=with_curves(SRGB))
    light = to_light(read_header(path), "")(whole(path).reshape(-1, 3))
    np.testing.assert_allclose(light * 65535, np.tile((14595, 45429, 54385), (16, 1)), atol=2)


@pytest.mark.parametrize("kind", ["u1", "u2"])
def test_each_channel_has_its_own_curve(tmp_path: Path, kind: str) -> None:
    """Red to the power of 1, green of 2, blue of 3."""
    numbers = pixels(20, 20, kind=kind)
    tags = {b"rTRC": curv(0x0100), b"gTRC": curv(0x0200), b"bTRC": curv(0x0300)}
    path = tiff(tmp_path / "a.tif", numbers, iccprofile=icc(tags=tags))
    light = to_light(read_header(path), "")(whole(path).reshape(-1, 3))
    np.testing.assert_allclose(light, (numbers.reshape(-1, 3) / np.iinfo(kind).max) ** [1, 2, 3], atol=1e-6)


def test_a_table_of_colours_leads_to_the_same_light(tmp_path: Path) -> None:
    """A table built of sRGB's own curve and colours gives what the curve gives, within the table's 16 bits."""
    numbers = pixels(20, 20)
    path = tiff(tmp_path / "a.tif", numbers, iccprofile=table_profile(srgb_light))
    header = read_header(path)
    light = to_light(header, "")(whole(path).reshape(-1, 3))
    np.testing.assert_allclose(light, srgb_light(numbers.reshape(-1, 3) / 65535), atol=6e-4)
    assert header.profile() is not None


@pytest.mark.parametrize(("untagged", "light"), [("linear", 0.5), ("gamma 2.2", 0.5**2.2), ("sRGB", float(srgb_light(np.array(0.5))))])
@pytest.mark.parametrize("kind", ["u1", "u2"])
def test_what_was_said_of_a_file_without_a_profile(tmp_path: Path, untagged: str, light: float, kind: str) -> None:
    half = np.iinfo(kind).max // 2
    path = tiff(tmp_path / "a.tif", np.full((4, 4), half, kind))
    assert to_light(read_header(path), untagged)(whole(path).reshape(-1, 1)) == pytest.approx(light, rel=0.01 if kind == "u1" else 1e-4)


def test_a_broken_table_is_refused_in_words(tmp_path: Path) -> None:
    path = tiff(tmp_path / "a.tif", pixels(), iccprofile=icc(tags={b"A2B0": b"mft2" + bytes(60)}))
    with pytest.raises(Exception, match="table of colours that cannot be read"):
        to_light(read_header(path), "")(whole(path).reshape(-1, 3))


def test_orientation_tag_is_no_number_of_the_pixels(tmp_path: Path) -> None:
    path = tag(tiff(tmp_path / "a.tif", pixels(), extratags=[(274, "H", 1, 1, True)]), "Orientation", 6)
    np.testing.assert_array_equal(whole(path), pixels())
