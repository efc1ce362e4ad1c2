"""The README's pictures: taken from the boatyard into `docs/pictures/` when SILVERWRIGHT_PICTURES=1; without it, they are there and small."""

import io
import os
from pathlib import Path
from typing import Final

import pytest
from PIL import Image
from tests.pages.conftest import Opener
from tests.pages.everywhere import SCENE
from tests.pages.served import Served

ROOT: Final = Path(__file__).parents[2]
PICTURES: Final = ROOT / "docs" / "pictures"
MOST_BYTES: Final = 300_000
TONES: Final = 128  # our judgement: enough for ink, enamel and the grey steps
README: Final = {  # page, light, width, and what stands last in the picture
    "camera": (f"/camera?{SCENE}&paper_ei=1.5", "day", 1280, "#ledger table.ledger"),
    "findings": ("/findings", "day", 1280, ".curve-two"),
    "sheet": ("/book/26-005", "day", 1280, "ol.story"),
    "camera-safelight": ("/camera", "safelight", 390, ""),
}
ROOM_BELOW: Final = 24


@pytest.mark.skipif(os.environ.get("SILVERWRIGHT_PICTURES") != "1", reason="the README's pictures are taken when SILVERWRIGHT_PICTURES=1")
@pytest.mark.parametrize("name", README)
def test_pictures_of_the_readme(opened: Opener, boatyard: Served, name: str) -> None:
    path, theme, width, last = README[name]
    page = opened(boatyard, path, theme=theme, width=width, height=844)
    page.evaluate("document.fonts.ready.then(() => 0)")
    box = page.locator(last).bounding_box() if last else {"y": 0, "height": 844 - ROOM_BELOW}
    assert box is not None
    png = page.screenshot(full_page=bool(last), clip={"x": 0, "y": 0, "width": width, "height": box["y"] + box["height"] + ROOM_BELOW})
    PICTURES.mkdir(parents=True, exist_ok=True)
    taken = Image.open(io.BytesIO(png)).convert("RGB").quantize(TONES, dither=Image.Dither.NONE)
    taken.save(PICTURES / f"{name}.png", optimize=True)
    assert (PICTURES / f"{name}.png").stat().st_size < MOST_BYTES


def test_pictures_that_the_readme_shows_are_there() -> None:
    shown = [part.partition(")")[0] for part in (ROOT / "README.md").read_text(encoding="utf-8").split("](docs/pictures/")[1:]]
    assert shown, "the README shows what it is about"
    assert [name for name in shown if not (PICTURES / name).exists()] == []
    assert all((PICTURES / name).stat().st_size < MOST_BYTES for name in shown)
