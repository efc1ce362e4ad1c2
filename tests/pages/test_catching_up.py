"""A page that waits for a scan catches up by itself once a lost connection is back."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Route, expect
from tests.pages import loop
from tests.pages.conftest import PATIENCE_MS
from tests.pages.desk import Desk, file_of
from tests.pages.served import Served


@pytest.mark.parametrize("says", ["nothing", "503"])
def test_the_connection_is_lost_while_a_file_is_read(browser: Browser, scratch: Served, tmp_path: Path, says: str) -> None:
    desk = Desk(scratch.address)
    desk.do("paper", name=f"paper of {says}")
    number = desk.do("expose", paper=f"paper of {says}")
    context = browser.new_context()
    page = context.new_page()
    asked: list[str] = []

    def lost(route: Route) -> None:
        asked.append(route.request.url)
        if says == "nothing":
            route.abort()
        else:
            route.fulfill(status=503)

    page.route(re.compile(r"/measure/scan-\d+/work"), lost)
    page.goto(f"{scratch.address}/measure?sheet={number}")
    loop.field(page, "Files").set_input_files(file_of("step sheet", tmp_path, f"{number}.tif"))
    loop.press(page, "Hand in")
    expect(page.locator("#work")).to_be_visible(timeout=PATIENCE_MS)
    page.wait_for_timeout(4500)  # one question after a second, the next two seconds after its failure
    assert len(asked) >= 2, "it asks again"
    expect(page.locator("#work")).to_be_visible()
    page.unroute_all()
    expect(page.locator("#work")).to_have_count(0, timeout=2 * PATIENCE_MS)
    expect(page.locator("#viewer")).to_be_visible()
    context.close()
