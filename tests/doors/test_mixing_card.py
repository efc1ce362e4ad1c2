"""The mixing card through every door: the same words, every fault at once, the caution before the amount."""

import io
import json
from dataclasses import asdict
from pathlib import Path
from typing import Any, Final

import pypdf
import pytest
from click.testing import CliRunner
from django.test import Client

from silverwright import api
from silverwright.cli.main import main
from silverwright.errors import BadQuestion, UnknownName
from silverwright.questions.mix import MIX, MixQuestion
from silverwright.questions.recipe import recipes
from silverwright.report.mixingcard import mixing_card_pdf

GIVEN: Final[dict[str, Any]] = {"recipe": "peroxide bath", "volume_ml": "1 L", "stocks": "blue can; hydrogen peroxide; 35; % w/w"}


def pages(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def posted(given: dict[str, Any], query: str = "") -> Any:
    return Client().post(f"/api/mixing-card{query}", data=json.dumps(given), content_type="application/json")


@pytest.mark.django_db
@pytest.mark.parametrize("page", ["a5", "half-letter"])
def test_the_card_is_the_same_through_every_door(tmp_path: Path, page: Any) -> None:
    by_python = pages(api.mixing_card(page, **GIVEN))
    out = tmp_path / "card.pdf"
    words = [word for name, value in GIVEN.items() for word in (f"--{name.replace('_', '-')}", value)]
    done = CliRunner().invoke(main, ["mixing-card", *words, "--page", page, "--out", str(out)])
    assert done.exit_code == 0, done.output
    assert pages(out.read_bytes()) == by_python
    assert pages(posted(GIVEN, f"?page={page}").content) == by_python
    assert pages(Client().get("/shelf/mixing-card.pdf", {**GIVEN, "page": page}).content) == by_python


def test_the_size_of_the_card() -> None:
    for page, (wide_mm, high_mm) in {"a5": (148, 210), "half-letter": (139.7, 215.9)}.items():
        box = pypdf.PdfReader(io.BytesIO(api.mixing_card(page, **GIVEN))).pages[0].mediabox  # type: ignore[arg-type]
        assert (float(box.width) / 72 * 25.4, float(box.height) / 72 * 25.4) == pytest.approx((wide_mm, high_mm), abs=0.2)


def test_the_caution_stands_before_the_amount() -> None:
    text = pages(api.mixing_card(**GIVEN))[0]
    assert text.index("Before the first bottle is opened") < text.index("before the cap comes off") < text.index("265.3 g") < text.index("or 234 mL")
    assert "from memory, unverified" in text
    assert "The safety data sheet of your product and local rules come first" in text


@pytest.mark.parametrize("recipe", [one.name for one in recipes()])
def test_every_recipe_has_a_card_of_at_most_two_pages(recipe: str) -> None:
    question = MixQuestion.model_validate({"recipe": recipe, "volume_ml": 1000})
    found = pages(mixing_card_pdf(question, MIX.compute(question)))
    assert len(found) <= 2
    assert recipe[1:] in found[0]


def test_what_was_typed_is_never_markup() -> None:
    stocks = '#read("/etc/passwd") *bold* $x$; hydrogen peroxide; 35; % w/w'
    assert '#read("/etc/passwd") *bold* $x$' in pages(api.mixing_card(**{**GIVEN, "stocks": stocks}))[0]


@pytest.mark.django_db
def test_every_fault_at_once_through_every_door(tmp_path: Path) -> None:
    wrong: dict[str, Any] = {"recipe": "no such bath", "volume_ml": "0", "temperature_celsius": "900"}
    with pytest.raises(BadQuestion) as caught:
        api.mixing_card(**wrong)
    assert {fault.field for fault in caught.value.faults} == set(wrong)
    words = [word for name, value in wrong.items() for word in (f"--{name.replace('_', '-')}", value)]
    assert CliRunner().invoke(main, ["mixing-card", *words, "--out", str(tmp_path / "none.pdf")]).exit_code == 2
    assert posted(wrong).status_code == 422
    told = Client().get("/shelf/mixing-card.pdf", wrong)
    assert told.status_code == 422
    assert "Nothing to mix yet" in told.content.decode()


@pytest.mark.django_db
@pytest.mark.parametrize("role", ["", "bleach", "second developer"])
def test_the_recipes_are_the_same_through_every_door(role: str) -> None:
    by_python = json.loads(json.dumps([asdict(one) for one in api.recipes(role)]))
    assert by_python
    told = CliRunner().invoke(main, ["recipes", "--json", *(["--role", role] if role else [])])
    assert told.exit_code == 0, told.output
    assert json.loads(told.stdout) == by_python
    assert Client().get("/api/recipes", {"role": role} if role else {}).json() == by_python
    shown = CliRunner().invoke(main, ["recipes", "--role", "bleach"]).stdout
    assert "bleach: peroxide bath, hydrogen peroxide 9 % w/w (6 to 12); from memory, unverified." in shown
    assert "Not recommended: It causes cancer" in " ".join(shown.split())


@pytest.mark.django_db
def test_a_step_that_nobody_knows() -> None:
    with pytest.raises(UnknownName):
        api.recipes("blech")
    told = CliRunner().invoke(main, ["recipes", "--role", "blech"])
    assert told.exit_code != 0
    assert "bleach" in told.output
    assert Client().get("/api/recipes", {"role": "blech"}).status_code == 404
