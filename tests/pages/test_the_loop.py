"""The loop in a real browser, on an empty book: plan, expose, process, measure, learn, plan better, and all of it there after a restart."""

from pathlib import Path

import pytest
from playwright.sync_api import expect
from tests.loop.still_life import DENSITIES, LENS, PAPER, SUBJECT
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.served import Served

STORY = (
    SUBJECT,
    "Mirror image",
    "holder 1, side 1",
    "1:37 at f/22",
    "first development 120 s (2:00) 20 °C",
    "12 patches, densities 0.09 to 1.88",
    "EI 6.8",
)


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_the_loop_once_by_typing_and_clicking(opened: Opener, tmp_path: Path, *, script: bool) -> None:
    with Served(tmp_path) as server:
        page = opened(server, "/", java_script_enabled=script)
        loop.enter_gear(page)
        loop.load_a_side(page)
        loop.plan_the_still_life(page, script=script)
        loop.check_the_still_life(page)
        number = loop.record_the_sheet(page)
        loop.record_the_processing(page)
        loop.enter_densities(page)
        loop.check_what_was_learnt(page)

        loop.follow(page, "Take it to the camera")
        loop.fill(page, {"Reading": "10", "Bellows extension": "315", "Aperture": "f/22"})
        loop.answered(page, script=script)
        expect(page.locator("#inhand")).to_contain_text("1 step sheet")
        expect(page.locator("#time_s")).not_to_have_text("1:37")
        learnt = page.locator("#time_s").get_attribute("value")

        address = page.url
        assert server.stop() == 0, "Ctrl-C is a clean end"
        server.start()
        page.goto(address)
        assert page.locator("#time_s").get_attribute("value") == learnt
        loop.place(page, "Book")
        page.get_by_role("link", name=number).first.click()
        story = " ".join(page.get_by_role("main").inner_text().split())
        for told in (*STORY, PAPER, LENS):
            assert told.lower() in story.lower(), f"{told} is not in: {story}"
        loop.follow(page, "See its curve")
        page.locator("summary").filter(has_text="Patches").click()
        assert page.get_by_role("region", name="Patches").locator("td:nth-child(3)").all_inner_texts() == [f"{one:.2f}" for one in DENSITIES]
