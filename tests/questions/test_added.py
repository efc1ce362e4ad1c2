"""What is in it, and what it becomes: by weight, by cylinder, by spoon."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.asking.operation import EIGHTY_PERCENT_SD
from silverwright.errors import BadQuestion
from silverwright.notes import CAUTIONS, Note
from silverwright.questions.added import ADDED, AddedAnswer
from silverwright.questions.ingredients import IngredientRow, contents_of, density_of, dissolved, impossible, ingredients_of, key_of
from silverwright.records_chemistry import Contents

LITRE: dict[str, Any] = {
    "volume_ml": 1000,
    "temperature_celsius": 20,
    "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w",
}


def added(**given: Any) -> AddedAnswer:
    answer = ADDED.ask({**LITRE, **given})
    assert isinstance(answer, AddedAnswer)
    return answer


def refused(**given: Any) -> dict[str, str]:
    with pytest.raises(BadQuestion) as caught:
        ADDED.ask({**LITRE, **given})
    return {fault.field: fault.problem for fault in caught.value.faults}


def percent(answer: AddedAnswer, name: str) -> float:
    return dict(zip(answer.held, answer.after_percent, strict=True))[name]


def test_a_spoon_of_citric_acid() -> None:
    """4.5 g of loose crystals into 1053 g of bath: by hand, (52.65 + 4.5) / 1057.5."""
    answer = added(added="citric acid; 1; spoon")
    assert percent(answer, "citric acid (anhydrous)") == pytest.approx(100 * (52.65 + 4.5) / 1057.5, abs=0.01)
    assert percent(answer, "hydrogen peroxide") == pytest.approx(9 * 1053.06 / 1057.56, abs=0.001)
    assert Note.SPOON_ROUGH in {one.note for one in answer.notes}
    assert answer.ph_before is not None
    assert answer.ph_after is not None
    assert answer.ph_before.value is not None
    assert answer.ph_after.value is not None
    assert answer.ph_after.value < answer.ph_before.value


def test_spoons_are_rougher_than_a_scale() -> None:
    spoon, scale = (added(added=one) for one in ("citric acid; 1; 5 mL spoons", "citric acid; 4.5; g"))
    place = spoon.held.index("citric acid (anhydrous)")
    width = [one.after_high_percent[place] - one.after_low_percent[place] for one in (spoon, scale)]
    assert width[0] > 5 * width[1]
    sd_g = 4.5 * (0.1**2 + (0.1 / 0.9) ** 2) ** 0.5
    assert width[0] == pytest.approx(2 * EIGHTY_PERCENT_SD * 100 * sd_g / 1057.56, rel=0.001)


def test_a_tablespoon_is_three_teaspoons() -> None:
    large, small = (added(added=one) for one in ("citric acid; 1; 15 mL spoons", "citric acid; 3; 5 mL spoons"))
    assert large.after_percent == small.after_percent


def test_the_strongest_stands_first() -> None:
    rows = ingredients_of(Contents(1000, {"citric_acid": 50, "silver": 0.4, "hydrogen_peroxide": 93}))
    assert [row.substance for row in rows] == ["hydrogen peroxide", "citric acid (anhydrous)", "silver"]


def test_stock_counts_by_its_strength_and_crystals_without_their_water() -> None:
    answer = added(added="hydrogen peroxide; 100; g; 35; % w/w\ncitric acid monohydrate; 10; g\nwater; 200; g")
    rows = tuple(IngredientRow(substance=one, amount=amount, unit="% w/w") for one, amount in (("hydrogen peroxide", 9), ("citric acid", 5)))
    there = contents_of(rows, 1000).mass_g
    whole_g = there["hydrogen_peroxide"] / 0.09 + 310
    assert percent(answer, "hydrogen peroxide") == pytest.approx(100 * (there["hydrogen_peroxide"] + 35) / whole_g)
    assert percent(answer, "citric acid (anhydrous)") == pytest.approx(100 * (there["citric_acid"] + 10 * 192.1238 / 210.1391) / whole_g)


def test_topped_up_with_water_nothing_is_lost() -> None:
    answer = added(ingredients="citric acid; 50; g/L", volume_ml=850, added="water; 150; mL")
    assert answer.becomes_ml.value == pytest.approx(1000, abs=2)
    assert answer.after_g_per_l[0] * (answer.becomes_ml.value or 0) / 1000 == pytest.approx(42.5)


def test_what_is_not_known_here_is_named() -> None:
    answer = added(added="unobtainium; 10; g")
    assert "unobtainium" in answer.held
    assert any(one.note is Note.NOT_KNOWN_HERE and "unobtainium" in one.sentence for one in answer.notes)
    assert Note.PH_NOT_COUNTED in {one.note for one in answer.notes}


def test_what_must_not_meet_is_refused_with_its_gas() -> None:
    """Metabisulphite into an acid bath; fixer into a bleach; and two things that are added together."""
    assert "sulphur dioxide" in refused(ingredients="citric acid; 5; % w/w", added="sodium metabisulphite; 20; g")["added"]
    assert "sulphur dioxide" in refused(added="hypo; 1; g")["added"]
    assert "sulphur dioxide" in refused(ingredients="", added="citric acid; 5; g\nhypo; 5; g")["added"]


def test_what_foams_is_said_before_the_figures() -> None:
    """Baking soda into acid."""
    answer = added(ingredients="citric acid; 5; % w/w", added="sodium bicarbonate; 1; g")
    assert any("carbon dioxide" in one.sentence for one in answer.notes if one.note in CAUTIONS)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"added": ""}, "added", "At least one"),
        ({"added": "citric acid; 3000; g"}, "added", "a litre dissolves about"),
        ({"added": "peroxide; 10; mL; 120; % w/w"}, "added", "0 to 100"),
        ({"added": "peroxide; -3; mL"}, "added", "Too small"),
        ({"added": "; 3; mL"}, "added", "substance"),
        ({"added": "peroxide; 3; buckets"}, "added", "Choose"),
        ({"ingredients": "peroxide; 60; % w/w\nacetic acid; 60; % w/w", "added": "water; 1; mL"}, "ingredients", "no room is left for water"),
        ({"ingredients": "peroxide; 120; % w/w", "added": "water; 1; mL"}, "ingredients", "more than 100 %"),
        ({"ingredients": "peroxide; 3; g\nhydrogen peroxide; 3; g", "added": "water; 1; mL"}, "ingredients", "stands there twice"),
        ({"ingredients": "unobtainium; 3; mol/L", "added": "water; 1; mL"}, "ingredients", "mole is not known here"),
        ({"ingredients": "citric acid; 3; volumes", "added": "water; 1; mL"}, "ingredients", "hydrogen peroxide only"),
        ({"ingredients": "citric acid; 3; mL", "added": "water; 1; mL"}, "ingredients", "a solid is weighed"),
        ({"ingredients": "water; 3; g", "added": "water; 1; mL"}, "ingredients", "leave its line out"),
        ({"volume_ml": 0, "added": "water; 1; mL"}, "ingredients", "volume above 0"),
    ],
)
def test_what_cannot_be_is_refused_in_words(given: dict[str, Any], field: str, words: str) -> None:
    assert words in refused(**given)[field]


ROWS = st.lists(
    st.builds(
        IngredientRow,
        substance=st.sampled_from(["hydrogen peroxide", "citric acid", "acetic acid", "citric acid monohydrate", "moonshine"]),
        amount=st.floats(0, 15),
        unit=st.sampled_from(["% w/w", "% w/v", "g/L", "g"]),
    ),
    max_size=4,
    unique_by=lambda row: row.substance,
)


@given(ROWS, st.floats(100, 5000), st.floats(5, 40))
def test_what_is_written_is_what_is_read(rows: list[IngredientRow], volume_ml: float, celsius: float) -> None:
    """Into masses and back into percent by weight, and once more: the same masses; each unit by its own meaning."""
    assert not impossible(rows, volume_ml, celsius)
    there = contents_of(rows, volume_ml, celsius)
    again = contents_of(ingredients_of(there, celsius), volume_ml, celsius)
    assert dict(again.mass_g) == pytest.approx(dict(there.mass_g), abs=1e-6)
    whole_g = volume_ml * density_of(there, celsius)
    means = {"g": 1.0, "g/L": volume_ml / 1000, "% w/v": volume_ml / 100, "% w/w": whole_g / 100}
    for row in rows:
        assert there.mass_g[key_of(row.substance)] == pytest.approx(row.amount * means[row.unit], rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("citric acid 50 g", [("citric acid", 50, "g")]),
        ("Citric acid 5% w/w\nhydrogen peroxide 9,5 %w/w", [("Citric acid", 5, "% w/w"), ("hydrogen peroxide", 9.5, "% w/w")]),
        ("hydrogen peroxide, 9, % w/w\ncitric acid 50 g/L", [("hydrogen peroxide", 9, "% w/w"), ("citric acid", 50, "g/L")]),
        ("hydrogen peroxide; 9,5; % w/w\ncitric acid 50 g", [("hydrogen peroxide", 9.5, "% w/w"), ("citric acid", 50, "g")]),
        ("peroxide 10 vol", [("peroxide", 10, "volumes")]),
        ("substance;amount;unit\ncitric acid;50;g", [("citric acid", 50, "g")]),
    ],
)
def test_a_hand_may_leave_out_the_signs_between(written: str, read: list[tuple[str, float, str]]) -> None:
    asked = ADDED.question.model_validate({**LITRE, "ingredients": written, "added": "water 10 mL\nhydrogen peroxide 6 mL of 35 % w/w"})
    assert [(row.substance, row.amount, row.unit) for row in asked.ingredients] == read
    assert [(row.substance, row.unit, row.strength) for row in asked.added] == [("water", "mL", None), ("hydrogen peroxide", "mL", 35)]


def test_litres_of_moles() -> None:
    """0.26 mol of citric acid are 49.95 g; 10 volumes of peroxide 30.35 g in a litre."""
    rows = (IngredientRow(substance="citric acid", amount=0.26, unit="mol/L"), IngredientRow(substance="peroxide", amount=10, unit="volumes"))
    assert dict(contents_of(rows, 500).mass_g) == pytest.approx({"citric_acid": 24.976, "hydrogen_peroxide": 15.176}, abs=0.002)


def test_crystals_in_water_are_what_they_are_without_their_water() -> None:
    both = dissolved(Contents(1000, {"citric_acid_monohydrate": 210.1391, "citric_acid": 10, "moonshine": 3}))
    assert dict(both.mass_g) == pytest.approx({"citric_acid": 202.1238, "moonshine": 3})
