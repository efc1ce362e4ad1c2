"""Measure in a real browser: a tablet, a skewed step sheet, three pictures; by mouse, by touch, by keys, without script; a server that dies."""

import io
import math
import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final
from urllib.parse import quote

import numpy as np
import pytest
import tifffile
from PIL import Image
from playwright.sync_api import Browser, Locator, Page, expect
from tests.pages import loop
from tests.pages.conftest import PATIENCE_MS, Opener
from tests.pages.desk import SCANNER, TABLET, Desk, corners_of, file_of, made
from tests.pages.everywhere import THEMES
from tests.pages.served import Served
from tests.pages.test_every_page import NARROW, at_this_width, in_this_light, take_pictures
from tests.web.scans import BORDER_PX, SHEET, WIDE_PX, corners_percent, tiff

STEP_SHEET_SEED: Final = 3
CLOSE_DENSITY: Final = 0.04  # a calibration's own doubt at the dark end of these made scans
CORNERS: Final = [f"{axis}{number}" for number in range(1, 5) for axis in "xy"]
WIDE_SCAN_PX: Final = len(SHEET) * WIDE_PX + 2 * BORDER_PX
FINGER_PX: Final = 24  # what a fingertip hides to each side
SLOW_BYTES_PER_S: Final = 400_000


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Served]:
    """A server of its own for one test."""
    with Served(tmp_path / "home") as found:
        yield found


def hand_in(page: Page, *files: Path, **fields: str) -> None:
    """Fill in the form and send it."""
    page.get_by_role("radio", name=re.compile(f"^{fields.pop('shows', 'Step sheet')}")).check()
    loop.fill(page, fields)
    loop.field(page, "Files").set_input_files(files)
    loop.press(page, "Hand in")


def read(page: Page) -> None:
    """The page of a scan, once its file is read and its viewer stands."""
    expect(page).to_have_url(re.compile(r"/measure/scan-\d+"))
    expect(page.locator("#work")).to_have_count(0, timeout=4 * PATIENCE_MS)
    expect(page.locator("#viewer[data-ready]")).to_be_visible(timeout=PATIENCE_MS)


def type_corners(page: Page, corners: list[float]) -> None:
    """Write the corners as numbers."""
    numbers = page.locator("details.numbers")
    if numbers.get_attribute("open") is None:
        numbers.locator("summary").click()
    for name, percent in zip(CORNERS, corners, strict=True):
        page.locator(f"[name={name}]").fill(f"{percent:.4f}")


def corner(page: Page, number: int) -> Locator:
    """The handle of one corner."""
    return page.get_by_role("button", name=re.compile(f"^Corner {number},"))


def middle(one: Locator) -> tuple[float, float]:
    """Where it is on the screen."""
    box = one.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def per_percent(page: Page, corners: list[float]) -> tuple[float, float]:
    """Pixels of the screen for a percent of the scan, told from where corners 1 and 3 stand."""
    (left, top), (right, bottom) = middle(corner(page, 1)), middle(corner(page, 3))
    return (right - left) / (corners[4] - corners[0]), (bottom - top) / (corners[5] - corners[1])


def calibrate(page: Page, folder: Path) -> None:
    """The tablet is handed in, its grid placed; its densities are typed the wrong way round first."""
    true = made("tablet")
    counts = {"Rows": str(true.rows), "Columns": str(true.columns)}
    hand_in(page, file_of("tablet", folder, "tablet.tif"), shows="Step tablet", Scanner=SCANNER, **counts)
    read(page)
    type_corners(page, corners_of(true))
    loop.fill(page, counts)
    loop.press(page, "The grid is right")
    read(page)
    loop.fill(page, {"Densities": " ".join(reversed(TABLET.split()))})
    loop.press(page, "Calibrate")
    expect(page.get_by_role("main")).to_contain_text("lie the other way round")
    loop.fill(page, {"Densities": TABLET})
    loop.press(page, "Calibrate")
    assert "calibrated" in loop.recorded(page)
    steps = page.get_by_role("region", name="Steps of the tablet")
    expect(steps.locator("tbody tr")).to_have_count(20)
    before = page.locator(".fig").inner_text()
    steps.get_by_label("Leave out step 4").click()
    steps.locator("#why-4").fill("a scratch across it")
    steps.get_by_role("button", name="Leave it out").click()
    assert "Step 4 of the tablet does not count any more" in loop.recorded(page)
    expect(steps.locator("tbody tr").nth(3)).to_contain_text("Left out: a scratch across it")
    steps.get_by_role("button", name="Let step 4 count again").click()
    assert "counts again" in loop.recorded(page)
    expect(page.locator(".fig")).to_have_text(before)
    page.goto(page.url.partition("/book")[0] + "/measure/scan-001")


