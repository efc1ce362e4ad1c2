"""The count in the browser: by keys and by ear, on two devices, through a killed server, a reload, a sleep and clocks set wrong."""

import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlencode

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from tests.pages import loop
from tests.pages.conftest import Opener
from tests.pages.desk import LENS, PAPER, Desk
from tests.pages.everywhere import THEMES
from tests.pages.pixels import pixels
from tests.pages.served import Served
from tests.pages.test_every_page import DARK, EVERY_RULE, SHOTS

ERROR_S: Final = 0.5
MOST_LIT: Final = 0.05  # look.md: what the bench may light of the screen
KEY_RESTS_MS: Final = 800  # no key is taken so soon after another
SCENE: Final = {"paper": PAPER, "lens": LENS, "reading_ev": 10, "extension_mm": 315, "aperture_f": "f/22", "paper_ei": 1.5}
EARS: Final = """() => {
  window.heard = []
  const began = performance.now()
  class Voice { constructor(own) { this.own = own; this.frequency = { value: 0 } }
    connect(next) { return next } stop(at) { if (at === undefined) this.tone.stopped = true; else this.tone.ends = at }
    start(at) { this.tone = { hertz: this.frequency.value, at, asked: performance.now() }; window.heard.push(this.tone) } }
  class Volume { constructor() { this.gain = { setValueAtTime() {}, linearRampToValueAtTime() {} } } connect(next) { return next } }
  window.AudioContext = class { constructor() { this.state = "running"; this.destination = {} }
    get currentTime() { return (performance.now() - began) / 1000 }
    createOscillator() { return new Voice(this) } createGain() { return new Volume() } resume() { return Promise.resolve() } }
  window.heardSince = began
}"""


class Camera:
    """A book with loaded holders on a server of its own."""

    def __init__(self, server: Served) -> None:
        self.server = server
        self.desk = Desk(server.address)
        self.loaded = 0

    def side(self) -> dict[str, str]:
        """The next side, freshly loaded."""
        self.loaded += 1
        holder, side = f"holder {(self.loaded + 1) // 2}", str(1 + (self.loaded + 1) % 2)
        if side == "1":
            self.desk.do("holder", name=holder)
        self.desk.do("load", holder=holder, side=side, lot="box A")
        return {"holder": holder, "side": side}

    def href(self, **more: object) -> str:
        """The start page for the next side."""
        return f"/camera/exposing?{urlencode({**SCENE, **self.side(), 'count_in_s': 1, **more})}"

    def start(self, **more: object) -> str:
        """A count by HTTP, as another device would start it."""
        return self.desk.do("start-exposure", **SCENE, **self.side(), **more)

    def stands(self, name: str) -> dict[str, Any]:
        """What the server says of it."""
        found: dict[str, Any] = self.desk.ask(f"/api/counts/{name}")
        return found

    def given_s(self, name: str) -> float:
        """What is recorded of it."""
        story: Any = self.desk.ask(f"/api/sheets/{self.stands(name)['sheet']}")
        found: float = story["line"]["exposures"][-1]["given_s"]
        return found


@pytest.fixture(scope="module")
def camera(scratch: Served) -> Camera:
    made = Camera(scratch)
    made.desk.do("paper", name=PAPER, base="RC", grade="2")
    made.desk.do("lens", name=LENS, focal_mm=210)
    made.desk.do("lot", name="box A", paper=PAPER, sheets_left=100)
    return made


