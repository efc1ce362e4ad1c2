"""A recipe made up to a volume: what is taken from each bottle, the water, what scale and cylinder make of it, and what is missing."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import hypot
from typing import Final, Literal, cast

from silverwright.chemistry.density import solution_density_g_per_ml, water_density_g_per_ml
from silverwright.chemistry.mixing import cylinder_for, settable_g, settable_ml
from silverwright.chemistry.recipe import shares_g, strongest_share, water_to_add_g
from silverwright.chemistry.strength import LITRES_PER_MOL, anhydrous_g
from silverwright.facts.load import fact, table
from silverwright.questions.bottles import Bottle, BottleRow, bottles_for
from silverwright.questions.dilution import cylinders
from silverwright.questions.ingredients import IngredientRow, contents_of, density_of, substance_or_unknown
from silverwright.records_chemistry import Contents, Part, StrengthUnit, Substance

By = Literal["weight", "volume"]
LAST: Final = 50  # our judgement: a substance without a place of its own goes in among the salts


@dataclass(frozen=True, slots=True)
class Handling:
    """How a substance goes in: its place in the order, the caution before it, how to pour."""

    place: int
    caution: str
    how: str


@dataclass(frozen=True, slots=True)
class Pour:
    """What is taken from one bottle: reckoned, and as scale and cylinder give it."""

    part: Part
    bottle: Bottle
    exact_g: float
    weighed_g: float
    measured_ml: float | None
    sd_share: float

    @property
    def exact_ml(self) -> float | None:
        """Reckoned, as a volume; a solid has none that could be measured."""
        return None if self.bottle.solid else self.exact_g / self.bottle.density_g_per_ml


@dataclass(frozen=True, slots=True)
class Missing:
    """What the bottles do not give: how much more of which stock is needed."""

    bottle: Bottle
    more_g: float


@dataclass(frozen=True, slots=True)
class Mixture:
    """A recipe made up to a volume."""

    parts: tuple[Part, ...]
    wanted: Contents
    whole_g: float
    pours: tuple[Pour, ...]
    water_g: float
    water_ml: float
    first_water_ml: float
    filled_up: bool
    reached: Contents
    reached_sd_share: dict[str, float]
    missing: tuple[Missing, ...]
    strongest_share: float
    celsius: float

    @property
    def possible(self) -> bool:
        """Whether the bottles are strong enough for it."""
        return self.strongest_share >= 1


def mixture(parts: Sequence[Part], volume_ml: float, celsius: float, rows: Sequence[BottleRow], by: By = "weight") -> Mixture:
    """So much of a recipe out of these bottles; where a bottle does not suffice, the rest is reckoned from the same, and said to be missing."""
    wanted = contents_of([IngredientRow(substance=one.substance, amount=one.amount, unit=one.unit) for one in parts], volume_ml, celsius)
    whole_g = volume_ml * density_of(wanted, celsius)
    pours: list[Pour] = []
    missing: list[Missing] = []
    for part in parts:
        bottles = bottles_for(part.substance, rows, celsius)
        dry_g = anhydrous_g(wanted.mass_g[substance_or_unknown(part.substance).key], substance_or_unknown(part.substance))
        shares = shares_g(dry_g, [one.offer for one in bottles])
        taken_g = list(shares.taken_g)
        if shares.missing_g > 0:
            more_g = shares.missing_g / bottles[-1].offer.dry_fraction
            taken_g[-1] += more_g
            missing.append(Missing(bottles[-1], more_g))
        pours += [_poured(part, bottle, one_g) for bottle, one_g in zip(bottles, taken_g, strict=True) if one_g > 0]
    exact_g = [one.exact_g for one in pours]
    water_g = max(0.0, water_to_add_g(whole_g, exact_g))
    water_ml = water_g / water_density_g_per_ml(celsius)
    filled_up = any(one.bottle.solid for one in pours)
    first_ml = min(water_ml, fact("vessel", "first_water").value * volume_ml) if filled_up else water_ml
    reached, sd_share = _reached(_Set(wanted, pours, _set_ml(water_ml), filled_up, by, celsius))
    return Mixture(
        parts=tuple(parts),
        wanted=wanted,
        whole_g=whole_g,
        pours=tuple(pours),
        water_g=water_g,
        water_ml=water_ml,
        first_water_ml=first_ml,
        filled_up=filled_up,
        reached=reached,
        reached_sd_share=sd_share,
        missing=tuple(missing),
        strongest_share=strongest_share(whole_g, exact_g),
        celsius=celsius,
    )


def in_order(parts: Sequence[Part]) -> tuple[Part, ...]:
    """Parts of one's own in the order in which they go in."""
    return tuple(sorted(parts, key=lambda one: handling(one.substance).place))


