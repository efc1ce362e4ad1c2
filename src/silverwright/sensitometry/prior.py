"""What is believed of a paper's curve before its patches are seen: the prior that the intervals rest on."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from silverwright.sensitometry.shapes import Array


@dataclass(frozen=True, slots=True)
class Normal:
    """A normal belief: its middle and one standard deviation."""

    value: float
    sd: float


@dataclass(frozen=True, slots=True)
class CurvePrior:
    """Normal beliefs of every parameter of the shapes, and of the noise of one patch (its natural logarithm)."""

    dmin: Normal
    log_net: Normal
    middle_log10: Normal
    log_slope: Normal
    log_power: Normal
    log_slope_ratio: Normal
    log_apart: Normal
    logit_share: Normal
    log_noise: Normal

    def of(self, names: Sequence[str]) -> tuple[Array, Array]:
        """Middles and standard deviations of the parameters of these names."""
        beliefs: list[Normal] = [getattr(self, name) for name in names]
        return np.array([one.value for one in beliefs]), np.array([one.sd for one in beliefs])
