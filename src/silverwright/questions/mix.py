"""How do I mix it? A recipe made up to a volume or a vessel, step by step, the caution before each amount."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated, Any, ClassVar, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Plain
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Question, Remark, refuse, remark
from silverwright.chemistry.recipe import naive_ml
from silverwright.errors import OutOfRange
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.acidity import acidity_of, ions_of
from silverwright.questions.apart import kept_apart, vented_because
from silverwright.questions.bottles import ROOM, Stocks
from silverwright.questions.entry import around, says
from silverwright.questions.hazard import NO_CLASS, NO_DATA, hazards_of
from silverwright.questions.ingredients import IngredientRow, Ingredients, contents_of, impossible, key_of
from silverwright.questions.mixsteps import Step, coarse, concentrate_steps, shopping_of, steps_of, strengths_of
from silverwright.questions.mixture import By, Mixture, Pour, as_parts, in_order, mixture
from silverwright.questions.ph import cautions_of
from silverwright.questions.recipe import RECIPE, VERSION, part_said, recipe_named, recipe_or_refuse
from silverwright.questions.strength import MATTERS_SHARE
from silverwright.questions.substances import named
from silverwright.questions.vessel import VesselFields, most_ml, stands_mm, taken
from silverwright.records_chemistry import Contents, Recipe
from silverwright.units import MILLILITRE
from silverwright.vocabulary import TEMPERATURE_CELSIUS
from silverwright.vocabulary_chemistry import PH, VOLUME_ML
from silverwright.vocabulary_shelf import MIXED_ML, REACHED_STRENGTHS, STANDS_MM, TAKEN_G, WANTED_STRENGTHS, WATER_PARTS

LEAST_ML: Final = 10.0  # our judgement: the smallest cylinder, full
COARSE_SHARE: Final = 0.05  # our judgement: a twentieth of a developing agent shows in the picture


class RecipeFields(Question):
    """Which recipe, or the parts of one's own; beside a known recipe they change its amounts."""

    recipe: Annotated[str, RECIPE] = ""
    version: Annotated[str, VERSION] = ""
    ingredients: Annotated[Ingredients, Field(validate_default=True)] = ()
    water_parts: Annotated[float | None, WATER_PARTS] = None
    volume_ml: Annotated[float | None, VOLUME_ML] = None

    @field_validator("ingredients")
    @classmethod
    def _known_or_given(cls, rows: tuple[IngredientRow, ...], seen: ValidationInfo) -> tuple[IngredientRow, ...]:
        if "recipe" not in seen.data:
            return rows
        name = str(seen.data["recipe"])
        if rows and recipe_named(name) is None:
            return rows
        if not name:
            raise refuse("Needed: a recipe by its name, or the parts of your own, a line each.", "recipe")
        try:
            recipe_or_refuse(name, str(seen.data.get("version", "")))
        except ValueError as error:
            raise refuse(str(error), "recipe") from None
        return rows

    @field_validator("volume_ml")
    @classmethod
    def _some(cls, volume_ml: float | None) -> float | None:
        if volume_ml is not None and volume_ml < LEAST_ML:
            raise refuse(f"{volume_ml:g} mL was given: less than {LEAST_ML:g} mL cannot be set with scale and cylinder. Mix more, such as 1 L.")
        return volume_ml


