"""Acts in the browser: sent twice they happen once, a stale correction loses nothing, and letters that mean something to a browser stay letters."""

import json
import re
from urllib.parse import quote
from urllib.request import Request, urlopen

import pytest
from playwright.sync_api import Page, expect
from tests.loop.still_life import DENSITIES, LENS, LOG_EXPOSURES, PAPER
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.everywhere import FILLED
from tests.pages.served import Served

NASTY = "<script>alert(1)</script>\"'&{{ 7 }}"
FORMS = ("paper", "lot", "camera", "lens", "light", "meter", "holder", "load", "process", "judge", "reciprocity-test")


def do(server: Served, deed: str, **given: object) -> dict[str, object]:
    """An act over HTTP, to have something in the book."""
    request = Request(f"{server.address}/api/do/{deed}", json.dumps(given).encode(), {"Content-Type": "application/json"})
    with urlopen(request) as answer:
        done: dict[str, object] = json.load(answer)
    return done


def sheets(server: Served) -> list[dict[str, object]]:
    """Every sheet of the book."""
    with urlopen(f"{server.address}/api/sheets") as answer:
        found: list[dict[str, object]] = json.load(answer)
    return found


@pytest.fixture(scope="module")
def filled(scratch: Served) -> Served:
    """A paper and a lens."""
    do(scratch, "paper", name=PAPER)
    do(scratch, "lens", name=LENS, focal_mm=210)
    return scratch


def test_sent_twice_it_is_one_sheet(opened: Opener, filled: Served) -> None:
    page = opened(filled, f"/camera/record?paper={PAPER.replace(' ', '+')}&reading_ev=10&aperture_f=f/22&focal_mm=210")
    loop.fill(page, {"Subject": "tarred rope"})
    before = len(sheets(filled))
    loop.press(page, "Record a sheet")
    said = loop.recorded(page)
    page.go_back()
    expect(loop.field(page, "Subject")).to_have_value("tarred rope")
    loop.press(page, "Record a sheet")
    assert loop.recorded(page) == said
    assert len(sheets(filled)) == before + 1

    page.go_back()
    loop.fill(page, {"Subject": "another rope"})
    loop.press(page, "Record a sheet")
    expect(page.get_by_text("What you sent from this page before is recorded.")).to_be_visible()
    expect(loop.field(page, "Subject")).to_have_value("another rope")
    assert len(sheets(filled)) == before + 1, "not without being asked"
    loop.press(page, "Record a sheet")
    assert loop.recorded(page) != said
    assert len(sheets(filled)) == before + 2


@pytest.mark.parametrize(
    "form", ["/camera/record", "/book/do/process", "/book/do/lens", "/findings/step-sheet?how=typed", f"/book/correct/paper/{quote(PAPER)}"]
)
def test_a_reload_keeps_what_was_typed(opened: Opener, filled: Served, form: str) -> None:
    page = opened(filled, form)
    page.get_by_label("Remarks", exact=True).last.fill("rain on the shed roof")
    page.wait_for_timeout(2 * loop.TYPING_RESTS_MS)
    page.reload()
    expect(page.get_by_label("Remarks", exact=True).last).to_have_value("rain on the shed roof")


def test_a_plate_pressed_twice_in_haste_is_one_sheet(opened: Opener, filled: Served) -> None:
    page = opened(filled, f"/camera/record?paper={PAPER.replace(' ', '+')}")
    before = len(sheets(filled))
    loop.fill(page, {"Subject": "caulking iron"})
    page.get_by_role("button", name="Record a sheet").dblclick()
    assert "is in the book" in loop.recorded(page)
    assert len(sheets(filled)) == before + 1


def test_two_tabs_that_correct_the_same_thing(opened: Opener, filled: Served) -> None:
    path = f"/book/correct/lens/{LENS.replace(' ', '%20')}"
    mine, theirs = opened(filled, path), opened(filled, path)
    loop.fill(theirs, {"Focal length": "215"})
    loop.press(theirs, "Correct it")
    assert "215" in loop.recorded(theirs)
    loop.fill(mine, {"Focal length": "212", "Remarks": "measured on the bench"})
    loop.press(mine, "Correct it")
    beside = mine.locator("#p-focal_mm .problem")
    expect(beside).to_contain_text("215")
    expect(loop.field(mine, "Focal length")).to_have_value("212")
    expect(loop.field(mine, "Remarks")).to_have_value("measured on the bench")
    loop.press(mine, "Correct it")
    assert "212" in loop.recorded(mine)
    history = mine.get_by_role("main").inner_text()
    assert all(value in history for value in ("210", "215", "212")), "every value that stood there is kept"


