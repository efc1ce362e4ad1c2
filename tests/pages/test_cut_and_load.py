"""Task 1 in a real browser, from an empty book: two large sheets cut into eight, three holders loaded on both sides, their labels printed."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.pages.conftest import Opener
from tests.pages.loop import answered, fill, follow, place, press, recorded
from tests.pages.served import Served

PAPER, BOX = "RC paper, grade 2", "box L"
PIECES = f"{BOX}, cut to 4x5 in"
CODES = ("upper left", "upper right", "both upper corners", "upper left and lower right", "both left corners", "upper right and lower left")


def enter_paper_and_box(page: Page) -> None:
    place(page, "Shelf")
    follow(page, "All papers")
    page.get_by_role("main").get_by_role("link", name="Enter a paper", exact=True).first.click()
    fill(page, {"Name": PAPER, "Base": "RC"})
    press(page, "Record it")
    assert f"Paper “{PAPER}” is in the book." in recorded(page)
    place(page, "Shelf")
    follow(page, "Enter a box")
    fill(page, {"Name": BOX, "Paper": PAPER, "Size": "8x10 in", "Sheets left": "10"})
    press(page, "Record it")
    assert "is in the book" in recorded(page)


def cut_two_sheets(page: Page, *, script: bool) -> None:
    follow(page, "Cut its sheets")
    expect(page.get_by_label("Sheet size", exact=True)).to_have_value("8x10 in")
    fill(page, {"Holder's size": "4x5 in", "Sheets to cut": "2"})
    if script:
        answered(page, script=True)
    else:
        press(page, "Show the cuts")
    matter = page.get_by_role("main").inner_text()
    assert matter.index("a blade in dim light") < matter.index("125.5")
    expect(page.get_by_role("img", name=re.compile("gives 4 pieces of 100.1 by 125.5"))).to_be_visible()
    fill(page, {"Marked": "pencil stroke on the back"})
    press(page, "They are cut: record it")
    assert "8 pieces of 100.1 x 125.5" in recorded(page)
    assert f"8 left in “{BOX}”" in recorded(page)


def load_holders(page: Page, server: Served) -> None:
    for number in (1, 2, 3):
        page.goto(f"{server.address}/book/do/holder")
        fill(page, {"Name": f"holder {number}", "Size": "4x5 in"})
        press(page, "Record it")
        page.goto(f"{server.address}/book/do/load")
        fill(page, {"Holder": f"holder {number}", "Side": "both", "Box": PIECES, "Clipped corner": "next free"})
        press(page, "Record it")
        assert "both sides: loaded from" in recorded(page)
    assert f"2 left in “{PIECES}”" in recorded(page)


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_two_sheets_cut_and_three_holders_loaded(opened: Opener, tmp_path: Path, *, script: bool) -> None:
    with Served(tmp_path) as server:
        page = opened(server, "/", java_script_enabled=script)
        enter_paper_and_box(page)
        cut_two_sheets(page, script=script)
        load_holders(page, server)

        place(page, "Book")
        page.get_by_role("main").get_by_role("link", name=re.compile("^Holders ")).click()
        for code in CODES:
            expect(page.get_by_text(f"clipped {code}").first).to_be_visible()
        follow(page, "Labels with their corners")
        expect(page.get_by_role("main")).to_contain_text("6 labels: holder 1, side 1")
        for code in CODES:
            expect(page.get_by_role("main")).to_contain_text(f"clip {code}")
        button = page.get_by_role("button", name="24 on A4", exact=True)
        href = str(button.get_attribute("formaction"))
        printed = page.request.get(f"{server.address}{href}?what=holder+sides&size=a4")
        assert printed.ok
        assert printed.body().startswith(b"%PDF")
        place(page, "Shelf")
        expect(page.get_by_role("main")).to_contain_text(re.compile(rf"{BOX}\s+8 sheets left"))
        expect(page.get_by_role("main")).to_contain_text(re.compile(rf"{PIECES}\s+2 sheets left"))
