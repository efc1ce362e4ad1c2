"""Which kind of file this is, by its first bytes, and who reads what it says of itself."""

from pathlib import Path
from typing import Final

from silverwright.errors import ScanRefused
from silverwright.scanning.header import READABLE, Header, Kind, refused
from silverwright.scanning.tiff import tiff_header

FIRST_BYTES: Final = 32  # our judgement: whatever a file is, it says so in these

# By which first bytes files are known, and what people call them. Those in a box name their kind from the fifth or the ninth byte on.
OTHERS: Final = {
    b"\xff\x0a": "a JPEG XL picture",
    b"\xff\x4f\xff\x51": "a JPEG 2000 picture",
    b"GIF8": "a GIF picture",
    b"BM": "a BMP picture",
    b"8BPS": "a picture in layers",
    b"%PDF": "a PDF document",
    b"PK\x03\x04": "a ZIP archive",
    b"FUJIFILM": "a camera raw file",
    b"IIRO": "a camera raw file",
    b"IIRS": "a camera raw file",
    b"IIU\0": "a camera raw file",
    b"SIMPLE  =": "a FITS picture",
}
BOXED: Final = {
    b"ftypcrx": "a camera raw file",
    b"ftyp": "a HEIF or AVIF picture, or a film",
    b"JXL ": "a JPEG XL picture",
    b"jP  ": "a JPEG 2000 picture",
}
INSIDE: Final = {b"WEBP": "a WebP picture", b"CR\x02": "a camera raw file"}
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
    for begin, known_by in ((first, OTHERS), (first[4:], BOXED), (first[8:], INSIDE)):
        for known, called in known_by.items():
            if begin.startswith(known):
                raise refused(f"This is {called}. {READABLE} Save it as TIFF with 16 bits, and send that.")
    if first[:4] in TIFFS:
        return "TIFF"
    if first.startswith(PNG):
        return "PNG"
    if first.startswith(JPEG):
        return "JPEG"
    raise refused(f"This is no picture that can be read here. {READABLE}")
