"""The pixels of one patch, made into one signal with its doubt."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
import numpy.typing as npt

from silverwright.errors import NotEnoughReadings, OutOfRange

Array = npt.NDArray[np.floating]
Clipped = Literal["", "white", "black"]

TRIMMED_SHARE: Final = 0.10  # our judgement: dust and scratches cover less than a tenth of a patch, and lie at one end
CLIPPED_SHARE: Final = 0.02  # our judgement: so many pixels at the end of the scale pull a mean visibly; fewer are dust or sparkle
WHITEST: Final = 0.9995  # our judgement: the top of the scale less a few steps of 16 bits, far less than one of 8 bits
BLACKEST: Final = 1 / 65535 / 2  # arithmetic: less than half of the smallest step of 16 bits
BLOCKS: Final = 16  # our judgement: enough for a standard deviation known to a fifth, few enough that each is wider than the grain of the noise
FEWEST_PIXELS: Final = 16  # our judgement: one pixel for each block
FEWEST_ACROSS: Final = 8  # our judgement: two pixels for each quarter of a line across an edge
GREY_WEIGHTS: Final = (0.2126, 0.7152, 0.0722)  # source: iec61966-2-1, luminance of linear red, green and blue
COLOURS: Final = len(GREY_WEIGHTS)


@dataclass(frozen=True, slots=True)
class PatchSignal:
    """
    Linear light of a patch as shares of full scale: each channel, and grey with the doubt of its mean as a share of it.

    `spread_share` is how far its pixels lie apart, from the 10 % to the 90 % quantile, as a share of grey.
    """

    channel_signals: tuple[float, ...]
    grey: float
    sd: float
    spread_share: float
    clipped: Clipped
    clipped_share: float
    pixels: int


def patch_signal(pixels: Array, white_signal: float = 1.0) -> PatchSignal:
    """
    How much light a patch sends back: the mean of its pixels, without the brightest and the darkest tenth.

    mean of x between its 10 % and its 90 % quantile; grey = 0.2126 R + 0.7152 G + 0.0722 B
    sd = s(means of blocks, x held to both quantiles) / 0.8 / sqrt(blocks) * sqrt(1 + 2 r), r their correlation from one to the next

    Args:
        pixels: Linear light of the patch's middle half, in reading order: rows of pixels, one column for each channel (1 or 3). [any] n x channels
        white_signal: What the brightest white reads. [the same] > 0

    Returns:
        Signals as shares of full scale. [1] 0 to 1. Uncertainty: `sd`, one standard deviation of grey's mean as a share of it, from the means of
        16 runs of neighbouring pixels: noise that spreads over several pixels, and an uneven patch, count in full.

    Raises:
        OutOfRange: white_signal not above 0; another number of channels.
        NotEnoughReadings: fewer than 16 pixels.

    Source:
        iec61966-2-1, luminance of the linear channels; our judgement.
    """
    light = np.asarray(pixels)
    if light.ndim == 1:
        light = light[:, None]
    if white_signal <= 0:
        raise OutOfRange("white_signal", white_signal, "above 0")
    if light.shape[1] not in {1, COLOURS}:
        raise OutOfRange("channels", light.shape[1], "1 or 3")
    if len(light) < FEWEST_PIXELS:
        raise NotEnoughReadings("pixels in the middle of a patch", len(light), FEWEST_PIXELS)
    trimmed = [_trimmed(light[:, one]) for one in range(light.shape[1])]
    means = np.array([mean for mean, _, _ in trimmed]) / white_signal
    blocks = np.array([block for _, block, _ in trimmed]) / white_signal
    spreads = np.array([spread for _, _, spread in trimmed]) / white_signal
    grey = float(_grey(means))
    sd = _sd_of_mean(_grey(blocks)) / grey if grey > 0 else 0.0
    apart = float(_grey(spreads)) / grey if grey > 0 else 0.0
    clipped, share = _clipping(light, white_signal)
    return PatchSignal(tuple(means.tolist()), grey, sd, apart, clipped, share, len(light))


def edge_overshoot(profile: Array) -> float:
    """
    How far the light overshoots beside an edge: the halo that a scanner's automatic sharpening leaves.

    o = (most beyond a plateau - 3 s) / (step between the plateaus); s: scatter of the plateaus

    Args:
        profile: Light along a line across one edge between two even patches, a quarter of it or more on each side even. [any] n >= 8

    Returns:
        Overshoot as a share of the step. [1] 0 or more; 0 where the step drowns in the noise. Uncertainty: about a third of itself with noise that
        is a tenth of the step.

    Raises:
        NotEnoughReadings: fewer than 8 pixels.

    Source:
        our judgement.
    """
    line = np.asarray(profile, dtype=np.float64)
    quarter = len(line) // 4
    if len(line) < FEWEST_ACROSS:
        raise NotEnoughReadings("pixels across an edge", len(line), FEWEST_ACROSS)
    first, last, middle = line[:quarter], line[-quarter:], line[quarter:-quarter]
    low, high = sorted((float(np.median(first)), float(np.median(last))))
    noise = 3 * float(max(first.std(), last.std()))
    if high - low <= noise or high == low:
        return 0.0
    beyond = max(float(middle.max()) - high, low - float(middle.min()))
    return max(0.0, beyond - noise) / (high - low)


def _grey(channels: Array) -> Array:
    """Red, green and blue as one grey; a single channel as it is."""
    return channels[0] if len(channels) == 1 else np.asarray(np.tensordot(GREY_WEIGHTS, channels, axes=1))


def _trimmed(values: Array) -> tuple[float, npt.NDArray[np.float64], float]:
    """The mean between both limits; the blocks' means with the ends pushed in to them, by which it scatters; and their distance."""
    away = int(TRIMMED_SHARE * len(values))
    in_order = np.partition(values, (away, len(values) - 1 - away))
    low, high = in_order[away], in_order[-1 - away]
    mean = float(in_order[away : len(values) - away].mean(dtype=np.float64))
    starts = np.arange(BLOCKS + 1) * len(values) // BLOCKS
    sums = np.add.reduceat(np.clip(values, low, high), starts[:-1], dtype=np.float64)
    return mean, sums / np.diff(starts) / (1 - 2 * TRIMMED_SHARE), float(high) - float(low)


def _sd_of_mean(blocks: Array) -> float:
    """Standard deviation of the mean of block means, of which neighbours may still go together."""
    off = blocks - blocks.mean()
    squares = float(np.sum(off**2))
    if squares == 0:
        return 0.0
    together = max(0.0, float(np.sum(off[1:] * off[:-1])) / squares)
    return float(np.sqrt(squares / (BLOCKS - 1) / BLOCKS * (1 + 2 * together)))


def _clipping(light: Array, white_signal: float) -> tuple[Clipped, float]:
    """At which end of the scale pixels pile up, in the channel that is worst."""
    white = float((light >= WHITEST * white_signal).mean(axis=0).max())
    black = float((light <= BLACKEST * white_signal).mean(axis=0).max())
    share = max(white, black)
    if share < CLIPPED_SHARE:
        return "", share
    return ("white" if white >= black else "black"), share
