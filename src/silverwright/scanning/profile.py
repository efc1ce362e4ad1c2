"""The profile that is embedded in a file: which tone curve lies on its numbers, and how it is taken off."""

import struct
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from silverwright.densitometry.density import LINEAR_BELOW, LINEAR_SLOPE, ROOT_OFFSET, ROOT_SCALE

Curve = NDArray[np.float32]
Samples = NDArray[np.unsignedinteger]

# Layout of an ICC profile, ICC.1: where things stand in its first bytes.
HEAD_BYTES: Final = 128  # source: ICC.1, profile header
ENTRY_BYTES: Final = 12  # source: ICC.1, tag table: name, place, length
MOST_TAGS: Final = 200  # our judgement: ten times what a profile has
LONGEST_NAME: Final = 80  # our judgement: a name, not a novel
CURVE_POINTS: Final = 1 << 16  # arithmetic: one for each number of 16 bits
FIXED_ONE: Final = 65536.0  # source: ICC.1, s15Fixed16Number
EIGHTH_ONE: Final = 256.0  # source: ICC.1, u8Fixed8Number
FULL_16: Final = 65535.0  # arithmetic: the largest number of 16 bits
PARAMETERS: Final = {0: 1, 1: 3, 2: 4, 3: 5, 4: 7}  # source: ICC.1, parametricCurveType: how many figures each kind has
CLASSES: Final = (b"scnr", b"mntr", b"prtr", b"spac")
CHANNELS: Final = {b"GRAY": 1, b"RGB ": 3}

# IEC 61966-2-1: a straight start, then a power.
SRGB_FIGURES: Final = (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)  # source: IEC 61966-2-1
GAMMA: Final = 2.2  # arithmetic: its name says it


class ProfileUnusable(Exception):
    """Why a profile says nothing that can be used."""


@dataclass(frozen=True, slots=True)
class Profile:
    """An embedded profile: its name, and a tone curve for each channel; no curves where it is a table of colours."""

    name: str
    channels: int
    curves: tuple[Curve, ...]


@lru_cache(maxsize=2)
def read_profile(profile: bytes) -> Profile:
    """What a profile says of grey or red, green and blue; `ProfileUnusable` when it says nothing that can be used."""
    try:
        return _read(profile)
    except (struct.error, IndexError, ValueError, OverflowError) as error:
        raise ProfileUnusable("it is damaged") from error


def untagged_curve(untagged: str) -> Curve:
    """The curve of a file without a profile, as somebody said it."""
    numbers = _numbers()
    if untagged == "linear":
        return numbers.astype(np.float32)
    return _parametric(3, SRGB_FIGURES) if untagged == "sRGB" else (numbers**GAMMA).astype(np.float32)


def _read(profile: bytes) -> Profile:
    if len(profile) <= HEAD_BYTES or profile[36:40] != b"acsp":
        raise ProfileUnusable("it is damaged")
    kind, space, connection = profile[12:16], profile[16:20], profile[20:24]
    if kind not in CLASSES:
        raise ProfileUnusable("it is of a kind that describes no picture")
    if space not in CHANNELS:
        raise ProfileUnusable("it is neither for grey nor for red, green and blue")
    tags = _tags(profile)
    names = ("kTRC",) if CHANNELS[space] == 1 else ("rTRC", "gTRC", "bTRC")
    if set(names) <= tags.keys():
        curves = tuple(_usable(_curve(tags[name])) for name in names)
        if CHANNELS[space] == 1 and connection == b"Lab ":
            curves = tuple(light_of_lightness(curve * 100) for curve in curves)
        return Profile(_name(tags.get("desc", b"")), CHANNELS[space], curves)
    if "A2B0" in tags:
        return Profile(_name(tags.get("desc", b"")), CHANNELS[space], ())
    raise ProfileUnusable("it holds neither tone curves nor a table of colours")


def _tags(profile: bytes) -> dict[str, bytes]:
    """Every tag by its name."""
    (count,) = struct.unpack_from(">I", profile, HEAD_BYTES)
    found = {}
    for place in range(min(count, MOST_TAGS)):
        name, start, length = struct.unpack_from(">4sII", profile, HEAD_BYTES + 4 + ENTRY_BYTES * place)
        found[name.decode("latin-1")] = profile[start : start + length]
    return found


def _curve(tag: bytes) -> Curve:
    """A tone curve: points, a power, or a formula."""
    if tag[:4] == b"para":
        (kind,) = struct.unpack_from(">H", tag, 8)
        if kind not in PARAMETERS:
            raise ProfileUnusable("its tone curve is of an unknown kind")
        figures = [figure / FIXED_ONE for figure in struct.unpack_from(f">{PARAMETERS[kind]}i", tag, 12)]
        return _parametric(kind, figures)
    if tag[:4] != b"curv":
        raise ProfileUnusable("its tone curve is of an unknown kind")
    (count,) = struct.unpack_from(">I", tag, 8)
    numbers = _numbers()
    if count == 0:
        return numbers.astype(np.float32)
    points = np.frombuffer(tag, ">u2", count, 12).astype(float)
    if count == 1:
        return np.asarray(numbers ** (points[0] / EIGHTH_ONE), np.float32)
    curve: Curve = np.interp(numbers, np.linspace(0, 1, count), points / FULL_16).astype(np.float32)
    return curve


def _parametric(kind: int, figures: Sequence[float]) -> Curve:
    """The formulas of ICC.1, parametricCurveType, kinds 0 to 4: a power above a bend, something straight below."""
    power, a, b, c, d, e, f = (*figures, *(0.0,) * (7 - len(figures)))
    numbers = _numbers()
    if kind == 0:
        return np.asarray(numbers**power, np.float32)
    if kind in {1, 2}:  # the bend is where the power's base reaches nothing; the offset is written third
        bend, slope, above, below = (-b / a if a else 0.0), 0.0, c, c
    else:
        bend, slope, above, below = d, c, e, f
    with np.errstate(invalid="ignore", over="ignore"):
        curve: Curve = np.where(numbers >= bend, np.maximum(a * numbers + b, 0.0) ** power + above, slope * numbers + below).astype(np.float32)
    return curve


def _usable(curve: Curve) -> Curve:
    """A curve between 0 and 1 that rises."""
    if not np.isfinite(curve).all() or np.any(np.diff(curve) < 0) or curve[-1] <= curve[0]:
        raise ProfileUnusable("its tone curve does not rise")
    return np.clip(curve, 0, 1)


def light_of_lightness(lightness: NDArray[np.float32]) -> NDArray[np.float32]:
    """L* of 0 to 100 back to light of 0 to 1, CIE 15: what `densitometry.density` says of one number, for many."""
    bent = ((lightness + ROOT_OFFSET) / ROOT_SCALE) ** 3
    return np.where(lightness > LINEAR_SLOPE * LINEAR_BELOW, bent, lightness / LINEAR_SLOPE).astype(np.float32)


def _numbers() -> NDArray[np.float64]:
    return np.linspace(0, 1, CURVE_POINTS)


def _name(tag: bytes) -> str:
    """The profile's name in its first language."""
    if tag[:4] == b"mluc":
        length, start = struct.unpack_from(">II", tag, 20)
        text = tag[start : start + length].decode("utf-16-be", errors="ignore")
    else:
        text = tag[12:].split(b"\0", 1)[0].decode("latin-1")
    return "".join(letter for letter in text if letter.isprintable()).strip()[:LONGEST_NAME]
