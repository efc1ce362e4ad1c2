"""The Shelf's pages without script: from an empty shelf to a mixed, tested and discarded bath; what must not meet is stopped before the act."""

import html as html_module
import re
from urllib.parse import quote

import pytest
from django.test import Client
from tests.web.book_in_hand import Book
from tests.web.pages import LIVE, Page

from silverwright.book.models import Bath, BathEvent, Stock
from silverwright.book.shelf import bath_known, stock_known, waste_known
from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
PEROXIDE, ACID = "peroxide, the blue can", "citric acid"
DILUTE = f"/shelf/dilute?stock={quote(PEROXIDE)}&wanted_amount=9&volume_ml=1+L&temperature_celsius=20"


@pytest.fixture
def book(client: Client) -> Book:
    return Book(client)


def bottles(unit: str = "%, label unclear") -> None:
    do("stock", {"name": PEROXIDE, "substance": "hydrogen peroxide", "strength": 35, "strength_unit": unit, "left_ml": "1 L", "vented": True})
    do("stock", {"name": ACID, "substance": "citric acid monohydrate", "strength_unit": "undiluted", "left_g": 640})


def words(html: str) -> str:
    """What people read, in their order."""
    return Page(html).text


def test_an_empty_shelf_shows_the_ways_on(book: Book) -> None:
    html = book.open("/shelf")
    text = words(html)
    for says in ("No bath is out", "No bottle is in the book yet", "No waste bottle is in the book yet", "poison centre"):
        assert says in text
    for address in ("/shelf/mix", "/shelf/dilute", "/shelf/test", "/shelf/discard", "/shelf/recipes"):
        assert f'href="{address}"' in html
        book.open(address)
        assert book.status == 200, address


def test_the_label_is_asked_for_and_both_amounts_are_told_after_the_goggles(book: Book) -> None:
    bottles()
    text = words(book.open(DILUTE))
    assert "35 % by weight (% w/w) or by volume (% w/v)?" in text
    assert "265 g (234 mL) and 768 mL water" in text
    assert "(265 mL)" in text
    assert text.index("Goggles on") < text.index("265 g")
    assert "Step by step" not in text


def test_a_bottle_that_is_clear_is_not_asked_about(book: Book) -> None:
    bottles("% w/w")
    text = words(book.open(DILUTE))
    assert "or by volume" not in text
    for earlier, later in (
        ("Before you open the bottle", "Goggles on"),
        ("Goggles on", "768 mL"),
        ("768 mL", "265 g"),
        ("265 g", "What comes of it"),
    ):
        assert text.index(earlier) < text.index(later), f"{earlier} before {later}"
    assert "234 mL" in text


def test_what_was_diluted_is_recorded_where_its_steps_stand(book: Book) -> None:
    bottles("% w/w")
    book.open(DILUTE)
    book.send(DILUTE, {**book.hidden(), "role": "bleach", "name": "peroxide bath", "kept_in": "tray", "vented": "no", "taken": book.value("taken")})
    assert "is on the shelf" in book.text
    found = {one.substance: one.now.value for one in bath_known("peroxide bath").strengths}
    assert found["hydrogen_peroxide"] == pytest.approx(9, rel=0.005)
    assert stock_known(PEROXIDE).left_ml == pytest.approx(1000 - 234.2, abs=0.5)  # the volume of chemistry's own table: 234.2 mL


def test_a_recipe_is_mixed_in_order_with_the_caution_before_each_amount(book: Book) -> None:
    bottles("% w/w")
    address = "/shelf/mix?recipe=peroxide+bleach&volume_ml=1+L"
    text = words(book.open(address))
    steps = text[text.index("Step by step") : text.index("When it is mixed")]
    assert steps.index("istilled water") < steps.index("Citric acid") < steps.index("Hydrogen peroxide")
    for substance in ("Citric acid", "Hydrogen peroxide"):
        assert steps.index("Goggles") < steps.index(substance)
    assert text.index("Before you open a bottle") < text.index("Step by step")
    book.send(address, {**book.hidden(), "role": "bleach", "name": "", "kept_in": "tray", "vented": "no", "taken": book.value("taken")})
    known = bath_known("bleach 1")
    found = {one.substance: one.now.value for one in known.strengths}
    assert found["hydrogen_peroxide"] == pytest.approx(9, rel=0.005)
    assert known.bath.recipe_name == "peroxide bleach"
    dry = 192.123 / 210.138  # molar masses of citric acid without and with its crystal water
    assert (found["citric_acid_monohydrate"] or 0) * dry == pytest.approx(5, rel=0.01)


