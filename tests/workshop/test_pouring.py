"""What is poured: no bottle gives more than it holds, no closed cap on peroxide unsaid, nothing unknown in silence, and an empty bath is empty."""

import pytest
from tests.workshop.test_shelf import FIXER, adds_up, bleach, bottles, faults

from silverwright.book.models import Bath, Stock
from silverwright.book.shelf import bath_known, stock_known, waste_known
from silverwright.book.strongest import strongest_in
from silverwright.errors import BadQuestion
from silverwright.questions.hazard import hazards_of
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
ACID = "citric acid; 5; % w/w"


def notes(deed: str, **given: object) -> list[str]:
    """What is said with it, by name."""
    return [str(note.note) for note in do(deed, given).notes]


def bath_of(ingredients: str, name: str, **more: object) -> str:
    """Half a litre of it."""
    return do("mix", {"role": "other", "name": name, "volume_ml": 500, "ingredients": ingredients, "when": "2026-01-06 10:00Z"} | more).name


@pytest.mark.parametrize("unit", ["mL", "g"])
def test_two_rows_of_one_bottle_take_no_more_than_it_holds(unit: str) -> None:
    bottles()
    twice = f"peroxide 35 %; 600; {unit}\nperoxide 35 %; 600; {unit}"
    assert ("holds 400" if unit == "mL" else "holds 470") in faults("mix", role="bleach", volume_ml=5000, taken=twice)["taken"]
    assert stock_known("peroxide 35 %").left_ml == 1000
    do("mix", {"role": "bleach", "volume_ml": 5000, "taken": "peroxide 35 %; 600; mL\nperoxide 35 %; 400; mL"})
    assert stock_known("peroxide 35 %").left_ml == pytest.approx(0)


def test_peroxide_in_a_closed_bottle_is_said_whichever_way_it_came_there() -> None:
    bleach()
    assert "vent-it" in notes("split-bath", bath="bleach 1", volume_ml=300, into="closed")
    assert "vent-it" not in notes("split-bath", bath="bleach 1", volume_ml=300, into="open to the air", vented=True)
    assert "vent-it" not in notes("split-bath", bath="bleach 1", volume_ml=100, into="in a tray", kept_in="tray")
    bath_of(ACID, "acid", kept_in="bottle")
    assert "vent-it" in notes("top-up", bath="acid", volume_ml=100, ingredients="hydrogen peroxide; 9; % w/w")
    bath_of(ACID, "more acid", kept_in="drum")
    assert "vent-it" in notes("replenish", bath="more acid", volume_ml=100, ingredients="hydrogen peroxide; 9; % w/w")
    bath_of(ACID, "third acid", kept_in="bottle")
    assert "vent-it" in notes("merge-baths", bath="in a tray", into="third acid")


def test_a_waste_bottle_begun_with_nobody_knows_what_is_never_silence() -> None:
    bleach()
    do("waste-bottle", {"name": "old", "begun_ml": 500, "vented": True})
    assert waste_known("old").contents.mass_g
    said = do("discard-bath", {"bath": "bleach 1", "waste": "old", "volume_ml": 100}).notes
    assert [str(note.note) for note in said] == ["mind-together"]
    assert "what it was begun with: no hazard data here" in said[0].sentence
    do("empty-waste", {"waste": "old"})
    assert waste_known("old").contents.mass_g == {}


def test_a_bottle_with_peroxide_in_it_keeps_its_cap() -> None:
    bleach()
    do("waste-bottle", {"name": "waste", "vented": True, "capacity_ml": 2000})
    do("discard-bath", {"bath": "bleach 1", "waste": "waste", "volume_ml": 400})

    def refused(changes: str) -> str:
        return faults("correct", kind="waste-bottle", name="waste", changes=changes)["changes"]

    assert "closed bottle bursts" in refused("vented; no")
    assert "Metal" in refused("metal; yes")
    assert "400 mL in it" in refused("capacity_ml; 300").replace("\xa0", " ")
    assert "sulphur dioxide" in refused('begun_ml; 500\nbegun_with; "ammonium thiosulphate; 6; % w/v"')
    do("correct", {"kind": "waste-bottle", "name": "waste", "changes": "capacity_ml; 400"})


