"""While one types: nothing typed is lost, nobody is told off in mid-word, and a reload finds everything where it was."""

from playwright.sync_api import Page, expect
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.served import Served

SCENE = "/camera?reading_ev=10&focal_mm=210&extension_mm=315&aperture_f=f/22&paper_ei=1.5"
PROBLEMS = ".problem:visible"


def type_into(page: Page, label: str, text: str) -> None:
    """Key by key, slower than the page waits: every key brings an answer."""
    loop.field(page, label).click()
    page.keyboard.type(text, delay=loop.TYPING_RESTS_MS)
    loop.answered(page, script=True)


def test_focus_and_text_stay_while_answers_come(opened: Opener, empty: Served) -> None:
    page = opened(empty, "/camera?by=ev&focal_mm=210")
    page.evaluate("window.unmoved = document.getElementById('f-reading_ev')")
    for label, text in (("Reading", "10.3"), ("Bellows extension", "315"), ("Aperture", "f/22")):
        type_into(page, label, text)
        expect(loop.field(page, label)).to_be_focused()
        expect(loop.field(page, label)).to_have_value(text)
        assert page.evaluate("document.activeElement.selectionStart") == len(text), "the caret stays behind the last letter"
    assert page.evaluate("window.unmoved === document.getElementById('f-reading_ev')"), "the field itself is never exchanged"
    expect(page.locator("#time_s")).not_to_be_empty()


def test_no_telling_off_in_mid_word(opened: Opener, empty: Served) -> None:
    page = opened(empty, SCENE)
    aperture = loop.field(page, "Aperture")
    aperture.fill("")
    type_into(page, "Aperture", "f/")
    expect(page.locator(PROBLEMS)).to_have_count(0)
    expect(page.locator("#time_s")).to_have_text("1:37")  # the last answer stays, pale
    page.keyboard.type("x")
    page.keyboard.press("Tab")
    loop.answered(page, script=True)
    expect(page.locator("#p-aperture_f .problem")).to_be_visible()
    expect(aperture).to_have_value("f/x")
    aperture.fill("f/16")
    loop.answered(page, script=True)
    expect(page.locator(PROBLEMS)).to_have_count(0)
    expect(page.locator("#time_s")).not_to_have_text("1:37")


def test_a_problem_stands_beside_its_field_and_belongs_to_it(opened: Opener, empty: Served) -> None:
    page = opened(empty, "/camera?reading_ev=much&aperture_f=f/22&focal_mm=210&extension_mm=315")
    reading = loop.field(page, "Reading")
    expect(reading).to_have_value("much")
    expect(reading).to_have_attribute("aria-invalid", "true")
    described = (reading.get_attribute("aria-describedby") or "").split()
    problem = page.locator("#p-reading_ev .problem")
    assert "p-reading_ev" in described
    expect(problem).to_contain_text("number")
    box, said = reading.bounding_box(), problem.bounding_box()
    assert box is not None
    assert said is not None
    assert 0 <= said["y"] - (box["y"] + box["height"]) < 30, "right below it"


def test_a_reload_keeps_what_was_typed_right_or_wrong(opened: Opener, empty: Served) -> None:
    page = opened(empty, "/camera?by=ev&focal_mm=210")
    typed = {"Reading": "10", "Bellows extension": "31 5 mm?", "Aperture": "f/22"}
    for label, text in typed.items():
        loop.field(page, label).fill(text)
    loop.answered(page, script=True)
    page.reload()
    for label, text in typed.items():
        expect(loop.field(page, label)).to_have_value(text)
    expect(page.locator(PROBLEMS)).to_have_count(1)


def test_all_faults_of_an_act_at_once_with_everything_kept(opened: Opener, empty: Served) -> None:
    page = opened(empty, "/book/do/lens")
    typed = {"Name": "long lens", "Focal length": "long", "Pupil magnification": "-3", "Remarks": "bought on a Tuesday\nin rain"}
    loop.fill(page, typed)
    loop.press(page, "Record it")
    expect(page.locator(PROBLEMS)).to_have_count(2)
    for label, text in typed.items():
        expect(loop.field(page, label)).to_have_value(text)


def test_the_ways_of_a_reading_keep_what_each_was_given(opened: Opener, empty: Served) -> None:
    page = opened(empty, SCENE)
    page.get_by_text("dial", exact=True).click()
    loop.fill(page, {"Time on the meter": "1/2", "Aperture on the meter": "22", "Meter set to EI": "100"})
    loop.answered(page, script=True)
    expect(page.locator("#time_s")).to_have_text("1:37")
    page.get_by_text("EV", exact=True).first.click()
    loop.answered(page, script=True)
    expect(loop.field(page, "Reading")).to_have_value("10")