def test_a_recipe_from_a_bottle_with_an_unclear_label_asks_first(book: Book) -> None:
    bottles()
    address = "/shelf/mix?recipe=peroxide+bleach&volume_ml=1+L"
    text = words(book.open(address))
    assert "by weight" in text
    assert "Step by step" not in text
    answered = next(link for link in Page(book.text).links if "label=%25+w%2Fw" in link)
    assert "Step by step" in words(book.open(answered))


def test_what_cannot_be_mixed_stays_on_the_page_with_what_was_typed(book: Book) -> None:
    bottles("% w/w")
    book.open(DILUTE)
    form = {**book.hidden(), "role": "bleach", "name": "peroxide bath", "kept_in": "tray", "vented": "no", "taken": f"{PEROXIDE}; 5000; g"}
    book.send(DILUTE, form)
    assert book.status == 422
    assert Bath.objects.count() == 0
    assert "peroxide bath" in book.text
    assert "5000" in book.text


@pytest.fixture
def worn() -> None:
    """A bleach, a fixer, and two waste bottles of which one holds fixer."""
    do("mix", {"role": "bleach", "name": "bleach 1", "volume_ml": 1000, "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w"})
    do("mix", {"role": "fixer", "name": "fixer 1", "volume_ml": 1000, "ingredients": "sodium thiosulphate; 10; % w/w"})
    do("waste-bottle", {"name": "waste: bleach", "capacity_ml": "5 L", "vented": True})
    do("waste-bottle", {"name": "waste: fixer", "vented": True, "begun_ml": 2000, "begun_with": "sodium thiosulphate; 10; % w/w"})


@pytest.mark.usefixtures("worn")
def test_what_must_not_meet_is_told_on_the_shelf_and_today(book: Book) -> None:
    do("paper", {"name": "RC paper, grade 2"})
    for address in ("/shelf", "/"):
        text = words(book.open(address))
        assert "never bleach 1 and fixer 1 in one bottle" in text
        assert "ulphur dioxide" in text
        assert "data sheets of your products and local rules come first" in text


@pytest.mark.usefixtures("worn")
def test_waste_is_refused_before_the_act_with_the_gas_named(book: Book) -> None:
    text = words(book.open("/shelf/discard?bath=bleach+1"))
    assert "Not into waste: fixer" in text
    assert "ulphur dioxide" in text
    choices = re.findall(r'type="radio" name="waste" value="([^"]+)"', book.text)
    assert choices == ["waste: bleach"], "what must not be is not offered"
    book.send("/shelf/discard", {**book.hidden(), "waste": "waste: fixer"})
    assert book.status == 422
    assert "ulphur dioxide" in words(book.text)
    assert not BathEvent.objects.filter(what="discarded").exists()
    assert Bath.objects.get(name="bleach 1").state == "in use"


@pytest.mark.usefixtures("worn")
def test_a_bath_is_discarded_into_the_bottle_that_may_take_it(book: Book) -> None:
    book.open("/shelf/discard?bath=bleach+1")
    book.send("/shelf/discard", {**book.hidden(), "waste": "waste: bleach", "reason": "slow"})
    assert "discarded into “waste: bleach”" in book.text
    assert waste_known("waste: bleach").contents.volume_ml == pytest.approx(1000)
    assert "bleach 1" not in words(book.open("/shelf")).split("Bottles", maxsplit=1)[0].split("Baths in use")[1]
    assert "It was discarded." in words(book.open("/shelf/baths/bleach%201"))


@pytest.mark.usefixtures("worn")
def test_each_thing_has_its_page_with_what_can_hurt_first(book: Book) -> None:
    bottles()
    for address in ("/shelf/baths/bleach%201", f"/shelf/stocks/{quote(PEROXIDE)}", "/shelf/waste/waste%3A%20fixer"):
        text = words(book.open(address))
        assert book.status == 200
        assert (
            text.index("What can hurt")
            < text.index("data sheet")
            < (text.index("How strong") if "How strong" in text else text.index("What is in it"))
        )
    assert book.open("/shelf/baths/no%20such")
    assert book.status == 404


def test_an_unclear_label_is_told_by_its_stronger_reading(book: Book) -> None:
    bottles()
    text = words(book.open(f"/shelf/stocks/{quote(PEROXIDE)}"))
    assert "H315" in text, "from 35 % by weight on peroxide irritates skin, and it may be that strong"
    test = words(book.open(f"/shelf/test?test=strip&stock={quote(PEROXIDE)}"))
    assert "Irritates skin" in test
    assert test.count("local rules come first") == 1