def test_household_bleach_under_a_closed_cap_is_minded() -> None:
    bath_of("sodium hypochlorite; 2; % w/w", "household bleach")
    do("waste-bottle", {"name": "closed"})
    do("waste-bottle", {"name": "vented", "vented": True})
    assert notes("discard-bath", bath="household bleach", waste="vented", volume_ml=100) == []
    assert notes("discard-bath", bath="household bleach", waste="closed", volume_ml=100) == ["mind-together"]


def test_a_slip_that_is_corrected_brings_nothing_together() -> None:
    bath_of(ACID, "acid")
    do("top-up", {"bath": "acid", "volume_ml": 100, "ingredients": "hydrogen peroxide; 9; % w/w", "when": "2026-01-06 11:00Z"})
    wrong = faults("correct", kind="bath-event", name="acid/1", changes=[{"field": "ingredients", "to": FIXER}])
    assert "sulphur dioxide" in wrong["changes"]
    bath_of("sodium carbonate; 2; % w/w", "soda")
    do("waste-bottle", {"name": "waste: fixer", "begun_ml": 500, "begun_with": FIXER})
    do("discard-bath", {"bath": "soda", "waste": "waste: fixer", "when": "2026-01-06 12:00Z"})
    wrong = faults("correct", kind="bath-event", name="soda/1", changes=[{"field": "ingredients", "to": ACID}])
    assert "sulphur dioxide" in wrong["changes"]
    assert "citric_acid" not in waste_known("waste: fixer").contents.mass_g


def test_what_was_all_poured_off_is_no_bath_any_more() -> None:
    bath_of(FIXER, "fixer 1")
    do("waste-bottle", {"name": "waste"})
    do("discard-bath", {"bath": "fixer 1", "waste": "waste", "volume_ml": 200, "when": "2026-01-06 11:00Z"})
    do("discard-bath", {"bath": "fixer 1", "waste": "waste", "volume_ml": 300, "when": "2026-01-06 12:00Z"})
    assert Bath.objects.get(name="fixer 1").state == "discarded"
    used = {"sheets": 1, "size": "4x5 in", "when": "2026-01-06 13:00Z"}
    assert "was discarded" in faults("use-bath", bath="fixer 1", **used)["when"]
    bath_of(FIXER, "fixer 2")
    do("split-bath", {"bath": "fixer 2", "volume_ml": 500, "into": "its bottle", "when": "2026-01-06 11:00Z"})
    assert "Nothing of bath" in faults("use-bath", bath="fixer 2", **used)["bath"]
    do("top-up", {"bath": "fixer 2", "volume_ml": 500, "ingredients": FIXER, "when": "2026-01-06 13:30Z"})
    do("use-bath", {"bath": "fixer 2"} | used | {"when": "2026-01-06 14:00Z"})
    assert adds_up(bath_known("fixer 2"))
    assert waste_known("waste").contents.mass_g["ammonium_thiosulphate"] == pytest.approx(30, rel=1e-9)  # 500 mL of 6 % by volume


def test_a_vessel_is_not_used_before_something_was_poured_into_it() -> None:
    bleach()
    do("split-bath", {"bath": "bleach 1", "volume_ml": 300, "into": "bottle", "vented": True, "when": "2026-01-07 10:00Z"})
    early = {"bath": "bottle", "sheets": 1, "size": "4x5 in"}
    assert "had nothing in it yet" in faults("use-bath", **early, when="2026-01-06 12:00Z")["when"]
    assert "was made on 2026-01-06" in faults("use-bath", **early, when="2026-01-05 12:00Z")["when"]


