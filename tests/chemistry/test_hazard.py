"""From the classes of the ingredients to those of the whole: both sides of every limit, the sums by a second route, and what must always hold."""

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.hazard import ate_of_mixture, classified, own_limit
from silverwright.facts.load import table
from silverwright.questions.hazard import IN_FORCE, RuleSet, classes_of, hazards_of, limits, statements
from silverwright.questions.ingredients import IngredientRow, contents_of
from silverwright.questions.substances import substance, substances
from silverwright.records_chemistry import HazardClass, Hazards, Ingredient

PROPOSAL: RuleSet = "proposal of July 2024"
PRINTED = Path(__file__).parents[1] / "authorities" / "classes.csv"
A_HAIR = 1e-6
FATAL = {"skin": "skin_1", "eye": "eye_1"}


def printed() -> list[dict[str, str]]:
    lines = [line for line in PRINTED.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def found_of(ingredients: str, rules: RuleSet = IN_FORCE) -> Hazards:
    cells = [[cell.strip() for cell in line.split(";")] for line in ingredients.split("|")]
    rows = [IngredientRow(substance=name, amount=float(amount), unit=unit) for name, amount, unit in cells]  # type: ignore[arg-type]
    return hazards_of(contents_of(rows, 1000), rules=rules)


def names(*ingredients: Ingredient, ph: float | None = None) -> set[str]:
    return {one.name for one in classified(ingredients, limits(), ph)}


def of(percent: float, *hazards: HazardClass, name: str = "something") -> Ingredient:
    return Ingredient(name, percent, hazards)


@pytest.mark.parametrize("row", printed(), ids=lambda row: f"{row['source']}: {row['ingredients']} {row['rules']}")
def test_what_others_print(row: dict[str, str]) -> None:
    found = found_of(row["ingredients"], row["rules"])  # type: ignore[arg-type]
    assert " ".join(sorted(one.code for one in found.rows)) == row["codes"], row["why"]


def with_own_limits() -> Iterator[Any]:
    """Each limit that is laid down for one substance, from the table as it stands."""
    for row in table("hazards"):
        if row["from_percent"]:
            for rules in [row["rules"]] if row["rules"] else [IN_FORCE, PROPOSAL]:
                yield pytest.param(row, rules, id=f"{row['substance']} {row['name']} from {row['from_percent']} %, {rules}")


@pytest.mark.parametrize(("row", "rules"), list(with_own_limits()))
def test_both_sides_of_each_limit(row: dict[str, str], rules: RuleSet) -> None:
    key, limit = row["substance"], float(row["from_percent"])
    at = classified([of(limit, *classes_of(key, rules))], limits())
    below = classified([of(limit - A_HAIR, *classes_of(key, rules))], limits())
    code = statements()[row["name"]].code
    assert row["name"] in {one.name for one in at}
    assert row["name"] not in {one.name for one in below}
    graver = row["name"] in {"skin_1a", "oxidiser_1"}  # the grade below has the same words
    assert graver or code not in {statements()[one.name].code for one in below} or code == "H272"


@pytest.mark.parametrize(
    ("family", "limit"),
    [
        ("skin_allergy_1", 1),
        ("airway_allergy_1", 1),
        ("cancer_1b", 0.1),
        ("cancer_2", 1),
        ("genes_1b", 0.1),
        ("genes_2", 1),
        ("unborn_1b", 0.3),
        ("unborn_2", 3),
        ("organs_1", 10),
        ("organs_2", 10),
        ("skin_2", 10),
        ("eye_1", 3),
        ("eye_2", 10),
        ("airways_3", 20),
        ("drowsy_3", 20),
    ],
)
def test_limits_of_all(family: str, limit: float) -> None:
    """The limits as the regulation has them, typed a second time."""
    assert family in names(of(limit, HazardClass(family)))
    assert family not in names(of(limit - A_HAIR, HazardClass(family)))


def test_what_burns_irritates_when_it_is_weak_and_what_harms_organs_may() -> None:
    burns = HazardClass("skin_1b")
    assert names(of(5, burns)) == {"skin_1b"}
    assert names(of(4.99, burns)) == {"skin_2", "eye_1"}
    assert names(of(2.99, burns)) == {"skin_2", "eye_2"}
    assert names(of(0.99, burns)) == set()
    assert names(of(9.9, HazardClass("organs_1"))) == {"organs_2"}
    assert names(of(0.5, HazardClass("skin_allergy_1"))) == {"allergy_told_1"}
    assert names(of(0.09, HazardClass("skin_allergy_1"))) == set()


@given(st.floats(1, 10), st.floats(1, 20))
def test_skin_by_the_sums_of_the_regulation(burns: float, irritates: float) -> None:
    """The second route: the sums as they are printed, where nothing has a limit of its own."""
    found = names(of(burns, HazardClass("skin_1b"), name="one"), of(irritates, HazardClass("skin_2"), name="other"))
    if burns >= 5:
        assert "skin_1b" in found
    elif 10 * burns + irritates >= 10 + 1e-9:
        assert "skin_2" in found
    elif 10 * burns + irritates < 10 - 1e-9:
        assert not found & {"skin_1b", "skin_2"}


@given(st.lists(st.tuples(st.floats(0, 30), st.floats(5, 2000)), max_size=4))
def test_poisons_by_the_reciprocal_sum(parts: list[tuple[float, float]]) -> None:
    ingredients = [of(percent, HazardClass("oral_3", ate=ate), name=str(place)) for place, (percent, ate) in enumerate(parts)]
    counted = [(percent, ate) for percent, ate in parts if percent >= 0.1]
    estimate = ate_of_mixture(ingredients, "oral", limits())
    assert estimate == (pytest.approx(100 / sum(percent / ate for percent, ate in counted)) if counted else None)
    grades = [grade for grade, limit in ((1, 5), (2, 50), (3, 300), (4, 2000)) if estimate is not None and estimate <= limit]
    assert {one for one in names(*ingredients) if one.startswith("oral")} == {f"oral_{grade}" for grade in grades[:1]}


def test_a_poison_of_category_4_counts_from_1_percent_a_graver_one_from_a_tenth() -> None:
    mild, grave = HazardClass("oral_4", ate=500), HazardClass("oral_3", ate=100)
    assert [ate_of_mixture([of(percent, mild)], "oral", limits()) for percent in (0.99, 1)] == [None, pytest.approx(50_000)]
    assert [ate_of_mixture([of(percent, grave)], "oral", limits()) for percent in (0.09, 0.1)] == [None, pytest.approx(100_000)]


def test_life_in_water_by_its_ladder() -> None:
    worst = HazardClass("water_chronic_1", m_factor=10)
    assert names(of(2.5, worst)) == {"water_chronic_1"}
    assert names(of(0.25, worst)) == {"water_chronic_2"}
    assert names(of(0.025, worst)) == {"water_chronic_3"}
    assert names(of(0.024, worst)) == set()
    assert names(of(25, HazardClass("water_acute_1"))) == {"water_acute_1"}
    assert names(of(2.5, worst, HazardClass("water_acute_1", m_factor=100))) == {"water_chronic_1"}, "the quick harm is said already"


@pytest.mark.parametrize(("ph", "burns"), [(1.9, True), (2.0, True), (2.01, False), (7, False), (11.49, False), (11.5, True), (13, True)])
def test_the_rule_for_extreme_ph(ph: float, *, burns: bool) -> None:
    assert (names(ph=ph) == {"ph_1"}) == burns
    eye = names(of(9, HazardClass("eye_1", 8)), ph=ph)
    assert "eye_1" in eye, "the eye's own row stays beside it"
    assert ("ph_1" in eye) == burns


def test_what_its_ph_says_is_not_said_twice() -> None:
    assert names(of(12, HazardClass("skin_2")), ph=1.5) == {"ph_1"}
    assert names(of(12, HazardClass("skin_1b")), ph=1.5) == {"skin_1b"}


def test_airways_are_summed_and_traces_do_not_count() -> None:
    irritates = HazardClass("airways_3")
    assert names(of(12, irritates, name="one"), of(9, irritates, name="other")) == {"airways_3"}
    assert names(of(19.5, irritates, name="one"), of(0.9, irritates, name="other")) == set()
    assert names(of(0.6, HazardClass("airways_3", 0.5))) == {"airways_3"}, "its own limit may lie lower"


def test_the_own_limit_comes_first() -> None:
    peroxide = of(9, *classes_of("hydrogen_peroxide", IN_FORCE))
    assert [own_limit(peroxide, family, grade, limits()) for family in ("skin", "eye") for grade in (1, 2)] == [50, 35, 8, 5]
    acetic = of(9, *classes_of("acetic_acid", IN_FORCE))
    assert [own_limit(acetic, family, grade, limits()) for family in ("skin", "eye") for grade in (1, 2)] == [25, 10, 25, 10]
    both = of(9, HazardClass("eye_1"), HazardClass("skin_1b", 25))
    assert own_limit(both, "eye", 1, limits()) == 3, "the eye's own row without a limit goes by that of all, not by the skin's"
    assert own_limit(of(9, HazardClass("eye_2")), "skin", 1, limits()) is None


KEYS = st.sampled_from(sorted(substances()))


@given(st.dictionaries(KEYS, st.floats(0.01, 20), max_size=4), KEYS, st.floats(1, 3))
def test_more_of_it_is_never_milder(amounts: dict[str, float], key: str, times: float) -> None:
    rank = {"Danger": 2, "Warning": 1, "": 0}

    def gravest(percents: dict[str, float]) -> int:
        found = classified([Ingredient(one, percent, classes_of(one, IN_FORCE)) for one, percent in percents.items()], limits())
        return max((rank[statements()[one.name].signal] for one in found), default=0)

    assert gravest({**amounts, key: amounts.get(key, 0.01) * times}) >= gravest(amounts)


def test_the_tables_fit_together() -> None:
    for row in table("hazards"):
        assert row["substance"] in substances(), row
        assert row["name"] in statements(), row
        assert row["rules"] in {"", IN_FORCE, PROPOSAL}
        assert row["kind"] in {"standard", "handbook", "paper", "datasheet", "measured", "trade", "memory", "judgement"}
        assert bool(row["source"]) == (row["kind"] not in {"trade", "memory", "judgement"}), row
    poisons = [one for key in substances() for one in classes_of(key, IN_FORCE) if one.name.startswith(("oral", "dermal", "mist"))]
    assert all(one.ate for one in poisons), "each poison has its estimate, its own or that of its category"


def test_substances_of_old_names_are_the_same() -> None:
    known = substance("hypo")
    assert known is not None
    assert classes_of(known.key, IN_FORCE) == ()
