"""Signals made into densities: on the published tablet, beside scipy's line, by closed forms, and by counting how often the doubt holds."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from silverwright.densitometry.calibration import Calibration, Doubts, calibrate, read_density, step_of_scale
from silverwright.densitometry.monotone import line_at, line_slope, misses_left_out
from silverwright.densitometry.tablet import falls_better_turned, sort_steps
from silverwright.errors import NotEnoughReadings, OutOfRange

TABLE = Path(__file__).parents[1] / "authorities" / "step_tablet_itg1998.csv"
NONE = Doubts()


def published() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Signal (255 less the pixel value), converted and known density."""
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    rows = np.array([[float(cell) for cell in row.values()] for row in csv.DictReader(lines)])
    return 255 - rows[:, 0], rows[:, 1], rows[:, 2]


def formula(signal: np.ndarray) -> np.ndarray:
    """The published conversion."""
    return np.asarray(2.2105 - 1.0526 * (signal / 55) ** 0.4878)


def densities_read(found: Calibration, signals: np.ndarray) -> list[float]:
    return [read_density(found, float(one), 0.0, NONE).density for one in signals]


def test_the_published_conversion() -> None:
    """The table and the formula that was printed with it belong together."""
    signal, converted, _ = published()
    assert len(signal) == 20
    assert formula(signal) == pytest.approx(converted, abs=0.005)


def test_a_published_tablet_is_foretold() -> None:
    """Interior steps within 0.018 when left out; the ends are told apart."""
    signal, _, known = published()
    found = calibrate(known, signal)
    assert found.offset == 0
    assert found.largest_miss <= 0.018
    assert found.rms_miss <= 0.008
    assert len(found.inner_misses) == 18


def test_the_published_conversion_is_learnt_from_its_own_steps() -> None:
    """Between its own twenty steps the line is the formula within 0.005; learnt from the printed steps, half a unit of their print comes on top."""
    signal, converted, _ = published()
    between = np.linspace(signal.min(), signal.max(), 400)
    exact, printed = calibrate(formula(signal), signal), calibrate(converted, signal)
    assert exact.offset == 0
    assert densities_read(exact, between) == pytest.approx(formula(between), abs=0.005)
    assert densities_read(printed, between[20:]) == pytest.approx(formula(between[20:]), abs=0.01)


@given(st.integers(0, 1000), st.integers(5, 25))
def test_the_line_is_that_of_another_hand(seed: int, count: int) -> None:
    dice = np.random.default_rng(seed)
    x, y = np.cumsum(dice.uniform(0.05, 1, count)), -np.cumsum(dice.uniform(0.01, 1, count))
    other = PchipInterpolator(x, y)
    places = np.linspace(x[0], x[-1], 50)
    assert line_at(x, y, places) == pytest.approx(other(places), abs=1e-10)
    assert [line_slope(x, y, float(one)) for one in places] == pytest.approx(other.derivative()(places), abs=1e-8)
    inner = [float(PchipInterpolator(np.delete(x, at), np.delete(y, at))(x[at]) - y[at]) for at in range(1, count - 1)]
    assert misses_left_out(x, y)[1:-1] == pytest.approx(inner, abs=1e-10)


@given(st.floats(0.5, 2), st.floats(1e-4, 1e4), st.floats(0.1, 1.9))
def test_any_scale_and_gradient_round_trip(gradient: float, scale: float, density: float) -> None:
    """A scanner whose light is a power of the tablet's: the logarithm makes a straight line of it, which is met exactly."""
    known = np.linspace(0.05, 2.0, 14)
    found = calibrate(known, scale * 10 ** (-gradient * known))
    read = read_density(found, scale * 10 ** (-gradient * density), 0.01, NONE)
    assert read.density == pytest.approx(density, abs=1e-6)
    assert read.sd == pytest.approx(0.01 / np.log(10) / gradient, rel=1e-3)
    assert read.beyond_steps == 0


def test_stray_light_is_taken_off_when_that_foretells_better() -> None:
    known = np.linspace(0.05, 2.05, 21)
    found = calibrate(known, 10**-known + 0.004)
    assert found.offset == pytest.approx(0.004, rel=0.15)
    assert found.largest_miss < 0.005
    for density in (0.1, 1.0, 1.9):
        light = 10**-density
        read = read_density(found, light + 0.004, 0.01, NONE)
        assert read.density == pytest.approx(density, abs=0.001)
        assert read.sd == pytest.approx(0.01 * (light + 0.004) / light / np.log(10), rel=0.05), "noise counts as a share of the picture's light"
        assert step_of_scale(found, light + 0.004, 0.001) == pytest.approx(0.001 / light / np.log(10), rel=0.05)


