"""Bottles and baths in the book: what is mixed, used, tested, split, poured together and discarded, and what cannot be."""

from datetime import UTC, datetime
from math import exp, log

import pytest
from tests.workshop.boatyard import exposed, gear

from silverwright.book.find import find_thing
from silverwright.book.models import Act, Bath, BathEvent, ProcessingStep, Stock, Workroom
from silverwright.book.shelf import BathKnown, bath_known, own_recipes, poison_centre, rules, shelf, stock_known, unmatched_texts, waste_known
from silverwright.errors import BadQuestion
from silverwright.questions.recipe import recipes
from silverwright.workshop import mixing
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
BLEACH = "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w"
FIXER = "ammonium thiosulphate; 6; % w/v"


def faults(deed: str, **given: object) -> dict[str, str]:
    """What is wrong with it, by field; nothing of it is in the book."""
    before = (Act.objects.count(), Bath.objects.count(), BathEvent.objects.count())
    with pytest.raises(BadQuestion) as caught:
        do(deed, given)
    assert (Act.objects.count(), Bath.objects.count(), BathEvent.objects.count()) == before
    return {fault.field: fault.problem for fault in caught.value.faults}


def bottles() -> None:
    """Peroxide and acid."""
    do("stock", {"name": "peroxide 35 %", "substance": "hydrogen peroxide", "strength": 35, "strength_unit": "% w/w", "bought_ml": "1 L"})
    do("stock", {"name": "citric acid", "substance": "citric acid monohydrate", "bought_g": "1 kg"})


def bleach(name: str = "bleach 1", **more: object) -> str:
    """A litre of bleach on the sixth of January."""
    given = {"role": "bleach", "name": name, "volume_ml": 1000, "ingredients": BLEACH, "when": "2026-01-06 10:00Z"}
    return do("mix", given | more).name


def now_percent(name: str, substance: str = "hydrogen_peroxide") -> float:
    """How strong it is now, by weight."""
    return next(one.now.value or 0.0 for one in bath_known(name).strengths if one.substance == substance)


def adds_up(known: BathKnown) -> bool:
    """What came in is somewhere, of every substance."""
    return all(
        known.contents.mass_g.get(key, 0.0) + sum(way.get(key, 0.0) for way in (known.carried_g, known.reacted_g, known.disposed_g))
        == pytest.approx(grams, rel=1e-9, abs=1e-12)
        for key, grams in known.came_in_g.items()
    )


# --- bottles ---


def test_a_litre_of_nine_per_cent_is_taken_from_the_bottle() -> None:
    bottles()
    done = do("mix", {"role": "bleach", "volume_ml": 1000, "taken": "peroxide 35 %; 265; g\ncitric acid; 55; g"})
    assert done.name == "bleach 1"
    assert now_percent("bleach 1") == pytest.approx(100 * 0.35 * 265 / (1000 * 1.0516), rel=0.003)  # weighed, by the density of the mixture
    assert stock_known("peroxide 35 %").left_ml == pytest.approx(1000 - 265 / 1.1328, abs=0.5)  # density at 35 %, Laliberte 2009
    assert stock_known("citric acid").left_g == pytest.approx(945)


def test_parts_in_per_cent_come_out_as_typed() -> None:
    bleach()
    assert now_percent("bleach 1") == pytest.approx(9, rel=1e-6)
    assert now_percent("bleach 1", "citric_acid") == pytest.approx(5, rel=1e-6)


def test_a_label_that_leaves_open_of_what_is_said_and_asked_before_mixing() -> None:
    label = {"substance": "hydrogen peroxide", "strength": 35, "strength_unit": "%, label unclear", "bought_ml": "1 L"}
    done = do("stock", {"name": "unclear", **label})
    assert [note.note for note in done.notes] == ["bottle-unclear"]
    strength = stock_known("unclear").strength_percent_ww
    assert strength is not None
    assert strength.low is not None
    assert strength.high is not None
    assert strength.low < 31.3  # 35 % w/v
    assert strength.high > 35
    asked = faults("mix", role="bleach", volume_ml=1000, taken="unclear; 265; g")["taken"]
    assert "35 % by weight" in asked
    assert "31.3 % by weight" in asked
    taken = do("mix", {"role": "other", "volume_ml": 1000, "taken": "unclear; 265; g", "anyway": True})
    assert [note.note for note in taken.notes] == ["bottle-either"]
    either = next(one.now for one in bath_known(taken.name).strengths)
    assert either.low is not None
    assert either.high is not None
    assert either.low < 31.3 * 0.265 / 1.03 < 35 * 0.265 / 1.03 < either.high  # both readings are within the limits
    do("correct", {"kind": "stock", "name": "unclear", "changes": "strength_unit; % w/v"})
    assert do("mix", {"role": "bleach", "volume_ml": 1000, "taken": "unclear; 265; g"}).name == "bleach 1"


