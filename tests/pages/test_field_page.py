"""The field page as a phone opens it: a file, no server, every request refused."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from math import log2
from pathlib import Path
from random import Random
from typing import Any, Final
from urllib.request import Request, urlopen

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, Route
from tests.pages.conftest import PATIENCE_MS, Complaints, Opener
from tests.pages.desk import LENS, PAPER, PATIENCE_S, Desk
from tests.pages.served import Served
from tests.pages.test_every_page import EVERY_RULE, NARROW, SHOTS, at_this_width, not_red
from tests.report.kits import kit

from silverwright.report.fieldpage import field_page
from silverwright.report.fieldtables import METERED_FROM, METERED_TO
from silverwright.report.kit import Kit, ask, metered

USES: Final = 2500  # of each of two kits
NEAR_STOPS: Final = 0.03
STEP_STOPS: Final = 1.0  # from half a second to a whole one
MARKS: Final = (5.6, 8, 9, 11, 16, 18, 22, 25, 32, 45, 64)
DIAL_TIMES: Final = {"1/60": 1 / 60, "1/8": 0.125, "0.3": 0.3, "2": 2.0, "15": 15.0}
FACTORS: Final = ("", "", "", "1.5", "2", "2,5", "8")
KITS: Final = {
    "learnt": kit(),
    "a film's law, nothing known": kit({"reciprocity_model": "film maker 2017", "incident_head": "flat", "timed_by": "shutter"}),
}


class Phone:
    """A browser that reaches nothing, and what it complained of."""

    def __init__(self, browser: Browser, folder: Path) -> None:
        self.browser, self.folder = browser, folder
        self.complaints = Complaints()
        self.asked: list[str] = []
        self.contexts: list[BrowserContext] = []

    def open(self, made: str, *, before: str = "", clock: bool = False, paused: bool = False, **more: Any) -> Page:
        """The page from a file; its clock may be one that the test moves on, and one that stands still meanwhile."""
        place = self.folder / "field-page.html"
        place.write_text(made, encoding="utf-8")
        context = self.browser.new_context(
            viewport={"width": 390, "height": 844}, locale="en-GB", timezone_id="Europe/Berlin", accept_downloads=True, **more
        )
        context.set_default_timeout(PATIENCE_MS)
        context.set_offline(True)
        self.complaints.listen(context, "file://")
        context.route("**/*", self._refuse)
        if before:
            context.add_init_script(before)
        self.contexts.append(context)
        page = context.new_page()
        if clock or paused:
            page.clock.install(time=datetime(2026, 11, 28, 13, 30, tzinfo=UTC))
        page.goto(place.as_uri())
        if paused:
            page.clock.pause_at(datetime(2026, 11, 28, 13, 31, tzinfo=UTC))
        return page

    def _refuse(self, route: Route) -> None:
        if route.request.url.startswith("file://"):
            route.continue_()
        else:
            self.asked.append(route.request.url)
            route.abort()


@pytest.fixture
def phone(browser: Browser, tmp_path: Path) -> Iterator[Phone]:
    found = Phone(browser, tmp_path)
    yield found
    for context in found.contexts:
        context.close()
    assert found.asked == []
    assert not found.complaints, "\n".join(found.complaints)


# ---------- the same figures as the ledger ----------


def use_and_question(random: Random, made: Kit) -> tuple[dict[str, str], dict[str, Any]]:
    """What somebody may type, and the ledger's question for it."""
    place = random.randrange(len(made.lenses))
    lens = made.lenses[place]
    light = random.randrange(len(made.lights) + 1)
    use: dict[str, Any] = {"lens": str(place), "aperture": f"{random.choice(MARKS):g}", "filter": random.choice(FACTORS)}
    asked: dict[str, Any] = {**made.fields, **lens.fields, "aperture_f": float(use["aperture"])}
    if random.random() < 0.1:
        use["aperture"] = f"{random.uniform(5, 60):.2f}"
        asked["aperture_f"] = float(use["aperture"])
    if "stop_mm" in lens.fields:
        asked["aperture_f"] = None
    if use["filter"]:
        asked["filter_factor"] = float(use["filter"].replace(",", "."))
    use["light"] = str(light) if light < len(made.lights) else ""
    asked |= made.lights[light].fields if light < len(made.lights) else {}
    return use | reading(random, asked) | nearness(random, lens.fields.get("focal_mm"), asked), asked


