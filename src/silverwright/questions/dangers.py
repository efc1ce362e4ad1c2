"""What can it do to me? A stock or a bath at its strength, by rules of which one can choose."""

from collections.abc import Sequence
from typing import Annotated, ClassVar, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Plain
from silverwright.asking.operation import Answer, Estimate, Operation, Remark, refuse, remark
from silverwright.notes import Note
from silverwright.questions.acidity import acidity_of
from silverwright.questions.afterwards import buying_of, disposal_of, first_steps_of, storage_of
from silverwright.questions.entry import around
from silverwright.questions.hazard import IN_FORCE, RuleSet, hazards_of, limits, rule_set
from silverwright.questions.ingredients import BathFields, IngredientRow, Ingredients, contents_of, key_of
from silverwright.questions.recipe import RECIPE, recipe_named, recipe_or_refuse
from silverwright.records_chemistry import Contents, Hazards
from silverwright.vocabulary_chemistry import MEASURED_PH, PH

A_TENTH_MORE: Final = 1.1  # our judgement: labels, scales and cylinders are off by as much together
NO_CLASS_SAYS: Final = "At this strength it has no class, which does not make it water."
RULES: Final = Choice(
    help="By which rules it is classed; a proposal is not law.",
    example="in force",
    label="Rules",
)


class DangersQuestion(BathFields):
    """What is in it, or the recipe that it was mixed by, and which rules are to hold."""

    recipe: Annotated[str, RECIPE] = ""
    ingredients: Annotated[Ingredients, Field(validate_default=True)] = ()
    measured_ph: Annotated[float | None, MEASURED_PH, Field(validate_default=True)] = None
    rules: Annotated[RuleSet, RULES] = IN_FORCE

    @field_validator("recipe", mode="after")
    @classmethod
    def _known_recipe(cls, name: str) -> str:
        if name:
            recipe_or_refuse(name)
        return name

    @field_validator("measured_ph")
    @classmethod
    def _something_in_it(cls, measured_ph: float | None, seen: ValidationInfo) -> float | None:
        if {"ingredients", "recipe"} <= seen.data.keys() and not seen.data["ingredients"] and not seen.data["recipe"]:
            raise refuse("Nothing is in it yet: name what is in it, a line each, such as “hydrogen peroxide; 9; % w/w”, or a recipe.", "ingredients")
        return measured_ph


class DangersAnswer(Answer):
    """Each hazard with its code and why it is there; then what to have on, what to do after a splash, where to keep and to leave it."""

    table: ClassVar[tuple[str, ...]] = ("code", "hazard_class", "says_of_it", "shape", "because", "rests_on")
    signal: Annotated[str, Plain(help="The signal word; none where nothing is classed.", example="Danger", label="Signal word")] = ""
    code: Annotated[tuple[str, ...], Plain(help="The code of the statement.", example="H318")] = ()
    hazard_class: Annotated[tuple[str, ...], Plain(help="The class that it stands for.", example="Eye Dam. 1", label="Class")] = ()
    says_of_it: Annotated[tuple[str, ...], Plain(help="What it says, in our words.", example="A splash can damage the eye for good.")] = ()
    shape: Annotated[tuple[str, ...], Plain(help="The shape that warns of it.", example="corrosion")] = ()
    because: Annotated[tuple[str, ...], Plain(help="What it comes from.", example="hydrogen peroxide 9 %: counts from 8 %")] = ()
    rests_on: Annotated[tuple[str, ...], Plain(help="Who says so.", example="ceprasrl2024, entry 008-003-00-9")] = ()
    shapes: Annotated[tuple[str, ...], Plain(help="The shapes for a label, the gravest first.", example="corrosion", label="Shapes")] = ()
    unclassified: Annotated[
        tuple[str, ...], Plain(help="What is in it without a class on file here.", example="sodium sulphite", label="Without a class")
    ] = ()
    unknown: Annotated[
        tuple[str, ...], Plain(help="What is in it of which nothing is known here: read its data sheet.", example="toner X", label="Not known here")
    ] = ()
    ph: Annotated[Estimate | None, PH] = None
    gear: Annotated[tuple[str, ...], Plain(help="What to have on and ready.", example="Nitrile gloves on", label="Before you open it")] = ()
    first_steps: Annotated[
        tuple[str, ...], Plain(help="What to do at once after a splash.", example="In the eye: rinse at once", label="After a splash")
    ] = ()
    storage: Annotated[tuple[str, ...], Plain(help="Where and how to keep it.", example="Low down, apart from fixer.", label="Keep it")] = ()
    disposal: Annotated[
        tuple[str, ...],
        Plain(help="Figures for leaving it; local rules decide.", example="Collect it under a vented cap.", label="When it is used up"),
    ] = ()
    buying: Annotated[
        tuple[str, ...], Plain(help="One dated example of a limit for buying; your local rule decides.", example="up to 12 %", label="Buying")
    ] = ()
    advice: Annotated[tuple[str, ...], Plain(help="What else to know at this strength.", example="From 8 % on it feeds fire.", label="Besides")] = ()


