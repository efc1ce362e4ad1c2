"""How strong, and how much of what: a label that is asked about, doubts that are told, and what cannot be mixed."""

from math import exp, hypot, log
from statistics import NormalDist
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate
from silverwright.errors import BadQuestion, OutOfRange
from silverwright.notes import CAUTIONS, Note
from silverwright.questions.dilution import DILUTION, DilutionAnswer
from silverwright.questions.replenish import REPLENISH, ReplenishAnswer
from silverwright.questions.strength import STRENGTH, StrengthAnswer, told

PEROXIDE: dict[str, Any] = {"substance": "hydrogen peroxide", "stock_amount": 35, "wanted_amount": 9, "volume_ml": 1000, "temperature_celsius": 20}
NUMBERS = st.floats(0.01, 2000)


def mixed(**given: Any) -> DilutionAnswer:
    answer = DILUTION.ask({**PEROXIDE, **given})
    assert isinstance(answer, DilutionAnswer)
    return answer


def refused(operation: Any, **given: Any) -> dict[str, str]:
    with pytest.raises(BadQuestion) as caught:
        operation.ask({name: value for name, value in given.items() if value is not None})
    return {fault.field: fault.problem for fault in caught.value.faults}


def value(estimate: Estimate | None) -> float:
    assert estimate is not None
    assert estimate.value is not None
    return estimate.value


def half_width(estimate: Estimate) -> float:
    """Of the limits, as a share."""
    assert estimate.low is not None
    assert estimate.high is not None
    return log(estimate.high / estimate.low) / 2


def said(answer: Answer) -> set[Note]:
    return {one.note for one in answer.notes}


def test_an_unclear_label_is_asked_about_with_both_amounts() -> None:
    """Task 6: 35 %, to 1 L of 9 % by weight."""
    asked = refused(DILUTION, **PEROXIDE)["stock_unit"].replace("\N{NO-BREAK SPACE}", " ")
    assert asked.index("Goggles") < asked.index("265 g")
    assert "as w/w, 265 g (234 mL) and 768 mL water" in asked
    assert "as w/v, 297 g (265 mL) and 736 mL water" in asked
    assert "“%, label unclear”" in asked


def test_by_weight_and_by_volume() -> None:
    by_weight, by_volume = mixed(stock_unit="% w/w"), mixed(stock_unit="% w/v")
    assert [round(value(one)) for one in (by_weight.weigh_g, by_weight.measure_ml, by_weight.water_ml)] == [265, 234, 768]
    assert round(value(by_volume.measure_ml)) == 265


def test_a_weak_label_is_not_asked_about() -> None:
    """3 % by weight and by volume are one percent apart: less than can be set, and it is said."""
    answer = mixed(stock_amount=3, wanted_amount=1)
    assert Note.LABEL_EITHER in said(answer)
    assert Note.LABEL_UNCLEAR not in said(answer)


def test_an_unclear_label_widens_the_limits_by_as_much_as_is_said() -> None:
    clear, unclear = mixed(stock_unit="% w/w"), mixed(stock_unit="%, label unclear")
    both = [value(mixed(stock_unit=unit).weigh_g) for unit in ("% w/w", "% w/v")]
    assert unclear.weigh_g.low is not None
    assert unclear.weigh_g.high is not None
    assert unclear.weigh_g.low < min(both) < value(unclear.weigh_g) < max(both) < unclear.weigh_g.high
    assert half_width(unclear.weigh_g) > 2 * half_width(clear.weigh_g)
    sentence = next(one.sentence for one in unclear.notes if one.note is Note.LABEL_UNCLEAR)
    assert "±6.2 %" in sentence


def test_two_readings_hold_eight_of_ten() -> None:
    """Counted out of both, a thousandth at a time: a tenth lies below, a tenth above."""
    both = told((100.0, 113.0), 0.02)
    inside = 0
    assert both.low is not None
    assert both.high is not None
    for one in (100.0, 113.0):
        for step in range(1000):
            sd = NormalDist().inv_cdf((step + 0.5) / 1000)
            inside += both.low <= one * exp(0.02 * sd) <= both.high
    assert inside / 2000 == pytest.approx(0.8, abs=0.005)


