"""A small colour profile, written byte by byte as the open standard ICC.1 (version 2) lays it down."""

import struct

import numpy as np

from trials.scans.scanner import GAMMA, encoded

PRIMARIES = {"r": (0.4361, 0.2225, 0.0139), "g": (0.3851, 0.7169, 0.0971), "b": (0.1431, 0.0606, 0.7141)}  # IEC 61966-2-1, seen under D50
WHITE = (0.9642, 1.0, 0.8249)
TABLE_ENTRIES = 4096


def profile(tone_curve: str) -> bytes:
    """A profile for three channels with the primaries of IEC 61966-2-1 and one of our tone curves."""
    curve = _curve(tone_curve)
    tags = {"desc": _description(f"made scanner, {tone_curve}"), "cprt": b"text\0\0\0\0no rights reserved\0", "wtpt": _xyz(WHITE)}
    tags |= {f"{one}XYZ": _xyz(place) for one, place in PRIMARIES.items()} | {f"{one}TRC": curve for one in PRIMARIES}
    body, directory, offset = b"", struct.pack(">I", len(tags)), 128 + 4 + 12 * len(tags)
    for sign, data in tags.items():
        padded = data + b"\0" * (-len(data) % 4)
        directory += struct.pack(">4sII", sign.encode(), offset + len(body), len(data))
        body += padded
    size = 128 + len(directory) + len(body)
    header = struct.pack(">I4sI4s4s4s", size, b"\0" * 4, 0x02400000, b"scnr", b"RGB ", b"XYZ ") + struct.pack(">6H", 2026, 1, 1, 0, 0, 0)
    header += b"acsp" + b"\0" * 28 + struct.pack(">3i", *(round(value * 65536) for value in WHITE))
    return header.ljust(128, b"\0") + directory + body


def _curve(tone_curve: str) -> bytes:
    """From file number to light: none, a power, or a table."""
    if tone_curve == "linear":
        return b"curv\0\0\0\0" + struct.pack(">I", 0)
    if tone_curve == "gamma 2.2":
        return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(GAMMA * 256))
    light = np.linspace(0, 1, 65536)
    table = np.interp(np.linspace(0, 1, TABLE_ENTRIES), encoded(light, tone_curve), light)
    return b"curv\0\0\0\0" + struct.pack(">I", TABLE_ENTRIES) + np.round(table * 65535).astype(">u2").tobytes()


def _xyz(place: tuple[float, float, float]) -> bytes:
    return b"XYZ \0\0\0\0" + struct.pack(">3i", *(round(value * 65536) for value in place))


def _description(words: str) -> bytes:
    text = words.encode() + b"\0"
    return b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + b"\0" * (4 + 4 + 2 + 1 + 67)