def correct_two_corners(page: Page, corners: list[float], width_px: int, height_px: int) -> None:
    """Corner 1 lies wrong and is dragged into place; corner 2 is 7 pixels too far right and 13 too high, and goes there by keys."""
    wrong = [corners[0] - 6, corners[1] + 9, corners[2] + 700 / width_px, corners[3] - 1300 / height_px, *corners[4:]]
    type_corners(page, wrong)
    page.locator("#viewer").scroll_into_view_if_needed()
    right_px, down_px = per_percent(page, wrong)
    x, y = middle(corner(page, 1))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 6 * right_px, y - 9 * down_px, steps=8)
    page.mouse.up()
    expect(page.locator("#in-hand")).to_contain_text("Corner in hand: 1")
    page.keyboard.press("Tab")
    expect(corner(page, 2)).to_be_focused()
    expect(page.locator("#in-hand")).to_contain_text("Corner in hand: 2")
    for key in [*["ArrowLeft"] * 7, "Shift+ArrowDown", *["ArrowDown"] * 3]:
        page.keyboard.press(key)
    placed = [float(page.locator(f"[name={name}]").input_value()) for name in CORNERS]
    assert all(math.isclose(one, wanted, abs_tol=0.01) for one, wanted in zip(placed[2:], corners[2:], strict=True)), "keys move by whole pixels"
    assert all(math.isclose(one, wanted, abs_tol=0.4) for one, wanted in zip(placed[:2], corners[:2], strict=True)), "the mouse as near as a hand"


def test_calibrate_correct_two_corners_and_see_the_curve(server: Served, opened: Opener, tmp_path: Path) -> None:
    (number,) = Desk(server.address).begin("step sheet")
    page = opened(server, "/measure")
    calibrate(page, tmp_path)
    true = made("step sheet", STEP_SHEET_SEED)
    height_px, width_px = true.pixels.shape[:2]
    loop.follow(page, "All scans")
    hand_in(page, file_of("step sheet", tmp_path, f"{number}.tif", STEP_SHEET_SEED), Scanner=SCANNER, Rows=str(true.rows), Columns=str(true.columns))
    read(page)
    correct_two_corners(page, corners_of(true), width_px, height_px)
    loop.press(page, "The grid is right")
    read(page)
    shown = [float(text) for text in page.get_by_role("region", name="Patches").locator("tbody td:nth-child(3)").all_inner_texts() if text]
    assert all(math.isclose(one, known, abs_tol=CLOSE_DENSITY) for one, known in zip(shown, true.densities, strict=True)), (shown, true.densities)

    loop.follow(page, "Send the densities to the curve")
    page.get_by_role("main").get_by_role("link", name=re.compile("^Typed")).click()
    loop.fill(page, {"Log exposure": " ".join(f"{one:.3f}" for one in true.exposures_log10), "Metered": "yes"})
    loop.press(page, "Record and learn its curve")
    expect(page.locator("figure.chart svg").first).to_be_visible()
    page.goto(f"{server.address}/measure/scan-002")
    expect(page.locator("figure.chart")).to_contain_text("as it was learnt from these patches")


