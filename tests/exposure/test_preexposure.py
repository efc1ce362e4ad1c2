"""A weak even exposure before the picture."""

from dataclasses import replace
from math import log, log2, log10

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.exposure.test_papercurve import GREY, PAPER, SLOPE, falling

from silverwright.errors import OutOfRange
from silverwright.exposure.contrast import fill_factor, softer_gain_stops
from silverwright.exposure.papercurve import usual_curve
from silverwright.exposure.preexposure import (
    black_lost_density,
    highlight_cost_stops,
    picture_less_stops,
    preexposure_for_loss_log10,
    preexposure_s,
    raised_log10,
    range_gain_stops,
    shadow_gain_stops,
)

CURVE = usual_curve(PAPER, 1.0)
NEGATIVE = usual_curve(replace(PAPER, falls=False), 1.0)
POWER = SLOPE / log(10)
strengths = st.floats(-1.2, -0.1)


@given(st.floats(-4, 4), st.floats(-4, 4))
def test_light_adds(one_log10: float, other_log10: float) -> None:
    assert 10 ** raised_log10(one_log10, other_log10) == pytest.approx(10**one_log10 + 10**other_log10)
    assert raised_log10(one_log10, other_log10) == pytest.approx(raised_log10(other_log10, one_log10))


def test_the_strength_for_a_loss_by_algebra() -> None:
    """Dmax - 0.1 = Dmin + DN / (1 + 10^(k x / ln 10)): x = ln(0.1 / 1.7) / k."""
    found = preexposure_for_loss_log10(CURVE, 0.1) or 0.0
    assert found == pytest.approx(log(0.1 / 1.7) / SLOPE - GREY, abs=0.002)
    assert black_lost_density(CURVE, found) == pytest.approx(0.1, abs=1e-6)
    assert preexposure_for_loss_log10(CURVE, 3.0) is None


def test_the_range_that_a_step_sheet_would_tell_by_algebra() -> None:
    """Pre-exposed to the old shadow point, 90 % of what is left is 81 %: (H + h)/H0 = (0.19/0.81)^(1/p), h/H0 = (1/9)^(1/p)."""
    own = (0.19 / 0.81) ** (1 / POWER) - (1 / 9) ** (1 / POWER)
    gained = log2((1 / 9) ** (1 / POWER) / own)
    assert range_gain_stops(CURVE, CURVE.shadow_log10, 0.9) == pytest.approx(gained, abs=0.03)


def test_what_stays_as_clear_by_trying_every_place() -> None:
    """The densities of the closed form, and the deepest place where a third of a stop still makes the old difference."""
    step, strength = log10(2) / 3, -0.5
    enough = falling(CURVE.shadow_log10 + GREY) - falling(CURVE.shadow_log10 + step + GREY)

    def apart(place: float) -> float:
        low, high = (log10(10**one + 10**strength) for one in (place, place + step))
        return falling(low + GREY) - falling(high + GREY)

    deepest = min(place / 1000 for place in range(-2000, 0) if apart(place / 1000) >= enough)
    assert shadow_gain_stops(CURVE, strength, step) == pytest.approx((CURVE.shadow_log10 - deepest) / log10(2), abs=0.02)


@given(strengths)
def test_in_a_direct_positive_it_costs_black_and_holds_no_highlight(strength: float) -> None:
    assert black_lost_density(CURVE, strength) > 0
    assert highlight_cost_stops(CURVE, strength) > 0
    assert range_gain_stops(CURVE, strength, 0.9) >= shadow_gain_stops(CURVE, strength, 0.1) - 0.02


@given(strengths, st.floats(0, 0.05))
def test_a_stronger_one_costs_more(strength: float, more: float) -> None:
    assert black_lost_density(CURVE, strength + more) >= black_lost_density(CURVE, strength)
    assert highlight_cost_stops(CURVE, strength + more) >= highlight_cost_stops(CURVE, strength)


@given(strengths, st.floats(-1e-4, 1e-4))
def test_gains_are_continuous(strength: float, little: float) -> None:
    step = log10(2) / 3
    for curve in (CURVE, NEGATIVE):
        assert shadow_gain_stops(curve, strength + little, step) == pytest.approx(shadow_gain_stops(curve, strength, step), abs=0.02)
        assert range_gain_stops(curve, strength + little, 0.9) == pytest.approx(range_gain_stops(curve, strength, 0.9), abs=0.02)


def test_in_a_negative_shadows_come_out_of_the_toe() -> None:
    assert shadow_gain_stops(NEGATIVE, -0.5, log10(2) / 3) > shadow_gain_stops(CURVE, -0.5, log10(2) / 3)


def test_none_at_all_does_nothing() -> None:
    assert black_lost_density(CURVE, -9.0) == 0
    assert shadow_gain_stops(CURVE, -9.0, 0.1) == pytest.approx(0, abs=1e-6)
    assert range_gain_stops(CURVE, -9.0, 0.9) == pytest.approx(0, abs=0.01)


@given(st.floats(0, 0.95))
def test_the_picture_gets_less_and_the_mid_grey_stays(fraction: float) -> None:
    less = picture_less_stops(fraction)
    assert 2**-less + fraction == pytest.approx(1)


def test_the_card_by_hand() -> None:
    """Picture 80 s at EV 10; the card reads EV 12, four times as bright; a fifth of the mid-grey's light: 4 s."""
    assert preexposure_s(80, 10, 12, 0.2) == pytest.approx(4)


def test_fill_light_by_hand() -> None:
    """One stop needs as much again, two stops three times as much; so does a mirror that doubles and doubles again."""
    assert (fill_factor(0), fill_factor(1), fill_factor(2)) == pytest.approx((0, 1, 3))


def test_a_softer_paper_by_hand() -> None:
    assert softer_gain_stops(0.9, 1.2) == pytest.approx(0.3 / 0.30103, rel=1e-5)


@pytest.mark.parametrize(
    "refused",
    [
        lambda: preexposure_for_loss_log10(CURVE, 0),
        lambda: shadow_gain_stops(CURVE, -1, 0),
        lambda: range_gain_stops(CURVE, -1, 1),
        lambda: picture_less_stops(1),
        lambda: preexposure_s(0, 1, 1, 0.1),
        lambda: preexposure_s(1, 1, 1, -0.1),
        lambda: fill_factor(-1),
        lambda: softer_gain_stops(0, 1),
    ],
)
def test_what_means_nothing_is_refused(refused: object) -> None:
    with pytest.raises(OutOfRange):
        refused()  # type: ignore[operator]
