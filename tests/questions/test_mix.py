"""Recipes and mixing: sources by a second route, masses that add up, order and cautions, what is refused."""

from collections.abc import Mapping
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.cli.told import tell
from silverwright.errors import BadQuestion
from silverwright.facts.load import bibliography, table
from silverwright.notes import CAUTIONS, Note
from silverwright.questions.mix import MIX, MixAnswer, MixQuestion, mixed
from silverwright.questions.mixsteps import strengths_of
from silverwright.questions.mixture import handling
from silverwright.questions.recipe import for_role, recipe_named, recipes
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Recipe

U: Any = pint.UnitRegistry()
PEROXIDE_35 = {"stock": "can", "substance": "hydrogen peroxide", "amount": 35, "unit": "% w/w"}


def ask(**typed: object) -> MixAnswer:
    return MIX.ask(typed)


def faults(typed: Mapping[str, object]) -> dict[str, str]:
    with pytest.raises(BadQuestion) as refused:
        MIX.ask(typed)
    return {one.field: one.problem for one in refused.value.faults}


def amount(name: str, key: str) -> float:
    found = recipe_named(name)
    assert found is not None
    return next(one.amount for one in found.parts if one.substance == key)


# --- the recipes themselves ---


def test_every_row_is_a_recipe_that_can_be_named() -> None:
    names = [one.name for one in recipes()]
    assert len(set(names)) == len(names)
    for one in recipes():
        assert recipe_named(one.name.upper()) is one
        assert recipe_named(one.name, one.version) is one
        assert recipe_named(one.name, "none") is None
    assert {row["recipe"] for row in table("recipe_parts")} <= set(names)
    assert all(part.substance in substances() for one in recipes() for part in one.parts)


def test_every_role_of_the_process_has_one() -> None:
    assert all(for_role(role) for role in ("first developer", "stop", "bleach", "clearing", "second developer", "fixer", "wash aid", "toner"))


def test_every_recipe_says_who_says_so() -> None:
    for name in ("recipes", "recipe_parts"):
        for row in table(name):
            assert (row["kind"] in {"trade", "memory"}) != (row["source"] in bibliography()), row
    assert recipe_named("peroxide bleach", "1").says == "from memory, unverified"  # type: ignore[union-attr]


def test_dichromate_stands_last_and_is_not_recommended() -> None:
    bleaches = for_role("bleach")
    assert [one.name for one in bleaches if one.against] == ["dichromate bleach"]
    assert bleaches[-1].name == "dichromate bleach"
    told = ask(recipe="dichromate bleach", volume_ml=1000)
    assert told.notes[0].note is Note.MIX_AGAINST
    assert "causes cancer" in told.notes[0].sentence


@pytest.mark.parametrize(
    ("recipe", "key", "printed", "into", "share"),
    [
        ("permanganate bleach, weak", "potassium_permanganate", "5 grain", "10 imperial_fluid_ounce", 0.15),  # printed as 1 g beside it
        ("permanganate bleach", "potassium_permanganate", "70 grain", "80 fluid_ounce", 0.01),
        ("metol-hydroquinone developer with potash", "metol", "200 grain", "80 imperial_fluid_ounce", 0.06),  # printed as 6 g
        ("metol-hydroquinone developer with potash", "hydroquinone", "150 grain", "80 imperial_fluid_ounce", 0.07),  # printed as 4 g
        ("metol-hydroquinone developer with potash", "potassium_bromide", "50 grain", "80 imperial_fluid_ounce", 0.02),
        ("metol-hydroquinone developer with potash", "potassium_carbonate", "2 ounce", "80 imperial_fluid_ounce", 0.01),
        ("metol-hydroquinone developer with borax", "hydroquinone", "2.5 gram", "500 millilitre", 1e-9),
        ("metol-hydroquinone developer with borax", "borax", "10 gram", "500 millilitre", 1e-9),
        ("acid fixer", "sodium_thiosulphate_pentahydrate", "100 gram", "500 millilitre", 1e-9),
        ("acid fixer", "potassium_metabisulphite", "13 gram", "500 millilitre", 1e-9),
        ("bleach for sulphide toning", "potassium_ferricyanide", "300 grain", "20 imperial_fluid_ounce", 0.01),
        ("bleach for sulphide toning", "potassium_bromide", "100 grain", "20 imperial_fluid_ounce", 0.01),
    ],
)
def test_old_measures_become_grams_in_a_litre(recipe: str, key: str, printed: str, into: str, share: float) -> None:
    assert amount(recipe, key) == pytest.approx((U(printed) / U(into)).to("g/L").magnitude, rel=share)


