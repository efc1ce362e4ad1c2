"""Silver, redox, carry-over and washing, each by a second route, and the reaction table by its atoms, charges and oxidation numbers."""

from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.carryover import brought_in_share, carried_by_weight_ml, carried_ml, share_left, sheets_to_share
from silverwright.chemistry.redox import VOLT_PER_PH, acid_for_silver_mol, peroxide_couple_v, peroxide_for_silver_g, silver_couple_v
from silverwright.chemistry.silver import (
    bound_by_chloride_mol_per_l,
    citrate_limit_mol_per_l,
    mean_share_of,
    silver_a_sheet_g,
    silver_to_bleach_g,
)
from silverwright.chemistry.washing import fills_to_share, left_after_fills
from silverwright.errors import BadQuestion, OutOfRange
from silverwright.questions.water import WATER

AG, HOOH = 107.8682, 34.0147
VOLUMES = st.floats(10, 20_000)
CARRIED = st.floats(0.01, 50)


@given(st.floats(0, 100))
def test_peroxide_and_acid_by_moles(silver_g: float) -> None:
    """One mole of silver for half a mole of peroxide and one of protons; peroxide counted back to silver."""
    peroxide_g = peroxide_for_silver_g(silver_g, HOOH, AG)
    assert peroxide_g / HOOH * 2 * AG == pytest.approx(silver_g, abs=1e-12)
    assert acid_for_silver_mol(silver_g, AG) == pytest.approx(2 * peroxide_g / HOOH, abs=1e-12)


def test_a_sheet_uses_hardly_any_peroxide() -> None:
    """0.014 % of a litre of 9 % for an 8x10 in sheet of 1.6 g/m2 that loses all its silver."""
    silver_g = silver_to_bleach_g(0.0516, 1.6, 0)
    assert 100 * peroxide_for_silver_g(silver_g, HOOH, AG) / 92.8 == pytest.approx(0.014, abs=0.0005)


def test_potentials_of_the_three_couples() -> None:
    """59 mV for each pH; at pH 7 peroxide gives up electrons to silver: 0.28 against 0.80 V."""
    assert pytest.approx(0.05916, abs=1e-5) == VOLT_PER_PH
    assert peroxide_couple_v(0.695, 7) == pytest.approx(0.28, abs=0.005)
    assert silver_couple_v(0.8, 1) == 0.8
    assert silver_couple_v(0.8, 0.01) == pytest.approx(0.8 - 2 * VOLT_PER_PH)
    with pytest.raises(OutOfRange):
        silver_couple_v(0.8, 0)


@given(st.floats(1e-7, 1), st.floats(1e-7, 1), st.floats(5, 13))
def test_chloride_leaves_what_its_product_allows(silver: float, chloride: float, pksp: float) -> None:
    bound = bound_by_chloride_mol_per_l(silver, chloride, pksp)
    assert 0 <= bound <= min(silver, chloride) * (1 + 1e-9)
    left = (silver - bound) * (chloride - bound)
    if bound > 0:
        assert left == pytest.approx(10**-pksp, rel=1e-3, abs=1e-14)
    else:
        assert silver * chloride <= 10**-pksp


@given(st.floats(1e-12, 1), st.floats(10, 20))
def test_silver_citrate_falls_out_at_its_product(citrate: float, pksp: float) -> None:
    assert -3 * log10(citrate_limit_mol_per_l(citrate, pksp)) - log10(citrate) == pytest.approx(pksp)


@given(VOLUMES, CARRIED, st.integers(0, 60))
def test_carry_over_sheet_by_sheet(bath_ml: float, each_ml: float, sheets: int) -> None:
    """The second route: each sheet brings its water in, all is stirred, and it takes as much out."""
    amount = other = 1.0
    other = 0.0
    for _ in range(sheets):
        other = (other * bath_ml + each_ml) / (bath_ml + each_ml)
        amount = amount * bath_ml / (bath_ml + each_ml)
    assert share_left(bath_ml, each_ml, sheets) == pytest.approx(amount)
    assert brought_in_share(bath_ml, each_ml, sheets) == pytest.approx(other, abs=1e-12)


@given(VOLUMES, CARRIED, st.floats(0.01, 0.99))
def test_sheets_until_a_share(bath_ml: float, each_ml: float, share: float) -> None:
    sheets = sheets_to_share(bath_ml, each_ml, share)
    assert sheets is not None
    assert share_left(bath_ml, each_ml, sheets) == pytest.approx(share)
    assert sheets_to_share(bath_ml, 0, share) is None


def test_twenty_sheets_of_four_millilitres_in_a_litre() -> None:
    assert share_left(1000, 4, 20) == pytest.approx(0.923, abs=0.0005)


@given(st.floats(0.1, 100), st.floats(1, 5000), st.integers(0, 12))
def test_washing_fill_by_fill(held_ml: float, fill_ml: float, fills: int) -> None:
    left = 1.0
    for _ in range(fills):
        left = left * held_ml / (held_ml + fill_ml)
    assert left_after_fills(held_ml, fill_ml, fills) == pytest.approx(left)
    needed = fills_to_share(held_ml, fill_ml, 1e-4)
    assert left_after_fills(held_ml, fill_ml, needed) <= 1e-4 * (1 + 1e-9)
    assert needed == 0 or left_after_fills(held_ml, fill_ml, needed - 1) > 1e-4 * (1 - 1e-9)