def test_cautions_stand_before_the_amounts() -> None:
    answer = mixed(stock_unit="% w/w")
    assert {Note.BEFORE_OPENING, Note.PEROXIDE_POURED} <= said(answer) & CAUTIONS
    assert "safety data sheet" in answer.cautions[0].sentence
    assert "H318" in next(one.sentence for one in answer.cautions if one.note is Note.STOCK_HAZARDS)
    acid = mixed(substance="sulphuric acid", stock_amount=96, stock_unit="% w/w", wanted_amount=5, wanted_unit="% w/w")
    assert Note.ACID_INTO_WATER in said(acid)
    assert acid.steps[0].startswith("Put")
    assert "water" in acid.steps[0]
    lye = mixed(substance="sodium hydroxide", stock_amount=40, stock_unit="% w/w", wanted_amount=1)
    assert Note.LYE_INTO_WATER in said(lye)


def test_the_naive_rule_and_its_error() -> None:
    """9/35 of a litre, filled up: 102 g of peroxide instead of 92.8, 9.5 % too strong by weight."""
    answer = mixed(stock_unit="% w/w")
    assert value(answer.naive_ml) == pytest.approx(257.14, abs=0.01)
    assert value(answer.naive_percent) == pytest.approx(9.5, abs=0.1)
    assert Note.NAIVE_RULE in said(answer)
    assert mixed(stock_unit="g/L", stock_amount=396, wanted_amount=93, wanted_unit="g/L").naive_ml is None


def test_what_can_be_set_comes_out_nearly_as_wanted() -> None:
    answer = mixed(stock_unit="% w/w")
    assert [value(one) for one in (answer.set_g, answer.set_ml, answer.set_water_ml)] == pytest.approx([265.3, 234, 770])
    assert value(answer.weighed_percent) == pytest.approx(9, abs=0.005)
    assert value(answer.measured_percent) == pytest.approx(100 * 0.35 * 234 * 1.13279 / (234 * 1.13279 + 770 * 0.9982), abs=0.002)


def test_a_density_is_in_doubt_only_where_weight_and_volume_meet() -> None:
    """By weight from a label by weight, and by volume from a label by volume, nothing but the label's 2 % is unsure."""
    by_weight = mixed(stock_unit="% w/w", wanted_amount=90, wanted_unit="g/L")
    by_volume = mixed(stock_amount=396, stock_unit="g/L", wanted_amount=90, wanted_unit="g/L")
    label = EIGHTY_PERCENT_SD * 0.02
    assert by_weight.measure_ml is not None
    assert by_volume.measure_ml is not None
    assert half_width(by_weight.weigh_g) == pytest.approx(label)
    assert half_width(by_volume.measure_ml) == pytest.approx(label)
    assert half_width(by_weight.measure_ml) > label * 1.0005
    assert half_width(by_volume.weigh_g) > label * 1.0005
    assert half_width(mixed(stock_unit="% w/w").weigh_g) > label * 1.0005


def test_cylinders_are_rougher_than_a_scale() -> None:
    """By hand: 2 % of the label, and of the water's 74 % of the mass what two cylinders, and the density, are off."""
    answer = mixed(stock_unit="% w/w")
    assert answer.measured_percent is not None
    water_share = 770 * 0.9982 / (770 * 0.9982 + 234 * 1.13279)
    off = hypot(1.15 / 234, 3.5 / 770, 0.001, 0.0007)  # the last: a degree, for 35 % peroxide
    assert half_width(answer.measured_percent) / EIGHTY_PERCENT_SD == pytest.approx(hypot(0.02, water_share * off), rel=1e-3)
    assert half_width(answer.weighed_percent) < half_width(answer.measured_percent)


def test_crystals_are_weighed_only() -> None:
    """Half a litre of 5 % by weight: 1.0187 g/mL times 500 mL, a twentieth of it; monohydrate holds its own water."""
    answer = mixed(substance="citric acid", stock_amount=100, stock_unit="% w/w", wanted_amount=5, volume_ml=500)
    assert value(answer.weigh_g) == pytest.approx(1.0189 * 500 / 20, abs=0.02)
    assert answer.measure_ml is answer.set_ml is answer.measured_percent is None
    assert "measure" not in answer.steps[1]
    assert mixed(substance="citric acid", stock_amount=100, wanted_amount=5).weigh_g.low is not None
    assert (
        "a litre dissolves about"
        in refused(DILUTION, **{**PEROXIDE, "substance": "citric acid", "stock_amount": 100, "wanted_amount": 80})["wanted_amount"]
    )


