"""The tests of strength as somebody asks for them: refused slips, open ends, what is missing, and limits that hold the point."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from silverwright import api
from silverwright.asking.operation import Answer, Estimate
from silverwright.errors import BadQuestion
from silverwright.notes import CAUTIONS, Note
from silverwright.questions.assay import TITRATION, TitrationQuestion, titration_of
from silverwright.questions.bleachout import BLEACH_OUT
from silverwright.questions.decay import DECAY
from silverwright.questions.gas import GAS
from silverwright.questions.guides import BENCH_TESTS, guide
from silverwright.questions.peroxide_strip import STRIP

BATH: dict[str, Any] = {
    "sample_ml": 1,
    "made_up_ml": 100,
    "aliquot_ml": 10,
    "measured_with": "class B glass",
    "reagent_mol_per_l": 0.02,
    "titre_ml": 5.51,
    "blank_ml": 0.05,
}
OPERATIONS: tuple[Any, ...] = (TITRATION, GAS, STRIP, BLEACH_OUT, DECAY)


def ask(operation: str, **given: Any) -> Any:
    return api.ask(operation, **given)


def notes_of(answer: Answer) -> set[Note]:
    return {one.note for one in answer.notes}


def refused(operation: str, **given: Any) -> dict[str, str]:
    with pytest.raises(BadQuestion) as bad:
        ask(operation, **given)
    return {fault.field: fault.problem for fault in bad.value.faults}


@pytest.mark.parametrize("test", BENCH_TESTS)
def test_each_test_has_what_it_needs_its_steps_and_cautions(test: Any) -> None:
    told = guide(test)
    assert len(told.needs) >= 2
    assert len(told.steps) >= 4
    assert told.good_for
    assert {one.note for one in told.cautions} <= CAUTIONS
    assert all("local rules come first" in one.sentence for one in told.cautions)


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda one: one.name)
def test_the_caution_is_the_first_note(operation: Any) -> None:
    for example in operation.examples.values():
        answer = operation.ask(example)
        assert answer.notes[0].note in CAUTIONS
        assert answer.steps
        assert answer.needs


def test_the_limits_are_those_of_a_library() -> None:
    """The whole chain by `uncertainties`, from drops, glass and reagent to grams in a litre; class B glass by hand."""
    root3 = 3**0.5
    titre = ufloat(5.51, (0.025**2 + (2 * 0.02 / root3) ** 2) ** 0.5)
    blank = ufloat(0.05, 0.025)
    sample = ufloat(1, 2 * 0.006 / root3)
    flask, aliquot = ufloat(100, 2 * 0.08 / root3), ufloat(10, 2 * 0.02 / root3)
    reagent = ufloat(0.02, 0.02 * 0.01)
    strength = (titre - blank) * reagent * 2.5 / sample * flask / aliquot
    answer = ask("chemistry.titration", **BATH)
    told = answer.strength_mol_per_l
    assert told.value == pytest.approx(strength.nominal_value)
    assert (told.high - told.low) / 2 / 1.2815515655446004 == pytest.approx(strength.std_dev, rel=1e-6)


def test_a_label_that_is_beaten_by_more_than_a_tenth_is_asked_about() -> None:
    faults = refused("chemistry.titration", **{**BATH, "titre_ml": 6.2}, stock_amount=9, stock_unit="% w/w")
    assert "stronger than the label" in faults["titre_ml"]
    looked = ask("chemistry.titration", **{**BATH, "titre_ml": 6.2}, stock_amount=9, stock_unit="% w/w", looked_again=True)
    assert Note.ASSAY_LOOKED in notes_of(looked)
    inside = ask("chemistry.titration", **{**BATH, "titre_ml": 5.9}, stock_amount=9, stock_unit="% w/w")
    assert inside.of_label_percent.value == pytest.approx(107.2, abs=0.1)


def test_an_unclear_label_is_held_against_its_stronger_reading() -> None:
    """35 % w/v is 35 g in 100 mL, 35 % w/w 39.6: a titration of 39 g is no surprise until the label says w/v."""
    stock = {"sample_ml": 0.25, "made_up_ml": 100, "aliquot_ml": 10, "reagent_mol_per_l": 0.02, "titre_ml": 5.73, "blank_ml": 0, "stock_amount": 35}
    assert ask("chemistry.titration", **stock).of_label_percent.value == pytest.approx(104.7, abs=0.5)
    assert "titre_ml" in refused("chemistry.titration", **stock, stock_unit="% w/v")


def test_more_than_peroxide_itself_is_refused() -> None:
    faults = refused("chemistry.titration", **{**BATH, "reagent_mol_per_l": 2, "titre_ml": 20})
    assert "without any water" in faults["titre_ml"]
    assert "gas_ml" in refused("chemistry.gas", sample_ml=1, gas_ml=2000)
    assert "diluted" in refused("chemistry.strip", strip_mg_per_l=25, diluted="0.1 10000\n0.1 10000")


def test_slips_of_the_sample_are_told_all_at_once() -> None:
    faults = refused("chemistry.titration", **{**BATH, "made_up_ml": 0.5, "aliquot_ml": 10, "blank_ml": 9, "titre_ml": 5})
    assert {"made_up_ml", "blank_ml"} <= faults.keys()
    assert "aliquot_ml" in refused("chemistry.titration", sample_ml=1, aliquot_ml=5, reagent_mol_per_l=0.02, titre_ml=5)
    assert "how much of that" in refused("chemistry.gas", sample_ml=1, made_up_ml=10, gas_ml=5)["aliquot_ml"]
    assert "aliquot_ml" in refused("chemistry.gas", sample_ml=1, made_up_ml=10, aliquot_ml=20, gas_ml=5)


def test_a_normality_read_as_moles_is_asked_about() -> None:
    answer = ask("chemistry.titration", sample_ml=1, made_up_ml=100, aliquot_ml=2, reagent_mol_per_l=0.1, titre_ml=1)
    assert Note.NORMALITY in notes_of(answer)
    assert Note.NORMALITY not in notes_of(ask("chemistry.titration", **BATH))
    assert Note.NORMALITY not in notes_of(ask("chemistry.titration", **{**BATH, "reagent": "iodine", "reagent_mol_per_l": 0.1, "titre_ml": 5}))


def test_a_used_bath_has_at_most_so_much() -> None:
    answer = ask("chemistry.titration", **BATH, sample_is="a used bath")
    assert answer.strength_percent_ww.low is None
    assert answer.strength_percent_ww.high is not None
    assert Note.USED_BATH_ASSAY in notes_of(answer)


def test_what_is_missing_widens_and_says_by_how_much() -> None:
    known = ask("chemistry.titration", **BATH)
    without = ask("chemistry.titration", **{name: value for name, value in BATH.items() if name not in {"blank_ml", "measured_with"}})
    assert width(without.strength_percent_ww) > width(known.strength_percent_ww)
    said = next(one.sentence for one in without.notes if one.note == Note.TEST_NOT_GIVEN)
    assert "the blank (0.1 mL is taken)" in said
    assert "syringes" in said
    warm = {"sample_ml": 1, "gas_ml": 33.6, "measured_with": "class B glass"}
    assert width(ask("chemistry.gas", **warm).strength_g_per_l) > width(
        ask("chemistry.gas", **warm, temperature_celsius=20, pressure_kpa=101.3).strength_g_per_l
    )


def width(estimate: Estimate) -> float:
    assert estimate.high is not None
    assert estimate.low is not None
    return estimate.high - estimate.low


def test_gas_and_titration_of_one_bath_agree() -> None:
    """A bath of 9 % by both ways, each fed with what the other gives."""
    titrated = ask("chemistry.titration", **{**BATH, "titre_ml": 5.459 + 0.05}).strength_percent_ww
    measured = ask("chemistry.gas", sample_ml=1, gas_ml=33.6, temperature_celsius=20, pressure_kpa=101.325).strength_percent_ww
    assert titrated.value == pytest.approx(9.0, abs=0.005)
    assert measured.value == pytest.approx(9.0, abs=0.005)


def test_a_strip_beyond_its_scale_or_at_its_ends() -> None:
    assert "the last colour" in refused("chemistry.strip", strip_mg_per_l=50, diluted="1 100")["strip_mg_per_l"]
    assert ask("chemistry.strip", strip_mg_per_l=50, colours_mg_per_l="10 50 100", diluted="1 100").strength_g_per_l.value == pytest.approx(5)
    last = ask("chemistry.strip", strip_mg_per_l=25, diluted="1 100")
    assert last.strength_g_per_l.high is None
    assert Note.STRIP_BEYOND in notes_of(last)
    none = ask("chemistry.strip", strip_mg_per_l=0, diluted="1 100")
    assert none.strength_g_per_l.low is None
    assert Note.STRIP_PALE in notes_of(none)
    assert Note.PH_STRIP_BLEACHED in notes_of(none)


def test_verdicts_of_the_bleach_out_test() -> None:
    fresh = {"cleared_fresh_s": (110, 115, 120), "fresh_celsius": 20, "used_celsius": 20}
    assert ask("chemistry.bleach-out", **fresh, cleared_used_s=(112, 118)).verdict.startswith("It works")
    assert ask("chemistry.bleach-out", **fresh, cleared_used_s=(400, 410)).verdict.startswith("Spent")
    assert ask("chemistry.bleach-out", **fresh, cleared_used_s=(225, 230)).verdict.startswith("Not told")
    held = ask("chemistry.bleach-out", **fresh, gave_up_s=150)
    assert held.clearing_factor.high is None
    assert "did not clear" in held.verdict
    assert "cleared_used_s" in refused("chemistry.bleach-out", cleared_fresh_s=(110,))
    assert "cleared_fresh_s" in refused("chemistry.bleach-out", cleared_fresh_s=(), cleared_used_s=(110,))


def test_a_warmer_used_bath_flatters_itself() -> None:
    alike = ask("chemistry.bleach-out", cleared_fresh_s=(120,), cleared_used_s=(120,), fresh_celsius=20, used_celsius=20)
    warmer = ask("chemistry.bleach-out", cleared_fresh_s=(120,), cleared_used_s=(120,), fresh_celsius=20, used_celsius=25)
    assert warmer.clearing_factor.value == pytest.approx(2.45**0.5)
    assert width(warmer.clearing_factor) > width(alike.clearing_factor)


def test_decay_says_what_two_assays_can_say() -> None:
    given_doubt = {"first_doubt_percent": 1, "second_doubt_percent": 1}
    answer = ask("chemistry.decay", first_percent=9, second_percent=8.1, apart_days=10, ahead_days=10, least_percent=7, **given_doubt)
    assert answer.strength_percent_ww.value == pytest.approx(8.1 * 0.9)
    assert answer.lasts_days.value == pytest.approx(13.85, abs=0.01)
    grown = ask("chemistry.decay", first_percent=8, second_percent=9, apart_days=10, ahead_days=10, **given_doubt)
    assert Note.DECAY_RISES in notes_of(grown)
    assert grown.strength_percent_ww.value == 9
    assert grown.half_days.value is None
    assert "least_percent" in refused("chemistry.decay", first_percent=9, second_percent=8, apart_days=10, least_percent=8.5)


@given(st.tuples(st.floats(1, 60), st.floats(1, 60)), st.floats(0.1, 300), st.floats(0, 900), st.tuples(st.floats(0.1, 20), st.floats(0.1, 20)))
@settings(max_examples=100)
def test_limits_of_the_decay_hold_their_point(assays: tuple[float, float], apart: float, ahead: float, doubts: tuple[float, float]) -> None:
    (first, second), (doubt, other) = assays, doubts
    answer = ask(
        "chemistry.decay",
        first_percent=first,
        second_percent=second,
        apart_days=apart,
        ahead_days=ahead,
        first_doubt_percent=doubt,
        second_doubt_percent=other,
        least_percent=second * 0.7,
        other_celsius=8,
    )
    assert all(holds(value) for value in vars(answer).values() if isinstance(value, Estimate))


@given(st.floats(0, 40), st.floats(0, 1), st.floats(1, 20), st.sampled_from([None, "class A glass", "class B glass", "syringes and cylinders"]))
@settings(max_examples=100)
def test_limits_of_a_titration_hold_their_point(titre_ml: float, blank: float, sample_ml: float, glass: str | None) -> None:
    answer = ask(
        "chemistry.titration",
        sample_ml=sample_ml,
        made_up_ml=100,
        aliquot_ml=10,
        reagent_mol_per_l=0.02,
        titre_ml=titre_ml,
        blank_ml=titre_ml * blank,
        measured_with=glass,
    )
    assert all(holds(value) for value in vars(answer).values() if isinstance(value, Estimate))


def holds(estimate: Estimate) -> bool:
    value = estimate.value
    return value is None or ((estimate.low is None or estimate.low <= value) and (estimate.high is None or estimate.high >= value))


def test_the_strength_goes_evenly_with_the_reading() -> None:
    """No jump where one burette is too small for the titre: the value does not know about glass."""
    values = [titration_of(TitrationQuestion(**{**BATH, "titre_ml": titre})).found_mol_per_l for titre in (9.999, 10, 10.001)]
    assert values[1] - values[0] == pytest.approx(values[2] - values[1])


def bench(rng: np.random.Generator, truth_mol_per_l: float) -> dict[str, Any]:
    """A titration at a bench that shares nothing with the engine: flat errors of the glass, drops that overshoot, a reagent that has aged."""
    sample = 1 + rng.uniform(-0.012, 0.012)
    flask, aliquot = 100 + rng.uniform(-0.16, 0.16), 10 + rng.uniform(-0.04, 0.04)
    reagent = 0.02 * (1 + 0.01 * rng.standard_normal())
    needed = truth_mol_per_l * sample / flask * aliquot / (reagent * 2.5)
    water = abs(0.05 + 0.02 * rng.standard_normal())
    seen = [needed + water + 0.025 * rng.standard_normal() + rng.uniform(-0.04, 0.04), water + 0.025 * rng.standard_normal()]
    return {**BATH, "titre_ml": max(0.0, seen[0]), "blank_ml": max(0.0, seen[1])}


def test_limits_of_a_titration_hold_eight_of_ten() -> None:
    """600 titrations of one bath at that bench; the standard error of the count is 1.6 %."""
    rng = np.random.default_rng(20261128)
    truth, count, held = 2.729, 600, 0
    for _ in range(count):
        told = ask("chemistry.titration", **bench(rng, truth)).strength_mol_per_l
        held += told.low <= truth <= told.high
    assert held / count == pytest.approx(0.8, abs=3 * (0.8 * 0.2 / count) ** 0.5)


def test_limits_of_the_gas_hold_eight_of_ten() -> None:
    """400 measurements of one bath: a syringe and a cylinder with flat errors, weather, and oxygen that stays in the liquid."""
    rng = np.random.default_rng(20261128)
    truth, count, held = 2.729, 400, 0
    for _ in range(count):
        celsius, pressure = 20 + rng.normal(0, 0.5), 100 + rng.normal(0, 0.3)
        oxygen_mol = truth * (1 + rng.uniform(-0.05, 0.05)) / 1000 / 2
        free_mol = oxygen_mol - rng.uniform(0, 1) * 0.0013 * 0.020
        dry_kpa = pressure - 2.339 * 1.064 ** (celsius - 20)
        gas_ml = free_mol * 8.314462618 * (celsius + 273.15) / dry_kpa * 1000 + rng.uniform(-0.5, 0.5)
        told = ask("chemistry.gas", sample_ml=1, gas_ml=gas_ml, temperature_celsius=20, pressure_kpa=100, liquid_ml=20).strength_mol_per_l
        held += told.low <= truth <= told.high
    assert held / count == pytest.approx(0.8, abs=3 * (0.8 * 0.2 / count) ** 0.5)


def test_limits_of_the_decay_hold_eight_of_ten() -> None:
    """600 pairs of assays of a bath that loses 0.7 % a day, each 2 % off: rate, strength in ten days, days until 7 %."""
    rng = np.random.default_rng(20261128)
    loss, count, held = 0.007, 600, np.zeros(3)
    for _ in range(count):
        first, second = 9 * (1 + rng.normal(0, 0.02)), 9 * np.exp(-loss * 20) * (1 + rng.normal(0, 0.02))
        told = ask("chemistry.decay", first_percent=first, second_percent=second, apart_days=20, ahead_days=10, least_percent=min(7, second))
        rate, later, lasts = told.loss_percent_per_day, told.strength_percent_ww, told.lasts_days
        held[0] += rate.low <= 100 * (1 - np.exp(-loss)) <= rate.high
        held[1] += later.low <= 9 * np.exp(-loss * 30) <= later.high
        days = np.log(9 * np.exp(-loss * 20) / 7) / loss
        held[2] += (lasts.low or 0) <= days and (lasts.high is None or days <= lasts.high)
    rate_held, later_held, lasts_held = held / count
    assert rate_held == pytest.approx(0.8, abs=0.05)
    assert later_held == pytest.approx(0.8, abs=0.05)
    assert lasts_held == pytest.approx(0.8, abs=0.05)


def test_a_weak_bottle_is_told_once_it_is_sure() -> None:
    weak = ask("chemistry.titration", **{**BATH, "titre_ml": 4.5}, stock_amount=9, stock_unit="% w/w")
    assert Note.ASSAY_WEAK in notes_of(weak)
    assert Note.ASSAY_WEAK not in notes_of(ask("chemistry.titration", **{**BATH, "titre_ml": 5.1}, stock_amount=9, stock_unit="% w/w"))


def test_a_blank_that_nobody_tried_is_unsurer_than_one_of_a_drop() -> None:
    tried = ask("chemistry.titration", **{**BATH, "titre_ml": 5.56, "blank_ml": 0.1})
    untried = ask("chemistry.titration", **{**BATH, "titre_ml": 5.56, "blank_ml": None})
    assert untried.strength_g_per_l.value == pytest.approx(tried.strength_g_per_l.value)
    assert [line.doubt for line in untried.ledger][1] == pytest.approx(4 * [line.doubt for line in tried.ledger][1])


def test_a_small_titre_is_told_to_be_coarse() -> None:
    small = ask(
        "chemistry.titration", sample_ml=1, made_up_ml=100, aliquot_ml=1, measured_with="class B glass", reagent_mol_per_l=0.02, titre_ml=0.55
    )
    assert Note.READING_COARSE in notes_of(small)
    assert Note.READING_COARSE not in notes_of(ask("chemistry.titration", **BATH))


def test_the_liquid_of_the_bottle_is_a_correction_or_a_doubt() -> None:
    """Half of what 20 mL may keep is added; where nobody said how much there is, nothing is, and the doubt is twice as large."""
    given = {"sample_ml": 1, "gas_ml": 33, "temperature_celsius": 20, "pressure_kpa": 101.3, "measured_with": "class A glass"}
    known, unknown = ask("chemistry.gas", **given, liquid_ml=20), ask("chemistry.gas", **given)
    doubts = [[line.doubt / answer.strength_g_per_l.value for line in answer.ledger][1] for answer in (known, unknown)]
    assert doubts[1] == pytest.approx(2 * doubts[0])
    assert known.ledger[1].amount == pytest.approx(2 * 0.0013 * 0.020 / 2 / 1e-3 * 34.0147, rel=0.001)
    assert unknown.ledger[1].amount == 0


def test_a_strip_is_as_unsure_as_its_colours_and_the_eye() -> None:
    """Between the colours 5 and 25 around 10, by volumes of class A glass: half the width of ln(25/5)/2 as a rectangle, and 20 % of the eye."""
    told = ask("chemistry.strip", strip_mg_per_l=10, diluted="1 100", measured_with="class A glass", stock_amount=9, stock_unit="% w/w")
    sd = np.hypot(np.log((10 * 25) ** 0.5 / (10 * 5) ** 0.5) / 12**0.5, 0.2)
    assert told.strength_g_per_l.high / told.strength_g_per_l.value == pytest.approx(np.exp(1.2815515655446004 * sd), rel=0.002)
    assert told.better_factor.value == pytest.approx(92_840 / (0.5 * 25) ** 0.5, rel=0.001)


def test_strips_that_cleared_and_one_that_did_not_count_together() -> None:
    both = ask("chemistry.bleach-out", cleared_fresh_s=(100,), cleared_used_s=(100,), gave_up_s=400, fresh_celsius=20, used_celsius=20)
    assert both.clearing_factor.value == pytest.approx(2)
    assert both.clearing_factor.high is None


def test_no_thermometer_is_told_and_widens() -> None:
    given = {"cleared_fresh_s": (120,), "cleared_used_s": (180,)}
    read = ask("chemistry.bleach-out", **given, fresh_celsius=20, used_celsius=20)
    unread = ask("chemistry.bleach-out", **given)
    assert width(unread.clearing_factor) > width(read.clearing_factor)
    assert Note.TEST_NOT_GIVEN in notes_of(unread)
    assert Note.TEST_NOT_GIVEN not in notes_of(read)


def test_far_ahead_and_elsewhere() -> None:
    given = {"first_percent": 9, "second_percent": 8, "apart_days": 10, "first_doubt_percent": 1, "second_doubt_percent": 1}
    assert Note.DECAY_FAR in notes_of(ask("chemistry.decay", **given, ahead_days=21))
    assert Note.DECAY_FAR not in notes_of(ask("chemistry.decay", **given, ahead_days=19))
    warm = ask("chemistry.decay", **given, kept_celsius=20, other_celsius=30)
    loss, limits = np.log(9 / 8) / 10, warm.warmth_factor
    reach = 1.2815515655446004 * 2**0.5 * 0.01 / 10
    assert limits.low < limits.value < limits.high
    assert warm.other_loss_percent_per_day.value == pytest.approx(100 * (1 - np.exp(-loss * limits.value)))
    assert warm.other_loss_percent_per_day.low == pytest.approx(100 * (1 - np.exp(-(loss - reach) * limits.low)))
    assert warm.other_loss_percent_per_day.high == pytest.approx(100 * (1 - np.exp(-(loss + reach) * limits.high)))
