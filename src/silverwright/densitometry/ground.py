"""The even grounds of a scan - lid, mat, border of the sheet - and what lies on each."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy.ndimage import median_filter

Array = npt.NDArray[np.float64]

COARSE_PX: Final = 4  # our judgement: grounds are wider than four pixels of the reduced picture, dust is not
DUST_PX: Final = 5  # our judgement: after a median over so many coarse pixels no dust and few hairs are left
EVEN_TONE: Final = 0.03  # our judgement: mottle and stray light stay below it
EVEN_SHARE: Final = 0.6  # our judgement: a side of a ground has one tone over most of its length; across patches no tone fills that much
TONES: Final = (0.015, 0.03, 0.06, 0.12)  # our judgement: what differs by less may be patch or shade, so several are tried
HAIR_SHARE: Final = 0.06  # our judgement: a hair covers less of a row, a patch more
RING_PX: Final = 2  # our judgement: two coarse pixels of a ground tell its tone
INSET_PX: Final = 2  # our judgement: the blur of an edge, in coarse pixels
SMALLEST_PX: Final = 8  # our judgement: a ground of fewer coarse pixels holds no patches
MOST_DEEP: Final = 4  # our judgement: lid, mat, border, and one more
ALIKE_PX: Final = 4  # our judgement: closer than a coarse pixel, two boxes are one


@dataclass(frozen=True, slots=True)
class Box:
    """First and last row and column of an upright rectangle, in pixels."""

    top_px: int
    left_px: int
    bottom_px: int
    right_px: int

    @property
    def turned(self) -> "Box":
        """The same box on the picture lying on its side, rows for columns."""
        return Box(self.left_px, self.top_px, self.right_px, self.bottom_px)

    def near(self, other: "Box") -> bool:
        """Whether both bound the same thing."""
        sides = ((self.top_px, other.top_px), (self.left_px, other.left_px), (self.bottom_px, other.bottom_px), (self.right_px, other.right_px))
        return all(abs(one - two) <= ALIKE_PX for one, two in sides)


@dataclass(frozen=True, slots=True)
class Ground:
    """A part of the picture with one tone along all its sides: that tone, and the box that bounds what differs from it."""

    part: Box
    tone_log10: float
    inner: Box


def grounds(tones: Array) -> tuple[Ground, ...]:
    """
    The grounds of this picture, one inside another.

    A ground has one tone along each of its sides, to 0.03; rows and columns of which more than 6 % differ from it bound what lies on it

    Args:
        tones: A picture that is set straight. [log10] height x width

    Returns:
        Grounds, those of the least difference first; none where the picture has no even edge. Uncertainty: the boxes are good to about
        4 pixels; a patch whose tone is that of the ground stays outside.

    Source:
        our judgement.
    """
    high, wide = (length // COARSE_PX for length in tones.shape)
    coarse = tones[: high * COARSE_PX, : wide * COARSE_PX].reshape(high, COARSE_PX, wide, COARSE_PX).mean(axis=(1, 3))
    coarse = median_filter(coarse, DUST_PX)
    found: list[Ground] = []
    for differs_by in TONES:
        top, left, bottom, right = 0, 0, high, wide
        for _ in range(MOST_DEEP):
            tone, inner = _on_ground(coarse[top:bottom, left:right], differs_by)
            if inner is None:
                break
            part = Box(top * COARSE_PX, left * COARSE_PX, bottom * COARSE_PX, right * COARSE_PX)
            down, across = inner
            top, bottom, left, right = top + down.start, top + down.stop, left + across.start, left + across.stop
            box = Box(top * COARSE_PX, left * COARSE_PX, bottom * COARSE_PX, right * COARSE_PX)
            if not any(part.near(one.part) and box.near(one.inner) for one in found):
                found.append(Ground(part, tone, box))
            top, bottom, left, right = top + INSET_PX, bottom - INSET_PX, left + INSET_PX, right - INSET_PX
    return tuple(found)


def _on_ground(part: Array, differs_by: float) -> tuple[float, tuple[slice, slice] | None]:
    """Tone along the sides of this part, and the rows and columns that bound what differs from it, if it is a ground with something on it."""
    if min(part.shape, default=0) <= SMALLEST_PX:
        return 0.0, None
    sides = [part[:RING_PX].ravel(), part[-RING_PX:].ravel(), part[:, :RING_PX].ravel(), part[:, -RING_PX:].ravel()]
    tone = float(np.median(np.concatenate(sides)))
    if min(float(np.mean(np.abs(side - tone) < max(EVEN_TONE, differs_by))) for side in sides) < EVEN_SHARE:
        return tone, None
    differs = np.abs(part - tone) >= differs_by
    spans = [np.flatnonzero(differs.mean(axis=axis) > HAIR_SHARE) for axis in (1, 0)]
    if min(map(len, spans)) <= INSET_PX:
        return tone, None
    rows, columns = (slice(int(span[0]), int(span[-1]) + 1) for span in spans)
    return tone, (rows, columns)
