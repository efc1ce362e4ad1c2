"""Every kind of file that cannot be measured is refused in words, and what is worth saying of the others is said."""

import struct
import zlib
from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest
import pyvips
import tifffile
from tests.scanning.files import SRGB, WHOLE, icc, jpeg, pixels, png, tag, tiff, with_curves

from silverwright.errors import ScanRefused
from silverwright.notes import Note
from silverwright.records import Grid
from silverwright.scanning import look as looking
from silverwright.scanning import measure as measuring
from silverwright.scanning.judging import notes, refuse_if_any
from silverwright.scanning.kinds import read_header
from silverwright.scanning.orders import Look, Measure

Make = Callable[[Path], object]


def saved(name: str, content: bytes) -> Make:
    return lambda folder: (folder / name).write_bytes(content)


def chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def png_of(*chunks: bytes, width: int = 20, height: int = 20, bits: int = 16, kind: int = 2, interlaced: int = 0) -> bytes:
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, bits, kind, 0, 0, interlaced))
    channels = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[kind]
    rows = (bytes(1 + -(-width * bits * channels // 8))) * min(height, 50)
    return b"\x89PNG\r\n\x1a\n" + head + b"".join(chunks) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def cut(share: float, **how: object) -> Make:
    def make(folder: Path) -> None:
        path = tiff(folder / "a.tif", pixels(), **how)
        content = path.read_bytes()
        path.write_bytes(content[: int(len(content) * share)])

    return make


def pages(folder: Path) -> None:
    with tifffile.TiffWriter(folder / "a.tif") as file:
        file.write(pixels(), photometric="rgb", metadata=None)
        file.write(pixels(seed=2), photometric="rgb", metadata=None)


def large(folder: Path) -> None:
    path = tiff(folder / "a.tif", pixels(), compression="lzw", rowsperstrip=90)
    tag(tag(tag(path, "ImageWidth", 60000), "ImageLength", 60000), "RowsPerStrip", 60000)


def promising(folder: Path) -> None:
    path = tiff(folder / "a.tif", pixels())
    tag(tag(tag(path, "ImageWidth", 20000), "ImageLength", 20000), "RowsPerStrip", 20000)


def raw(folder: Path) -> None:
    tiff(folder / "a.tif", pixels(), extratags=[(50706, "B", 4, (1, 4, 0, 0), True)])


def small_only(folder: Path) -> None:
    tiff(folder / "a.tif", pixels(), subfiletype=1)


def unknown_packing(folder: Path) -> None:
    tag(tiff(folder / "a.tif", pixels(), compression="lzw"), "Compression", 34712)


def cmyk_jpeg(folder: Path) -> None:
    four = pyvips.Image.black(40, 40, bands=4).copy(interpretation="cmyk")
    four.jpegsave(str(folder / "a.jpg"))


def many_at_once(folder: Path) -> None:
    tiff(folder / "a.tif", pixels(channels=4).astype("f4"), photometric="separated", compression="lzw")


REFUSED: dict[str, tuple[Make, str]] = {
    "empty": (saved("a.tif", b""), "The file is empty"),
    "text": (saved("a.tif", b"Dear scanner, here is my picture."), "no picture that can be read here"),
    "HEIF": (saved("a.heic", b"\0\0\0\x18ftypheic" + bytes(40)), "HEIF"),
    "AVIF": (saved("a.avif", b"\0\0\0\x18ftypavif" + bytes(40)), "AVIF"),
    "WebP": (saved("a.webp", b"RIFF\x10\0\0\0WEBPVP8 " + bytes(40)), "WebP"),
    "GIF": (saved("a.gif", b"GIF89a" + bytes(40)), "GIF"),
    "BMP": (saved("a.bmp", b"BM" + bytes(60)), "BMP"),
    "PDF": (saved("a.pdf", b"%PDF-1.7\n"), "PDF document"),
    "JPEG XL": (saved("a.jxl", b"\0\0\0\x0cJXL \r\n\x87\n"), "JPEG XL"),
    "JPEG 2000": (saved("a.jp2", b"\0\0\0\x0cjP  \r\n\x87\n"), "JPEG 2000"),
    "layers": (saved("a.tif", b"8BPS\0\1" + bytes(40)), "in layers"),
    "archive": (saved("a.tif", b"PK\x03\x04" + bytes(40)), "ZIP archive"),
    "raw, its own kind": (saved("a.raf", b"FUJIFILMCCD-RAW " + bytes(40)), "camera raw file"),
    "raw, by its tag": (raw, "camera raw file"),
    "raw, a small picture only": (small_only, "camera raw file"),
    "TIFF, nothing but its first bytes": (saved("a.tif", b"II*\0\x08\0\0\0"), "damaged"),
    "TIFF, cut in the pixels": (cut(0.6), "cut off"),
    "TIFF, LZW, cut in the pixels": (cut(0.6, compression="lzw"), "cut off"),
    "PNG, cut in its head": (saved("a.png", png_of()[:20]), "damaged"),
    "JPEG, nothing but its first bytes": (saved("a.jpg", b"\xff\xd8\xff\xe0"), "damaged"),
    "a gigapixel and more": (large, "60000 × 60000 pixels; read is up to one gigapixel"),
    "promises more than it holds": (promising, "cannot hold them"),
    "PNG, a bomb": (saved("a.png", png_of(width=200_000, height=200_000)), "read is up to one gigapixel"),
    "PNG, more than Deflate can hold": (saved("a.png", png_of(width=20_000, height=20_000)), "cannot hold them"),
    "PNG, interlaced and large": (
        saved("a.png", png_of(chunk(b"tEXt", bytes(300_000)), width=9000, height=9000, interlaced=1)),
        "interlaced or progressive",
    ),
    "PNG, palette": (saved("a.png", png_of(chunk(b"PLTE", bytes(768)), bits=8, kind=3)), "palette"),
    "PNG, one bit": (saved("a.png", png_of(bits=1, kind=0)), "1 bit for each number"),
    "PNG, several pictures": (saved("a.png", png_of(chunk(b"acTL", struct.pack(">II", 7, 0)))), "7 pictures"),
    "CMYK": (lambda folder: tiff(folder / "a.tif", pixels(channels=4), photometric="separated"), "printing press"),
    "CMYK, JPEG": (cmyk_jpeg, "printing press"),
    "palette": (
        lambda folder: tiff(folder / "a.tif", pixels(channels=1, kind="u1"), photometric="palette", colormap=np.zeros((3, 256), "u2")),
        "palette",
    ),
    "luminance and hue": (lambda folder: tiff(folder / "a.tif", pixels(kind="u1"), photometric="ycbcr"), "What the numbers of this file mean"),
    "Lab": (lambda folder: tiff(folder / "a.tif", pixels(), photometric="cielab"), "Lab"),
    "colour filter": (lambda folder: tiff(folder / "a.tif", pixels(channels=1), photometric="cfa"), "camera raw file"),
    "floating point": (lambda folder: tiff(folder / "a.tif", pixels().astype("f4")), "floating-point numbers of 32 bits"),
    "signed": (lambda folder: tiff(folder / "a.tif", pixels().astype("i2")), "may be negative"),
    "32 bits": (lambda folder: tiff(folder / "a.tif", pixels().astype("u4")), "32 bits for each number"),
    "one bit": (lambda folder: tiff(folder / "a.tif", pixels(channels=1) > 9), "1 bit for each number"),
    "two pictures": (pages, "holds 2 pictures; which one is meant"),
    "packed strangely": (unknown_packing, "packed in a way that is not read here"),
    "a body of layers": (
        lambda folder: tiff(folder / "a.tif", np.zeros((16, 16, 16), "u2"), photometric="minisblack", volumetric=True, tile=(16, 16, 16)),
        "many layers",
    ),
    "no profile": (lambda folder: tiff(folder / "a.tif", pixels()), "carries no profile, so it does not say"),
    "a link for a profile": (lambda folder: tiff(folder / "a.tif", pixels(), iccprofile=icc(kind=b"link")), "of a kind that describes no picture"),
    "a profile in shreds": (lambda folder: tiff(folder / "a.tif", pixels(), iccprofile=b"shreds" * 40), "it is damaged"),
}


def refusal(folder: Path, untagged: str = "") -> ScanRefused:
    (path,) = folder.iterdir()
    with pytest.raises(ScanRefused) as refused:
        refuse_if_any(read_header(path), untagged)
    return refused.value


@pytest.mark.parametrize("name", REFUSED)
def test_refused_in_words(tmp_path: Path, name: str) -> None:
    make, words = REFUSED[name]
    make(tmp_path)
    told = refusal(tmp_path)
    assert words in str(told)
    assert all(fault.problem.endswith(".") and fault.problem[0].isupper() for fault in told.faults)


@pytest.mark.parametrize(
    "name", ["a gigapixel and more", "PNG, a bomb", "promises more than it holds", "floating point", "two pictures", "no profile"]
)
def test_refused_before_a_pixel_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """Both orders judge the header first."""
    make, words = REFUSED[name]
    make(tmp_path)
    (path,) = tmp_path.iterdir()
    for reader in (looking, measuring):
        monkeypatch.setattr(reader, "bands", lambda *_: pytest.fail("pixels were read"))
    with pytest.raises(ScanRefused, match=words):
        measuring.measure(Measure(str(path), "", Grid(WHOLE, 1, 1)), lambda _: None)
    with pytest.raises(ScanRefused, match=words):
        looking.look(Look(str(path), "", str(tmp_path / "views")), lambda _: None)
    assert not (tmp_path / "views").exists()


def test_everything_at_once(tmp_path: Path) -> None:
    many_at_once(tmp_path)
    told = refusal(tmp_path)
    assert len(told.faults) == 2
    assert "printing press" in str(told)
    assert "floating-point" in str(told)


def test_only_the_missing_profile_is_asked_for(tmp_path: Path) -> None:
    path = tiff(tmp_path / "a.tif", pixels())
    told = refusal(tmp_path)
    assert [fault.field for fault in told.faults] == ["untagged"]
    assert told.header["has_profile"] is False
    refuse_if_any(read_header(path), "linear")


def said(path: Path, untagged: str = "linear") -> dict[str, str]:
    header = read_header(path)
    refuse_if_any(header, untagged)
    return {one["note"]: one["sentence"] for one in notes(header, untagged)}


def test_a_good_file_says_only_how_it_was_read(tmp_path: Path) -> None:
    assert set(said(tiff(tmp_path / "a.tif", pixels(), iccprofile=with_curves(SRGB), resolution=(1200, 1200)))) == {Note.PROFILE_TAKEN}
    assert set(said(tiff(tmp_path / "b.tif", pixels()))) == {Note.NO_PROFILE}


def test_what_is_worth_saying(tmp_path: Path) -> None:
    eight = said(tiff(tmp_path / "8.tif", pixels(kind="u1")))
    assert "256 steps" in eight[Note.FILE_EIGHT_BITS]
    assert {Note.FILE_LOSSY, Note.FILE_EIGHT_BITS} <= set(said(jpeg(tmp_path / "a.jpg", pixels(kind="u1"))))
    assert Note.ALPHA_IGNORED in said(tiff(tmp_path / "a.tif", pixels(channels=4), extrasamples=["unassalpha"]))
    assert Note.ALPHA_IGNORED in said(png(tmp_path / "a.png", pixels(channels=4)))
    assert "turned a quarter clockwise" in said(turned(tmp_path / "6.tif", 6))[Note.TURNED_BY_TAG]
    assert "mirrored" in said(turned(tmp_path / "2.tif", 2))[Note.TURNED_BY_TAG]
    assert "describes no picture" in said(tiff(tmp_path / "l.tif", pixels(), iccprofile=icc(kind=b"link")))[Note.PROFILE_NOT_USED]


def turned(path: Path, orientation: int) -> Path:
    return tiff(path, pixels(), extratags=[(274, "H", 1, orientation, True)])


@pytest.mark.parametrize("resolution", [(1e6, 1e6), (1, 1), (300, 1e7)])
def test_dots_per_inch_that_no_scanner_has(tmp_path: Path, resolution: tuple[float, float]) -> None:
    path = tiff(tmp_path / "a.tif", pixels(), resolution=resolution)
    assert Note.DPI_IGNORED in said(path)
    assert read_header(path).as_json()["dpi"] is None


def test_dots_per_centimetre(tmp_path: Path) -> None:
    assert read_header(tiff(tmp_path / "a.tif", pixels(), resolution=(472.4, 472.4), resolutionunit="CENTIMETER")).as_json()["dpi"] == 1200


def test_a_file_that_names_no_dots_per_inch_is_not_given_any(tmp_path: Path) -> None:
    (tmp_path / "bare.png").write_bytes(png_of())
    (tmp_path / "scanned.png").write_bytes(png_of(chunk(b"pHYs", struct.pack(">IIB", 11811, 11811, 1))))  # PNG 11.3.5.3: pixels per metre
    assert [read_header(tmp_path / name).as_json()["dpi"] for name in ("bare.png", "scanned.png")] == [None, 300]


def test_what_the_book_keeps(tmp_path: Path) -> None:
    kept = read_header(turned(tmp_path / "a.tif", 6)).as_json()
    assert (kept["width_px"], kept["height_px"], kept["bits"], kept["channels"]) == (90, 120, 16, 3)
    assert (kept["kind"], kept["packed"], kept["has_alpha"], kept["pages"]) == ("TIFF", "", False, 1)


def test_a_png_that_says_srgb_needs_no_question(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(png_of(chunk(b"sRGB", b"\0")))
    assert Note.PROFILE_TAKEN in said(tmp_path / "a.png", "")


def test_small_pictures_beside_the_whole_one_do_not_count(tmp_path: Path) -> None:
    with tifffile.TiffWriter(tmp_path / "a.tif") as file:
        file.write(pixels(20, 20), photometric="rgb", subfiletype=1, metadata=None)
        file.write(pixels(), photometric="rgb", metadata=None)
    header = read_header(tmp_path / "a.tif")
    assert (header.page, header.pages, header.width_px) == (1, 1, 120)


def test_opencv_reads_what_we_refuse_as_a_palette(tmp_path: Path) -> None:
    """The palette of the test is a palette for others, too."""
    make, _ = REFUSED["palette"]
    make(tmp_path)
    read = cv2.imread(str(tmp_path / "a.tif"), cv2.IMREAD_UNCHANGED)
    assert read is not None
    assert not read.any()
