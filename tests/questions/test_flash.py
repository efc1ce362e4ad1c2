"""Flashes as people ask for them: the published example, several heads, daylight, and what is refused."""

from itertools import pairwise
from math import hypot, log2, sqrt
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from silverwright.catalogue import find
from silverwright.errors import BadQuestion
from silverwright.questions.entry import Entry
from silverwright.questions.flashes import FlashQuestion, Sum, index_of_flashes
from silverwright.records import Stops

GUIDE: dict[str, object] = {"guide_number": 45, "guide_unit": "m", "guide_ei": 100, "flash_distance_mm": 2000, "magnification_factor": 0}


def ask(**told: object) -> Any:
    return find("exposure.flash").ask({**GUIDE, "paper_ei": 3, "aperture_f": "f/8", **told})


def line(answer: Any, words: str) -> Any:
    return next(one for one in answer.ledger if words in one.what)


def notes(answer: Any) -> list[str]:
    return [one.note.value for one in answer.notes]


@pytest.mark.parametrize(("aperture", "nominal", "true"), [("f/5.6", 2.1, 2.1), ("f/8", 4.2, 4.2), ("f/11", 8.0, 8.4)])
def test_the_low_index_example_by_the_printed_and_by_the_true_number(aperture: str, nominal: float, true: float) -> None:
    """Guide number 45 at ISO 100, EI 3, 2 m. The reference reckons with the printed f-numbers; f/11 is f/11.3 on the lens: 8.4 flashes, not 8.0."""
    assert ask(aperture_f=aperture, aperture_scale="exact").flashes.value == pytest.approx(nominal, abs=0.05)
    assert ask(aperture_f=aperture).flashes.value == pytest.approx(true, abs=0.05)
    assert ask().paper_guide.value == pytest.approx(7.8, abs=0.05)


@given(st.floats(100, 20000), st.floats(0.3, 50))
@settings(deadline=None, max_examples=40)
def test_twice_the_distance_costs_two_stops_on_its_line(distance_mm: float, paper_ei: float) -> None:
    near, far = (ask(flash_distance_mm=away, paper_ei=paper_ei) for away in (distance_mm, 2 * distance_mm))
    assert line(far, " away").amount - line(near, " away").amount == pytest.approx(2, abs=1e-9)
    assert far.flash_stops.value - near.flash_stops.value == pytest.approx(2, abs=1e-9)


def test_feet_and_metres_are_one_flash() -> None:
    feet = ask(guide_number=45 / 0.3048, guide_unit="ft", flash_distance_mm="6.5617 ft")
    assert feet.flashes.value == pytest.approx(ask().flashes.value, rel=1e-4)


def test_the_meter_says_what_the_guide_number_says() -> None:
    """45 / 2 m is f/22.5 for ISO 100; at the meter's lowest setting, EI 3, f/3.9."""
    for meter in ({"flash_meter_f": 22.5, "flash_meter_ei": 100}, {"flash_meter_f": 22.5 * sqrt(0.03), "flash_meter_ei": 3}):
        by_meter = find("exposure.flash").ask({**meter, "magnification_factor": 0, "paper_ei": 3, "aperture_f": "f/8"})
        assert by_meter.flashes.value == pytest.approx(ask().flashes.value, rel=1e-6)
        assert by_meter.doubt_stops.value < ask().doubt_stops.value
        assert by_meter.paper_guide is None
        assert "flash-read" in notes(by_meter)


def test_tenths_of_the_meter() -> None:
    plain, more = (ask(flash_meter_f="f/11", flash_meter_ei=3, guide_number=None, flash_meter_tenths_stops=tenths) for tenths in (None, 0.5))
    assert plain.flash_stops.value - more.flash_stops.value == pytest.approx(0.5)


