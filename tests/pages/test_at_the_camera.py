"""Three tasks at the camera, by typing and clicking: planned, exposed, recorded, and looked at in the book."""

import json
import math
import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from tests.loop.still_life import LENS, PAPER
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.desk import Desk
from tests.pages.served import Served

OPENS_WITHIN_MS = 15_000
KEY_RESTS_MS = 1600  # no key of the count is taken so soon after a page came


@pytest.fixture(scope="module")
def shed(scratch: Served) -> Served:
    """A book with a paper in a loaded holder and a lens, as on the morning of a portrait."""
    desk = Desk(scratch.address)
    desk.do("paper", name=PAPER, base="RC", grade="2", contrast="graded", sensitivity="blue")
    desk.do("lot", name="box A", paper=PAPER, size="4x5 in", sheets_left=25)
    desk.do("lens", name=LENS, focal_mm=210, pupil_factor=1)
    for holder in ("holder 1", "holder 2"):
        desk.do("holder", name=holder, sides=2)
        for side in ("1", "2"):
            desk.do("load", holder=holder, side=side, lot="box A")
    return scratch


def in_hand(page: Page, side: str) -> None:
    """Paper, lens and the holder side that is ready."""
    page.locator("summary").filter(has_text="Change").click()
    loop.fill(page, {"Paper": PAPER, "Lens": LENS, "Holder side": side})
    loop.answered(page, script=True)
    expect(page.locator("#inhand")).to_contain_text("holder")


def beside(page: Page, words: str) -> None:
    """Open a question beside the exposure."""
    page.get_by_role("checkbox", name=words).locator("xpath=..").click()
    loop.answered(page, script=True)


def drawer(page: Page, words: str, fields: dict[str, str]) -> None:
    """Say something that is seldom wanted."""
    page.locator("details:visible > summary").filter(has_text=re.compile(f"^\\s*{words}")).click()
    loop.fill(page, fields)
    loop.answered(page, script=True)


def exact(page: Page, name: str) -> dict[str, Any]:
    """The exact figure behind what the page shows."""
    found: dict[str, Any] = json.loads(page.locator(f"data[id='{name}']").get_attribute("value") or "{}")
    return found


def says(page: Page, words: str) -> None:
    """What the count says."""
    expect(page.locator("[data-part=says]")).to_have_text(words, timeout=OPENS_WITHIN_MS)


def start(page: Page, subject: str) -> None:
    """From the Camera to the open shutter."""
    page.locator("#acts").get_by_role("link", name=re.compile("^Expose")).first.click()
    expect(loop.field(page, "Side")).not_to_have_value("")
    loop.fill(page, {"Subject": subject, "Count in": "1"})
    loop.press(page, "Start the count")
    says(page, "Open")


def see_the_sheet(page: Page) -> str:
    """The story of the sheet that was just recorded."""
    page.get_by_role("link", name="See the sheet").click()
    expect(page.get_by_role("heading", name=re.compile(r"^\d\d-\d{3}"))).to_be_visible()
    return " ".join(page.get_by_role("main").inner_text().split())


def test_a_portrait_at_the_open_shed_door(opened: Opener, shed: Served) -> None:
    """Standing for so long nobody is sharp; seated against a head rest and a stop wider it holds, and that is exposed."""
    page = opened(shed, "/camera?by=ev")
    in_hand(page, "holder 1/1")
    loop.fill(page, {"Reading": "10", "Bellows extension": "231", "Aperture": "f/11", "Paper's EI": "3"})
    loop.answered(page, script=True)
    drawer(page, "Light", {"Kind of light": "open shade"})
    drawer(page, "Tone", {"The reading is of": "skin"})
    expect(page.locator("#ledger")).to_contain_text("Open shade")
    expect(page.locator("#ledger")).to_contain_text("What would narrow it")
    beside(page, "The sitter")
    loop.fill(page, {"Posture": "standing", "Sharp up to": "0.5"})
    loop.answered(page, script=True)
    expect(page.locator("#sitter-verdict")).to_have_text("not sharp")
    missing = exact(page, "sitter-missing_stops")["value"]
    longest_s, time_s = exact(page, "sitter-longest_s")["value"], exact(page, "time_s")["value"]
    assert longest_s == pytest.approx(0.98, abs=0.05), "a tenth of life size, half a millimetre, standing"
    assert missing == pytest.approx(math.log2(time_s / longest_s), abs=0.4), "reciprocity takes a little of it back"
    expect(page.locator("#a-sitter li").first).to_be_visible()
    loop.fill(page, {"Posture": "head rest", "Aperture": "f/8"})
    loop.answered(page, script=True)
    expect(page.locator("#sitter-verdict")).to_contain_text("sharp")
    expect(page.locator("#sitter-verdict")).not_to_have_text("not sharp")
    beside(page, "Sharpness")
    loop.fill(page, {"Nearest that must be sharp": "2.25 m", "Farthest that must be sharp": "2.4 m"})
    loop.answered(page, script=True)
    expect(page.locator("#sharpness-best_f")).to_be_visible()
    meant = page.locator("#time_s").inner_text()
    page.reload()
    expect(page.locator("#time_s")).to_have_text(meant)
    expect(loop.field(page, "Nearest that must be sharp")).to_have_value("2.25 m")

    start(page, "the sailmaker at the open shed door")
    says(page, "Close now")
    page.wait_for_timeout(KEY_RESTS_MS)
    page.keyboard.press("Space")
    story = see_the_sheet(page)
    assert "the sailmaker at the open shed door" in story.lower()
    assert "holder 1, side 1" in story
    assert "f/8" in story