class PouringFields(Question):
    """How warm, by scale or by cylinder, and the bottles at hand."""

    temperature_celsius: Annotated[float, TEMPERATURE_CELSIUS, Field(validate_default=True)] = ROOM
    liquids_by: Annotated[By, Choice(help="Liquids by scale or by measuring cylinder; by weight is surer.", example="weight", label="Liquids by")] = (
        "weight"
    )
    stocks: Annotated[Stocks, Field(validate_default=True)] = ()

    @field_validator("temperature_celsius")
    @classmethod
    def _how_much(cls, celsius: float, seen: ValidationInfo) -> float:
        known = seen.data
        if not {"volume_ml", *VesselFields.model_fields} <= known.keys():
            return celsius
        volume_ml, vessel = known["volume_ml"], known["vessel"]
        if volume_ml is None and vessel is None:
            raise refuse("Needed: how much, such as 1 L; or the vessel, and its volume is reckoned.", "volume_ml")
        if volume_ml is not None and vessel is not None:
            most = most_ml(VesselFields.model_construct(**{name: known[name] for name in VesselFields.model_fields}))
            if most is not None and volume_ml > most * known["vessels"]:
                holds = MILLILITRE.show(most * known["vessels"])
                raise refuse(
                    f"The vessel is too small: it holds {holds} before it runs over, and {MILLILITRE.show(volume_ml)} are wanted.", "volume_ml"
                )
        return celsius

    @field_validator("stocks")
    @classmethod
    def _can_be_mixed(cls, rows: Stocks, seen: ValidationInfo) -> Stocks:
        needed = MixQuestion.model_fields.keys() - {"stocks"}
        if not needed <= seen.data.keys():
            return rows
        question = MixQuestion.model_construct(**seen.data, stocks=rows)
        volume_ml = volume_of(question)
        if why := impossible(question.ingredients, volume_ml, question.temperature_celsius):
            raise refuse(why, "ingredients")
        recipe = recipe_of(question)
        if recipe.water_parts is not None:
            return rows
        parts = [IngredientRow(substance=one.substance, amount=one.amount, unit=one.unit) for one in recipe.parts]
        if why := impossible(parts, volume_ml, question.temperature_celsius):
            raise refuse(why, "ingredients")
        try:
            mix = mixed(question)
        except OutOfRange:
            raise refuse("These bottles leave no room for water: look at strengths and units.") from None
        if clash := next((one for one in kept_apart(mix.wanted, mix.wanted) if one.refused), None):
            raise refuse(f"This is never mixed: {clash.one} and {clash.other}. {clash.words}", "ingredients")
        if not mix.possible:
            raise refuse(_too_weak(mix))
        return rows


class MixQuestion(PouringFields, VesselFields, RecipeFields):
    """A recipe or parts of one's own, how much or in which vessel, and the bottles at hand."""


class MixAnswer(Answer):
    """The steps, what comes of them after rounding, how acid it is, and what has to be bought."""

    table: ClassVar[tuple[str, ...]] = ("step_caution", "step_what", "step_weigh", "step_measure", "step_how")
    mixed_ml: Annotated[Estimate, MIXED_ML]
    stands_mm: Annotated[float | None, STANDS_MM] = None
    ph: Annotated[Estimate | None, PH] = None
    step_caution: Annotated[Sequence[str], Plain(help="What can hurt, to be read before the amount.", example="Goggles on.", label="First")] = ()
    step_what: Annotated[Sequence[str], Plain(help="What goes in.", example="citric acid", label="Then")] = ()
    step_weigh: Annotated[Sequence[str], Plain(help="How much, weighed.", example="52.7 g", label="Weigh")] = ()
    step_measure: Annotated[Sequence[str], Plain(help="How much, measured.", example="234 mL", label="Measure")] = ()
    step_how: Annotated[Sequence[str], Plain(help="How it goes in.", example="slowly, stirring", label="How")] = ()
    reached: Annotated[Sequence[str], Plain(help="How strong it becomes after rounding.", example="Citric acid 5 % w/w.", label="It becomes")] = ()
    hazards: Annotated[Sequence[str], Plain(help="What the mix can do at its strength.", example="H318: eye damage.", label="The mix")] = ()
    shopping: Annotated[Sequence[str], Plain(help="What the named bottles do not give.", example="citric acid: 20 g more.", label="To buy")] = ()
    ingredient: Annotated[Sequence[str], Plain(help="What is in it, one after the other.", example="citric acid", label="In it")] = ()
    wanted_strength: Annotated[Sequence[float], WANTED_STRENGTHS] = ()
    reached_strength: Annotated[Sequence[float], REACHED_STRENGTHS] = ()
    strength_unit: Annotated[Sequence[str], Plain(help="The unit of each of these strengths.", example="% w/w", label="In")] = ()
    taken_from: Annotated[Sequence[str], Plain(help="Each bottle that is used.", example="peroxide, the blue can", label="Taken from")] = ()
    taken_g: Annotated[Sequence[float], TAKEN_G] = ()


