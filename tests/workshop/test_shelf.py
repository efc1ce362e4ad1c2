"""Bottles and baths in the book: what is mixed, used, tested, split, poured together and discarded, and what cannot be."""

import pytest

from silverwright.book.shelf import bath_known, stock_known
from silverwright.errors import BadQuestion
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
BLEACH = "hydrogen peroxide; 9; % w/w\ncitric acid; 5; % w/w"


def faults(deed: str, **given: object) -> dict[str, str]:
    """What is wrong with it, by field."""
    with pytest.raises(BadQuestion) as caught:
        do(deed, given)
    return {fault.field: fault.problem for fault in caught.value.faults}


def bottles() -> None:
    do("stock", {"name": "peroxide 35 %", "substance": "hydrogen peroxide", "strength": 35, "strength_unit": "% w/w", "bought_ml": "1 L"})
    do("stock", {"name": "citric acid", "substance": "citric acid monohydrate", "bought_g": "1 kg"})


def bleach(**more: object) -> str:
    return do("mix", {"role": "bleach", "volume_ml": 1000, "ingredients": BLEACH, "when": "2026-01-06 10:00", **more}).name


def test_a_litre_of_nine_per_cent_is_taken_from_the_bottle() -> None:
    bottles()
    done = do("mix", {"role": "bleach", "volume_ml": 1000, "taken": "peroxide 35 %; 265; g\ncitric acid; 55; g"})
    assert done.name == "bleach 1"
    peroxide = {one.substance: one.now for one in bath_known("bleach 1").strengths}["hydrogen_peroxide"]
    assert peroxide.value == pytest.approx(100 * 0.35 * 265 / (1000 * 1.0516), rel=0.003)  # weighed, by the density of the mixture
    assert stock_known("peroxide 35 %").left_ml == pytest.approx(1000 - 265 / 1.1328, abs=0.5)  # chemistry of peroxide: density at 35 %
    assert stock_known("citric acid").left_g == pytest.approx(945)