def test_what_is_carried_and_what_is_held() -> None:
    assert carried_ml(0.0516, 71) == pytest.approx(3.7, abs=0.05)
    assert carried_by_weight_ml(10, 14.2, 1.05) == pytest.approx(4)
    assert mean_share_of(0.95, 0.05, 1.85) == pytest.approx(0.5)
    assert mean_share_of(3, 0.05, 1.85) == 1
    assert silver_a_sheet_g(0.3, 1000, 10) == pytest.approx(0.03)
    for wrong in (
        lambda: carried_ml(-1, 1),
        lambda: carried_by_weight_ml(5, 4, 1),
        lambda: carried_by_weight_ml(4, 5, 0),
        lambda: share_left(0, 1, 1),
        lambda: share_left(1, -1, 1),
        lambda: share_left(1, 1, -1),
        lambda: sheets_to_share(1, 1, 0),
        lambda: left_after_fills(0, 1, 1),
        lambda: left_after_fills(1, 0, 1),
        lambda: left_after_fills(1, 1, -1),
        lambda: fills_to_share(1, 1, 0),
        lambda: peroxide_for_silver_g(-1, 1, 1),
        lambda: acid_for_silver_mol(-1, 1),
        lambda: silver_to_bleach_g(-1, 1, 0),
        lambda: silver_to_bleach_g(1, 1, 2),
        lambda: mean_share_of(1, 1, 1),
        lambda: silver_a_sheet_g(1, 1, 0),
        lambda: citrate_limit_mol_per_l(0, 15),
        lambda: bound_by_chloride_mol_per_l(-1, 1, 9),
    ):
        with pytest.raises(OutOfRange):
            wrong()


# --- water ---
def test_thirty_milligrams_of_chloride_bind_ninety_one_of_silver() -> None:
    """107.87 / 35.45 of its mass, where there is silver enough."""
    told = WATER.ask({"chloride_mg_per_l": 30})
    assert told.silver_bound_mg_per_l.value == pytest.approx(30 * 107.8682 / 35.453, rel=1e-4)
    with_silver = WATER.ask({"chloride_mg_per_l": 30, "silver_mg_per_l": 400})
    assert with_silver.silver_bound_mg_per_l.value == pytest.approx(91.2, abs=0.2)
    assert with_silver.silver_bound_percent.value == pytest.approx(22.8, abs=0.1)


@given(st.sampled_from(["tap", "well", "rain", "distilled"]), st.none() | st.floats(0, 40000), st.none() | st.floats(0, 99999))
def test_water_has_limits_that_hold_it(source: str, chloride: float | None, silver: float | None) -> None:
    told = WATER.ask({"water_source": source, "chloride_mg_per_l": chloride, "silver_mg_per_l": silver, "ingredients": "citric acid; 5; % w/v"})
    for one in (told.silver_bound_mg_per_l, told.silver_bound_percent, told.acid_taken_mmol_per_l, told.here_ph, told.distilled_ph):
        assert one.value is None or (one.low is not None and one.high is not None and one.low - 1e-9 <= one.value <= one.high + 1e-9)
    if silver:
        assert (told.silver_bound_mg_per_l.high or 0) <= silver * (1 + 1e-9)


def test_a_figure_of_the_waterworks_narrows() -> None:
    guessed, told = WATER.ask({"silver_mg_per_l": 400}), WATER.ask({"silver_mg_per_l": 400, "chloride_mg_per_l": 30})
    assert width(told.silver_bound_mg_per_l) < width(guessed.silver_bound_mg_per_l) / 4
    assert any(one.note == "water-not-given" for one in guessed.notes)
    assert not any(one.note == "water-not-given" for one in told.notes)


def width(estimate: object) -> float:
    return float(estimate.high - estimate.low)  # type: ignore[attr-defined]


def test_distilled_water_takes_next_to_nothing_and_says_nothing_of_chalk() -> None:
    told = WATER.ask({"water_source": "distilled", "silver_mg_per_l": 400})
    assert told.silver_bound_mg_per_l.value is not None
    assert told.silver_bound_mg_per_l.value < 1
    assert not any(one.note in {"water-hard", "water-for-bleach"} for one in told.notes)


def test_more_carbonate_than_hardness_is_refused() -> None:
    with pytest.raises(BadQuestion, match="cannot be"):
        WATER.ask({"hardness_mmol_per_l": 1, "carbonate_hardness_mmol_per_l": 2})
    with pytest.raises(BadQuestion, match="not known here"):
        WATER.ask({"ingredients": "sawdust; 1; g"})


def test_hard_water_wears_the_acid_by_two_protons_for_each_carbonate() -> None:
    told = WATER.ask({"carbonate_hardness_mmol_per_l": 1.5, "ingredients": "citric acid; 5; % w/v"})
    assert told.acid_taken_mmol_per_l.value == pytest.approx(3)
    assert told.here_ph.value == pytest.approx(1.93, abs=0.02)


def test_a_told_figure_may_be_off_either_way() -> None:
    told = WATER.ask({"chloride_mg_per_l": 30}).silver_bound_mg_per_l
    assert told.low is not None
    assert told.high is not None
    assert told.value is not None
    assert told.value - told.low == pytest.approx(told.high - told.value)
    assert told.value - told.low == pytest.approx(1.2816 * 0.08 * told.value, rel=1e-3)
