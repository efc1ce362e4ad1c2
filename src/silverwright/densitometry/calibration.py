"""A scanner's signals made into densities, by a step tablet of known densities that was scanned."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from silverwright.densitometry.monotone import line_at, line_slope, misses_left_out
from silverwright.errors import NotEnoughReadings, OutOfRange

Array = npt.NDArray[np.float64]

FEWEST_STEPS: Final = 5  # our judgement: one is left out, two are ends, and two at least must bend
OFFSETS: Final = np.linspace(0, 0.95, 20)  # our judgement: light that is no picture takes at most so much of the darkest step
BETTER_BY: Final = 0.10  # our judgement: an offset must foretell left-out steps better by a tenth, or it chases their noise
NEAR_STEPS: Final = 5  # our judgement: two steps to each side tell how well this part of the scale is known
ALL_WEIGHT: Final = 4  # our judgement: the whole tablet counts as four more steps, because five alone tell little
MISS_SHARE: Final = 0.68  # arithmetic: a cubic between 4 even steps that are each unsure by s: s sqrt(0.76) read, s sqrt(1.64) missed when left out
BEYOND_DOUBT: Final = 0.5  # our judgement: a straight line drawn on past the tablet is off by half of the way at worst
LN10: Final = float(np.log(10))  # arithmetic


@dataclass(frozen=True, slots=True)
class Calibration:
    """A monotone line from the logarithm of the signal to density, and how far it misses each step that is left out; lightest step last."""

    offset: float
    log_signals: Array
    densities: Array
    misses: Array

    @property
    def inner_misses(self) -> Array:
        """Those of the steps between the ends: only they are foretold from both sides."""
        return self.misses[1:-1]

    @property
    def largest_miss(self) -> float:
        """The largest of them."""
        return float(np.abs(self.inner_misses).max())

    @property
    def rms_miss(self) -> float:
        """Their root mean square."""
        return float(np.sqrt(np.mean(self.inner_misses**2)))


@dataclass(frozen=True, slots=True)
class Reading:
    """A density read through a calibration, its doubt, and how far it lies beyond the tablet (in steps of the tablet; 0 within)."""

    density: float
    sd: float
    beyond_steps: float


def calibrate(densities: Array, signals: Array) -> Calibration:
    """
    What density belongs to a signal of this scanner.

    D = f(log10(s - c)), f: monotone cubic pieces through the steps; c = 0, or the one at which left-out steps are missed least

    Args:
        densities: Known densities of the steps, in any order. [1]
        signals: Their signals, linear light on any scale; falling while density rises. [any] > 0

    Returns:
        The calibration. Uncertainty: its misses: each step is left out and foretold from the others, so tablet, scanner and line count together.

    Raises:
        NotEnoughReadings: fewer than 5 steps.
        OutOfRange: a signal not above 0; steps that do not fall while density rises.

    Source:
        itg1998, a step tablet in a film scanner; our judgement for line and offset.
    """
    if len(densities) < FEWEST_STEPS:
        raise NotEnoughReadings("steps", len(densities), FEWEST_STEPS)
    if signals.min() <= 0:
        raise OutOfRange("signal", float(signals.min()), "above 0")
    order = np.argsort(signals)
    rising, falling = signals[order].astype(np.float64), densities[order].astype(np.float64)
    if np.any(np.diff(rising) <= 0) or np.any(np.diff(falling) >= 0):
        raise OutOfRange("steps that turn back", float(np.sum(np.diff(falling) >= 0)), "none: light must fall while density rises")
    tried = [misses_left_out(np.log10(rising - part * rising[0]), falling) for part in OFFSETS]
    sizes = [float(np.sqrt(np.mean(misses[1:-1] ** 2))) for misses in tried]
    best = int(np.argmin(sizes))
    best = best if sizes[best] < (1 - BETTER_BY) * sizes[0] else 0
    offset = float(OFFSETS[best] * rising[0])
    return Calibration(offset, np.log10(rising - offset), falling, tried[best])


@dataclass(frozen=True, slots=True)
class Doubts:
    """What a calibration cannot know of itself: the tablet's own doubt as a whole, and by how much stray light may differ, as a share of white."""

    tablet_density: float = 0.0
    stray_share: float = 0.0


def read_density(calibration: Calibration, signal: float, relative_sd: float, doubts: Doubts) -> Reading:
    """
    How dense is a patch that sends this much light?

    sd^2 = (0.68 m)^2 + t^2 + (D' q s / ((s - c) ln 10))^2 + (v 10^D / ln 10)^2 + (b/2)^2; m: misses near by, t: the tablet's own doubt,
    q: relative doubt of the signal, v: stray light that differs, b: density beyond the tablet

    Args:
        calibration: The scanner's.
        signal: Linear light of the patch, on the calibration's scale. [any] above its offset
        relative_sd: Doubt of the signal as a share of it, one standard deviation. [1] >= 0
        doubts: What the calibration cannot know: one standard deviation each.

    Returns:
        Density; beyond the tablet along the straight line of its last steps. Uncertainty: one standard deviation, from the rule above.

    Raises:
        OutOfRange: a signal not above the calibration's offset.

    Source:
        our judgement.
    """
    if signal <= calibration.offset:
        raise OutOfRange("signal", signal, f"above {calibration.offset:g}, the light that is no picture")
    place = float(np.log10(signal - calibration.offset))
    density = float(line_at(calibration.log_signals, calibration.densities, np.array([place]))[0])
    slope = float(line_slope(calibration.log_signals, calibration.densities, place))
    noise = slope * relative_sd * signal / ((signal - calibration.offset) * LN10)
    lightest, darkest = float(calibration.densities[-1]), float(calibration.densities[0])
    beyond = max(0.0, lightest - density, density - darkest)
    end = calibration.densities[-2:] if density < lightest else calibration.densities[:2]
    stray = doubts.stray_share * 10**density / LN10
    parts = (MISS_SHARE * _miss_near(calibration, place), doubts.tablet_density, noise, stray, BEYOND_DOUBT * beyond)
    sd = float(np.sqrt(sum(part**2 for part in parts)))
    return Reading(density, sd, beyond / float(end[0] - end[1]))


def step_of_scale(calibration: Calibration, signal: float, signal_step: float) -> float:
    """
    By how much density jumps from one number of the file to the next, at this tone.

    d = D' ds / ((s - c) ln 10)

    Args:
        calibration: The scanner's.
        signal: Linear light of the tone, on the calibration's scale. [any] above its offset
        signal_step: Linear light from one number of the file to the next, there. [the same] > 0

    Returns:
        Step in density. [1] > 0. Uncertainty: that of the line's slope.

    Raises:
        OutOfRange: a signal not above the calibration's offset.

    Source:
        arithmetic of the line, our judgement.
    """
    if signal <= calibration.offset:
        raise OutOfRange("signal", signal, f"above {calibration.offset:g}, the light that is no picture")
    slope = line_slope(calibration.log_signals, calibration.densities, float(np.log10(signal - calibration.offset)))
    return abs(slope) * signal_step / ((signal - calibration.offset) * LN10)


def _miss_near(calibration: Calibration, place: float) -> float:
    """Root mean square of the misses near this tone, held by that of the whole tablet."""
    squares = calibration.inner_misses**2
    near = np.argsort(np.abs(calibration.log_signals[1:-1] - place))[:NEAR_STEPS]
    return float(np.sqrt((squares[near].sum() + ALL_WEIGHT * squares.mean()) / (len(near) + ALL_WEIGHT)))
