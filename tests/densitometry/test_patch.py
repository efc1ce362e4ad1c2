"""One signal from many pixels: beside scipy's trimmed mean, and its doubt beside what really scatters when the noise is drawn again."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.ndimage import gaussian_filter
from scipy.stats import trim_mean

from silverwright.densitometry.patch import GREY_WEIGHTS, edge_overshoot, patch_signal
from silverwright.errors import NotEnoughReadings, OutOfRange


def noisy(rng: np.random.Generator, level: float, blur_px: float, side: int = 60) -> np.ndarray:
    """A patch whose noise is as wide as `blur_px` pixels and 2 % of the level deep."""
    noise = gaussian_filter(rng.normal(size=(side, side)), blur_px) if blur_px else rng.normal(size=(side, side))
    return np.asarray(level * (1 + 0.02 * noise / noise.std())).ravel()


@given(st.integers(0, 10_000), st.floats(0.01, 0.9))
def test_the_mean_is_that_of_another_hand(seed: int, level: float) -> None:
    pixels = noisy(np.random.default_rng(seed), level, 0)
    assert patch_signal(pixels).grey == pytest.approx(trim_mean(pixels, 0.1), rel=1e-9)


def test_grey_is_the_luminance_of_three_channels() -> None:
    pixels = np.tile([0.2, 0.4, 0.8], (400, 1))
    found = patch_signal(pixels * 65535, white_signal=65535)
    assert found.channel_signals == pytest.approx((0.2, 0.4, 0.8))
    assert found.grey == pytest.approx(0.2126 * 0.2 + 0.7152 * 0.4 + 0.0722 * 0.8)
    assert sum(GREY_WEIGHTS) == pytest.approx(1)
    assert found.sd == pytest.approx(0, abs=1e-12)
    assert found.pixels == 400


@pytest.mark.parametrize("blur_px", [0, 1, 2])
def test_the_doubt_is_what_scatters(blur_px: float) -> None:
    """Noise drawn 300 times: the root mean square of the stated doubts is within a fifth of the scatter of the means."""
    rng = np.random.default_rng(7)
    found = [patch_signal(noisy(rng, 0.3, blur_px)) for _ in range(300)]
    scatter = np.std([one.grey for one in found]) / 0.3
    stated = np.sqrt(np.mean([one.sd**2 for one in found]))
    assert stated / scatter == pytest.approx(1.05, abs=0.2)


def test_a_patch_with_a_slope_doubts_more() -> None:
    rng = np.random.default_rng(3)
    even = noisy(rng, 0.3, 1)
    assert patch_signal(even * np.linspace(0.9, 1.1, len(even))).sd > 5 * patch_signal(even).sd


def test_dust_leaves_the_mean_where_it_is() -> None:
    rng = np.random.default_rng(5)
    pixels = noisy(rng, 0.3, 0)
    dusty = pixels.copy()
    dusty[rng.choice(len(pixels), len(pixels) // 50, replace=False)] = 1.0
    assert patch_signal(dusty).grey == pytest.approx(patch_signal(pixels).grey, rel=0.001)
    assert abs(dusty.mean() / pixels.mean() - 1) > 0.03  # a plain mean would not have stood it


@pytest.mark.parametrize(
    ("share", "value", "word"), [(0.0, 1.0, ""), (0.015, 1.0, ""), (0.03, 1.0, "white"), (0.015, 0.0, ""), (0.03, 0.0, "black"), (1.0, 0.0, "black")]
)
def test_clipping_is_told_from_dust(share: float, value: float, word: str) -> None:
    pixels = np.full((1000, 3), 0.4)
    pixels[: round(1000 * share), 2] = value  # one channel is enough
    found = patch_signal(pixels)
    assert found.clipped == word
    assert found.clipped_share == pytest.approx(share)


def test_a_black_patch_has_no_doubt_to_divide() -> None:
    assert patch_signal(np.zeros(100)).sd == 0


def test_what_cannot_be_measured_is_refused() -> None:
    with pytest.raises(NotEnoughReadings, match="16"):
        patch_signal(np.full(15, 0.5))
    with pytest.raises(OutOfRange, match="channels is 4"):
        patch_signal(np.full((100, 4), 0.5))
    with pytest.raises(OutOfRange, match="white_signal"):
        patch_signal(np.full(100, 0.5), white_signal=0)
    with pytest.raises(NotEnoughReadings, match="across an edge"):
        edge_overshoot(np.ones(7))


def soft_edge() -> np.ndarray:
    """A blurred edge from 0.3 to 0.5."""
    return np.asarray(gaussian_filter(np.where(np.arange(80) < 40, 0.3, 0.5), 1.5))


def test_no_halo_without_sharpening() -> None:
    rng = np.random.default_rng(1)
    assert edge_overshoot(soft_edge()) == 0
    assert np.mean([edge_overshoot(soft_edge() + rng.normal(0, 0.004, 80)) > 0.05 for _ in range(200)]) < 0.01


@given(st.floats(0.5, 3), st.sampled_from([1, -1]))
def test_a_halo_is_seen_from_either_side(amount: float, way: int) -> None:
    soft = soft_edge()
    sharpened = soft + amount * (soft - gaussian_filter(soft, 3))
    most = (sharpened.max() - 0.5) / 0.2
    found = edge_overshoot(sharpened[::way])
    assert found == pytest.approx(most, abs=0.01)
    assert found > 0.02