def reading(random: Random, asked: dict[str, Any]) -> dict[str, str]:
    by = random.choice(("ev", "ev", "lx", "dial"))
    if by == "ev":
        asked["reading_ev"] = round(random.uniform(1, 13), 2)
        return {"by": by, "reading": f"{asked['reading_ev']:g}"}
    if by == "lx":
        asked["reading_lx"] = float(f"{10 ** random.uniform(1, 4.4):.3g}")
        return {"by": by, "reading": f"{asked['reading_lx']:g} lx"}
    time = random.choice(list(DIAL_TIMES))
    asked |= {
        "dial_time_s": DIAL_TIMES[time],
        "dial_aperture_f": float(random.choice(MARKS[:6])),
        "dial_ei": float(random.choice((6, 12, 25, 64, 100))),
    }
    return {"by": by, "reading": time, "dial_aperture": f"f/{asked['dial_aperture_f']:g}", "dial_ei": f"{asked['dial_ei']:g}"}


def nearness(random: Random, focal_mm: float | None, asked: dict[str, Any]) -> dict[str, str]:
    by = random.choice(("extension", "extension", "distance", "size", "far", "unknown") if focal_mm else ("size", "far", "unknown"))
    if by == "far":
        asked["magnification_factor"] = 0.0
    elif by == "size":
        asked |= {"target_image_mm": round(random.uniform(3, 300), 1), "target_mm": 200.0}
        return {"near_by": by, "near": f"{asked['target_image_mm']}"}
    elif by == "extension" and focal_mm:
        shortest = asked.get("infinity_extension_mm", focal_mm)
        asked["extension_mm"] = round(shortest + focal_mm * random.uniform(0, 1.5), 1)
        return {"near_by": by, "near": f"{asked['extension_mm']} mm"}
    elif by == "distance" and focal_mm:
        asked["subject_mm"] = round(focal_mm * (1.4 + 30 * random.random() ** 3), 0)
        return {"near_by": by, "near": f"{asked['subject_mm'] / 1000:g} m"}
    return {"near_by": by, "near": ""}