@pytest.mark.parametrize(("recipe", "acid_ml_per_l"), [("permanganate bleach, weak", 2), ("permanganate bleach", 10.16)])
def test_strong_acid_by_volume_becomes_grams(recipe: str, acid_ml_per_l: float) -> None:
    """1.84 g/mL and 98 %, as the note says; 6.5 US fluid drams in 80 fluid ounces are 10.16 mL in a litre."""
    assert amount(recipe, "sulphuric_acid") == pytest.approx(acid_ml_per_l * 1.84 * 0.98, rel=0.01)
    assert (U("6.5 US_fluid_dram") / U("80 fluid_ounce")).to("mL/L").magnitude == pytest.approx(10.16, abs=0.01)


# --- every recipe mixed ---


@pytest.mark.parametrize("recipe", [one for one in recipes() if one.water_parts is None], ids=lambda one: one.name)
def test_every_recipe_can_be_mixed_with_the_caution_before_the_amount(recipe: Recipe) -> None:
    told = ask(recipe=recipe.name, volume_ml=1000)
    assert told.step_what[0] in {"water", "distilled water"}
    assert told.cautions, "what can hurt comes first"
    assert told.reached_strength == pytest.approx(told.wanted_strength, rel=0.06)
    assert MixAnswer.table.index("step_caution") == 0
    mix = mixed(MixQuestion(recipe=recipe.name, volume_ml=1000))
    assert mix.water_g + sum(one.exact_g for one in mix.pours) == pytest.approx(mix.whole_g, rel=1e-9)
    assert {one.substance for one in recipe.parts} == set(mix.reached.mass_g)


def test_what_a_recipe_warns_of_is_a_caution() -> None:
    for one in recipes():
        for code in filter(None, one.cautions):
            assert Note(code) in CAUTIONS


def test_each_known_substance_has_its_own_way_in() -> None:
    without = set(substances()) - {"water", "silver"} - {row["substance"] for row in table("pouring")}
    assert not without
    assert handling("pixie dust").caution.startswith("Nothing is known of it here")


# --- amounts ---


def test_peroxide_of_35_percent_to_9() -> None:
    """Computed from the table of laliberte2009: 234.2 mL + 767.7 mL water for a litre, the rule of three 10 % too strong."""
    told = ask(recipe="peroxide bath", volume_ml="1 L", stocks=[PEROXIDE_35])
    assert told.taken_g == pytest.approx([265.26], abs=0.02)
    assert (told.step_weigh[1], told.step_measure[1]) == ("265.3 g", "or 234 mL")
    assert told.ledger[0].amount / 0.99821 == pytest.approx(767.7, abs=0.1)
    assert told.step_what[0] == "distilled water"
    naive = next(one for one in told.notes if one.note is Note.NAIVE_RULE)
    assert "10 % too strong" in naive.sentence


def test_an_acid_bath_of_crystals_with_water_in_them() -> None:
    """5 % w/w of 1018.7 g: 50.94 g of acid, 55.71 g of crystals by 210.138 over 192.123."""
    dry, wet = (
        ask(recipe="acid bath", volume_ml=1000, stocks=[{"stock": "bag", "substance": name}]).taken_g[0]
        for name in ("citric acid", "citric acid monohydrate")
    )
    assert wet / dry == pytest.approx(210.138 / 192.123, rel=1e-4)
    assert ask(recipe="acid bath", volume_ml=1000).ph.value == pytest.approx(1.87, abs=0.03)  # type: ignore[union-attr]


def test_a_powder_of_100_percent_is_a_powder() -> None:
    bag = {"stock": "bag", "substance": "citric acid"}
    assert ask(recipe="acid bath", volume_ml=1000, stocks=[{**bag, "amount": 100, "unit": "%"}]).taken_g == pytest.approx(
        ask(recipe="acid bath", volume_ml=1000, stocks=[bag]).taken_g
    )


