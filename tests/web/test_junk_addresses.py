"""Whatever stands in an address of the Camera and its pages, the page comes, and no word of a machine is on it."""

import re
from random import Random
from typing import Any, Final
from urllib.parse import urlencode

import pytest
from django.test import Client
from tests.web.book_in_hand import LENS, PAPER, begin

from silverwright.asking.fields import Choice, Mark, Quantity, fields_of
from silverwright.asking.rows import Rows
from silverwright.catalogue import find
from silverwright.web.pages.camera_sections import SECTIONS
from silverwright.workshop.scene import EitherForm

pytestmark = pytest.mark.django_db
MANY: Final = 80
PAGES: Final = ("/camera", "/camera", "/camera/record", "/camera/exposing", "/camera/fieldpage")
WAYS: Final = ("ev", "lx", "cd", "dial", "flash", "nothing")
JUNK: Final = ("", "?", "0", "-1", "1e-300", "1e300", "nan", "-inf", "1/0", "½", "٣", "\x00", "9" * 400, "x" * 3000, "f/22", "<b>$x</b>", "12:61")
TABLES: Final = ("x", "1", "1 2 3 4 5 6", "a,b\nc", "nan nan", "0 0\n0 0", "1e-300 1e-300", "60 9\n30 8", "9,skin\n4,black", ",,,,", '"', "1\t2")
FLASHES: Final[tuple[dict[str, str], ...]] = (
    {"flash_meter_f": "f/11", "flash_meter_ei": "3"},
    {"guide_number": "45", "guide_unit": "m", "guide_ei": "100", "flash_distance_mm": "2 m"},
    {"energy_ws": "600"},
)
FIELDS: Final = {
    name: (mark, str(form.model_fields[name].annotation))
    for form in (EitherForm, *(find(section.operation).question for section in SECTIONS))
    for name, mark in fields_of(form).items()
}
OF_A_MACHINE: Final = re.compile(r"\bnan\b|\binf\b|\bNone\b|Traceback|pydantic|Input should|\be[+-]\d\d\b")
TYPED: Final = re.compile(r'value="[^"]*"|href="[^"]*"|data-[a-z-]+="[^"]*"|<textarea.*?</textarea>|<code>.*?</code>|<[^>]+>', re.DOTALL)


def likely(mark: Mark, words: str, dice: Random) -> str:
    """Something that the field allows: its ends, anything between, its example."""
    if isinstance(mark, Quantity):
        return dice.choice([f"{mark.low:g}", f"{mark.high:g}", f"{mark.low + (mark.high - mark.low) * dice.random() ** 4:g}", str(mark.example)])
    if isinstance(mark, Choice):
        choices: list[str] = re.findall(r"'([^']+)'", words)
        return dice.choice(choices or [str(mark.example)])
    return str(mark.example)


def query(dice: Random) -> list[tuple[str, str]]:
    """A scene with up to five fields changed and up to four sections open."""
    by = dice.choice(WAYS)
    asked = {"by": by, "reading_ev": "10", "aperture_f": "f/11", "extension_mm": "231", "focal_mm": "210", "paper_ei": "3"}
    asked |= dice.choice(FLASHES) if by == "flash" else {}
    asked |= {"paper": PAPER, "lens": LENS} if dice.random() < 0.5 else {}
    for name in dice.sample(list(FIELDS), dice.randint(0, 5)):
        mark, words = FIELDS[name]
        junk = (*JUNK, *TABLES) if isinstance(mark, Rows) else JUNK
        asked[name] = likely(mark, words, dice) if dice.random() < 0.7 else dice.choice(junk)
    opened = dice.sample([section.name for section in SECTIONS], dice.randint(0, 4))
    return [*asked.items(), *(("open", name) for name in opened)]


@pytest.mark.parametrize("seed", range(3))
def test_a_page_comes_whatever_is_asked(client: Client, seed: int) -> None:
    begin()
    dice = Random(seed)
    for _ in range(MANY // 3):
        page, asked = dice.choice(PAGES), query(dice)
        headers: dict[str, Any] = {"HX-Request": "true"} if dice.random() < 0.5 else {}
        answer = client.get(f"{page}?{urlencode(asked, errors='replace')}", headers=headers)
        assert answer.status_code < 500, (page, asked)
        shown = TYPED.sub(" ", answer.content.decode())
        typed = {value for _, value in asked}
        assert not [one for one in OF_A_MACHINE.findall(shown) if not any(one in value for value in typed)], (page, asked)