def test_stored_energy_is_unsure_by_nine_tenths() -> None:
    """600 W s from a bare tube: guide number 24 m; the doubt of the line is 0.9 stop."""
    bare = ask(guide_number=None, energy_ws=600, modifier="bare tube", flash_distance_mm="1 m", paper_ei=100, aperture_f=24, aperture_scale="exact")
    assert bare.paper_guide.value == pytest.approx(24, abs=0.5)
    assert line(bare, "stored").doubt == 0.9
    assert "flash-by-energy" in notes(bare)
    reflector = ask(guide_number=None, energy_ws=600, flash_distance_mm="1 m", paper_ei=100, aperture_f=24, aperture_scale="exact")
    assert bare.flash_stops.value - reflector.flash_stops.value == pytest.approx(2)


def test_bellows_mirror_and_filter_count_for_flash_too() -> None:
    """M = 1/3: 0.83 stop, printed table of the bellows."""
    near = ask(magnification_factor=1 / 3, pupil_factor=1)
    assert near.flash_stops.value - ask().flash_stops.value == pytest.approx(0.83, abs=0.005)
    assert ask(filter_factor=4).flash_stops.value - ask().flash_stops.value == pytest.approx(2)
    assert ask(turned="mirror or prism", mirror_stops=0.3).flash_stops.value - ask().flash_stops.value == pytest.approx(0.3)


def test_two_equal_heads_are_one_stop() -> None:
    one, two = ask(), ask(heads="45 2m")
    assert one.flash_stops.value - two.flash_stops.value == pytest.approx(1)
    assert line(two, "further head").amount == pytest.approx(-1)
    assert line(two, "Guide number").doubt == pytest.approx(line(one, "Guide number").doubt / 2)
    assert "heads-overlap" in notes(two)
    assert two.doubt_stops.value < one.doubt_stops.value


def test_a_modifier_as_practice_and_as_measured() -> None:
    usual, measured = ask(modifier="umbrella"), ask(modifier="umbrella", modifier_stops=1.5)
    assert usual.flash_stops.value == measured.flash_stops.value == pytest.approx(ask().flash_stops.value + 1.5)
    assert line(usual, "Modifier").rests == "trade"
    assert line(measured, "Modifier").doubt < line(usual, "Modifier").doubt
    assert usual.paper_guide.value == pytest.approx(ask().paper_guide.value / 2**0.75), "a guide number that is one and a half stops weaker"


def test_light_that_is_there_takes_its_share() -> None:
    """A fifth by daylight, four fifths by flash; by a reading, too: EV 10 at f/8 and EI 3 needs 64/1024 x 100/3 = 2.08 s."""
    alone, mixed = ask(), ask(open_s=2, exposure_s=10)
    assert mixed.flashes.value == pytest.approx(0.8 * alone.flashes.value)
    assert mixed.daylight_percent.value == pytest.approx(20)
    assert line(mixed, "light that is there").amount == pytest.approx(log2(0.8))
    read = ask(open_s=1, reading_ev=10)
    assert read.daylight_percent.value == pytest.approx(100 / (64 / 1024 * 100 / 3))
    assert ask(open_s=20, exposure_s=10).set_flashes.value == 0
    assert "daylight-enough" in notes(ask(open_s=20, exposure_s=10))
    nearly = ask(open_s=9.99, exposure_s=10)
    assert 0 < nearly.flashes.value < 0.01
    assert (nearly.set_flashes.value, notes(nearly)[1]) == (0, "daylight-enough")
    assert nearly.set_off_stops.value == pytest.approx(log2(0.999))


def test_the_aperture_for_one_flash_is_as_unsure_as_the_parts_that_flash_and_daylight_have_in_it() -> None:
    """Half by daylight, and one flash more of the 4.21 that are needed: a third of the light is the flash's, and of its doubt so much counts."""

    def doubt(answer: Any) -> float:
        return log2(answer.one_flash_f.high / answer.one_flash_f.low) / 1.28155

    alone, mixed = ask(), ask(open_s=5, exposure_s=10)
    paper = hypot(*(one.doubt for one in alone.ledger if one.what.startswith(("The paper's EI", "Aperture", "One sheet"))))
    part = (1 / 4.2148) / (0.5 + 1 / 4.2148)
    assert doubt(mixed) == pytest.approx(hypot(part * sqrt(doubt(alone) ** 2 - paper**2), paper, (1 - part) * 0.2), abs=0.02)
    assert doubt(mixed) < doubt(alone)


