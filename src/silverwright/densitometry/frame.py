"""The frames round a field of patches - lid of the scanner, border of the sheet - taken off one by one."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy.ndimage import find_objects, label, median_filter

Array = npt.NDArray[np.float64]

COARSE_PX: Final = 4  # our judgement: frames are wider than four pixels of the reduced picture, dust is not
DUST_PX: Final = 5  # our judgement: after a median over so many coarse pixels no dust and no hair is left
EVEN_TONE: Final = 0.03  # our judgement: mottle and stray light stay below it, and few patches come nearer to their border
EVEN_SHARE: Final = 0.6  # our judgement: a side of a frame has one tone over most of its length; across patches no tone fills that much
RING_PX: Final = 2  # our judgement: two coarse pixels of a frame tell its tone
INSET_PX: Final = 2  # our judgement: the blur of an edge
SMALLEST_SHARE: Final = 0.02  # our judgement: what is smaller than this part of the largest thing inside a frame is no patch
THINNEST_PX: Final = 4  # our judgement: thinner things are scratches
MOST_FRAMES: Final = 4  # our judgement: lid, mat, border, and one more


@dataclass(frozen=True, slots=True)
class Box:
    """First and last row and column of an upright rectangle, in pixels."""

    top_px: float
    left_px: float
    bottom_px: float
    right_px: float


def boxes_inside(tones: Array) -> tuple[Box, ...]:
    """
    What lies inside the frames of this picture: each box bounds all that differs from the frame round it.

    A frame has one tone on all four sides, to 0.03; what differs from it by more and is no dust lies inside

    Args:
        tones: A picture that is set straight. [log10] height x width

    Returns:
        Boxes from the outermost inwards; none where the picture has no even edge. Uncertainty: about 4 pixels; a patch whose tone is that of the
        frame stays outside.

    Source:
        our judgement.
    """
    high, wide = (length // COARSE_PX for length in tones.shape)
    coarse = tones[: high * COARSE_PX, : wide * COARSE_PX].reshape(high, COARSE_PX, wide, COARSE_PX).mean(axis=(1, 3))
    coarse = median_filter(coarse, DUST_PX)
    found: list[Box] = []
    top, left, bottom, right = 0, 0, high, wide
    for _ in range(MOST_FRAMES):
        inner = _inside(coarse[top:bottom, left:right])
        if inner is None:
            break
        down, across = inner
        edges = [one * COARSE_PX for one in (top + down.start, left + across.start, top + down.stop, left + across.stop)]
        found.append(Box(*edges))
        top, bottom = top + down.start + INSET_PX, top + down.stop - INSET_PX
        left, right = left + across.start + INSET_PX, left + across.stop - INSET_PX
        if min(bottom - top, right - left) <= 2 * (RING_PX + INSET_PX):
            break
    return tuple(found)


def _inside(part: Array) -> tuple[slice, slice] | None:
    """Rows and columns that bound what differs from the frame at the edge of this part; nothing where there is no frame, or nothing in it."""
    sides = [part[:RING_PX].ravel(), part[-RING_PX:].ravel(), part[:, :RING_PX].ravel(), part[:, -RING_PX:].ravel()]
    tone = float(np.median(np.concatenate(sides)))
    if min(float(np.mean(np.abs(side - tone) < EVEN_TONE)) for side in sides) < EVEN_SHARE:
        return None
    numbers, _ = label(np.abs(part - tone) >= EVEN_TONE)
    sizes = np.bincount(numbers.ravel())[1:]
    things = [
        (down, across)
        for (down, across), size in zip(find_objects(numbers), sizes, strict=True)
        if size >= SMALLEST_SHARE * sizes.max() and min(down.stop - down.start, across.stop - across.start) >= THINNEST_PX
    ]
    if not things:
        return None
    rows, columns = zip(*things, strict=True)
    return tuple(slice(min(one.start for one in span), max(one.stop for one in span)) for span in (rows, columns))  # type: ignore[return-value]
