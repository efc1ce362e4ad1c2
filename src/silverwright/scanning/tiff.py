"""TIFF: what it says of itself, and where its pieces (strips or tiles) lie."""

from dataclasses import dataclass
from math import ceil, isfinite, prod
from pathlib import Path
from typing import Any, Final

import tifffile

from silverwright.scanning.header import TURNS, Colour, Header, refused

MOST_PAGES: Final = 64  # our judgement: a file with more pictures is a document, and refused all the same
NOT_WHOLE: Final = 0b101  # source: TIFF 6.0, NewSubfileType: a smaller version, or a mask
INCH_UNIT, CENTIMETRE_UNIT = 2, 3  # source: TIFF 6.0, ResolutionUnit
CENTIMETRES: Final = 2.54  # arithmetic: in an inch
FEWEST_DPI, MOST_DPI = 20, 12800  # our judgement: no scanner works outside
# What numbers mean, source: TIFF 6.0, PhotometricInterpretation, and TIFF/EP.
WHITE_IS_ZERO, BLACK_IS_ZERO, RGB, PALETTE, SEPARATED, LUMINANCE = 0, 1, 2, 3, 5, 6
COLOURS: Final[dict[int, Colour]] = {
    WHITE_IS_ZERO: "grey",
    BLACK_IS_ZERO: "grey",
    RGB: "RGB",
    PALETTE: "palette",
    SEPARATED: "CMYK",
    LUMINANCE: "RGB",
}
LAB: Final = (8, 9, 10)  # source: TIFF 6.0, CIELab, and its supplements
RAW: Final = (32803, 34892)  # source: TIFF/EP, colour filter array and linear raw
RAW_TAG: Final = 50706  # source: TIFF/EP's successor: the version tag of camera raw files
# How pieces are packed, source: TIFF 6.0, Compression, and its supplements.
PLAIN, LZW, JPEG, DEFLATE, PACKED_BITS, OLD_DEFLATE = 1, 5, 7, 8, 32773, 32946
PACKINGS: Final = {PLAIN: "", LZW: "LZW", JPEG: "JPEG", DEFLATE: "Deflate", OLD_DEFLATE: "Deflate", PACKED_BITS: "PackBits"}
UNSIGNED, SIGNED, FLOATING = 1, 2, 3  # source: TIFF 6.0, SampleFormat
APART: Final = 2  # source: TIFF 6.0, PlanarConfiguration: each channel by itself


@dataclass(frozen=True, slots=True)
class Pieces:
    """Where the strips or tiles of a picture lie in the file, row by row of pieces; one set for each channel where they stand apart."""

    starts: tuple[int, ...]
    lengths: tuple[int, ...]
    piece_width_px: int
    piece_height_px: int
    apart: bool
    order: str  # "<" or ">", as bytes stand
    compression: int
    predictor: int
    fill_order: int
    photometric: int


def tiff_header(path: Path) -> Header:
    """What a TIFF says of itself."""
    with tifffile.TiffFile(path) as file:
        if RAW_TAG in file.pages[0].tags:  # type: ignore[union-attr]
            raise refused("This is a camera raw file. Develop it to TIFF with 16 bits, as it is and without any look, and send that.")
        whole = _whole_pages(file)
        if not whole:
            raise refused("This TIFF holds no whole picture, only a small one for lists. Is it a camera raw file? Save it as TIFF with 16 bits.")
        return _header(path, file.pages[whole[0]], whole)


def pieces_of(path: Path, page: int) -> Pieces:
    """Where the pieces of one picture lie."""
    with tifffile.TiffFile(path) as file:
        found: Any = file.pages[page]
        return Pieces(
            starts=tuple(found.dataoffsets),
            lengths=tuple(found.databytecounts),
            piece_width_px=found.tilewidth if found.is_tiled else found.imagewidth,
            piece_height_px=found.tilelength if found.is_tiled else min(found.rowsperstrip or found.imagelength, found.imagelength),
            apart=found.planarconfig == APART and found.samplesperpixel > 1,
            order=file.byteorder,
            compression=int(found.compression),
            predictor=int(found.predictor),
            fill_order=int(found.fillorder),
            photometric=int(found.photometric),
        )


