"""Lines through patches: how left-out patches are foretold, which line is chosen, and patches that are odd."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares
from tests.sensitometry.world import step_sheet

from silverwright.errors import NotEnoughReadings
from silverwright.questions.stated import curve_prior
from silverwright.sensitometry.fit import SPLINE, Patches, choose, fit_all, fit_shape, fit_spline, steps_back
from silverwright.sensitometry.shapes import DOUBLE_LOGISTIC, LOGISTIC, Shape


def patches_of(seed: int, patches: int, sign: float = -1.0) -> Patches:
    sheet = step_sheet(seed, patches, sign=sign)
    return Patches(np.array(sheet.exposure_log10), np.array(sheet.density), 0.02)


@pytest.mark.parametrize("shape", [LOGISTIC, DOUBLE_LOGISTIC], ids=lambda one: one.name)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_leverage_tells_what_leaving_out_tells(shape: Shape, seed: int) -> None:
    """The line fitted again without each patch, by another minimum search: the shortcut agrees to a few thousandths of density."""
    patches = patches_of(seed, 21)
    prior = curve_prior(patches, known=False)
    middles, sds = prior.of(shape.parameters)
    again = []
    for index in range(21):
        kept = np.arange(21) != index

        def missed(z: np.ndarray, kept: np.ndarray = kept) -> np.ndarray:
            line = shape.density(middles + sds * z, patches.exposure_log10[kept], patches.sign)
            return np.concatenate([(patches.density[kept] - line) / patches.density_sd, z])

        best = least_squares(missed, np.full(len(middles), 0.01)).x
        foretold = shape.density(middles + sds * best, patches.exposure_log10[[index]], patches.sign)
        again.append(patches.density[index] - float(foretold[0]))
    quick = fit_shape(shape, patches, prior)
    assert quick.left_out_rms == pytest.approx(np.sqrt(np.mean(np.square(again[1:-1]))), rel=0.1)


def test_a_plain_logistic_is_found_again() -> None:
    """Without noise and with many patches the prior has no say."""
    x = np.linspace(-1.5, 1.5, 41)
    truth = np.array([0.08, np.log(1.8), 0.1, np.log(7.0)])
    patches = Patches(x, LOGISTIC.density(truth, x, -1.0), 0.001)
    line = fit_shape(LOGISTIC, patches, curve_prior(patches, known=True))
    assert line.dmin == pytest.approx(0.08, abs=1e-4)
    assert line.dmax == pytest.approx(1.88, abs=1e-4)
    assert line.density(x) == pytest.approx(patches.density, abs=1e-4)


def test_a_shape_that_fits_beats_one_that_cannot() -> None:
    """A curve with a long toe and noise of 0.003: the double logistic foretells it better than the logistic and the spline."""
    x = np.linspace(-1.5, 1.5, 21)
    truth = np.array([0.08, np.log(1.8), 0.0, np.log(6.0), 1.0, 0.9, -0.8])
    dice = np.random.default_rng(8)
    patches = Patches(x, DOUBLE_LOGISTIC.density(truth, x, -1.0) + 0.003 * dice.standard_normal(21), 0.005)
    prior = curve_prior(patches, known=True)
    tried = fit_all(patches, prior)
    assert choose(tried).shape == "double logistic"
    assert choose(tried).left_out_rms < fit_shape(LOGISTIC, patches, prior).left_out_rms / 2


def test_a_kink_that_no_smooth_shape_has_goes_to_the_spline() -> None:
    x = np.linspace(-1.5, 1.5, 31)
    patches = Patches(x, np.interp(x, [-1.5, -0.2, 0.0, 1.5], [1.9, 1.85, 1.0, 0.05]), 0.01)
    assert choose(fit_all(patches, curve_prior(patches, known=False))).shape == SPLINE


def test_few_patches_get_the_plain_logistic_only() -> None:
    whole = patches_of(4, 12)
    few = Patches(whole.exposure_log10[:9], whole.density[:9], 0.02)
    assert [line.shape for line in fit_all(few, curve_prior(few, known=False))] == ["logistic"]
    assert [line.shape for line in fit_all(whole, curve_prior(whole, known=False))] == ["double logistic", SPLINE]


def test_fewer_than_five_say_how_many_are_needed() -> None:
    whole = patches_of(4, 12)
    four = Patches(whole.exposure_log10[:4], whole.density[:4], 0.02)
    with pytest.raises(NotEnoughReadings, match="4 patches given; at least 5 are needed"):
        fit_all(four, curve_prior(four, known=False))


@given(st.lists(st.floats(0, 1), min_size=5, max_size=20))
def test_the_spline_goes_through_patches_that_never_turn_back(steps: list[float]) -> None:
    density = 2.0 - np.cumsum(steps) / 20
    patches = Patches(np.linspace(-1, 1, len(steps)), density, 0.02)
    line = fit_spline(patches)
    if np.ptp(density) > 0:
        assert line.density(patches.exposure_log10) == pytest.approx(density, abs=1e-9)
    along = line.density(np.linspace(-2, 2, 200))
    assert (np.diff(along) <= 1e-9).all()


def test_the_spline_takes_two_patches_of_one_exposure_as_their_mean() -> None:
    x = np.array([-1.0, -0.5, 0.0, 0.0, 0.5, 1.0])
    line = fit_spline(Patches(x, np.array([1.9, 1.6, 1.2, 1.0, 0.4, 0.1]), 0.02))
    assert float(line.density(np.array([0.0]))[0]) == pytest.approx(1.1)


def test_steps_back_are_told_with_their_size() -> None:
    x = np.linspace(-1, 1, 6)
    falling = Patches(x, np.array([1.9, 1.6, 1.2, 0.4, 0.1, 0.25]), 0.02)
    for one in (falling, Patches(x, 2 - falling.density, 0.02)):
        ((index, amount),) = steps_back(one, 3.0)
        assert (index, round(amount, 6)) == (5, 0.15)
    assert steps_back(Patches(x, np.array([1.9, 1.91, 1.2, 0.4, 0.1, 0.12]), 0.02), 3.0) == []


def test_which_way_the_curve_runs() -> None:
    assert patches_of(4, 12).sign == -1
    assert patches_of(4, 12, sign=1.0).sign == 1
