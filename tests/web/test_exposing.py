"""The count's pages without a browser: what stands on them, what is refused in which words, and the pulse."""

from urllib.parse import urlencode

import pytest
from django.test import Client
from tests.web.book_in_hand import HOLDER, SCENE, Book, begin

from silverwright.book.models import Count, Sheet
from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
SIDE = {"holder": HOLDER, "side": "1"}


@pytest.fixture
def book(client: Client) -> Book:
    begin()
    return Book(client)


def started(**more: str) -> str:
    return do("start-exposure", {**SCENE, **SIDE, **more}).name


def test_what_was_planned_stands_on_the_start_page(book: Book) -> None:
    book.open(f"/camera/exposing?{urlencode({**SCENE, **SIDE, 'to_give_s': '66'})}")
    assert book.status == 200
    assert (book.value("to_give_s"), book.value("count_in_s")) == ("66", "5")
    assert book.hidden()["reading_ev"] == "10"
    book.open("/camera/exposing?reading_ev=10&aperture_f=f/22&paper_ei=1.5&focal_mm=210&extension_mm=315")
    assert book.value("to_give_s") == "97", "the plan's own time"
    book.open("/camera/exposing")
    assert book.value("to_give_s") == "", "and nothing where nothing was metered"


@pytest.mark.parametrize(
    ("planned", "words"),
    [
        ({"reading_ev": "18"}, "too short to count"),
        ({"to_give_s": "1/2"}, "too short to count"),
        ({"guide_number": "40", "by": "flash"}, "A flash has no count"),
    ],
)
def test_what_has_no_count_leads_to_the_record(book: Book, planned: dict[str, str], words: str) -> None:
    book.open(f"/camera/exposing?{urlencode({**SCENE, **SIDE, **planned})}")
    assert words in book.text
    assert "Start the count" not in book.text
    assert 'href="/camera/record?' in book.text


def test_started_held_and_closed_without_script(book: Book) -> None:
    book.send("/camera/exposing", {**SCENE, **SIDE, "count_in_s": "0", "key": "one press"})
    assert book.address.startswith("/camera/exposing/count-001")
    book.send("/camera/exposing", {**SCENE, **SIDE, "count_in_s": "0", "key": "one press"})
    assert Count.objects.count() == 1
    book.send("/camera/exposing/count-001", {"deed": "hold-exposure", "given_s": "12", "key": "hold"})
    assert "Held" in book.text
    book.send("/camera/exposing/count-001", {"deed": "go-on-exposing", "key": "on"})
    book.send("/camera/exposing/count-001", {"deed": "stop-exposure", "given_s": "1:37", "key": "stop"})
    assert "26-001" in book.text
    assert "Stopped early" not in book.text
    book.send("/camera/exposing/count-001", {"deed": "stop-exposure", "given_s": "1:37", "key": "stop"})
    assert book.status == 200
    assert Sheet.objects.count() == 1


def test_what_is_wrong_stands_beside_its_field(book: Book) -> None:
    book.send("/camera/exposing", {**SCENE, **SIDE, "to_give_s": "never", "aperture_f": "f/900", "subject": "rope"})
    assert book.status == 422
    assert "not a number" in book.problem("to_give_s")
    assert "Go back to the camera and mend it there" in book.text
    assert book.value("subject") == "rope"
    started()
    book.send("/camera/exposing/count-001", {"deed": "reading-changed", "reading_ev": "bright"})
    assert (book.status, Count.objects.get().readings) == (422, [])
    assert "not a number" in book.problem("reading_ev")
    book.send("/camera/exposing/count-001", {"deed": "stop-exposure", "given_s": "0"})
    assert book.status == 422
    assert "allowed" in book.problem("given_s")


def test_a_second_stop_says_what_became_of_it(book: Book) -> None:
    started()
    do("stop-exposure", {"given_s": 34})
    book.send("/camera/exposing/count-001", {"deed": "stop-exposure", "given_s": "40", "key": "another"})
    assert book.status == 422
    assert "stopped already as sheet 26-001" in book.text


@pytest.mark.parametrize(
    "address", ["/camera/exposing/count-009", "/camera/exposing/count-009/now", "/camera/exposing/%00", "/camera/exposing/" + "9" * 200]
)
def test_a_count_that_is_not_there(book: Book, address: str) -> None:
    book.open(address)
    assert book.status == 404


@pytest.mark.parametrize("deed", ["", "expose", "archive", "nothing"])
def test_only_the_keys_of_the_bench_are_taken(book: Book, deed: str) -> None:
    started()
    book.send("/camera/exposing/count-001", {"deed": deed, "kind": "paper"})
    assert book.status == 404


def test_the_pulse(book: Book) -> None:
    """Silent until something is done; then it says so once, and what was seen moves on."""
    first = book.client.get("/pulse")
    assert first.headers["HX-Trigger"] == "book-changed"
    address = first.content.decode().partition('hx-get="')[2].partition('"')[0]
    assert book.client.get(address).status_code == 204
    started()
    again = book.client.get(address)
    assert (again.status_code, again.headers["HX-Trigger"]) == (200, "book-changed")
    assert book.client.get("/pulse", {"seen": "junk"}).status_code == 200


def test_today_shows_what_runs(book: Book) -> None:
    book.open("/")
    assert "Go to the count" not in book.text
    started(subject="caulking mallet")
    book.open("/")
    assert 'href="/camera/exposing/count-001"' in book.text
    assert "caulking mallet, holder 1, side 1" in book.text
    do("stop-exposure", {"nothing_exposed": "yes"})
    book.open("/")
    assert "Go to the count" not in book.text
    book.open("/camera/exposing/count-001")
    assert "Nothing exposed" in book.text


def test_the_start_page_says_what_is_open(book: Book) -> None:
    """Whoever comes here again while it counts is led to the count; another one beside it is possible, in another camera."""
    do("camera", {"name": "4x5 view camera"})
    do("camera", {"name": "box camera"})
    do("load", {"holder": HOLDER, "side": "2", "lot": "box A"})
    started(camera="4x5 view camera")
    book.open("/camera/exposing")
    assert 'href="/camera/exposing/count-001"' in book.text
    assert "Start another count" in book.text
    there = {**SCENE, "holder": HOLDER, "side": "2", "camera": "4x5 view camera"}
    book.send("/camera/exposing", there)
    assert book.status == 422
    assert "This camera is open now, as count-001" in book.text
    assert 'name="beside"' in book.text
    book.send("/camera/exposing", {**there, "camera": "box camera"})
    assert Count.objects.filter(state="running").count() == 2
