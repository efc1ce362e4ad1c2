"""Small scans for page tests, drawn from known densities: 16 bits, a profile of the power 2.2, light falling as the density rises."""

import io
from collections.abc import Sequence

import numpy as np
import tifffile
from trials.scans.profile import profile

TABLET = tuple(round(0.05 + 0.15 * step, 2) for step in range(12))
SHEET = (1.70, 1.62, 1.41, 1.08, 0.72, 0.45, 0.28, 0.19, 0.14, 0.12)
WIDE_PX, HIGH_PX, BORDER_PX = 60, 120, 40  # of a patch, and of the black card round them
FULL = 65535
NOISE = 0.004  # of the light, pixel by pixel
LENS_LIGHT = 0.9  # what the whitest paper sends back, of full scale


def light_of(densities: Sequence[float]) -> np.ndarray:
    """The field of patches in one row on a black card, as light."""
    field = np.repeat(LENS_LIGHT * 10.0 ** -np.asarray(densities), WIDE_PX)[None].repeat(HIGH_PX, axis=0)
    light = np.pad(field, BORDER_PX, constant_values=0.004)
    return light * (1 + NOISE * np.random.default_rng(1).normal(size=light.shape))


def tiff(densities: Sequence[float], *, with_profile: bool = True, bits: int = 16, photometric: str = "rgb") -> bytes:
    """A scan of them as a file."""
    numbers = np.clip(light_of(densities), 0, 1) ** (1 / 2.2)
    full, kind = (FULL, np.uint16) if bits == 16 else (255, np.uint8)
    one = np.rint(numbers * full).astype(kind)
    channels = 4 if photometric == "separated" else 3
    file = io.BytesIO()
    icc = profile("gamma 2.2") if with_profile else None
    tifffile.imwrite(file, np.stack([one] * channels, axis=-1), photometric=photometric, iccprofile=icc)
    return file.getvalue()


def corners_percent(patches: int) -> str:
    """The four corners of the field, as an act takes them."""
    wide, high = patches * WIDE_PX + 2 * BORDER_PX, HIGH_PX + 2 * BORDER_PX
    left, right, top, bottom = 100 * BORDER_PX / wide, 100 - 100 * BORDER_PX / wide, 100 * BORDER_PX / high, 100 - 100 * BORDER_PX / high
    return f"{left} {top} {right} {top} {right} {bottom} {left} {bottom}"


def corner_fields(patches: int) -> dict[str, str]:
    """The same corners as the page's form sends them."""
    names = [f"{axis}{number}" for number in range(1, 5) for axis in "xy"]
    return dict(zip(names, corners_percent(patches).split(), strict=True))
