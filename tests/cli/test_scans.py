"""Scans on the command line: handed in one by one or as a folder, listed, and their densities."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from tests.workshop.boatyard import exposed, gear
from tests.workshop.scanned import TABLET, corners_percent, strip

from silverwright import api
from silverwright.book.documents import document
from silverwright.book.models import Scan
from silverwright.cli.main import main

pytestmark = pytest.mark.django_db
SHEET = (1.70, 1.66, 1.60, 1.50, 1.32, 1.08, 0.80, 0.55, 0.36, 0.24, 0.17, 0.14)
FLATBED = "flatbed in the office"


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()
    api.do("correct", kind="scanner", name=FLATBED, changes="untagged; linear")


def told(*words: str, exit_code: int = 0) -> str:
    found = CliRunner().invoke(main, list(words))
    assert found.exit_code == exit_code, found.output
    return found.stdout + found.stderr


def calibrated(folder: Path) -> None:
    file = strip(folder / "tablet.tif", TABLET)
    told("scan", "--file", str(file), "--shows", "step tablet", "--scanner", FLATBED)
    told("grid", "--scan", "scan-001", "--corners-percent", corners_percent(TABLET), "--rows", "1", "--columns", f"{len(TABLET)}")
    assert "is calibrated by 13 steps" in told("calibrate", "--scan", "scan-001", "--densities", " ".join(map(str, TABLET)))


def test_a_folder_is_handed_in_once(tmp_path: Path) -> None:
    calibrated(tmp_path)
    first, second = exposed(), exposed()
    folder = tmp_path / "folder"
    folder.mkdir()
    strip(folder / f"{first}.tif", SHEET)
    strip(folder / f"{second} toned.tif", SHEET, seed=4)
    strip(folder / "26-099.tif", SHEET)
    (folder / "26-001.txt").write_text("no scan")
    (folder / f"{first}.png").write_bytes(b"no picture")
    words = ["folder", str(folder), "--scanner", FLATBED, "--shows", "step sheet", "--rows", "1", "--columns", "12"]
    said = told(*words)
    assert f"{first}.tif: scan-" in said
    assert "26-099.tif: begins with no number of a sheet in the book" in said
    assert f"{first}.png: scan-" in said
    assert "cannot be used" in said
    assert "26-001.txt" not in said
    many = Scan.objects.count()
    assert many == 4
    told(*words)
    assert Scan.objects.count() == many, "handed in again, nothing doubles"


def test_densities_for_people_and_for_programs(tmp_path: Path) -> None:
    calibrated(tmp_path)
    number = exposed()
    said = told("scan", "--file", str(strip(tmp_path / "sheet.tif", SHEET)), "--sheet", number, "--scanner", FLATBED)
    assert "scan-002 of sheet" in said
    told("grid", "--scan", "scan-002", "--corners-percent", corners_percent(SHEET), "--rows", "1", "--columns", "12")
    shown = told("densities", "scan-002")
    assert "is measured, 12 densities" in shown
    assert "patch 1 " in shown
    assert "scan density" in shown.lower()
    exact: dict[str, Any] = json.loads(told("densities", "scan-002", "--json"))
    assert exact["densities"]["densities"] == pytest.approx(SHEET, abs=0.02)
    assert exact == json.loads(json.dumps(document(api.densities("scan-002"))))
    assert "scan-001 of a step tablet is measured" in told("scans")
    assert [one["scan"]["name"] for one in json.loads(told("scans", "--json"))] == ["scan-002", "scan-001"]


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    said = told("scan", "--file", str(tmp_path / "none.tif"), "--sheet", exposed(), "--columns", "2.5", exit_code=2)
    assert "--file" in said
    assert "cannot be read" in said
    assert "--columns" in said, "every fault at once"
    assert not Scan.objects.exists()


def test_no_scan_yet() -> None:
    assert "No scan is in the book yet" in told("scans")
    assert "No scan is called" in told("densities", "scan-009", exit_code=3)


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    assert "No such file" in told("folder", str(tmp_path / "none"), exit_code=7)
