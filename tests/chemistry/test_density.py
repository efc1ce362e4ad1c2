"""Densities: volumes that are added up, seams that are not seen, and what cannot be."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.density import (
    APPARENT_UNKNOWN_ML_PER_G,
    apparent_volume_ml_per_g,
    fractions_in,
    solution_density_g_per_ml,
    solution_density_sd_g_per_ml,
    water_density_g_per_ml,
)
from silverwright.errors import OutOfRange
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Substance

SUBSTANCES = substances()
WITH_MODEL = [one for one in SUBSTANCES.values() if one.density is not None]
UNKNOWN = Substance(key="unknown", name="unknown", formula="", molar_g_per_mol=0)
CELSIUS = st.floats(-5, 60)


@given(CELSIUS)
def test_water_alone_is_water(celsius: float) -> None:
    assert solution_density_g_per_ml([], celsius) == pytest.approx(water_density_g_per_ml(celsius), rel=1e-15)
    assert solution_density_g_per_ml([(SUBSTANCES["hydrogen_peroxide"], 0.0)], celsius) == pytest.approx(water_density_g_per_ml(celsius), rel=1e-12)


def test_water_is_densest_at_four_degrees() -> None:
    densest = max(range(12), key=water_density_g_per_ml)
    assert densest == 4


@given(st.sampled_from(WITH_MODEL), st.floats(0, 1), CELSIUS)
def test_volumes_add_up(one: Substance, fraction: float, celsius: float) -> None:
    """Of 100 g: the water's millilitres, and as many as the dissolved takes; weight over their sum is the density."""
    dry = fraction * (1 - one.crystal_water_share)
    water_ml = 100 * (1 - dry) / water_density_g_per_ml(celsius)
    dissolved_ml = 100 * dry * apparent_volume_ml_per_g(one.density, dry, celsius)
    assert solution_density_g_per_ml([(one, fraction)], celsius) == pytest.approx(100 / (water_ml + dissolved_ml))


@given(st.sampled_from(WITH_MODEL), st.floats(0, 0.999), CELSIUS)
def test_no_step_anywhere(one: Substance, fraction: float, celsius: float) -> None:
    """A little more of it, or a little warmer, and the density is a little other: across the ends of the fit, too."""
    here = solution_density_g_per_ml([(one, fraction)], celsius)
    assert solution_density_g_per_ml([(one, fraction + 1e-6)], celsius) == pytest.approx(here, abs=5e-5)
    assert solution_density_g_per_ml([(one, fraction)], celsius + 1e-6) == pytest.approx(here, abs=5e-7)


@pytest.mark.parametrize("key", sorted(one.key for one in WITH_MODEL))
def test_the_ends_of_the_fit_have_no_seam(key: str) -> None:
    one = SUBSTANCES[key]
    assert one.density is not None
    end = one.density.most_fraction
    at_end = apparent_volume_ml_per_g(one.density, end, 20)
    for beside in (end * (1 - 1e-9), min(1.0, end * (1 + 1e-9))):
        assert apparent_volume_ml_per_g(one.density, beside, 20) == pytest.approx(at_end, abs=1e-6)


@given(st.floats(0, 0.5), CELSIUS)
def test_crystal_water_is_water(fraction: float, celsius: float) -> None:
    """100 g of it with 5 g of monohydrate hold 4.57 g of citric acid, and weigh as such a solution does."""
    hydrate, anhydrous = SUBSTANCES["citric_acid_monohydrate"], SUBSTANCES["citric_acid"]
    same = fraction * anhydrous.molar_g_per_mol / hydrate.molar_g_per_mol
    assert solution_density_g_per_ml([(hydrate, fraction)], celsius) == pytest.approx(solution_density_g_per_ml([(anhydrous, same)], celsius))


def test_two_substances_lie_between() -> None:
    """Peroxide of 9 % and citric acid of 5 %: more than either alone, less than both one on the other."""
    peroxide, acid = SUBSTANCES["hydrogen_peroxide"], SUBSTANCES["citric_acid"]
    both = solution_density_g_per_ml([(peroxide, 0.09), (acid, 0.05)], 20)
    alone = [solution_density_g_per_ml([one], 20) for one in ((peroxide, 0.09), (acid, 0.05))]
    assert max(alone) < both < sum(alone) - water_density_g_per_ml(20) + 0.005


