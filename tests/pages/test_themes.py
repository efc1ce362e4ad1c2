"""The light in the room: chosen on any page, kept on the next, and nothing typed is lost by it."""

from playwright.sync_api import expect
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.pixels import pixels
from tests.pages.served import Served

FOG_TEST = "A screen is no safelight until a fog test"


def test_the_light_is_chosen_and_stays(opened: Opener, empty: Served) -> None:
    page = opened(empty, "/camera?by=ev&focal_mm=210")
    loop.fill(page, {"Reading": "10", "Aperture": "f/22"})
    loop.answered(page, script=True)
    answer = page.locator("#time_s").inner_text()
    expect(page.get_by_text(FOG_TEST)).to_have_count(0)
    page.get_by_role("button", name="Safelight").click()
    expect(page.locator("html")).to_have_attribute("data-theme", "safelight")
    expect(page.get_by_text(FOG_TEST)).to_be_visible()
    expect(page.get_by_role("button", name="Safelight")).to_have_attribute("aria-pressed", "true")
    assert pixels(page.screenshot(full_page=True))[..., 1:].max() == 0, "red and black, the caution too"
    expect(loop.field(page, "Reading")).to_have_value("10")
    expect(page.locator("#time_s")).to_have_text(answer)
    loop.place(page, "Book")
    expect(page.locator("html")).to_have_attribute("data-theme", "safelight")
