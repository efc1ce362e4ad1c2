"""What a form leaves open, and what it says of amounts, times and strengths, goes into the book as it was meant."""

from datetime import UTC, datetime

import pytest
from tests.workshop.boatyard import exposed, gear
from tests.workshop.test_shelf import BLEACH, bleach, bottles, faults, now_percent, processed

from silverwright.book.models import BathEvent, ProcessingStep
from silverwright.book.shelf import bath_known, stock_known, waste_known
from silverwright.workshop import mixing
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]


def test_what_is_left_of_a_bottle_counts_not_what_was_bought() -> None:
    half = {"substance": "hydrogen peroxide", "strength": 12, "strength_unit": "% w/w"}
    do("stock", {"name": "half full", **half, "bought_ml": 1000, "left_ml": 400})
    do("stock", {"name": "unopened", **half, "bought_ml": 1000})
    assert (stock_known("half full").left_ml, stock_known("unopened").left_ml) == (400, 1000)
    assert "holds 400" in faults("mix", role="bleach", volume_ml=2000, taken="half full; 500; mL")["taken"].replace("\xa0", " ")


def test_a_product_names_what_nobody_knows_in_it() -> None:
    given = {"name": "toner", "substance": "toner of a friend", "bought_ml": 500}
    done = do("stock", given | {"ingredients": "sodium sulphite; 5; % w/v\nhis secret; 2; % w/v"})
    assert ["his secret" in note.sentence and "sulphite" not in note.sentence for note in done.notes] == [True]
    assert do("stock", given | {"name": "known", "ingredients": "sodium sulphite; 5; % w/v"}).notes == ()


def test_nothing_is_more_than_pure() -> None:
    bottles()
    told = {"stock": "citric acid", "tested_by": "permanganate titration"}
    assert faults("stock-tested", **told, strength_percent_ww=111)
    assert do("stock-tested", told | {"strength_percent_ww": 99}).name == "citric acid"


def test_the_next_name_passes_over_any_spelling() -> None:
    bleach("Bleach 1")
    bleach("BLEACH 2")
    assert mixing.next_name("bleach") == "bleach 3"
    assert do("mix", {"role": "bleach", "volume_ml": 100, "ingredients": BLEACH}).name == "bleach 3"


def test_topped_up_by_as_much_as_was_said() -> None:
    bleach()
    assert do("top-up", {"bath": "bleach 1", "volume_ml": 250}).values["volume_ml"] == pytest.approx(1250)
    assert now_percent("bleach 1") == pytest.approx(9 * 1.051 * 1000 / (1.0516 * 1000 + 250), rel=0.01)
    bottles()
    taken = do("replenish", {"bath": "bleach 1", "taken": "peroxide 35 %; 50; mL"})
    assert taken.values["volume_ml"] == pytest.approx(1300)


def test_two_grams_of_peroxide_in_a_litre_want_a_vented_cap() -> None:
    weak = {"role": "other", "volume_ml": 1000, "kept_in": "bottle"}
    assert [str(one.note) for one in do("mix", weak | {"ingredients": "hydrogen peroxide; 2; g/L"}).notes] == ["vent-it"]
    assert do("mix", weak | {"ingredients": "hydrogen peroxide; 0.5; g/L"}).notes == ()


def test_a_clock_may_be_ten_minutes_slow_and_no_more() -> None:
    bleach()
    assert "has not come yet" in faults("top-up", bath="bleach 1", volume_ml=10, when="2026-01-12 10:55Z")["when"]
    do("top-up", {"bath": "bleach 1", "volume_ml": 10, "when": "2026-01-12 10:48Z"})  # it is 10:40


def test_more_from_bottles_than_dissolves_is_refused() -> None:
    do("stock", {"name": "soda", "substance": "sodium sulphite", "strength_unit": "undiluted", "left_g": 5000})
    wrong = faults("mix", role="clearing", volume_ml=1000, taken="soda; 900; g")
    assert wrong["taken"]


def test_corrected_at_the_temperature_of_its_mixing() -> None:
    do("mix", {"role": "other", "name": "warm", "volume_ml": 1000, "ingredients": "hydrogen peroxide; 9; % w/w", "temperature_celsius": 40})
    before = bath_known("warm").contents.mass_g["hydrogen_peroxide"]
    do("correct", {"kind": "bath-event", "name": "warm/1", "changes": "volume_ml; 500"})
    assert bath_known("warm").contents.mass_g["hydrogen_peroxide"] == pytest.approx(before / 2, rel=1e-9)


def test_one_sheet_unless_more_are_said() -> None:
    bleach()
    assert do("use-bath", {"bath": "bleach 1", "size": "8x10 in"}).values["sheets"] == 1
    assert bath_known("bleach 1").area_m2 == pytest.approx(0.2032 * 0.254)


