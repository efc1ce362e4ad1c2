"""A whole step sheet: the worked example, ends that the patches do not show, and limits that hold what is shown."""

import math

import numpy as np
import pytest
from tests.sensitometry.world import step_sheet

from silverwright.questions.stated import curve_prior, point_rules
from silverwright.sensitometry.fit import Patches
from silverwright.sensitometry.learn import Learnt, Wanted, learn_curve
from silverwright.sensitometry.limits import Limits

X = np.arange(-0.9, 0.751, 0.15)
D = np.array([1.88, 1.87, 1.85, 1.81, 1.68, 1.41, 0.98, 0.55, 0.28, 0.15, 0.11, 0.09])


def learnt(x: np.ndarray, d: np.ndarray, density_sd: float = 0.02, exposure_sd_log10: float = 0.0, **wanted: object) -> Learnt:
    patches = Patches(x, d, density_sd, exposure_sd_log10)
    asked = Wanted(**{"light_sd_stops": 0.1, **wanted})  # type: ignore[arg-type]
    return learn_curve(patches, curve_prior(patches, known=False), point_rules(), asked)


def holds(limits: Limits, truth: float) -> bool:
    return (limits.low is None or limits.low <= truth) and (limits.high is None or truth <= limits.high)


@pytest.fixture(scope="module")
def falling() -> Learnt:
    return learnt(X, D)


@pytest.fixture(scope="module")
def rising() -> Learnt:
    return learnt(-X[::-1], D[::-1])


def test_twelve_patches_of_a_known_curve(falling: Learnt) -> None:
    """Rounded readings of the logistic Dmin 0.08, Dmax 1.88, k 7: closed form inside the limits."""
    assert holds(falling.figures["range_log10"], 0.8545)
    assert holds(falling.figures["camera_ei"], 8.125 / 10 ** (math.log(1.8 / (0.74473 - 0.08) - 1) / 7))
    assert holds(falling.figures["low_log10"], -0.3139)
    assert holds(falling.figures["high_log10"], 0.5406)
    assert holds(falling.figures["ends_ei"], 7.70)
    assert holds(falling.figures["paper_speed"], 796)
    assert holds(falling.figures["gradient"], 1.849)


def test_a_negative_is_learnt_as_well(falling: Learnt, rising: Learnt) -> None:
    """The mirrored sheet: ends change places, densities stay, within what another draw of the sampler moves them."""
    assert rising.figures["dmin"].value == pytest.approx(falling.figures["dmin"].value, abs=0.003)
    assert rising.figures["dmax"].value == pytest.approx(falling.figures["dmax"].value, abs=0.003)
    for mine, other in (("low_log10", "high_log10"), ("high_log10", "low_log10"), ("middle_log10", "middle_log10")):
        one, two = rising.figures[mine], falling.figures[other]
        assert one.value == pytest.approx(-(two.value or 0.0), abs=0.005)
        assert one.low == pytest.approx(-(two.high or 0.0), abs=0.01)
        assert one.high == pytest.approx(-(two.low or 0.0), abs=0.01)


def test_every_shown_figure_lies_inside_its_limits() -> None:
    for seed in range(12):
        sheet = step_sheet(500 + seed, 12)
        found = learnt(np.array(sheet.exposure_log10), np.array(sheet.density))
        for name, limits in found.figures.items():
            if limits.value is not None:
                assert limits.low is not None, name
                assert limits.high is not None, name
                assert limits.low <= limits.value <= limits.high, name


def test_an_end_beyond_the_patches_is_open_and_its_bound_lies_within_them() -> None:
    """Shoulder cut off, then toe: the range reads at least, and never more than the patches span from the other end."""
    no_shadows = learnt(X[5:], D[5:]).figures
    assert (no_shadows["low_log10"].value, no_shadows["low_log10"].low) == (None, None)
    assert no_shadows["low_log10"].high == pytest.approx(X[5], abs=1e-9)
    assert no_shadows["dmax"].high is None
    assert no_shadows["dmax"].low == pytest.approx(D[5], abs=0.05)
    assert no_shadows["range_log10"].high is None
    assert (no_shadows["range_log10"].low or 9) <= X[-1] - X[5]
    no_highlights = learnt(X[:8], D[:8]).figures
    assert (no_highlights["high_log10"].value, no_highlights["high_log10"].high) == (None, None)
    assert no_highlights["high_log10"].low == pytest.approx(X[7], abs=1e-9)
    assert no_highlights["dmin"].low is None
    assert "gradient" not in no_highlights
    assert "ends_ei" not in no_highlights