@pytest.mark.usefixtures("worn")
def test_a_strength_test_is_read_and_recorded(book: Book) -> None:
    bottles("% w/w")
    read = "sample_ml=0.25&made_up_ml=100&aliquot_ml=10&reagent_mol_per_l=0.02&titre_ml=5.8&blank_ml=0.05"
    address = f"/shelf/test?test=permanganate&stock={quote(PEROXIDE)}&{read}"
    text = words(book.open(address))
    assert text.index("Before you begin") < text.index("You need") < text.index("Found")
    book.send(address, book.hidden())
    assert Stock.objects.get(name=PEROXIDE).tests.count() == 1
    assert stock_known(PEROXIDE).tested


@pytest.mark.usefixtures("worn")
def test_a_bleach_out_test_of_a_bath_is_recorded(book: Book) -> None:
    text = words(book.open("/shelf/test?bath=bleach+1"))
    assert "Needed." not in text  # nothing is wrong before anything is typed
    assert "Bleach-out test" in text
    assert "strip" in text


def test_while_typing_only_the_answer_comes_back(client: Client) -> None:
    bottles("% w/w")
    told = client.get(DILUTE, headers=LIVE)
    assert told.content.decode().lstrip().startswith('<div id="answer"')
    assert "stock_unit" not in told.headers["HX-Replace-Url"]
    assert "wanted_amount=9" in told.headers["HX-Replace-Url"]


def test_recipes_stand_by_their_step_and_what_is_not_recommended_says_so(book: Book) -> None:
    text = words(book.open("/shelf/recipes"))
    assert text.index("Bleach") < text.index("peroxide bleach") < text.index("Fixer")
    assert "Not recommended" in text
    assert "common practice" in text
    assert "from memory, unverified" in text


def test_where_the_label_does_not_say_both_readings_stay_in_the_limits(book: Book) -> None:
    bottles()
    address = f"{DILUTE}&stock_unit=%25%2C+label+unclear"
    text = words(book.open(address))
    assert "Step by step" in text
    book.send(address, {**book.hidden(), "role": "bleach", "name": "peroxide bath", "kept_in": "tray", "vented": "no", "taken": book.value("taken")})
    assert book.status == 200, words(book.text)
    now = next(one.now for one in bath_known("peroxide bath").strengths if one.substance == "hydrogen_peroxide")
    assert now.low is not None
    assert now.high is not None
    weak, strong = 9 * (31.3 / 35) ** 0.5, 9 * (35 / 31.3) ** 0.5  # 35 % by volume is 31.3 % by weight; the middle of both is taken
    assert now.low < weak < strong < now.high
    assert Stock.objects.get(name=PEROXIDE).strength_unit == "%, label unclear"


def test_what_is_answered_of_a_label_is_noted_on_the_bottle(book: Book) -> None:
    bottles()
    address = f"{DILUTE}&stock_unit=%25+w%2Fw"
    text = words(book.open(address))
    assert "its label means % w/w" in text
    book.send(address, {**book.hidden(), "role": "bleach", "name": "peroxide bath", "kept_in": "tray", "vented": "no", "taken": book.value("taken")})
    assert book.status == 200
    stock = stock_known(PEROXIDE)
    assert stock.stock.strength_unit == "% w/w"
    assert any("strength_unit" in change.fields for change in stock.changes), "what stood there stays in its history"


def test_what_is_not_mixed_leaves_no_note_on_the_bottle(book: Book) -> None:
    bottles()
    address = f"{DILUTE}&stock_unit=%25+w%2Fw"
    book.open(address)
    html = book.send(
        address, {**book.hidden(), "role": "", "name": "bath of the day", "kept_in": "tray", "vented": "no", "taken": book.value("taken")}
    )
    assert book.status == 422
    assert "bath of the day" in html, "nothing that was typed is lost"
    stock = stock_known(PEROXIDE)
    assert stock.stock.strength_unit == "%, label unclear"
    assert len(stock.changes) == 1, "it was entered, and nothing else"


def test_a_bath_that_got_its_peroxide_later_is_tested_and_asked_about_with_what_it_holds(book: Book) -> None:
    do("mix", {"role": "bleach", "name": "two in one", "volume_ml": 900, "ingredients": "citric acid; 5; % w/w", "kept_in": "tray"})
    do("replenish", {"bath": "two in one", "volume_ml": 100, "ingredients": "hydrogen peroxide; 30; % w/w"})
    do("use-bath", {"bath": "two in one", "sheets": 2, "size": "4x5 in"})
    text = words(book.open("/shelf/test?test=strip&bath=two+in+one&strip_mg_per_l=3"))
    assert "Too small" not in text
    html = book.open("/shelf/baths/two%20in%20one")
    asks = html_module.unescape(next(one for one in re.findall(r'href="([^"]+)"', html) if one.startswith("/ask/chemistry.added")))
    assert "silver" not in asks
    text = words(book.open(f"{asks}&added=citric+acid%3B+1%3B+5+mL+spoons"))
    assert "pH afterwards" in text
    assert "not among the substances" not in text


