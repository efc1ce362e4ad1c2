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
WIDTH: Final = 1280
README: Final = {  # page, and what stands last in the picture
    "camera": (f"/camera?{SCENE}&paper_ei=1.5", "#ledger table.ledger"),
    "shelf": ("/shelf", ".vessels"),
    "findings": ("/findings", ".curve-two"),
}
ROOM_BELOW: Final = 8


@pytest.mark.skipif(os.environ.get("SILVERWRIGHT_PICTURES") != "1", reason="the README's pictures are taken when SILVERWRIGHT_PICTURES=1")
@pytest.mark.parametrize("name", README)
def test_pictures_of_the_readme(opened: Opener, boatyard: Served, name: str) -> None:
    path, last = README[name]
    page = opened(boatyard, path, width=WIDTH)
    page.evaluate("document.fonts.ready.then(() => 0)")
    box = page.locator(last).bounding_box()
    assert box is not None
    png = page.screenshot(full_page=True, clip={"x": 0, "y": 0, "width": WIDTH, "height": box["y"] + box["height"] + ROOM_BELOW})
    PICTURES.mkdir(parents=True, exist_ok=True)
    taken = Image.open(io.BytesIO(png)).convert("RGB")
    taken.save(PICTURES / f"{name}.png", optimize=True)
    assert (PICTURES / f"{name}.png").stat().st_size < MOST_BYTES


def test_pictures_that_the_readme_shows_are_there() -> None:
    shown = [part.partition(")")[0] for part in (ROOT / "README.md").read_text(encoding="utf-8").split("](docs/pictures/")[1:]]
    assert shown, "the README shows what it is about"
    assert [name for name in shown if not (PICTURES / name).exists()] == []
    assert all((PICTURES / name).stat().st_size < MOST_BYTES for name in shown)
