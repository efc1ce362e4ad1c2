"""
From an empty book in the browser: paper cut and loaded, a bottle with an unclear label, a bath mixed, labels, a test, and waste that is refused.

Only by typing and clicking, as a person does; every figure is looked for on the page. The same by the command line stands in tests/cli.
"""

import json
import re
from urllib.request import urlopen

from playwright.sync_api import Locator, Page, expect
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.served import Served

PAPER, BOX, PIECES = "RC paper, grade 2", "box C", "box C, cut to 4x5 in"
PEROXIDE, ACID = "peroxide, the blue can", "citric acid"


def way(page: Page, words: str) -> None:
    """One of the large ways on of a page."""
    page.get_by_role("main").get_by_role("link", name=re.compile(f"^{re.escape(words)}")).first.click()


def said(one: Page | Locator) -> str:
    """What people read there, in one line."""
    found = one.get_by_role("main") if isinstance(one, Page) else one
    return " ".join(found.inner_text().split())


def known(server: Served, path: str) -> dict[str, object]:
    """What a program reads of it."""
    with urlopen(f"{server.address}/api/{path}") as answer:
        found: dict[str, object] = json.load(answer)
    return found


def enter(page: Page, server: Served, deed: str, **fields: str) -> str:
    """Fill in the form of a deed by its names, and record it."""
    page.goto(f"{server.address}/book/do/{deed}")
    for name, text in fields.items():
        one = page.locator(f"main [name='{name}']")
        if one.evaluate("one => one.tagName") == "SELECT":
            one.select_option(text)
        else:
            one.fill(text)
    loop.press(page, "Record it")
    return loop.recorded(page)


