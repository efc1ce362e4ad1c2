"""What each patch of a step sheet got: behind a step tablet, by time, or by aperture."""

from collections.abc import Sequence
from math import log10
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.records import PatchLight

STOP_LOG10: Final = log10(2)  # arithmetic


def even_tablet(first_density: float, step_density: float, steps: int) -> tuple[float, ...]:
    """
    The densities of a step tablet whose steps are all alike.

    D_i = D_1 + (i - 1) step

    Args:
        first_density: Density of the clearest step. [1] any
        step_density: From one step to the next. [1] > 0
        steps: How many. [1] >= 2

    Returns:
        Densities, clearest first. [1] Uncertainty: what the maker states, about 0.01 for a calibrated one.

    Raises:
        OutOfRange: step_density not above 0, or fewer than two steps.

    Source:
        common practice, no source (21 steps of 0.15 from 0.05).
    """
    if step_density <= 0:
        raise OutOfRange("step_density", step_density, "above 0")
    if steps < 2:  # noqa: PLR2004 (one step is none)
        raise OutOfRange("steps", steps, "2 or more")
    return tuple(first_density + number * step_density for number in range(steps))


def patch_log10(patch: PatchLight) -> float:
    """
    The log exposure of one patch.

    log H = log10 E + log10 t - D

    Args:
        patch: Light on the paper, effective time, and the density before the paper.

    Returns:
        Log exposure; of lux seconds where the light is in lux. [log10] Uncertainty: that of light, time and density.

    Raises:
        OutOfRange: light or time not above 0.

    Source:
        iso5, part 2 (density is the negative logarithm of what passes).
    """
    for name, value in (("light_lx", patch.light_lx), ("effective_s", patch.effective_s)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return log10(patch.light_lx) + log10(patch.effective_s) - patch.density


def between_strips_log10(exposure_log10: Sequence[float], strip: float) -> float:
    """
    The log exposure of "strip 3", or of "between 3 and 4" as 3.5.

    Args:
        exposure_log10: One for each strip, in the order exposed. [log10] At least one.
        strip: Number of the strip, from 1. [1] 1 to their count

    Returns:
        Log exposure, in equal parts between two strips. [log10] Uncertainty: that of the eye (facts/paper.csv, strip_by_eye).

    Raises:
        OutOfRange: no such strip.

    Source:
        our judgement.
    """
    if not 1 <= strip <= len(exposure_log10):
        raise OutOfRange("strip", strip, f"1 to {len(exposure_log10)}")
    before = min(int(strip), len(exposure_log10) - 1) if len(exposure_log10) > 1 else 1
    part = strip - before
    after = exposure_log10[min(before, len(exposure_log10) - 1)]
    return (1 - part) * exposure_log10[before - 1] + part * after
