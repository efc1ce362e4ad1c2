"""The boatyard from the first page: beside the user's own book, on its own port, marked invented wherever one looks."""

from playwright.sync_api import expect
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.everywhere import EMPTY, FILLED
from tests.pages.served import Served


def test_it_opens_beside_the_own_book_and_never_in_it(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/", beside=True)
    page.set_default_timeout(60_000)  # it is filled on its first start
    expect(page.get_by_label("Invented data")).to_have_count(0)
    loop.press(page, "Open the boatyard")
    expect(page.get_by_label("Invented data")).to_be_visible(timeout=60_000)
    assert not page.url.startswith(scratch.address), "a port of its own"
    expect(page.get_by_role("heading", name="Next exposure")).to_be_visible()
    page.goto(scratch.address)
    expect(page.get_by_text("The book is empty.")).to_be_visible()


def test_every_page_of_it_says_invented(opened: Opener, boatyard: Served, empty: Served) -> None:
    page = opened(boatyard, "/")
    for path in FILLED.values():
        page.goto(boatyard.address + path)
        expect(page.get_by_label("Invented data")).to_contain_text("invented")
    page = opened(empty, "/")
    for path in EMPTY.values():
        page.goto(empty.address + path)
        expect(page.get_by_label("Invented data")).to_have_count(0)