def test_what_a_scale_cannot_set_is_said() -> None:
    answer = mixed(stock_unit="% w/w", wanted_amount=0.01, volume_ml=500)
    assert Note.SCALE_TOO_COARSE in said(answer)


@given(st.floats(1, 60), st.floats(0.01, 1), st.floats(1, 20_000), st.sampled_from(["% w/w", "% w/v", "g/L", "mol/L", "volumes", "%, label unclear"]))
def test_limits_hold_the_point_and_masses_the_strength(amount: float, share: float, volume_ml: float, unit: str) -> None:
    wanted = share * amount * (1 if unit == "% w/w" else 0.02 if unit in {"g/L", "volumes"} else 0.5)
    try:
        answer = mixed(stock_amount=amount, stock_unit=unit, wanted_amount=wanted, volume_ml=volume_ml)
    except (BadQuestion, OutOfRange):
        return
    for name in ("weigh_g", "measure_ml", "water_g", "water_ml", "weighed_percent", "measured_percent"):
        one = getattr(answer, name)
        if one.low is not None:
            assert one.low <= one.value <= one.high, name
    if unit != "%, label unclear" and unit == "% w/w":
        assert amount * value(answer.weigh_g) / (value(answer.weigh_g) + value(answer.water_g)) == pytest.approx(wanted)


@given(st.floats(20, 60), st.floats(1, 15), st.floats(1, 2000))
def test_a_hair_more_asked_is_a_hair_more_told(amount: float, wanted: float, volume_ml: float) -> None:
    here = mixed(stock_amount=amount, stock_unit="%, label unclear", wanted_amount=wanted, volume_ml=volume_ml)
    there = mixed(stock_amount=amount * (1 + 1e-7), stock_unit="%, label unclear", wanted_amount=wanted, volume_ml=volume_ml)
    for name in ("weigh_g", "water_g"):
        for end in ("low", "value", "high"):
            assert getattr(getattr(there, name), end) == pytest.approx(getattr(getattr(here, name), end), rel=1e-4)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"stock_amount": 120, "stock_unit": "% w/w"}, "stock_amount", "more than 100 g in 100 g"),
        ({"stock_amount": 120, "stock_unit": "%"}, "stock_amount", "choose % w/v"),
        ({"stock_amount": -5}, "stock_amount", "Too small"),
        ({"stock_amount": 1900, "stock_unit": "g/L"}, "stock_amount", "without any water"),
        ({"stock_amount": 5, "stock_unit": "% w/w"}, "wanted_amount", "stronger than the stock"),
        ({"stock_amount": 0, "stock_unit": "% w/w", "wanted_amount": 0}, "wanted_amount", "is water"),
        ({"substance": "citric acid", "stock_amount": 100, "stock_unit": "volumes"}, "stock_unit", "hydrogen peroxide only"),
        ({"substance": "citric acid", "stock_amount": 90, "stock_unit": "% w/w"}, "stock_amount", "a litre dissolves about 740 g"),
        ({"substance": "sodium sulphite", "stock_amount": 40, "stock_unit": "% w/w"}, "stock_amount", "from memory, unverified"),
        ({"substance": "dragon's blood", "stock_unit": "% w/w"}, "substance", "not among the substances"),
        ({"substance": "hydrogen peroxid", "stock_unit": "% w/w"}, "substance", "Is it hydrogen peroxide"),
        ({"stock_unit": "% w/w", "volume_ml": -1}, "volume_ml", "Too small"),
        ({"stock_unit": "percent"}, "stock_unit", "Choose"),
    ],
)
def test_what_cannot_be_is_refused_in_words(given: dict[str, Any], field: str, words: str) -> None:
    faults = refused(DILUTION, **{**PEROXIDE, **given})
    assert words in faults[field]


def test_every_fault_at_once() -> None:
    faults = refused(DILUTION, substance="unicorn", stock_amount=-1, wanted_amount="much", volume_ml=-1)
    assert set(faults) == {"substance", "stock_amount", "wanted_amount", "volume_ml"}