def test_the_two_orders_of_a_slip_are_both_stopped() -> None:
    """Acid to what must not meet it, and that to the acid."""
    for other, gas in ((FIXER, "sulphur dioxide"), ("sodium hypochlorite; 2; % w/w", "chlorine"), ("sodium selenite; 1; % w/w", "selenium")):
        for first, second in ((ACID, other), (other, ACID)):
            name = bath_of(first, f"{first} then {second}")
            with pytest.raises(BadQuestion, match=gas):
                do("top-up", {"bath": name, "volume_ml": 100, "ingredients": second})
            one = bath_of(second, f"{second} into {first}")
            assert gas in faults("merge-baths", bath=one, into=name)["into"]


@pytest.mark.parametrize("how", [{"ingredients": "citric acid monohydrate; 5; g"}, {"taken": "citric acid; 5; g"}])
def test_crystals_stirred_in_dry_are_taken_whole_and_the_level_stays(how: dict[str, str]) -> None:
    bottles()
    bath_of("hydrogen peroxide; 9; % w/w", "nine")
    do("top-up", {"bath": "nine", "volume_ml": 0, "when": "2026-01-06 11:00Z"} | how)
    known = bath_known("nine")
    assert known.contents.volume_ml == pytest.approx(500)
    acid_g = known.came_in_g.get("citric_acid", 0.0) + known.came_in_g.get("citric_acid_monohydrate", 0.0)
    assert acid_g == pytest.approx(5, rel=0.1), "whole, with or without its crystal water"
    do("correct", {"kind": "bath-event", "name": "nine/2", "changes": "remarks; a level spoon"})
    do("replenish", {"bath": "nine", "when": "2026-01-06 12:00Z"} | how)
    again = bath_known("nine")
    assert sum(again.came_in_g.values()) - sum(known.came_in_g.values()) == pytest.approx(acid_g, rel=0.01)


def test_what_comes_in_dissolved_has_a_volume_and_a_spoon_that_does_not_dissolve_is_refused() -> None:
    bath_of("hydrogen peroxide; 9; % w/w", "nine")
    assert "weighed in dry" in faults("top-up", bath="nine", volume_ml=0, ingredients=ACID)["volume_ml"]
    assert faults("top-up", bath="nine", volume_ml=0, ingredients="citric acid; 900; g")


def test_a_rough_test_is_refused_only_where_its_limits_leave_the_label() -> None:
    bottles()
    bath_of("hydrogen peroxide; 2.5; % w/w", "weak")
    strip = {"tested_by": "test strips", "strength_percent_ww": 3, "low_percent_ww": 2.2, "high_percent_ww": 4.1}
    in_bath = {"bath": "weak", "substance": "hydrogen peroxide", "when": "2026-01-06 11:00Z"}
    assert "nothing grows stronger" in faults("test-bath", **strip | in_bath | {"low_percent_ww": 2.9})["strength_percent_ww"]
    do("test-bath", strip | in_bath)
    of_bottle = {"stock": "peroxide 35 %", "tested_by": "test strips", "strength_percent_ww": 40}
    assert "nothing grows stronger" in faults("stock-tested", **of_bottle | {"low_percent_ww": 39})["strength_percent_ww"]
    do("stock-tested", of_bottle | {"low_percent_ww": 30, "high_percent_ww": 55})


def test_a_test_takes_no_hazard_away_that_its_limits_still_hold() -> None:
    """Irritating to the skin begins at 35 %: a test of 34, 32 to 36, does not rule it out; one of 30, 29 to 31, does."""
    bottles()
    bottle = Stock.objects.get(name="peroxide 35 %")
    tested = {"stock": bottle.name, "tested_by": "permanganate titration"}
    do("stock-tested", tested | {"strength_percent_ww": 34, "low_percent_ww": 32, "high_percent_ww": 36})
    assert "H315" in {row.code for row in hazards_of(strongest_in(bottle)).rows}
    do("stock-tested", tested | {"strength_percent_ww": 30, "low_percent_ww": 29, "high_percent_ww": 31})
    assert "H315" not in {row.code for row in hazards_of(strongest_in(bottle)).rows}
