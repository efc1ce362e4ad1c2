"""A lens as it stands with what is unsure about it, and what of the scene must be sharp."""

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot, log, sqrt
from typing import Final

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate
from silverwright.exposure.bellows import magnification_from_distance
from silverwright.exposure.focus import middle_magnification
from silverwright.facts.load import fact
from silverwright.records import Focus

FAR_AWAY_MM: Final = 1e9  # arithmetic: a thousand kilometres is as good as the horizon


@dataclass(frozen=True, slots=True)
class Setting:
    """The lens as it stands, with what is unsure about it: the shares by which opening and pupil, and the size by which magnification may be off."""

    focal_mm: float
    magnification: float
    magnification_sd: float
    pupil_factor: float
    pupil_sd: float
    f_number: float | None
    aperture_sd_stops: float

    @property
    def focus(self) -> Focus:
        """As kernels take it; a lens whose opening nobody said counts as f/1 where it does not matter."""
        return Focus(self.focal_mm, self.f_number or 1.0, self.magnification, self.pupil_factor)

    def of(self, value_of: Callable[[Focus], float]) -> tuple[float, float]:
        """A figure of this setting, and its standard deviation from differences: opening, magnification and pupil each moved by their own."""
        at = self.focus
        moves = [(1 + self.aperture_sd_stops * log(2) / 2, 0.0, 1.0), (1.0, self.magnification_sd, 1.0), (1.0, 0.0, 1 + self.pupil_sd)]
        apart = []
        for times, more, pupil in moves:
            up = Focus(at.focal_mm, at.f_number * times, at.magnification + more, at.pupil_magnification * pupil)
            down = Focus(at.focal_mm, at.f_number / times, max(0.0, at.magnification - more), at.pupil_magnification / pupil)
            apart.append((value_of(up) - value_of(down)) / 2)
        return value_of(at), hypot(*apart)

    def spread(self, nearest_mm: float | None, farthest_mm: float | None, on_rail_mm: float | None) -> "Spread | None":
        """How far the back moves between near and far in focus, by the rail or worked out; nothing where nobody says what must be sharp."""
        if nearest_mm is None and on_rail_mm is None:
            return None
        if nearest_mm is None:
            half = (on_rail_mm or 0.0) / self.focal_mm / 2
            return Spread(on_rail_mm or 0.0, _rail_mm(), self.magnification, self.magnification + half, max(0.0, self.magnification - half))
        near, far = (self.magnification_at(one) for one in (nearest_mm, farthest_mm or FAR_AWAY_MM))
        by_tape, share = self.focal_mm * (near - far), fact("lens", "distance").sd
        sd = share * self.focal_mm * hypot(near * (1 + near), far * (1 + far))
        middle = middle_magnification(near, far, self.pupil_factor)
        if on_rail_mm is not None:
            return Spread(on_rail_mm, _rail_mm(), middle, near, far, by_tape)
        return Spread(by_tape, sd, middle, near, far)

    def magnification_at(self, subject_mm: float) -> float:
        """How large something at that distance would come out, if the lens were focused on it."""
        return magnification_from_distance(subject_mm, self.focal_mm)


@dataclass(frozen=True, slots=True)
class Spread:
    """What must be sharp: the way on the rail with its doubt, the magnifications of its middle and ends, and the way by tape where both are known."""

    rail_mm: float
    rail_sd_mm: float
    middle_magnification: float
    near_magnification: float
    far_magnification: float
    by_tape_mm: float | None = None


def _rail_mm() -> float:
    """A way on the rail is two readings."""
    return sqrt(2) * fact("lens", "infinity").sd


def from_inverse(value_per_mm: float, sd_per_mm: float) -> Estimate:
    """A distance with its limits; the horizon is no number, and its limit is open."""
    low, high = value_per_mm - EIGHTY_PERCENT_SD * sd_per_mm, value_per_mm + EIGHTY_PERCENT_SD * sd_per_mm
    least = 1 / FAR_AWAY_MM
    return Estimate(
        value=1 / value_per_mm if value_per_mm > least else None,
        low=1 / high if high > least else None,
        high=1 / low if low > least else None,
        percent=80,
    )


def widest_f_number(rail_mm: float, left_mm2: float, diffraction_of_one_mm: float) -> float | None:
    """The smallest N at which (dV / 2 N)^2 + (d N)^2 is what is left of the wanted blur; nothing where no N is sharp enough."""
    root = left_mm2**2 - (rail_mm * diffraction_of_one_mm) ** 2
    if left_mm2 <= 0 or root < 0:
        return None
    return rail_mm / sqrt(2 * (left_mm2 + sqrt(root)))
