"""Can somebody hold still for so long? As people ask it."""

from math import log2
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from silverwright.catalogue import find
from silverwright.errors import BadQuestion


def ask(**told: object) -> Any:
    return find("exposure.sitter").ask({"magnification_factor": 0.1, "sharp_mm": 0.5, **told})


def notes(answer: Any) -> list[str]:
    return [one.note.value for one in answer.notes]


@pytest.mark.parametrize(("wanted_s", "missing"), [(8, 3.0), (4, 2.0)])
def test_so_long_stands_nobody(wanted_s: float, missing: float) -> None:
    """The binding check: m 0.1, half a millimetre, standing, nine of ten sideways: 0.98 s."""
    answer = ask(exposure_s=wanted_s)
    assert answer.longest_s.value == pytest.approx(0.98, abs=0.05)
    assert answer.missing_stops.value == pytest.approx(missing, abs=0.05)
    assert answer.verdict == "not sharp"
    assert sum(line.amount for line in answer.ledger) == pytest.approx(answer.missing_stops.value)
    assert len(answer.ways) >= 2
    assert notes(answer)[:2] == ["sitter-face-light", "sitter-moves"]


def test_half_of_all_sittings() -> None:
    answer = ask(exposure_s=4)
    assert answer.sideways_median_mm.value == pytest.approx(0.44, abs=0.005)
    assert answer.sideways_mm.value == pytest.approx(1.28, abs=0.005)
    assert ask(exposure_s=4, of_hundred=50).sideways_mm.value == pytest.approx(0.44, abs=0.005)
    assert answer.still_percent.value == pytest.approx(56, abs=2)


def test_shorter_than_anybody_measured() -> None:
    """A limit of 0.1 mm is reached before half a second: under 0.5 s, and what is missing is drawn on from the first two rows."""
    answer = ask(exposure_s=4, sharp_mm=0.1)
    assert (answer.longest_s.value, answer.longest_s.high) == (None, 0.5)
    assert "sitter-short" in notes(answer)
    assert "0.5\N{NO-BREAK SPACE}s" in next(one.sentence for one in answer.notes if one.note.value == "sitter-short")
    slope = 1 / 0.8651  # log2(5.1 / 2.8) for each doubling
    assert answer.missing_stops.value == pytest.approx(3 + slope * 1.4854, abs=0.01)  # 8 times 0.5 s, and log2(2.8 / 1.0) mm


def test_longer_than_anybody_measured() -> None:
    answer = ask(exposure_s=60, posture="head rest")
    assert "sitter-long" in notes(answer)
    assert (answer.longest_s.value, answer.longest_s.low) == (None, 30)
    assert answer.verdict.startswith("sharp")
    assert answer.ways == ()


@given(st.floats(0.005, 4), st.sampled_from(["standing", "seated", "head rest"]), st.floats(0.01, 2))
@settings(deadline=None, max_examples=60)
def test_answers_move_without_a_jump_and_hold_their_point(sharp_mm: float, posture: str, magnification: float) -> None:
    one, near = (
        ask(exposure_s=3, sharp_mm=sharp_mm * times, posture=posture, magnification_factor=magnification, aperture_f="f/8") for times in (1, 1.0001)
    )
    for name in ("missing_stops", "room_stops", "sideways_mm", "fore_aft_mm", "fore_aft_f"):
        told, other = getattr(one, name), getattr(near, name)
        if told is None or other is None:
            continue
        assert told.low <= told.value <= told.high
        assert other.value == pytest.approx(told.value, rel=1e-3, abs=1e-3)


def test_seated_and_held_stay_longer_and_are_less_sure() -> None:
    standing, seated, held = (ask(exposure_s=4, posture=one) for one in ("standing", "seated", "head rest"))
    assert standing.missing_stops.value > seated.missing_stops.value > held.missing_stops.value == 0
    assert [one.ledger[-1].rests for one in (standing, seated, held)] == ["judgement"] * 3
    assert standing.ledger[-1].doubt < seated.ledger[-1].doubt
    assert any(way.startswith("Seated") for way in standing.ways)
    assert not any(way.startswith("Seated") for way in seated.ways)


def test_a_head_rest_agrees_with_what_dental_scans_tell() -> None:
    """206 examinations: 77.7 of 100 moved half a millimetre or more, in a scan of about a quarter of a minute."""
    still = ask(exposure_s=15, posture="head rest", magnification_factor=1, sharp_mm=0.5)
    assert 100 - still.still_percent.value == pytest.approx(77.7, abs=8)


def test_own_sheets_replace_our_judgement() -> None:
    ours, theirs = ask(exposure_s=4, posture="seated"), ask(exposure_s=4, posture="seated", own_sittings="4 0.1\n4 0.12\n8 0.15\n2 0.06")
    assert theirs.missing_stops.value < ours.missing_stops.value
    assert theirs.sideways_mm.high / theirs.sideways_mm.low < ours.sideways_mm.high / ours.sideways_mm.low
    assert (theirs.ledger[-1].rests, theirs.ledger[-1].source) == ("own", "4 own sheets")
    assert "sitter-own" in notes(theirs)
    doubled = ask(exposure_s=4, posture="seated", own_sittings="sat_s,sat_blur_mm,magnification_factor\n4,0.2,0.2")
    once = ask(exposure_s=4, posture="seated", own_sittings="4 0.1")
    assert doubled.sideways_mm.value == pytest.approx(once.sideways_mm.value)