def test_a_fresh_test_may_find_what_was_mixed_although_the_bath_has_worn() -> None:
    bleach()
    do("top-up", {"bath": "bleach 1", "volume_ml": 500})
    titrated = {"bath": "bleach 1", "tested_by": "permanganate titration", "substance": "hydrogen peroxide"}
    do("test-bath", titrated | {"strength_percent_ww": 8.9})
    assert now_percent("bleach 1") == pytest.approx(8.9)
    assert faults("test-bath", **titrated, strength_percent_ww=10.5)["strength_percent_ww"]


def test_twice_the_time_is_told_as_twice() -> None:
    bleach()
    done = do("test-bath", {"bath": "bleach 1", "tested_by": "bleach-out test", "clearing_s": 300, "fresh_clearing_s": 150})
    assert "cleared in 2 times the time of a fresh bath" in done.says
    assert bath_known("bleach 1").clearing_factor == 2
    assert BathEvent.objects.filter(what="tested").count() == 1


def test_twice_sent_is_once_written_through_every_pouring() -> None:
    """The same key again: the answer of the first time, and nothing more in the book."""
    bleach()
    do("waste-bottle", {"name": "waste", "vented": True}, key="w")
    acts: list[tuple[str, dict[str, object]]] = [
        ("top-up", {"bath": "bleach 1", "volume_ml": 100}),
        ("use-bath", {"bath": "bleach 1", "sheets": 2, "size": "4x5 in"}),
        ("split-bath", {"bath": "bleach 1", "volume_ml": 100, "into": "part", "vented": True}),
        ("merge-baths", {"bath": "part", "into": "bleach 1"}),
        ("discard-bath", {"bath": "bleach 1", "waste": "waste", "volume_ml": 100}),
    ]
    for deed, given in acts:
        first = do(deed, given, key=f"key of {deed}")
        events = BathEvent.objects.count()
        again = do(deed, given, key=f"key of {deed}")
        assert (again.says, BathEvent.objects.count()) == (first.says, events)
    assert bath_known("bleach 1").contents.volume_ml == pytest.approx(1000, rel=1e-9)


def test_a_waste_bottle_holds_what_it_takes_and_no_silver_goes_into_metal() -> None:
    too_much = faults("waste-bottle", name="small", capacity_ml=500, begun_ml=600, begun_with="sodium sulphite; 2; % w/v")
    assert "more cannot be in it" in too_much["begun_ml"]
    do("waste-bottle", {"name": "plain", "capacity_ml": 1000, "begun_ml": 800, "begun_with": "sodium sulphite; 2; % w/v"})
    do("mix", {"role": "fixer", "name": "fixer", "volume_ml": 500, "ingredients": "sodium thiosulphate; 10; % w/v", "when": "2026-01-06 10:00Z"})
    assert "room for 200" in faults("discard-bath", bath="fixer", waste="plain", volume_ml=300)["waste"]
    do("waste-bottle", {"name": "metal drum", "metal": True})
    do("use-bath", {"bath": "fixer", "sheets": 5, "size": "8x10 in", "when": "2026-01-06 11:00Z"})
    assert "silver plates out" in faults("discard-bath", bath="fixer", waste="metal drum", volume_ml=100)["waste"]


def test_a_discarding_that_was_a_slip_leaves_the_waste_bottle_as_it_was() -> None:
    bleach()
    do("waste-bottle", {"name": "waste", "vented": True})
    do("discard-bath", {"bath": "bleach 1", "waste": "waste", "when": "2026-01-07 10:00Z"})
    do("archive", {"kind": "bath-event", "name": "bleach 1/2"})
    assert waste_known("waste").contents.volume_ml == 0
    assert bath_known("bleach 1").bath.state == "in use"
    do("bring-back", {"kind": "bath-event", "name": "bleach 1/2"})
    assert waste_known("waste").contents.volume_ml == pytest.approx(1000)


def test_only_what_came_after_the_last_emptying_is_in_it() -> None:
    bleach()
    do("waste-bottle", {"name": "waste", "vented": True})
    for day in (7, 8, 9):
        do("discard-bath", {"bath": "bleach 1", "waste": "waste", "volume_ml": 100, "when": f"2026-01-0{day} 10:00Z"})
        if day < 9:
            do("empty-waste", {"waste": "waste", "when": f"2026-01-0{day} 12:00Z"})
    assert waste_known("waste").contents.volume_ml == pytest.approx(100)


def test_a_matched_step_stays_with_its_bath_when_something_else_of_it_is_corrected() -> None:
    gear()
    processed(exposed(lot="box A"), "bleach, tray 2")
    bleach()
    do("match-bath", {"bath": "bleach 1", "written": "bleach, tray 2"})
    do("correct", {"kind": "step", "name": "26-001/1", "changes": "temperature_celsius; 21"})
    step = ProcessingStep.objects.get()
    assert (str(step.in_bath), bath_known("bleach 1").sheets) == ("bleach 1", 1)


@pytest.mark.parametrize(("kind", "name", "field"), [("bath-event", "bleach 1/1", "happened_at"), ("stock-test", "peroxide 35 %/1", "tested_at")])
def test_nothing_is_corrected_into_tomorrow(kind: str, name: str, field: str) -> None:
    bottles()
    do("stock-tested", {"stock": "peroxide 35 %", "tested_by": "gas volume", "strength_percent_ww": 33})
    bleach()
    assert "has not come yet" in faults("correct", kind=kind, name=name, changes=f"{field}; 2027-01-01 10:00Z")["changes"]


