"""Profiles: curves of every kind, grey and colour, and those that say nothing that can be used."""

import struct
from pathlib import Path

import numpy as np
import pytest
import pyvips
from tests.scanning.files import SRGB, curv, icc, para, pixels, srgb_light, tiff, with_curves

from silverwright.densitometry.density import reflectance_of_lightness
from silverwright.scanning.kinds import read_header
from silverwright.scanning.profile import ProfileUnusable, light_of_lightness, read_profile, untagged_curve

SHARES = np.linspace(0, 1, 65536)


@pytest.mark.parametrize(
    ("curve", "light"),
    [
        (curv(), SHARES),
        (curv(0x0233), SHARES ** (0x0233 / 256)),
        (curv(0, 65535), SHARES),
        (curv(*np.rint(65535 * np.linspace(0, 1, 1024) ** 1.8).astype(int).tolist()), SHARES**1.8),
        (para(0, 2.2), SHARES**2.2),
        (para(1, 2.0, 1.25, -0.25), np.where(SHARES >= 0.2, np.maximum(1.25 * SHARES - 0.25, 0) ** 2, 0)),
        (para(2, 2.0, 0.9, -0.09, 0.1), np.where(SHARES >= 0.1, np.maximum(0.9 * SHARES - 0.09, 0) ** 2 + 0.1, 0.1)),
        (SRGB, srgb_light(SHARES)),
        (para(4, 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045, 0.0, 0.0), srgb_light(SHARES)),
    ],
)
def test_curves_of_every_kind(curve: bytes, light: np.ndarray) -> None:
    for found in (read_profile(with_curves(curve)), read_profile(with_curves(curve, b"GRAY"))):
        for one in found.curves:
            np.testing.assert_allclose(one, light, atol=3e-5)
    assert len(read_profile(with_curves(curve)).curves) == 3


def test_the_library_that_others_use_reads_the_same_curve(tmp_path: Path) -> None:
    """lcms, through libvips, to lightness: a second route to the light of middle and light tones, where its 16 bits are fine enough."""
    numbers = np.repeat(np.linspace(9000, 65535, 100).astype("u2")[None, :, None], 3, axis=2)
    path = tiff(tmp_path / "a.tif", numbers, iccprofile=bytes(pyvips.Operation.call("profile_load", "srgb")))
    lab = pyvips.Image.new_from_file(str(path)).icc_import(embedded=True, pcs="lab", intent="relative").numpy()[0, :, 0]
    profile = read_header(path).profile()
    assert profile is not None
    assert profile.name == "sRGB"
    np.testing.assert_allclose(profile.curves[1][numbers[0, :, 1]], [reflectance_of_lightness(float(one)) for one in lab], atol=3e-4)


def test_a_grey_curve_that_leads_to_lightness() -> None:
    found = read_profile(with_curves(curv(), b"GRAY", connection=b"Lab "))
    places = (0, 3000, 32768, 65535)
    assert [float(found.curves[0][place]) for place in places] == pytest.approx(
        [reflectance_of_lightness(place / 655.35) for place in places], abs=1e-5
    )
    assert light_of_lightness(np.array([50.0], np.float32))[0] == pytest.approx(0.18419, abs=1e-5)  # CIE 15


@pytest.mark.parametrize(
    ("profile", "why"),
    [
        (b"", "damaged"),
        (bytes(200), "damaged"),
        (with_curves(SRGB)[:200], "damaged"),
        (icc(), "neither tone curves nor a table"),
        (icc(b"CMYK"), "neither for grey nor for red"),
        (icc(kind=b"link"), "describes no picture"),
        (with_curves(curv(65535, 0)), "does not rise"),
        (with_curves(curv(5, 5)), "does not rise"),
        (with_curves(para(9, 1.0)), "unknown kind"),
        (with_curves(b"what" + bytes(20)), "unknown kind"),
        (with_curves(b"curv" + bytes(4) + struct.pack(">I", 2**31)), "damaged"),
    ],
)
def test_what_cannot_be_used(profile: bytes, why: str) -> None:
    with pytest.raises(ProfileUnusable, match=why):
        read_profile(profile)


def test_flipped_bytes_in_a_profile_never_end_in_a_traceback() -> None:
    chance = np.random.default_rng(4)
    whole = with_curves(curv(*range(0, 65536, 257)))
    for _ in range(500):
        broken = np.frombuffer(whole, "u1").copy()
        places = chance.integers(0, len(broken), 4)
        broken[places] = chance.integers(0, 256, 4)
        try:
            found = read_profile(broken.tobytes())
        except ProfileUnusable:
            continue
        assert all(np.isfinite(curve).all() and curve.min() >= 0 and curve.max() <= 1 for curve in found.curves)


def test_a_profile_for_other_channels_is_not_used(tmp_path: Path) -> None:
    header = read_header(tiff(tmp_path / "a.tif", pixels(channels=1), iccprofile=with_curves(SRGB)))
    assert header.profile() is None
    assert header.profile_trouble() == "it is for 3 channels, and the picture has 1"


def test_what_somebody_said() -> None:
    np.testing.assert_allclose(untagged_curve("linear"), SHARES, atol=1e-7)
    np.testing.assert_allclose(untagged_curve("gamma 2.2"), SHARES**2.2, atol=1e-6)
    np.testing.assert_allclose(untagged_curve("sRGB"), srgb_light(SHARES), atol=1e-6)
