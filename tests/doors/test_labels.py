"""Labels through every door: the same words by Python, command line, HTTP and page, and codes that lead back to the thing."""

import io
import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pypdf
import pytest
import zxingcpp
from click.testing import CliRunner, Result
from django.test import Client
from PIL import Image
from tests.workshop.boatyard import PAPER, exposed, gear

from silverwright import api
from silverwright.book.models import Act
from silverwright.cli.main import SECTIONS, main
from silverwright.errors import BadQuestion
from silverwright.report.labels import MOST_LABELS, OPEN, VENTED, WORKROOM, labels_png
from silverwright.workshop.deeds import do
from silverwright.workshop.labels import sheet_labels, shelf_labels

pytestmark = pytest.mark.django_db


def told(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def posted(name: str, given: dict[str, Any], query: str = "") -> Any:
    return Client().post(f"/api/{name}{query}", data=json.dumps(given), content_type="application/json")


def text(pdf: bytes) -> str:
    return " ".join("\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages).split())


def bench() -> None:
    """A bottle, a bath from it, and a waste bottle."""
    do("stock", {"name": "blue can", "substance": "hydrogen peroxide", "strength": 35, "strength_unit": "% w/w", "bought_ml": "1 L"})
    do("mix", {"name": "B-05", "role": "bleach", "volume_ml": "1 L", "taken": "blue can; 257; g", "kept_in": "bottle", "vented": True})
    do("waste-bottle", {"name": "waste: bleach", "capacity_ml": "5 L", "vented": True})


def holders() -> None:
    gear()
    do("load", {"holder": "holder 1", "side": "both", "lot": "box A", "corner": "next free"})


@pytest.mark.parametrize("size", ["62x29", "a4", "us-letter"])
def test_labels_of_the_shelf_are_the_same_through_every_door(tmp_path: Path, size: Any) -> None:
    bench()
    by_python = text(api.labels(size, what="baths"))
    for words in ("B-05", "hydrogen peroxide", "% w/w", VENTED, WORKROOM):
        assert words in by_python, words
    out = tmp_path / "labels.pdf"
    done = told("labels", "--what", "baths", "--size", size, "--out", str(out))
    assert done.exit_code == 0, done.output
    assert "1 label," in done.output
    assert text(out.read_bytes()) == by_python
    assert text(posted("labels", {"what": "baths"}, f"?size={size}").content) == by_python
    by_page = Client().get("/shelf/labels.pdf", {"what": "baths", "size": size})
    assert by_page["Content-Type"] == "application/pdf"
    assert text(by_page.content) == by_python
    assert Act.objects.filter(deed__contains="label").count() == 0, "nothing is kept"


def test_labels_of_sheets_and_holders_are_the_same_through_every_door(tmp_path: Path) -> None:
    holders()
    number = exposed(holder="holder 1", side="1", paper=PAPER)
    for given in ({"names": number}, {"what": "holder sides"}):
        by_python = text(api.sheet_labels("62x29", **given))
        assert "upper left" in by_python
        assert number in by_python
        out = tmp_path / "sheets.pdf"
        words = [word for name, value in given.items() for word in (f"--{name}", value)]
        assert told("sheet-labels", *words, "--out", str(out)).exit_code == 0
        assert text(out.read_bytes()) == by_python
        assert text(posted("sheet-labels", given).content) == by_python
        assert text(Client().get("/book/labels.pdf", given).content) == by_python


def test_everything_on_the_shelf_has_a_label() -> None:
    bench()
    assert [label.name for label in shelf_labels({})] == ["blue can", "B-05", "waste: bleach"]
    assert [label.name for label in shelf_labels({"names": "waste: bleach\nB-05"})] == ["waste: bleach", "B-05"]
    assert [label.code for label in shelf_labels({"what": "bottles"})] == ["stock blue can"]


def test_hazards_are_those_of_the_strength_in_the_vessel() -> None:
    """35 % and 9 % of peroxide are not one thing; a product of nobody's tables is named, never silent."""
    bench()
    do("stock", {"name": "hardener", "substance": "gelatine hardener X", "bought_ml": 500})
    strong, weak, waste = shelf_labels({"names": "blue can\nB-05\nwaste: bleach"})
    (strange,) = shelf_labels({"names": "hardener"})
    assert strong.danger is not None
    assert weak.danger is not None
    assert strange.danger is not None
    assert (strong.danger.signal, strong.cap) == ("Danger", VENTED)
    assert {"H302", "H335", "H318"} <= set(re.findall(r"H\d{3}", strong.danger.says))
    assert "H318" in weak.danger.says
    assert "H302" not in weak.danger.says
    assert "data sheet" in strange.danger.unknown
    assert waste.danger is None
    assert "H318" in text(api.labels(names="B-05"))


def test_a_tray_has_no_cap() -> None:
    bench()
    do("mix", {"name": "tray 2", "role": "bleach", "volume_ml": "1 L", "taken": "blue can; 200; g", "kept_in": "tray"})
    assert [label.cap for label in shelf_labels({"what": "baths"})] == [VENTED, OPEN]


def test_what_nobody_looked_up_says_so_on_the_label() -> None:
    do("stock", {"name": "lye", "substance": "sodium hydroxide", "strength": 10, "strength_unit": "% w/w", "bought_ml": 500})
    assert "From memory, unverified: H" in text(api.labels())


def test_an_unclear_label_counts_as_the_stronger_reading() -> None:
    """35 % by volume is 31.3 % by weight, by weight 35 %: from there on the airways are told."""
    for unit, told in (("%, label unclear", True), ("% w/w", True), ("% w/v", False)):
        do("stock", {"name": unit, "substance": "hydrogen peroxide", "strength": 35, "strength_unit": unit, "bought_ml": 500})
        (label,) = shelf_labels({"names": unit})
        assert label.danger is not None
        assert ("H335" in label.danger.says) == told


def test_a_proposal_is_no_law() -> None:
    bench()
    do("workroom", {"rules": "proposal of July 2024"})
    assert "By a proposal, not law." in text(api.labels(names="B-05"))


def test_the_code_leads_to_the_page_of_the_thing() -> None:
    bench()
    (label,) = shelf_labels({"names": "B-05", "address": "http://darkroom.example:8000"})
    image = Image.open(io.BytesIO(labels_png([label])[0])).convert("L")
    (code,) = zxingcpp.read_barcodes(np.asarray(image))
    assert code.text == "http://darkroom.example:8000/go/bath/B-05"
    moved = Client().get(code.text.removeprefix("http://darkroom.example:8000"))
    assert moved.status_code == 302
    assert "B-05" in Client().get(moved["Location"]).content.decode()


@pytest.mark.parametrize("name", ["26-001", "holder 1/2"])
def test_a_name_with_a_stroke_or_a_blank_is_found(name: str) -> None:
    holders()
    exposed(holder="holder 1", side="1", paper=PAPER)
    given = {"what": "holder sides", "address": "http://darkroom.example"} if "/" in name else {"address": "http://darkroom.example"}
    codes = [label.code.removeprefix("http://darkroom.example") for label in sheet_labels(given)]
    assert all(Client().get(Client().get(code)["Location"]).status_code == 200 for code in codes)


@pytest.mark.parametrize(
    ("labels", "given", "field", "words"),
    [
        (shelf_labels, {}, "names", "Nothing of that stands on the shelf"),
        (shelf_labels, {"names": "B-99\nC-1"}, "names", "“C-1”"),
        (shelf_labels, {"address": "darkroom"}, "address", "begins with"),
        (sheet_labels, {"what": "holder sides"}, "names", "No side"),
        (sheet_labels, {"names": "26-900 26-901"}, "names", "“26-901”"),
        (sheet_labels, {}, "names", "No sheet is in the book"),
    ],
)
def test_refused_in_words(labels: Any, given: dict[str, str], field: str, words: str) -> None:
    with pytest.raises(BadQuestion) as bad:
        labels(given)
    assert [fault.problem for fault in bad.value.faults if fault.field == field and words in fault.problem]


def test_a_fault_reaches_every_door() -> None:
    done = told("labels", "--names", "B-99")
    assert done.exit_code == 2
    assert "B-99" in done.output
    assert posted("labels", {"names": "B-99"}).status_code == 422
    assert Client().get("/shelf/labels.pdf", {"names": "B-99"}).status_code == 422


def test_nobody_prints_a_thousand_by_a_slip(monkeypatch: pytest.MonkeyPatch) -> None:
    bench()
    monkeypatch.setattr("silverwright.workshop.labels.MOST_LABELS", 2)
    assert MOST_LABELS > 24
    with pytest.raises(BadQuestion, match="at most 2"):
        shelf_labels({})


def test_the_pages_show_what_will_be_printed() -> None:
    assert "Enter a bottle" in Client().get("/shelf/labels").content.decode()
    bench()
    page = Client().get("/shelf/labels").content.decode()
    assert "3 labels: blue can, B-05, waste: bleach." in page
    holders()
    for given in ({"what": "holder sides"}, {}):
        page = Client().get("/book/labels", given).content.decode()
        assert "clip upper left" in page
        assert "no holder is loaded" not in page
    assert "http://testserver" in page, "a phone finds the book where this page was found"
    assert "No bath is called" in Client().get("/shelf/labels", {"what": "baths", "names": "B-99"}).content.decode()


def test_commands_say_what_they_do() -> None:
    for name in ("labels", "sheet-labels"):
        assert SECTIONS["Print"][name] in told(name, "--help").output
