"""What a bottle or a bath can do at its strength: the tables, made ready once for chemistry/hazard.py. What is asked stands in dangers.py."""

from collections.abc import Sequence
from functools import cache, lru_cache
from typing import Final, Literal, cast

from silverwright.chemistry.density import fractions_in
from silverwright.chemistry.hazard import classified
from silverwright.errors import OutOfRange
from silverwright.facts.load import UNSOURCED, Fact, facts, table
from silverwright.questions.acidity import acidity_of, unknown_in
from silverwright.questions.ingredients import ROOM_CELSIUS, dissolved, substance_or_unknown
from silverwright.questions.substances import called, substances
from silverwright.records_chemistry import Acidity, Contents, FoundHazard, HazardClass, HazardRow, Hazards, Ingredient, Statement

RuleSet = Literal["in force", "proposal of July 2024"]
IN_FORCE: Final[RuleSet] = "in force"
# Which shapes stand back beside a graver one: the exclamation mark tells what another shape tells already.
OUTDONE: Final = {"skull": ("H302", "H312", "H332"), "corrosion": ("H315", "H319"), "H334": ("H315", "H317", "H319")}
OXIDISER_FROM: Final = 8.0  # our judgement: where the proposal begins, and where insurers' sheets begin to speak of fire
OXIDISER: Final = (
    "From 8 % on peroxide feeds fire when it dries into paper, cloth or wood, whatever its class is: rinse rags with water, keep it off wood."
)
NO_PH: Final = (
    "Its pH is not reckoned here, as something in it is not known well enough: at pH 2 or below, or 11.5 or above, it counts as burning "
    "skin and eyes. Read it with a meter."
)
RESERVE: Final = (
    "Only a test of its acid reserve can lift the rule for pH 2 or below. Reckoned, it takes {reserve:.2g} g of sodium hydroxide in 100 mL to pH 4; "
    "that is no test."
)
ALWAYS_WORN: Final = ("goggles", "gloves")  # our judgement: whatever its class is, nobody needs it in the eye or on the skin
ALWAYS_RINSED: Final = ("eye", "skin")  # our judgement: as above
_GRAVITY: Final = {"Danger": 0, "Warning": 1, "": 2}
_DIGITS: Final = 9  # arithmetic: 35 % reckoned from masses is 35 %, not a hair less
KEPT: Final = 2000  # our judgement: every vessel of a full shelf, and what was asked meanwhile
NO_CLASS: Final = "No class at this strength: its data sheet tells more"
NO_DATA: Final = "no hazard data here: read its data sheet"


def hazards_of(contents: Contents, celsius: float = ROOM_CELSIUS, rules: RuleSet = IN_FORCE, ph: float | None = None) -> Hazards:
    """What it can do, by these rules; a pH that was read counts before the reckoned one. No volume means dry: shares of its mass."""
    return _hazards(contents.volume_ml, tuple(sorted(contents.mass_g.items())), celsius, rules, ph)


def glance_of(hazards: Hazards) -> tuple[tuple[str, str], ...]:
    """
    The same at a glance: a shape and few words for each, never nothing.

    The shapes are those of templates/parts/pictograms.html: `plain` where a statement has none, `none` where nothing is on file.
    """
    seen = [(row.pictogram or "plain", row.brief) for row in hazards.rows]
    if hazards.unclassified:
        seen.append(("none", f"No class on file: {', '.join(hazards.unclassified)}"))
    seen += [("none", f"{name} – {NO_DATA}") for name in hazards.unknown]
    return tuple(dict.fromkeys(seen)) or (("none", NO_CLASS if hazards.named else NO_DATA.capitalize()),)


@cache
def statements() -> dict[str, Statement]:
    """How each hazard is said, by its name, in the order of the table."""
    return {row["name"]: _statement(row) for row in table("statements")}


@cache
def limits() -> dict[str, float]:
    """The limits that hold where an ingredient has none of its own."""
    return {key: fact.value for key, fact in facts("mixture").items()}


@cache
def classes_of(key: str, rules: RuleSet) -> tuple[HazardClass, ...]:
    """The classes of a substance by itself, by these rules."""
    return tuple(_class(row) for row in table("hazards") if row["substance"] == key and row["rules"] in {"", rules})


@cache
def rule_set(rules: RuleSet) -> dict[str, str]:
    """What these rules are, how old, and whether they are law."""
    return next(row for row in table("rules") if row["rules"] == rules)


@cache
def gear_words() -> dict[str, str]:
    """What to have on and ready, in the order in which it is put on."""
    return {row["name"]: row["words"] for row in table("gear")}