@pytest.mark.parametrize(
    ("given", "field", "says"),
    [
        ({"substance": "hydrogen peroxide", "strength": 135, "strength_unit": "% w/w"}, "strength", "stronger than the substance itself"),
        ({"substance": "hydrogen peroxide", "strength": 180, "strength_unit": "% w/v"}, "strength", "stronger than the substance itself"),
        ({"substance": "citric acid", "strength": 800, "strength_unit": "g/L"}, "strength", "a litre dissolves about"),
        ({"substance": "citric acid", "strength": 10, "strength_unit": "volumes"}, "strength", "Look at the unit"),
        ({"substance": "hydrogen peroxide", "strength": 35}, "strength_unit", "has no unit"),
        ({"substance": "hydrogen peroxide", "left_ml": -5}, "left_ml", "0"),
        ({"substance": "metol", "bought_on": "2026-01-05", "opened_on": "2026-01-02"}, "opened_on", "before it was bought"),
        ({"substance": ""}, "substance", "Needed"),
    ],
)
def test_bottles_that_cannot_be(given: dict[str, object], field: str, says: str) -> None:
    assert says.lower() in faults("stock", name="a bottle", **given)[field].lower()


def test_an_unknown_substance_is_never_silence() -> None:
    done = do("stock", {"name": "toner", "substance": "grandfather's toner", "bought_ml": 200})
    assert done.notes[0].sentence.startswith("No hazard data here for grandfather's toner: read its safety data sheet")
    mixed = do("mix", {"role": "toner", "volume_ml": 500, "taken": "toner; 25; mL"})
    assert [note.note for note in mixed.notes] == ["no-data-here"]
    assert "grandfather's toner" in bath_known(mixed.name).contents.mass_g


def test_nobody_takes_more_than_there_is() -> None:
    bottles()
    assert "holds" in faults("mix", role="bleach", volume_ml=5000, taken="peroxide 35 %; 1200; mL")["taken"]
    assert stock_known("peroxide 35 %").left_ml == 1000
    assert "No stock is called" in faults("mix", role="bleach", volume_ml=5000, taken="peroxide 30; 12; mL")["taken"]


def test_an_assay_counts_and_one_that_finds_too_much_is_refused() -> None:
    bottles()
    tested = {"stock": "peroxide 35 %", "tested_by": "permanganate titration"}
    assert "nothing grows stronger by itself" in faults("stock-tested", **tested, strength_percent_ww=38.6)["strength_percent_ww"]
    assert "wrong side" in faults("stock-tested", **tested, strength_percent_ww=34, low_percent_ww=35)["low_percent_ww"]
    do("stock-tested", tested | {"strength_percent_ww": 34, "low_percent_ww": 33.6, "high_percent_ww": 34.4, "when": "2026-01-01 10:00Z"})
    first = stock_known("peroxide 35 %").strength_percent_ww
    assert first is not None
    assert (first.value, first.low, first.high) == (34, 33.6, 34.4)


def test_two_assays_tell_how_fast_it_goes() -> None:
    bottles()
    for day, found in (("2026-01-01 10:00Z", 34.0), ("2026-01-11 10:00Z", 33.0)):
        limits = {"low_percent_ww": found - 0.4, "high_percent_ww": found + 0.4}
        do("stock-tested", {"stock": "peroxide 35 %", "tested_by": "iodine titration", "strength_percent_ww": found, "when": day, **limits})
    then = stock_known("peroxide 35 %", datetime(2026, 1, 31, 10, tzinfo=UTC)).strength_percent_ww
    assert then is not None
    assert then.value == pytest.approx(33.0 * exp(-log(34 / 33) * 2), rel=1e-9)  # twice as long again, at the same rate
    assert then.low is not None
    assert then.low < 31.0 < (then.high or 0)


# --- baths ---