def recipe_of(question: MixQuestion) -> Recipe:
    """The recipe, with what the photographer changed in it; or one of their own."""
    known = recipe_named(question.recipe, question.version)
    own = as_parts(question.ingredients, volume_of(question), question.temperature_celsius)
    if known is None:
        return Recipe(question.recipe or "your own", question.version or "1", (), in_order(own), says="as typed")
    if known.water_parts is not None:
        return replace(known, water_parts=question.water_parts or known.water_parts)
    changed = {key_of(one.substance): one for one in own}
    parts_now = [changed.pop(one.substance, one) for one in known.parts]
    return replace(known, parts=(*parts_now, *in_order(tuple(changed.values()))))


def volume_of(question: MixQuestion) -> float:
    """How much is mixed: as typed, or what the vessels take."""
    return question.volume_ml if question.volume_ml is not None else taken(question).volume_ml * question.vessels


def mixed(question: MixQuestion) -> Mixture:
    """The mixture itself; not for a ready-made concentrate."""
    return mixture(recipe_of(question).parts, volume_of(question), question.temperature_celsius, question.stocks, question.liquids_by)


def mixed_contents(question: MixQuestion) -> Contents | None:
    """What the finished mix holds; nothing where nobody knows what a concentrate holds."""
    recipe = recipe_of(question)
    if recipe.water_parts is None:
        return mixed(question).reached
    rows = [IngredientRow(substance=one.substance, amount=one.amount, unit=one.unit) for one in recipe.parts]
    return contents_of(rows, volume_of(question), question.temperature_celsius) if rows else None


def answer(question: MixQuestion) -> MixAnswer:
    """By weight: the mass of the whole, what is taken from each bottle, and water for the rest."""
    recipe = recipe_of(question)
    return _concentrate(question, recipe) if recipe.water_parts is not None else _recipe(question, recipe)


def _recipe(question: MixQuestion, recipe: Recipe) -> MixAnswer:
    mix = mixed(question)
    strengths = strengths_of(mix)
    acidity = acidity_of(mix.reached, mix.celsius)
    return MixAnswer(
        mixed_ml=Estimate(value=mix.reached.volume_ml),
        stands_mm=_stands(question, mix.reached.volume_ml),
        ph=around(acidity.ph, acidity.ph_sd) if acidity else None,
        **_columns(steps_of(mix, question.liquids_by, bleach="bleach" in recipe.roles)),
        reached=tuple(one.sentence for one in strengths),
        hazards=_hazards(mix.reached, mix.celsius),
        shopping=shopping_of(mix),
        ingredient=tuple(named(one.part.substance) for one in strengths),
        wanted_strength=tuple(one.part.amount for one in strengths),
        reached_strength=tuple(one.reached_amount for one in strengths),
        strength_unit=tuple(one.part.unit for one in strengths),
        taken_from=tuple(one.bottle.name for one in mix.pours),
        taken_g=tuple(one.exact_g for one in mix.pours),
        ledger=_ledger(mix),
        notes=(*_cautions(recipe), *_acid(mix), *_notes(question, recipe, mix)),
        sources=tuple(
            dict.fromkeys((recipe.says, *(one.says for one in recipe.parts), says(fact("settable", "scale_step"), fact("settable", "cylinder_250"))))
        ),
    )