@lru_cache(maxsize=KEPT)
def _hazards(volume_ml: float, masses: tuple[tuple[str, float], ...], celsius: float, rules: RuleSet, read_ph: float | None) -> Hazards:
    contents = Contents(volume_ml, {key: mass_g for key, mass_g in masses if mass_g > 0 and key != "water"})
    parts = _percents(contents, celsius)
    acidity = _acidity(contents, celsius) if read_ph is None and parts else None
    ph = read_ph if read_ph is not None else acidity.ph if acidity else None
    known = [Ingredient(called(key), percent, classes_of(key, rules)) for key, percent in parts]
    found = sorted(classified(known, limits(), ph), key=_gravity)
    says = [statements()[one.name] for one in found]
    open_ones = [key for key, _ in parts if not classes_of(key, rules)]
    worn, rinsed = (ALWAYS_WORN if parts else ()), (*ALWAYS_RINSED, *(["unknown"] if open_ones else []))
    advice = []
    if dict(parts).get("hydrogen_peroxide", 0.0) >= OXIDISER_FROM and not any(one.pictogram == "oxidiser" for one in says):
        advice.append(OXIDISER)
    if parts and ph is None and volume_ml > 0:
        advice.append(NO_PH)
    if acidity is not None and acidity.ph <= limits()["acid_ph"]:
        naoh = substances()["sodium_hydroxide"].molar_g_per_mol
        advice.append(RESERVE.format(reserve=acidity.acid_reserve_mol_per_l * naoh / 10))
    return Hazards(
        rules=rules,
        law=rule_set(rules)["law"] == "yes",
        signal=min((one.signal for one in says), key=lambda signal: _GRAVITY[signal], default=""),
        rows=tuple(_row(one, statement) for one, statement in zip(found, says, strict=True)),
        pictograms=_pictograms(says, anything_open=bool(open_ones)),
        unclassified=tuple(called(key) for key in open_ones if key in substances()),
        unknown=tuple(key for key in open_ones if key not in substances()),
        ph=ph,
        named=tuple(one.name for one in known),
        gear=tuple(words for name, words in gear_words().items() if name in worn or any(name in one.gear for one in says)),
        splash=tuple(row["name"] for row in table("splash") if row["name"] in rinsed or any(row["name"] in one.splash for one in says)),
        advice=tuple(advice),
    )


def _acidity(contents: Contents, celsius: float) -> Acidity | None:
    """
    How acid it is, dissolved silver passed over.

    Beside something of which that is not known the rest is reckoned, and counts where it alone would burn: to say nothing would be worse.
    """
    strange = unknown_in(contents)
    acidity = acidity_of(Contents(contents.volume_ml, {key: mass_g for key, mass_g in contents.mass_g.items() if key not in strange}), celsius)
    if acidity is None or set(strange) <= {"silver"}:
        return acidity
    return acidity if not limits()["acid_ph"] < acidity.ph < limits()["alkali_ph"] else None


def _percents(contents: Contents, celsius: float) -> tuple[tuple[str, float], ...]:
    """Percent of the mass, crystals without their crystal water where a class is theirs without it; the strongest first."""
    dry = {key: mass_g for key, mass_g in dissolved(contents).mass_g.items() if mass_g > 0 and key != "water"}
    masses = [(substance_or_unknown(key), mass_g) for key, mass_g in dry.items()]
    whole_g = sum(dry.values())
    try:
        fractions = fractions_in(masses, contents.volume_ml, celsius)
    except OutOfRange:
        fractions = tuple(mass_g / whole_g for mass_g in dry.values())  # no volume, or no water left in it: dry
    return tuple(sorted(((key, round(100 * part, _DIGITS)) for key, part in zip(dry, fractions, strict=True)), key=lambda one: (-one[1], one[0])))


def _gravity(found: FoundHazard) -> tuple[int, int]:
    return _GRAVITY[statements()[found.name].signal], _places()[found.name]


@cache
def _places() -> dict[str, int]:
    return {name: place for place, name in enumerate(statements())}


def _pictograms(says: Sequence[Statement], *, anything_open: bool) -> tuple[str, ...]:
    """Each shape once, the gravest first; the question mark where something has no class here."""
    shapes = {one.pictogram for one in says} | {one.code for one in says}
    hidden = {code for shape, codes in OUTDONE.items() if shape in shapes for code in codes}
    shown = [one.pictogram for one in says if one.pictogram and not (one.pictogram == "exclamation" and one.code in hidden)]
    return tuple(dict.fromkeys([*shown, *(["none"] if anything_open else [])]))


def _row(found: FoundHazard, statement: Statement) -> HazardRow:
    unsure = _unsure_limits(found)
    return HazardRow(
        code=statement.code,
        hazard_class=statement.hazard_class,
        words=statement.words,
        brief=statement.brief,
        pictogram=statement.pictogram,
        because=found.because,
        says="; ".join(dict.fromkeys((*found.says, *(limit.says for limit in unsure)))),
        rests="trade" if unsure and found.rests == "published" else found.rests,
    )


def _unsure_limits(found: FoundHazard) -> tuple[Fact, ...]:
    """The limits of all that it was held against and that nobody has looked up: a class may be published and its limit from memory."""
    family, _, category = found.name.rpartition("_")
    keys = ("water",) if family.startswith("water") else (f"{family}_{category[0]}", f"{family}_{category[0]}_of_1")
    there = [facts("mixture")[key] for key in keys if key in facts("mixture")]
    used = [one for one in there if one.key == "water" or f"from {one.value:g} %" in found.because]
    return tuple(one for one in used if one.kind == "memory")


def _class(row: dict[str, str]) -> HazardClass:
    family, _, category = row["name"].rpartition("_")
    converted = facts("mixture").get(f"ate_{family}_{category}")
    return HazardClass(
        name=row["name"],
        from_percent=float(row["from_percent"]) if row["from_percent"] else None,
        ate=float(row["ate"]) if row["ate"] else converted.value if converted else None,
        m_factor=float(row["m_factor"] or 1),
        says=UNSOURCED.get(row["kind"]) or f"{row['source']}, {row['where']}".rstrip(", "),
        rests="judgement" if row["kind"] == "judgement" else "trade" if row["kind"] in UNSOURCED else "published",
    )


def _statement(row: dict[str, str]) -> Statement:
    return Statement(
        name=row["name"],
        hazard_class=row["class"],
        code=row["code"],
        signal=cast("Literal['Danger', 'Warning', '']", row["signal"]),
        pictogram=row["pictogram"],
        words=row["words"],
        brief=row["brief"],
        gear=tuple(one for one in row["gear"].split("|") if one),
        splash=tuple(one for one in row["splash"].split("|") if one),
    )