@pytest.fixture
def alone(browser: Browser) -> Iterator[Page]:
    """A page whose complaints are expected: its server is killed."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, locale="en-GB", timezone_id="Europe/Berlin")
    yield context.new_page()
    context.close()


def says(page: Page, words: str) -> None:
    expect(page.locator("[data-part=says]")).to_have_text(words, timeout=15_000)


def recorded(page: Page) -> None:
    """The sheet is in the book, not only the key pressed."""
    expect(page.get_by_role("link", name="See the sheet")).to_be_visible(timeout=15_000)


def left_s(page: Page) -> float:
    """How long is left by the page, to a twentieth of a second: asked until its figure turns, for then it is whole."""
    found: float = page.evaluate("""async () => {
      const clock = document.querySelector('[data-part=clock]'), shown = () => clock.textContent
      const from = shown(), until = performance.now() + 3000
      while (shown() === from && performance.now() < until) await new Promise(done => setTimeout(done, 10))
      const sign = shown().startsWith('+') ? -1 : 1
      return sign * shown().replace('+', '').split(':').reduce((sum, part) => 60 * sum + Number(part), 0)
    }""")
    return found


def press(page: Page, key: str) -> None:
    page.wait_for_timeout(KEY_RESTS_MS)
    expect(page.locator("[data-key=sound]")).to_be_enabled()  # what was pressed before has arrived
    page.keyboard.press(key)


def name_of(page: Page) -> str:
    return page.url.partition("?")[0].rpartition("/")[2]


def test_a_whole_exposure_by_keys(opened: Opener, camera: Camera) -> None:
    """Started, held while somebody walks through, gone on with, closed at the end; then the sheet."""
    page = opened(camera.server, camera.href(to_give_s=6, subject="tarred rope"), width=390)
    page.get_by_role("button", name="Start the count").focus()
    page.keyboard.press("Enter")
    says(page, "Opens in")
    expect(page.get_by_role("button", name="Close")).to_be_disabled()
    says(page, "Open")
    press(page, "Enter")
    says(page, "Held")
    press(page, "Enter")
    says(page, "Opens in")
    says(page, "Open")
    says(page, "Close now")
    press(page, "Space")
    recorded(page)
    given_s = camera.given_s(name_of(page))
    assert 6 <= given_s <= 9
    expect(page.locator(".mid").get_by_text("tarred rope")).to_be_visible()
    page.wait_for_timeout(KEY_RESTS_MS)
    page.keyboard.press("Space")
    expect(page.get_by_role("heading", name="26-001")).to_be_visible()


def test_stopped_early_by_touch(opened: Opener, camera: Camera) -> None:
    page = opened(camera.server, camera.href(to_give_s=40, count_in_s=0), width=390, has_touch=True)
    page.get_by_role("button", name="Start the count").tap()
    says(page, "Open")
    name = name_of(page)
    page.wait_for_timeout(1000)
    at_press = camera.stands(name)["passed_s"]
    page.get_by_role("button", name="Close").tap()
    recorded(page)
    assert camera.given_s(name) == pytest.approx(at_press, abs=ERROR_S)
    expect(page.locator(".mid").get_by_text("40 s was meant")).to_be_visible()
    expect(page.locator("#more").get_by_text("Stopped early")).to_be_visible()


def test_refused_before_the_start(opened: Opener, camera: Camera) -> None:
    """An exposed side and an empty one: said beside the field, with nothing lost and nothing counted."""
    used = camera.side()
    camera.desk.do("expose", **SCENE, **used, given_s=9)
    page = opened(camera.server, f"/camera/exposing?{urlencode({**SCENE, **used})}")
    loop.fill(page, {"Subject": "door in the wind"})
    page.get_by_role("button", name="Start the count").click()
    expect(page.locator("#p-side")).to_contain_text("exposed already, as sheet")
    expect(loop.field(page, "Subject")).to_have_value("door in the wind")
    camera.desk.do("unload", **used)
    page.get_by_role("button", name="Start the count").click()
    expect(page.locator("#p-side")).to_contain_text("nothing is in this side")
    assert camera.desk.ask("/api/counts") == []


def test_the_light_changes(opened: Opener, camera: Camera) -> None:
    page = opened(camera.server, camera.href(to_give_s=60, reciprocity_model="none", count_in_s=0), width=390)
    page.get_by_role("button", name="Start the count").click()
    says(page, "Open")
    press(page, "ArrowDown")
    page.locator("#more").get_by_label("Reading", exact=True).fill("9")
    page.locator("#more").get_by_label("Read at").fill("0")
    page.get_by_role("button", name="The meter reads so now").click()
    expect(page.locator("#more").get_by_text("close at")).to_contain_text("120")
    assert camera.stands(name_of(page))["length_s"] == pytest.approx(120, abs=0.5)
    page.locator("#more").get_by_label("Reading", exact=True).fill("bright")
    page.get_by_role("button", name="The meter reads so now").click()
    expect(page.locator("#p-reading_ev")).to_contain_text("not a number")
    page.get_by_role("button", name="Nothing was exposed").click()
    says(page, "Nothing exposed")


def test_two_devices_follow_one_another(opened: Opener, camera: Camera) -> None:
    today = opened(camera.server, "/", width=390)
    one = opened(camera.server, camera.href(to_give_s=90))
    one.get_by_role("button", name="Start the count").click()
    expect(today.get_by_role("link", name="Go to the count")).to_be_visible()
    today.get_by_role("link", name="Go to the count").click()
    for page in (one, today):
        says(page, "Open")
    now = opened(camera.server, "/", width=390)
    found = Axe().run(now, options={"runOnly": EVERY_RULE, "resultTypes": ["violations"]}).response["violations"]
    assert not found, json.dumps(found)[:600]
    now.screenshot(path=SHOTS / "exposing-today-390.png", full_page=True)
    shown = [left_s(page) - camera.stands(name_of(one))["left_s"] for page in (one, today)]
    assert shown == pytest.approx([0, 0], abs=ERROR_S)
    press(today, "Enter")
    says(one, "Held")
    press(one, "Space")
    recorded(today)
    assert camera.desk.ask("/api/counts") == []


def test_a_killed_server_and_a_reload(alone: Page, camera: Camera) -> None:
    """SIGKILL while it counts, started again: server, page that stayed and page that is loaded anew are all within half a second."""
    name = camera.start(to_give_s=120)
    alone.goto(f"{camera.server.address}/camera/exposing/{name}")
    began_s = time.monotonic() - camera.stands(name)["passed_s"]
    camera.server.kill()
    expect(alone.get_by_text("The server does not answer.")).to_be_visible()
    assert left_s(alone) == pytest.approx(120 - (time.monotonic() - began_s), abs=ERROR_S)
    camera.server.start()
    assert camera.stands(name)["passed_s"] == pytest.approx(time.monotonic() - began_s, abs=ERROR_S)
    assert camera.stands(name)["certain"]
    expect(alone.get_by_text("The server does not answer.")).to_have_count(0)
    alone.reload()
    assert left_s(alone) == pytest.approx(120 - (time.monotonic() - began_s), abs=ERROR_S)
    camera.desk.do("stop-exposure", count=name)


@pytest.mark.parametrize("stays", [True, False], ids=["the page stays", "the page is loaded anew"])
def test_closed_while_the_server_is_gone(alone: Page, camera: Camera, *, stays: bool) -> None:
    """The press counts, not the moment at which the server hears of it; it is recorded once."""
    name = camera.start(to_give_s=60)
    alone.goto(f"{camera.server.address}/camera/exposing/{name}")
    began_s = time.monotonic() - camera.stands(name)["passed_s"]
    camera.server.kill()
    alone.wait_for_timeout(KEY_RESTS_MS)
    alone.keyboard.press("PageDown")
    pressed_s = time.monotonic() - began_s
    expect(alone.get_by_text("sent again by itself")).to_be_visible()
    if not stays:
        alone.goto("about:blank")
    alone.wait_for_timeout(2000)
    camera.server.start()
    if not stays:
        alone.goto(f"{camera.server.address}/camera/exposing/{name}")
    recorded(alone)
    assert camera.given_s(name) == pytest.approx(pressed_s, abs=ERROR_S)


def test_started_while_the_server_is_gone(alone: Page, camera: Camera) -> None:
    """Nothing is counted, and the page says so; pressed again it is one count."""
    alone.goto(camera.server.address + camera.href(to_give_s=60))
    camera.server.kill()
    alone.get_by_role("button", name="Start the count").click()
    expect(alone.get_by_text("It did not arrive, and nothing was done.")).to_be_visible()
    camera.server.start()
    assert camera.desk.ask("/api/counts") == []
    alone.get_by_role("button", name="Start the count").click()
    says(alone, "Open")
    assert len(camera.desk.ask("/api/counts")) == 1
    camera.desk.do("stop-exposure", nothing_exposed="yes")


@pytest.mark.parametrize("hours", [-1, 1])
def test_the_clock_of_the_device_is_set(opened: Opener, camera: Camera, hours: int) -> None:
    """What the device thinks of the day does not move the count."""
    name = camera.start(to_give_s=60)
    page = opened(camera.server, f"/camera/exposing/{name}")
    says(page, "Open")
    page.evaluate("ms => { const own = Date.now.bind(Date); Date.now = () => own() + ms }", 3_600_000 * hours)
    page.wait_for_timeout(1200)
    assert left_s(page) == pytest.approx(camera.stands(name)["left_s"], abs=ERROR_S)
    camera.desk.do("stop-exposure", count=name)


def test_a_device_that_slept_knows_at_once(opened: Opener, camera: Camera) -> None:
    """Its own clock ran five minutes on while the server's did not, and its page believes the server."""
    name = camera.start(to_give_s=600)
    page = opened(camera.server, "/")
    page.clock.install()
    page.goto(f"{camera.server.address}/camera/exposing/{name}")
    says(page, "Open")
    page.clock.fast_forward("05:00")
    page.wait_for_timeout(1000)
    assert left_s(page) == pytest.approx(camera.stands(name)["left_s"], abs=1)
    camera.desk.do("stop-exposure", count=name)