def test_sheets_carry_it_out_and_leave_their_silver() -> None:
    bleach()
    do("use-bath", {"bath": "bleach 1", "sheets": 10, "size": "8x10 in", "when": "2026-01-07 10:00Z"})
    known = bath_known("bleach 1")
    area_m2 = 10 * 0.254 * 0.2032
    assert known.area_m2 == pytest.approx(area_m2)
    wet_ml = 71 * area_m2  # of resin-coated paper, drained
    assert known.contents.mass_g["citric_acid"] / known.came_in_g["citric_acid"] == pytest.approx(1000 / (1000 + wet_ml), rel=1e-9)
    assert known.silver_g is not None
    assert known.silver_g.value == pytest.approx(0.93 * area_m2 / 2 * 1000 / (1000 + wet_ml), rel=1e-6)
    assert known.reacted_g["hydrogen_peroxide"] == pytest.approx(0.1577 * 0.93 * area_m2 / 2, rel=0.001)  # g of peroxide for a g of silver
    strength = known.strengths[0].now
    assert strength.low is not None
    assert strength.high is not None
    assert strength.low < (strength.value or 0) < strength.high
    assert adds_up(known)


def test_limits_reach_from_much_carry_over_to_little() -> None:
    bleach()
    do("use-bath", {"bath": "bleach 1", "sheets": 10, "size": "8x10 in", "when": "2026-01-07 10:00Z"})
    acid = next(one.now for one in bath_known("bleach 1").strengths if one.substance == "citric_acid")
    area_m2 = 10 * 0.254 * 0.2032
    off = 0.01  # what was weighed
    assert acid.low == pytest.approx(5 * (1 - off) / (1 + 0.330 * area_m2), rel=0.02)  # of a base that nobody named, up to what fibre paper carries
    assert acid.high == pytest.approx(5 * (1 + off) / (1 + 0.035 * area_m2), rel=0.02)


@pytest.mark.parametrize(("base", "ml_per_m2"), [("RC", 71), ("fibre", 140)])
def test_what_is_carried_goes_by_the_base(base: str, ml_per_m2: float) -> None:
    gear()
    do("correct", {"kind": "paper", "name": "RC paper, grade 2", "changes": f"base; {base}"})
    bleach()
    processed(exposed(lot="box A"), "bleach 1")
    known = bath_known("bleach 1")
    share = known.contents.mass_g["citric_acid"] / known.came_in_g["citric_acid"]
    assert share == pytest.approx(1 / (1 + ml_per_m2 * 0.1016 * 0.127 / 1000), rel=1e-9)


def test_a_fixer_takes_up_what_is_left_a_clearing_bath_nothing() -> None:
    for role in ("fixer", "clearing"):
        do("mix", {"role": role, "name": role, "volume_ml": 1000, "ingredients": "sodium sulphite; 2; % w/w", "when": "2026-01-06 10:00Z"})
        do("use-bath", {"bath": role, "sheets": 1, "size": "8x10 in", "when": "2026-01-07 10:00Z"})
    area_m2 = 0.254 * 0.2032
    assert bath_known("fixer").came_in_g["silver"] == pytest.approx(0.05 * 0.93 * area_m2, rel=1e-9)  # a twentieth of what is coated
    assert "silver" not in bath_known("clearing").came_in_g


def test_silver_that_a_test_finds_counts_for_the_whole_bath() -> None:
    do("mix", {"role": "fixer", "volume_ml": 500, "ingredients": FIXER, "when": "2026-01-06 10:00Z"})
    do("test-bath", {"bath": "fixer 1", "tested_by": "silver test", "silver_g_per_l": 0.8, "when": "2026-01-08 10:00Z"})
    silver_g = bath_known("fixer 1").silver_g
    assert silver_g is not None
    assert silver_g.value == pytest.approx(0.4)


def test_an_upper_limit_alone_means_at_most() -> None:
    bleach()
    found = {"substance": "hydrogen peroxide", "strength_percent_ww": 7, "high_percent_ww": 7.2}
    do("test-bath", {"bath": "bleach 1", "tested_by": "permanganate titration", **found})
    now = next(one.now for one in bath_known("bleach 1").strengths if one.substance == "hydrogen_peroxide")
    assert now.low == pytest.approx(0)
    assert now.high == pytest.approx(7.2, rel=0.01)


