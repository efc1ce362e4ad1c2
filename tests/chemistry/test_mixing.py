"""Stock and water: weighed by a second route, poured together and apart again, rounded to what can be set."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.density import solution_density_g_per_ml
from silverwright.chemistry.mixing import (
    cylinder_for,
    dilution,
    drawn,
    exchange_g,
    filled_up_fraction,
    merged,
    poured_fraction,
    replenish_g,
    settable_g,
    settable_ml,
)
from silverwright.chemistry.strength import grams_per_litre
from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.questions.dilution import cylinders
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Contents, Substance

SUBSTANCES = substances()
PEROXIDE = SUBSTANCES["hydrogen_peroxide"]
DENSE = [one for one in SUBSTANCES.values() if one.density is not None]
SHARES = st.floats(0.01, 1)
MASSES = st.dictionaries(st.sampled_from(["hydrogen_peroxide", "citric_acid", "silver"]), st.floats(0, 1e4), max_size=3)


def contents_strategy() -> st.SearchStrategy[Contents]:
    return st.builds(Contents, st.floats(1, 1e5), MASSES)


@given(st.sampled_from(DENSE), SHARES, SHARES, st.floats(1, 1e5), st.floats(0, 40))
def test_water_is_poured_until_it_is_weak_enough(one: Substance, stock_fraction: float, share: float, volume_ml: float, celsius: float) -> None:
    """A second route: to the stock of the answer water is added by halving, until the share of mass is as wanted; the volume is as wanted, too."""
    wanted = share * stock_fraction
    mix = dilution(stock_fraction, wanted, volume_ml, one, celsius)
    low, high = 0.0, 200 * mix.stock_g
    for _ in range(100):
        water_g = (low + high) / 2
        low, high = (water_g, high) if stock_fraction * mix.stock_g / (mix.stock_g + water_g) > wanted else (low, water_g)
    assert mix.water_g == pytest.approx(low, rel=1e-9, abs=1e-7 * mix.stock_g)
    assert (mix.stock_g + mix.water_g) / solution_density_g_per_ml([(one, wanted)], celsius) == pytest.approx(volume_ml)
    assert poured_fraction(stock_fraction, mix.stock_g, mix.water_g) == pytest.approx(wanted)


def test_grams_in_the_bottle_are_grams_in_the_bath() -> None:
    """By litres: 1000 mL with 92.84 g in them are 234.2 mL of what holds 396.5 g in a litre."""
    mix = dilution(0.35, 0.09, 1000, PEROXIDE, 20)
    assert mix.stock_ml * grams_per_litre(0.35, PEROXIDE, 20) == pytest.approx(1000 * grams_per_litre(0.09, PEROXIDE, 20))


def test_volumes_do_not_add_up() -> None:
    mix = dilution(0.35, 0.09, 1000, PEROXIDE, 20)
    assert mix.stock_ml + mix.water_ml == pytest.approx(1001.8, abs=0.1)


@given(st.floats(0.001, 0.999), st.floats(0, 1))
def test_filled_up_by_volume(stock_fraction: float, share: float) -> None:
    becomes = filled_up_fraction(stock_fraction, share, PEROXIDE, 20)
    assert grams_per_litre(becomes, PEROXIDE, 20) == pytest.approx(share * grams_per_litre(stock_fraction, PEROXIDE, 20), abs=1e-9)


@given(st.floats(1, 1e5), st.floats(0, 0.4), st.floats(0, 0.4), st.floats(0.45, 1))
def test_replenished_and_exchanged_baths_are_as_strong_as_wanted(bath_g: float, one: float, other: float, stock: float) -> None:
    bath, wanted = sorted((one, other))
    added_g = replenish_g(bath_g, bath, wanted, stock)
    assert (bath_g * bath + added_g * stock) / (bath_g + added_g) == pytest.approx(wanted)
    swapped_g = exchange_g(bath_g, bath, wanted, stock)
    assert ((bath_g - swapped_g) * bath + swapped_g * stock) / bath_g == pytest.approx(wanted)
    assert swapped_g <= added_g * (1 + 1e-9)


@given(contents_strategy(), contents_strategy())
def test_poured_together_nothing_is_lost(one: Contents, other: Contents) -> None:
    both = merged(one, other)
    assert both.volume_ml == one.volume_ml + other.volume_ml
    assert set(both.mass_g) == {*one.mass_g, *other.mass_g}
    assert all(both.mass_g[key] == one.mass_g.get(key, 0) + other.mass_g.get(key, 0) for key in both.mass_g)


@given(contents_strategy(), st.lists(st.floats(0, 1), max_size=6))
def test_poured_apart_and_together_again(contents: Contents, cuts: list[float]) -> None:
    edges = [0.0, *sorted(cuts), 1.0]
    pieces = [drawn(contents, (end - begin) * contents.volume_ml) for begin, end in pairwise(edges)]
    back = pieces[0]
    for piece in pieces[1:]:
        back = merged(back, piece)
    assert back.volume_ml == pytest.approx(contents.volume_ml)
    assert {key: back.mass_g[key] for key in contents.mass_g} == pytest.approx(dict(contents.mass_g))


@given(st.floats(0, 5000), st.sampled_from([0.01, 0.1, 1.0]))
def test_a_scale_is_half_a_step_off_at_most(mass_g: float, step_g: float) -> None:
    assert abs(settable_g(mass_g, step_g) - mass_g) <= step_g / 2 + 1e-9


@given(st.floats(0, 5000))
def test_a_cylinder_is_half_a_mark_off_at_most(volume_ml: float) -> None:
    taken = cylinder_for(volume_ml, cylinders())
    assert taken.holds_ml >= min(volume_ml, 1000)
    assert not any(one.holds_ml >= volume_ml for one in cylinders() if one.holds_ml < taken.holds_ml)
    assert abs(settable_ml(volume_ml, cylinders()) - volume_ml) <= taken.step_ml / 2 + 1e-9


def test_a_full_cylinder_is_enough() -> None:
    assert [cylinder_for(volume_ml, cylinders()).holds_ml for volume_ml in (250, 250.1, 5000)] == [250, 500, 1000]


def test_what_cannot_be_is_refused() -> None:
    bath = Contents(1000, {"silver": 1})
    with pytest.raises(OutOfRange):
        dilution(0.09, 0.35, 1000, PEROXIDE, 20)
    with pytest.raises(OutOfRange):
        dilution(0.35, 0.09, -1, PEROXIDE, 20)
    with pytest.raises(OutOfRange):
        filled_up_fraction(0.35, 1.1, PEROXIDE, 20)
    with pytest.raises(OutOfRange):
        replenish_g(1000, 0.09, 0.05, 0.35)
    with pytest.raises(OutOfRange):
        exchange_g(1000, 0.09, 0.4, 0.35)
    with pytest.raises(OutOfRange):
        drawn(bath, 1001)
    with pytest.raises(OutOfRange):
        settable_g(1, 0)
    with pytest.raises(NotEnoughReadings):
        cylinder_for(10, ())
