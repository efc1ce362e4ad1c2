"""The made scans are what they say: corners, densities, response, files and profiles by second routes."""

import io
from dataclasses import replace
from math import dist
from pathlib import Path

import cv2
import numpy as np
import pytest
import tifffile
from PIL import Image, ImageCms
from trials.scans.files import FORMS, Form, write
from trials.scans.made import Made, picture, step_sheet, tablet
from trials.scans.profile import profile
from trials.scans.scanner import draw_scanner, published_signal

SMALL_PX = 400
CLEAN = replace(
    draw_scanner(np.random.default_rng(5)),
    response="linear",
    stray_share=0.0,
    glare_share=0.0,
    channel_factors=(0.9, 0.9, 0.9),
    noise_share=0.0,
    shot_share=0.0,
    uneven_share=0.0,
)


@pytest.fixture(scope="module")
def sheet() -> Made:
    return step_sheet(4, scanner=CLEAN, longest_px=800)


def patch_middles(made: Made) -> list[tuple[float, float]]:
    """The middle of every cell, by OpenCV's projection of the unit square on the corners."""
    height, width = made.light.shape
    square = np.array([(0, 0), (1, 0), (1, 1), (0, 1)], np.float32)
    turn = cv2.getPerspectiveTransform(square, (np.array(made.corners) * (width, height)).astype(np.float32))
    cells = [((column + 0.5) / made.columns, (row + 0.5) / made.rows) for row in range(made.rows) for column in range(made.columns)]
    return [(float(x), float(y)) for x, y in cv2.perspectiveTransform(np.array([cells], np.float32), turn)[0]]


def test_the_same_seed_makes_the_same_scan() -> None:
    assert (step_sheet(7, longest_px=SMALL_PX).pixels == step_sheet(7, longest_px=SMALL_PX).pixels).all()
    assert step_sheet(8, longest_px=SMALL_PX).corners != step_sheet(7, longest_px=SMALL_PX).corners


def test_the_light_at_a_patch_is_that_of_its_true_density(sheet: Made) -> None:
    """Through a scanner without faults: 0.9 of the light, and 10^-D of that."""
    assert len(patch_middles(sheet)) == len(sheet.densities) == len(sheet.exposures_log10) == sheet.rows * sheet.columns
    for (x, y), density in zip(patch_middles(sheet), sheet.densities, strict=True):
        seen = np.median(sheet.light[int(y) - 3 : int(y) + 4, int(x) - 3 : int(x) + 4])
        assert -np.log10(seen / 0.9) == pytest.approx(density, abs=0.03)


def test_corners_stand_where_the_skew_puts_them(sheet: Made) -> None:
    height, width = sheet.light.shape
    first, second, third, fourth = ((x * width, y * height) for x, y in sheet.corners)
    assert np.degrees(np.arctan2(second[1] - first[1], second[0] - first[0])) == pytest.approx(sheet.placing.skew_degrees)
    assert dist(first, third) == pytest.approx(dist(second, fourth))
    assert all(0 < x < width and 0 < y < height for x, y in (first, second, third, fourth))


def test_more_light_makes_a_direct_positive_lighter(sheet: Made) -> None:
    by_exposure = [density for _, density in sorted(zip(sheet.exposures_log10, sheet.densities, strict=True))]
    assert by_exposure == sorted(by_exposure, reverse=True)


def test_skew_is_as_small_as_a_hand_makes_it() -> None:
    skews = [step_sheet(seed, longest_px=80).placing.skew_degrees for seed in range(60)]
    assert max(map(abs, skews)) <= 1.5
    assert np.std(skews) == pytest.approx(0.7, abs=0.2)


@pytest.mark.parametrize(("pixel", "density"), [(13.51, 0.04), (113.20, 0.54), (198.04, 1.14), (239.59, 1.64), (253.52, 2.03)])
def test_the_published_scanner(pixel: float, density: float) -> None:
    """University of Illinois, Imaging Technology Group, report 98-006: pixel values and the densities that its formula made of them."""
    assert 255 * (1 - published_signal(np.array(density))) == pytest.approx(pixel, abs=1.2)  # densities are printed to 0.01


def test_a_tablet_lies_near_its_leaflet() -> None:
    made = tablet(3, longest_px=SMALL_PX)
    assert np.allclose(made.densities, 0.05 + 0.10 * np.arange(20), atol=0.02)


def test_a_photograph_has_many_tones() -> None:
    made = picture(2, name="camera", longest_px=SMALL_PX)
    assert made.densities == ()
    assert np.ptp(made.density) > 1.2


@pytest.mark.parametrize("form", FORMS, ids=str)
def test_every_tiff_holds_the_same_pixels(form: Form, tmp_path: Path) -> None:
    made = step_sheet(1, longest_px=SMALL_PX)
    path = write(made, tmp_path / "scan.tif", form)
    with tifffile.TiffFile(path) as file:
        assert (file.asarray() == made.pixels).all()
        assert file.pages.first.iccprofile == profile(made.tone_curve)
        assert file.byteorder == (">" if form.big_endian else "<")
        assert file.pages.first.is_tiled == bool(form.tile_px)


def test_png_and_jpeg(tmp_path: Path) -> None:
    made = step_sheet(1, longest_px=SMALL_PX)
    png = cv2.imread(str(write(made, tmp_path / "16.png", Form("png"))), cv2.IMREAD_UNCHANGED)
    assert png is not None
    assert (png[..., ::-1] == made.pixels).all()
    assert (np.asarray(Image.open(write(made, tmp_path / "8.png", Form("png", bits=8)))) == np.round(made.pixels / 257)).all()
    jpeg = Image.open(write(made, tmp_path / "8.jpg", Form("jpeg", bits=8)))
    assert jpeg.info["icc_profile"] == profile(made.tone_curve)
    assert abs(np.asarray(jpeg).astype(float) - made.pixels / 257).mean() < 3


@pytest.mark.parametrize("tone_curve", ["linear", "gamma 2.2", "sRGB"])
def test_profiles_are_read_by_others(tone_curve: str) -> None:
    read = ImageCms.ImageCmsProfile(io.BytesIO(profile(tone_curve)))
    assert tone_curve in ImageCms.getProfileDescription(read)
    assert ImageCms.isIntentSupported(read, ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Direction.INPUT)


@pytest.mark.parametrize("tone_curve", ["linear", "gamma 2.2", "sRGB"])
def test_light_is_what_is_left_without_the_tone_curve(tone_curve: str) -> None:
    made = step_sheet(6, scanner=replace(CLEAN, tone_curve=tone_curve), longest_px=SMALL_PX)
    value = made.pixels / 65535
    light = {
        "linear": value,
        "gamma 2.2": value ** (563 / 256),
        "sRGB": np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4),
    }[tone_curve]
    assert np.allclose(light @ (0.2126, 0.7152, 0.0722), made.light, atol=2e-5)