def test_three_pictures_with_their_places(server: Served, opened: Opener, tmp_path: Path) -> None:
    lying = Desk(server.address)
    numbers = lying.begin("mallet", "oakum", "rope")
    lying.calibrate(tmp_path)
    page = opened(server, f"/findings?sheet={numbers[0]}")
    before = doubt_stops(page)
    page.goto(f"{server.address}/measure")
    files = [file_of("picture", tmp_path, f"{number}.tif", seed) for seed, number in enumerate(numbers)]
    hand_in(page, *files, shows="Picture", Scanner=SCANNER)
    expect(page.locator("#files [data-state=done]")).to_have_count(3, timeout=2 * PATIENCE_MS)
    expect(page.locator("#scans img")).to_have_count(4, timeout=4 * PATIENCE_MS)
    for place, number in enumerate(numbers):
        page.goto(f"{server.address}/measure/scan-00{place + 2}")
        expect(page.get_by_role("main")).to_contain_text(number)
        read(page)
        box = page.locator(".stage").bounding_box()
        assert box is not None
        for across, down, ev in ((0.45, 0.4, "9.5"), (0.55, 0.55, "11")):
            page.mouse.click(box["x"] + across * box["width"], box["y"] + down * box["height"])
            loop.field(page, "Reading there, EV").fill(ev)
        page.get_by_role("button", name=re.compile("^Place 2:")).focus()
        page.keyboard.press("Shift+ArrowUp")
        loop.press(page, "Measure these places")
        read(page)
        loop.press(page, "Keep these places")
        assert f"Sheet {number}: 2 metered places with density" in loop.recorded(page)
        page.goto(f"{server.address}/book/do/judge?sheet={number}")
        loop.fill(page, {"Looks": "too dark", "Off by": "0.5"})
        loop.press(page, "Record it")
        assert "Recorded." in loop.recorded(page)
    page.goto(f"{server.address}/book")
    expect(page.locator(".sheets img")).to_have_count(3)
    page.goto(f"{server.address}/findings?sheet={numbers[0]}")
    assert doubt_stops(page) < before / 2, "three pictures narrow the next exposure"
    expect(page.locator("#h-next ~ *, [aria-labelledby=h-next]").first).to_contain_text("of 100")


def doubt_stops(page: Page) -> float:
    """The doubt of the next exposure, as the findings tell it to who asks why."""
    page.get_by_text("Why so unsure?").click()
    shown = re.search(r"±(\d\.\d+) stop, one standard deviation", page.locator("[aria-labelledby=h-next]").inner_text())
    assert shown is not None
    return float(shown[1])


def test_without_script(server: Served, opened: Opener, tmp_path: Path) -> None:
    lying = Desk(server.address)
    (number,) = lying.begin("step sheet")
    lying.calibrate(tmp_path)
    true = made("step sheet", STEP_SHEET_SEED)
    page = opened(server, "/measure", java_script_enabled=False)
    hand_in(page, file_of("step sheet", tmp_path, f"{number}.tif", STEP_SHEET_SEED), Scanner=SCANNER, Rows=str(true.rows), Columns=str(true.columns))
    assert f"sheet {number} is in the book" in loop.recorded(page)
    lying.read("scan-002")
    page.goto(f"{server.address}/measure/scan-002")
    type_corners(page, corners_of(true))
    loop.press(page, "Draw it")
    expect(page.locator(".stage polygon.cell")).to_have_count(true.rows * true.columns)
    loop.press(page, "The grid is right")
    lying.read("scan-002")
    page.goto(f"{server.address}/measure/scan-002")
    expect(page.get_by_role("region", name="Patches").locator("tbody tr")).to_have_count(len(true.densities))
    assert all(math.isclose(one, known, abs_tol=CLOSE_DENSITY) for one, known in zip(lying.densities("scan-002"), true.densities, strict=True))
    expect(page.get_by_role("link", name="Send the densities to the curve")).to_be_visible()


def test_a_server_that_dies_in_mid_upload(browser: Browser, server: Served, tmp_path: Path) -> None:
    (number,) = Desk(server.address).begin("step sheet")
    large = tmp_path / f"{number}.tif"
    large.write_bytes(tiff(SHEET) + bytes(3_000_000))
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{server.address}/measure")
    page.locator("summary").filter(has_text="When wanted").click()
    loop.fill(page, {"Remarks": "scanned twice"})
    network = {"offline": False, "latency": 0, "downloadThroughput": -1, "uploadThroughput": SLOW_BYTES_PER_S}
    session = context.new_cdp_session(page)
    session.send("Network.enable")
    session.send("Network.emulateNetworkConditions", network)
    hand_in(page, large, shows="Picture")
    row = page.locator("#files .file")
    expect(row.locator("[data-part=says]")).to_contain_text(re.compile(r"\d+ kB of 3\.\d MB"))
    server.kill()
    expect(row.get_by_role("alert")).to_contain_text("The connection broke. Nothing of this file was kept", timeout=PATIENCE_MS)
    expect(loop.field(page, "Remarks")).to_have_value("scanned twice")
    assert not list((server.home / "files").rglob("*.*")), "nothing is half kept"
    session.send("Network.emulateNetworkConditions", {**network, "uploadThroughput": -1})
    server.start()
    assert not list((server.home / "incoming").iterdir()), "what was on its way is gone"
    page.get_by_role("button", name="Send again").click()
    expect(page).to_have_url(re.compile(r"/measure/scan-001"), timeout=PATIENCE_MS)
    expect(page.get_by_role("status")).to_contain_text(f"sheet {number} is in the book")
    context.close()