def test_a_hand_may_write_units_as_it_likes() -> None:
    for written in ("%w/w", "W/W", "% W/W"):
        assert value(mixed(stock_unit=written).weigh_g) == pytest.approx(265.26, abs=0.01)


def strong(**given: Any) -> StrengthAnswer:
    answer = STRENGTH.ask(given)
    assert isinstance(answer, StrengthAnswer)
    return answer


def test_what_is_said_is_sure_and_what_is_converted_is_not() -> None:
    by_weight = strong(substance="hydrogen peroxide", stock_amount=35, stock_unit="% w/w")
    assert by_weight.strength_percent_ww.low is None
    assert by_weight.strength_g_per_l.low is not None
    by_volume = strong(substance="hydrogen peroxide", stock_amount=396, stock_unit="g/L")
    assert by_volume.strength_percent_ww.low is not None
    assert by_volume.strength_g_per_l.low is None


def test_a_temperature_that_nobody_read_widens_the_limits() -> None:
    read = strong(substance="hydrogen peroxide", stock_amount=35, stock_unit="% w/w", temperature_celsius=20)
    taken = strong(substance="hydrogen peroxide", stock_amount=35, stock_unit="% w/w")
    assert half_width(taken.strength_g_per_l) > half_width(read.strength_g_per_l)
    assert Note.TEMPERATURE_TAKEN in said(taken)
    assert Note.TEMPERATURE_TAKEN not in said(read)


def test_volumes_of_oxygen_are_told_of_peroxide_only() -> None:
    assert strong(substance="citric acid", stock_amount=5, stock_unit="% w/w").strength_volumes is None
    assert "volume" in refused(STRENGTH, substance="hydrogen peroxide", stock_amount=35)["stock_unit"]


def back(**given: Any) -> ReplenishAnswer:
    answer = REPLENISH.ask({**PEROXIDE, "stock_unit": "% w/w", "bath_amount": 7.5, **given})
    assert isinstance(answer, ReplenishAnswer)
    return answer


def test_a_bath_is_brought_back() -> None:
    """1026 g at 7.5 % and x g at 35 % at 9 %: x = 1026 * 1.5 / 26; in exchange 1026 * 1.5 / 27.5."""
    added, swapped = back(), back(way="in exchange")
    assert value(added.weigh_g) == pytest.approx(1025.96 * 1.5 / 26, abs=0.05)
    assert value(swapped.weigh_g) == pytest.approx(1025.96 * 1.5 / 27.5, abs=0.05)
    assert added.take_out_ml is None
    assert value(swapped.take_out_ml) == pytest.approx(value(swapped.weigh_g) / 1.02596, abs=0.05)
    assert value(added.becomes_ml) > 1050
    assert value(swapped.becomes_ml) == pytest.approx(1000, abs=6)


def test_a_difference_of_strengths_is_unsure() -> None:
    """By hand: 5 % of 7.5 in 1.5, 2 % of 35 in 26 (in exchange 27.5), and 2 % of the bath."""
    for way, above in (("added to all of it", 26), ("in exchange", 27.5)):
        expected = hypot(0.05 * 7.5 / 1.5, 0.02 * 35 / above, 0.02)
        assert half_width(back(way=way).weigh_g) / EIGHTY_PERCENT_SD == pytest.approx(expected, rel=1e-6)


def test_a_bath_that_is_strong_enough_gets_nothing() -> None:
    answer = back(bath_amount=9.5)
    assert value(answer.weigh_g) == 0
    assert said(answer) == {Note.BATH_IS_STRONGER}


def test_no_stock_makes_a_bath_as_strong_as_itself() -> None:
    given = {**PEROXIDE, "bath_amount": 7.5}
    assert "as strong as the stock" in refused(REPLENISH, **{**given, "wanted_amount": 35, "stock_unit": "% w/w"})["wanted_amount"]
    assert "stronger than the stock" in refused(REPLENISH, **{**given, "bath_amount": 50, "stock_unit": "% w/w"})["bath_amount"]
    assert "as w/v" in refused(REPLENISH, **given)["stock_unit"]


def test_plain_water_with_an_unclear_label_is_plain_water() -> None:
    plain = STRENGTH.ask({"substance": "hydrogen peroxide", "stock_amount": 0, "stock_unit": "%, label unclear"})
    assert plain.strength_g_per_l.value == 0
