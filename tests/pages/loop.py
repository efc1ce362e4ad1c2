"""The loop of the issue, by typing and clicking only: what a person does, page after page, with script or without."""

import json
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Locator, Page, expect
from tests.loop.still_life import BOX, DENSITIES, EIGHTY_PERCENT_SD, HOLDER, LENS, LOG_EXPOSURES, PAPER, STEPS, SUBJECT, document

from silverwright import api

TYPING_RESTS_MS = 250  # the pages wait 150 ms after the last key


@dataclass(frozen=True)
class ShownLine:
    """A line of the ledger as a person reads it."""

    what: str
    stops: float
    doubt_stops: float


def field(page: Page | Locator, label: str) -> Locator:
    """The field with exactly this label."""
    return page.get_by_label(label, exact=True)


def fill(page: Page, fields: Mapping[str, str]) -> None:
    """Type into fields, and choose where there is something to choose from."""
    for label, text in fields.items():
        one = field(page, label)
        if one.evaluate("one => one.tagName") == "SELECT":
            one.select_option(text)
        else:
            one.fill(text)


def press(page: Page, words: str) -> None:
    """Press the plate with these words."""
    page.get_by_role("main").get_by_role("button", name=words, exact=True).click()


def follow(page: Page, words: str) -> None:
    """Follow the link with these words in the page's matter."""
    page.get_by_role("main").get_by_role("link", name=words, exact=True).click()


def place(page: Page, words: str) -> None:
    """Go to a place by the navigation."""
    page.get_by_role("navigation", name="Places").get_by_role("link", name=words, exact=True).click()


def recorded(page: Page) -> str:
    """What the page says that it has just recorded."""
    return " ".join(page.get_by_role("status").filter(has_text="Recorded.").inner_text().split())


def answered(page: Page, *, script: bool) -> None:
    """The answer to what stands in the form now: by itself while one types, by its plate without script."""
    if not script:
        press(page, "Answer")
        return
    page.wait_for_timeout(TYPING_RESTS_MS)
    expect(page.locator(".htmx-request, .htmx-swapping, .htmx-settling, .htmx-added")).to_have_count(0)


def enter_gear(page: Page) -> None:
    """Paper, box, lens and a holder come into an empty book, starting from its first page."""
    follow(page, "Enter a paper")
    fill(page, {"Name": PAPER, "Surface": "glossy", "Base": "RC", "Contrast": "graded", "Grade": "2"})
    press(page, "Record it")
    assert f"Paper “{PAPER}” is in the book." in recorded(page)
    place(page, "Shelf")
    page.get_by_role("main").get_by_role("link", name="Enter a box", exact=True).first.click()
    fill(page, {"Name": BOX, "Paper": PAPER, "Size": "4x5 in", "Sheets left": "25"})
    press(page, "Record it")
    assert "is in the book" in recorded(page)
    for shelf, act, fields in (
        ("Lenses", "Enter a lens", {"Name": LENS, "Focal length": "210"}),
        ("Holders", "Enter a holder", {"Name": HOLDER}),
    ):
        place(page, "Book")
        page.get_by_role("main").get_by_role("link", name=re.compile(f"^{shelf} ")).click()
        page.get_by_role("main").get_by_role("link", name=act, exact=True).first.click()
        fill(page, fields)
        press(page, "Record it")
        assert "is in the book" in recorded(page)


def load_a_side(page: Page) -> None:
    """Side 1 of the holder gets a sheet from the box."""
    place(page, "Book")
    page.get_by_role("main").get_by_role("link", name=re.compile("^Holders ")).click()
    page.get_by_role("link", name="Load it").first.click()
    expect(field(page, "Holder")).to_have_value(HOLDER)
    expect(field(page, "Side")).to_have_value("1")
    fill(page, {"Box": BOX})
    press(page, "Record it")
    assert "24 left in “box A”" in recorded(page)


def plan_the_still_life(page: Page, *, script: bool) -> None:
    """EV 10, 210 mm at 315 mm, f/22, EI 1.5: everything typed on the Camera."""
    place(page, "Camera")
    page.locator("summary").filter(has_text="Change").click()
    fill(page, {"Paper": PAPER, "Lens": LENS})
    answered(page, script=script)
    fill(page, {"Reading": "10", "Bellows extension": "315", "Aperture": "f/22"})
    fill(page, {"Paper's EI": "1.5"})
    page.locator("summary").filter(has_text="Meter").click()
    fill(page, {"Meter constant K": "12.5"})
    answered(page, script=script)
    expect(page.locator("#time_s")).to_have_text("1:37")


def exact(page: Page, name: str) -> dict[str, Any]:
    """The exact answer behind a figure of the page."""
    found: dict[str, Any] = json.loads(page.locator(f"data[id='{name}']").get_attribute("value") or "{}")
    return found


def shown_ledger(page: Page) -> tuple[list[ShownLine], ShownLine]:
    """Every line as it stands on the page, the folded ones too, and the total."""
    table = page.locator("#ledger table.ledger")
    rows = [_line(row) for row in table.locator("tbody tr").all()]
    folded = [one.text_content() or "" for one in page.locator("#ledger .folded li").all()]
    rows += [ShownLine(what, float(_plain(amount)), float(doubt)) for what, amount, doubt in (_folded(one) for one in folded)]
    return rows, _line(table.locator("tfoot tr"))


def _line(row: Locator) -> ShownLine:
    amount, doubt = row.locator("td.num").all_inner_texts()
    return ShownLine(" ".join(row.locator("th").inner_text().split()), float(_plain(amount)), float(doubt))