def _concentrate(question: MixQuestion, recipe: Recipe) -> MixAnswer:
    volume_ml, water_parts = volume_of(question), recipe.water_parts or 0.0
    name = question.stocks[0].stock if question.stocks else f"concentrate, one part to {water_parts:g} of water"
    one_ml = volume_ml / (1 + water_parts)
    left = question.stocks[0].left_ml if question.stocks else None
    short = left is not None and left < one_ml
    shopping = (f"{name}: {MILLILITRE.show(one_ml - (left or 0.0))} more.",) if short else ()
    return MixAnswer(
        mixed_ml=Estimate(value=volume_ml),
        stands_mm=_stands(question, volume_ml),
        **_columns(concentrate_steps(volume_ml, water_parts, name=name)),
        hazards=_of_concentrate(recipe, mixed_contents(question), question.temperature_celsius),
        shopping=shopping,
        taken_from=(name,),
        notes=(*_cautions(recipe), *_bought(shopping)),
        sources=(recipe.says,),
    )


def _of_concentrate(recipe: Recipe, contents: Contents | None, celsius: float) -> tuple[str, ...]:
    """What it can do by what is told to be in it; of most concentrates nothing is known here."""
    if contents is None:
        return (f"{recipe.name.capitalize()}: {NO_DATA}.",)
    return (f"By what is told to be in it ({recipe.says}).", *_hazards(contents, celsius))


def _columns(steps: Sequence[Step]) -> dict[str, Any]:
    return {f"step_{name}": tuple(getattr(one, name) for one in steps) for name in ("caution", "what", "weigh", "measure", "how")}


def _stands(question: MixQuestion, volume_ml: float) -> float | None:
    return stands_mm(question, volume_ml / question.vessels) if question.vessel else None


def _ledger(mix: Mixture) -> tuple[Line, ...]:
    """The mass of the whole, line by line."""
    step = fact("settable", "scale_step")
    water = Line(what="Water", amount=mix.water_g, doubt=0, unit="g", source="the rest of the whole, by its density", rests="published")
    return (
        water,
        *(
            Line(what=one.bottle.name, amount=one.exact_g, doubt=step.sd, unit="g", source=one.part.says or "as typed", rests=one.part.rests)
            for one in mix.pours
        ),
    )


def _cautions(recipe: Recipe) -> tuple[Remark, ...]:
    """What can hurt somebody, before the first figure."""
    against = (remark(Note.MIX_AGAINST, why=recipe.against.rstrip(".")),) if recipe.against else ()
    return (*against, remark(Note.MIX_FIRST), *(remark(Note(one)) for one in recipe.cautions if one))


def _acid(mix: Mixture) -> tuple[Remark, ...]:
    acidity, ions = acidity_of(mix.reached, mix.celsius), ions_of(mix.reached, mix.celsius)
    return cautions_of(ions, acidity) if acidity and ions else ()


def _hazards(contents: Contents, celsius: float) -> tuple[str, ...]:
    """What the finished mix can do, and what is not on file: never silence."""
    found = hazards_of(contents, celsius)
    said = [f"{found.signal}."] if found.signal else []
    said += [f"{row.code}: {row.words}" for row in found.rows]
    said += [f"No class on file: {', '.join(found.unclassified)}."] if found.unclassified else []
    said += [f"{name}: {NO_DATA}." for name in found.unknown]
    said += [vented] if (vented := vented_because(contents)) else []
    return (*(said or [f"{NO_CLASS}."]), "The safety data sheet of your product and local rules come first.")


def _bought(shopping: Sequence[str]) -> tuple[Remark, ...]:
    return (remark(Note.MIX_MISSING, what="; ".join(one.rstrip(".") for one in shopping)),) if shopping else ()


def _notes(question: MixQuestion, recipe: Recipe, mix: Mixture) -> tuple[Remark, ...]:
    notes = [*_bought(shopping_of(mix)), *_changes(question, recipe)]
    usual = [one.bottle for one in mix.pours if one.bottle.usual]
    if usual:
        what = "; ".join(dict.fromkeys(one.name for one in usual))
        notes.append(remark(Note.MIX_USUAL, what=what, source=usual[0].usual))
    notes += [_naive(one, mix) for one in mix.pours if _naive_share(one, mix) > MATTERS_SHARE]
    notes += [
        remark(Note.SCALE_TOO_COARSE, wanted=f"{one.exact_g:.2g}", step=f"{fact('settable', 'scale_step').value:g}")
        for one in coarse(mix, COARSE_SHARE)
    ]
    unclear = next((one for one in mix.pours if one.bottle.unclear), None)
    if unclear is not None:
        notes.append(remark(Note.MIX_UNCLEAR, bottle=unclear.bottle.name, half=f"{100 * unclear.bottle.sd_share:.1f}"))
    if "bleach" in recipe.roles:
        notes.append(remark(Note.WATER_FOR_BLEACH))
    return tuple(notes)