def test_the_light_that_is_there_has_its_colour() -> None:
    """A tungsten lamp gives blue-sensitive paper a stop and more less than the meter tells: a smaller share."""
    day, lamp = (ask(open_s=0.5, reading_ev=10, sensitivity="blue", light_class=one) for one in ("direct sun", "tungsten lamp"))
    assert lamp.daylight_percent.value < 0.5 * day.daylight_percent.value
    assert [one.amount for one in lamp.ledger if one.what.startswith("Flash:")] == [one.amount for one in day.ledger if one.what.startswith("Flash:")]


def test_any_way_to_tell_a_filter_counts_for_flash() -> None:
    plain = ask().flash_stops.value
    assert ask(filter_in_stops=2).flash_stops.value - plain == pytest.approx(2)
    assert ask(filter_by_density=0.3).flash_stops.value - plain == pytest.approx(1, abs=0.005)


@given(st.floats(0.01, 40))
@settings(deadline=None, max_examples=60)
def test_what_is_told_moves_without_a_jump(open_s: float) -> None:
    one, next_to_it = ask(open_s=open_s, exposure_s=10), ask(open_s=open_s * 1.0001, exposure_s=10)
    for answer in (one, next_to_it):
        assert answer.flashes.low <= answer.flashes.value <= answer.flashes.high
    for end in ("low", "value", "high"):
        assert getattr(next_to_it.flashes, end) == pytest.approx(getattr(one.flashes, end), abs=0.05)


@pytest.mark.parametrize("open_s", [None, 3, 7])
def test_limits_hold_eight_of_ten(open_s: float | None) -> None:
    """Truth drawn from the doubts of the lines, counted: what is needed less what is there, over what a flash gives."""
    answer, draw = ask(**({"open_s": open_s, "exposure_s": 10} if open_s else {})), Random(7)
    paper = [one.doubt for one in answer.ledger if one.what.startswith(("The paper's EI", "Aperture", "One sheet"))]
    flash = [one.doubt for one in answer.ledger if one.doubt not in paper and "light that is there" not in one.what]
    alone, there = 4.2148, (open_s or 0) / 10
    above = below = 0
    for _ in range(4000):
        need = 2 ** draw.gauss(0, sqrt(sum(one**2 for one in paper)))
        light = there * 2 ** draw.gauss(0, 0.2)
        needed = max(0.0, alone * (need - light)) * 2 ** draw.gauss(0, sqrt(sum(one**2 for one in flash)))
        above, below = above + (needed > answer.flashes.high), below + (needed < answer.flashes.low)
    assert above / 4000 == pytest.approx(0.1, abs=0.03)
    assert below / 4000 == (0 if answer.flashes.low == 0 else pytest.approx(0.1, abs=0.04))


def test_apertures_for_so_many_flashes() -> None:
    """A stop from one number to the next, as far as lenses for sheets open: f/3.9 for one flash is left out, f/5.5 for two is not."""
    answer = ask()
    assert answer.one_flash_f.value == pytest.approx(3.9, abs=0.01)
    assert answer.so_many_flashes == (2, 4, 8, 16)
    assert answer.so_many_f[0] == pytest.approx(answer.one_flash_f.value * sqrt(2))
    assert [2 * log2(b / a) for a, b in pairwise(answer.so_many_f)] == pytest.approx([1, 1, 1])
    again = ask(aperture_f=answer.so_many_f[1], aperture_scale="exact")
    assert again.flashes.value == pytest.approx(4)
    mixed = ask(open_s=2, exposure_s=10)
    two = dict(zip(mixed.so_many_flashes, mixed.so_many_f, strict=True))[2]
    there = ask(aperture_f=two, aperture_scale="exact", open_s=2, exposure_s=10 * (two / 8) ** 2)
    assert there.flashes.value == pytest.approx(2)
    assert ask(paper_ei=0.01).so_many_f == ()