def test_an_upload_is_stopped_and_sent_again(server: Served, opened: Opener, tmp_path: Path) -> None:
    (number,) = Desk(server.address).begin("rope")
    large = tmp_path / f"{number}.tif"
    large.write_bytes(tiff(SHEET) + bytes(3_000_000))
    page = opened(server, "/measure")
    session = page.context.new_cdp_session(page)
    session.send("Network.enable")
    session.send("Network.emulateNetworkConditions", {"offline": False, "latency": 0, "downloadThroughput": -1, "uploadThroughput": SLOW_BYTES_PER_S})
    hand_in(page, large, shows="Picture")
    page.get_by_role("button", name="Stop").click()
    expect(page.locator("#files").get_by_role("alert")).to_contain_text("You stopped it. Nothing of this file was kept.")
    session.send("Network.emulateNetworkConditions", {"offline": False, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1})
    page.get_by_role("button", name="Send again").click()
    expect(page).to_have_url(re.compile(r"/measure/scan-001"))
    read(page)


DROP: Final = """([name, bytes]) => {
  const held = new DataTransfer()
  held.items.add(new File([Uint8Array.from(bytes)], name))
  const zone = document.getElementById('drop'), how = { dataTransfer: held, bubbles: true, cancelable: true }
  for (const kind of ['dragover', 'drop']) zone.dispatchEvent(new DragEvent(kind, how))
}"""


def test_files_are_dropped_and_asked_for_their_sheet(server: Served, opened: Opener) -> None:
    (number,) = Desk(server.address).begin("rope")
    page = opened(server, "/measure?shows=picture")
    page.evaluate(DROP, ["door.tif", list(tiff(SHEET[:2]))])
    page.evaluate(DROP, ["nothing.tif", []])
    rows = page.locator("#files .file")
    expect(rows).to_have_count(2)
    loop.press(page, "Hand in")
    expect(rows.nth(1).get_by_role("alert")).to_contain_text("This file is empty")
    rows.nth(1).get_by_role("button", name="Leave it out").click()
    expect(rows.nth(0).get_by_role("alert")).to_contain_text("Which sheet is it?")
    page.get_by_label("Sheet in door.tif").select_option(number)
    rows.nth(0).get_by_role("button", name="Send again").click()
    expect(page).to_have_url(re.compile(r"/measure/scan-001"))
    read(page)


def test_a_finger_moves_a_corner(server: Served, opened: Opener) -> None:
    (number,) = Desk(server.address).begin("step sheet")
    Desk(server.address).hand_in(tiff(SHEET), sheet=number, rows=1, columns=10)
    page = opened(server, "/measure/scan-001", width=390, height=844, has_touch=True, is_mobile=True)
    read(page)
    before = [float(page.locator(f"[name={name}]").input_value()) for name in CORNERS]
    right_px, down_px = per_percent(page, before)
    corner(page, 1).scroll_into_view_if_needed()
    x, y = middle(corner(page, 1))
    touch = page.context.new_cdp_session(page)
    touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 9):
        touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [{"x": x + 2 * step, "y": y + step}]})
    box = loupe(page).bounding_box()
    assert box is not None
    assert box["x"] > x + 16 + FINGER_PX or box["y"] + box["height"] < y + 8 - FINGER_PX, "the loupe stands away from the finger"
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    expect(loupe(page)).to_have_count(0)
    after = [float(page.locator(f"[name={name}]").input_value()) for name in CORNERS]
    assert math.isclose(after[0] - before[0], 16 / right_px, abs_tol=0.3), (before, after)
    assert math.isclose(after[1] - before[1], 8 / down_px, abs_tol=0.6)
    assert after[2:] == before[2:]
    page.get_by_role("button", name="Undo").click()
    assert [float(page.locator(f"[name={name}]").input_value()) for name in CORNERS] == before