def test_a_product_of_several_substances_is_weighed_or_measured() -> None:
    parts = "ammonium thiosulphate; 50; % w/w\nsodium sulphite; 5; % w/w"
    do("stock", {"name": "concentrate", "substance": "rapid fixer", "ingredients": parts, "bought_ml": "1 L"})
    do("mix", {"role": "fixer", "name": "measured", "volume_ml": 1000, "taken": "concentrate; 100; mL"})
    do("mix", {"role": "fixer", "name": "weighed", "volume_ml": 1000, "taken": "concentrate; 100; g"})
    measured, weighed = (bath_known(name).contents.mass_g for name in ("measured", "weighed"))
    assert weighed["ammonium_thiosulphate"] == pytest.approx(50, rel=1e-6)
    assert measured["ammonium_thiosulphate"] > 1.15 * weighed["ammonium_thiosulphate"]  # it is much denser than water
    assert measured["sodium_sulphite"] / measured["ammonium_thiosulphate"] == pytest.approx(0.1, rel=1e-6)


def test_the_whole_life_of_a_bath_adds_up() -> None:
    bleach()
    bleach("bleach 2", volume_ml=500)
    do("use-bath", {"bath": "bleach 1", "sheets": 6, "size": "4x5 in", "when": "2026-01-06 12:00Z"})
    do("replenish", {"bath": "bleach 1", "volume_ml": 50, "ingredients": "hydrogen peroxide; 30; % w/w", "when": "2026-01-06 13:00Z"})
    do("top-up", {"bath": "bleach 1", "volume_ml": 30, "when": "2026-01-06 13:10Z"})
    found = {"substance": "hydrogen peroxide", "strength_percent_ww": 8.1, "when": "2026-01-07 09:00Z"}
    do("test-bath", {"bath": "bleach 1", "tested_by": "permanganate titration", **found})
    assert now_percent("bleach 1") == pytest.approx(8.1, rel=1e-3)
    do("leave-open", {"bath": "bleach 1", "open_days": 1, "volume_ml": 1000, "when": "2026-01-08 09:00Z"})
    do("filter-bath", {"bath": "bleach 1", "when": "2026-01-08 09:05Z"})
    do("split-bath", {"bath": "bleach 1", "volume_ml": 400, "into": "bleach 1, bottle", "vented": True, "when": "2026-01-08 09:10Z"})
    do("merge-baths", {"bath": "bleach 2", "into": "bleach 1, bottle", "when": "2026-01-08 09:20Z"})
    do("waste-bottle", {"name": "waste: bleach", "capacity_ml": "5 L", "vented": True})
    do("discard-bath", {"bath": "bleach 1", "waste": "waste: bleach", "volume_ml": 100, "reason": "half spent", "when": "2026-01-09 09:20Z"})
    for name in ("bleach 1", "bleach 2", "bleach 1, bottle"):
        assert adds_up(bath_known(name)), name
    assert bath_known("bleach 2").bath.state == "merged"
    assert bath_known("bleach 1, bottle").contents.volume_ml == pytest.approx(900)
    assert bath_known("bleach 1").contents.volume_ml == pytest.approx(500)
    assert bath_known("bleach 1").bath.state == "in use"
    assert waste_known("waste: bleach").contents.volume_ml == pytest.approx(100)
    done = do("discard-bath", {"bath": "bleach 1", "waste": "waste: bleach", "when": "2026-01-10 09:20Z"})
    assert "500" in done.says
    assert {one.bath.name for one in shelf().baths} == {"bleach 1, bottle"}
    assert waste_known("waste: bleach").from_baths == ("bleach 1",)
    do("empty-waste", {"waste": "waste: bleach", "taken_to": "the town", "when": "2026-01-11 09:20Z"})
    assert waste_known("waste: bleach").contents.volume_ml == 0


def test_two_tests_of_a_bath_tell_what_it_loses_by_itself() -> None:
    bleach()
    for day, found in (("2026-01-07 10:00Z", 9.0), ("2026-01-09 10:00Z", 8.0)):
        given = {"bath": "bleach 1", "tested_by": "gas volume", "substance": "hydrogen peroxide", "strength_percent_ww": found, "when": day}
        do("test-bath", given)
    later = bath_known("bleach 1", datetime(2026, 1, 11, 10, tzinfo=UTC))
    now = next(one.now for one in later.strengths if one.substance == "hydrogen_peroxide")
    assert now.value == pytest.approx(8.0 * 8 / 9, rel=0.01)
    assert now.low is not None
    assert now.high is not None
    assert now.low < now.value < now.high  # type: ignore[operator]


