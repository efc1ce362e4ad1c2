"""Before it is poured away: what must be minded stands beside each waste bottle, and hazards are told by the rules that the room chose."""

import pytest
from django.test import Client
from tests.web.pages import Page

from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
ASKED = (
    "/shelf",
    "/shelf/discard?bath=bleach+1",
    "/shelf/dilute?stock=peroxide&wanted_amount=9&volume_ml=1+L",
    "/shelf/mix?recipe=peroxide+bleach&volume_ml=1+L",
    "/shelf/test?bath=bleach+1",
    "/shelf/baths/bleach%201",
    "/shelf/stocks/peroxide",
    "/shelf/waste/second",
)


def words(client: Client, address: str) -> str:
    """What people read there."""
    answer = client.get(address)
    assert answer.status_code == 200
    return Page(answer.content.decode()).text


@pytest.fixture
def _a_bath() -> None:
    do("stock", {"name": "peroxide", "substance": "hydrogen peroxide", "strength": 35, "strength_unit": "% w/w", "left_ml": "2 L", "vented": True})
    do("mix", {"role": "bleach", "volume_ml": 1000, "ingredients": "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w", "name": "bleach 1"})
    do("waste-bottle", {"name": "waste", "vented": True, "begun_ml": 500})
    do("waste-bottle", {"name": "second", "vented": True})


@pytest.mark.usefixtures("_a_bath")
def test_what_must_be_minded_stands_there_before_it_is_poured(client: Client) -> None:
    do("archive", {"kind": "waste-bottle", "name": "second"})
    text = words(client, "/shelf/discard?bath=bleach+1")
    assert "what it was begun with: no hazard data here" in text
    assert "Nothing is known here that speaks against it" not in text
    do("empty-waste", {"waste": "waste"})
    assert "Nothing is known here that speaks against it" in words(client, "/shelf/discard?bath=bleach+1")


@pytest.mark.usefixtures("_a_bath")
@pytest.mark.parametrize("address", ASKED)
def test_every_page_tells_hazards_by_the_rules_of_the_room(client: Client, address: str) -> None:
    do("discard-bath", {"bath": "bleach 1", "waste": "second", "volume_ml": 400})
    by_class = "Feeds fire"  # 9 and 35 % peroxide are oxidisers by the proposal only; the advice begins otherwise
    assert by_class not in words(client, address)
    do("workroom", {"rules": "proposal of July 2024"})
    assert by_class in words(client, address)


@pytest.mark.usefixtures("_a_bath")
def test_a_bottle_with_little_room_takes_a_part(client: Client) -> None:
    do("waste-bottle", {"name": "small", "vented": True, "capacity_ml": 1200})
    do("discard-bath", {"bath": "bleach 1", "waste": "small", "volume_ml": 400})
    do("top-up", {"bath": "bleach 1", "volume_ml": 400})
    text = words(client, "/shelf/discard?bath=bleach+1").replace("\xa0", " ")
    assert "It has room for 800 mL more: say below how much goes in" in text
    assert "Not into small" not in text
    do("discard-bath", {"bath": "bleach 1", "waste": "small", "volume_ml": 800})
    do("top-up", {"bath": "bleach 1", "volume_ml": 100})
    assert "Not into small" in words(client, "/shelf/discard?bath=bleach+1")