def on_its_side(scan: bytes) -> bytes:
    """The same scan as a file that is higher than wide."""
    with tifffile.TiffFile(io.BytesIO(scan)) as file:
        turned, written = np.ascontiguousarray(np.rot90(file.asarray())), io.BytesIO()
    tifffile.imwrite(written, turned)
    return written.getvalue()


def test_the_whole_of_a_high_scan_is_shown(server: Served, opened: Opener) -> None:
    lying = Desk(server.address)
    (number,) = lying.begin("step sheet")
    scan = lying.hand_in(on_its_side(tiff(SHEET)), sheet=number, untagged="linear")
    lying.do("grid", scan=scan, corners_percent="1 1 99 1 99 99 1 99", rows=10, columns=1)
    lying.read(scan)
    page = opened(server, f"/measure/{scan}")
    expect(page.locator("#viewer[data-ready]")).to_be_visible()
    page.wait_for_timeout(300)  # the viewer follows the height of its stage
    stage = page.locator("#viewer .stage").bounding_box()
    assert stage is not None
    for one in (1, 2, 3, 4):
        x, y = middle(corner(page, one))
        assert stage["x"] <= x <= stage["x"] + stage["width"]
        assert stage["y"] <= y <= stage["y"] + stage["height"], f"corner {one} is cut off"


def loupe(page: Page) -> Locator:
    """The glass that is shown."""
    return page.locator(".loupe[data-shown]")


def tone_at(page: Page, of: Locator, across: float, down: float) -> tuple[int, int, int]:
    """The colour on the screen at a place of something, in shares of its width and height."""
    box = of.bounding_box()
    assert box is not None
    shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    found = shot.getpixel((round(box["x"] + across * box["width"]), round(box["y"] + down * box["height"])))
    assert isinstance(found, tuple)
    return found[0], found[1], found[2]


@pytest.mark.parametrize("theme", THEMES)
def test_the_loupe_shows_what_lies_under_the_corner(server: Served, opened: Opener, theme: str) -> None:
    """At corner 2, the end of the row, the lightest patch meets the black card: the patch lies left of it and below."""
    lying = Desk(server.address)
    (number,) = lying.begin("step sheet")
    scan = lying.hand_in(tiff(SHEET), sheet=number, rows=1, columns=10)
    lying.do("grid", scan=scan, corners_percent=corners_percent(10), rows=1, columns=10)
    lying.read(scan)
    page = opened(server, f"/measure/{scan}", theme=theme)
    expect(page.locator("#viewer[data-ready]")).to_be_visible()
    expect(loupe(page)).to_have_count(0)
    corner(page, 1).focus()
    page.keyboard.press("Tab")
    expect(loupe(page)).to_have_count(1)
    page.wait_for_timeout(800)  # its tiles come
    inside, outside = tone_at(page, loupe(page), 0.3, 0.7), tone_at(page, loupe(page), 0.7, 0.3)
    assert inside[0] > outside[0] + 60, "the light patch lies left of and below its corner, the card outside"
    if theme == "safelight":
        assert inside[1:] == outside[1:] == (0, 0), "no light but red"
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("Shift+ArrowDown")
    page.wait_for_timeout(400)
    assert tone_at(page, loupe(page), 0.5, 0.5)[0] > outside[0] + 60, "it goes with the corner"
    page.get_by_role("button", name="Undo").focus()
    expect(loupe(page)).to_have_count(0)


