"""
Every page, visited once and looked at in every way: axe, three lights, wide and narrow, large text; the browser's complaints count too.

The visits leave their pictures in the ignored folder `shots/`, to be looked at by people.
"""

from pathlib import Path
from typing import Final

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.pages.conftest import Opener
from tests.pages.everywhere import EMPTY, FILLED, THEMES
from tests.pages.pixels import pixels

SHOTS: Final = Path(__file__).parents[2] / "shots"
EVERY_RULE: Final = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
WHAT_LIGHT_CHANGES: Final = {"type": "rule", "values": ["color-contrast", "link-in-text-block", "target-size"]}  # words and marks stay the same
SIZES: Final = {"desktop": (1280, 900), "phone": (390, 844)}
NARROW: Final = ((390, 100), (320, 100), (1280, 200), (640, 200))  # width, text in percent
MOST_LIT: Final = 0.15  # our judgement: look.md has 5 % on the bench; a page of words has more
DARK: Final = 0x37  # the wash of the safelight's tokens: everything up to it carries no text
PAGES: Final = [pytest.param(book, name, id=name) for book, every in (("boatyard", FILLED), ("empty", EMPTY)) for name in every]


@pytest.mark.parametrize(("book", "name"), PAGES)
def test_a_page_in_every_way(opened: Opener, request: pytest.FixtureRequest, book: str, name: str) -> None:
    page = opened(request.getfixturevalue(book), {**FILLED, **EMPTY}[name])
    page.evaluate("document.fonts.ready.then(() => 0)")
    assert page.get_by_label("Invented data").count() == (book == "boatyard"), "invented data says so, and only invented data"
    take_pictures(page, name)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")  # what is folded away is looked at too
    found = [problem for theme in THEMES for problem in in_this_light(page, theme)]
    found += [problem for width, percent in NARROW for problem in at_this_width(page, width, percent)]
    assert not found, "\n".join(found)


def light(page: Page, theme: str) -> None:
    """The light in the room: the server writes this attribute, and nothing else differs."""
    page.evaluate("theme => { document.documentElement.dataset.theme = theme }", theme)


def take_pictures(page: Page, name: str) -> None:
    """As a person finds it, in every light."""
    SHOTS.mkdir(exist_ok=True)
    for size, (width, height) in SIZES.items():
        page.set_viewport_size({"width": width, "height": height})
        for theme in THEMES:
            light(page, theme)
            page.screenshot(path=SHOTS / f"{name}-{size}-{theme}.png", full_page=True)
    page.set_viewport_size({"width": 1280, "height": 900})


def in_this_light(page: Page, theme: str) -> list[str]:
    """What axe finds, and under the safelight every pixel that is not red or black."""
    light(page, theme)
    options = {"runOnly": EVERY_RULE if theme == "day" else WHAT_LIGHT_CHANGES, "resultTypes": ["violations"]}
    found = Axe().run(page, options=options).response["violations"]
    told = [f"{theme}, {one['id']} ({one['impact']}): {'; '.join(node['html'][:160] for node in one['nodes'][:3])}" for one in found]
    return told + (not_red(page) if theme == "safelight" else [])


def not_red(page: Page) -> list[str]:
    """Green or blue anywhere, or too much light in all."""
    seen = pixels(page.screenshot(full_page=True))
    found = []
    if leak := int(seen[..., 1:].max()):
        row, column = (int(one[0]) for one in (seen[..., 1:].max(axis=2) == leak).nonzero())
        found.append(f"green or blue up to {leak} near x {column}, y {row}")
    lit = float((seen[..., 0] > DARK).mean())
    return found + ([f"{lit:.0%} of the page is lit"] if lit > MOST_LIT else [])


def at_this_width(page: Page, width: int, percent: int) -> list[str]:
    """What stands out to the right, where one would have to scroll sideways."""
    page.set_viewport_size({"width": width, "height": 844})
    page.evaluate("percent => { document.documentElement.style.fontSize = percent + '%' }", percent)
    wide: str = page.evaluate(TOO_WIDE)
    return [f"{width} px, text {percent} %: {wide}"] if wide else []


TOO_WIDE: Final = """() => {
  const room = document.documentElement.clientWidth
  if (document.documentElement.scrollWidth <= room) return ''
  const held = one => one.closest('.hide, .skip, svg') || (one.parentElement && one.parentElement.closest('.scroll, .grid'))
  const wide = [...document.querySelectorAll('body *')].filter(one => !held(one) && one.getBoundingClientRect().right > room + 1)
  return `${document.documentElement.scrollWidth} px: ` + wide.slice(-2).map(one => one.outerHTML.slice(0, 120)).join(' ')
}"""
