"""What a stock or a bath can do: finished baths as they are mixed, what has no class is always named, and cautions stand first."""

import re
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import BadQuestion
from silverwright.facts.load import facts, table
from silverwright.notes import Note
from silverwright.questions.afterwards import buying_of, disposal_of, first_steps_of, storage_of
from silverwright.questions.dangers import DANGERS, DangersAnswer
from silverwright.questions.hazard import IN_FORCE, NO_DATA, classes_of, glance_of, hazards_of, statements
from silverwright.questions.ingredients import IngredientRow, contents_of
from silverwright.questions.recipe import recipes
from silverwright.questions.substances import called, substances
from silverwright.records_chemistry import Contents, Recipe
from silverwright.report.pictograms import shape_svg, shape_words, symbols

DENIED = re.compile(r"\b(safe|safely|harmless|no hazards?(?! data here)|non-?toxic|risk-?free)\b", re.IGNORECASE)
# What each shipped bath does as it is finished, worked out by hand from the classes of its parts at their strength, and its pH.
FINISHED = {
    "peroxide bleach": {"H314", "H318"},
    "peroxide bath": {"H318"},
    "acid bath": {"H314"},
    "permanganate bleach": {"H314"},
    "permanganate bleach, weak": {"H314"},
    "dichromate bleach": {"H314", "H340", "H350", "H360", "H412", "EUH208"},
    "sulphite clearing bath": set(),
    "metabisulphite clearing bath": {"H319", "EUH031"},
    "paper developer": {"EUH208"},
    "plain fixer": set(),
    "acid fixer": {"H319", "EUH031"},
    "sulphide toner": {"H314"},
    "thiourea toner": {"H314"},
    "acetic stop bath": set(),
}
NAMES = st.sampled_from([*(one.name for one in substances().values() if one.key != "water"), "toner X", "stuff of grandfather"])


def asked(**given_: object) -> DangersAnswer:
    return DANGERS.ask(given_)


def finished(recipe: Recipe) -> Contents:
    rows = [IngredientRow(substance=part.substance, amount=part.amount, unit=part.unit) for part in recipe.parts]
    return contents_of(rows, 1000)


@pytest.mark.parametrize("recipe", recipes(), ids=lambda recipe: str(recipe.name))
def test_finished_baths(recipe: Recipe) -> None:
    found = hazards_of(finished(recipe))
    if recipe.name in FINISHED:
        assert {row.code for row in found.rows} == FINISHED[recipe.name]
    told = {words for _, words in glance_of(found)}
    assert told
    open_ones = [part.substance for part in recipe.parts if not classes_of(substances()[part.substance].anhydrous or part.substance, IN_FORCE)]
    for key in open_ones:
        name = called(key)
        assert name in found.unclassified
        assert any(name in words for words in told)
    assert asked(recipe=recipe.name).cautions, "every bath has its caution"


def test_bleach_shows_the_peroxide_and_the_acid() -> None:
    answer = asked(ingredients="hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w")
    rows = dict(zip(answer.code, answer.because, strict=True))
    assert rows["H318"] == "hydrogen peroxide 9 %: counts from 8 %"
    assert rows["H314"].startswith("pH 1.9")
    assert answer.signal == "Danger"
    assert answer.ph is not None
    assert answer.ph.value == pytest.approx(1.87, abs=0.03)
    assert any("1.1 g of sodium hydroxide" in words for words in answer.advice), "the reserve, 1.07 g in 100 mL, is told and is no test"


def test_peroxide_from_bottle_to_bath() -> None:
    codes = {strength: asked(ingredients=f"hydrogen peroxide; {strength}; % w/w").code for strength in (3, 6, 9, 35)}
    assert codes[3] == ()
    assert codes[6] == ("H319",)
    assert codes[9] == ("H318",)
    assert set(codes[35]) == {"H302", "H332", "H315", "H318", "H335"}


def test_a_grave_shape_stands_for_the_milder_one() -> None:
    assert asked(ingredients="sulphuric acid; 10; % w/w").shapes == ("corrosion",), "its own row for the eye needs no mark of its own beside it"
    assert asked(ingredients="hydrogen peroxide; 35; % w/w").shapes == ("corrosion", "exclamation"), "what makes ill keeps its mark"
    assert "exclamation" in asked(ingredients="hydroquinone; 4; % w/w").shapes, "an allergy of the skin keeps it beside what is suspected"