@given(st.floats(0, 300), st.floats(0, 300), st.floats(900, 2000), CELSIUS)
def test_fractions_give_back_the_masses(peroxide_g: float, acid_g: float, volume_ml: float, celsius: float) -> None:
    there = [(SUBSTANCES["hydrogen_peroxide"], peroxide_g), (SUBSTANCES["citric_acid"], acid_g)]
    fractions = fractions_in(there, volume_ml, celsius)
    density = solution_density_g_per_ml([(one, part) for (one, _), part in zip(there, fractions, strict=True)], celsius)
    assert [part * density * volume_ml for part in fractions] == pytest.approx([peroxide_g, acid_g], abs=1e-6)


@given(st.sampled_from(list(SUBSTANCES.values())), st.floats(0, 1), CELSIUS)
def test_doubt_grows_from_nothing(one: Substance, fraction: float, celsius: float) -> None:
    assert solution_density_sd_g_per_ml([], celsius) == 0
    sd = solution_density_sd_g_per_ml([(one, fraction)], celsius)
    assert 0 <= sd < solution_density_g_per_ml([(one, fraction)], celsius)


def test_beyond_the_temperatures_of_the_fit_the_room_stays() -> None:
    """Thiosulphate was measured from 25 to 80 °C."""
    model = SUBSTANCES["sodium_thiosulphate"].density
    assert apparent_volume_ml_per_g(model, 0.2, 5) == apparent_volume_ml_per_g(model, 0.2, 25)
    assert apparent_volume_ml_per_g(model, 0.2, 30) != apparent_volume_ml_per_g(model, 0.2, 25)


def test_the_doubt_of_a_fit_and_of_what_lies_beyond_it() -> None:
    """A thousandth within; beyond, a tenth of a millilitre in a gram for each whole that is beyond, by hand for 60 % of hydrochloric acid."""
    peroxide, acid = [(SUBSTANCES["hydrogen_peroxide"], 0.35)], [(SUBSTANCES["hydrochloric_acid"], 0.6)]
    assert solution_density_sd_g_per_ml(peroxide, 20) == pytest.approx(0.001 * solution_density_g_per_ml(peroxide, 20))
    density = solution_density_g_per_ml(acid, 20)
    beyond = density**2 * 0.6 * 0.1 * (0.6 - 0.3757)
    assert solution_density_sd_g_per_ml(acid, 20) == pytest.approx((beyond**2 + (0.001 * density) ** 2) ** 0.5)


@pytest.mark.parametrize(("name", "fraction", "printed_g_per_ml"), [("copper sulphate", 0.10, 1.107), ("silver nitrate", 0.10, 1.0882)])
def test_the_doubt_of_an_unknown_substance_holds_salts(name: str, fraction: float, printed_g_per_ml: float) -> None:
    """etb2017salts: two salts of which we know no density; what is taken misses by no more than two standard deviations."""
    taken = [(UNKNOWN, fraction)]
    assert abs(solution_density_g_per_ml(taken, 20) - printed_g_per_ml) < 2 * solution_density_sd_g_per_ml(taken, 20), name
    assert apparent_volume_ml_per_g(None, fraction, 20) == APPARENT_UNKNOWN_ML_PER_G


def test_what_cannot_be_is_refused() -> None:
    peroxide = SUBSTANCES["hydrogen_peroxide"]
    with pytest.raises(OutOfRange):
        water_density_g_per_ml(101)
    with pytest.raises(OutOfRange):
        solution_density_g_per_ml([(peroxide, 0.6), (SUBSTANCES["acetic_acid"], 0.5)], 20)
    with pytest.raises(OutOfRange):
        solution_density_g_per_ml([(peroxide, -0.1)], 20)
    with pytest.raises(OutOfRange):
        fractions_in([(peroxide, 10)], 0, 20)
    with pytest.raises(OutOfRange):
        fractions_in([(peroxide, 2000)], 1000, 20)
