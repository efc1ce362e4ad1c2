"""Stray light, and the exposure that loses least."""

from math import log2, log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.scene import flare_share, image_range_log10, lost_stops, split_loss, with_flare_ev
from silverwright.records import Stops

amounts = st.floats(-20, 20)
shares = st.floats(0, 0.5)


@given(st.floats(1, 8), st.floats(9, 1000))
def test_the_stray_share_gives_the_flare_factor_back(factor: float, whole: float) -> None:
    share = flare_share(factor, whole)
    assert whole / 10 ** image_range_log10(log10(whole), share) == pytest.approx(factor)


@given(st.floats(0, 12), shares)
def test_two_readings_with_flare_are_the_range_of_the_image(apart_stops: float, share: float) -> None:
    bright, dark = with_flare_ev(10, 10, share), with_flare_ev(10 - apart_stops, 10, share)
    assert bright == pytest.approx(10)
    assert bright - dark == pytest.approx(image_range_log10(apart_stops * log10(2), share) / log10(2), abs=1e-9)
    assert 10 - apart_stops - 1e-9 <= dark <= 10 + 1e-9


def test_the_light_that_strays_is_counted_in_lux() -> None:
    """EV 12 and EV 7 are 512 and 16 cd/m2; 2 % of 512 over both, 2 % of everything missing."""
    assert with_flare_ev(7, 12, 0.02) == pytest.approx(log2((16 + 0.02 * 512) / 1.02 * 100 / 12.5))


def searched(least: float, most: float, wanted: float | None) -> float:
    """By trying: least of the worse loss; among equals nearest to what is wanted, or to the middle of the room."""
    middle = (least + most) / 2 if wanted is None else wanted
    tried = [number / 100 for number in range(-1000, 1001)]
    return min(tried, key=lambda one: (round(max(least - one, one - most, 0.0), 6), abs(one - middle)))


@pytest.mark.parametrize(
    ("least", "most", "wanted"), [(-1.0, 2.0, 0.5), (-1.0, 2.0, 3.0), (-1.0, 2.0, -4.0), (1.2, 0.0, 5.0), (3.0, -1.0, None), (-2.0, 1.0, None)]
)
def test_the_rule_is_what_a_search_finds(least: float, most: float, wanted: float | None) -> None:
    found = split_loss(Stops(least), Stops(most), None if wanted is None else Stops(wanted))
    assert found is not None
    assert found.amount_stops == pytest.approx(searched(least, most, wanted), abs=0.011)


@given(amounts, amounts, st.none() | amounts, st.floats(-1e-3, 1e-3))
def test_the_rule_is_continuous(least: float, most: float, wanted: float | None, little: float) -> None:
    here, there = (split_loss(Stops(one), Stops(most), None if wanted is None else Stops(wanted)) for one in (least, least + little))
    assert here is not None
    assert there is not None
    assert abs(here.amount_stops - there.amount_stops) <= abs(little) + 1e-9


@given(amounts, amounts, amounts)
def test_where_everything_fits_nothing_is_lost_and_else_both_lose_alike(least: float, most: float, wanted: float) -> None:
    found = split_loss(Stops(least), Stops(most), Stops(wanted))
    assert found is not None
    here = found.amount_stops
    if least <= most:
        assert least - 1e-9 <= here <= most + 1e-9
    else:
        assert least - here == pytest.approx(here - most)


def test_with_one_end_only_that_end_is_kept() -> None:
    assert split_loss(Stops(2.0), None, None) == Stops(2.0)
    assert split_loss(None, Stops(-2.0), Stops(1.0)) == Stops(-2.0)
    assert split_loss(Stops(2.0), None, Stops(1.0)) == Stops(2.0)
    assert split_loss(None, None, Stops(1.0)) == Stops(1.0)
    assert split_loss(None, None, None) is None


def test_doubts_reach_the_exposure_by_half_in_the_middle() -> None:
    """The middle of two unsure ends: half of each, in quadrature. Deep in the room neither end matters."""
    split = split_loss(Stops(1.0, 0.3), Stops(0.0, 0.4), None)
    assert split is not None
    assert split.doubt_stops == pytest.approx(0.25)
    wide = split_loss(Stops(-5.0, 0.3), Stops(5.0, 0.4), Stops(0.0, 0.1))
    assert wide is not None
    assert wide.doubt_stops == pytest.approx(0.1)


@given(st.floats(-5, 5), st.floats(0, 2))
def test_a_loss_is_never_less_than_none(amount: float, doubt: float) -> None:
    value, low, high = lost_stops(Stops(amount, doubt), 1.28)
    assert 0 <= low <= value <= high


@pytest.mark.parametrize(
    "refused", [lambda: flare_share(0.5, 160), lambda: flare_share(4, 3), lambda: image_range_log10(-1, 0.1), lambda: with_flare_ev(1, 2, -0.1)]
)
def test_what_means_nothing_is_refused(refused: object) -> None:
    with pytest.raises(OutOfRange):
        refused()  # type: ignore[operator]