def test_a_grey_beyond_the_patches_bounds_the_index() -> None:
    """All patches darker than the grey: it needs more exposure, so the index is at most; all lighter: at least."""
    dark = learnt(X[:6], D[:6]).figures
    assert dark["camera_ei"].value is None
    assert dark["camera_ei"].low is None
    assert (dark["camera_ei"].high or 0) > 8.125 / 10 ** X[5]
    x = np.arange(0.15, 0.91, 0.15)
    light = learnt(x, np.array([0.55, 0.28, 0.15, 0.11, 0.09, 0.085])).figures
    assert light["camera_ei"].high is None
    assert (light["camera_ei"].low or 99) < 8.125 / 10**0.15


def test_a_pale_process_has_no_grey() -> None:
    """Dmax below the density of an 18 % grey: no index, and no bound that would mean anything."""
    figures = learnt(X, 0.08 + (D - 0.08) * 0.25).figures
    assert figures["middle_log10"].value is None
    assert "camera_ei" not in figures


def test_without_metered_light_there_is_range_and_no_index() -> None:
    figures = learnt(X, D, light_sd_stops=None).figures
    assert figures["range_log10"].value is not None
    assert not {"camera_ei", "ends_ei", "paper_speed"} & set(figures)


def test_veil_is_dmin_over_fixed_out_paper() -> None:
    figures = learnt(X, D, fixed_out_density=0.05).figures
    assert figures["veil"].value == pytest.approx((figures["dmin"].value or 0) - 0.05)
    assert (figures["veil"].high or 0) - (figures["veil"].low or 0) > (figures["dmin"].high or 0) - (figures["dmin"].low or 0)


def test_doubt_of_the_light_widens_the_index_alone(falling: Learnt) -> None:
    wider = learnt(X, D, light_sd_stops=0.4)
    assert wider.figures["range_log10"] == falling.figures["range_log10"]
    width, wide = (math.log2((one.figures["camera_ei"].high or 1) / (one.figures["camera_ei"].low or 1)) for one in (falling, wider))
    assert width == pytest.approx(2 * 1.2816 * 0.1, rel=0.1)
    assert wide == pytest.approx(2 * 1.2816 * 0.4, rel=0.1)


@pytest.mark.parametrize("doubt", [{"density_sd": 0.1}, {"exposure_sd_log10": 0.05}])
def test_unsure_patches_widen_every_limit(falling: Learnt, doubt: dict[str, float]) -> None:
    unsure = learnt(X, D, **doubt)
    for name in ("low_log10", "high_log10", "middle_log10"):
        (low, high), (before_low, before_high) = ((one.figures[name].low, one.figures[name].high) for one in (unsure, falling))
        if low is not None and high is not None:
            assert high - low > (before_high or 0) - (before_low or 0)


@pytest.mark.parametrize("shape", ["logistic", "Richards", "double logistic", "monotone spline"])
def test_any_shape_may_be_asked_for(shape: str) -> None:
    found = learnt(X, D, shape=shape)
    assert found.line.shape == shape
    assert holds(found.figures["range_log10"], 0.8545)


def test_the_same_patches_give_the_same_answer(falling: Learnt) -> None:
    again = learnt(X, D)
    assert again.figures == falling.figures
    assert (again.band == falling.band).all()


def test_the_band_holds_the_line_and_never_turns_back(falling: Learnt) -> None:
    inside = (falling.band[0] <= falling.drawn_density + 0.01) & (falling.drawn_density <= falling.band[1] + 0.01)
    assert inside.all()
    assert (np.diff(falling.band, axis=1) <= 1e-9).all()
