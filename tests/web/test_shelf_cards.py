"""What a card of the shelf says of caps and age, and what the bench pages take over from a bottle or a bath."""

import pytest
from django.test import Client
from tests.web.pages import Page

from silverwright.book.shelf import bath_known, stock_known, waste_known
from silverwright.web.pages.shelf import today, waste_card
from silverwright.web.pages.shelf_dilute import label_of_stock, noted_of
from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
BLEACH = {"role": "bleach", "volume_ml": 1000, "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w"}


def test_an_old_bath_is_told_today_and_a_fresh_one_is_not() -> None:
    do("mix", BLEACH | {"name": "old", "when": "2026-01-06 10:00Z"})
    do("mix", BLEACH | {"name": "fresh"})
    assert [name for name, _, _ in today().old] == ["old"]


def test_a_closed_waste_bottle_says_that_no_peroxide_goes_in() -> None:
    do("waste-bottle", {"name": "closed"})
    do("waste-bottle", {"name": "vented", "vented": True})
    assert waste_card(waste_known("closed")).more == "Closed cap: nothing with peroxide goes in."
    assert waste_card(waste_known("vented")).more == "Vented cap."


@pytest.mark.parametrize(
    ("given", "amount", "unit"),
    [
        ({"strength": 35, "strength_unit": "%, label unclear"}, "35", "%"),
        ({"strength": 35, "strength_unit": "% w/v"}, "35", "% w/v"),
        ({"strength_unit": "undiluted"}, "100", "% w/w"),
        ({}, None, None),
    ],
)
def test_a_bottle_fills_in_its_label(given: dict[str, object], amount: str | None, unit: str | None) -> None:
    do("stock", {"name": "peroxide", "substance": "hydrogen peroxide", **given})
    filled = label_of_stock(stock_known("peroxide"))
    assert (filled.get("stock_amount"), filled.get("stock_unit")) == (amount, unit)


def test_a_test_says_more_than_a_label_and_only_an_answer_is_noted() -> None:
    do("stock", {"name": "peroxide", "substance": "hydrogen peroxide", "strength": 35, "strength_unit": "%, label unclear"})
    unclear = [stock_known("peroxide")]
    assert [list(noted_of(unclear, unit).bottles) for unit in ("% w/w", "% w/v", "%, label unclear", "")] == [["peroxide"], ["peroxide"], [], []]
    do("stock-tested", {"stock": "peroxide", "tested_by": "gas volume", "strength_percent_ww": 31.2})
    assert label_of_stock(stock_known("peroxide"))["stock_amount"] == "31.2"
    assert not noted_of([stock_known("peroxide")], "% w/w").bottles


def test_a_bath_that_was_discarded_offers_no_more_acts_and_a_used_one_is_tested_as_used(client: Client) -> None:
    do("mix", BLEACH | {"name": "bleach 1"})

    def read(address: str) -> str:
        return client.get(address).content.decode()

    assert "/book/do/use-bath" in read("/shelf/baths/bleach%201")
    asked = "/shelf/test?bath=bleach+1&test=permanganate&sample_ml=1&made_up_ml=100&aliquot_ml=10&reagent_mol_per_l=0.02&titre_ml=5.4&blank_ml=0"
    fresh = Page(read(asked)).text
    do("use-bath", {"bath": "bleach 1", "sheets": 3, "size": "8x10 in"})
    assert bath_known("bleach 1").sheets == 3
    assert Page(read(asked)).text != fresh
    do("waste-bottle", {"name": "waste", "vented": True})
    do("discard-bath", {"bath": "bleach 1", "waste": "waste"})
    assert "/book/do/use-bath" not in read("/shelf/baths/bleach%201")


def test_a_bath_of_today_is_not_said_to_be_old(client: Client) -> None:
    do("mix", BLEACH | {"name": "bleach 1"})
    do("mix", BLEACH | {"name": "old", "when": "2026-01-06 10:00Z"})
    text = [Page(client.get(f"/shelf/discard?bath={name}").content.decode()).text for name in ("bleach+1", "old")]
    assert ["It was made today." in one for one in text] == [True, False]
    recipes = Page(client.get("/shelf/recipes").content.decode()).text
    assert recipes.index("dichromate bleach") > recipes.index("permanganate bleach")