def _folded(text: str) -> Sequence[str]:
    found = re.search(r"^(.*): ([+\N{MINUS SIGN}]?\d+\.\d+) ± (\d+\.\d+)", " ".join(text.split()))
    assert found, text
    return found.groups()


def _plain(amount: str) -> str:
    return amount.replace("\N{MINUS SIGN}", "-")


def seconds(shown: str) -> float:
    """`1:37` or `33 s` as a person reads it."""
    if ":" in shown:
        minutes, rest = shown.split(":")
        return 60 * int(minutes) + float(rest)
    return float(shown.removesuffix("s").strip())


def check_limits_by_hand(page: Page) -> None:
    """The time is the sum of the lines; its limits are their doubts in quadrature, 1.2816 times, on both sides."""
    lines, total = shown_ledger(page)
    stops = sum(line.stops for line in lines)
    doubt_stops = math.sqrt(sum(line.doubt_stops**2 for line in lines))
    assert math.isclose(stops, total.stops, abs_tol=0.005 * (len(lines) + 1)), "each line is rounded to the hundredth"
    assert math.isclose(doubt_stops, total.doubt_stops, abs_tol=0.011)
    time_s = seconds(page.locator("#time_s").inner_text())
    assert math.isclose(time_s, 2**stops, rel_tol=0.005 * len(lines) * math.log(2) + 0.5 / time_s)
    high, low = page.locator("#answer .big .lim span:not(.hide)").all_inner_texts()
    for shown, sign in ((high, 1), (low, -1)):
        by_hand_s = time_s * 2 ** (sign * EIGHTY_PERCENT_SD * doubt_stops)
        assert math.isclose(seconds(shown), by_hand_s, rel_tol=0.011 * EIGHTY_PERCENT_SD * math.log(2) + 0.5 / time_s, abs_tol=0.5), (
            shown,
            by_hand_s,
        )


def check_the_still_life(page: Page) -> None:
    """33.3 s before corrections, bellows 1.17, reciprocity 0.37: 97 s, a mirror image."""
    lines, _ = shown_ledger(page)
    by_word = {word: next(line for line in lines if word in line.what) for word in ("Reading", "paper's EI", "Extension", "Reciprocity")}
    assert by_word["Extension"].stops == 1.17
    assert by_word["Reciprocity"].stops == 0.37
    before_s = 2 ** (by_word["Reading"].stops + by_word["paper's EI"].stops)
    assert math.isclose(before_s, 33.3, rel_tol=0.008), "two lines, each rounded to the hundredth of a stop"
    assert math.isclose(exact(page, "time_s")["value"], 97, abs_tol=0.5)
    asked = api.ask("exposure.ledger", reading_ev=10, meter_k=12.5, focal_mm=210, extension_mm=315, aperture_f="f/22", paper_ei=1.5, ei_from="typed")
    assert exact(page, "time_s") == document(asked)["time_s"], "Python answers the same"
    assert "mirror image" in page.locator("#ledger").inner_text()
    check_limits_by_hand(page)


def record_the_sheet(page: Page) -> str:
    """Record it in side 1 of the holder; its number."""
    page.get_by_role("main").get_by_role("link", name="Record a sheet", exact=True).first.click()
    fill(page, {"Subject": SUBJECT, "Holder": HOLDER, "Side": "1"})
    expect(field(page, "Time given")).to_have_value("97")
    press(page, "Record a sheet")
    found = re.search(r"Sheet (\d\d-\d{3}) is in the book, 97 s", recorded(page))
    assert found, recorded(page)
    return found[1]


def record_the_processing(page: Page) -> None:
    """From the sheet's own page: eight steps of a reversal."""
    follow(page, "Record its processing")
    for row, (step, time, warm) in enumerate(STEPS, start=1):
        field(page, f"Step, row {row}").select_option(step)
        field(page, f"Time of the step, row {row}").fill(time)
        field(page, f"Temperature, row {row}").fill(warm)
    press(page, "Record it")
    assert "processed as direct positive, 8 steps" in recorded(page)


def enter_densities(page: Page) -> None:
    """Twelve patches with typed log exposures under metered light, and learn."""
    follow(page, "Enter its densities")
    page.get_by_role("main").get_by_role("link", name=re.compile("^Typed")).click()
    fill(page, {"Log exposure": " ".join(map(str, LOG_EXPOSURES)), "Metered": "yes", "Densities": " ".join(map(str, DENSITIES))})
    press(page, "Record and learn its curve")


def check_what_was_learnt(page: Page) -> None:
    """Range 0.854 and EI 6.8 lie inside the intervals that the page shows."""
    page.locator("summary").filter(has_text="Other figures").click()
    for name, true in (("curve-range_log10", 0.854), ("curve-camera_ei", 6.8)):
        figure = page.locator(f"data[id='{name}']")
        high, low = (float(text) for text in figure.locator(".lim span:not(.hide)").all_inner_texts())
        assert low < true < high, f"{name}: {low} to {high}"
        assert low < exact(page, name)["value"] < high
    asked = document(api.ask("sensitometry.curve", densities=DENSITIES, exposure_log10=LOG_EXPOSURES, metered=True))
    for name in ("camera_ei", "range_log10"):
        assert math.isclose(exact(page, f"curve-{name}")["value"], asked[name]["value"], rel_tol=1e-9), "Python answers the same"
    expect(page.locator("figure.chart svg")).to_be_visible()
