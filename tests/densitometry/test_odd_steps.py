"""Steps of a tablet that do not go with the others: named where one was made wrong, none where all are sound."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.densitometry.test_calibration import published

from silverwright.densitometry.calibration import calibrate
from silverwright.densitometry.odd_steps import odd_steps, uneven_steps

STEPS = np.round(0.05 + 0.15 * np.arange(13), 2)


def found(densities: np.ndarray, light: np.ndarray) -> dict[int, float]:
    """Each odd step by its number, lightest first, with its miss."""
    made = calibrate(densities, light)
    return {len(densities) - one.place: one.miss_density for one in odd_steps(made)}


def test_the_published_tablet_has_none() -> None:
    signal, _, known = published()
    assert found(known, signal) == {}


@given(wrong=st.integers(2, 12), off=st.sampled_from([-0.07, 0.05, 0.07, 0.1]), seed=st.integers(0, 2**32 - 1))
@settings(max_examples=60, deadline=None)
def test_a_step_that_is_off_is_named_alone_with_what_it_is_off(wrong: int, off: float, seed: int) -> None:
    noise = 0.002 * np.random.default_rng(seed).normal(size=len(STEPS))
    light = 0.9 * 10 ** -(STEPS + noise + off * (np.arange(1, len(STEPS) + 1) == wrong))
    named = found(STEPS, light)
    assert list(named) == [wrong]
    assert named[wrong] == pytest.approx(off, abs=0.02), "the others say what it really is"


@given(seed=st.integers(0, 2**32 - 1), doubt=st.sampled_from([0.0, 0.001, 0.004]))
@settings(max_examples=60, deadline=None)
def test_a_sound_tablet_names_none(seed: int, doubt: float) -> None:
    light = 0.9 * 10 ** -(STEPS + doubt * np.random.default_rng(seed).normal(size=len(STEPS)))
    assert found(STEPS, light) == {}


def test_two_odd_steps_far_apart_are_both_named() -> None:
    off = np.zeros(len(STEPS))
    off[3], off[9] = 0.08, -0.08
    assert set(found(STEPS, 0.9 * 10 ** -(STEPS + off))) == {4, 10}


def test_five_steps_cannot_speak_against_one() -> None:
    light = 0.9 * 10 ** -(STEPS[:5] + np.array([0, 0, 0.07, 0, 0]))
    assert found(STEPS[:5], light) == {}


def test_a_step_far_more_uneven_than_its_neighbours() -> None:
    grain = [0.01, 0.012, 0.014, 0.2, 0.02, 0.024, 0.03]
    assert uneven_steps(grain) == (3,)
    assert uneven_steps([10 * one for one in sorted(grain[:3] + grain[4:])]) == (), "grain that grows from step to step is no scratch"
    assert uneven_steps([0.001, 0.04, 0.001]) == (), "less than a fiftieth of density is not worth a word"
    assert uneven_steps([0.0, 0.5, 0.0]) == (), "measured before spreads were kept: nothing to compare with"