def strength_of(name: str) -> tuple[float, float, float]:
    """Value, low and high of a bottle's strength, by weight."""
    found = stock_known(name).strength_percent_ww
    assert found is not None
    return found.value or 0.0, found.low or 0.0, found.high or 0.0


def test_a_label_is_good_to_three_hundredths() -> None:
    bottles()
    assert strength_of("peroxide 35 %") == pytest.approx((35, 35 * 0.97, 35 * 1.03))


def test_a_test_that_was_archived_counts_no_more_and_one_that_counts_answers_the_label() -> None:
    do("stock", {"name": "unclear", "substance": "hydrogen peroxide", "strength": 35, "strength_unit": "%, label unclear", "bought_ml": 1000})
    assert stock_known("unclear").unclear
    do("stock-tested", {"stock": "unclear", "tested_by": "gas volume", "strength_percent_ww": 33})
    assert strength_of("unclear")[0] == 33
    assert not stock_known("unclear").unclear
    assert do("mix", {"role": "bleach", "volume_ml": 1000, "taken": "unclear; 250; g"}).name
    do("archive", {"kind": "stock-test", "name": "unclear/1"})
    assert strength_of("unclear")[0] != 33
    assert stock_known("unclear").unclear


def test_a_bottle_that_tests_stronger_the_second_time_does_not_grow_on() -> None:
    bottles()
    for day, found in ((1, 33), (8, 33.5)):
        tested = {"stock": "peroxide 35 %", "tested_by": "gas volume", "strength_percent_ww": found, "when": f"2026-01-0{day} 10:00Z"}
        do("stock-tested", tested)
    assert strength_of("peroxide 35 %")[0] == pytest.approx(33.5)


def test_crystals_from_a_bag_take_up_no_room() -> None:
    bleach()
    bottles()
    done = do("replenish", {"bath": "bleach 1", "taken": "citric acid; 20; g"})
    assert done.values["volume_ml"] == pytest.approx(1000)
    assert bath_known("bleach 1").contents.mass_g["citric_acid_monohydrate"] == pytest.approx(20)


def test_a_bottle_is_as_old_as_its_opening_and_silver_is_no_strength() -> None:
    given = {"substance": "hydrogen peroxide", "strength": 12, "strength_unit": "% w/w", "bought_on": "2026-01-02"}
    do("stock", {"name": "opened", **given, "opened_on": "2026-01-10"})
    do("stock", {"name": "closed", **given})
    at = datetime(2026, 1, 12, 0, 0, tzinfo=UTC)
    assert [stock_known(name, at).age_days for name in ("opened", "closed")] == [2, 10]
    bleach()
    do("use-bath", {"bath": "bleach 1", "size": "8x10 in"})
    known = bath_known("bleach 1")
    assert {one.substance for one in known.strengths} == {"hydrogen_peroxide", "citric_acid"}
    assert "silver" in known.contents.mass_g


def test_from_a_bottle_that_is_put_away_nothing_is_taken() -> None:
    bottles()
    do("archive", {"kind": "stock", "name": "peroxide 35 %"})
    assert "is archived: used up" in faults("mix", role="bleach", volume_ml=1000, taken="peroxide 35 %; 100; g")["taken"]


def test_a_sheet_that_came_back_still_counts_when_its_first_step_is_put_away() -> None:
    gear()
    bleach()
    do("process", {"sheet": exposed(lot="box A"), "steps": "bleach; 90; 20; bleach 1\nbleach; 90; 20; bleach 1", "when": "2026-01-12 10:00Z"})
    do("archive", {"kind": "step", "name": "26-001/1"})
    assert bath_known("bleach 1").sheets == 1
    do("archive", {"kind": "step", "name": "26-001/2"})
    assert bath_known("bleach 1").sheets == 0
    do("bring-back", {"kind": "step", "name": "26-001/1"})
    do("bring-back", {"kind": "step", "name": "26-001/2"})
    assert bath_known("bleach 1").sheets == 1


def test_no_bottle_was_bought_or_opened_next_year() -> None:
    late = faults("stock", name="early", substance="citric acid", bought_on="2027-03-01", opened_on="2027-03-02")
    assert set(late) == {"bought_on", "opened_on"}
    assert "has not come yet" in late["bought_on"]


@pytest.mark.parametrize(
    ("container", "substance", "told"), [("can", "hydrogen peroxide", 1), ("plastic bottle", "hydrogen peroxide", 0), ("can", "acetic acid", 0)]
)
def test_peroxide_in_a_can_is_warned_of(container: str, substance: str, told: int) -> None:
    done = do("stock", {"name": "it", "substance": substance, "strength": 12, "strength_unit": "% w/w", "container": container})
    assert sum("Peroxide in a can" in note.sentence for note in done.notes) == told
