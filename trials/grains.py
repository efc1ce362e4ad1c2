"""
A paper made of two kinds of grains, coarse and fine, each developable from its own exposure on.

Silver is counted first, and density saturates with silver: neither step is a logistic, which is what the engine fits.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Grains:
    """
    One paper in one process, as a direct positive: what the first developer leaves makes the picture.

    Coarse grains are the first `coarse_share` of the silver; fine ones need `apart_log10` more exposure. `developed_share` of all silver can
    be developed at all: the rest stays and veils the highlights. Density grows with silver as 1 - exp(-saturation_exponent * silver).
    """

    coarse_share: float
    apart_log10: float
    coarse_width_log10: float
    fine_width_log10: float
    developed_share: float
    saturation_exponent: float
    veil_density: float
    dmax_density: float
    middle_log10: float = 0.0

    def density(self, exposure_log10: npt.ArrayLike) -> Floats:
        """Reflection density of the finished positive where so much light fell."""
        x = np.asarray(exposure_log10, dtype=np.float64) - self.middle_log10
        coarse = ndtr(x / self.coarse_width_log10)
        fine = ndtr((x - self.apart_log10) / self.fine_width_log10)
        left = 1 - self.developed_share * (self.coarse_share * coarse + (1 - self.coarse_share) * fine)
        black = (1 - np.exp(-self.saturation_exponent * left)) / (1 - np.exp(-self.saturation_exponent))
        return np.asarray(self.veil_density + (self.dmax_density - self.veil_density) * black)

    def exposure_log10(self, density: float) -> float:
        """Where this density is reached, by halving; the highest or lowest exposure of 12 decades where it never is."""
        low, high = self.middle_log10 - 6, self.middle_log10 + 6
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if float(self.density(middle)) > density else (low, middle)
        return (low + high) / 2


def draw_grains(dice: np.random.Generator, *, steeper_factor: float = 1.0) -> Grains:
    """A paper from the spread that photographers meet; all spreads are our assumption. `steeper_factor` shrinks every width."""
    return Grains(
        coarse_share=dice.uniform(0.55, 0.90),
        apart_log10=dice.uniform(0.0, 0.4) / steeper_factor,
        coarse_width_log10=dice.uniform(0.12, 0.30) / steeper_factor,
        fine_width_log10=dice.uniform(0.12, 0.30) / steeper_factor,
        developed_share=dice.uniform(0.985, 0.998),
        saturation_exponent=dice.uniform(1.2, 2.8),
        veil_density=0.05 + dice.uniform(0.0, 0.04),
        dmax_density=dice.normal(1.75, 0.15),
    )