def test_by_ear(opened: Opener, camera: Camera) -> None:
    """Each tone at its moment: three short, a long one when the shutter opens, the pulse, the warning, three short, the long one at the end."""
    page = opened(camera.server, "/")
    page.add_init_script(f"({EARS})()")
    page.goto(camera.server.address + camera.href(to_give_s=12, count_in_s=4))
    page.get_by_role("button", name="Start the count").click()
    page.wait_for_timeout(12_000)
    says(page, "Close now")
    page.wait_for_timeout(2600)
    name = name_of(page)
    now = page.evaluate("(performance.now() - window.heardSince) / 1000")
    opened_at = now - camera.stands(name)["passed_s"]
    heard = [(tone["hertz"], tone["at"] - opened_at) for tone in page.evaluate("window.heard") if not tone.get("stopped")]
    long = [at for hertz, at in heard if hertz == 880]
    wanted = [
        (660, -3),
        (660, -2),
        (660, -1),
        (880, 0),
        (440, 1),
        (440, 8),
        (880, 9),
        (880, 9.16),
        (660, 9),
        (660, 10),
        (660, 11),
        (880, 12),
        (880, 14),
    ]
    for hertz, at in wanted:
        assert any(one == hertz and abs(when - at) < 0.15 for one, when in heard), (hertz, at, sorted(heard, key=lambda tone: tone[1]))
    assert len(long) <= 8, "and none of them twice"
    page.keyboard.press("ArrowUp")
    expect(page.get_by_role("button", name="Sound off")).to_be_visible()
    page.get_by_role("button", name="Close").click()
    recorded(page)