def _changes(question: MixQuestion, recipe: Recipe) -> list[Remark]:
    """What was changed in a known recipe, and what lies outside what is told of it."""
    known = recipe_named(question.recipe, question.version)
    if known is None or not question.ingredients:
        return []
    before = {one.substance: one for one in known.parts}
    changed = [one for one in recipe.parts if one not in known.parts]
    notes = [remark(Note.MIX_CHANGED, what="; ".join(part_said(one) for one in changed))] if changed else []
    for one in changed:
        told = before.get(key_of(one.substance))
        if told and told.low is not None and told.high is not None and told.unit == one.unit and not told.low <= one.amount <= told.high:
            notes.append(remark(Note.MIX_OUTSIDE, what=part_said(one), low=f"{told.low:g}", high=f"{told.high:g}", unit=told.unit, source=told.says))
    return notes


def _naive_share(pour: Pour, mix: Mixture) -> float:
    """How far the rule of three in volumes is off, as a share; only where a recipe in % by weight is made of a stock in % by weight."""
    exact_ml = pour.exact_ml
    alone = [one for one in mix.pours if one.part == pour.part] == [pour]
    if exact_ml is None or pour.part.unit != "% w/w" or not alone:
        return 0.0
    return naive_ml(pour.part.amount, 100 * pour.bottle.fraction, mix.wanted.volume_ml) / exact_ml - 1


def _naive(pour: Pour, mix: Mixture) -> Remark:
    return remark(Note.NAIVE_RULE, off=f"{100 * _naive_share(pour, mix):.0f} % too strong in {named(pour.part.substance)}")


def _too_weak(mix: Mixture) -> str:
    reach = "; ".join(f"{named(one.substance)} {mix.strongest_share * one.amount:.3g} {one.unit}" for one in mix.parts)
    return (
        f"These bottles are too weak: without a drop of water they give {100 * mix.strongest_share:.0f} % of it ({reach}). "
        "Take stronger ones, or change the recipe to that."
    )


MIX: Final = Operation(
    name="chemistry.mix",
    version=1,
    asks="How do I mix it?",
    question=MixQuestion,
    answer=MixAnswer,
    compute=answer,
    examples={
        "an acid peroxide bleach for a tray": {
            "recipe": "peroxide bleach",
            "vessel": "tray",
            "inside_length_mm": 300,
            "inside_width_mm": 250,
            "stocks": [
                {"stock": "peroxide, the blue can", "substance": "hydrogen peroxide", "amount": 35, "unit": "% w/w", "left_ml": 800},
                {"stock": "citric acid, bag", "substance": "citric acid monohydrate", "left_g": 500},
            ],
        },
        "a developer from powders": {"recipe": "paper developer", "volume_ml": "2 L"},
        "one bath out of two bottles": {
            "recipe": "peroxide bath",
            "volume_ml": "1 L",
            "liquids_by": "volume",
            "stocks": [
                {"stock": "old can", "substance": "hydrogen peroxide", "amount": 35, "unit": "% w/w", "left_ml": 100},
                {"stock": "new bottle", "substance": "hydrogen peroxide", "amount": 12, "unit": "% w/w", "left_ml": 300},
            ],
        },
        "parts of one's own": {
            "volume_ml": "500 mL",
            "ingredients": [{"substance": "sodium sulphite", "amount": 10, "unit": "g"}, {"substance": "borax", "amount": 2, "unit": "g"}],
        },
        "a toner from its concentrate": {"recipe": "selenium toner", "volume_ml": "600 mL", "water_parts": 20},
    },
)
