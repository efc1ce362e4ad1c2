"""Which kind of file this is, by its first bytes, and who reads what it says of itself."""

from pathlib import Path
from typing import Final

from silverwright.errors import ScanRefused
from silverwright.scanning.header import READABLE, Header, Kind, refused
from silverwright.scanning.tiff import tiff_header

FIRST_BYTES: Final = 32  # our judgement: whatever a file is, it says so in these

# By which first bytes files are known, and what people call them.
OTHERS: Final[tuple[tuple[int, bytes, str], ...]] = (
    (4, b"ftypcrx", "a camera raw file"),
    (4, b"ftyp", "a HEIF or AVIF picture, or a film"),
    (8, b"WEBP", "a WebP picture"),
    (0, b"\xff\x0a", "a JPEG XL picture"),
    (4, b"JXL ", "a JPEG XL picture"),
    (4, b"jP  ", "a JPEG 2000 picture"),
    (0, b"\xff\x4f\xff\x51", "a JPEG 2000 picture"),
    (0, b"GIF8", "a GIF picture"),
    (0, b"BM", "a BMP picture"),
    (0, b"8BPS", "a picture in layers"),
    (0, b"%PDF", "a PDF document"),
    (0, b"PK\x03\x04", "a ZIP archive"),
    (0, b"FUJIFILM", "a camera raw file"),
    (0, b"IIRO", "a camera raw file"),
    (0, b"IIRS", "a camera raw file"),
    (0, b"IIU\0", "a camera raw file"),
    (8, b"CR\x02", "a camera raw file"),
    (0, b"SIMPLE  =", "a FITS picture"),
)
TIFFS: Final = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")
PNG: Final = b"\x89PNG\r\n\x1a\n"
JPEG: Final = b"\xff\xd8\xff"


def read_header(path: Path) -> Header:
    """What a file says of itself; `ScanRefused` when it is nothing that is read here."""
    kind = _kind(path)
    try:
        if kind == "TIFF":
            return tiff_header(path)
        from silverwright.scanning.others import other_header  # noqa: PLC0415 (most scans are TIFF, and begin sooner without)

        return other_header(path, kind)
    except (ScanRefused, MemoryError):
        raise
    except Exception as error:
        raise refused(f"The {kind} file is damaged: what it says of itself cannot be read. Scan again, or send it again.") from error


def _kind(path: Path) -> Kind:
    """By its first bytes, not by its name."""
    with path.open("rb") as file:
        first = file.read(FIRST_BYTES)
    if not first:
        raise refused("The file is empty. Send it again.")
    for start, known, called in OTHERS:
        if first[start : start + len(known)] == known:
            raise refused(f"This is {called}. {READABLE} Save it as TIFF with 16 bits, and send that.")
    if first[:4] in TIFFS:
        return "TIFF"
    if first.startswith(PNG):
        return "PNG"
    if first.startswith(JPEG):
        return "JPEG"
    raise refused(f"This is no picture that can be read here. {READABLE}")