def test_two_sheets_become_eight_and_six_are_loaded(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/")
    loop.follow(page, "Enter a paper")
    loop.fill(page, {"Name": PAPER, "Base": "RC", "Contrast": "graded", "Grade": "2"})
    loop.press(page, "Record it")
    loop.place(page, "Shelf")
    loop.follow(page, "Enter a box")
    loop.fill(page, {"Name": BOX, "Paper": PAPER, "Size": "8x10 in", "Sheets left": "10"})
    loop.press(page, "Record it")
    loop.place(page, "Shelf")
    loop.follow(page, "Cut paper")
    way(page, BOX)
    loop.fill(page, {"Holder's size": "4x5 in", "Sheets to cut": "2"})
    loop.answered(page, script=True)
    expect(page.locator("#pieces")).to_have_text("8")
    loop.press(page, "They are cut: record it")
    assert "8" in loop.recorded(page)
    for holder in ("holder 1", "holder 2", "holder 3"):
        enter(page, scratch, "holder", name=holder, sides="2")
        enter(page, scratch, "load", holder=holder, side="both", lot=PIECES, corner="next free")
    loop.place(page, "Shelf")
    shelf = page.get_by_role("main")
    expect(shelf.get_by_role("link", name=f"{BOX} 8 sheets left", exact=True)).to_be_visible()
    expect(shelf.get_by_role("link", name=f"{PIECES} 2 sheets left", exact=True)).to_be_visible()
    page.goto(f"{scratch.address}/book/holders")
    expect(page.get_by_text("Loaded from box C, cut to 4x5 in")).to_have_count(6)


def test_the_unclear_bottle_is_asked_about_and_mixed(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/shelf")
    loop.follow(page, "Enter a bottle")
    loop.fill(page, {"Name": PEROXIDE, "Substance": "hydrogen peroxide", "Strength in": "%, label unclear", "Strength": "35", "Left": "1 L"})
    loop.fill(page, {"Vented cap": "yes"})
    loop.press(page, "Record it")
    assert "35 %, label unclear" in loop.recorded(page)
    enter(page, scratch, "stock", name=ACID, substance="citric acid monohydrate", strength_unit="undiluted", left_g="640")
    loop.place(page, "Shelf")
    way(page, "Dilute a stock")
    way(page, PEROXIDE)
    loop.fill(page, {"Wanted strength": "9", "Volume": "1 L", "Temperature": "20"})
    loop.answered(page, script=True)
    asked = page.locator("#answer")
    expect(asked).to_contain_text("by weight (% w/w) or by volume (% w/v)?")
    told = said(asked)
    assert told.index("Goggles") < told.index("265 g"), "goggles before amounts"
    assert "(234 mL) and 768 mL water" in told
    assert "(265 mL)" in told
    way(page, "By weight")
    answer = page.locator("#answer")
    expect(answer.get_by_role("heading", name="Step by step")).to_be_visible()
    told = said(answer)
    order = ["Before you open the bottle", "Goggles", "Water first", "768 mL", "265 g", "234 mL"]
    assert [told.index(word) for word in order] == sorted(told.index(word) for word in order), told
    exact = page.locator("#measure_ml").get_attribute("value") or "{}"
    assert abs(json.loads(exact)["value"] - 234.2) < 0.1, "the printed table of the dilution"
    loop.fill(page, {"Name of the bath": "peroxide bath"})
    loop.press(page, "It is mixed: record it")
    expect(page.get_by_text("Needed. What it is for.")).to_be_in_viewport()
    loop.fill(page, {"For": "bleach"})
    loop.press(page, "It is mixed: record it")
    assert "Bath “peroxide bath”, 1000 mL, is on the shelf" in loop.recorded(page)
    expect(page.get_by_role("heading", name="What can hurt")).to_be_visible()


def test_the_acid_bath_is_mixed_from_its_recipe(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/shelf")
    way(page, "Mix a bath")
    loop.fill(page, {"Recipe": "acid bath", "Volume": "1 L"})
    loop.answered(page, script=True)
    expect(page.locator("#answer .amount").nth(1)).to_contain_text("55.7")  # 5 % of 1018 g, times 210.138/192.123 for the crystal water
    told = said(page.locator("#answer"))
    assert told.index("Goggles") < told.index("Step by step")
    loop.fill(page, {"Name of the bath": "acid bath 1"})
    loop.press(page, "It is mixed: record it")
    assert "acid bath 1" in loop.recorded(page)
    acid = known(scratch, "stocks/citric%20acid")
    assert float(str(acid["left_g"])) < 640, "it is taken off what is left"


def test_labels_are_printed(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/shelf")
    loop.follow(page, "Labels to print")
    expect(page.get_by_role("button", name="Label printer")).to_be_visible()
    told = page.request.get(f"{scratch.address}/shelf/labels.pdf?what=everything&size=62x29")
    assert told.headers["content-type"] == "application/pdf"


def test_the_bath_is_tested(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/shelf/baths/peroxide%20bath")
    loop.follow(page, "Test it")
    expect(page.get_by_role("heading", name="Bleach-out test")).to_be_visible()
    told = said(page)
    assert told.index("Before you begin") < told.index("You need") < told.index("What you read")
    way(page, "Titration with permanganate")
    loop.fill(
        page,
        {"Sample": "1", "Made up to": "100", "Of that, tested": "10", "Reagent used": "5.51", "Blank": "0.05", "Strength of the reagent": "0.02"},
    )
    loop.fill(page, {"Measured with": "class B glass"})
    loop.answered(page, script=True)
    expect(page.locator("#strength_percent_ww")).to_contain_text("9")
    loop.press(page, "Record the test")
    loop.recorded(page)
    expect(page.get_by_role("heading", name="Tested")).to_be_visible()


def test_waste_is_refused_with_the_gas_named_and_then_taken(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/shelf")
    enter(page, scratch, "waste-bottle", name="waste: fixer", vented="yes", begun_ml="2 L", begun_with="sodium thiosulphate; 10; % w/w")
    enter(page, scratch, "waste-bottle", name="waste: bleach", capacity_ml="5 L", vented="yes")
    page.goto(f"{scratch.address}/shelf/baths/peroxide%20bath")
    loop.follow(page, "Discard")
    refused = page.locator(".hazard").filter(has_text="Not into waste: fixer")
    expect(refused).to_contain_text("sulphur dioxide")
    expect(page.get_by_role("radio")).to_have_count(1)
    told = said(page)
    assert told.index("Before you pour") < told.index("It is poured away")
    page.get_by_role("radio").check()
    loop.fill(page, {"Reason": "end of the day"})
    loop.press(page, "It is poured away: record it")
    assert "discarded into “waste: bleach”" in loop.recorded(page)
    loop.place(page, "Shelf")
    expect(page.get_by_role("heading", name="peroxide bath")).to_have_count(0)


def test_the_shelf_by_keyboard_and_without_script(opened: Opener, scratch: Served) -> None:
    page = opened(scratch, "/shelf", java_script_enabled=False)
    enter(page, scratch, "stock", name="peroxide, unlabelled", substance="hydrogen peroxide", strength_unit="%, label unclear", strength="35")
    loop.place(page, "Shelf")
    link = page.get_by_role("link", name=re.compile("^Dilute a stock"))
    link.focus()
    page.keyboard.press("Enter")
    way(page, "peroxide, unlabelled")
    loop.fill(page, {"Wanted strength": "9"})
    loop.press(page, "Show the steps")
    expect(page.locator("#answer")).to_contain_text("(234 mL)")
    way(page, "The label does not say")
    expect(page.locator("#answer")).to_contain_text("Step by step")
    page.reload()
    expect(loop.field(page, "Wanted strength")).to_have_value("9")
