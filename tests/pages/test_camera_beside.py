"""Beside the exposure, in a browser: a section opens by mouse or key, answers while one types, and a reload finds everything."""

from playwright.sync_api import Page, expect
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.served import Served
from tests.pages.test_by_keyboard import tab_to

SCENE = "/camera?reading_ev=10&focal_mm=210&extension_mm=315&aperture_f=f/22&paper_ei=1.5&light_class=direct+sun"
INSIDE = "#b-strip .field"


def opens(page: Page, words: str) -> None:
    """Press the line of a section."""
    page.get_by_role("checkbox", name=words).locator("xpath=..").click()
    loop.answered(page, script=True)


def test_a_section_opens_answers_and_is_there_after_a_reload(opened: Opener, empty: Served) -> None:
    page = opened(empty, SCENE)
    expect(page.locator(INSIDE)).to_have_count(0)
    before = page.locator("#time_s").inner_text()
    opens(page, "Test strip")
    expect(page.locator(INSIDE)).to_have_count(3)
    expect(page.locator(".problem:visible")).to_have_count(0)
    loop.fill(page, {"Shortest strip": "8", "Longest strip": "64"})
    loop.answered(page, script=True)
    expect(page.locator("#strip-step_stops")).to_have_text("0.75 stops")
    expect(page.locator("#time_s")).to_have_text(before)
    loop.fill(page, {"Reading": "9"})
    loop.answered(page, script=True)
    page.reload()
    expect(loop.field(page, "Longest strip")).to_have_value("64")
    expect(page.locator("#strip-step_stops")).to_have_text("0.75 stops")
    expect(loop.field(page, "Reading")).to_have_value("9")
    opens(page, "Test strip")
    expect(page.locator("#b-strip")).to_be_hidden()
    page.reload()
    expect(page.locator("#b-strip")).to_be_hidden()
    opens(page, "Test strip")
    expect(loop.field(page, "Longest strip")).to_have_value("64")


def test_a_section_by_keyboard_alone(opened: Opener, empty: Served) -> None:
    page = opened(empty, SCENE)
    line = page.get_by_role("checkbox", name="Changing light")
    line.focus()
    page.keyboard.press("Shift+Tab")
    tab_to(page, line)
    page.keyboard.press("Space")
    loop.answered(page, script=True)
    expect(line).to_be_focused()
    page.keyboard.press("Tab")
    expect(loop.field(page, "Read again")).to_be_focused()
    page.keyboard.type("1:00 9")
    loop.answered(page, script=True)
    expect(page.locator("#changing-end_s")).not_to_be_empty()
    expect(loop.field(page, "Read again")).to_be_focused()


def test_without_script_a_section_opens_with_the_answer(opened: Opener, empty: Served) -> None:
    page = opened(empty, SCENE, java_script_enabled=False)
    page.get_by_role("checkbox", name="Test strip").check()
    loop.press(page, "Answer")
    loop.fill(page, {"Shortest strip": "8", "Longest strip": "64"})
    loop.press(page, "Answer")
    expect(page.locator("#strip-step_stops")).to_have_text("0.75 stops")
