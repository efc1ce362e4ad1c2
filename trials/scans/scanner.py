"""A flatbed: light that strays, a response of its own, noise that is not independent from pixel to pixel."""

from dataclasses import dataclass

import numpy as np
from scipy.ndimage import gaussian_filter, zoom

from trials.grains import Floats

PUBLISHED_FULL = 255.0
GLARE_REACH_MM = 5.0
GAMMA = 563 / 256  # 2.2 as a profile can say it


def published_signal(density: Floats) -> Floats:
    """
    Signal of the scanner whose table was published, 1 at the whitest: D = 2.2105 - 1.0526 ((255 - pv) / 55)^0.4878, turned round.

    University of Illinois, Imaging Technology Group, report 98-006. 255 - pv falls as density rises. It ends at density 2.2105.
    """
    return np.asarray(55 / PUBLISHED_FULL * (np.maximum(2.2105 - density, 0.0) / 1.0526) ** (1 / 0.4878))


@dataclass(frozen=True)
class Scanner:
    """One scanner. `response` is "published" or "linear"; the profile's tone curve is "linear", "gamma 2.2" or "sRGB"."""

    response: str
    stray_share: float  # of full scale, on every pixel, from inside the scanner
    glare_share: float  # of the light of the neighbourhood, thrown back on the paper by glass and lid
    channel_factors: tuple[float, float, float]
    noise_share: float  # of full scale, in the dark
    shot_share: float  # of full scale, at full scale
    uneven_share: float  # of the lamp along its length
    blur_px: float
    tone_curve: str

    def signal(self, reflectance: Floats, px_per_mm: float, dice: np.random.Generator) -> Floats:
        """What the sensor tells of reflectances (height, width, 3), linear, 0 to 1 of full scale, before it is cut to numbers."""
        seen = np.stack([gaussian_filter(one, self.blur_px) for one in np.moveaxis(reflectance, 2, 0)], axis=2)
        seen = (seen + self.glare_share * neighbourhood(seen, px_per_mm)) / (1 + self.glare_share)
        if self.response == "published":
            seen = published_signal(-np.log10(np.maximum(seen, 1e-6)))
        seen = seen * np.array(self.channel_factors) * self._lamp(seen.shape[1])[:, None] + self.stray_share
        return np.asarray(np.clip(seen + self._noise(seen, dice), 0.0, 1.0))

    def _lamp(self, width_px: int) -> Floats:
        """The lamp is brightest in the middle."""
        place = np.linspace(-1, 1, width_px)
        return np.asarray(1 - self.uneven_share * place**2)

    def _noise(self, seen: Floats, dice: np.random.Generator) -> Floats:
        """Half of the noise is shared by neighbours, and every column of the sensor has its own fault."""
        sd = np.sqrt(self.noise_share**2 + self.shot_share**2 * seen)
        smooth = gaussian_filter(dice.standard_normal(seen.shape), (0.8, 0.8, 0))
        columns = dice.standard_normal((1, *seen.shape[1:]))
        return np.asarray(sd * (0.7 * dice.standard_normal(seen.shape) + 0.7 * smooth / smooth.std() + 0.15 * columns))


def neighbourhood(light: Floats, px_per_mm: float) -> Floats:
    """The mean light within some millimetres of each pixel, worked out on a coarse picture."""
    coarse = max(1, int(px_per_mm * GLARE_REACH_MM / 4))
    small = light[::coarse, ::coarse]
    smooth = gaussian_filter(small, (GLARE_REACH_MM * px_per_mm / coarse, GLARE_REACH_MM * px_per_mm / coarse, 0), mode="nearest")
    scale = light.shape[0] / small.shape[0], light.shape[1] / small.shape[1], 1
    return np.asarray(zoom(smooth, scale, order=1, mode="nearest", grid_mode=True))


def draw_scanner(dice: np.random.Generator) -> Scanner:
    """A scanner out of the shop; all spreads are our assumption."""
    middle = dice.uniform(0.86, 0.96)
    return Scanner(
        response="published" if dice.random() < 1 / 3 else "linear",
        stray_share=dice.uniform(0.0, 0.002),
        glare_share=dice.uniform(0.001, 0.004),
        channel_factors=(middle * dice.normal(1, 0.02), middle, middle * dice.normal(1, 0.02)),
        noise_share=dice.uniform(0.0002, 0.0006),
        shot_share=dice.uniform(0.002, 0.004),
        uneven_share=dice.uniform(0.0, 0.01),
        blur_px=dice.uniform(0.6, 1.0),
        tone_curve=("linear", "gamma 2.2", "sRGB")[dice.integers(3)],
    )


def encoded(signal: Floats, tone_curve: str) -> Floats:
    """The number that the file holds for a linear signal, 0 to 1, by the tone curve that the profile names."""
    if tone_curve == "linear":
        return signal
    if tone_curve == "gamma 2.2":
        return np.asarray(signal ** (1 / GAMMA))
    return np.where(signal <= 0.0031308, 12.92 * signal, 1.055 * np.maximum(signal, 1e-9) ** (1 / 2.4) - 0.055)