def test_a_bath_that_stood_for_weeks_says_so_until_it_is_discarded(book: Book) -> None:
    do(
        "mix",
        {
            "role": "bleach",
            "name": "old",
            "volume_ml": 500,
            "ingredients": "hydrogen peroxide; 9; % w/w",
            "kept_in": "tray",
            "when": "2026-01-06 10:00Z",
        },
    )
    do("mix", {"role": "bleach", "name": "new", "volume_ml": 500, "ingredients": "hydrogen peroxide; 9; % w/w", "kept_in": "tray"})
    do("waste-bottle", {"name": "waste", "vented": True, "capacity_ml": 5000})
    assert words(book.open("/shelf")).count("It has stood for long") == 1
    assert "It has stood for long" in words(book.open("/shelf/baths/old"))
    do("discard-bath", {"bath": "old", "waste": "waste"})
    assert "It has stood for long" not in words(book.open("/shelf/baths/old"))


def test_an_empty_vessel_has_nothing_that_hurts_and_no_strength(book: Book) -> None:
    do("mix", {"role": "bleach", "name": "short-lived", "volume_ml": 500, "ingredients": "hydrogen peroxide; 9; % w/w", "kept_in": "tray"})
    do("top-up", {"bath": "short-lived", "volume_ml": 20, "ingredients": "citric acid; 5; g"})
    do("waste-bottle", {"name": "waste", "vented": True, "capacity_ml": 5000})
    assert "By the book nothing is in it." in words(book.open("/shelf/waste/waste"))
    text = words(book.open("/shelf/discard?bath=short-lived"))
    assert re.search(r"[89](\.\d+)? % hydrogen peroxide now, between", text), "the reasons hold their figures"
    assert "mixed at 0" not in text
    assert "mixed without it" in text
    do("discard-bath", {"bath": "short-lived", "waste": "waste", "reason": "worn"})
    gone = words(book.open("/shelf/baths/short-lived"))
    assert "Nothing is left in it." in gone
    assert "between 0 and 0" not in gone
    assert "read its data sheet" not in gone
    assert "Danger" in words(book.open("/shelf/waste/waste"))


def test_a_recipe_of_ones_own_is_chosen_by_its_name(book: Book) -> None:
    bottles("% w/w")
    do("recipe", {"name": "bleach of the shed", "role": "bleach", "volume_ml": 500, "parts": "hydrogen peroxide; 6; % w/w\ncitric acid; 25; g"})
    assert "bleach of the shed" in words(book.open("/shelf/recipes"))
    address = "/shelf/mix?recipe=bleach+of+the+shed&volume_ml=1+L"
    text = words(book.open(address))
    assert "My own: bleach of the shed" in text
    steps = text[text.index("Step by step") : text.index("When it is mixed")]
    assert "54.7 g" in steps, "twice 25 g in half a litre, times 210.138/192.123 for the crystal water of the bottle"
    book.send(address, {**book.hidden(), "role": "bleach", "name": "", "kept_in": "tray", "vented": "no", "taken": book.value("taken")})
    assert book.status == 200
    known = bath_known("bleach 1")
    assert known.bath.recipe is not None
    assert {one.substance: one.now.value for one in known.strengths}["hydrogen_peroxide"] == pytest.approx(6, rel=0.005)


def test_another_recipe_takes_other_bottles_though_the_tables_came_along(client: Client) -> None:
    """What the page had filled in comes back with the form; it is not what somebody typed."""
    bottles()
    first = Page(client.get("/shelf/mix").content.decode()).typed
    sent = {**first, "recipe": "peroxide bleach", "volume_ml": "1 L"}
    told = client.get("/shelf/mix", sent, headers=LIVE)
    assert "Which one?" in told.content.decode(), "the unclear label is asked about"
    assert "stocks" not in told.headers["HX-Replace-Url"]
    fewer = {**sent, "stocks": f"{ACID}; citric acid monohydrate"}
    told = client.get("/shelf/mix", fewer, headers=LIVE)
    assert "Step by step" in told.content.decode(), "a line that was taken out stays out"
    assert "stocks" in told.headers["HX-Replace-Url"]
