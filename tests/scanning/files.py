"""Files of images, good and bad, made when a test needs them."""

import struct
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import tifffile
from numpy.typing import NDArray
from skimage import data

Pixels = NDArray[Any]
WHOLE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def pixels(height: int = 90, width: int = 120, channels: int = 3, kind: str = "u2", seed: int = 1) -> Pixels:
    """Something of everything: random numbers, with black and white among them."""
    most = np.iinfo(kind).max
    numbers = np.random.default_rng(seed).integers(0, most, (height, width, channels), dtype=kind, endpoint=True)
    numbers[0, :3] = ((0,), (most,), (1,))
    return numbers[..., 0] if channels == 1 else numbers


def steps(shares: Sequence[float], height: int = 80, patch_px: int = 40, kind: str = "u2", noise: float = 0.01) -> Pixels:
    """Patches side by side, grey in three channels, each with this share of full scale."""
    most = np.iinfo(kind).max
    row = np.repeat(np.asarray(shares), patch_px)[None, :, None] * np.ones((height, 1, 3))
    row *= 1 + noise * np.random.default_rng(2).standard_normal(row.shape)
    return np.clip(np.rint(row * most), 0, most).astype(kind)


def tiff(path: Path, numbers: Pixels, **how: Any) -> Path:
    """As tifffile writes it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    how.setdefault("photometric", "rgb" if numbers.ndim == 3 else "minisblack")
    tifffile.imwrite(path, numbers, metadata=None, **how)
    return path


def png(path: Path, numbers: Pixels) -> Path:
    """As OpenCV writes it."""
    assert cv2.imwrite(str(path), numbers[..., ::-1] if numbers.ndim == 3 else numbers)
    return path


def tag(path: Path, name: str, value: object, page: int = 0) -> Path:
    """Write one tag of a TIFF anew."""
    with tifffile.TiffFile(path, mode="r+") as file:
        file.pages[page].tags[name].overwrite(value)  # type: ignore[union-attr]
    return path


def icc(space: bytes = b"RGB ", kind: bytes = b"scnr", tags: Mapping[bytes, bytes] | None = None, connection: bytes = b"XYZ ") -> bytes:
    """A profile with these tags, and a name."""
    text = b"made for a test\0"
    desc = b"desc" + bytes(4) + struct.pack(">I", len(text)) + text + bytes(4 + 4 + 2 + 1 + 67)
    found = {b"desc": desc, **(tags or {})}
    table, data, start = b"", b"", 128 + 4 + 12 * len(found)
    for name, content in found.items():
        padded = content + bytes(-len(content) % 4)
        table += struct.pack(">4sII", name, start + len(data), len(content))
        data += padded
    body = struct.pack(">I", len(found)) + table + data
    white = struct.pack(">3i", 63190, 65536, 54061)
    head = struct.pack(">I4sI4s4s4s", 128 + len(body), b"lcms", 0x02400000, kind, space, connection) + bytes(12) + b"acsp" + bytes(28) + white
    return head.ljust(128, b"\0") + body


def para(kind: int, *figures: float) -> bytes:
    """A tone curve as a formula."""
    return b"para" + bytes(4) + struct.pack(">HH", kind, 0) + struct.pack(f">{len(figures)}i", *(round(one * 65536) for one in figures))


def curv(*points: int) -> bytes:
    """A tone curve as points, as a power, or none."""
    return b"curv" + bytes(4) + struct.pack(f">I{len(points)}H", len(points), *points)


def with_curves(curve: bytes, space: bytes = b"RGB ", **more: Any) -> bytes:
    """A profile of tone curves."""
    point = b"XYZ " + bytes(4) + struct.pack(">3i", 20000, 20000, 20000)
    names = (b"rTRC", b"gTRC", b"bTRC") if space == b"RGB " else (b"kTRC",)
    return icc(space, tags={**dict.fromkeys(names, curve), b"wtpt": point, b"rXYZ": point, b"gXYZ": point, b"bXYZ": point}, **more)


SRGB = para(3, 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)


def srgb_light(share: NDArray[Any]) -> NDArray[np.float64]:
    """IEC 61966-2-1, written a second time."""
    numbers = np.asarray(share, float)
    return np.where(numbers <= 0.04045, numbers / 12.92, ((numbers + 0.055) / 1.055) ** 2.4)


def table_profile(light_of: Callable[[NDArray[Any]], NDArray[Any]]) -> bytes:
    """A profile that is a table of colours: eight corners, XYZ of linear sRGB under D50, and a curve in front of it."""
    matrix = np.array([[0.4360747, 0.3850649, 0.1430804], [0.2225045, 0.7168786, 0.0606169], [0.0139322, 0.0971045, 0.7141733]])
    front = np.rint(light_of(np.linspace(0, 1, 4096)) * 65535).astype(">u2").tobytes()
    corners = np.array([[r, g, b] for r in (0, 1) for g in (0, 1) for b in (0, 1)], float) @ matrix.T
    middle = np.rint(np.clip(corners / (1 + 32767 / 32768), 0, 1) * 65535).astype(">u2").tobytes()
    ends = np.array([0, 65535] * 3, ">u2").tobytes()
    unity = struct.pack(">9i", 65536, 0, 0, 0, 65536, 0, 0, 0, 65536)
    lut = b"mft2" + bytes(4) + struct.pack(">BBBB", 3, 3, 2, 0) + unity + struct.pack(">HH", 4096, 2) + front * 3 + middle + ends
    white = b"XYZ " + bytes(4) + struct.pack(">3i", 63190, 65536, 54061)
    return icc(tags={b"A2B0": lut, b"wtpt": white})


def read_by_opencv(path: Path) -> Pixels:
    """As OpenCV reads it, red first."""
    numbers = cv2.imread(str(path), cv2.IMREAD_UNCHANGED)
    assert numbers is not None
    return numbers[..., ::-1] if numbers.ndim == 3 else numbers


def photograph(name: str) -> Pixels:
    """A real one, from a package: 8 bits."""
    numbers: Pixels = getattr(data, name)()
    return numbers


def jpeg(path: Path, numbers: Pixels, *how: int) -> Path:
    """As OpenCV writes it."""
    assert cv2.imwrite(str(path), numbers[..., ::-1] if numbers.ndim == 3 else numbers, list(how))
    return path