def test_the_size_of_a_place_by_mouse_by_keys_and_by_finger(server: Served, opened: Opener) -> None:
    lying = Desk(server.address)
    (number,) = lying.begin("mallet")
    scan = lying.hand_in(tiff(SHEET), shows="picture", sheet=number)
    lying.do("places", scan=scan, places="40 50 4 8 9.5\n97 90 2 4 12")
    lying.read(scan)
    page = opened(server, f"/measure/{scan}", has_touch=True)
    expect(page.locator("#viewer[data-ready]")).to_be_visible()
    page.wait_for_timeout(600)

    def size(place: int) -> list[float]:
        return [float(page.locator(f"[name='places.{place - 1}.{name}_percent']").input_value()) for name in ("width", "height")]

    sizer = page.get_by_role("button", name=re.compile("^Size of place 1:"))
    expect(sizer).to_have_count(0)
    page.get_by_role("button", name=re.compile("^Place 1:")).focus()
    page.keyboard.press("+")
    assert size(1) == [4.4, 8.8]
    page.keyboard.press("-")
    assert size(1) == [4.0, 8.0]
    page.keyboard.press("Tab")
    expect(sizer).to_be_focused()
    page.keyboard.press("Shift+ArrowRight")
    assert math.isclose(size(1)[0], 4 + 100 * 20 / WIDE_SCAN_PX, abs_tol=0.01), "ten pixels to each side"
    for _ in range(2):
        page.get_by_role("button", name="Undo").click()
    before = size(1)
    wide_px = page.locator(".stage").bounding_box()["width"]  # type: ignore[index]
    x, y = middle(sizer)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 20, y + 5, steps=5)
    expect(loupe(page)).to_have_count(1)
    page.mouse.up()
    dragged = size(1)
    assert math.isclose(dragged[0] - before[0], 100 * 40 / wide_px, rel_tol=0.2), "the corner follows, the middle stays"
    touch = page.context.new_cdp_session(page)
    x, y = middle(sizer)
    touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 6):
        touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [{"x": x - 400 * step, "y": y - 200 * step}]})
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    assert size(1)[0] == pytest.approx(100 * 4 / WIDE_SCAN_PX, abs=0.01), "never smaller than can be measured"
    page.get_by_role("button", name=re.compile("^Place 2:")).focus()
    stage, box = page.locator(".stage").bounding_box(), page.get_by_role("button", name=re.compile("^Size of place 2:")).bounding_box()
    assert stage is not None
    assert box is not None
    assert box["x"] + box["width"] <= stage["x"] + stage["width"], "at the edge of the scan it stands on the inner side"
    loop.press(page, "Measure these places")
    read(page)
    assert size(2) == [2, 4]


@pytest.fixture(scope="module")
def laid_out(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One scan in every state that a page can show."""
    folder = tmp_path_factory.mktemp("laid out")
    with Served(folder / "home") as found:
        lying = Desk(found.address)
        step, shot, other = lying.begin("step sheet", "mallet", "oakum")
        lying.calibrate(folder)
        lying.do("leave-out", scanner=SCANNER, step=7, reason="dust that does not come off")
        true = made("step sheet", STEP_SHEET_SEED)
        content = file_of("step sheet", folder, "step.tif", STEP_SHEET_SEED).read_bytes()
        lying.place(lying.hand_in(content, sheet=step, scanner=SCANNER, rows=true.rows, columns=true.columns), true)
        scan = lying.hand_in(file_of("picture", folder, "picture.tif").read_bytes(), shows="picture", sheet=shot, scanner=SCANNER)
        lying.do("places", scan=scan, places="40 45 2 2 9.5 planks\n60 55 2 2 12 sky")
        lying.read(scan)
        lying.hand_in(tiff(SHEET, with_profile=False), shows="picture", sheet=other)
        lying.hand_in(b"Dear Sir,", shows="picture", sheet=other)
        lying.hand_in(tiff(SHEET), shows="picture", sheet=other)
        yield found


LAID_OUT: Final = {
    "measure-list": "/measure",
    "scan-tablet": "/measure/scan-001",
    "scan-step-sheet": "/measure/scan-002",
    "scan-moved": "/measure/scan-002?x1=2&y1=3",
    "scan-places": "/measure/scan-003",
    "scan-without-profile": "/measure/scan-004",
    "scan-refused": "/measure/scan-005",
    "scan-without-scanner": "/measure/scan-006",
    "scanner-calibrated": f"/book/scanners/{quote(SCANNER)}",
    "scanned-sheet": "/book/26-002",
    "step-sheet-by-scan": "/findings/step-sheet?sheet=26-001&scan=scan-002",
}


@pytest.mark.parametrize("name", LAID_OUT)
def test_a_scan_in_every_way(opened: Opener, laid_out: Served, name: str) -> None:
    year = f"{time.gmtime().tm_year % 100:02}"
    page = opened(laid_out, LAID_OUT[name].replace("26-00", f"{year}-00"))
    page.evaluate("document.fonts.ready.then(() => 0)")
    if page.locator("#viewer").count():
        expect(page.locator("#viewer[data-ready]")).to_be_visible()
        page.wait_for_timeout(600)  # tiles fade in
    take_pictures(page, name)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    found = [problem for theme in THEMES for problem in in_this_light(page, theme)]
    found += [problem for width, percent in NARROW for problem in at_this_width(page, width, percent)]
    assert not found, "\n".join(found)
