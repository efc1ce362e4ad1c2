"""What must not meet: the same from both sides, each with its gas, the likeliest accident first."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.apart import clashes
from silverwright.facts.load import table
from silverwright.questions.apart import LEAST_G_PER_L, groups, kept_apart, pairs, vented_because
from silverwright.questions.meeting import MEETING
from silverwright.questions.recipe import recipe_named, recipes
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Apart, Contents

KEYS = st.sets(st.sampled_from(sorted(substances())), max_size=4)


def dry(*keys: str) -> Contents:
    return Contents(0.0, dict.fromkeys(keys, 1.0))


def bath(name: str) -> Contents:
    recipe = recipe_named(name)
    assert recipe is not None
    return dry(*(part.substance for part in recipe.parts))


@given(KEYS, KEYS)
def test_it_does_not_matter_which_is_poured(one: set[str], other: set[str]) -> None:
    here, there = kept_apart(dry(*one), dry(*other)), kept_apart(dry(*other), dry(*one))
    assert {(frozenset({pair.one, pair.other}), pair.gas, pair.refused) for pair in here} == {
        (frozenset({pair.one, pair.other}), pair.gas, pair.refused) for pair in there
    }


@given(KEYS, KEYS, KEYS)
def test_more_in_a_bottle_never_lets_more_into_it(one: set[str], other: set[str], more: set[str]) -> None:
    def refused(keys: set[str]) -> set[frozenset[str]]:
        return {frozenset({pair.one, pair.other}) for pair in kept_apart(dry(*one), dry(*keys)) if pair.refused}

    assert refused(other) <= refused(other | more)


# The reactions as they are taught, typed a second time, by their names on a bottle.
TAUGHT = [
    ("hydrogen_peroxide", "sodium_thiosulphate_pentahydrate", "sulphur dioxide"),
    ("hydrogen_peroxide", "sodium_sulphite", "oxygen"),
    ("hydrogen_peroxide", "hydroquinone", "oxygen"),
    ("hydrogen_peroxide", "copper_sulphate_pentahydrate", "oxygen"),
    ("hydrogen_peroxide", "potassium_permanganate", "oxygen"),
    ("hydrogen_peroxide", "acetone", "explosive"),
    ("citric_acid_monohydrate", "ammonium_thiosulphate", "sulphur dioxide"),
    ("acetic_acid", "sodium_metabisulphite", "sulphur dioxide"),
    ("sodium_hypochlorite", "citric_acid", "chlorine"),
    ("sodium_hypochlorite", "ammonia", "chloramines"),
    ("sodium_hypochlorite", "ammonium_thiosulphate", "chloramines"),
    ("sodium_sulphide", "acetic_acid", "hydrogen sulphide"),
    ("sodium_selenite", "citric_acid", "selenium"),
    ("potassium_ferricyanide", "sulphuric_acid", "hydrogen cyanide"),
    ("potassium_permanganate", "hydrochloric_acid", "chlorine"),
    ("silver_nitrate", "ammonia", "explodes"),
]


@pytest.mark.parametrize(("one", "other", "gas"), TAUGHT)
def test_the_gas_is_named(one: str, other: str, gas: str) -> None:
    found = kept_apart(dry(one), dry(other))
    assert found
    assert found[0].refused
    assert gas in found[0].gas
    assert found[0].words
    assert found[0].says


def test_the_likeliest_accident_comes_first() -> None:
    found = kept_apart(bath("peroxide bleach"), Contents(0.0, {**bath("plain fixer").mass_g, **bath("paper developer").mass_g}))
    assert found[0].gas == "sulphur dioxide and oxygen"
    assert "thiosulphate" in found[0].other
    assert len({(pair.one, pair.other, pair.gas) for pair in found}) == len(found), "each gas of a pair once"


@pytest.mark.parametrize("name", ["plain fixer", "acid fixer", "rapid fixer", "paper developer", "sulphite clearing bath", "selenium toner"])
@pytest.mark.parametrize("bleach", ["peroxide bleach", "permanganate bleach"])
def test_used_bleach_has_a_bottle_of_its_own(name: str, bleach: str) -> None:
    assert any(pair.refused for pair in kept_apart(bath(bleach), bath(name)))


@pytest.mark.parametrize("recipe", recipes(), ids=lambda recipe: str(recipe.name))
def test_no_recipe_clashes_in_itself(recipe: object) -> None:
    contents = bath(recipe.name)  # type: ignore[attr-defined]
    assert not [pair for pair in kept_apart(contents, contents) if pair.refused]


def test_a_mix_that_clashes_in_itself_is_found() -> None:
    mad = dry("hydrogen_peroxide", "citric_acid", "sodium_thiosulphate")
    assert {pair.gas for pair in kept_apart(mad, mad)} == {"sulphur dioxide and oxygen", "sulphur dioxide"}


def test_foam_is_told_and_not_refused() -> None:
    found = kept_apart(bath("acetic stop bath"), dry("sodium_carbonate"))
    assert [(pair.gas, pair.refused) for pair in found] == [("carbon dioxide", False)]


def test_of_a_stranger_it_is_said_that_nobody_knows() -> None:
    found = kept_apart(Contents(0.0, {"toner X": 1.0}), bath("peroxide bleach"))
    assert len(found) == 1
    assert "no hazard data here: read its data sheet" in found[0].words
    assert not found[0].refused
    assert kept_apart(Contents(0.0, {"toner X": 1.0}), Contents(1000, {})) == ()


@pytest.mark.parametrize(
    ("name", "gas"),
    [
        ("Rapid Fixer, brand X", "sulphur dioxide and oxygen"),
        ("paper developer concentrate", "oxygen and sulphur dioxide"),
        ("selenium toner concentrate", "sulphur dioxide and oxygen"),
        ("chlorine tablets", "chlorine"),
    ],
)
def test_a_product_counts_as_what_its_name_says(name: str, gas: str) -> None:
    found = kept_apart(bath("peroxide bleach"), Contents(0.0, {name: 1.0}))
    assert found[0].gas == gas
    assert found[0].refused
    assert "no hazard data here: read its data sheet" in found[-1].words, "that nobody knows more is said all the same"
    assert any("selenium" in pair.gas for pair in kept_apart(bath("acid bath"), Contents(0.0, {"selenium toner concentrate": 1.0})))


def test_traces_do_not_count() -> None:
    fixer = bath("plain fixer")
    assert kept_apart(Contents(1000, {"hydrogen_peroxide": 0.9 * LEAST_G_PER_L}), fixer) == ()
    assert kept_apart(Contents(1000, {"hydrogen_peroxide": 1.1 * LEAST_G_PER_L}), fixer)


def test_where_gas_builds_up_a_cap_vents() -> None:
    assert "vents" in vented_because(bath("peroxide bleach"))
    assert vented_because(bath("plain fixer")) == ""


def test_the_tables_fit_together() -> None:
    assert all(keys <= substances().keys() and keys for keys in groups().values())
    assert all(key in substances() for row in table("groups") for key in row["substances"].split("|"))
    assert all({pair.one, pair.other} <= groups().keys() and pair.gas and pair.words for pair in pairs())
    assert all(kind in groups() for row in table("products") for kind in row["groups"].split("|"))
    assert "sodium_thiosulphate_pentahydrate" in groups()["thiosulphate"], "crystals with their water are of the same kind"


def test_first_pair_in_the_list_wins() -> None:
    kinds = {"a": frozenset({"x"}), "b": frozenset({"y"}), "c": frozenset({"x", "y"})}
    listed = [
        Apart("a", "b", "gas", "first", refused=True),
        Apart("c", "c", "gas", "second", refused=False),
        Apart("c", "c", "other", "", refused=True),
    ]
    assert [(pair.gas, pair.words) for pair in clashes(["x"], ["y"], kinds, listed)] == [("gas", "first"), ("other", "")]


def test_the_question_names_the_gas_before_the_act() -> None:
    answer = MEETING.ask({"poured": "peroxide bleach", "poured_into": "plain fixer"})
    assert answer.refused
    assert "sulphur dioxide" in answer.cautions[0].sentence
    assert "Never pour them together" in answer.cautions[0].sentence
    none = MEETING.ask({"poured": "peroxide bleach", "poured_into": "citric stop bath"})
    assert not none.refused
    assert "nobody listed" in none.notes[0].sentence, "silence is no answer"