def test_without_script(browser: Browser, camera: Camera) -> None:
    """The moments stand there, and the server's clock says how long it was."""
    context = browser.new_context(java_script_enabled=False, locale="en-GB")
    page = context.new_page()
    page.goto(camera.server.address + camera.href(to_give_s=60, count_in_s=0))
    page.get_by_role("button", name="Start the count").click()
    expect(page.get_by_text("closes at")).to_be_visible()
    name = name_of(page)
    page.wait_for_timeout(1500)
    page.get_by_role("button", name="Close").click()
    expect(page.get_by_role("heading", name="Closed")).to_be_visible()
    assert 1.4 <= camera.given_s(name) <= 1.5 + 4 * ERROR_S
    context.close()


@pytest.mark.parametrize("width", [390, 320, 1280])
def test_the_bench_is_for_wet_gloves(opened: Opener, camera: Camera, width: int) -> None:
    """At most four targets, none under 120 px; no scrolling sideways; nothing for axe; red on black and at most a twentieth lit."""
    name = camera.start(to_give_s=700)
    page = opened(camera.server, f"/camera/exposing/{name}", width=width, height=844)
    says(page, "Open")
    page.evaluate("document.fonts.ready.then(() => 0)")
    targets = [box for key in page.locator(".bench .key:visible").all() if (box := key.bounding_box())]
    assert len(targets) <= 4
    assert all(box["width"] >= 120 and box["height"] >= 120 for box in targets)
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    SHOTS.mkdir(exist_ok=True)
    for theme in THEMES:
        page.evaluate("theme => { document.documentElement.dataset.theme = theme }", theme)
        rules = EVERY_RULE if theme == "day" else ["wcag2aa"]
        found = Axe().run(page, options={"runOnly": rules, "resultTypes": ["violations"]}).response["violations"]
        assert not found, json.dumps(found)[:600]
        page.screenshot(path=SHOTS / f"exposing-{width}-{theme}.png")
    seen = pixels(page.screenshot())
    assert seen[..., 1:].max() == 0, "red and black"
    assert float((seen[..., 0] > DARK).mean()) <= MOST_LIT
    camera.desk.do("hold-exposure", count=name)
    says(page, "Held")
    page.screenshot(path=SHOTS / f"exposing-held-{width}.png")
    camera.desk.do("stop-exposure", count=name)
    says(page, "Closed")
    page.screenshot(path=SHOTS / f"exposing-closed-{width}.png", full_page=True)


def test_the_start_page_in_every_light(opened: Opener, camera: Camera) -> None:
    page = opened(camera.server, camera.href(subject="caulking mallet"), width=390)
    for theme in THEMES:
        page.evaluate("theme => { document.documentElement.dataset.theme = theme }", theme)
        found = Axe().run(page, options={"runOnly": EVERY_RULE, "resultTypes": ["violations"]}).response["violations"]
        assert not found, json.dumps(found)[:600]
        page.screenshot(path=SHOTS / f"exposing-start-390-{theme}.png", full_page=True)
    box = page.get_by_role("button", name="Start the count").bounding_box()
    assert box is not None
    assert box["height"] >= 120
    assert Path(SHOTS / "exposing-start-390-day.png").exists()
