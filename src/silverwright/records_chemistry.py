"""Frozen records of the darkroom's chemistry: what a substance is, how strong something is, what a vessel holds. As in records.py."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

StrengthUnit = Literal["% w/w", "% w/v", "g/L", "mol/L", "volumes"]
State = Literal["solid", "liquid", "solution"]


@dataclass(frozen=True, slots=True)
class DensityModel:
    """
    How dense a solution of one substance is: the five coefficients of its apparent density, and where they hold.

    Source of the form: laliberte2009.
    """

    c0: float
    c1: float
    c2: float
    c3: float
    c4: float
    most_fraction: float = 1.0
    lowest_celsius: float = 0.0
    highest_celsius: float = 100.0


@dataclass(frozen=True, slots=True)
class Substance:
    """A substance by its key: its name, its mole, how much of it water takes, and its density in water where that is known."""

    key: str
    name: str
    formula: str
    molar_g_per_mol: float
    state: State = "solid"
    anhydrous: str = ""  # the key of the same substance without its crystal water
    solubility_g_per_l: float | None = None
    density: DensityModel | None = None


@dataclass(frozen=True, slots=True)
class Strength:
    """How strong a solution is, in the unit in which somebody said it."""

    amount: float
    unit: StrengthUnit


@dataclass(frozen=True, slots=True)
class Contents:
    """What a vessel holds: its volume, and the mass of each dissolved substance by its key."""

    volume_ml: float
    mass_g: Mapping[str, float] = field(default_factory=dict)

    def g_per_l(self, key: str) -> float:
        """How much of one substance is in a litre of it."""
        return 1000 * self.mass_g.get(key, 0.0) / self.volume_ml if self.volume_ml > 0 else 0.0
