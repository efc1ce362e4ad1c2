"""From the numbers of a file to linear light, from 0 to 1 of full scale: the tone curve of its profile is taken off."""

from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import NDArray

from silverwright.densitometry.density import ROOT_OFFSET, ROOT_SCALE
from silverwright.errors import Fault, ScanRefused
from silverwright.scanning.header import Header
from silverwright.scanning.profile import Curve, Samples, light_of_lightness, untagged_curve

Light = NDArray[np.float32]
ToLight = Callable[[Samples], Light]

EVERY: Final = 257  # arithmetic: from one number of 8 bits to the next among those of 16
A_SCALE, B_SCALE = 500, 200  # arithmetic of CIE 15, a* and b*
WHITE_X, WHITE_Z = np.float32(0.9642), np.float32(0.8249)  # source: ICC.1, the white of D50
VIPS_FORMATS: Final = {1: "uchar", 2: "ushort"}
VIPS_MEANINGS: Final = {(1, 1): "b-w", (2, 1): "grey16", (1, 3): "srgb", (2, 3): "rgb16"}
BROKEN_TABLE: Final = (
    "The embedded profile is a table of colours that cannot be read. Save the scan without a profile, or with a simple one, and send that."
)
# From XYZ under D50 to linear sRGB: the inverse of what its ICC profile says. Source: IEC 61966-2-1, adapted to D50 by Bradford.
TO_RED, TO_GREEN, TO_BLUE = (3.1338561, -1.6168667, -0.4906146), (-0.9787684, 1.9161415, 0.0334540), (0.0719453, -0.2289914, 1.4052427)


def curves_of(header: Header, untagged: str) -> tuple[Curve, ...]:
    """A curve for each channel, with a point for each number that may stand in the file; none where the profile is a table."""
    profile, said = header.profile(), "sRGB" if header.says_srgb else untagged
    curves = profile.curves if profile is not None else (untagged_curve(said),) * header.channels
    return tuple(curve[::EVERY] if header.bits == 8 else curve for curve in curves)  # noqa: PLR2004 (bits of a byte)


def to_light(header: Header, untagged: str) -> ToLight:
    """What turns pixels (n, channels) into their linear light."""
    curves = curves_of(header, untagged)
    if not curves:
        return lambda pixels: _by_table(pixels, header.icc)
    if all(curve is curves[0] or np.array_equal(curve, curves[0]) for curve in curves):
        return lambda pixels: curves[0][pixels]

    def by_curves(pixels: Samples) -> Light:
        light = np.empty(pixels.shape, np.float32)
        for channel, curve in enumerate(curves):
            light[:, channel] = curve[pixels[:, channel]]
        return light

    return by_curves


def _by_table(pixels: Samples, icc: bytes) -> Light:
    """Through the profile's table to lightness and hue, and from there to linear sRGB; a grey picture to the luminance."""
    import pyvips  # noqa: PLC0415 (few profiles need it)

    size_bytes, channels = pixels.dtype.itemsize, pixels.shape[1]
    flat = np.ascontiguousarray(pixels, f"u{size_bytes}")
    bare = pyvips.Image.new_from_memory(flat.data, len(flat), 1, channels, VIPS_FORMATS[size_bytes])
    named = bare.copy(interpretation=VIPS_MEANINGS[size_bytes, channels])
    named.set_type(pyvips.GValue.blob_type, "icc-profile-data", icc)
    try:
        lab = named.icc_import(embedded=True, pcs="lab", intent="relative").numpy().reshape(-1, 3)
    except pyvips.Error as error:
        raise ScanRefused([Fault("file", "", BROKEN_TABLE)]) from error
    level = (lab[:, 0] + ROOT_OFFSET) / ROOT_SCALE
    luminance = light_of_lightness(lab[:, 0])
    if channels == 1:
        return luminance[:, None]
    across, along = (light_of_lightness(root * ROOT_SCALE - ROOT_OFFSET) for root in (level + lab[:, 1] / A_SCALE, level - lab[:, 2] / B_SCALE))
    xyz = np.stack([across * WHITE_X, luminance, along * WHITE_Z], axis=1)
    light: Light = np.clip(xyz @ np.array([TO_RED, TO_GREEN, TO_BLUE], np.float32).T, 0, None)
    return light