@pytest.mark.parametrize("name", KITS)
def test_random_uses_say_what_the_ledger_says(phone: Phone, name: str) -> None:
    made, random = KITS[name], Random(5)
    pairs = [use_and_question(random, made) for _ in range(USES + USES // 3)]
    page = phone.open(field_page(made))
    told: list[dict[str, Any]] = page.evaluate("uses => uses.map(use => window.fieldPage.expose(use))", [use for use, _ in pairs])
    worst, answered, neighbours = 0.0, 0, 0
    for (use, question), found in zip(pairs, told, strict=True):
        answer = ask(question)
        if "time" not in found:
            stops = metered(answer)[0]
            assert list(found["wrong"]) == ["time"], (use, found)
            assert not METERED_FROM + NEAR_STOPS < stops < METERED_TO - NEAR_STOPS, (use, found, stops)
            continue
        answered += 1
        time = answer.time_s
        for mine, its in ((found["time"], time.value), (found["low"], time.low), (found["high"], time.high)):
            assert its is not None
            worst = max(worst, abs(log2(mine / its)))
        assert abs(log2(found["time"] / (answer.time_s.value or 0))) <= NEAR_STOPS, (use, question, found, time)
        apart = abs(log2(found["set"] / (answer.settable_s.value or 0)))
        assert apart <= STEP_STOPS, (use, found, answer.settable_s)  # a neighbour where both are as near
        neighbours += apart > NEAR_STOPS
    assert answered >= USES
    assert neighbours < 0.05 * USES
    assert worst <= NEAR_STOPS


# ---------- a day without the server ----------

PLACES: Final = ("holder 1/1", "holder 1/2", "holder 2/1")


@pytest.fixture
def market(tmp_path: Path) -> Iterator[Served]:
    """A book with a paper, two lenses and loaded holders; its server can be stopped."""
    with Served(tmp_path / "book") as server:
        desk = Desk(server.address)
        desk.do("paper", name=PAPER, base="RC", grade="2", sensitivity="blue")
        desk.do("lot", name="box A", paper=PAPER, sheets_left=20)
        desk.do("lens", name=LENS, focal_mm=210, pupil_factor=1)
        desk.do("meter", name="hand meter", reads="reflected", meter_k=12.5)
        for holder, sides in (("holder 1", "12"), ("holder 2", "1")):
            desk.do("holder", name=holder, sides=len(sides))
            for side in sides:
                desk.do("load", holder=holder, side=side, lot="box A")
        yield server


def fetched(server: Served, **given: str) -> str:
    """The field page as a program saves it."""
    request = Request(f"{server.address}/api/field-page", json.dumps(given).encode(), {"Content-Type": "application/json"})
    with urlopen(request, timeout=PATIENCE_S) as answer:
        page: str = answer.read().decode()
    return page


def expose(page: Page, place: str, subject: str, close_s: float) -> None:
    """One sheet, counted and closed so many seconds after it was opened."""
    page.select_option("[name=place]", place)
    page.fill("[name=subject]", subject)
    page.click("#count")
    assert page.inner_text("#clock-says") == "Open the shutter in"
    page.clock.run_for(3000)
    assert page.inner_text("#clock-says") == "left"
    page.clock.run_for(round(1000 * close_s))
    page.click("#close")


def exposures(server: Served) -> list[dict[str, Any]]:
    """What the book has of every exposed sheet."""
    desk = Desk(server.address)
    stories = [desk.ask(f"/api/sheets/{line['sheet']['number']}") for line in desk.ask("/api/sheets")]
    return [
        {
            "subject": story["line"]["sheet"]["subject"],
            "planned_s": one["planned"]["answer"]["time_s"]["value"],
            **{name: one[name] for name in ("given_s", "side", "remarks", "exposed_at", "light_class", "lens")},
        }
        for story in stories
        for one in story["line"]["exposures"]
    ]


def bring_in(page: Page, server: Served, log: Path) -> str:
    """The saved file comes into the book."""
    page.goto(f"{server.address}/book/log")
    page.set_input_files("#f-file", log)
    page.click("text=Bring it in")
    return page.inner_text("[role=status]")


def test_three_portraits_at_the_market_come_into_the_book_once(phone: Phone, market: Served, opened: Opener, tmp_path: Path) -> None:
    made = fetched(market, paper=PAPER, meter="hand meter", paper_ei="1.5", light_class="overcast sky")
    market.stop()
    page = phone.open(made, paused=True)
    assert page.locator("[name=place] option").count() == 1 + len(PLACES)
    page.fill("[name=reading]", "9")
    page.fill("[name=near]", "231")
    page.fill("[name=aperture]", "16")
    planned = page.evaluate("window.fieldPage.expose(Object.fromEntries(new FormData(document.getElementById('scene'))))")
    count = planned["set"]
    assert count == 40, planned
    expose(page, PLACES[0], "net maker", count)
    expose(page, PLACES[1], 'sail maker; "first" try', count - 6)
    expose(page, PLACES[2], "ferryman", count + 2)
    page.fill("#remarks-1", "a dog ran through")
    page.locator("#remarks-1").blur()
    page.reload()
    assert page.locator("#lines li").count() == 3, "a reload loses nothing"
    assert page.input_value("#remarks-1") == "a dog ran through"
    with page.expect_download() as saved:
        page.click("#save")
    log = tmp_path / "log.csv"
    saved.value.save_as(log)
    market.start()
    desk = opened(market, "/book/log")
    assert bring_in(desk, market, log).startswith("3 sheets are in the book")
    assert bring_in(desk, market, log).startswith("Nothing new. 3 lines were there already.")
    told = {sheet["subject"]: sheet for sheet in exposures(market)}
    assert {subject: one["given_s"] for subject, one in told.items()} == {
        "net maker": pytest.approx(count, abs=0.1),
        'sail maker; "first" try': pytest.approx(34, abs=0.1),
        "ferryman": pytest.approx(42, abs=0.1),
    }
    assert all(abs(log2(one["planned_s"] / planned["time"])) <= NEAR_STOPS for one in told.values())
    assert {one["side"].replace(", side ", "/") for one in told.values()} == set(PLACES)
    assert told['sail maker; "first" try']["remarks"] == "a dog ran through"


# ---------- phones that refuse ----------

REFUSING = """Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError') } })"""


def filled(page: Page) -> None:
    """A still life at half life size."""
    page.fill("[name=reading]", "10")
    page.fill("[name=near]", "315")


def test_a_phone_that_keeps_nothing_says_so_and_works(phone: Phone) -> None:
    page = phone.open(field_page(kit()), before=REFUSING, clock=True)
    assert page.is_visible("#refused")
    assert "Save or copy it before you close the page" in page.inner_text("#refused")
    filled(page)
    expose(page, "holder 1/1", "rope", 5)
    assert page.locator("#lines li").count() == 1
    assert "rope" in page.input_value("#as-text")


def test_a_phone_without_scripts_has_tables_and_a_log_to_fill_in(phone: Phone) -> None:
    page = phone.open(field_page(kit()), java_script_enabled=False)
    assert "does not run the page's own script" in page.inner_text("main")
    assert not page.is_visible("#scene")
    assert page.is_visible("text=210 mm lens in a leaf shutter, f/22 >> nth=0")
    assert page.locator("table.by-hand tbody tr").count() == 12
    page.screenshot(path=SHOTS / "field-page-phone-without-script.png", full_page=True)


def test_with_its_script_it_speaks_of_no_missing_one(phone: Phone) -> None:
    page = phone.open(field_page(kit()))
    assert not page.is_visible(".without-script")
    assert not page.is_visible("#refused")


# ---------- at the camera ----------


def test_what_is_wrong_is_told_beside_its_field(phone: Phone) -> None:
    page = phone.open(field_page(kit()))
    assert "Still needed: the reading, how near." in page.inner_text("#set")
    for field, text, says in (
        ("reading", "bright", "not a number"),
        ("reading", "40", "reach from -8 to 24"),
        ("near", "100", "reach from"),
        ("aperture", "1,250", "not a number"),
        ("filter", "0.5", "reach from 1 to 1000"),
    ):
        page.fill(f"[name={field}]", text)
        assert says in page.inner_text(f"#p-{field}"), field
        assert page.inner_text("#set") != "Still needed: the reading, how near.", "the time's own place says it too"
        assert page.is_disabled("#count")


def test_a_side_that_was_exposed_is_told_before_the_start(phone: Phone) -> None:
    page = phone.open(field_page(kit()), clock=True)
    filled(page)
    page.select_option("[name=place]", "holder 1/2")
    assert "before you went out" in page.inner_text("#twice")
    expose(page, "holder 1/1", "rope", 3)
    assert page.inner_text("[name=place] option[value='holder 1/1']") == "holder 1, side 1: exposed, line 1"
    page.select_option("[name=place]", "holder 1/1")
    assert "double exposure" in page.inner_text("#twice")
    page.click("#count")
    assert page.inner_text("#count") == "Expose it again", "nothing begins before that is said"
    assert not page.is_visible("#counted")
    page.select_option("[name=place]", "")
    assert page.inner_text("#count") == "Count it"


def test_a_reload_while_the_shutter_is_open_loses_nothing(phone: Phone) -> None:
    page = phone.open(field_page(kit()), paused=True)
    filled(page)
    page.fill("[name=subject]", "rope")
    page.click("#count")
    page.clock.run_for(13_000)
    page.reload()
    page.clock.run_for(24_000)
    assert page.inner_text("#clock-says") == "left"
    page.click("#close")
    assert page.input_value("#given_s-0") == "34 s"
    assert page.input_value("#subject-0") == "rope"
    page.reload()
    assert not page.is_visible("#counted")
    assert page.locator("#lines li").count() == 1


def test_leaving_before_the_shutter_opens_writes_nothing(phone: Phone) -> None:
    page = phone.open(field_page(kit()), clock=True)
    filled(page)
    page.click("#count")
    page.clock.run_for(1000)
    assert page.inner_text("#close") == "Do not expose"
    page.keyboard.press("Space")
    assert page.locator("#lines li").count() == 0
    assert not page.is_visible("#counted")


def test_a_line_can_be_mended_and_struck_out(phone: Phone) -> None:
    page = phone.open(field_page(kit()), clock=True)
    filled(page)
    expose(page, "holder 1/1", "rope", 3)
    page.fill("#given_s-0", "1:30")
    page.locator("#given_s-0").blur()
    lines = page.input_value("#as-text").splitlines()
    assert dict(zip(lines[0].split(";"), lines[1].split(";"), strict=False))["given_s"] == "90"
    page.click("text=Strike it out")
    assert len(page.input_value("#as-text").splitlines()) == 1
    page.click("text=Take it back")
    assert len(page.input_value("#as-text").splitlines()) == 2


SLEEPING = """(() => {
  const now = Date.now
  let slept = 0
  window.sleep = ms => { slept += ms }
  Date.now = () => now() + slept
})()"""


def test_a_phone_that_slept_counts_the_sleep_and_says_so(phone: Phone) -> None:
    """The steady clock stands still while a phone sleeps; the other one goes on."""
    page = phone.open(field_page(kit()), paused=True)
    page.evaluate(SLEEPING)
    filled(page)
    page.click("#count")
    page.clock.run_for(3200)
    page.evaluate("window.sleep(20000)")
    page.clock.run_for(1000)
    page.click("#close")
    assert page.input_value("#given_s-0") == "21 s"
    assert "slept or its clock was set, by 20 s" in page.input_value("#remarks-0")


def test_a_clock_set_back_moves_nothing(phone: Phone) -> None:
    page = phone.open(field_page(kit()), paused=True)
    page.evaluate(SLEEPING)
    filled(page)
    page.click("#count")
    page.clock.run_for(3200)
    page.evaluate("window.sleep(-3600000)")
    page.clock.run_for(5000)
    page.click("#close")
    assert float(page.input_value("#given_s-0").removesuffix(" s")) == pytest.approx(5.2, abs=0.1)


@pytest.mark.parametrize("theme", ["day", "dark", "safelight"])
def test_it_can_be_read_in_every_light(phone: Phone, theme: str) -> None:
    page = phone.open(field_page(kit()), clock=True)
    page.click(f"[data-light={theme}]")
    filled(page)
    expose(page, "holder 1/1", "rope", 3)
    page.screenshot(path=SHOTS / f"field-page-phone-{theme}.png", full_page=True)
    found = Axe().run(page, options={"runOnly": EVERY_RULE, "resultTypes": ["violations"]}).response["violations"]
    told = [f"{one['id']}: {'; '.join(node['html'][:160] for node in one['nodes'][:3])}" for one in found]
    told += not_red(page) if theme == "safelight" else []
    page.click("#count")
    page.clock.run_for(5000)
    page.screenshot(path=SHOTS / f"field-page-counting-{theme}.png")
    told += not_red(page) if theme == "safelight" else []
    assert not told, "\n".join(told)


def test_it_fits_narrow_screens_and_large_text(phone: Phone) -> None:
    page = phone.open(field_page(kit()))
    filled(page)
    told = [problem for width, percent in NARROW for problem in at_this_width(page, width, percent)]
    assert not told, "\n".join(told)


# ---------- the log that comes home in other ways ----------


def test_pasted_text_with_a_damaged_line_loses_nothing(market: Served, opened: Opener) -> None:
    page = opened(market, "/book/log")
    good = "14:30;1/1;10;315;22;1:37;mallet;"
    page.fill("#f-log", f"{good}\n14:40;1/2;much;315;22;1:37;rope;windy")
    page.select_option("[name=lens]", LENS)
    page.click("text=Bring it in")
    assert "1 sheet is in the book" in page.inner_text("[role=status]")
    assert "Line 2, 14:40, holder 1/2, rope: " in page.inner_text("main")
    assert page.input_value("[name='log.0.remarks']") == "windy", "what was typed by hand stands in the table"
    assert page.input_value("[name=lens]") == LENS
    page.fill("[name='log.0.reading']", "9")
    page.click("text=Bring it in")
    assert "1 sheet is in the book" in page.inner_text("[role=status]")
    assert {one["subject"] for one in exposures(market)} == {"mallet", "rope"}


def test_the_cards_log_is_typed_in_by_keyboard(market: Served, opened: Opener) -> None:
    page = opened(market, "/book/log")
    page.click("text=Type the card's log")
    page.focus("[name='log.0.when']")
    for word in ("14:30", "2/1", "640 lx", "far", "f/16", "45", "boats", "fog"):
        page.keyboard.type(word)
        page.keyboard.press("Tab")
    page.click("text=Bring it in")
    assert "1 sheet is in the book" in page.inner_text("[role=status]")
    (told,) = exposures(market)
    assert (told["subject"], told["given_s"], told["side"]) == ("boats", 45, "holder 2, side 1")
