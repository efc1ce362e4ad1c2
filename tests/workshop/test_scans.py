"""From a file to densities: handed in, read by the worker, grid placed, scanner calibrated, densities sent to the curve."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import tifffile
from tests.workshop.boatyard import STEPS, exposed, gear
from tests.workshop.scanned import TABLET, corners_percent, strip

from silverwright import api
from silverwright.book import jobs
from silverwright.book.models import Calibration, Job, Scan, ScanFile, Scanner, StepSheet
from silverwright.book.scans import ScanKnown, scan_known
from silverwright.errors import BadQuestion
from silverwright.workshop.deeds import do
from silverwright.workshop.folder import sheet_of
from silverwright.workshop.worker import finish

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
FLATBED = "flatbed in the office"
SHEET = (1.70, 1.66, 1.60, 1.50, 1.32, 1.08, 0.80, 0.55, 0.36, 0.24, 0.17, 0.14)


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def handed_in(file: Path, **more: Any) -> ScanKnown:
    """A scan handed in and read."""
    done = api.do("scan", file=file, **{"scanner": FLATBED, "untagged": "linear", **more})
    finish(done.name)
    return scan_known(done.name)


def placed(scan: str, densities: tuple[float, ...]) -> ScanKnown:
    """Its grid placed and its patches measured."""
    do("grid", {"scan": scan, "corners_percent": corners_percent(densities), "rows": 1, "columns": len(densities)})
    finish(scan)
    return scan_known(scan)


def calibrated(folder: Path, *, turned: bool = False) -> None:
    """The flatbed, by a made tablet."""
    densities = TABLET[::-1] if turned else TABLET
    scan = handed_in(strip(folder / "tablet.tif", densities), shows="step tablet").scan.name
    placed(scan, densities)
    do("calibrate", {"scan": scan, "densities": " ".join(map(str, TABLET)), "turned": turned})


def fault_of(deed: str, **given: Any) -> dict[str, str]:
    with pytest.raises(BadQuestion) as caught:
        api.do(deed, **given)
    return {fault.field: fault.problem for fault in caught.value.faults}


def test_from_a_tablet_and_a_sheet_to_a_curve(tmp_path: Path) -> None:
    calibrated(tmp_path)
    assert Calibration.objects.get().largest_miss < 0.02  # type: ignore[operator]
    number = exposed()
    scan = handed_in(strip(tmp_path / "sheet.tif", SHEET, seed=2), sheet=number).scan.name
    known = placed(scan, SHEET)
    assert known.state == "measured"
    assert known.densities is not None
    assert known.densities.densities == pytest.approx(SHEET, abs=0.02)
    assert all(0.001 < sd < 0.1 for sd in known.densities.density_sds)
    do("step-sheet", {"sheet": number, "scan": scan, "metered": True, "exposure_log10": STEPS})
    read = StepSheet.objects.get()
    assert (read.read_by, read.scan) == ("scan", known.scan)
    assert [one.density for one in read.patches] == pytest.approx(SHEET, abs=0.02)
    assert "camera_ei" in do("learn", {"sheet": number}).values


def test_the_newest_calibration_that_is_not_put_away_counts(tmp_path: Path) -> None:
    calibrated(tmp_path)
    scan = handed_in(strip(tmp_path / "sheet.tif", SHEET, seed=2), sheet=exposed()).scan.name
    first = placed(scan, SHEET)
    denser = tuple(round(1.1 * one, 3) for one in TABLET)  # the same scan, its tablet now read as a tenth denser
    tablet = str(Calibration.objects.get().scan)
    do("calibrate", {"scan": tablet, "densities": " ".join(map(str, denser))})
    second = scan_known(scan)
    assert first.densities is not None
    assert second.densities is not None
    assert second.densities.densities == pytest.approx([1.1 * one for one in first.densities.densities], abs=0.01)
    newest = Calibration.objects.order_by("pk").last()
    Calibration.objects.filter(pk=newest.pk).update(archived_at=newest.calibrated_at)  # type: ignore[union-attr]
    third = scan_known(scan)
    assert third.densities is not None
    assert third.densities.densities == first.densities.densities


def test_eight_bits_are_told_with_the_step_that_they_leave(tmp_path: Path) -> None:
    calibrated(tmp_path)
    sixteen = strip(tmp_path / "sixteen.tif", SHEET, seed=2)
    eight = tmp_path / "eight.tif"
    tifffile.imwrite(eight, (tifffile.imread(sixteen) // 256).astype(np.uint8))
    notes = {}
    for file in (sixteen, eight):
        known = placed(handed_in(file, sheet=exposed()).scan.name, SHEET)
        assert known.densities is not None
        notes[file.stem] = {one.note.value for one in known.densities.notes}
    assert notes["eight"] - notes["sixteen"] == {"eight-bits"}


def test_the_file_is_kept_byte_for_byte_and_once(tmp_path: Path) -> None:
    file = strip(tmp_path / "sheet.tif", SHEET)
    first, second = (handed_in(file, sheet=exposed()).scan for _ in range(2))
    assert ScanFile.objects.count() == 1
    assert (first.name, second.name) == ("scan-001", "scan-002")
    assert first.file.size_bytes == file.stat().st_size


def test_a_tablet_the_other_way_round_says_so_and_offers_to_turn(tmp_path: Path) -> None:
    densities = TABLET[::-1]
    scan = handed_in(strip(tmp_path / "tablet.tif", densities), shows="step tablet").scan.name
    placed(scan, densities)
    faults = fault_of("calibrate", scan=scan, densities=" ".join(map(str, TABLET)))
    assert "other way round" in faults["turned"]
    do("calibrate", {"scan": scan, "densities": " ".join(map(str, TABLET)), "turned": "yes"})
    number = exposed()
    sheet = handed_in(strip(tmp_path / "sheet.tif", SHEET), sheet=number).scan.name
    known = placed(sheet, SHEET)
    assert known.densities is not None
    assert known.densities.densities == pytest.approx(SHEET, abs=0.02)


def test_a_scan_of_another_scanner_gets_no_density_by_this_one(tmp_path: Path) -> None:
    calibrated(tmp_path)
    do("scanner", {"name": "another"})
    scan = handed_in(strip(tmp_path / "sheet.tif", SHEET), sheet=exposed(), scanner="another").scan.name
    known = placed(scan, SHEET)
    assert known.densities is None
    assert "not calibrated yet" in known.why_not
    assert "“another”" in fault_of("calibrate", scan=scan, scanner=FLATBED, densities=" ".join(map(str, TABLET)))["scanner"]


def test_without_a_scanner_it_says_why_there_is_no_density(tmp_path: Path) -> None:
    done = api.do("scan", file=strip(tmp_path / "sheet.tif", SHEET), sheet=exposed(), untagged="linear")
    finish(done.name)
    known = placed(done.name, SHEET)
    assert "which scanner" in known.why_not


def test_what_the_numbers_mean_is_asked_and_remembered(tmp_path: Path) -> None:
    do("scanner", {"name": "another"})
    known = handed_in(strip(tmp_path / "sheet.tif", SHEET), sheet=exposed(), scanner="another", untagged=None)
    assert known.state == "untagged"
    assert "profile" in known.scan.said
    do("read-again", {"scan": known.scan.name, "untagged": "linear"})
    finish(known.scan.name)
    assert scan_known(known.scan.name).state in {"unsure", "measured"}
    assert Scanner.objects.get(name="another").untagged == "linear"
    after = handed_in(strip(tmp_path / "next.tif", SHEET, seed=3), sheet=exposed(), scanner="another", untagged=None)
    assert after.scan.untagged == "linear"


def test_one_answer_serves_every_scan_of_the_scanner_that_waits_for_it(tmp_path: Path) -> None:
    do("scanner", {"name": "another"})
    do("scanner", {"name": "a third"})
    wanted = [("one", "another"), ("two", "another"), ("other", "a third"), ("archived", "another")]
    names = [handed_in(strip(tmp_path / f"{name}.tif", SHEET), sheet=exposed(), scanner=it, untagged=None).scan.name for name, it in wanted]
    do("archive", {"kind": "scan", "name": names[3]})
    (tmp_path / "broken.tif").write_bytes(b"no picture")
    broken = handed_in(tmp_path / "broken.tif", sheet=exposed(), scanner="another", untagged=None)
    done = do("read-again", {"scan": names[0], "untagged": "linear"})
    assert done.says == f"{names[0]} is being read again. With it, for the same answer was missing: {names[1]}."
    for name in names:
        finish(name)
    assert [scan_known(name).state for name in names] == ["unsure", "unsure", "untagged", "untagged"]
    assert scan_known(broken.scan.name).state == "refused"


@pytest.mark.parametrize("more", [{}, {"untagged": "linear"}])
def test_rows_and_columns_told_at_the_hand_in_are_not_forgotten(tmp_path: Path, more: dict[str, str]) -> None:
    do("scanner", {"name": "another"})
    given = {"sheet": exposed(), "scanner": "another", "untagged": None, "rows": 1, "columns": len(SHEET)}
    scan = handed_in(strip(tmp_path / "sheet.tif", SHEET), **given).scan.name
    for told in ({"columns": 5, "rows": 2}, more):
        do("read-again", {"scan": scan, **told})
    newest = jobs.newest(scan)
    assert newest is not None
    assert (newest.kind, newest.given) == ("look", {"rows": 2, "columns": 5}), "the newest of what was told"


def test_a_grid_placed_by_hand_outlives_the_rows_that_were_told_before(tmp_path: Path) -> None:
    scan = handed_in(strip(tmp_path / "sheet.tif", SHEET), sheet=exposed(), rows=1, columns=len(SHEET)).scan.name
    corners = placed(scan, SHEET).scan.grid
    do("read-again", {"scan": scan})
    finish(scan)
    assert (scan_known(scan).scan.grid, scan_known(scan).state) == (corners, "measured")


@pytest.mark.parametrize(
    ("content", "says"),
    [(b"no image at all" * 99, "picture"), (b"", "empty"), (b"II*\x00" + b"\xff" * 40, "")],
    ids=["words", "nothing", "half a header"],
)
def test_a_file_that_is_no_scan_is_kept_and_refused_in_words(tmp_path: Path, content: bytes, says: str) -> None:
    file = tmp_path / "odd.tif"
    file.write_bytes(content)
    known = handed_in(file, sheet=exposed())
    assert known.state == "refused"
    assert says in known.scan.said.lower()
    assert "Traceback" not in known.scan.said
    assert api.keep_file(file) == known.scan.file.sha256
    assert "scan" in fault_of("grid", scan=known.scan.name, corners_percent="0 0 100 0 100 100 0 100", rows=1, columns=2)


def test_four_channels_of_ink_are_refused(tmp_path: Path) -> None:
    file = tmp_path / "ink.tif"
    tifffile.imwrite(file, np.zeros((64, 64, 4), np.uint16), photometric="separated")
    known = handed_in(file, sheet=exposed())
    assert known.state == "refused"


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({}, "file"),
        ({"file": "0" * 64, "sheet": "26-001"}, "file"),
        ({"file": "0" * 64}, "sheet"),
        ({"shows": "step tablet"}, "scanner"),
        ({"file": "x", "sheet": "26-099"}, "sheet"),
        ({"file": "x", "scanner": "none such"}, "scanner"),
        ({"file": "x", "columns": 2.5}, "columns"),
    ],
)
def test_what_is_wrong_with_a_scan_is_said_beside_its_field(given: dict[str, Any], field: str) -> None:
    exposed()
    assert field in fault_of("scan", **given)
    assert not Scan.objects.exists()
    assert not Job.objects.exists()


@pytest.mark.parametrize(
    ("corners", "says"),
    [
        ("0 0 100 0 100 100", "needed are 8"),
        ("0 0 100 100 100 0 0 100", "cross"),
        ("0 0 50 0 100 0 0 100", "one line"),
        ("0 0 0.1 0 0.1 0.1 0 0.1", "too small"),
        ("0 0 500 0 100 100 0 100", "102"),
    ],
)
def test_corners_that_are_none(tmp_path: Path, corners: str, says: str) -> None:
    scan = handed_in(strip(tmp_path / "sheet.tif", SHEET), sheet=exposed()).scan.name
    assert says in fault_of("grid", scan=scan, corners_percent=corners, rows=1, columns=12)["corners_percent"]


def test_a_grid_that_moves_while_it_is_measured_is_measured_as_it_lies_now(tmp_path: Path) -> None:
    scan = handed_in(strip(tmp_path / "sheet.tif", SHEET), sheet=exposed()).scan.name
    for columns in (6, 12):
        do("grid", {"scan": scan, "corners_percent": corners_percent(SHEET), "rows": 1, "columns": columns})
    finish(scan)
    assert len(scan_known(scan).scan.signals) == 12
    assert [job.state for job in Job.objects.filter(kind="measure")][-2:] == ["stopped", "done"]


def test_places_of_a_picture_become_evidence(tmp_path: Path) -> None:
    calibrated(tmp_path)
    number = exposed()
    known = handed_in(strip(tmp_path / "picture.tif", SHEET), sheet=number, shows="picture")
    assert known.state == "looked"
    corners = [float(one) for one in corners_percent(SHEET).split()]
    pitch = (corners[2] - corners[0]) / 12
    middles = [(corners[0] + (place + 0.5) * pitch, 50) for place in (2, 8)]
    rows = [f"{x} {y} 2 20 {ev}" for (x, y), ev in zip(middles, (8, 11), strict=True)]
    do("places", {"scan": known.scan.name, "places": "\n".join(rows)})
    finish(known.scan.name)
    do("scene-patches", {"sheet": number, "scan": known.scan.name})
    (piece,) = api.paper("RC paper, grade 2").told.pieces
    assert [row["kind"] for row in piece.rows] == ["scene patch"] * 2
    assert [row["density"] for row in piece.rows] == pytest.approx([SHEET[2], SHEET[8]], abs=0.03)
    assert piece.rows[1]["exposure_log10"] - piece.rows[0]["exposure_log10"] == pytest.approx(3 * 0.30103, abs=1e-6), "three stops apart"
    assert api.paper("RC paper, grade 2").next.rests_on.startswith("1 picture")


def test_a_scan_of_another_sheet_is_not_taken(tmp_path: Path) -> None:
    calibrated(tmp_path)
    scan = handed_in(strip(tmp_path / "sheet.tif", SHEET), sheet=exposed()).scan.name
    placed(scan, SHEET)
    other = exposed()
    assert "26-001" in fault_of("step-sheet", sheet=other, scan=scan)["scan"]
    assert "26-001" in fault_of("scene-patches", sheet=other, scan=scan)["scan"]


def test_as_many_densities_as_patches(tmp_path: Path) -> None:
    scan = handed_in(strip(tmp_path / "tablet.tif", TABLET), shows="step tablet").scan.name
    assert "densities" in fault_of("calibrate", scan=scan)
    placed(scan, TABLET)
    assert "5 densities for 13 patches" in fault_of("calibrate", scan=scan, densities="0.1 0.2 0.3 0.4 0.5")["densities"]


def test_stopped_work_stays_stopped_until_it_is_asked_for_again(tmp_path: Path) -> None:
    done = api.do("scan", file=strip(tmp_path / "sheet.tif", SHEET), sheet=exposed(), scanner=FLATBED, untagged="linear")
    assert "stopped" in do("stop-work", {"scan": done.name}).says
    assert "no work to stop" in do("stop-work", {"scan": done.name}).says
    finish(done.name)
    assert scan_known(done.name).state == "stopped"
    do("read-again", {"scan": done.name})
    finish(done.name)
    assert scan_known(done.name).state in {"unsure", "measured"}
    assert jobs.newest(done.name) is not None


@pytest.mark.parametrize(
    ("name", "sheet"),
    [
        ("26-001.tif", "26-001"),
        ("2026_1 toned.tiff", "26-001"),
        ("26-1.png", "26-001"),
        ("26-0012.tif", None),
        ("scan.tif", None),
        ("26-002.tif", None),
    ],
)
def test_which_sheet_a_file_shows(name: str, sheet: str | None) -> None:
    exposed()
    assert sheet_of(name) == sheet