def test_an_uneven_lamp_hides_in_the_misses_and_shows_when_the_tablet_is_turned() -> None:
    """A lamp 2 % weaker at one end: no step left out is missed, and turned by half the ends differ by log10 1.02."""
    known, lamp = np.linspace(0.05, 1.85, 13), np.linspace(1.01, 0.99, 13)
    found = calibrate(known, 10**-known * lamp)
    assert found.largest_miss < 0.001
    off = np.array(densities_read(found, 10**-known * lamp[::-1])) - known
    assert np.abs(off).max() == pytest.approx(np.log10(1.02), rel=0.05)


def test_noise_is_not_taken_for_stray_light() -> None:
    known = np.linspace(0.05, 2.05, 21)
    noisy = [known + np.random.default_rng(seed).normal(0, 0.002, 21) for seed in range(20)]
    assert [calibrate(known, 10**-one).offset for one in noisy] == [0] * 20


def test_the_doubt_is_that_of_the_steps_near_by() -> None:
    """A tablet whose dark half is off by 0.01 up and down: a light patch is known better than a dark one."""
    known = np.linspace(0.05, 2.05, 21)
    found = calibrate(known, 10 ** -(known + 0.01 * (known > 1.2) * (-1) ** np.arange(21)))
    light, dark = (read_density(found, 10**-density, 0.0, NONE).sd for density in (0.4, 1.7))
    assert dark > 1.5 * light > 0


def test_the_doubt_holds_about_eighty_times_of_a_hundred() -> None:
    """Tablets with steps off by 0.01 each, a scanner with stray light: 80 % limits from the misses alone hold 75 to 85 times of 100."""
    dice, held = np.random.default_rng(4), []
    true = np.linspace(0.05, 2.05, 21)
    for _ in range(300):
        found = calibrate(true + dice.normal(0, 0.01, 21), 0.8 * 10**-true + 0.002)
        for density in dice.uniform(0.1, 1.8, 5):
            light = (0.8 * 10**-density + 0.002) * (1 + dice.normal(0, 0.005))
            read = read_density(found, light, 0.005, NONE)
            held.append(abs(read.density - density) < 1.2816 * read.sd)
    assert 0.75 <= np.mean(held) <= 0.85


def test_each_doubt_counts() -> None:
    known = np.linspace(0.05, 2.0, 14)
    found = calibrate(known, 10**-known)
    assert read_density(found, 0.1, 0.0, Doubts(tablet_density=0.02)).sd == pytest.approx(0.02, rel=1e-3)
    assert read_density(found, 0.01, 0.0, Doubts(stray_share=0.0004)).sd == pytest.approx(0.04 / np.log(10), rel=1e-3)
    beyond = read_density(found, 10**-2.1, 0.0, NONE)
    assert beyond.density == pytest.approx(2.1, abs=1e-6)
    assert beyond.sd == pytest.approx(0.05, rel=1e-3)
    assert beyond.beyond_steps == pytest.approx(0.1 / 0.15, rel=1e-3)


def test_a_step_of_eight_bits() -> None:
    """At density 2.0 a step of 8 bits with gamma 2.2 is 0.03 of density."""
    known = np.linspace(0, 2.4, 13)
    found = calibrate(known, 10**-known)
    assert step_of_scale(found, 0.01, 2.2 * 0.01 ** (1 - 1 / 2.2) / 255) == pytest.approx(0.030, abs=0.001)


def test_what_cannot_calibrate_is_refused() -> None:
    known = np.linspace(0, 1, 6)
    with pytest.raises(NotEnoughReadings, match="5"):
        calibrate(known[:4], 10 ** -known[:4])
    with pytest.raises(OutOfRange, match="turn back"):
        calibrate(known, 10**known)
    with pytest.raises(OutOfRange, match="signal"):
        calibrate(known, 10**-known - 0.1)
    found = calibrate(known, 10**-known)
    with pytest.raises(OutOfRange, match="signal"):
        read_density(found, 0.0, 0.0, NONE)
    with pytest.raises(OutOfRange, match="signal"):
        step_of_scale(found, 0.0, 0.01)


@given(st.lists(st.floats(0.03, 0.4), min_size=5, max_size=30), st.floats(0.3, 3))
def test_a_tablet_the_other_way_round_is_told(rises: list[float], gradient: float) -> None:
    densities = np.cumsum(rises).tolist()
    light = [float(10 ** (-gradient * one)) for one in densities]
    assert not falls_better_turned(densities, light)
    assert falls_better_turned(densities, light[::-1])
    assert sort_steps(densities, light, 0.05).usable == tuple(range(len(densities)))


def test_single_steps_that_turn_back_and_clipped_ends_are_named() -> None:
    densities = [0.05, 0.15, 0.35, 0.65, 0.95, 1.25, 1.55, 1.65, 1.75]
    found = sort_steps(densities, [1, 1, 0.5, 0.25, 0.4, 0.06, 0.03, 0, 0], 0.05)
    assert found.clipped_light == (0, 1)
    assert found.clipped_dark == (7, 8)
    assert found.turning_back in ((4,), (3,))
    assert len(found.usable) == 4
