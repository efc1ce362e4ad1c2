"""The story of the browser by the command line: asked which percent, the caution before the amount, labels, a test, waste that is refused."""

import json
from pathlib import Path

import pytest
from django.test import Client
from tests.cli.test_commands import run

from silverwright import api
from silverwright.book.documents import document

pytestmark = pytest.mark.django_db
PEROXIDE = "peroxide, the blue can"
DILUTION = (
    "ask",
    "chemistry.dilution",
    "--substance",
    "hydrogen peroxide",
    "--stock-amount",
    "35",
    "--wanted-amount",
    "9",
    "--volume-ml",
    "1 L",
    "--temperature-celsius",
    "20",
)


def ran(*words: str) -> str:
    """What a command that went well says, in one line."""
    told = run(*words)
    assert told.exit_code == 0, told.output
    return " ".join(told.stdout.split())


@pytest.fixture
def shelf() -> None:
    """Bottles, a bleach, a fixer's waste bottle."""
    ran("stock", "--name", PEROXIDE, "--substance", "hydrogen peroxide", "--strength", "35", "--strength-unit", "% w/w", "--left-ml", "1 L")
    ran("mix", "--role", "bleach", "--name", "bleach 1", "--volume-ml", "1 L", "--taken", f"{PEROXIDE}; 265; g")
    ran("waste-bottle", "--name", "waste: fixer", "--vented", "yes", "--begun-ml", "2 L", "--begun-with", "sodium thiosulphate; 10; % w/w")


def test_a_label_that_says_only_percent_is_asked_about() -> None:
    told = run(*DILUTION)
    assert told.exit_code == 2
    said = " ".join(told.stderr.split())
    assert "by weight (% w/w) or by volume (% w/v)?" in said
    assert "265 g (234 mL) and 768 mL water" in said
    assert said.index("Goggles") < said.index("265 g")
    assert "(265 mL)" in said


def test_the_caution_stands_before_the_amounts() -> None:
    said = ran(*DILUTION, "--stock-unit", "% w/w")
    assert said.index("oggles") < said.index("265")
    assert "234" in said
    assert "768" in said


@pytest.mark.usefixtures("shelf")
def test_reading_the_shelf_is_the_same_through_every_door() -> None:
    doors = ((["shelf"], api.shelf(), "/api/shelf"), (["bath", "bleach 1"], api.bath("bleach 1"), "/api/baths/bleach 1"))
    for words, found, address in doors:
        told = json.loads(run(*words, "--json").stdout)
        here, there = (json.loads(json.dumps(one)) for one in (document(found), Client().get(address).json()))
        for one in (told, here, there):
            _without_the_clock(one)
        assert told == here == there
    stock = json.loads(json.dumps(document(api.stock(PEROXIDE))))
    assert Client().get(f"/api/stocks/{PEROXIDE}").json()["left_ml"] == stock["left_ml"]


def _without_the_clock(told: object) -> None:
    """Ages go on between two questions."""
    if isinstance(told, dict):
        told.pop("age_days", None)
        for one in told.values():
            _without_the_clock(one)
    elif isinstance(told, list):
        for one in told:
            _without_the_clock(one)


@pytest.mark.usefixtures("shelf")
def test_people_read_what_can_hurt_before_what_is_in_it() -> None:
    ran("mix", "--role", "fixer", "--name", "fixer 1", "--volume-ml", "1 L", "--ingredients", "sodium thiosulphate; 10; % w/w")
    said = ran("shelf")
    assert said.index("Stop: never bleach 1 and") < said.index("bleach 1, tray")
    assert "ulphur dioxide" in said
    bath = ran("bath", "bleach 1")
    assert bath.index("Danger") < bath.index("1000 mL") < bath.index("made")


@pytest.mark.usefixtures("shelf")
def test_waste_is_refused_with_the_gas_named() -> None:
    told = run("discard-bath", "--bath", "bleach 1", "--waste", "waste: fixer")
    assert told.exit_code == 2
    assert "ulphur dioxide" in told.stderr
    assert "bleach 1, tray" in ran("shelf")


@pytest.mark.usefixtures("shelf")
def test_a_test_is_recorded_and_labels_are_written(tmp_path: Path) -> None:
    ran("test-bath", "--bath", "bleach 1", "--tested-by", "bleach-out test", "--clearing-s", "2m30s", "--fresh-clearing-s", "2m")
    assert "tested" in ran("bath", "bleach 1")
    ran("labels", "--what", "baths", "--out", str(tmp_path / "labels.pdf"))
    assert (tmp_path / "labels.pdf").read_bytes().startswith(b"%PDF")


def test_an_empty_shelf_says_what_to_do() -> None:
    assert "silverwright stock" in ran("shelf")


def test_no_such_bath_is_exit_3() -> None:
    told = run("bath", "no such bath")
    assert told.exit_code == 3
    assert "no such bath" in told.stderr
