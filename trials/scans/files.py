"""Scans as files, in the many ways that programs write them."""

import struct
import zlib
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import tifffile
from PIL import Image

from trials.scans.made import Made
from trials.scans.profile import profile


@dataclass(frozen=True)
class Form:
    """How a scan is written: `kind` "tiff", "png" or "jpeg"; of a TIFF also its order of bytes, compression and tiles."""

    kind: str = "tiff"
    bits: int = 16
    compression: str = ""  # "", "lzw" or "deflate"
    tile_px: int = 0  # 0: strips
    big_endian: bool = False
    with_profile: bool = True


FORMS = (
    Form(),
    Form(compression="lzw"),
    Form(compression="deflate", big_endian=True),
    Form(tile_px=256),
    Form(tile_px=256, compression="lzw", big_endian=True),
    Form(big_endian=True),
)


def write(made: Made, path: Path, form: Form) -> Path:
    """Write the scan; the file's ending is the caller's."""
    pixels = made.pixels if form.bits == 16 else np.round(made.pixels / 257.0).astype(np.uint8)
    tag = profile(made.tone_curve) if form.with_profile else None
    if form.kind == "tiff":
        _write_tiff(pixels, path, form, tag, made.placing.dots_per_inch)
    elif form.kind == "png" and form.bits == 16:
        _write_png_16(pixels, path, tag)
    else:
        extra = {"quality": 95} if form.kind == "jpeg" else {}
        if tag:
            extra["icc_profile"] = tag  # type: ignore[assignment]
        Image.fromarray(pixels).save(path, form.kind, dpi=(made.placing.dots_per_inch,) * 2, **extra)
    return path


def _write_tiff(pixels: np.ndarray, path: Path, form: Form, tag: bytes | None, dots_per_inch: float) -> None:
    tifffile.imwrite(
        path,
        pixels,
        photometric="rgb",
        byteorder=">" if form.big_endian else "<",
        compression={"": None, "lzw": "lzw", "deflate": "zlib"}[form.compression],
        tile=(form.tile_px, form.tile_px) if form.tile_px else None,
        rowsperstrip=None if form.tile_px else 64,
        iccprofile=tag,
        resolution=(dots_per_inch, dots_per_inch),
        resolutionunit="INCH",
        metadata=None,
    )


def _write_png_16(pixels: np.ndarray, path: Path, tag: bytes | None) -> None:
    """PNG of 16 bits, chunk by chunk: Pillow would cut it to 8."""

    def chunk(sign: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + sign + body + struct.pack(">I", zlib.crc32(sign + body))

    height, width, _ = pixels.shape
    rows = np.concatenate([np.zeros((height, 1), np.uint8), pixels.astype(">u2").view(np.uint8).reshape(height, -1)], axis=1)
    header = struct.pack(">IIBBBBB", width, height, 16, 2, 0, 0, 0)
    colour = chunk(b"iCCP", b"made scanner\0\0" + zlib.compress(tag)) if tag else b""
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + colour + chunk(b"IDAT", zlib.compress(rows.tobytes(), 6)) + chunk(b"IEND", b""))