def test_a_clearing_time_is_told_against_a_fresh_bath() -> None:
    bleach()
    given = {"bath": "bleach 1", "tested_by": "bleach-out test"}
    assert "fresh bath" in faults("test-bath", **given, clearing_s=240)["fresh_clearing_s"]
    assert "What did it find" in faults("test-bath", **given)["strength_percent_ww"]
    do("test-bath", given | {"clearing_s": "4m", "fresh_clearing_s": "2m"})
    assert bath_known("bleach 1").clearing_factor == 2


def test_tests_that_cannot_be() -> None:
    bleach()
    given = {"bath": "bleach 1", "tested_by": "permanganate titration", "strength_percent_ww": 10.5}
    assert "nothing grows stronger" in faults("test-bath", **given, substance="hydrogen peroxide")["strength_percent_ww"]
    assert "of which substance" in faults("test-bath", **given)["substance"]
    assert "there is none of it" in faults("test-bath", **given, substance="metol")["substance"]


@pytest.mark.parametrize(
    ("deed", "given"),
    [
        ("use-bath", {"sheets": 1, "size": "4x5 in"}),
        ("top-up", {"volume_ml": 10}),
        ("filter-bath", {}),
        ("test-bath", {"tested_by": "silver test", "silver_g_per_l": 0.3}),
        ("split-bath", {"volume_ml": 10, "into": "another"}),
    ],
)
def test_nothing_happens_before_it_was_made_after_its_end_or_tomorrow(deed: str, given: dict[str, object]) -> None:
    bleach()
    assert "was made on 2026-01-06 10:00, after this" in faults(deed, bath="bleach 1", **given, when="2026-01-05 10:00Z")["when"]
    assert "has not come yet" in faults(deed, bath="bleach 1", **given, when="2026-02-05 10:00Z")["when"]
    do("waste-bottle", {"name": "waste", "vented": True})
    do("discard-bath", {"bath": "bleach 1", "waste": "waste", "when": "2026-01-08 10:00Z"})
    assert "was discarded on 2026-01-08 10:00" in faults(deed, bath="bleach 1", **given, when="2026-01-09 10:00Z")["when"]


def test_no_more_goes_out_than_is_in() -> None:
    bleach()
    do("waste-bottle", {"name": "waste", "vented": True})
    assert "holds" in faults("split-bath", bath="bleach 1", volume_ml=1200, into="another")["volume_ml"]
    assert "holds" in faults("discard-bath", bath="bleach 1", waste="waste", volume_ml=1200)["volume_ml"]
    assert faults("mix", role="bleach", volume_ml=0, ingredients=BLEACH)["volume_ml"]
    assert faults("use-bath", bath="bleach 1", sheets=1)["size"].startswith("How large is the sheet?")
    assert "same bath" in faults("merge-baths", bath="bleach 1", into="bleach 1")["into"]


def test_a_name_stands_for_one_bath() -> None:
    bleach()
    assert "already a bath" in faults("mix", role="bleach", name="Bleach 1", volume_ml=100, ingredients=BLEACH)["name"]
    assert "already a bath" in faults("split-bath", bath="bleach 1", volume_ml=10, into="bleach 1")["into"]
    assert mixing.next_name("bleach") == "bleach 2"


# --- what must not meet ---


def test_bleach_and_fixer_never_get_into_one_bottle() -> None:
    bleach()
    do("waste-bottle", {"name": "waste: fixer", "capacity_ml": "10 L", "vented": True, "begun_ml": "2 L", "begun_with": FIXER})
    stopped = faults("discard-bath", bath="bleach 1", waste="waste: fixer")["waste"]
    assert stopped.startswith("Stop, these must not meet.")
    assert "sulphur dioxide" in stopped
    assert waste_known("waste: fixer").contents.volume_ml == 2000
    assert bath_known("bleach 1").contents.volume_ml == 1000


def test_peroxide_needs_a_cap_that_vents_no_metal_and_room() -> None:
    bleach()
    do("waste-bottle", {"name": "closed"})
    assert "vented cap" in faults("discard-bath", bath="bleach 1", waste="closed")["waste"]
    do("waste-bottle", {"name": "can", "vented": True, "metal": True, "capacity_ml": 500})
    said = faults("discard-bath", bath="bleach 1", waste="can")["waste"]
    assert "Metal" in said
    assert "500" in said
    do("correct", {"kind": "waste-bottle", "name": "closed", "changes": "vented; yes"})
    assert do("discard-bath", {"bath": "bleach 1", "waste": "closed"}).name == "bleach 1"


