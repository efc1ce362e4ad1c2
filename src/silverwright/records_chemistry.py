"""Frozen records of the darkroom's chemistry: what a substance is, how strong something is, what a vessel holds. As in records.py."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

StrengthUnit = Literal["% w/w", "% w/v", "g/L", "mol/L", "volumes"]
State = Literal["solid", "liquid", "solution"]
Role = Literal["first developer", "stop", "bleach", "clearing", "second developer", "fixer", "wash aid", "toner"]


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
    pure_g_per_ml: float | None = None  # of a liquid: where its solutions lead beyond the fit


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
    density: DensityModel | None = None  # of the substance without its crystal water
    crystal_water_share: float = 0.0


@dataclass(frozen=True, slots=True)
class Strength:
    """How strong a solution is, in the unit in which somebody said it."""

    amount: float
    unit: StrengthUnit


@dataclass(frozen=True, slots=True)
class Dilution:
    """How much stock and how much water, by scale and by cylinder."""

    stock_g: float
    stock_ml: float
    water_g: float
    water_ml: float


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A measuring cylinder: what it holds, what its marks count in, and how far it may be off (one standard deviation)."""

    holds_ml: float
    step_ml: float
    sd_ml: float = 0.0


@dataclass(frozen=True, slots=True)
class Contents:
    """What a vessel holds: its volume, and the mass of each dissolved substance by its key."""

    volume_ml: float
    mass_g: Mapping[str, float] = field(default_factory=dict)

    def g_per_l(self, key: str) -> float:
        """How much of one substance is in a litre of it."""
        return 1000 * self.mass_g.get(key, 0.0) / self.volume_ml if self.volume_ml > 0 else 0.0


@dataclass(frozen=True, slots=True)
class Part:
    """One substance of a recipe: how much of it, between which limits people use it, and who says so."""

    substance: str
    amount: float
    unit: StrengthUnit
    low: float | None = None
    high: float | None = None
    says: str = ""
    rests: Literal["own", "published", "trade", "judgement"] = "own"
    note: str = ""


@dataclass(frozen=True, slots=True)
class Recipe:
    """
    How a bath is made: its parts in the order in which they go into the water, what it is for, what can hurt, and who says so.

    A ready-made concentrate has no parts of which we could know, only the parts of water that go to one of it.
    """

    name: str
    version: str
    roles: tuple[Role, ...]
    parts: tuple[Part, ...]
    use: str = ""
    says: str = ""
    rests: Literal["own", "published", "trade", "judgement"] = "own"
    cautions: tuple[str, ...] = ()
    water_parts: float | None = None
    against: str = ""  # why it is not recommended, where it is not

    @property
    def role(self) -> Role:
        """What it is for in the first place."""
        return self.roles[0]


@dataclass(frozen=True, slots=True)
class IonAt:
    """So much of an ion or an acid in a solution: its charge with all its protons on it, and a constant for each that it can give up."""

    name: str
    charge: int
    mol_per_l: float
    pk: tuple[float, ...] = ()
    pk_sd: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Acidity:
    """How acid a solution is, and how much strong alkali takes it to pH 4, or strong acid to pH 10; below 0 it is past that already."""

    ph: float
    ph_sd: float
    acid_reserve_mol_per_l: float
    alkali_reserve_mol_per_l: float
    reserve_sd_mol_per_l: float = 0.0
    rough: bool = False


@dataclass(frozen=True, slots=True)
class SheetBrings:
    """What one sheet does to a bath: the silver that it leaves there, what it carries in and out, and the carbonate in what it carries in."""

    silver_mol: float
    carried_ml: float
    carbonate_mol_per_l: float = 0.0


@dataclass(frozen=True, slots=True)
class HazardClass:
    """One hazard of a substance by itself: from which strength it counts where that is laid down, and what else the rules reckon with."""

    name: str  # the key of a statement: `eye_1`
    from_percent: float | None = None
    ate: float | None = None  # acute toxicity estimate: mg/kg, and for dust and mist mg/L
    m_factor: float = 1.0
    says: str = ""
    rests: Literal["own", "published", "trade", "judgement"] = "own"


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One substance of a mixture: its name, how much of the mass it is, and its hazards by itself."""

    name: str
    percent: float
    hazards: tuple[HazardClass, ...] = ()


@dataclass(frozen=True, slots=True)
class FoundHazard:
    """A hazard of a mixture, and what it comes from."""

    name: str
    because: str
    says: tuple[str, ...] = ()
    rests: Literal["own", "published", "trade", "judgement"] = "published"


@dataclass(frozen=True, slots=True)
class Statement:
    """How a hazard is said: its class and code, our few words, its shape, and what it asks for."""

    name: str
    hazard_class: str
    code: str
    signal: Literal["Danger", "Warning", ""]
    pictogram: str
    words: str
    brief: str
    gear: tuple[str, ...] = ()
    splash: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HazardRow:
    """One line of what can hurt: code, class and words, its shape, and why it is there."""

    code: str
    hazard_class: str
    words: str
    brief: str
    pictogram: str
    because: str
    says: str
    rests: Literal["own", "published", "trade", "judgement"]


@dataclass(frozen=True, slots=True)
class Hazards:
    """
    What a bottle or a bath can do at its strength, the gravest first.

    `unclassified` are known here, but nobody has laid down a class for them; of `unknown` nothing is known here. Both are always
    named. `named` are all that are in it; where that is empty, nothing is known.
    """

    rules: str
    law: bool
    signal: Literal["Danger", "Warning", ""]
    rows: tuple[HazardRow, ...]
    pictograms: tuple[str, ...]
    unclassified: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    ph: float | None = None
    named: tuple[str, ...] = ()
    gear: tuple[str, ...] = ()
    splash: tuple[str, ...] = ()
    advice: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Apart:
    """Two substances that must not meet: the gas that comes of it, and whether pouring them together is refused."""

    one: str
    other: str
    gas: str
    words: str
    refused: bool
    says: str = ""