def test_a_correction_of_another_field_goes_through(opened: Opener, filled: Served) -> None:
    do(filled, "camera", name="4x5 view camera")
    path = "/book/correct/camera/4x5%20view%20camera"
    mine, theirs = opened(filled, path), opened(filled, path)
    loop.fill(theirs, {"Turned": "mirror or prism"})
    loop.press(theirs, "Correct it")
    loop.fill(mine, {"Remarks": "new bellows"})
    loop.press(mine, "Correct it")
    assert "new bellows" in loop.recorded(mine)
    said = mine.get_by_role("main").inner_text()
    assert "mirror or prism" in said


def test_letters_of_the_browser_stay_letters_in_every_field(opened: Opener, filled: Served) -> None:
    page = opened(filled, "/")
    for form in FORMS:
        page.goto(f"{filled.address}/book/do/{form}")
        fields = page.locator("main form input:not([type=hidden]):not([type=radio]):visible, main form textarea:visible")
        names = [one.get_attribute("name") for one in fields.all()]
        for one in fields.all():
            one.fill(NASTY)
        with page.expect_navigation():
            loop.press(page, "Record it")
        if form not in {"paper", "camera", "light"}:  # these take it: it is a name
            kept = {name: page.locator(f"main [name='{name}']").input_value() for name in names}
            assert set(kept.values()) == {NASTY}, f"{form}: what was typed stays, {kept}"
    for path in (f"/camera?{_everywhere(page, filled)}", "/camera/record"):
        page.goto(filled.address + path)


def _everywhere(page: Page, server: Served) -> str:
    """Every field of the Camera filled with it, as an address."""
    page.goto(f"{server.address}/camera")
    names: list[str] = page.evaluate("[...document.querySelectorAll('main [name]')].map(one => one.name)")
    page.goto("about:blank")
    text: str = page.evaluate("([names, text]) => new URLSearchParams(names.map(name => [name, text])).toString()", [sorted(set(names)), NASTY])
    return text


def test_letters_of_the_browser_stay_letters_on_every_page(opened: Opener, filled: Served) -> None:
    do(filled, "lens", name=f"lens {NASTY}", focal_mm=210, remarks=NASTY)
    do(filled, "paper", name=f"paper {NASTY}", remarks=NASTY)
    do(filled, "lot", name=f"box {NASTY}", paper=f"paper {NASTY}")
    do(filled, "holder", name=f"holder {NASTY}", size=NASTY)
    do(filled, "load", holder=f"holder {NASTY}", side="1", lot=f"box {NASTY}")
    done = do(
        filled,
        "expose",
        holder=f"holder {NASTY}",
        side="1",
        lens=f"lens {NASTY}",
        reading_ev=10,
        aperture_f=22,
        subject=NASTY,
        told_apart=NASTY,
        remarks=NASTY,
    )
    number = str(done["name"])
    do(filled, "process", sheet=number, steps=[{"step": "first development", "bath": NASTY, "light_given": NASTY}], remarks=NASTY)
    exposures, densities = " ".join(map(str, LOG_EXPOSURES)), " ".join(map(str, DENSITIES))
    do(filled, "step-sheet", sheet=number, exposure_log10=exposures, metered=True, densities=densities, remarks=NASTY)
    do(filled, "learn", sheet=number)
    do(filled, "judge", sheet=number, looks="right", remarks=NASTY)
    page = opened(filled, "/")
    told = 0
    own = {"mine": f"/book/{number}", "things": f"/findings?sheet={number}", "camera": "/camera"}
    for path in [*own.values(), *FILLED.values()]:
        page.goto(filled.address + path)
        assert page.locator("script:not([src])").count() == 0, path
        told += "<script>alert(1)</script>" in page.get_by_role("main").inner_text()
    assert told >= len(own), "it can be read as what it is"
    page.goto(f"{filled.address}/book/{number}")
    link = page.get_by_role("link", name=re.compile("^Field note")).first.get_attribute("href")
    assert page.request.get(f"{filled.address}{link}").headers["content-type"] == "application/pdf"