def test_what_must_not_meet_is_not_mixed_or_poured_together() -> None:
    bleach()
    do("mix", {"role": "fixer", "volume_ml": 1000, "ingredients": FIXER, "when": "2026-01-06 10:00Z"})
    assert "sulphur dioxide" in faults("merge-baths", bath="bleach 1", into="fixer 1")["into"]
    assert "sulphur dioxide" in faults("replenish", bath="fixer 1", ingredients="citric acid; 5; % w/w", volume_ml=100)["bath"]
    wrong = faults("mix", role="other", volume_ml=1000, ingredients=f"{FIXER}\nhydrogen peroxide; 3; % w/w")
    assert "sulphur dioxide" in wrong["ingredients"]
    closed = bleach("bleach in a bottle", kept_in="bottle")
    assert closed
    noted = do("mix", {"role": "bleach", "volume_ml": 500, "ingredients": BLEACH, "kept_in": "bottle"}).notes
    assert [note.note for note in noted] == ["vent-it"]


@pytest.mark.parametrize("recipe", [one for one in recipes() if one.parts and not one.against], ids=lambda one: one.name)
def test_every_recipe_that_is_shipped_can_be_mixed(recipe: object) -> None:
    parts = "\n".join(f"{part.substance}; {part.amount}; {part.unit}" for part in recipe.parts)  # type: ignore[attr-defined]
    done = do("mix", {"role": "other", "recipe": recipe.name, "volume_ml": 1000, "ingredients": parts})  # type: ignore[attr-defined]
    assert adds_up(bath_known(done.name))


# --- corrections ---


def test_a_slip_in_a_bath_is_corrected_and_everything_follows() -> None:
    bleach()
    do("use-bath", {"bath": "bleach 1", "sheets": 10, "size": "4x5 in", "when": "2026-01-07 10:00Z"})
    do("split-bath", {"bath": "bleach 1", "volume_ml": 400, "into": "bottle of it", "when": "2026-01-08 10:00Z"})
    before = now_percent("bottle of it")
    do("correct", {"kind": "bath-event", "name": "bleach 1/1", "changes": [{"field": "ingredients", "to": "hydrogen peroxide; 6; % w/w"}]})
    assert now_percent("bottle of it") == pytest.approx(before * 6 / 9, rel=0.02)
    do("correct", {"kind": "bath-event", "name": "bleach 1/2", "changes": "sheets; 4\narea_m2; 0.05"})
    assert bath_known("bleach 1").sheets == 4
    do("correct", {"kind": "bath-event", "name": "bleach 1/1", "changes": "happened_at; 2026-01-05 10:00Z"})
    assert bath_known("bleach 1").bath.made_at == datetime(2026, 1, 5, 10, tzinfo=UTC)
    assert "was made on" in faults("correct", kind="bath-event", name="bleach 1/2", changes="happened_at; 2026-01-04 10:00Z")["changes"]
    do("archive", {"kind": "bath-event", "name": "bleach 1/2"})
    assert bath_known("bleach 1").sheets == 0
    do("bring-back", {"kind": "bath-event", "name": "bleach 1/2"})
    assert bath_known("bleach 1").sheets == 4
    kinds = {(one.kind, one.deed) for one in bath_known("bleach 1").changes}
    assert {("bath-event", "correct"), ("bath-event", "archive"), ("bath", "mix")} <= kinds
    assert adds_up(bath_known("bleach 1"))
    assert adds_up(bath_known("bottle of it"))


def test_a_correction_takes_nothing_from_the_bottle_twice() -> None:
    bottles()
    do("mix", {"role": "bleach", "volume_ml": 3000, "taken": "peroxide 35 %; 900; mL"})
    do("correct", {"kind": "bath-event", "name": "bleach 1/1", "changes": "volume_ml; 3200"})
    assert bath_known("bleach 1").contents.volume_ml == 3200
    do("correct", {"kind": "stock", "name": "peroxide 35 %", "changes": "name; strong peroxide"})
    do("correct", {"kind": "bath-event", "name": "bleach 1/1", "changes": "volume_ml; 3100"})
    assert bath_known("bleach 1").contents.volume_ml == 3100
    assert stock_known("strong peroxide").left_ml == 100


