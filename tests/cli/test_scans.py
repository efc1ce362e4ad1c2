"""Scans on the command line: handed in one by one or as a folder, listed, and their densities."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from django.test import Client
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
    assert "Scan densities" not in shown, "each figure once"
    assert "Doubt of each" not in shown
    assert shown.count("University of Illinois") == 1, "each source once"
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


def test_densities_of_a_scan_that_cannot_be_used_end_as_it_did(tmp_path: Path) -> None:
    file = tmp_path / "letter.tif"
    file.write_bytes(b"Dear Sir,")
    told("scan", "--file", str(file), "--sheet", exposed(), exit_code=8)
    assert "cannot be used" in told("densities", "scan-001", exit_code=8)
    assert json.loads(told("densities", "scan-001", "--json", exit_code=8))["state"] == "refused"


def test_what_is_wrong_with_a_tablet_echoes_nothing_that_nobody_typed(tmp_path: Path) -> None:
    said = told("calibrate", "--scanner", FLATBED, "--steps", "0.05 0.8", exit_code=2)
    assert said.startswith("--steps: 1 step; at least 5")
    told("scan", "--file", str(strip(tmp_path / "tablet.tif", TABLET)), "--shows", "step tablet", "--scanner", FLATBED)
    told("grid", "--scan", "scan-001", "--corners-percent", corners_percent(TABLET), "--rows", "1", "--columns", f"{len(TABLET)}")
    assert told("calibrate", "--scan", "scan-001", "--densities", "0.05 0.2", exit_code=2).startswith("--densities: 2 densities for 13")


@pytest.mark.parametrize(
    ("files", "exit_code"),
    [
        ({"{first}.tif": b"no picture", "{first} again.png": b"none either"}, 8),
        ({"{first}.tif": b"no picture", "somewhere.tif": b""}, 8),
        ({"somewhere.tif": b"no sheet of that name"}, 2),
        ({"{first}.tif": b"no picture", "{first} good.tif": None}, 0),
        ({}, 0),
    ],
    ids=["all refused", "refused and left alone", "all left alone", "one of use", "nothing there"],
)
def test_a_folder_of_which_nothing_is_of_use_ends_like_a_refused_scan(tmp_path: Path, files: dict[str, bytes | None], exit_code: int) -> None:
    first = exposed()
    folder = tmp_path / "folder"
    folder.mkdir()
    for name, content in files.items():
        file = folder / name.format(first=first)
        strip(file, SHEET) if content is None else file.write_bytes(content)
    said = told("folder", str(folder), "--scanner", FLATBED, exit_code=exit_code)
    assert all(name.format(first=first) in said for name in files)


def test_a_scanner_that_is_unknown_ends_like_any_slip(tmp_path: Path) -> None:
    strip(tmp_path / f"{exposed()}.tif", SHEET)
    assert "No scanner is called" in told("folder", str(tmp_path), "--scanner", "none such", exit_code=2)


def test_the_calibration_step_by_step(tmp_path: Path) -> None:
    assert "not calibrated yet" in told("calibration", FLATBED, exit_code=2)
    wrong = [density + 0.07 * (place == 6) for place, density in enumerate(TABLET)]
    told("scan", "--file", str(strip(tmp_path / "tablet.tif", wrong)), "--shows", "step tablet", "--scanner", FLATBED)
    told("grid", "--scan", "scan-001", "--corners-percent", corners_percent(TABLET), "--rows", "1", "--columns", f"{len(TABLET)}")
    assert "Step 7 does not go with the others" in told("calibrate", "--scan", "scan-001", "--densities", " ".join(map(str, TABLET)))
    shown = told("calibration", FLATBED)
    (line,) = (one for one in shown.splitlines() if one.startswith("step 7 "))
    assert line.split() == ["step", "7", "0.950", "missed", "by", line.split()[5], "look", "at", "it"]
    told("leave-out", "--scanner", FLATBED, "--step", "7", "--reason", "scratched")
    left = told("calibration", FLATBED)
    assert "left out: scratched" in left
    assert "look at it" not in left
    exact = json.loads(told("calibration", FLATBED, "--json"))
    assert [row["reason"] for row in exact["left_out"]] == ["scratched"]
    assert exact == json.loads(json.dumps(document(api.calibration(FLATBED))))
    assert Client().get(f"/api/scanners/{FLATBED}/calibration").json() == exact
    told("take-back", "--scanner", FLATBED, "--step", "7")
    assert told("calibration", FLATBED) == shown