@cache
def handling(name: str) -> Handling:
    """How a substance goes in; of one that is not known here only its data sheet tells."""
    key = substance_or_unknown(name).key
    row = next((one for one in table("pouring") if one["substance"] == key), None)
    if row is None:
        return Handling(LAST, "Nothing is known of it here: read its safety data sheet before you open it.", "stir until it is clear")
    return Handling(int(row["place"]), row["caution"], row["how"])


def strength_of(contents: Contents, part: Part, celsius: float) -> float:
    """How strong a part is in a solution, in the unit of the recipe."""
    known = substance_or_unknown(part.substance)
    strength_g_per_l = contents.g_per_l(known.key)
    if part.unit == "% w/w":
        return 100 * contents.mass_g.get(known.key, 0.0) / (contents.volume_ml * density_of(contents, celsius))
    if part.unit in {"g/L", "% w/v"}:
        return strength_g_per_l / (10 if part.unit == "% w/v" else 1)
    return _per_mole(strength_g_per_l, part.unit, known)


def _per_mole(strength_g_per_l: float, unit: StrengthUnit, known: Substance) -> float:
    strength_mol_per_l = strength_g_per_l / known.molar_g_per_mol
    return strength_mol_per_l if unit == "mol/L" else strength_mol_per_l * LITRES_PER_MOL / 2  # 2 H2O2 -> 2 H2O + O2


def _poured(part: Part, bottle: Bottle, exact_g: float) -> Pour:
    step = fact("settable", "scale_step")
    weighed_g = settable_g(exact_g, step.value)
    if bottle.solid:
        return Pour(part, bottle, exact_g, weighed_g, None, hypot(bottle.sd_share, step.sd / exact_g))
    measured_ml = _set_ml(exact_g / bottle.density_g_per_ml)
    return Pour(part, bottle, exact_g, weighed_g, measured_ml, hypot(bottle.sd_share, step.sd / exact_g))


def _set_ml(volume_ml: float) -> float:
    return settable_ml(volume_ml, cylinders())


@dataclass(frozen=True, slots=True)
class _Set:
    """What scale, cylinder and jug are set to."""

    wanted: Contents
    pours: Sequence[Pour]
    water_ml: float
    filled_up: bool
    by: By
    celsius: float


def _reached(found: _Set) -> tuple[Contents, dict[str, float]]:
    """What is in it after rounding, and how unsure that is: the label, the scale or the cylinder, and the mark of the jug."""
    mass_g = dict.fromkeys(found.wanted.mass_g, 0.0)
    variance = dict.fromkeys(found.wanted.mass_g, 0.0)
    whole_g = found.water_ml * water_density_g_per_ml(found.celsius)
    for one in found.pours:
        by_volume = found.by == "volume" and one.measured_ml is not None
        taken_g = (one.measured_ml or 0.0) * one.bottle.density_g_per_ml if by_volume else one.weighed_g
        known = substance_or_unknown(one.part.substance)
        pure_g = taken_g * one.bottle.offer.dry_fraction / (1 - known.crystal_water_share)
        mass_g[known.key] += pure_g
        variance[known.key] += (pure_g * (hypot(one.bottle.sd_share, _cylinder_sd(one)) if by_volume else one.sd_share)) ** 2
        whole_g += taken_g
    mark = fact("vessel", "jug_mark").sd if found.filled_up else _water_sd_share(found.water_ml, whole_g)
    volume_ml = found.wanted.volume_ml if found.filled_up else whole_g / _density_of_masses(mass_g, whole_g, found.celsius)
    return Contents(volume_ml, mass_g), {key: hypot(variance[key] ** 0.5 / held, mark) if held > 0 else 0.0 for key, held in mass_g.items()}


def _cylinder_sd(pour: Pour) -> float:
    volume_ml = pour.exact_ml or 0.0
    return cylinder_for(volume_ml, cylinders()).sd_ml / volume_ml if volume_ml > 0 else 0.0


def _water_sd_share(water_ml: float, whole_g: float) -> float:
    return cylinder_for(water_ml, cylinders()).sd_ml / whole_g if whole_g > 0 else 0.0


def _density_of_masses(mass_g: dict[str, float], whole_g: float, celsius: float) -> float:
    return solution_density_g_per_ml([(substance_or_unknown(key), held / whole_g) for key, held in mass_g.items()], celsius)


def as_parts(rows: Sequence[IngredientRow], volume_ml: float, celsius: float) -> tuple[Part, ...]:
    """Parts of one's own: amounts for the whole volume become grams in a litre."""
    parts = []
    for row in rows:
        if row.unit in {"g", "mL"}:
            held = contents_of([row], volume_ml, celsius)
            parts.append(Part(row.substance, next(iter(held.mass_g.values())) * 1000 / volume_ml, "g/L", says="as typed"))
        else:
            parts.append(Part(row.substance, row.amount, cast("StrengthUnit", row.unit), says="as typed"))
    return tuple(parts)
