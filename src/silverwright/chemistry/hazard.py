"""What a mixture can do to a body at its strength: the rules by which classes of the ingredients become classes of the whole."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final, Literal

from silverwright.records_chemistry import FoundHazard, HazardClass, Ingredient

Rests = Literal["own", "published", "trade", "judgement"]
Limits = Mapping[str, float]
SUMMED: Final = (("skin", ("skin",)), ("eye", ("skin", "eye")))  # what burns the skin counts as damaging the eye
ALONE: Final = ("skin_allergy", "airway_allergy", "cancer", "genes", "unborn", "organs", "oxidiser", "oxidiser_solid", "flammable", "metal")
TOGETHER: Final = ("airways", "drowsy")
TOLD: Final = ("acid_gas", "deadly_acid_gas", "dries_skin")
PHYSICAL: Final = {"oxidiser", "oxidiser_solid", "flammable", "metal"}
TOXIC: Final = ("oral", "dermal", "mist")
_TIMES_LONG: Final = 10  # arithmetic: each milder category counts what the graver one holds ten times


def classified(ingredients: Sequence[Ingredient], limits: Limits, ph: float | None = None) -> tuple[FoundHazard, ...]:
    """
    What can this mixture do to me, at the strength at which it is?

    sum(Ci / Li) >= 1 for skin, eyes and airways, Li the ingredient's own limit or that of all; Ci >= Li for what each does alone;
    100 / sum(Ci / ATEi) for poisons; sum(M Ci) for life in water; pH <= 2 or >= 11.5 counts as burning

    Args:
        ingredients: What is in it, with how much of the mass each is. [%] 0 to 100
        limits: The limits that hold where an ingredient has none of its own. [%]
        ph: How acid it is, where that is known. [1]

    Returns:
        Each hazard once, in its gravest category, with what it comes from. Uncertainty: that of strengths and pH near a limit.

    Source:
        clp32, section 3.2.3; echa_exercises2012, skin; the other limits from memory, unverified.
    """
    there = [one for one in ingredients if one.percent > 0]
    found = [*_by_ph(ph, limits), *_burning(there, limits), *_alone(there, limits), *_together(there, limits)]
    found += [*_poisonous(there, limits), *_in_water(there, limits)]
    return tuple(_gravest(found))


def ate_of_mixture(ingredients: Sequence[Ingredient], route: str, limits: Limits) -> float | None:
    """
    How much of this mixture would make ill, reckoned from its poisons.

    ATE = 100 / sum(Ci / ATEi)

    Args:
        ingredients: What is in it, with how much of the mass each is. [%] 0 to 100
        route: `oral`, `dermal` or `mist`.
        limits: The limits below which an ingredient does not count. [%]

    Returns:
        Acute toxicity estimate, nothing where no ingredient is a poison by that route. [mg/kg, of mist mg/L]. Uncertainty: a category wide.

    Source:
        from memory, unverified.
    """
    parts = [
        one.percent / hazard.ate
        for one in ingredients
        for hazard in one.hazards
        if _family(hazard) == route and hazard.ate and one.percent >= limits["relevant" if hazard.name.endswith("4") else "relevant_toxic"]
    ]
    return 100 / sum(parts) if parts else None


def own_limit(ingredient: Ingredient, family: str, grade: int, limits: Limits) -> float | None:
    """
    From which strength by itself an ingredient makes a mixture burn or irritate.

    its own limit where one is laid down; else that of all

    Args:
        ingredient: The ingredient with its classes.
        family: `skin` or `eye`.
        grade: 1 for what burns or damages, 2 for what irritates.
        limits: The limits that hold where an ingredient has none of its own. [%]

    Returns:
        The limit, nothing where the ingredient does not do that. [%]. Uncertainty: none, they are laid down.

    Source:
        clp32, section 3.2.3; echa_exercises2012, skin; for eyes from memory, unverified.
    """
    counted = next(families for name, families in SUMMED if name == family)
    graver = [one for one in ingredient.hazards if _family(one) in counted and _grade(one) == 1]
    own = [one for one in graver if _family(one) == family] or graver
    if grade == 1:
        laid_down = [one.from_percent for one in own if one.from_percent is not None]
        return min(laid_down) if laid_down else limits[f"{family}_1"] if own else None
    milder = [one for one in ingredient.hazards if _family(one) == family and _grade(one) == 2]  # noqa: PLR2004 (irritating)
    laid_down = [one.from_percent for one in milder if one.from_percent is not None]
    if laid_down:
        return min(laid_down)
    if graver:
        return limits[f"{family}_2_of_1"]
    return limits[f"{family}_2"] if milder else None


def _by_ph(ph: float | None, limits: Limits) -> list[FoundHazard]:
    if ph is None or limits["acid_ph"] < ph < limits["alkali_ph"]:
        return []
    sign = f"{limits['acid_ph']:g} or below" if ph <= limits["acid_ph"] else f"{limits['alkali_ph']:g} or above"
    return [FoundHazard("ph_1", f"pH {ph:.1f}: at {sign} it counts as burning", ("clp32, section 3.2.3",))]


def _burning(ingredients: Sequence[Ingredient], limits: Limits) -> list[FoundHazard]:
    found = []
    for family, _ in SUMMED:
        for grade in (1, 2):
            parts = [(one, own_limit(one, family, grade, limits)) for one in ingredients]
            counted = [(one, limit) for one, limit in parts if limit is not None and one.percent >= min(limits["relevant"], limit)]
            if sum(one.percent / limit for one, limit in counted) >= 1:
                name = _burn_name(family, grade, [one for one, _ in counted], limits)
                found.append(_found(name, counted, {family, "skin"}))
    return found


def _burn_name(family: str, grade: int, ingredients: Sequence[Ingredient], limits: Limits) -> str:
    """`skin_1b` where one ingredient burns by itself; `skin_1` where only the sum does."""
    if family != "skin" or grade != 1:
        return f"{family}_{grade}"
    own = [
        hazard.name
        for one in ingredients
        for hazard in one.hazards
        if _family(hazard) == "skin" and _grade(hazard) == 1 and one.percent >= (hazard.from_percent or limits["skin_1"])
    ]
    return min(own, default="skin_1")


def _alone(ingredients: Sequence[Ingredient], limits: Limits) -> list[FoundHazard]:
    found = []
    for one in ingredients:
        for hazard in one.hazards:
            family = _family(hazard)
            if family in ALONE or family in TOLD:
                limit = _limit_alone(hazard, family, limits)
                name = hazard.name
                if name == "organs_1" and one.percent < limit:
                    name, limit = "organs_2", limits["organs_2_of_1"]
                if name == "skin_allergy_1" and one.percent < limit:
                    name, limit = "allergy_told_1", limits["allergy_told_1"]
                if one.percent >= limit:
                    found.append(FoundHazard(name, _because([(one, limit)]), (hazard.says,), hazard.rests))
    return found


def _limit_alone(hazard: HazardClass, family: str, limits: Limits) -> float:
    if hazard.from_percent is not None:
        return hazard.from_percent
    if family in PHYSICAL:
        return limits["physical"]
    return limits["euh"] if family in TOLD else limits[f"{family}_{_grade(hazard)}"]


def _together(ingredients: Sequence[Ingredient], limits: Limits) -> list[FoundHazard]:
    found = []
    for family in TOGETHER:
        parts = [
            (one, limits[f"{family}_3"] if hazard.from_percent is None else hazard.from_percent)
            for one in ingredients
            for hazard in one.hazards
            if _family(hazard) == family
        ]
        counted = [(one, limit) for one, limit in parts if one.percent >= min(limits["relevant"], limit)]
        if sum(one.percent / limit for one, limit in counted) >= 1:
            found.append(_found(f"{family}_3", counted, {family}))
    return found


def _poisonous(ingredients: Sequence[Ingredient], limits: Limits) -> list[FoundHazard]:
    found = []
    for route in TOXIC:
        estimate = ate_of_mixture(ingredients, route, limits)
        grade = next((grade for grade in (1, 2, 3, 4) if estimate is not None and estimate <= limits[f"{route}_{grade}"]), None)
        if estimate is not None and grade is not None:
            poisons = [one for one in ingredients if any(_family(hazard) == route for hazard in one.hazards)]
            unit = "mg/L" if route == "mist" else "mg/kg"
            because = f"{' and '.join(_said(one) for one in poisons)}: estimate {_rounded(estimate)} {unit}, limit {limits[f'{route}_{grade}']:g}"
            hazards = [hazard for one in poisons for hazard in one.hazards if _family(hazard) == route]
            found.append(FoundHazard(f"{route}_{grade}", because, _says(hazards), _weakest(hazards)))
    return found


def _rounded(estimate: float) -> str:
    """`1430`, `4.29`: three digits, none of them a power of ten."""
    return f"{float(f'{estimate:.3g}'):.10g}"


def _in_water(ingredients: Sequence[Ingredient], limits: Limits) -> list[FoundHazard]:
    """The long harm by the ladder of its three categories, and the quick one where the long one is not as grave."""
    found = []
    for grade in (1, 2, 3):
        counted = [
            (one, hazard, hazard.m_factor * one.percent * _TIMES_LONG ** (grade - _grade(hazard)))
            for one in ingredients
            for hazard in one.hazards
            if _family(hazard) == "water_chronic" and _grade(hazard) <= grade
        ]
        if sum(weight for _, _, weight in counted) >= limits["water"]:
            found.append(_weighted(f"water_chronic_{grade}", counted))
            break
    quick = [(one, hazard, hazard.m_factor * one.percent) for one in ingredients for hazard in one.hazards if _family(hazard) == "water_acute"]
    if sum(weight for _, _, weight in quick) >= limits["water"] and not any(one.name == "water_chronic_1" for one in found):
        found.append(_weighted("water_acute_1", quick))
    return found


def _weighted(name: str, counted: Sequence[tuple[Ingredient, HazardClass, float]]) -> FoundHazard:
    hazards = [hazard for _, hazard, _ in counted]
    because = " and ".join(f"{_said(one)}, counted {weight / one.percent:g} times" for one, _, weight in counted)
    return FoundHazard(name, because, _says(hazards), _weakest(hazards))


def _found(name: str, counted: Sequence[tuple[Ingredient, float]], families: set[str]) -> FoundHazard:
    hazards = [hazard for one, _ in counted for hazard in one.hazards if _family(hazard) in families]
    return FoundHazard(name, _because(counted), _says(hazards), _weakest(hazards))


def _because(counted: Sequence[tuple[Ingredient, float]]) -> str:
    return " and ".join(f"{_said(one)}: counts from {limit:g} %" for one, limit in counted)


def _said(one: Ingredient) -> str:
    return f"{one.name} {one.percent:.3g} %"


def _says(hazards: Iterable[HazardClass]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(hazard.says for hazard in hazards))


def _weakest(hazards: Iterable[HazardClass]) -> Rests:
    """How sure the least sure of them is."""
    kinds = {hazard.rests for hazard in hazards}
    return next((kind for kind in ("judgement", "trade", "published") if kind in kinds), "published")


def _gravest(found: Sequence[FoundHazard]) -> list[FoundHazard]:
    """
    Of each kind the gravest category; what another row says already is left out.

    What burns the skin says of skin and eye all that irritating would, and damage to the eye as well. A mixture that counts as burning by its
    pH keeps the eye's own row beside it: the two have different reasons.
    """
    kept: dict[str, FoundHazard] = {}
    for one in found:
        family = one.name.rpartition("_")[0]
        if family not in kept or _rank(one) < _rank(kept[family]):
            kept[family] = one
    burns = "skin" in kept and kept["skin"].name.startswith("skin_1")
    if burns:
        kept.pop("eye", None)
        kept.pop("ph", None)
    elif "ph" in kept:
        kept.pop("skin", None)
    return list(kept.values())


def _rank(found: FoundHazard) -> str:
    """`1a` before `1b` before `2`."""
    return found.name.rpartition("_")[2]


def _family(hazard: HazardClass) -> str:
    return hazard.name.rpartition("_")[0]


def _grade(hazard: HazardClass) -> int:
    return int(hazard.name.rpartition("_")[2][0])
