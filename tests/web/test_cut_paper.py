"""The plan of the cuts as a page, and what was cut recorded from it."""

import pytest
from django.test import Client
from tests.web.book_in_hand import HOLDER, PAPER, Book, begin

from silverwright.book.models import Lot
from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
PIECES = "large box, cut to 4x5 in"


@pytest.fixture
def book(client: Client) -> Book:
    begin()
    do("lot", {"name": "large box", "paper": PAPER, "size": "8x10 in", "sheets_left": 10})
    return Book(client)


def test_a_box_says_how_large_its_sheets_are(book: Book) -> None:
    text = book.open("/shelf/cut?lot=large+box&holder_size=4x5+in&sheets_to_cut=2")
    assert book.value("sheet_size") == "8x10 in"
    assert text.index("a blade in dim light") < text.index("Stop at 125.5")
    assert "gives 4 pieces of 100.1 by 125.5 millimetres" in text
    assert "They are cut: record it" in text


def test_the_plan_alone_needs_no_book(book: Book) -> None:
    text = book.open("/shelf/cut?sheet_size=24x30+cm&holder_size=9x12+cm")
    assert "Stop at" in text
    assert "record it" not in text, "without a box there is nothing to count"


def test_what_was_cut_is_recorded_where_its_plan_stands(book: Book) -> None:
    book.open("/shelf/cut?lot=large+box&holder_size=4x5+in&pieces_wanted=8&trim_mm=1.5")
    sent = book.hidden() | {"marked": "pencil stroke on the back"}
    assert (sent["lot"], sent["sheets_to_cut"], sent["holder_size"]) == ("large box", "2", "4x5 in")
    text = book.send("/book/do/cut-paper", sent)
    assert "2 sheets of “large box” cut into 8 pieces" in text
    pieces = Lot.objects.get(name=PIECES)
    assert (pieces.sheets_left, pieces.marked) == (8, "pencil stroke on the back")
    assert Lot.objects.get(name="large box").sheets_left == 8


def test_what_is_wrong_stands_beside_its_field(book: Book) -> None:
    book.open("/shelf/cut?sheet_size=6x7&holder_size=8x10")
    assert "inches or in centimetres" in book.problem("sheet_size")
    assert "Not yet" in book.open("/shelf/cut?lot=large+box")
    assert not book.problem("holder_size"), "a box was chosen, and nothing is wrong yet"


def test_the_size_of_the_holders_is_taken_where_all_have_one(book: Book) -> None:
    do("correct", {"kind": "holder", "name": HOLDER, "changes": "size; 5x7 in"})
    assert "gives 2 pieces of 125.5 by 176.3" in book.open("/shelf/cut?lot=large+box")
    do("holder", {"name": "another", "size": "4x5 in"})
    assert "Stop at" not in book.open("/shelf/cut?lot=large+box")


def test_the_act_leads_to_the_plan(client: Client) -> None:
    assert client.get("/book/do/cut-paper?lot=large+box")["Location"] == "/shelf/cut?lot=large+box"


def test_no_such_box(client: Client) -> None:
    assert client.get("/shelf/cut?lot=nowhere").status_code == 404
