"""Every command: help with an example, data on one side and messages on the other, the same figures as Python and HTTP."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from django.test import Client

from silverwright import __version__, api
from silverwright.book.documents import document
from silverwright.cli.main import SECTIONS, main

pytestmark = pytest.mark.django_db
COMMANDS = [name for section in SECTIONS.values() for name in section]
SCENE = {"reading_ev": "10", "focal_mm": "210", "extension_mm": "315", "aperture_f": "f/22"}


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def options(given: dict[str, str]) -> list[str]:
    return [word for name, text in given.items() for word in (f"--{name.replace('_', '-')}", text)]


@pytest.fixture
def sheet() -> str:
    """A paper, and one sheet of it."""
    api.do("paper", name="RC paper, grade 2")
    return api.do("expose", paper="RC paper, grade 2", paper_ei="1.5", given_s="97", subject="caulking mallet", **SCENE).name


@pytest.mark.parametrize("name", [*COMMANDS, ""])
def test_help_comes_with_an_example_in_two_spellings(name: str) -> None:
    long, short = run(*[word for word in (name, "--help") if word]), run(*[word for word in (name, "-h") if word])
    assert long.exit_code == short.exit_code == 0
    assert long.stdout == short.stdout
    assert f"silverwright {name}".strip() in long.stdout.split("Usage:")[1].split("\n", 1)[1] or name == "ask"


def test_the_version() -> None:
    assert run("--version").stdout.strip() == __version__


def test_nothing_of_a_terminal_in_what_is_piped(sheet: str) -> None:
    for words in (["sheets"], ["story", sheet], ["plan", *options(SCENE), "--paper-ei", "1.5"]):
        assert "\x1b" not in run(*words).output


@pytest.mark.usefixtures("sheet")
@pytest.mark.parametrize("scene", [SCENE, {"flash_meter_f": "f/16", "flash_meter_ei": "100", "aperture_f": "f/8"}], ids=["by time", "by flashes"])
def test_a_plan_is_the_same_through_every_door(scene: dict[str, str]) -> None:
    given = scene | {"paper": "RC paper, grade 2"}
    planned = json.loads(run("plan", *options(given), "--json").stdout)
    assert planned == api.plan(**given).model_dump(mode="json")
    sent = Client().post("/api/plan", data=json.dumps(given), content_type="application/json")
    assert sent.json() == planned


@pytest.mark.usefixtures("sheet")
def test_a_plan_for_people_says_what_came_from_the_book() -> None:
    api.do("lens", name="210 mm lens", focal_mm="210")
    told = run("plan", *options(SCENE | {"lens": "210 mm lens", "paper_ei": "1.5"}))
    api_given = {name: text for name, text in SCENE.items() if name != "focal_mm"}
    from_book = run("plan", *options(api_given | {"lens": "210 mm lens", "paper_ei": "1.5"}))
    assert "1:37" in told.stdout
    assert "focal_mm" not in told.stdout, "what is typed wins"
    assert "210 mm lens" in from_book.stdout.split("\n\n")[0]


@pytest.mark.parametrize("words", [["sheets"], ["story"], ["known"]], ids=lambda one: one[0])
def test_reading_is_the_same_through_every_door(sheet: str, words: list[str]) -> None:
    doors: dict[str, tuple[list[str], Any, str]] = {
        "sheets": ([], api.sheets(), "/api/sheets"),
        "story": ([sheet], api.story(sheet), f"/api/sheets/{sheet}"),
        "known": (["RC paper, grade 2"], api.paper("RC paper, grade 2"), "/api/papers/RC paper, grade 2"),
    }
    more, found, address = doors[words[0]]
    told = json.loads(run(*words, *more, "--json").stdout)
    assert told == document(found)
    assert told == Client().get(address).json()
    people = run(*words, *more)
    assert people.exit_code == 0
    assert "RC paper, grade 2" in people.stdout


def test_an_empty_book_says_what_to_do() -> None:
    told = run("sheets")
    assert told.exit_code == 0
    assert "silverwright expose" in told.stdout


@pytest.mark.parametrize("words", [["story", "26-999"], ["known", "no such paper"]])
def test_nothing_of_that_name_is_exit_3(words: list[str]) -> None:
    told = run(*words)
    assert (told.exit_code, told.stdout) == (3, "")
    assert words[1] in told.stderr


def test_a_command_that_is_none_is_told_with_what_is_near() -> None:
    told = run("sheet")
    assert told.exit_code == 2
    assert "sheets" in told.stderr


def test_a_backup_that_cannot_be_is_said(tmp_path: Path) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "something").write_text("here")
    told = run("backup", str(tmp_path / "full"))
    assert (told.exit_code, told.stdout) == (7, "")
    assert "something in it" in told.stderr


def test_a_fault_of_ours_is_said_without_a_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("silverwright.catalogue.find", lambda _: 1 / 0)
    told = run("ask", "exposure.bellows", "--focal-mm", "210")
    assert (told.exit_code, told.stdout) == (70, "")
    assert "Traceback" not in told.stderr
    log = Path(told.stderr.rpartition("stands in ")[2].strip().rstrip("."))
    assert "ZeroDivisionError" in log.read_text(encoding="utf-8")
    log.unlink()
