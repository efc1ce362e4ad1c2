"""PNG and JPEG: what they say of themselves."""

import struct
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO, Final

import pyvips

from silverwright.scanning.header import TURNS, Colour, Header, Kind, refused
from silverwright.scanning.tiff import CENTIMETRES, judged_dpi

# PNG 1.2 (ISO 15948), IHDR and the chunks after it.
SIGNATURE_BYTES: Final = 8  # source: ISO 15948
MOST_CHUNKS: Final = 10_000  # our judgement: before the first pixels no file has as many
GREY, TRUE_COLOUR, PALETTE, GREY_ALPHA, COLOUR_ALPHA = 0, 2, 3, 4, 6  # source: ISO 15948, colour type
SAMPLES: Final = {GREY: 1, TRUE_COLOUR: 3, PALETTE: 1, GREY_ALPHA: 2, COLOUR_ALPHA: 4}
MILLIMETRES: Final = 10.0  # arithmetic: in a centimetre
NO_RESOLUTION: Final = 1.0  # trade: dots per millimetre that the library gives where a file gives none
SAYS_NOTHING_DPI: Final = 72  # our judgement: what stands there when nobody knows it; no sheet is scanned so coarsely


def other_header(path: Path, kind: Kind) -> Header:
    """What a PNG or a JPEG says of itself."""
    return _png(path) if kind == "PNG" else _jpeg(path)


def _png(path: Path) -> Header:
    with path.open("rb") as file:
        chunks = dict(_chunks(file))
    if "IHDR" not in chunks:
        raise refused("This PNG does not say how large it is: it is damaged or cut off. Send it again.")
    width_px, height_px, bits, kind, _, _, interlaced = struct.unpack(">IIBBBBB", chunks["IHDR"])
    image = pyvips.Image.new_from_file(str(path), access="sequential", fail_on="none")
    dpi, unlikely = _dpi(image)
    colour: Colour = "palette" if kind == PALETTE else "RGB" if kind in {TRUE_COLOUR, COLOUR_ALPHA} else "grey"
    return Header(
        kind="PNG",
        size_bytes=path.stat().st_size,
        width_px=width_px,
        height_px=height_px,
        colour=colour,
        bits=bits,
        samples=SAMPLES.get(kind, 1) + ("tRNS" in chunks),
        channels=3 if colour == "RGB" else 1,
        pages=struct.unpack(">I", chunks["acTL"][:4])[0] if "acTL" in chunks else 1,
        dpi=dpi,
        dpi_unlikely=unlikely,
        orientation=_orientation(image),
        palette=colour == "palette",
        packed="Deflate",
        all_at_once=bool(interlaced),
        icc=_icc(image),
        says_srgb="sRGB" in chunks and "iCCP" not in chunks,
    )


def _chunks(file: BinaryIO) -> Iterator[tuple[str, bytes]]:
    """The names of all chunks before the pixels, and what stands in the short ones."""
    file.seek(SIGNATURE_BYTES)
    for _ in range(MOST_CHUNKS):
        head = file.read(8)
        if len(head) < 8:  # noqa: PLR2004 (length and name)
            return
        length, name = struct.unpack(">I4s", head)
        if name == b"IDAT":
            return
        yield name.decode("latin-1"), file.read(length) if name in {b"IHDR", b"acTL"} else b""
        file.seek(4 if name in {b"IHDR", b"acTL"} else length + 4, 1)


def _jpeg(path: Path) -> Header:
    image = pyvips.Image.new_from_file(str(path), access="sequential", fail_on="none")
    dpi, unlikely = _dpi(image)
    colour: Colour = "CMYK" if image.bands == 4 else "RGB" if image.bands == 3 else "grey"  # noqa: PLR2004 (counted)
    return Header(
        kind="JPEG",
        size_bytes=path.stat().st_size,
        width_px=image.width,
        height_px=image.height,
        colour=colour,
        bits=8,
        samples=image.bands,
        channels=image.bands,
        dpi=dpi,
        dpi_unlikely=unlikely,
        orientation=_orientation(image),
        packed="JPEG",
        lossy=True,
        all_at_once=bool(image.get_typeof("jpeg-multiscan") and image.get("jpeg-multiscan")),
        icc=_icc(image),
    )


def _icc(image: pyvips.Image) -> bytes:
    return bytes(image.get("icc-profile-data")) if image.get_typeof("icc-profile-data") else b""


def _orientation(image: pyvips.Image) -> int:
    found = int(image.get("orientation")) if image.get_typeof("orientation") else 1
    return found if 1 <= found <= TURNS else 1


def _dpi(image: pyvips.Image) -> tuple[int | None, bool]:
    if image.xres == image.yres == NO_RESOLUTION:
        return None, False
    inch = CENTIMETRES * MILLIMETRES
    dpi, unlikely = judged_dpi(image.xres * inch, image.yres * inch)
    return (None, False) if dpi == SAYS_NOTHING_DPI else (dpi, unlikely)
