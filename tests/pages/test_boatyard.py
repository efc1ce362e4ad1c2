"""The boatyard from the first page: beside the user's own book, on its own port. (That every page of it says "invented", test_every_page.py sees.)"""

from playwright.sync_api import expect
from tests.pages import loop
from tests.pages.conftest import Opener
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