def test_bottles_tests_recipes_and_waste_are_corrected() -> None:
    bottles()
    do("stock-tested", {"stock": "peroxide 35 %", "tested_by": "gas volume", "strength_percent_ww": 33})
    do("correct", {"kind": "stock-test", "name": "peroxide 35 %/1", "changes": "strength_percent_ww; 34"})
    strength = stock_known("peroxide 35 %").strength_percent_ww
    assert strength is not None
    assert strength.value == 34
    do("archive", {"kind": "stock-test", "name": "peroxide 35 %/1"})
    assert not stock_known("peroxide 35 %").tested
    do("recipe", {"name": "mine", "role": "bleach", "parts": "citric acid; 4; % w/w"})
    do("correct", {"kind": "recipe", "name": "mine", "changes": "source; an old notebook"})
    done = do("correct", {"kind": "recipe", "name": "mine", "changes": "parts; citric acid, 5, % w/w"})
    assert done.says == "Corrected recipe mine/1. Parts: “citric acid 4.0 % w/w”, now “citric acid 5.0 % w/w”."
    assert own_recipes()[0].source == "an old notebook"
    do("waste-bottle", {"name": "waste", "begun_ml": 500, "begun_with": FIXER})
    do("correct", {"kind": "waste-bottle", "name": "waste", "changes": "begun_ml; 700"})
    assert waste_known("waste").contents.volume_ml == 700
    do("empty-waste", {"waste": "waste", "when": "2026-01-11 10:00Z"})
    assert waste_known("waste").contents.volume_ml == 0
    do("archive", {"kind": "emptying", "name": "waste/1"})
    assert waste_known("waste").contents.volume_ml == 700


# --- recipes, the room ---


def test_another_edition_of_a_recipe_leaves_the_first_as_it_was() -> None:
    do("recipe", {"name": "mine", "role": "bleach", "parts": "citric acid; 4; % w/w"})
    assert "new edition" in faults("recipe", name="Mine", role="bleach", parts="citric acid; 5; % w/w")["name"]
    assert do("recipe", {"name": "mine", "role": "bleach", "parts": "citric acid; 5; % w/w", "new_edition": True}).name == "mine/2"
    assert [one.edition for one in own_recipes()] == [2]
    assert find_thing("recipe", "mine/1").parts[0]["amount"] == 4  # type: ignore[attr-defined]
    do("mix", {"role": "bleach", "recipe": "mine", "volume_ml": 500, "ingredients": "citric acid; 5; % w/w"})
    assert bath_known("bleach 1").bath.recipe_name == "mine/2"
    do("recipe", {"name": "by weight", "role": "clearing", "volume_ml": 500, "parts": "sodium sulphite; 10; g"})
    do("mix", {"role": "clearing", "recipe": "by weight", "volume_ml": 2000})  # its parts, for the volume that is wanted
    assert bath_known("clearing 1").contents.mass_g["sodium_sulphite"] == pytest.approx(40)
    do("mix", {"role": "bleach", "name": "shipped", "recipe": "peroxide bleach", "volume_ml": 500})
    assert now_percent("shipped") == pytest.approx(9, rel=1e-6)
    assert "Needed" in faults("mix", role="fixer", recipe="ready-made concentrate", volume_ml=500)["ingredients"]
    assert "comes with silverwright" in faults("recipe", name="peroxide bleach", role="bleach", parts="citric acid; 5; % w/w")["name"]
    assert "not among the recipes" in faults("mix", role="bleach", recipe="nonsense", volume_ml=500)["recipe"]
    assert faults("recipe", name="gas", role="other", parts=f"{FIXER}\ncitric acid; 3; % w/w")


def test_the_room_has_one_row() -> None:
    assert poison_centre() == ""
    do("workroom", {"poison_centre": "0123 456"})
    do("workroom", {"rules": "proposal of July 2024"})
    assert (poison_centre(), rules(), Workroom.objects.count()) == ("0123 456", "proposal of July 2024", 1)
    assert faults("workroom")["poison_centre"]


# --- the trays ---


def processed(number: str, bath: str, when: str = "2026-01-12 10:00Z") -> None:
    """A sheet in the trays."""
    do("process", {"sheet": number, "steps": f"bleach; 90; 20; {bath}", "when": when})