def test_a_still_life_in_failing_window_light(opened: Opener, shed: Served) -> None:
    """Half life size; the range of the scene is read; the light falls while the shutter is open, and the end moves; closed early, as it was."""
    page = opened(shed, "/camera?by=ev")
    in_hand(page, "holder 1/2")
    loop.fill(page, {"Reading": "8", "Bellows extension": "315", "Aperture": "f/16", "Paper's EI": "3"})
    loop.answered(page, script=True)
    drawer(page, "Light", {"Kind of light": "north window"})
    lines, _ = loop.shown_ledger(page)
    assert next(line.stops for line in lines if "Extension" in line.what) == 1.17
    loop.check_limits_by_hand(page)
    beside(page, "Scene's range")
    loop.fill(page, {"Readings": "10.4, light with tone, oakum\n8, mid-grey, mallet\n5.2, dark with detail, under the bench"})
    loop.answered(page, script=True)
    expect(page.locator("#a-range")).to_contain_text("under the bench")
    long = exact(page, "range-too_long_stops")["value"]
    beside(page, "Less contrast")
    expect(loop.field(page, "Too long by")).to_have_attribute("placeholder", re.compile(f"^{long:.1f}"))
    expect(page.locator("#a-contrast")).to_contain_text("Fill light")
    beside(page, "Changing light")
    planned_s = exact(page, "time_s")["value"]
    loop.fill(page, {"Read again": "30 7.5"})
    loop.answered(page, script=True)
    assert exact(page, "changing-end_s")["value"] > planned_s, "darker, so longer"

    start(page, "caulking mallet, half life size")
    page.keyboard.press("ArrowDown")
    page.locator("#more").get_by_label("Reading", exact=True).fill("7.5")
    page.get_by_role("button", name="The meter reads so now").click()
    expect(page.locator("#more").get_by_text("close at")).to_be_visible()
    page.get_by_role("link", name="Back to the count").click()
    page.wait_for_timeout(KEY_RESTS_MS)
    page.keyboard.press("Space")
    expect(page.locator("#more")).to_contain_text("Stopped early", timeout=OPENS_WITHIN_MS)
    story = see_the_sheet(page)
    assert "caulking mallet, half life size" in story.lower()
    assert "holder 1, side 2" in story


def test_a_flash_portrait_on_slow_paper(opened: Opener, shed: Served) -> None:
    """EI 0.8: so many flashes, with what can hurt said before them; recorded with their number."""
    page = opened(shed, "/camera?by=ev")
    in_hand(page, "holder 2/1")
    page.get_by_text("flash", exact=True).first.click()
    loop.fill(page, {"Flash meter": "f/11", "Flash meter set to EI": "3", "Bellows extension": "231", "Aperture": "f/8", "Paper's EI": "0.8"})
    loop.answered(page, script=True)
    answer = page.locator("#answer")
    expect(answer).to_contain_text("flashes")
    first = answer.locator(".note").first.bounding_box()
    number = page.locator("#flashes").bounding_box()
    assert first is not None
    assert number is not None
    assert first["y"] < number["y"], "the caution comes before the act"
    assert exact(page, "flashes")["value"] == pytest.approx(2 ** (-1 + 1.907 + 0.275), rel=0.1)
    address = page.url
    page.reload()
    expect(loop.field(page, "Flash meter")).to_have_value("f/11")
    assert page.url == address
    page.locator("#acts").get_by_role("link", name="Record a sheet", exact=True).click()
    expect(loop.field(page, "Flashes given")).to_have_value(re.compile(r"^\d$"))
    loop.fill(page, {"Subject": "the foreman by flash"})
    loop.press(page, "Record a sheet")
    story = " ".join(page.get_by_role("main").inner_text().split())
    assert "the foreman by flash" in story.lower()
    assert re.search(r"\d flash", story)
    assert "holder 2, side 1" in story
