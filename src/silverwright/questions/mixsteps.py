"""A mixture as steps at the bench: the caution before each amount, what is weighed or measured, how it goes in."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log10
from typing import Final

from silverwright.asking.operation import EIGHTY_PERCENT_SD
from silverwright.chemistry.density import water_density_g_per_ml
from silverwright.chemistry.mixing import settable_g, settable_ml
from silverwright.facts.load import fact
from silverwright.questions.dilution import cylinders
from silverwright.questions.ingredients import substance_or_unknown
from silverwright.questions.mixture import By, Mixture, Pour, handling, strength_of
from silverwright.questions.substances import named
from silverwright.records_chemistry import Part
from silverwright.units import GRAM, MILLILITRE

NEXT: Final = 1.5  # arithmetic: a whole and its half


@dataclass(frozen=True, slots=True)
class Step:
    """One step at the bench; the caution is read before the amount."""

    caution: str
    what: str
    weigh: str
    measure: str
    how: str


@dataclass(frozen=True, slots=True)
class Strength:
    """How strong a part is in the end, with its limits, beside what was wanted."""

    part: Part
    reached_amount: float
    low: float
    high: float

    @property
    def sentence(self) -> str:
        """`Hydrogen peroxide 8.99 % w/w, 80 % limits 8.76 to 9.22; wanted 9.`"""
        name = named(self.part.substance)
        limits = f"80 % limits {_short(self.low)} to {_short(self.high)}"
        return f"{name[:1].upper()}{name[1:]} {_short(self.reached_amount)} {self.part.unit}, {limits}; wanted {_short(self.part.amount)}."


def steps_of(mix: Mixture, by: By, *, bleach: bool) -> tuple[Step, ...]:
    """Water first, then part after part in the order of the recipe, and water up to the mark where a solid is in it."""
    water_ml = settable_ml(mix.first_water_ml, cylinders())
    kind = "distilled water" if bleach else "water"
    weigh = "" if mix.filled_up else grams_said(settable_g(water_ml * water_density_g_per_ml(mix.celsius), fact("settable", "scale_step").value))
    steps = [Step("", kind, weigh, f"{water_ml:g} mL", "into a jug of glass or plastic, with room to stir")]
    steps += [_step(one, by) for one in mix.pours]
    if mix.filled_up:
        rest = MILLILITRE.show(mix.wanted.volume_ml)
        steps.append(Step("", f"{kind}, the rest", "", f"up to {rest}", "stir until it is clear, and fill up to the mark"))
    return tuple(steps)


def concentrate_steps(volume_ml: float, water_parts: float, *, name: str) -> tuple[Step, ...]:
    """A ready-made concentrate: so many parts of water to one of it, by volume as its label means it."""
    one_ml = volume_ml / (1 + water_parts)
    water_ml, bottle_ml = settable_ml(volume_ml - one_ml, cylinders()), settable_ml(one_ml, cylinders())
    return (
        Step("", "water", "", f"{water_ml:g} mL", "into a jug of glass or plastic, with room to stir"),
        Step("Its label and its safety data sheet first; goggles and gloves on.", name, "", f"{bottle_ml:g} mL", "into the water, slowly, stirring"),
    )


def strengths_of(mix: Mixture) -> tuple[Strength, ...]:
    """Each part as it comes out after rounding."""
    found = []
    for part in mix.parts:
        reached = strength_of(mix.reached, part, mix.celsius)
        reach = EIGHTY_PERCENT_SD * mix.reached_sd_share[substance_or_unknown(part.substance).key]
        found.append(Strength(part, reached, max(0.0, reached * (1 - reach)), reached * (1 + reach)))
    return tuple(found)


def shopping_of(mix: Mixture) -> tuple[str, ...]:
    """What has to be bought, a sentence for each."""
    said = []
    for one in mix.missing:
        volume = "" if one.bottle.solid else f" ({MILLILITRE.show(one.more_g / one.bottle.density_g_per_ml)})"
        strength = f", {one.bottle.said}" if one.bottle.said else ""
        said.append(f"{one.bottle.known.name}{strength}: {GRAM.show(one.more_g)}{volume} more.")
    return tuple(said)


def grams_said(mass_g: float) -> str:
    """`265.3 g`: as many places as the scale shows."""
    places = max(0, round(-log10(fact("settable", "scale_step").value)))
    return f"{mass_g:.{places}f} g"


def coarse(mix: Mixture, share: float) -> Sequence[Pour]:
    """What the scale cannot set well."""
    return [
        one for one in mix.pours if abs(one.weighed_g / one.exact_g - 1) > share or fact("settable", "scale_step").sd / one.exact_g > share * NEXT
    ]


def _step(pour: Pour, by: By) -> Step:
    known = handling(pour.part.substance)
    name = named(pour.bottle.known.key)
    what = name if pour.bottle.name == name else f"{name}, from “{pour.bottle.name}”" if not pour.bottle.usual else pour.bottle.name
    if pour.bottle.said and not pour.bottle.usual:
        what = f"{what}, {pour.bottle.said}"
    measure = "" if pour.measured_ml is None else f"{pour.measured_ml:g} mL"
    if measure and by == "weight":
        measure = f"or {measure}"
    return Step(known.caution, what, grams_said(pour.weighed_g), measure, pour.part.note if pour.part.note and not pour.part.says else known.how)


def _short(value: float) -> str:
    return f"{value:.3g}" if value < 100 else f"{value:.0f}"  # noqa: PLR2004 (three figures that count)
