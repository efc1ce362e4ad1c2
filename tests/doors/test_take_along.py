"""What is taken along through every door: the same page and the same card, by Python, command line, HTTP and page."""

import io
import json
from pathlib import Path
from typing import Any, Final

import pypdf
import pytest
from click.testing import CliRunner, Result
from django.test import Client
from tests.workshop.boatyard import LENS, PAPER, gear, learnt

from silverwright import api
from silverwright.book.models import Act
from silverwright.cli.main import SECTIONS, main
from silverwright.errors import BadQuestion
from silverwright.workshop.deeds import do
from silverwright.workshop.outdoors import take_along
from silverwright.workshop.plan import plan

pytestmark = pytest.mark.django_db
GIVEN: Final[dict[str, Any]] = {"paper": PAPER, "meter": "hand meter", "light": "north window", "aperture_f": "f/16"}


def told(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def posted(name: str, given: dict[str, Any], query: str = "") -> Any:
    return Client().post(f"/api/{name}{query}", data=json.dumps(given), content_type="application/json")


def text(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def test_the_field_page_is_the_same_through_every_door(tmp_path: Path) -> None:
    gear()
    learnt()
    by_python = api.field_page(**GIVEN)
    out = tmp_path / "page.html"
    done = told("field-page", "--paper", PAPER, "--meter", "hand meter", "--light", "north window", "--aperture-f", "f/16", "--out", str(out))
    assert done.exit_code == 0, done.output
    assert out.read_text(encoding="utf-8") == by_python
    by_http = posted("field-page", GIVEN)
    assert by_http["Content-Disposition"].startswith("attachment")
    assert by_http.content.decode() == by_python
    assert Client().get("/camera/fieldpage.html", GIVEN).content.decode() == by_python
    assert Act.objects.filter(deed__contains="field").count() == 0, "nothing is kept"


@pytest.mark.parametrize("size", ["a6", "a4"])
def test_the_card_is_the_same_through_every_door(tmp_path: Path, size: Any) -> None:
    gear()
    by_python = text(api.card(size, **GIVEN))
    out = tmp_path / "card.pdf"
    done = told("card", "--paper", PAPER, "--meter", "hand meter", "--light", "north window", "--aperture-f", "16", "--size", size, "--out", str(out))
    assert done.exit_code == 0, done.output
    assert text(out.read_bytes()) == by_python
    assert text(posted("card", GIVEN, f"?size={size}").content) == by_python
    assert text(Client().get("/camera/card.pdf", {**GIVEN, "size": size}).content) == by_python


def test_the_ruler_is_the_same_through_every_door(tmp_path: Path) -> None:
    out = tmp_path / "ruler.pdf"
    assert told("ruler", "--sheet", "us-letter", "--out", str(out)).exit_code == 0
    assert text(out.read_bytes()) == text(api.ruler("us-letter")) == text(Client().get("/api/ruler?sheet=us-letter").content)
    assert text(Client().get("/camera/ruler.pdf?page=us-letter").content) == text(api.ruler("us-letter"))


def test_every_fault_at_once_through_every_door(tmp_path: Path) -> None:
    wrong = {"paper": "glass plate", "aperture_f": "f/900", "lens": "no such lens"}
    with pytest.raises(BadQuestion) as caught:
        api.field_page(**wrong)
    faults = {fault.field: fault.problem for fault in caught.value.faults}
    assert set(faults) == set(wrong)
    words = [word for name, value in wrong.items() for word in (f"--{name.replace('_', '-')}", value)]
    done = told("card", *words, "--out", str(tmp_path / "none.pdf"))
    assert done.exit_code == 2
    assert all(problem in done.stderr for problem in faults.values())
    assert not (tmp_path / "none.pdf").exists()
    sent = posted("card", wrong)
    assert sent.status_code == 422
    assert {one["field"]: one["problem"] for one in sent.json()["problems"]} == faults
    page = Client().get("/camera/card.pdf", wrong)
    assert page.status_code == 422
    shown = Client().get("/camera/fieldpage", wrong)
    assert shown.status_code == 200
    assert "No paper is called “glass plate”." in shown.content.decode()


def test_an_empty_book_says_what_it_lacks() -> None:
    with pytest.raises(BadQuestion, match="No lens is in the book yet"):
        api.field_page()
    assert "210" in api.field_page(focal_mm=210, paper_ei=1.5)
    assert "No lens is in the book yet" in Client().get("/camera/fieldpage").content.decode()


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    done = told("ruler", "--out", str(tmp_path / "nowhere" / "ruler.pdf"))
    assert done.exit_code != 0
    assert "Traceback" not in done.output
    assert "nowhere" in done.stderr


def test_help_says_what_each_writes() -> None:
    for name, says in SECTIONS["Take along"].items():
        assert says in " ".join(told(name, "--help").stdout.split())


# ---------- what goes along ----------


def test_the_kit_is_what_a_plan_would_take() -> None:
    """Paper, meter and light as the plan has them, each lens with what the book knows of it."""
    gear()
    learnt()
    do("lens", {"name": "150 mm lens", "focal_mm": 150})
    kit = take_along(GIVEN)
    assert kit.light == "north window"
    assert {lens.name for lens in kit.lenses} == {LENS, "150 mm lens"}
    for lens in kit.lenses:
        light = next(light for light in kit.lights if light.name == kit.light)
        planned = plan({**GIVEN, "lens": lens.name, "reading_ev": 10, "magnification_factor": 0}).question
        mine = {**kit.fields, **lens.fields, **light.fields}
        for name in ("paper_ei", "paper_ei_sd_stops", "light_offset_stops", "focal_mm", "meter_k", "sensitivity"):
            assert mine.get(name) == pytest.approx(planned.get(name)), name


def test_the_lens_used_last_stands_first_and_eight_are_enough() -> None:
    gear()
    for number in range(9):
        do("lens", {"name": f"lens {number}", "focal_mm": 100 + 10 * number})
    do("expose", {"paper": PAPER, "lens": "lens 7", "subject": "rope"})
    kit = take_along({"paper": PAPER})
    assert kit.lenses[0].name == "lens 7"
    assert len(kit.lenses) == 8


def test_an_incident_meter_shows_lux() -> None:
    gear()
    do("meter", {"name": "dome", "reads": "incident", "incident_head": "dome"})
    assert take_along({"meter": "dome"}).reads == "lx"
    assert take_along({"meter": "hand meter"}).reads == "ev"