def test_two_rule_sets_and_one_of_them_no_law() -> None:
    law, proposal = asked(ingredients="hydrogen peroxide; 9; % w/w"), asked(ingredients="hydrogen peroxide; 9; % w/w", rules="proposal of July 2024")
    assert set(proposal.code) - set(law.code) == {"H272", "H302"}
    assert Note.HAZARD_NOT_LAW in {one.note for one in proposal.notes}
    assert Note.HAZARD_NOT_LAW not in {one.note for one in law.notes}
    assert all(row["dated"] for row in table("rules"))


@given(st.dictionaries(NAMES, st.floats(0.01, 20), min_size=1, max_size=4))
def test_what_has_no_class_is_always_named(amounts: dict[str, float]) -> None:
    rows = [IngredientRow(substance=name, amount=amount, unit="% w/w") for name, amount in amounts.items()]
    contents = contents_of(rows, 1000)
    found = hazards_of(contents)
    told = " ".join(words for _, words in glance_of(found))
    for name in found.unclassified + found.unknown:
        assert name in told
    for key in contents.mass_g:
        one = substances().get(key)
        home = one.anhydrous or one.key if one else key
        if not classes_of(home, IN_FORCE):
            assert called(key) in found.unclassified + found.unknown
            assert "none" in found.pictograms
    assert {"toner X", "stuff of grandfather"} & set(amounts) == set(found.unknown)
    assert not found.unknown or NO_DATA in told


def test_nobody_knows_is_never_silence() -> None:
    answer = asked(ingredients="toner X; 3; % w/w\nsodium sulphite; 2; % w/w")
    said = " ".join(one.sentence for one in answer.cautions)
    assert "“toner X” \N{EN DASH} no hazard data here: read its data sheet" in said
    assert "sodium sulphite: no class is on file here" in said
    assert answer.unknown == ("toner X",)
    assert any("poison centre" in step for step in answer.first_steps)
    assert glance_of(hazards_of(Contents(1000, {}))) == (("none", "No hazard data here: read its data sheet"),)
    assert NO_DATA in asked(recipe="ready-made concentrate").cautions[0].sentence


def test_a_used_bleach_is_still_acid_and_holds_silver() -> None:
    used = Contents(1000, {"hydrogen_peroxide": 92.0, "citric_acid": 52.0, "silver": 0.4})
    assert {row.code for row in hazards_of(used).rows} == {"H314", "H318", "H400", "H411"}  # 0.04 % times 1000, and times 100 times ten
    strange = Contents(1000, {"citric_acid": 52.0, "toner X": 5.0})
    assert "H314" in {row.code for row in hazards_of(strange).rows}, "what is not known does not hide the acid"
    assert any("pH is not reckoned" in words for words in hazards_of(Contents(1000, {"sodium_sulphite": 20.0, "toner X": 5.0})).advice)


def test_that_peroxide_feeds_fire_is_advice_where_no_class_says_it() -> None:
    def advised(strength: float, rules: str = IN_FORCE) -> bool:
        return any("feeds fire" in words for words in asked(ingredients=f"hydrogen peroxide; {strength}; % w/w", rules=rules).advice)

    assert [advised(strength) for strength in (7.9, 8, 35, 50)] == [False, True, True, False]
    assert not advised(9, "proposal of July 2024"), "there its class says so"


def test_who_says_so_is_as_sure_as_the_least_sure() -> None:
    silver = hazards_of(Contents(1000, {"silver": 1.0})).rows
    assert {row.rests for row in silver} == {"judgement"}
    assert {row.rests for row in hazards_of(Contents(0.0, {"metol": 1.0})).rows} == {"trade"}
    assert hazards_of(Contents(1000, {"hydrogen_peroxide": 92.0})).rows[0].rests == "published"


def test_a_reading_counts_before_the_reckoning() -> None:
    assert "H314" not in asked(ingredients="citric acid; 5; % w/w", measured_ph=2.3).code
    assert "H314" in asked(ingredients="citric acid; 1; % w/w", measured_ph=1.9).code
    assert Note.HAZARD_PH_NEAR in {one.note for one in asked(ingredients="citric acid; 2.8; % w/w").notes}


def test_near_a_limit_the_graver_is_told() -> None:
    notes = {one.note: one.sentence for one in asked(ingredients="hydrogen peroxide; 7.5; % w/w").notes}
    assert "H318 (eye damage)" in notes[Note.HAZARD_NEAR]
    assert Note.HAZARD_NEAR not in {one.note for one in asked(ingredients="hydrogen peroxide; 9; % w/w").notes}