def test_a_step_that_names_a_bath_counts_for_it() -> None:
    gear()
    bleach()
    processed(exposed(lot="box A"), "Bleach 1")
    known = bath_known("bleach 1")
    assert known.sheets == 1
    assert known.area_m2 == pytest.approx(0.1016 * 0.127)
    step = ProcessingStep.objects.get()
    assert step.in_bath == known.bath
    assert step.bath == "Bleach 1"
    do("correct", {"kind": "step", "name": "26-001/1", "changes": "bath; something else"})
    assert bath_known("bleach 1").sheets == 0
    do("correct", {"kind": "step", "name": "26-001/1", "changes": "bath; bleach 1"})
    assert bath_known("bleach 1").sheets == 1
    do("archive", {"kind": "processing", "name": "26-001/1"})
    assert bath_known("bleach 1").sheets == 0
    do("bring-back", {"kind": "processing", "name": "26-001/1"})
    assert bath_known("bleach 1").sheets == 1


def test_a_sheet_that_comes_back_into_a_bath_counts_once_and_carries_twice() -> None:
    gear()
    bleach()
    do("process", {"sheet": exposed(lot="box A"), "steps": "bleach; 90; 20; bleach 1\nbleach; 90; 20; bleach 1", "when": "2026-01-12 10:00Z"})
    assert bath_known("bleach 1").sheets == 1
    assert bath_known("bleach 1").area_m2 == pytest.approx(2 * 0.1016 * 0.127)


def test_a_piece_is_its_part_of_a_sheet() -> None:
    gear()
    bleach()
    number = exposed(lot="box A")
    do("cut", {"sheet": number, "pieces": 4})
    processed(f"{number}a", "bleach 1")
    assert bath_known("bleach 1").area_m2 == pytest.approx(0.1016 * 0.127 / 4)


def test_a_sheet_is_in_no_bath_that_was_not_made_yet() -> None:
    gear()
    bleach()
    number = exposed(lot="box A")
    steps = {"sheet": number, "steps": "bleach; 90; 20; bleach 1", "when": "2026-01-05 10:00Z"}
    assert "was made on 2026-01-06" in faults("process", **steps)["when"]
    assert not ProcessingStep.objects.exists()


def test_names_of_earlier_are_matched_to_a_bath() -> None:
    gear()
    for when in ("2026-01-05 10:00Z", "2026-01-08 10:00Z", "2026-01-09 10:00Z"):
        processed(exposed(lot="box A"), "bleach, tray 2", when)
    assert unmatched_texts() == (("bleach, tray 2", 3),)
    bleach()
    done = do("match-bath", {"bath": "bleach 1", "written": "Bleach, tray 2"})
    assert "2 steps" in done.says
    assert "1 from before it was made stay" in done.says
    assert bath_known("bleach 1").sheets == 2
    assert unmatched_texts() == (("bleach, tray 2", 1),)
    assert "No step" in faults("match-bath", bath="bleach 1", written="nothing")["written"]
    assert "before “bleach 1” was made" in faults("match-bath", bath="bleach 1", written="bleach, tray 2")["bath"]


def test_a_sheet_of_unknown_size_counts_and_is_said() -> None:
    gear()
    do("correct", {"kind": "lot", "name": "box A", "changes": [{"field": "size", "to": ""}]})
    bleach()
    number = exposed(lot="box A")
    done = do("process", {"sheet": number, "steps": "bleach; 90; 20; bleach 1"})
    assert [note.note for note in done.notes] == ["size-not-in-book"]
    assert (bath_known("bleach 1").sheets, bath_known("bleach 1").area_m2) == (1, 0)


# --- whole or not at all ---


def test_an_act_that_fails_on_its_way_leaves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    bottles()

    def breaks(_: Bath) -> None:
        raise RuntimeError

    monkeypatch.setattr(mixing, "settle", breaks)
    with pytest.raises(RuntimeError):
        do("mix", {"role": "bleach", "volume_ml": 1000, "taken": "peroxide 35 %; 265; g"})
    assert not Bath.objects.exists()
    assert stock_known("peroxide 35 %").left_ml == 1000
    assert Stock.history.filter(name="peroxide 35 %").count() == 1


def test_sent_twice_it_is_mixed_once() -> None:
    bottles()
    for _ in range(2):
        do("mix", {"role": "bleach", "volume_ml": 1000, "taken": "peroxide 35 %; 265; mL"}, key="once")
    assert stock_known("peroxide 35 %").left_ml == 735
    assert Bath.objects.count() == 1