def answer(question: DangersQuestion) -> DangersAnswer:
    """The classes of the ingredients become those of the whole, at its strength; what has none is named."""
    contents = contents_in(question)
    found = hazards_of(contents, question.temperature_celsius, question.rules, question.measured_ph)
    return DangersAnswer(
        signal=found.signal,
        code=tuple(row.code for row in found.rows),
        hazard_class=tuple(row.hazard_class for row in found.rows),
        says_of_it=tuple(row.words for row in found.rows),
        shape=tuple(row.pictogram for row in found.rows),
        because=tuple(row.because for row in found.rows),
        rests_on=tuple(row.says for row in found.rows),
        shapes=found.pictograms,
        unclassified=found.unclassified,
        unknown=found.unknown,
        ph=_ph(contents, question),
        gear=tuple(f"{words}." for words in found.gear),
        first_steps=first_steps_of(found),
        storage=storage_of(contents),
        disposal=disposal_of(contents),
        buying=buying_of(contents),
        advice=found.advice,
        notes=(*cautions_of(found), *_doubts(question, contents, found)),
        sources=_sources(found),
    )


def contents_in(question: DangersQuestion) -> Contents:
    """What is in it: the recipe's parts, and over them what was typed."""
    recipe = recipe_named(question.recipe) if question.recipe else None
    typed = {key_of(row.substance) for row in question.ingredients}
    parts = [] if recipe is None else [one for one in recipe.parts if one.substance not in typed]
    rows = [*(IngredientRow(substance=one.substance, amount=one.amount, unit=one.unit) for one in parts), *question.ingredients]
    return contents_of(rows, question.volume_ml, question.temperature_celsius) if question.volume_ml > 0 else Contents(0.0, {})


def cautions_of(found: Hazards) -> tuple[Remark, ...]:
    """What is said before everything else: what it can do, what to have on, and of what nothing is on file."""
    notes = []
    worn = f" {'. '.join(found.gear)}." if found.gear else ""
    if found.named and not (found.rows or found.unclassified or found.unknown):
        notes.append(remark(Note.HAZARD_FIRST, what=NO_CLASS_SAYS, gear=worn))
    if found.rows:
        briefs = dict.fromkeys(row.brief[0].lower() + row.brief[1:] for row in found.rows)
        what = f"{found.signal or 'Care'}: {', '.join(briefs)}."
        notes.append(remark(Note.HAZARD_FIRST, what=what, gear=worn))
    if found.unknown or not found.named:
        notes.append(remark(Note.HAZARD_NO_DATA, names=", ".join(f"“{name}”" for name in found.unknown) or "What is in it"))
    if found.unclassified:
        notes.append(remark(Note.HAZARD_UNCLASSIFIED, names=_listed(found.unclassified)))
    return tuple(notes)


def _doubts(question: DangersQuestion, contents: Contents, found: Hazards) -> list[Remark]:
    rules = rule_set(question.rules)
    notes = [remark(Note.HAZARD_LOOK_UP, says=rules["says"]) if found.law else remark(Note.HAZARD_NOT_LAW, says=rules["says"])]
    stronger = Contents(contents.volume_ml, {key: A_TENTH_MORE * mass_g for key, mass_g in contents.mass_g.items()})
    there = {row.code for row in found.rows}
    more = hazards_of(stronger, question.temperature_celsius, question.rules, question.measured_ph)
    codes = [f"{row.code} ({row.brief[0].lower()}{row.brief[1:]})" for row in more.rows if row.code not in there]
    if codes:
        notes.append(remark(Note.HAZARD_NEAR, codes=_listed(codes)))
    ph = _ph(contents, question)
    low, high = (ph.low, ph.high) if ph is not None else (None, None)
    if low is not None and high is not None and "H314" not in there and (low <= limits()["acid_ph"] or high >= limits()["alkali_ph"]):
        notes.append(remark(Note.HAZARD_PH_NEAR, low=f"{low:.1f}", high=f"{high:.1f}"))
    unsure = dict.fromkeys(row.code for row in found.rows if "from memory" in row.says)
    if unsure:
        notes.append(remark(Note.HAZARD_MEMORY, codes=_listed(tuple(unsure))))
    return notes


def _ph(contents: Contents, question: DangersQuestion) -> Estimate | None:
    if question.measured_ph is not None:
        return Estimate(value=question.measured_ph)
    if not contents.mass_g:
        return None
    acidity = acidity_of(contents, question.temperature_celsius)
    return around(acidity.ph, acidity.ph_sd) if acidity else None


def _listed(names: Sequence[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]]) if len(names) > 1 else "".join(names)


def _sources(found: Hazards) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one for row in found.rows for one in row.says.split("; ")))


DANGERS: Final = Operation(
    name="chemistry.hazard",
    version=1,
    asks="What can it do to me, at its strength?",
    question=DangersQuestion,
    answer=DangersAnswer,
    compute=answer,
    examples={
        "peroxide as bought": {"ingredients": "hydrogen peroxide; 35; % w/w"},
        "a finished bleach": {"ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w"},
        "weak peroxide": {"ingredients": "hydrogen peroxide; 6; % w/w"},
        "by the proposal": {"ingredients": "hydrogen peroxide; 9; % w/w", "rules": "proposal of July 2024"},
        "a developer by its recipe": {"recipe": "paper developer"},
        "something that nobody knows": {"ingredients": "sodium sulphite; 2; % w/w\ntoner X; 3; % w/w"},
    },
)
