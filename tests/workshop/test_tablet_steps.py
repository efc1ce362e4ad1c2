"""A step of the tablet that is scratched or wrong is named, left out with a reason and taken back; what was read by the calibration follows."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import tifffile
from tests.workshop.boatyard import STEPS, exposed, gear
from tests.workshop.scanned import BORDER_PX, GAP_PX, PATCH_PX, TABLET, strip
from tests.workshop.test_scans import FLATBED, SHEET, fault_of, handed_in, placed

from silverwright import api
from silverwright.book.documents import document
from silverwright.book.find import find_thing
from silverwright.book.life import is_old
from silverwright.book.models import Calibration, Curve, KeptAnswer, Reading, ScenePatch, Sheet, StepSheet
from silverwright.book.scans import calibration_known
from silverwright.workshop.act import Done
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
WRONG = 7
KNOWN = " ".join(map(str, TABLET))
NUMBERS = range(1, len(TABLET) + 1)


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def tablet(folder: Path, *, step: int = WRONG, off: float = 0.07, turned: bool = False) -> str:
    """A scanned tablet of which one step is denser than its maker says."""
    real = [density + off * (number == step) for number, density in zip(NUMBERS, TABLET, strict=True)]
    scan = handed_in(strip(folder / f"tablet {step} {off}.tif", real[::-1] if turned else real), shows="step tablet").scan.name
    placed(scan, TABLET)
    return scan


def calibrated(folder: Path, **how: Any) -> Done:
    return do("calibrate", {"scan": tablet(folder, **how), "densities": KNOWN, "turned": how.get("turned", False)})


def names(done: Done) -> list[str]:
    return [one.sentence for one in done.notes if one.note in {"step-odd", "step-uneven"}]


def test_a_wrong_step_is_named_and_no_other(tmp_path: Path) -> None:
    done = calibrated(tmp_path)
    (sentence,) = names(done)
    assert sentence.startswith(f"Step {WRONG} does not go with the others")
    assert calibration_known(FLATBED).answer.answer["suspect_steps"] == [WRONG]


def test_a_sound_tablet_names_none(tmp_path: Path) -> None:
    assert names(calibrated(tmp_path, off=0.0)) == []


def test_turned_the_step_is_counted_as_the_densities_are(tmp_path: Path) -> None:
    (sentence,) = names(calibrated(tmp_path, turned=True))
    assert sentence.startswith(f"Step {WRONG} ")
    done = do("leave-out", {"scanner": FLATBED, "step": WRONG, "reason": "scratched"})
    assert names(done) == []
    assert calibration_known(FLATBED).largest_miss < 0.015  # type: ignore[operator]


def test_a_step_that_is_uneven_inside_is_named(tmp_path: Path) -> None:
    file = strip(tmp_path / "tablet.tif", TABLET)
    pixels = tifffile.imread(file).astype(float)
    left = BORDER_PX + GAP_PX + (WRONG - 1) * (PATCH_PX + GAP_PX)
    pixels[:, left : left + PATCH_PX] *= np.linspace(0.8, 1.2, len(pixels))[:, None]
    tifffile.imwrite(file, pixels.astype(np.uint16))
    scan = handed_in(file, shows="step tablet").scan.name
    placed(scan, TABLET)
    assert any(one.startswith(f"Step {WRONG}: uneven inside") for one in names(do("calibrate", {"scan": scan, "densities": KNOWN})))


def test_left_out_with_a_reason_and_taken_back(tmp_path: Path) -> None:
    before = calibrated(tmp_path).values["largest_miss"]
    known = calibration_known(FLATBED)
    out = do("leave-out", {"scanner": FLATBED, "step": WRONG, "reason": "scratched"})
    assert "scratched" in out.says
    assert f"{len(TABLET) - 1} steps" in out.says
    assert names(out) == []
    left = calibration_known(FLATBED)
    assert before > 0.06
    assert left.largest_miss < 0.015  # type: ignore[operator]
    assert (left.answer.answer["left_out_steps"], WRONG in left.answer.answer["steps_used"]) == ([WRONG], False)
    assert [(row["step"], row["reason"]) for row in document(left)["left_out"]] == [(WRONG, "scratched")]
    assert "left out already: scratched" in fault_of("leave-out", scanner=FLATBED, step=WRONG, reason="again")["step"]
    do("take-back", {"scanner": FLATBED, "step": WRONG})
    back = calibration_known(FLATBED)
    assert (back.pk, back.largest_miss) == (known.pk, before)
    assert document(back)["left_out"] == []
    assert "was not left out" in fault_of("take-back", scanner=FLATBED, step=WRONG)["step"]
    assert KeptAnswer.objects.filter(operation="densitometry.calibration").count() == 3, "every answer stays in the book"
    assert Calibration.objects.count() == 1


def read_from(folder: Path, densities: tuple[float, ...] = SHEET) -> tuple[str, str]:
    """A step sheet whose densities stand in the book, read from a scan, and a picture with two of the same tones as places."""
    number = exposed()
    scan = handed_in(strip(folder / "sheet.tif", densities, seed=2), sheet=number).scan.name
    placed(scan, densities)
    do("step-sheet", {"sheet": number, "scan": scan, "metered": True, "exposure_log10": STEPS})
    picture = exposed()
    marked = handed_in(strip(folder / "picture.tif", densities, seed=3), sheet=picture, shows="picture").scan.name
    wide = 100 / (len(densities) * (PATCH_PX + GAP_PX) + GAP_PX + 2 * BORDER_PX)
    middles = [wide * (BORDER_PX + GAP_PX + (place + 0.5) * (PATCH_PX + GAP_PX)) for place in (5, 8)]
    do("places", {"scan": marked, "places": "\n".join(f"{x} 50 2 20 {ev}" for x, ev in zip(middles, (9, 11), strict=True))})
    api.densities(marked)
    do("scene-patches", {"sheet": picture, "scan": marked})
    return number, picture


def densities(number: str) -> list[float | None]:
    return [one.density for one in StepSheet.objects.get(sheet__number=number).patches]


def test_what_was_read_by_the_calibration_follows_and_comes_back(tmp_path: Path) -> None:
    calibrated(tmp_path)
    sheet = (*SHEET[:5], 0.95, *SHEET[6:])
    number, picture = read_from(tmp_path, sheet)
    do("learn", {"sheet": number})
    before, sd = densities(number), StepSheet.objects.get().density_sd
    places = list(ScenePatch.objects.values_list("density", flat=True))
    done = do("leave-out", {"scanner": FLATBED, "step": WRONG, "reason": "scratched"})
    assert done.values["followed"] == [number, picture]
    after = densities(number)
    off = [(one or 0) - true for one, true in zip(before, sheet, strict=True)]
    left = [(one or 0) - true for one, true in zip(after, sheet, strict=True)]
    assert max(map(abs, off)) > 0.05, "the wrong step bent what was read near it"
    assert max(map(abs, left)) < 0.012
    assert StepSheet.objects.get().density_sd < sd  # type: ignore[operator]
    assert list(ScenePatch.objects.values_list("density", flat=True)) != places
    assert is_old(Curve.objects.get()), "the curve says that its readings have changed"
    do("take-back", {"scanner": FLATBED, "step": WRONG})
    assert densities(number) == before
    assert list(ScenePatch.objects.values_list("density", flat=True)) == places


def test_a_reading_that_a_hand_changed_stays(tmp_path: Path) -> None:
    calibrated(tmp_path)
    number, _ = read_from(tmp_path)
    row = Reading.objects.get(step_sheet__sheet__number=number, position=6)
    do("correct", {"kind": "reading", "name": f"{number}/6", "seen": row.version, "changes": "density; 1.11"})
    do("leave-out", {"scanner": FLATBED, "step": WRONG, "reason": "scratched"})
    assert densities(number)[5] == 1.11


def test_beyond_what_is_left_a_reading_has_no_density_until_it_is_taken_back(tmp_path: Path) -> None:
    """The darkest steps are left out: the darkest patches lie more than a step beyond the rest."""
    calibrated(tmp_path, off=0.0)
    sheet = (1.84, 1.83, *SHEET[2:])
    number, picture = read_from(tmp_path, sheet)
    before = densities(number)
    for step in (13, 12):
        do("leave-out", {"scanner": FLATBED, "step": step, "reason": "a cap on it"})
    after = densities(number)
    assert after[:2] == [None, None]
    assert Reading.objects.get(step_sheet__sheet__number=number, position=1).note
    for step in (12, 13):
        do("take-back", {"scanner": FLATBED, "step": step})
    assert densities(number) == before
    assert not Reading.objects.get(step_sheet__sheet__number=number, position=1).note
    assert Sheet.objects.get(number=picture).scene_patches.filter(archived_at=None).count() == 2


def test_a_place_that_cannot_be_told_any_more_goes_to_the_archive_and_comes_back(tmp_path: Path) -> None:
    calibrated(tmp_path, off=0.0)
    _, picture = read_from(tmp_path, (*SHEET[:5], 1.84, *SHEET[6:]))
    kept = Sheet.objects.get(number=picture).scene_patches
    before = list(kept.values_list("density", flat=True))
    for step in (13, 12):
        do("leave-out", {"scanner": FLATBED, "step": step, "reason": "a cap on it"})
    assert kept.filter(archived_at=None).count() == 1
    for step in (12, 13):
        do("take-back", {"scanner": FLATBED, "step": step})
    assert list(kept.filter(archived_at=None).values_list("density", flat=True)) == before


def test_calibrated_again_from_the_same_scan_it_stays_left_out(tmp_path: Path) -> None:
    scan = tablet(tmp_path)
    do("calibrate", {"scan": scan, "densities": KNOWN})
    do("leave-out", {"scanner": FLATBED, "step": WRONG, "reason": "scratched"})
    do("calibrate", {"scan": scan, "densities": KNOWN.replace("0.05 ", "0.06 ", 1)})
    again = calibration_known(FLATBED)
    assert [(one.step, one.reason) for one in again.left_out.all()] == [(WRONG, "scratched")]
    assert again.answer.answer["left_out_steps"] == [WRONG]
    do("calibrate", {"scan": tablet(tmp_path, off=0.0), "densities": KNOWN})
    assert not calibration_known(FLATBED).left_out.exists(), "another scan of it may be of a clean tablet"


@pytest.mark.parametrize(
    ("given", "field", "says"),
    [
        ({"scanner": FLATBED, "reason": "x"}, "step", "which step"),
        ({"scanner": FLATBED, "step": 99, "reason": "x"}, "step", "13 steps"),
        ({"scanner": FLATBED, "step": 1.5, "reason": "x"}, "step", "whole"),
        ({"scanner": FLATBED, "step": 3}, "reason", ""),
        ({"scanner": "none such", "step": 3, "reason": "x"}, "scanner", "No scanner"),
        ({"reason": "x"}, "sheet", "or a scanner"),
        ({"sheet": "26-001", "reason": "x"}, "evidence", "what of"),
        ({"sheet": "26-001", "scanner": FLATBED, "reason": "x"}, "scanner", "both"),
    ],
)
def test_what_is_wrong_is_said_beside_its_field(tmp_path: Path, given: dict[str, Any], field: str, says: str) -> None:
    exposed()
    calibrated(tmp_path)
    assert says in fault_of("leave-out", **given)[field]


def test_too_few_steps_stay_and_a_scanner_that_is_not_calibrated() -> None:
    assert "not calibrated yet" in fault_of("leave-out", scanner=FLATBED, step=1, reason="x")["scanner"]
    typed = "0.05 0.81\n0.35 0.41\n0.65 0.2\n0.95 0.1\n1.25 0.05"
    do("calibrate", {"scanner": FLATBED, "steps": typed})
    problem = fault_of("leave-out", scanner=FLATBED, step=3, reason="dust")["step"]
    assert "4 steps" in problem
    assert "left out by you" in problem
    assert find_thing("scanner", FLATBED).calibrations.get().left_out.count() == 0  # type: ignore[attr-defined]