def _whole_pages(file: tifffile.TiffFile) -> list[int]:
    """The pictures that are not smaller versions or masks of others."""
    whole = []
    for place in range(MOST_PAGES):
        try:
            page: Any = file.pages[place]
        except IndexError:
            break
        if not int(page.subfiletype or 0) & NOT_WHOLE:
            whole.append(place)
    return whole


def _header(path: Path, page: Any, whole: list[int]) -> Header:  # noqa: ANN401 (tifffile's page)
    photometric, compression = int(page.photometric), int(page.compression)
    colour: Colour = COLOURS.get(photometric, "other")
    if photometric in LAB:
        colour = "Lab"
    if photometric in RAW:
        colour = "camera raw"
    if photometric == LUMINANCE and compression != JPEG:  # luminance and hue as they are: no reader here turns them into light
        colour = "other"
    bits = page.bitspersample if isinstance(page.bitspersample, int) else max(page.bitspersample)
    samples = int(page.samplesperpixel)
    formats = page.sampleformat if isinstance(page.sampleformat, tuple) else (page.sampleformat,)
    dpi, unlikely = _dpi(page)
    orientation = int(page.tags.valueof("Orientation", 1))
    if page.imagedepth > 1:
        raise refused("This TIFF holds a body of many layers, not a picture. Save the one picture that is meant.")
    return Header(
        kind="TIFF",
        size_bytes=path.stat().st_size,
        width_px=int(page.imagewidth),
        height_px=int(page.imagelength),
        colour=colour,
        bits=bits,
        samples=samples,
        channels=3 if colour == "RGB" else 4 if colour == "CMYK" else 1,
        page=whole[0],
        pages=len(whole),
        dpi=dpi,
        dpi_unlikely=unlikely,
        orientation=orientation if 1 <= orientation <= TURNS else 1,
        palette=colour == "palette",
        floating=FLOATING in formats,
        signed=any(one not in {UNSIGNED, FLOATING} for one in formats),
        white_is_zero=photometric == WHITE_IS_ZERO,
        packed=PACKINGS.get(compression, "in a way that is not read here"),
        lossy=compression == JPEG,
        needs_bytes=_needs_bytes(page, bits, samples),
        icc=bytes(page.tags.valueof("InterColorProfile", b"") or b""),
    )


def _needs_bytes(page: Any, bits: int, samples: int) -> int:  # noqa: ANN401 (tifffile's page)
    """Where the last piece ends; uncompressed at least what the pixels need."""
    starts: tuple[int, ...] = page.dataoffsets
    lengths: tuple[int, ...] = page.databytecounts
    if not starts or len(starts) != len(lengths):
        raise refused("This TIFF does not say where its pixels lie: it is damaged or cut off. Scan again, or send it again.")
    if page.is_tiled:
        across, down = ceil(page.imagewidth / page.tilewidth), ceil(page.imagelength / page.tilelength)
    else:
        across, down = 1, ceil(page.imagelength / (page.rowsperstrip or page.imagelength))
    if len(starts) < prod((across, down, samples if page.planarconfig == APART else 1)):
        raise refused("This TIFF says where some of its pixels lie, not all: it is damaged or cut off. Scan again, or send it again.")
    ends = max(start + length for start, length in zip(starts, lengths, strict=True))
    pixels = int(page.imagewidth) * int(page.imagelength)
    return max(ends, pixels * samples * bits // 8) if page.compression == PLAIN else ends


def _dpi(page: Any) -> tuple[int | None, bool]:  # noqa: ANN401 (tifffile's page)
    """Dots per inch, and whether no scanner would say so; nothing where the file says nothing."""
    unit = int(page.tags.valueof("ResolutionUnit", INCH_UNIT) or 0)
    found = []
    for name in ("XResolution", "YResolution"):
        number = page.tags.valueof(name)
        if number is None or unit not in {INCH_UNIT, CENTIMETRE_UNIT}:
            return None, False
        if not number[1]:
            return None, True
        found.append(number[0] / number[1] * (CENTIMETRES if unit == CENTIMETRE_UNIT else 1))
    return judged_dpi(*found)


def judged_dpi(across: float, down: float) -> tuple[int | None, bool]:
    """A whole number of dots per inch, and whether no scanner would say so."""
    if not (isfinite(across) and isfinite(down)):
        return None, True
    return round(across), not (FEWEST_DPI <= across <= MOST_DPI and FEWEST_DPI <= down <= MOST_DPI)
