"""A scanner that corrects by itself: sharpening and clipped ends are told, of the tablet and of the sheet, whichever was scanned with them."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
import tifffile
from scipy.ndimage import gaussian_filter
from tests.workshop.boatyard import exposed, gear

from silverwright import api
from silverwright.book.models import Calibration
from silverwright.book.scans import ScanKnown, scan_known
from silverwright.notes import Note
from silverwright.workshop.deeds import do
from silverwright.workshop.worker import finish

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
PATCH_PX, HEIGHT_PX = 60, 120
TABLET = tuple(round(0.05 + 0.15 * step, 2) for step in range(13))
SHEET = (1.66, 1.50, 1.32, 1.08, 0.80, 0.55, 0.36, 0.24)
WHOLE = "0 0 100 0 100 100 0 100"


def scanned(path: Path, densities: Sequence[float], *, sharpened: float = 0.0, gain: float = 0.95) -> Path:
    """Patches that touch, linear with 16 bits; the scanner adds what differs from a blurred picture, and holds its light to the scale."""
    light = np.ones((HEIGHT_PX, 1)) * np.repeat(gain * 10.0 ** -np.array(densities), PATCH_PX)
    light *= 1 + 0.002 * np.random.default_rng(1).normal(size=light.shape)
    soft = gaussian_filter(light, 1.0)
    seen = soft + sharpened * (soft - gaussian_filter(soft, 4.0))
    tifffile.imwrite(path, np.clip(np.rint(seen * 65535), 0, 65535).astype(np.uint16))
    return path


def measured(file: Path, patches: int, **more: str) -> ScanKnown:
    """Handed in, its grid placed, read."""
    name = api.do("scan", file=file, scanner="flatbed in the office", untagged="linear", **more).name
    finish(name)
    do("grid", {"scan": name, "corners_percent": WHOLE, "rows": 1, "columns": patches})
    finish(name)
    return scan_known(name)


def calibrated(file: Path) -> set[str]:
    """The notes of the calibration that this tablet makes."""
    scan = measured(file, len(TABLET), shows="step tablet").scan.name
    do("calibrate", {"scan": scan, "densities": " ".join(map(str, TABLET))})
    return {one["note"] for one in Calibration.objects.latest("pk").answer.answer["notes"]}


def notes_of_sheet(file: Path) -> set[Note]:
    found = measured(file, len(SHEET), sheet=exposed()).densities
    assert found is not None
    return {one.note for one in found.notes}


def test_a_sharpened_tablet_is_told_when_it_calibrates(tmp_path: Path) -> None:
    gear()
    assert Note.HALO_SUSPECTED in calibrated(scanned(tmp_path / "sharp.tif", TABLET, sharpened=0.6))
    assert Note.HALO_SUSPECTED not in calibrated(scanned(tmp_path / "plain.tif", TABLET))


def test_a_sheet_sharpened_after_a_plain_tablet_is_told(tmp_path: Path) -> None:
    gear()
    calibrated(scanned(tmp_path / "tablet.tif", TABLET))
    assert Note.PATCHES_OVERSHOOT in notes_of_sheet(scanned(tmp_path / "sharp.tif", SHEET, sharpened=0.6))
    assert Note.PATCHES_OVERSHOOT not in notes_of_sheet(scanned(tmp_path / "plain.tif", SHEET))


def test_a_tablet_whose_light_end_is_clipped_is_told(tmp_path: Path) -> None:
    """An automatic exposure that lifts the two lightest steps beyond the scale."""
    gear()
    assert Note.ENDS_CLIPPED in calibrated(scanned(tmp_path / "bright.tif", TABLET, gain=1.8))


def test_a_clipped_patch_of_a_sheet_is_named_and_left_out(tmp_path: Path) -> None:
    gear()
    calibrated(scanned(tmp_path / "tablet.tif", TABLET))
    found = measured(scanned(tmp_path / "bright.tif", SHEET, gain=2.0), len(SHEET), sheet=exposed()).densities
    assert found is not None
    assert found.left_out_positions == (8,)
    assert any("Patch 8 left out: clipped at white" in one.sentence for one in found.notes)
