"""From a recipe to bottles: nothing is taken that is not there, and what is taken is what was needed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.recipe import Offer, dry_fraction, naive_ml, shares_g, strongest_share, water_to_add_g
from silverwright.errors import OutOfRange
from silverwright.questions.substances import substances

OFFERS = st.lists(st.builds(Offer, st.floats(0.01, 1), st.none() | st.floats(0, 1000)), min_size=1, max_size=5)


@given(st.floats(0, 500), OFFERS)
def test_what_is_taken_and_what_is_missing_make_up_what_is_needed(dry_g: float, offers: list[Offer]) -> None:
    found = shares_g(dry_g, offers)
    got_g = sum(taken * one.dry_fraction for taken, one in zip(found.taken_g, offers, strict=True))
    assert got_g + found.missing_g == pytest.approx(dry_g, rel=1e-9, abs=1e-9)
    assert all(taken <= (one.left_g if one.left_g is not None else float("inf")) for taken, one in zip(found.taken_g, offers, strict=True))


@given(st.floats(0, 500), OFFERS)
def test_a_bottle_is_used_up_before_the_next_is_opened(dry_g: float, offers: list[Offer]) -> None:
    found = shares_g(dry_g, offers)
    for at, one in enumerate(offers[:-1]):
        if any(taken > 1e-6 for taken in found.taken_g[at + 1 :]):
            assert one.left_g is not None
            assert found.taken_g[at] == pytest.approx(one.left_g)


def test_nothing_is_missing_without_a_need() -> None:
    assert shares_g(0, [Offer(0.35, 0)]).missing_g == 0
    assert shares_g(5, []).missing_g == 5


def test_crystal_water_by_the_moles() -> None:
    """Second route: molar masses of a published table, 192.123 and 210.138 g/mol."""
    assert dry_fraction(1, substances()["citric_acid_monohydrate"]) == pytest.approx(192.123 / 210.138, rel=1e-4)
    assert dry_fraction(1, substances()["sodium_thiosulphate_pentahydrate"]) == pytest.approx(158.11 / 248.18, rel=1e-3)


def test_water_is_the_rest_of_the_mass() -> None:
    assert water_to_add_g(1031.56, [265.26]) == pytest.approx(766.30)
    assert strongest_share(1000, [300, 200]) == 1
    assert strongest_share(1000, [1500, 500]) == pytest.approx(0.5)


def test_the_rule_of_three_in_volumes() -> None:
    """Computed from the table of laliberte2009: 35 to 12 % by C1 V1 takes 342.9 mL, where 315.6 are right."""
    assert naive_ml(12, 35, 1000) == pytest.approx(342.9, abs=0.05)


@pytest.mark.parametrize(
    "call", [lambda: shares_g(-1, []), lambda: dry_fraction(1.1, substances()["metol"]), lambda: naive_ml(1, 0, 1)], ids=["need", "share", "stock"]
)
def test_what_cannot_be_is_refused(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
