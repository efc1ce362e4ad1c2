"""A paper's curve as points, and the usual one while no step sheet tells it."""

from dataclasses import replace
from itertools import pairwise
from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.papercurve import curve_ends, density_at, exposure_for_density, moved_papers, separation_density, usual_curve
from silverwright.records import PaperCurve, UsualPaper

PAPER = UsualPaper(
    range_log10=0.8545,
    range_ln_sd=0.2,
    dmin=0.08,
    dmin_sd=0.05,
    net_density=1.80,
    net_ln_sd=0.1,
    grey_density=0.745,
    grey_place_sd_log10=0.05,
    near_dmin=0.04,
    net_share=0.9,
)
SLOPE = 7.0
GREY = log((1.80 - (0.745 - 0.08)) / (0.745 - 0.08)) / SLOPE
papers = st.builds(
    UsualPaper,
    range_log10=st.floats(0.2, 3),
    range_ln_sd=st.floats(0, 1),
    dmin=st.floats(0, 0.3),
    dmin_sd=st.floats(0, 0.2),
    net_density=st.floats(0.9, 2.3),
    net_ln_sd=st.floats(0, 0.4),
    grey_density=st.just(0.745),
    grey_place_sd_log10=st.floats(0, 0.2),
    near_dmin=st.just(0.04),
    net_share=st.just(0.9),
    falls=st.booleans(),
)


def falling(place_log10: float) -> float:
    """The closed form of the falling curve: Dmin 0.08, Dmax 1.88, slope 7, counted from its own middle."""
    return 0.08 + 1.80 / (1 + exp(SLOPE * place_log10))


def test_the_points_of_the_falling_curve_lie_where_algebra_puts_them() -> None:
    """Shadow point -0.3139, highlight point 0.5406, grey at 0.0764 of the curve's own log exposure."""
    curve = usual_curve(PAPER, 1.0)
    assert curve.falls
    assert curve.shadow_log10 == pytest.approx(-0.3139 - GREY, abs=1e-4)
    assert curve.highlight_log10 == pytest.approx(0.5406 - GREY, abs=1e-4)


@pytest.mark.parametrize("place_log10", [-1.0, -0.4, -0.1, 0.0, 0.05, 0.3, 0.7])
def test_densities_are_those_of_the_closed_form(place_log10: float) -> None:
    assert density_at(usual_curve(PAPER, 1.0), place_log10)[0] == pytest.approx(falling(place_log10 + GREY), abs=0.001)


def test_a_negative_is_the_same_curve_turned_round() -> None:
    positive, negative = usual_curve(PAPER, 1.0), usual_curve(replace(PAPER, falls=False), 1.0)
    assert (negative.shadow_log10, negative.highlight_log10) == pytest.approx((-positive.highlight_log10, -positive.shadow_log10))
    assert density_at(negative, 0.2)[0] == pytest.approx(density_at(positive, -0.2)[0], abs=0.002)


@given(papers, st.floats(-3, 3))
def test_the_band_holds_the_curve_and_the_grey_is_certain(paper: UsualPaper, place_log10: float) -> None:
    curve = usual_curve(paper, 1.28)
    density, low, high = density_at(curve, place_log10)
    assert low <= density <= high
    assert curve.shadow_log10 < curve.highlight_log10
    assert density_at(curve, 0.0)[0] == pytest.approx(0.745, abs=0.002)
    sign = -1 if curve.falls else 1
    assert all(sign * (other - one) >= 0 for one, other in pairwise(curve.density))


@given(papers, st.floats(0.05, 0.95))
def test_an_exposure_is_found_again_from_its_density(paper: UsualPaper, part: float) -> None:
    curve = usual_curve(paper, 1.0)
    first, last = curve_ends(curve)
    density = first + part * (last - first)
    found = exposure_for_density(curve, density)
    assert found is not None
    assert density_at(curve, found)[0] == pytest.approx(density, abs=1e-9)


def test_what_the_curve_does_not_reach_is_not_invented() -> None:
    assert exposure_for_density(usual_curve(PAPER, 1.0), 2.5) is None


def test_beyond_the_points_the_curve_is_flat() -> None:
    curve = PaperCurve((-1.0, 0.0, 1.0), (1.8, 0.745, 0.1), (1.7, 0.7, 0.05), (1.9, 0.8, 0.15), -0.5, 0.5)
    assert density_at(curve, -5.0) == (1.8, 1.7, 1.9)
    assert density_at(curve, 5.0) == (0.1, 0.05, 0.15)
    assert separation_density(curve, -5.0, -4.0) == 0
    assert separation_density(curve, -0.5, 0.0) == pytest.approx((1.8 - 0.745) / 2)


def test_each_doubt_moves_one_thing() -> None:
    ranges, dmin, net, grey = moved_papers(PAPER)
    assert ranges.range_log10 == pytest.approx(0.8545 * 1.2)
    assert dmin.dmin == pytest.approx(0.13)
    assert net.net_density == pytest.approx(1.98)
    nominal, moved = usual_curve(PAPER, 1.0), usual_curve(grey, 1.0)
    assert moved.shadow_log10 == pytest.approx(nominal.shadow_log10 - 0.05)
    assert moved.highlight_log10 == pytest.approx(nominal.highlight_log10 - 0.05)


def test_a_surer_paper_has_a_narrower_band() -> None:
    sure = usual_curve(replace(PAPER, range_ln_sd=0.0, dmin_sd=0.0, net_ln_sd=0.0, grey_place_sd_log10=0.0), 1.0)
    assert sure.low == pytest.approx(sure.density)
    assert sure.range_sd_log10 == 0
    assert usual_curve(PAPER, 1.0).range_sd_log10 == pytest.approx(0.8545 * 0.2, rel=0.01)


def test_a_grey_outside_the_ends_is_refused() -> None:
    with pytest.raises(OutOfRange, match="between the ends"):
        usual_curve(replace(PAPER, grey_density=2.5), 1.0)
