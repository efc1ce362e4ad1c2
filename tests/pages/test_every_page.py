"""Every page: nothing that axe finds, nothing that scrolls sideways, nothing but red under the safelight, nothing that the browser complains of."""

from collections.abc import Mapping

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.pages.conftest import Opener
from tests.pages.everywhere import EMPTY, FILLED, THEMES
from tests.pages.pixels import pixels
from tests.pages.served import Served

EVERY_RULE = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
WHAT_THEMES_CHANGE = {"type": "rule", "values": ["color-contrast", "link-in-text-block", "target-size"]}  # the words and marks are the same in each
books = pytest.mark.parametrize(("book", "every"), [("boatyard", FILLED), ("empty", EMPTY)], ids=["boatyard", "empty book"])


@pytest.fixture
def server(request: pytest.FixtureRequest, book: str) -> Served:
    found: Served = request.getfixturevalue(book)
    return found


def shown(page: Page, server: Served, path: str) -> None:
    """The page with its fonts, every drawer open: what is folded away is looked at too."""
    page.goto(server.address + path)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    page.evaluate("document.fonts.ready.then(() => 0)")


def violations(page: Page, theme: str) -> list[str]:
    """What axe finds: the rule, and where."""
    options = {"runOnly": EVERY_RULE if theme == "day" else WHAT_THEMES_CHANGE, "resultTypes": ["violations"]}
    found = Axe().run(page, options=options).response["violations"]
    return [f"{one['id']} ({one['impact']}): {'; '.join(node['html'][:160] for node in one['nodes'][:3])}" for one in found]


@books
@pytest.mark.parametrize("theme", THEMES)
def test_axe_finds_nothing(opened: Opener, server: Served, every: Mapping[str, str], theme: str) -> None:
    page = opened(server, "/", theme=theme)
    found = []
    for name, path in every.items():
        shown(page, server, path)
        found += [f"{name}: {one}" for one in violations(page, theme)]
    assert not found, "\n".join(found)


@books
@pytest.mark.parametrize(("width", "percent"), [(320, 100), (390, 100), (1280, 200), (640, 200)], ids=str)
def test_nothing_scrolls_sideways(opened: Opener, server: Served, every: Mapping[str, str], width: int, percent: int) -> None:
    page = opened(server, "/", width=width, height=844)
    found = []
    for name, path in every.items():
        shown(page, server, path)
        if percent != 100:
            page.evaluate("percent => document.documentElement.style.setProperty('font-size', percent + '%')", percent)
        wide = page.evaluate(TOO_WIDE)
        found += [f"{name}: {wide}"] if wide else []
    assert not found, "\n".join(found)


TOO_WIDE = """() => {
  const room = document.documentElement.clientWidth
  if (document.documentElement.scrollWidth <= room) return ''
  const held = one => one.closest('.hide, .skip, svg') || (one.parentElement && one.parentElement.closest('.scroll, .grid'))
  const wide = [...document.querySelectorAll('body *')].filter(one => !held(one) && one.getBoundingClientRect().right > room + 1)
  return `${document.documentElement.scrollWidth} of ${room}: ` + wide.slice(-2).map(one => one.outerHTML.slice(0, 120)).join(' ')
}"""


@books
def test_safelight_is_pure_red_on_black(opened: Opener, server: Served, every: Mapping[str, str]) -> None:
    page = opened(server, "/", theme="safelight")
    found = []
    for name, path in every.items():
        shown(page, server, path)
        seen = pixels(page.screenshot(full_page=True))
        leak = int(seen[..., 1:].max())
        if leak:
            row, column = (int(one[0]) for one in (seen[..., 1:].max(axis=2) == leak).nonzero())
            found.append(f"{name}: green or blue up to {leak} near x {column}, y {row}")
        lit = float((seen[..., 0] > 0x37).mean())
        found += [f"{name}: {lit:.0%} of the page is lit"] if lit > 0.15 else []
    assert not found, "\n".join(found)