def test_a_whole_number_of_flashes() -> None:
    much = ask(paper_ei=100)
    assert much.set_flashes.value == 1
    assert much.set_off_stops.value == pytest.approx(-much.flash_stops.value)
    assert "flash-too-much" in notes(much)
    assert "flash-too-much-read" in notes(ask(paper_ei=1000, guide_number=2000))
    farther = float(next(one.sentence for one in much.notes if one.note.value == "flash-too-much").split("flash to ")[1].split(" m")[0])
    assert ask(paper_ei=100, flash_distance_mm=farther * 1000).flashes.value == pytest.approx(1, abs=0.05)
    between = ask(aperture_f=4.7, aperture_scale="exact")
    assert between.set_flashes.value in {1, 2}
    assert "flash-whole" in notes(between)


def test_cautions_come_first() -> None:
    assert notes(ask())[:2] == ["flash-eyes", "flash-series"]
    assert notes(ask(flash_distance_mm="0.5 m", paper_ei=200))[:2] == ["flash-eyes", "flash-near"]
    assert "flash-many" in notes(ask(aperture_f="f/11"))
    assert "flash-series" not in notes(ask(paper_ei=50))


def test_a_flash_whose_place_nobody_said() -> None:
    """As far as the lens, and a stop of doubt."""
    told = {key: value for key, value in GUIDE.items() if key != "flash_distance_mm"}
    at_lens = find("exposure.flash").ask({**told, "paper_ei": 3, "aperture_f": "f/8", "subject_mm": 2000})
    assert at_lens.flashes.value == pytest.approx(ask().flashes.value)
    assert line(at_lens, " away").doubt == 1
    assert "as far as the lens" in at_lens.notes[-1].sentence


def test_own_sheets_under_this_flash() -> None:
    own = ask(short_flash_stops=0.4, flash_exponent_factor=0.95)
    full = ask().flash_stops.value + 0.4
    assert own.flash_stops.value == pytest.approx(full / 0.95)
    assert line(own, "short and bright").rests == "own"
    assert not any("colour" in one.what for one in own.ledger)
    assert ask(sensitivity="blue").flash_stops.value == pytest.approx(ask().flash_stops.value - 0.15, abs=0.005)


def test_what_was_given_becomes_an_index() -> None:
    """As many flashes as the answer asks for amount to the EI that was asked with; one stop less to twice that EI."""
    for extra in ({}, {"open_s": 2, "exposure_s": 10}):
        question = FlashQuestion.model_validate({**GUIDE, "paper_ei": 3, "aperture_f": "f/8", **extra})
        needed = ask(**extra).flashes.value
        assert index_of_flashes(question, needed).amount_stops == pytest.approx(log2(3))
    question = FlashQuestion.model_validate({**GUIDE, "paper_ei": 3, "aperture_f": "f/8"})
    half = index_of_flashes(question, ask().flashes.value / 2)
    assert half.amount_stops == pytest.approx(log2(6))
    assert 0 < half.doubt_stops < ask().doubt_stops.value


def test_two_ways_that_disagree_are_said() -> None:
    assert "routes-disagree" in notes(ask(flash_meter_f="f/8", flash_meter_ei=100))
    assert "routes-disagree" not in notes(ask(flash_meter_f="f/22", flash_meter_ei=100))