def test_each_way_out_is_enough_by_itself() -> None:
    """What a way names, asked again, misses nothing."""
    answer = ask(exposure_s=4, aperture_f="f/22", reading_ev=10, paper_ei=1.5)
    assert answer.ways[0].startswith("2.0 stops more light on the face, EV 12.0 instead of 10.0")
    assert answer.ways[1].startswith("f/11 instead of f/22.6")
    assert ask(exposure_s=4 / 2**answer.missing_stops.value).missing_stops.value == pytest.approx(0, abs=1e-9)
    smaller = float(next(way for way in answer.ways if way.startswith("Smaller")).split("magnification ")[1].split(" ")[0])
    assert ask(exposure_s=4, magnification_factor=smaller).missing_stops.value == pytest.approx(0, abs=0.1)
    softer = float(next(way for way in answer.ways if way.startswith("A softer")).split("blur of ")[1].split("\N{NO-BREAK SPACE}")[0])
    assert ask(exposure_s=4, sharp_mm=softer).missing_stops.value == pytest.approx(0, abs=0.1)


def test_the_flash_that_is_named_is_the_one_that_the_flash_question_asks_for() -> None:
    own: dict[str, object] = {"guide_number": 45, "guide_unit": "m", "guide_ei": 100, "flash_distance_mm": 2000, "aperture_f": "f/8", "paper_ei": 3}
    flashes = find("exposure.flash").ask({"magnification_factor": 0.1, **own}).flashes.value
    way = next(way for way in ask(exposure_s=8, **own).ways if "flashes of yours" in way)
    assert int(way.split(" ")[0]) == pytest.approx(flashes, abs=1)
    unknown = ask(exposure_s=8, aperture_f="f/5.6", paper_ei=10)
    guide = float(next(way for way in unknown.ways if way.startswith("One flash")).split("guide number ")[1].split(" ")[0])
    one = {"guide_number": guide, "guide_unit": "m", "guide_ei": 100, "flash_distance_mm": 2000, "aperture_f": "f/5.6", "paper_ei": 10}
    assert find("exposure.flash").ask({"magnification_factor": 0.1, **one}).flashes.value == pytest.approx(1, abs=0.05)


def test_no_flash_is_sent_near_a_face() -> None:
    close: dict[str, object] = {
        "guide_number": 45,
        "guide_unit": "m",
        "guide_ei": 100,
        "flash_distance_mm": 1000,
        "aperture_f": "f/8",
        "paper_ei": 0.8,
    }
    way = next(way for way in ask(exposure_s=8, **close).ways if "flashes of yours" in way)
    assert "m away" not in way


def test_to_and_fro_against_the_depth_of_field() -> None:
    """At a third of life size and f/4 a standing head leaves the depth of field; the aperture that is named holds it."""
    told: dict[str, object] = {"exposure_s": 2, "magnification_factor": 0.33, "sharp_mm": 0.1, "since_focus_s": 20, "pupil_factor": 1}
    wide = ask(**told, aperture_f=4, aperture_scale="exact")
    assert "sitter-depth" in notes(wide)
    assert wide.fore_aft_mm.value > 0.1
    held = ask(**told, aperture_f=wide.fore_aft_f.value, aperture_scale="exact")
    assert held.fore_aft_mm.value == pytest.approx(0.1)
    assert ask(**{**told, "since_focus_s": 0}, aperture_f=4, aperture_scale="exact").fore_aft_mm.value < wide.fore_aft_mm.value


@pytest.mark.parametrize(
    ("told", "fields"),
    [
        ({"magnification_factor": None, "exposure_s": 4}, {"magnification_factor"}),
        ({"magnification_factor": 0, "exposure_s": 4}, {"magnification_factor"}),
        ({}, {"exposure_s"}),
        ({"exposure_s": 4, "of_hundred": 30, "posture": "lying"}, {"of_hundred", "posture"}),
        ({"exposure_s": 4, "guide_number": 45}, {"guide_unit", "guide_ei"}),
    ],
)
def test_what_cannot_be_answered_is_refused_in_words(told: dict[str, object], fields: set[str]) -> None:
    with pytest.raises(BadQuestion) as caught:
        ask(**told)
    assert {fault.field for fault in caught.value.faults} == fields


def test_less_light_is_missing_than_time_where_long_exposures_cost_more() -> None:
    """1:37 is 75.6 s by the meter (our first guess, 3 (97/3)^(1/1.08)), 0.98 s is itself: 6.3 stops of light for 6.6 stops of time."""
    answer = ask(exposure_s=97, reading_ev=7)
    assert answer.missing_stops.value == pytest.approx(log2(97 / 0.977), abs=0.01)
    assert answer.ways[0].startswith("6.3 stops more light on the face, EV 13.3 instead of 7.0 (0.4 stop less")
    assert log2(3 * (97 / 3) ** (1 / 1.08) / 0.977) == pytest.approx(6.27, abs=0.01)
    assert ask(exposure_s=97, reading_ev=7, reciprocity_model="none").ways[0].startswith("6.6 stops more light on the face, EV 13.6")
