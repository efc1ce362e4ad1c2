"""The Camera and the record of a sheet by the keyboard alone."""

import re

from playwright.sync_api import Locator, Page, expect
from tests.loop.still_life import PAPER
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.served import Served

MOST_TABS = 60


def tab_to(page: Page, wanted: Locator) -> None:
    """Tab until it has the focus, and see where that is."""
    expect(wanted).to_be_visible()
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if wanted.evaluate("one => one === document.activeElement"):
            assert wanted.evaluate(OUTLINED), "the focus can be seen"
            return
    raise AssertionError(f"{MOST_TABS} tabs do not reach {wanted}")


OUTLINED = """one => {
  for (let at = one, up = 0; at && up < 3; at = at.parentElement, up++) {
    const style = getComputedStyle(at)
    if (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2) return true
  }
  return false
}"""


def test_plan_and_record_without_a_mouse(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/book/do/paper")
    tab_to(page, loop.field(page, "Name"))
    page.keyboard.type(PAPER)
    page.keyboard.press("Enter")
    assert PAPER in loop.recorded(page)

    page.goto(f"{scratch.address}/camera?by=ev")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()
    page.keyboard.press("Enter")
    tab_to(page, page.locator("summary").filter(has_text="Change"))
    page.keyboard.press("Enter")
    tab_to(page, loop.field(page, "Paper"))
    page.keyboard.type("RC")
    expect(loop.field(page, "Paper")).to_have_value(PAPER)
    way = page.locator("input[name=by][value=ev]")
    tab_to(page, way)
    page.keyboard.press("ArrowRight")
    expect(page.locator("input[name=by][value=lx]")).to_be_checked()
    page.keyboard.press("ArrowLeft")
    expect(way).to_be_checked()
    for label, text in (("Reading", "10"), ("Focal length", "210"), ("Bellows extension", "315"), ("Aperture", "f/22"), ("Paper's EI", "1.5")):
        tab_to(page, loop.field(page, label))
        page.keyboard.type(text)
    tab_to(page, page.locator("summary").filter(has_text="Meter"))
    loop.answered(page, script=True)
    expect(page.locator("#time_s")).to_have_text("1:37")
    page.keyboard.press("Shift+Tab")  # back up the page, to the plates above the drawers
    page.keyboard.press("Shift+Tab")
    plate = page.locator("#acts").get_by_role("link", name="Record a sheet", exact=True)
    for _ in range(MOST_TABS):
        if plate.evaluate("one => one === document.activeElement"):
            break
        page.keyboard.press("Shift+Tab")
    expect(plate).to_be_focused()
    page.keyboard.press("Enter")

    tab_to(page, loop.field(page, "Subject"))
    page.keyboard.type("oakum under the north window")
    page.keyboard.press("Enter")
    assert re.search(r"Sheet \d\d-001 is in the book, 97 s", loop.recorded(page))


def test_no_place_holds_the_focus_fast(opened: Opener, boatyard: Served) -> None:
    page = opened(boatyard, "/findings")
    seen = []
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        seen.append(page.evaluate("document.activeElement.tagName + (document.activeElement.textContent || '').slice(0, 40)"))
        if "Safelight" in seen[-1]:
            return
    raise AssertionError(f"the foot is not reached: {seen}")
