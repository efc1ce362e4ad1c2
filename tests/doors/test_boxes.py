"""Task 1 by every door: two 8x10 sheets into eight 4x5 sheets, three holders loaded, six in, two spare, the box two fewer, codes printed."""

import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdf
import pytest
from click.testing import CliRunner
from django.test import Client

from silverwright import api
from silverwright.book.documents import document
from silverwright.cli.main import main
from silverwright.workshop.deeds import do

pytestmark = pytest.mark.django_db
PIECES = "box L, cut to 4x5 in"
CODES = ["upper left", "upper right", "both upper corners", "upper left and lower right", "both left corners", "upper right and lower left"]


def told(*words: str) -> str:
    done = CliRunner().invoke(main, list(words))
    assert done.exit_code == 0, done.output
    return done.output


def by_python(deed: str, given: dict[str, Any]) -> str:
    return do(deed, given).says


def by_command_line(deed: str, given: dict[str, Any]) -> str:
    return told(deed, *(word for name, value in given.items() for word in (f"--{name.replace('_', '-')}", str(value))))


def by_http(deed: str, given: dict[str, Any]) -> str:
    answer = Client().post(f"/api/do/{deed}", data=json.dumps(given), content_type="application/json")
    assert answer.status_code == 201, answer.content
    return str(answer.json()["says"])


def got(path: str) -> Any:
    answer = Client().get(path)
    assert answer.status_code == 200
    return answer.json()


def text(pdf: bytes) -> str:
    return " ".join("\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages).split())


@pytest.mark.parametrize("door", [by_python, by_command_line, by_http])
def test_cut_load_and_label(door: Callable[[str, dict[str, Any]], str], tmp_path: Path) -> None:
    door("paper", {"name": "RC paper, grade 2"})
    door("lot", {"name": "box L", "paper": "RC paper, grade 2", "size": "8x10 in", "sheets_left": 10})
    assert "8 pieces of 100.1 x 125.5" in door("cut-paper", {"lot": "box L", "sheets_to_cut": 2, "holder_size": "4x5 in"})
    for number in (1, 2, 3):
        door("holder", {"name": f"holder {number}", "size": "4x5 in"})
        says = door("load", {"holder": f"holder {number}", "side": "both", "lot": PIECES, "corner": "next free"})
    assert "2 left in" in says
    large, pieces = got("/api/boxes")
    assert (large["box"]["sheets_left"], pieces["box"]["sheets_left"], pieces["in_holders"]) == (8, 2, 6)
    assert large["cut_into"] == [PIECES]
    assert [side["corner"] for holder in got("/api/holders") for side in holder["sides"]] == CODES
    out = tmp_path / "holders.pdf"
    assert "6 labels" in told("sheet-labels", "--what", "holder sides", "--size", "a4", "--out", str(out))
    printed = text(out.read_bytes())
    assert all(f"clip {code}" in printed for code in CODES)


def test_boxes_and_holders_are_the_same_through_every_door() -> None:
    do("paper", {"name": "RC paper, grade 2"})
    do("lot", {"name": "box L", "paper": "RC paper, grade 2", "size": "8x10 in", "sheets_left": 10})
    do("cut-paper", {"lot": "box L", "holder_size": "5x7 in"})
    do("chip", {"lot": "box L", "shows": "base white", "density": 0.06})
    do("chip", {"lot": "box L", "shows": "base white", "density": 0.07})
    do("holder", {"name": "holder 1"})
    for name, found in (("boxes", api.boxes()), ("holders", api.holders())):
        by_api = json.loads(json.dumps(document(found)))
        assert got(f"/api/{name}") == by_api
        assert json.loads(told(name, "--json")) == by_api
    assert [chip.density for chip in api.boxes()[0].chips] == [0.07], "the newest of a kind counts"
    assert got("/api/boxes/box%20L")["box"]["name"] == "box L"
    assert Client().get("/api/boxes/nowhere").status_code == 404
    people = told("boxes")
    for words in ("Cut into     box L, cut to 5x7 in", "1 of 26.9 x 254", "base white 0.07", "truly 125.5 x 176.3"):
        assert words in people, people


def test_an_empty_book_says_what_to_do() -> None:
    assert "silverwright lot" in told("boxes")
    assert "silverwright holder" in told("holders")
