"""
Pictures of every page, to be looked at: into the ignored folder `shots/`.

With SILVERWRIGHT_PICTURES=1 the README's pictures are taken anew, into `docs/pictures/`.
"""

import io
import os
from pathlib import Path
from typing import Final

import pytest
from PIL import Image
from playwright.sync_api import Page
from tests.pages.conftest import Opener
from tests.pages.everywhere import EMPTY, FILLED, SCENE, THEMES
from tests.pages.served import Served

ROOT: Final = Path(__file__).parents[2]
SHOTS: Final = ROOT / "shots"
PICTURES: Final = ROOT / "docs" / "pictures"
WIDTHS: Final = {"desktop": (1280, 900), "phone": (390, 844)}
MOST_BYTES: Final = 300_000
TONES: Final = 128  # our judgement: enough for ink, enamel and the grey steps
README: Final = {
    "camera": (f"/camera?{SCENE}&paper_ei=1.5&paper=RC+paper%2C+grade+2", "day", 1280, 1180),
    "findings": ("/findings", "day", 1280, 1120),
    "book": ("/book", "day", 1280, 1000),
    "camera-safelight": ("/camera", "safelight", 390, 844),
}


def ready(page: Page) -> None:
    """Its fonts are there."""
    page.evaluate("document.fonts.ready.then(() => 0)")


@pytest.mark.parametrize("size", WIDTHS)
@pytest.mark.parametrize("theme", THEMES)
def test_every_page_is_taken(opened: Opener, boatyard: Served, empty: Served, theme: str, size: str) -> None:
    SHOTS.mkdir(exist_ok=True)
    width, height = WIDTHS[size]
    for server, every in ((boatyard, FILLED), (empty, EMPTY)):
        page = opened(server, "/", theme=theme, width=width, height=height)
        for name, path in every.items():
            page.goto(server.address + path)
            ready(page)
            page.screenshot(path=SHOTS / f"{name}-{size}-{theme}.png", full_page=True)


@pytest.mark.skipif(os.environ.get("SILVERWRIGHT_PICTURES") != "1", reason="the README's pictures are taken when SILVERWRIGHT_PICTURES=1")
@pytest.mark.parametrize("name", README)
def test_pictures_of_the_readme(opened: Opener, boatyard: Served, name: str) -> None:
    path, theme, width, height = README[name]
    page = opened(boatyard, path, theme=theme, width=width, height=height)
    ready(page)
    PICTURES.mkdir(parents=True, exist_ok=True)
    taken = Image.open(io.BytesIO(page.screenshot())).convert("RGB").quantize(TONES, dither=Image.Dither.NONE)
    taken.save(PICTURES / f"{name}.png", optimize=True)
    assert (PICTURES / f"{name}.png").stat().st_size < MOST_BYTES


def test_pictures_that_the_readme_shows_are_there() -> None:
    shown = [part.partition(")")[0] for part in (ROOT / "README.md").read_text(encoding="utf-8").split("](docs/pictures/")[1:]]
    assert shown, "the README shows what it is about"
    assert [name for name in shown if not (PICTURES / name).exists()] == []
    assert all((PICTURES / name).stat().st_size < MOST_BYTES for name in shown)