@pytest.mark.parametrize(
    ("told", "fields"),
    [
        ({"guide_unit": None, "guide_ei": None}, {"guide_unit", "guide_ei"}),
        ({"guide_number": None}, {"flash_meter_f"}),
        ({"flash_meter_f": "f/8"}, {"flash_meter_ei"}),
        ({"heads": "guide_number\n45"}, {"heads"}),
        ({"heads": "flash_distance_mm\n2m"}, {"heads"}),
        ({"heads": "flash_meter_f\n8"}, {"heads"}),
        ({"heads": "guide_number,energy_ws,flash_distance_mm\n45,600,2m"}, {"heads"}),
        ({"open_s": 4}, {"reading_ev"}),
        ({"guide_number": 0, "flash_distance_mm": "far"}, {"guide_number", "flash_distance_mm"}),
        ({"guide_number": "45 m"}, {"guide_number"}),
    ],
)
def test_told_by_half_is_refused_in_words(told: dict[str, object], fields: set[str]) -> None:
    with pytest.raises(BadQuestion) as caught:
        ask(**told)
    assert {fault.field for fault in caught.value.faults} == fields
    assert all(fault.problem[-1] in ".?" for fault in caught.value.faults)


def test_where_only_the_light_that_is_there_is_unsure() -> None:
    """By hand: of one flash's need 0.7 is there, give or take 0.2 stop."""
    line_of_flash = Entry("flash", Stops(1.0), "", "judgement")
    found = Sum((line_of_flash,), (), (), (), 0.7, 0.2, 1.0).needed()
    reach = 2 ** (1.2815515655446004 * 0.2)
    assert (found.low, found.value, found.high) == pytest.approx((2 * (1 - 0.7 * reach), 2 * 0.3, 2 * (1 - 0.7 / reach)))


def test_the_doubt_of_what_was_given_is_shared_by_its_lights() -> None:
    """A fifth by daylight, read to 0.2 stop, four fifths by flash; aperture and bellows count for both."""
    question = FlashQuestion.model_validate({**GUIDE, "paper_ei": 3, "aperture_f": "f/8", "open_s": 2, "exposure_s": 10})
    answer = ask(open_s=2, exposure_s=10)
    shared = [one.doubt for one in answer.ledger if one.what.startswith(("Magnification", "No filter", "Aperture"))]
    others = ("The paper's EI", "One sheet", "Magnification", "No filter", "Aperture", "2\N{NO-BREAK SPACE}s")
    flash = [one.doubt for one in answer.ledger if not one.what.startswith(others)]
    whole = sqrt(sum(one**2 for one in shared) + 0.8**2 * sum(one**2 for one in flash) + (0.2 * 0.2) ** 2)
    assert index_of_flashes(question, answer.flashes.value).doubt_stops == pytest.approx(whole)


def test_the_aperture_and_the_guide_number_carry_half_the_doubt() -> None:
    """Light goes with the square of both."""
    answer = ask(paper_ei_sd_stops=0.5)
    stops = [2 * log2(one.high / one.low) for one in (answer.one_flash_f, answer.paper_guide)]
    assert stops[0] == pytest.approx(log2(answer.flashes.high / answer.flashes.low))
    assert stops[1] == pytest.approx(2 * 1.2815515655446004 * sqrt(0.4**2 + 0.5**2))


def test_what_own_sheets_learnt_of_short_flashes_keeps_its_doubt_and_says_what_it_rests_on() -> None:
    learnt = line(ask(short_flash_stops=0.4, short_flash_sd_stops=0.27, short_flash_rests_on="2 own sheets in this light"), "short and bright")
    assert (learnt.amount, learnt.doubt, learnt.source) == (0.4, 0.27, "your own sheets: 2 own sheets in this light")
    assert line(ask(short_flash_stops=0.4), "short and bright").doubt == 0.15


def test_a_coloured_filter_is_reckoned_in_the_light_of_the_flash() -> None:
    """A yellow filter: what it takes of a flash does not hang on the lamp that is there besides."""
    yellow = "400 1\n470 5\n500 60\n550 88\n600 90"
    asked: dict[str, object] = {"filter_kind": "coloured, by its spectrum", "filter_passes": yellow, "sensitivity": "ortho"}
    by_day, by_lamp = (ask(**asked, light_class=light) for light in ("north window", "tungsten lamp"))
    assert by_day.flash_stops.value == by_lamp.flash_stops.value
    assert by_day.flash_stops.value - ask(sensitivity="ortho").flash_stops.value > 0.3