def test_grams_are_for_what_the_vessel_takes() -> None:
    tray = {"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250}
    assert ask(ingredients="borax; 3.75; g", **tray).wanted_strength == pytest.approx([3.75 / 0.9375])


def test_rounding_is_told_as_the_strength_that_it_gives() -> None:
    """Second route: 50.9 g in 1018.7 g, and 0.2 g of phenidone is not something that this scale can set."""
    told = ask(recipe="acid bath", volume_ml=1000)
    assert told.reached_strength[0] == pytest.approx(100 * 50.9 / 1018.73, abs=0.001)
    notes = [one for one in ask(recipe="ascorbate developer", volume_ml=1000).notes if one.note is Note.SCALE_TOO_COARSE]
    assert [one.sentence.split(" ")[0] for one in notes] == ["0.2"]


def test_old_bottle_first_then_the_new_one_and_the_rest_on_the_list() -> None:
    stocks = [{**PEROXIDE_35, "left_ml": 100}, {"stock": "new", "substance": "peroxide", "amount": 12, "unit": "% w/w", "left_ml": 300}]
    told = ask(recipe="peroxide bath", volume_ml=1000, stocks=stocks)
    pure_g = told.taken_g[0] * 0.35 + told.taken_g[1] * 0.12
    assert pure_g == pytest.approx(92.84, abs=0.01)  # 9 % of 1031.56 g
    assert told.taken_g[0] == pytest.approx(100 * 1.1328, abs=0.02)
    assert (
        told.shopping == ("hydrogen peroxide, 12\N{NO-BREAK SPACE}% w/w: 130\N{NO-BREAK SPACE}g (125\N{NO-BREAK SPACE}mL) more.",)
        or "more" in told.shopping[0]
    )
    assert next(one for one in told.notes if one.note is Note.MIX_MISSING)
    enough = ask(recipe="peroxide bath", volume_ml=1000, stocks=[{**PEROXIDE_35, "left_ml": 500}])
    assert not enough.shopping


def test_a_vessel_gives_the_volume_and_how_deep_it_stands() -> None:
    tray = {"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250}
    assert ask(recipe="acid bath", **tray).mixed_ml.value == pytest.approx(937.5, rel=0.001)
    assert ask(recipe="acid bath", volume_ml=1500, **tray).stands_mm == pytest.approx(20, rel=0.001)
    assert ask(recipe="acid bath", vessels=3, **tray).mixed_ml.value == pytest.approx(3 * 937.5, rel=0.001)


def test_parts_of_ones_own_go_in_by_their_place() -> None:
    rows = [("hydrogen peroxide", 6, "% w/w"), ("potassium bromide", 1, "g/L"), ("citric acid", 2, "% w/w")]
    told = ask(volume_ml=1000, ingredients=[{"substance": name, "amount": much, "unit": unit} for name, much, unit in rows])
    assert [what.split(",")[0] for what in told.step_what[1:4]] == ["citric acid (anhydrous)", "potassium bromide", "hydrogen peroxide"]


def test_grams_for_the_whole_volume() -> None:
    told = ask(volume_ml=500, ingredients="substance,amount,unit\nborax,2,g")
    assert told.taken_g == pytest.approx([2])
    assert told.wanted_strength == pytest.approx([4])


def test_a_known_recipe_changed() -> None:
    told = ask(recipe="peroxide bleach", volume_ml=1000, ingredients="hydrogen peroxide; 4; % w/w")
    assert told.wanted_strength == (5, 4)
    assert {Note.MIX_CHANGED, Note.MIX_OUTSIDE} <= {one.note for one in told.notes}


def test_a_concentrate_is_parts_of_water() -> None:
    told = ask(recipe="selenium toner", volume_ml=1050)
    assert told.step_measure == ("1000 mL", "50 mL")
    assert ask(recipe="ready-made concentrate", volume_ml=1000, water_parts=4).step_measure == ("800 mL", "200 mL")
    short = ask(recipe="ready-made concentrate", volume_ml=1000, stocks=[{"stock": "fixer", "substance": "concentrate", "left_ml": 60}])
    assert "40" in short.shopping[0]


def test_percent_and_no_more_is_asked_and_unclear_widens() -> None:
    asked = faults({"recipe": "peroxide bath", "volume_ml": 1000, "stocks": [{**PEROXIDE_35, "unit": "%"}]})
    assert "by weight (% w/w) or by volume" in asked["stocks"]
    clear, unclear = (ask(recipe="peroxide bath", volume_ml=1000, stocks=[{**PEROXIDE_35, "unit": unit}]) for unit in ("% w/w", "%, label unclear"))
    assert Note.MIX_UNCLEAR in {one.note for one in unclear.notes}
    assert clear.taken_g[0] < unclear.taken_g[0] < clear.taken_g[0] * 1.1328
    assert len(unclear.reached[0]) > 0


def test_the_command_line_numbers_the_steps_with_the_caution_first() -> None:
    said = " ".join(tell(MIX.ask({"recipe": "peroxide bath", "volume_ml": 1000, "stocks": [PEROXIDE_35]})).split())
    assert "2. First: Goggles and nitrile gloves on" in said
    assert said.index("Goggles and nitrile gloves on before the cap") < said.index("Weigh: 265.3 g; Measure: or 234 mL")


def limits_of(**typed: object) -> list[tuple[float, float, float]]:
    """Each part as it comes out, as shares of what was wanted: low, reached, high."""
    found = strengths_of(mixed(MixQuestion.model_validate(typed)))
    return [(one.low / one.part.amount, one.reached_amount / one.part.amount, one.high / one.part.amount) for one in found]


def test_three_quarters_of_the_water_stand_before_the_first_powder() -> None:
    told = ask(recipe="plain fixer", volume_ml=1000)
    assert told.step_measure[0] == "750 mL"
    assert (told.step_what[-1], told.step_measure[-1]) == ("water, the rest", "up to 1000\N{NO-BREAK SPACE}mL")
    assert ask(recipe="peroxide bath", volume_ml=1000).step_what[-1] != "distilled water, the rest"


def test_limits_of_a_powder_are_those_of_scale_and_jug() -> None:
    """By hand: 1.28155 sd of 0.06 g in 125 g and of one part in a hundred; in 1 g the scale is nearly all of it."""
    ((low, reached, high),) = limits_of(recipe="plain fixer", volume_ml=1000)
    assert (low, reached, high) == pytest.approx((1 - 0.012826, 1, 1 + 0.012826), abs=1e-4)
    metol = limits_of(recipe="paper developer", volume_ml=1000)[0]
    assert metol[2] - 1 == pytest.approx(1.28155 * (0.06**2 + 0.01**2) ** 0.5, rel=1e-3)


def test_little_of_a_liquid_is_as_unsure_as_the_scale() -> None:
    """By hand: 2.4 g of acid on a scale with 0.06 g of doubt, 2 % for the label, one part in a hundred for the jug."""
    low, _, high = limits_of(recipe="permanganate bleach, weak", volume_ml=100)[1]
    assert high - low == pytest.approx(2 * 1.28155 * ((0.06 / 2.4) ** 2 + 0.02**2 + 0.01**2) ** 0.5, rel=1e-3)


def test_by_volume_it_becomes_what_the_cylinder_gives() -> None:
    """By hand: 234 mL of 1.13279 g/mL and 770 mL of water; 2 % for the label, 1.15 mL in 234 for the cylinder, 3.5 g in 1034 for the water."""
    ((low, reached, high),) = limits_of(recipe="peroxide bath", volume_ml=1000, stocks=[PEROXIDE_35], liquids_by="volume")
    stock_g, water_g = 234 * 1.13279, 770 * 0.99821
    assert reached == pytest.approx(0.35 * stock_g / (stock_g + water_g) / 0.09, rel=1e-4)
    sd = (0.02**2 + (1.15 / 234.16) ** 2 + (3.5 / (stock_g + water_g)) ** 2) ** 0.5
    assert (high - low) / 2 / reached == pytest.approx(1.28155 * sd, rel=2e-3)


def test_a_label_that_is_unclear_widens_the_limits() -> None:
    """By hand: 350 g in a litre are 31.3 % by weight (1.118 g/mL); half of ln(35/31.3) over 1.28155 is 0.0436, and 2 % for the label beside it."""
    stocks = [{**PEROXIDE_35, "unit": "%, label unclear"}]
    ((low, _, high),) = limits_of(recipe="peroxide bath", volume_ml=1000, stocks=stocks)
    assert high - low == pytest.approx(2 * 1.28155 * (0.0436**2 + 0.02**2) ** 0.5, rel=0.02)


def test_several_vessels_share_what_is_mixed() -> None:
    trays = {"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250, "inside_height_mm": 60, "vessels": 3}
    assert ask(recipe="acid bath", volume_ml=4500, **trays).stands_mm == pytest.approx(20, rel=0.001)
    assert "too small" in faults({"recipe": "acid bath", "volume_ml": 11_300, **trays})["volume_ml"]  # 50 mm under the brim are 3750 mL in each


# --- what the mix can do ---


def test_the_finished_bath_is_classified_not_only_its_bottles() -> None:
    """9 % peroxide with 5 % citric acid: the row of peroxide and the rule of pH 2; 6 % peroxide alone irritates the eyes badly."""
    both = " ".join(ask(recipe="peroxide bleach", volume_ml=1000).hazards)
    assert "H314: At this pH" in both
    assert "H318" in both
    assert "a cap that vents" in both
    alone = ask(volume_ml=1000, ingredients="hydrogen peroxide; 6; % w/w").hazards
    assert any(one.startswith("H319") for one in alone)


def test_what_has_no_class_here_is_named() -> None:
    assert any("No class on file: sodium sulphite" in one for one in ask(recipe="paper developer", volume_ml=1000).hazards)
    unknown = ask(volume_ml=1000, ingredients="pixie dust; 5; g/L")
    assert any(one == "pixie dust: no hazard data here: read its data sheet." for one in unknown.hazards)
    assert unknown.step_caution[1].startswith("Nothing is known of it here")
    assert all(ask(recipe=one.name, volume_ml=1000).hazards for one in recipes())
    assert ask(recipe="ready-made concentrate", volume_ml=1000).hazards == ("Ready-made concentrate: no hazard data here: read its data sheet.",)


@pytest.mark.parametrize(
    ("parts", "gas"),
    [
        ("sodium thiosulphate; 100; g/L\nsulphuric acid; 10; g/L", "sulphur dioxide"),
        ("hydrogen peroxide; 9; % w/w\nsodium sulphite; 20; g/L", "sulphur dioxide"),
        ("sodium hypochlorite; 10; g/L\ncitric acid; 20; g/L", "chlorine"),
        ("potassium permanganate; 2; g/L\nhydrogen peroxide; 9; % w/w", ""),
    ],
)
def test_what_gives_off_gas_is_never_mixed(parts: str, gas: str) -> None:
    told = faults({"volume_ml": 1000, "ingredients": parts})["ingredients"]
    assert told.startswith("This is never mixed")
    assert gas in told.lower()


@given(
    st.sampled_from([one.name for one in recipes() if one.water_parts is None]),
    st.floats(10, 100_000),
    st.floats(5, 40),
    st.sampled_from(["weight", "volume"]),
)
def test_whatever_the_volume_masses_add_up_and_limits_hold(recipe: str, volume_ml: float, celsius: float, by: Any) -> None:
    question = MixQuestion(recipe=recipe, volume_ml=volume_ml, temperature_celsius=celsius, liquids_by=by)
    mix = mixed(question)
    assert mix.water_g + sum(one.exact_g for one in mix.pours) == pytest.approx(mix.whole_g, rel=1e-9)
    for one in strengths_of(mix):
        assert one.low <= one.reached_amount <= one.high
    told = MIX.compute(question)
    assert told.ph is None or (told.ph.low or 0) <= (told.ph.value or 0) <= (told.ph.high or 0)


# --- bad input ---


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({}, "recipe", "a recipe by its name, or the parts"),
        ({"recipe": "peroxide bleech", "volume_ml": 1000}, "recipe", "Is it peroxide bleach"),
        ({"recipe": "peroxide bleach", "version": "7", "volume_ml": 1000}, "recipe", "no version 7"),
        ({"recipe": "acid bath"}, "volume_ml", "how much, such as 1 L; or the vessel"),
        ({"recipe": "acid bath", "volume_ml": 0}, "volume_ml", "0 mL was given"),
        (
            {"recipe": "acid bath", "volume_ml": 1e6, "vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250},
            "volume_ml",
            "The vessel is too small",
        ),
        ({"recipe": "peroxide bath", "volume_ml": 1000, "stocks": [{**PEROXIDE_35, "amount": 6}]}, "stocks", "too weak"),
        ({"recipe": "peroxide bath", "volume_ml": 1000, "stocks": [{**PEROXIDE_35, "amount": 135}]}, "stocks", "100 g in 100 g"),
        ({"recipe": "peroxide bath", "volume_ml": 1000, "stocks": [{**PEROXIDE_35, "amount": 0}]}, "stocks", "strength of 0 is water"),
        ({"volume_ml": 1000, "ingredients": "citric acid; 900; g/L"}, "ingredients", "dissolves about"),
        ({"volume_ml": 100, "ingredients": "citric acid; 40; g\nborax; 80; g"}, "ingredients", ""),
        (
            {
                "recipe": "acid bath",
                "volume_ml": 5000,
                "vessel": "tray",
                "inside_length_mm": 300,
                "inside_width_mm": 250,
                "inside_height_mm": 60,
            },
            "volume_ml",
            "too small",
        ),
    ],
)
def test_what_cannot_be_mixed_is_refused_with_what_to_do(typed: dict[str, Any], field: str, words: str) -> None:
    assert words in faults(typed)[field]