def test_from_memory_says_so() -> None:
    notes = {one.note: one.sentence for one in asked(ingredients="hydroquinone; 4; % w/w").notes}
    assert notes[Note.HAZARD_MEMORY].startswith("H317, H351 and H400"), "published classes, limits from memory; genes and eyes have both"
    notes = {one.note: one.sentence for one in asked(ingredients="metol; 12; % w/w").notes}
    assert "from memory, unverified" in notes[Note.HAZARD_MEMORY]
    assert Note.HAZARD_MEMORY not in {one.note for one in asked(ingredients="hydrogen peroxide; 6; % w/w").notes}


def test_dry_means_shares_of_the_mass() -> None:
    assert {row.code for row in hazards_of(Contents(0.0, {"citric_acid_monohydrate": 640.0})).rows} == {"H319", "H335"}
    assert "H272" in {row.code for row in hazards_of(Contents(0.0, {"potassium_permanganate": 100.0})).rows}


def test_goggles_before_figures_and_the_data_sheet_comes_first() -> None:
    answer = asked(ingredients="hydrogen peroxide; 35; % w/w")
    first = answer.cautions[0]
    assert first.severity == "stop"
    assert "Goggles on" in first.sentence
    assert first.sentence.endswith("The safety data sheet of your product and local rules come first.")
    assert answer.first_steps[0].startswith("In the eye: rinse at once")
    assert "15 minutes" in answer.first_steps[0]


def test_keeping_leaving_buying() -> None:
    bleach = Contents(1000, {"hydrogen_peroxide": 92.0, "silver": 0.4})
    assert "vented cap" in storage_of(bleach)[0]
    assert "35 °C" in storage_of(bleach)[0]
    told = " ".join(disposal_of(bleach))
    assert "5 mg/L" in told
    assert "3000 to 5000" in told
    assert told.endswith("The tool only tells figures.")
    assert "1 mg/L" in " ".join(disposal_of(Contents(1000, {"sodium_selenite": 2.0})))
    buying = buying_of(bleach)
    assert len(buying) == 1
    assert "12 %" in buying[0]
    assert "2019/1148" in buying[0]
    assert "your local rule decides" in buying[0]
    assert "from memory, unverified" in buying[0]
    assert buying_of(Contents(1000, {"citric_acid": 50.0})) == ()
    assert len(first_steps_of(hazards_of(bleach))) >= 2
    assert facts("waste")["silver_limit"].value == 5
    assert "apart from everything else" in storage_of(Contents(1000, {"toner X": 3.0}))[-1]


def test_what_is_typed_beside_a_recipe_takes_its_place() -> None:
    assert asked(recipe="peroxide bleach", ingredients="hydrogen peroxide; 6; % w/w").code == ("H314", "H319")
    assert "H318" in asked(recipe="peroxide bleach").code


def test_nothing_asked_is_refused_in_our_words() -> None:
    with pytest.raises(BadQuestion) as refused:
        asked()
    assert "name what is in it" in str(refused.value)
    with pytest.raises(BadQuestion) as refused:
        asked(recipe="peroxid bleach")
    assert "peroxide bleach" in str(refused.value)


def test_no_word_denies_a_danger() -> None:
    words = [
        row[column]
        for name in ("statements", "gear", "splash", "storage", "disposal", "buying", "apart", "rules")
        for row in table(name)
        for column in ("words", "brief", "says")
        if column in row
    ]
    words += [one.sentence for recipe in recipes() for one in asked(recipe=recipe.name).notes]
    assert not [text for text in words if DENIED.search(text)]


def test_each_shape_is_drawn_and_named() -> None:
    for one in statements().values():
        assert not one.pictogram or shape_words(one.pictogram)
    for name in [row["name"] for row in table("pictograms")]:
        assert f'id="p-{name}"' in symbols()
        assert "class=" not in shape_svg(name)
        assert shape_svg(name).startswith("<svg")
        assert "#b3261e" not in shape_svg(name)
        assert ("#b3261e" in shape_svg(name, red=True)) == (name != "plain"), "a bullet is no diamond"


def test_a_shelf_of_a_hundred_is_quick() -> None:
    baths = [Contents(1000, {"hydrogen_peroxide": 30.0 + place, "citric_acid": 50.0}) for place in range(100)]
    for one in baths:
        hazards_of(one)
    begun = perf_counter()
    for one in baths:
        hazards_of(one)
    assert perf_counter() - begun < 0.02
