"""Whatever stands in an address of the Shelf's pages, the page comes or says in words why not, and no word of a machine is on it."""

from typing import Final

import pytest
from django.test import Client
from tests.web.test_junk_addresses import JUNK, OF_A_MACHINE, TABLES, TYPED

from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
PAGES: Final = {
    "/shelf/mix": (
        {"recipe": "peroxide bleach", "volume_ml": "1 L"},
        ("recipe", "volume_ml", "stocks", "ingredients", "vessel", "sheet", "inside_length_mm", "temperature_celsius", "label", "shown_stocks"),
    ),
    "/shelf/dilute": (
        {"substance": "hydrogen peroxide", "stock_amount": "35", "stock_unit": "% w/w", "wanted_amount": "9"},
        ("stock", "substance", "stock_amount", "stock_unit", "wanted_amount", "wanted_unit", "volume_ml", "temperature_celsius"),
    ),
    "/shelf/test": (
        {"test": "permanganate", "bath": "bleach 1", "sample_ml": "1", "reagent_mol_per_l": "0.02", "titre_ml": "5"},
        ("test", "bath", "stock", "sample_ml", "made_up_ml", "aliquot_ml", "titre_ml", "blank_ml"),
    ),
    "/shelf/discard": ({"bath": "bleach 1"}, ("bath", "waste", "volume_ml", "reason")),
    "/shelf": ({}, ("recorded",)),
}


@pytest.fixture
def standing() -> None:
    """A bottle, a bath and a waste bottle."""
    do("stock", {"name": "peroxide", "substance": "hydrogen peroxide", "strength": 35, "strength_unit": "%, label unclear"})
    do("mix", {"role": "bleach", "name": "bleach 1", "volume_ml": 1000, "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w"})
    do("waste-bottle", {"name": "waste: bleach", "vented": True})


@pytest.mark.usefixtures("standing")
@pytest.mark.parametrize("path", PAGES)
def test_no_junk_breaks_a_page(client: Client, path: str) -> None:
    usual, names = PAGES[path]
    for name in names:
        for junk in (*JUNK, *TABLES):
            told = client.get(path, {**usual, name: junk})
            assert told.status_code in {200, 404}, f"{name}={junk!r}"
            read = TYPED.sub(" ", told.content.decode()).replace(junk.strip() or " ", " ")  # what was typed is told back
            assert not OF_A_MACHINE.search(read), f"{name}={junk!r}: {OF_A_MACHINE.search(read)}"


@pytest.mark.usefixtures("standing")
@pytest.mark.parametrize("path", [path for path in PAGES if path != "/shelf"])
def test_no_junk_that_is_sent_breaks_a_page(client: Client, path: str) -> None:
    usual, names = PAGES[path]
    for name in (*names, "role", "taken", "key", "noted", "noted_unit", "strength_percent_ww"):
        for junk in JUNK:
            told = client.post(f"{path}?bath=bleach+1", {**usual, name: junk}, headers={"Origin": "http://testserver"})
            assert told.status_code < 500, f"{name}={junk!r}"
