"""How long do I expose: the whole question against hand arithmetic, drawing from the stated doubts, and what a person may leave out."""

import re
import time
from math import hypot, log2, sqrt
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.api import ask
from silverwright.asking.operation import Line
from silverwright.errors import BadQuestion
from silverwright.notes import Note
from silverwright.questions.ledger import LEDGER, LedgerAnswer

Z80 = 1.2815515655446004
DIM: dict[str, Any] = {"reading_ev": 3, "aperture_f": "f/45", "paper_ei": 2}
AT_NOON: dict[str, Any] = {"light_class": "direct sun", "sensitivity": "blue"}
STILL_LIFE: dict[str, Any] = {
    **AT_NOON,
    "reading_ev": 10,
    "meter_k": 12.5,
    "focal_mm": 210,
    "extension_mm": 315,
    "aperture_f": "f/22",
    "paper_ei": 1.5,
}


def ledger(**given: Any) -> LedgerAnswer:
    return LEDGER.ask(given)


def doubts(lines: tuple[Line, ...]) -> float:
    return sqrt(sum(line.doubt**2 for line in lines))


def codes(answer: LedgerAnswer) -> set[str]:
    return {note.note.value for note in answer.notes}


def test_the_still_life() -> None:
    """By hand: 512/1024 x 100/1.5 = 33.3 s; (315/210)^2 = 2.25, 1.17 stops; 75 s to 3 x 25^1.08 = 97 s, 0.37 stop."""
    answer = ledger(**STILL_LIFE)
    assert answer.before_s.value == pytest.approx(512 / 1024 * 100 / 1.5)
    assert answer.bellows_stops.value == pytest.approx(1.17, abs=0.005)
    assert answer.reciprocity_stops.value == pytest.approx(0.37, abs=0.005)
    assert answer.time_s.value == pytest.approx(3 * 25**1.08)
    assert answer.settable_s.value == 97
    assert "mirror-image" in codes(answer)


def test_its_limits_from_the_lines() -> None:
    answer = ledger(**STILL_LIFE)
    amount, doubt = sum(line.amount for line in answer.ledger), doubts(answer.ledger)
    assert answer.total_stops.value == pytest.approx(amount)
    assert answer.doubt_stops.value == pytest.approx(doubt)
    assert answer.time_s.percent == 80
    assert (answer.time_s.low, answer.time_s.high) == pytest.approx((2 ** (amount - Z80 * doubt), 2 ** (amount + Z80 * doubt)))


def test_the_lines_in_order() -> None:
    what = [line.what.split(" ")[0] for line in ledger(**STILL_LIFE).ledger]
    assert what == ["Reading", "The", "Extension", "No", "Direct", "Reciprocity", "Aperture", "One"]


def drawn_inside(answer: LedgerAnswer, world: Random, ei_sd: float, pupil: float | None) -> bool:
    """One darkroom drawn from the stated doubts (no code shared with the ledger): does its right time lie within the limits?"""
    stops = -1.0 + world.gauss(0, 0.2) + log2(100 / 1.5) + world.gauss(0, ei_sd)
    m = 0.5 + world.gauss(0, 5 / 210)
    p = 2 ** world.gauss(0, 0.136 / 0.6931) if pupil is None else pupil
    stops += 2 * log2(1 + m / p) + world.gauss(0, 0.15)  # the lens, and the light's colour
    exponent = 0.0
    while exponent < 1:
        exponent = world.gauss(1.08, 0.08)
    metered = 2**stops
    needed = metered if metered <= 3 else 3 * (metered / 3) ** exponent
    right = needed * 2 ** (world.gauss(0, 0.1) + world.gauss(0, 0.22))
    assert answer.time_s.low is not None
    assert answer.time_s.high is not None
    return answer.time_s.low <= right <= answer.time_s.high


@pytest.mark.parametrize(("typed_sd", "ei_sd"), [(None, 0.5), (0.2, 0.2), (1.5, 1.5)])
@pytest.mark.parametrize("pupil", [None, 1.0])
def test_the_limits_hold_eight_of_ten(typed_sd: float | None, ei_sd: float, pupil: float | None) -> None:
    answer = ledger(**STILL_LIFE, paper_ei_sd_stops=typed_sd, pupil_factor=pupil)
    world = Random(11)
    inside = sum(drawn_inside(answer, world, ei_sd, pupil) for _ in range(4000))
    assert inside / 4000 == pytest.approx(0.8, abs=0.03)  # a standard error is 0.006; the prior of reciprocity is lopsided


@given(st.floats(-2, 18), st.floats(0.01, 3), st.floats(0.1, 100), st.floats(1, 2))
def test_more_light_never_lengthens(ev: float, more: float, ei: float, racked: float) -> None:
    scene = {"aperture_f": 22, "paper_ei": ei, "focal_mm": 210, "extension_mm": 210 * racked}
    dim, bright = ledger(reading_ev=ev, **scene), ledger(reading_ev=ev + more, **scene)
    assert dim.time_s.value is not None
    assert bright.time_s.value is not None
    assert bright.time_s.value < dim.time_s.value


@given(st.floats(0, 15), st.floats(0.1, 100))
def test_every_way_to_say_the_light_gives_one_time(ev: float, ei: float) -> None:
    common = {"aperture_f": "f/16", "paper_ei": ei, "magnification_factor": 0}
    by_ev = ledger(reading_ev=ev, meter_k=12.5, **common).time_s.value
    by_luminance = ledger(reading_cd_per_m2=12.5 * 2**ev / 100, **common).time_s.value
    by_light = ledger(reading_lx=330 * 2**ev / 100, incident_head="dome", **common).time_s.value
    by_flat = ledger(reading_lx=250 * 2**ev / 100, incident_head="flat", **common).time_s.value
    assert (by_luminance, by_light, by_flat) == pytest.approx((by_ev, by_ev, by_ev))


def test_the_dial_and_the_paper_are_two_lines() -> None:
    """1/8 s at f/8 with the meter at 100 is EV 9; at f/8 and EI 2 that is 50 times 1/8 s."""
    answer = ledger(dial_time_s="1/8", dial_aperture_f="f/8", dial_ei=100, aperture_f="f/8", paper_ei=2, magnification_factor=0)
    assert [line.amount for line in answer.ledger[:2]] == pytest.approx([-3, log2(50)])
    same = ledger(dial_time_s="1/8", dial_ei=100, aperture_f="f/8", paper_ei=2, magnification_factor=0)
    assert same.time_s == answer.time_s


def test_a_meter_set_to_its_lowest_index() -> None:
    """A dial that ends at EI 6: the line says 1.5 instead of 6, two stops."""
    answer = ledger(dial_time_s="8", dial_aperture_f="f/22", dial_ei=6, aperture_f="f/22", paper_ei=1.5, magnification_factor=0)
    assert answer.ledger[1].amount == pytest.approx(2)
    assert answer.ledger[1].what == "The paper's EI 1.5 instead of 6"
    assert answer.before_s.value == pytest.approx(32)


def test_another_meter_constant() -> None:
    """K 14 reads the same light 0.16 stop lower: the same EV means more light, less time."""
    one, other = (ledger(reading_ev=10, meter_k=k, aperture_f=22, paper_ei=1.5).before_s.value for k in (12.5, 14))
    assert one is not None
    assert other is not None
    assert log2(one / other) == pytest.approx(0.163, abs=0.001)


@pytest.mark.parametrize(
    ("left_out", "given"),
    [
        ("paper_ei", {}),
        ("extension_mm", {}),
        ("meter_k", {}),
        ("pupil_factor", {"pupil_factor": 1}),
        ("light_class", {}),
        ("sensitivity", {"light_class": "tungsten lamp"}),
        ("incident_head", {"reading_ev": None, "reading_lx": 640, "incident_head": "dome"}),
    ],
)
def test_what_is_left_out_widens_and_is_named(left_out: str, given: dict[str, Any]) -> None:
    full = {**STILL_LIFE, "pupil_factor": 1, **given}
    full = {name: value for name, value in full.items() if value is not None}
    known, less = ledger(**full), ledger(**{name: value for name, value in full.items() if name != left_out})
    assert known.doubt_stops.value is not None
    assert less.doubt_stops.value is not None
    assert less.doubt_stops.value > known.doubt_stops.value
    assert "not-given" in codes(less)
    assert "not-given" not in codes(known)
    assert f"±{less.doubt_stops.value:.2f}" in next(note.sentence for note in less.notes if note.note.value == "not-given")


def test_what_knowing_would_bring_is_what_it_brings() -> None:
    """Only the pupils are unknown: the note's second figure is the doubt of the ledger that knows them."""
    known = ledger(**STILL_LIFE, pupil_factor=1)
    note = next(note.sentence for note in ledger(**STILL_LIFE).notes if note.note.value == "not-given")
    assert f"about ±{known.doubt_stops.value:.2f}" in note


def test_an_unknown_paper() -> None:
    answer = ledger(reading_ev=10, aperture_f=22)
    assert "ei-unknown" in codes(answer)
    assert answer.ledger[1].doubt == 1.5
    assert answer.ledger[1].amount == pytest.approx(log2(100 / 2))
    assert answer.ledger[1].rests == "judgement"


def test_own_sheets_are_said() -> None:
    answer = ledger(**STILL_LIFE, ei_from="own sheets", paper_ei_sd_stops=0.2, ei_rests_on="1 step sheet, 2 verdicts")
    line = answer.ledger[1]
    assert (line.doubt, line.source, line.rests) == (0.2, "1 step sheet, 2 verdicts", "own")
    assert answer.ledger[0].doubt == 0.1


def test_a_negative_or_a_mirror_is_no_mirror_image() -> None:
    assert "mirror-image" not in codes(ledger(**STILL_LIFE, process="negative"))
    assert "mirror-image" not in codes(ledger(**STILL_LIFE, turned="mirror or prism"))


def test_two_readings_that_disagree() -> None:
    answer = ledger(**STILL_LIFE, reading_lx=640)
    note = next(note for note in answer.notes if note.note.value == "routes-disagree")
    assert note.sentence == "EV 10 and 640\xa0lx disagree by 2.4 stops. EV 10 is used; correct one of them."
    assert answer.time_s == ledger(**STILL_LIFE).time_s


def test_a_shutter_is_set_to_a_mark() -> None:
    answer = ledger(reading_ev=15, aperture_f=8, paper_ei=6, magnification_factor=0)
    assert answer.time_s.value == pytest.approx(64 / 2**15 * 100 / 6)
    assert answer.settable_s.value == pytest.approx(1 / 30)
    assert "shutter" in answer.ledger[6].what


def test_brackets() -> None:
    answers = [ledger(**STILL_LIFE, bracket_sheets=sheets) for sheets in ("1", "2", "3")]
    assert [len(answer.bracket_s) for answer in answers] == [1, 2, 3]
    assert answers[0].bracket_s == (97,)
    doubt = answers[1].doubt_stops.value
    assert doubt is not None
    assert answers[1].bracket_s == pytest.approx((97.03 * 2 ** (-0.6128 * doubt), 97.03 * 2 ** (0.6128 * doubt)), abs=0.6)
    one, two, three = answers[0].chance_percent
    assert 30 < one < two < three < 100
    assert answers[0].chance_percent == answers[2].chance_percent


def test_every_fault_at_once() -> None:
    with pytest.raises(BadQuestion) as caught:
        ledger(meter_k=3, extension_mm="long", own_points="60 10", bracket_sheets="7")
    faults = {fault.field: fault.problem for fault in caught.value.faults}
    assert set(faults) == {"reading_ev", "meter_k", "extension_mm", "own_points", "bracket_sheets", "aperture_f"}
    assert faults["reading_ev"].startswith("No reading yet. Give one")
    assert "other way round" in faults["own_points"]


def test_a_time_without_its_index() -> None:
    with pytest.raises(BadQuestion, match="the EI that it was set to"):
        ledger(dial_time_s=1, aperture_f=8)


def test_a_faulty_reading_is_one_fault() -> None:
    with pytest.raises(BadQuestion) as caught:
        ledger(reading_ev="dim", aperture_f=8)
    assert [fault.field for fault in caught.value.faults] == ["reading_ev"]


@given(
    st.fixed_dictionaries(
        {"aperture_f": st.floats(0.7, 512), "reading_ev": st.floats(-8, 24)},
        optional={
            "paper_ei": st.floats(0.01, 1000),
            "paper_ei_sd_stops": st.floats(0, 5),
            "reading_sd_stops": st.floats(0, 3),
            "meter_k": st.floats(10, 15),
            "focal_mm": st.floats(20, 2000),
            "extension_mm": st.floats(20, 5000),
            "image_size_mm": st.floats(0.1, 2000),
            "subject_size_mm": st.floats(0.1, 1e5),
            "magnification_factor": st.floats(0, 20),
            "pupil_factor": st.floats(0.3, 3),
            "ruler_sd_mm": st.floats(0, 100),
            "filter_factor": st.floats(1, 1e4),
            "own_points": st.lists(st.fixed_dictionaries({"metered_s": st.floats(1e-3, 1e5), "needed_s": st.floats(1e-3, 1e5)}), max_size=4),
            "reciprocity_model": st.sampled_from(["paper", "Schwarzschild 1900", "Covington 1999", "film maker 2017", "Gainer 2004", "none"]),
            "bracket_sheets": st.sampled_from(["1", "2", "3"]),
            "ei_from": st.sampled_from(["typed", "own sheets", "unknown"]),
        },
    )
)
def test_whatever_is_allowed_gets_an_answer(given: dict[str, Any]) -> None:
    """Anything within the bounds: an answer whose lines add up, or faults in words."""
    try:
        answer = LEDGER.ask(given)
    except BadQuestion as bad:
        assert all(fault.problem for fault in bad.faults)
        return
    low, value, high = answer.time_s.low, answer.time_s.value, answer.time_s.high
    assert low is not None
    assert high is not None
    assert value is not None
    assert 0 < low <= value <= high
    assert sum(line.amount for line in answer.ledger) == pytest.approx(log2(value), abs=1e-6)
    assert hypot(*(line.doubt for line in answer.ledger)) == pytest.approx(answer.doubt_stops.value, rel=1e-6)
    assert all(0 <= chance <= 100 for chance in answer.chance_percent)


def test_asked_by_name() -> None:
    assert ask("exposure.ledger", **STILL_LIFE) == ledger(**STILL_LIFE)


def test_quick_enough_to_follow_typing() -> None:
    """Under 2 ms warm; the best of many, because other work shares this computer."""
    ledger(**STILL_LIFE)
    spent = []
    for _ in range(30):
        start = time.perf_counter()
        ledger(**STILL_LIFE)
        spent.append(time.perf_counter() - start)
    assert min(spent) < 0.002


@given(st.floats(-2, 15), st.floats(0.5, 50), st.floats(0, 2), st.floats(1, 64))
def test_the_paper_gets_what_its_index_says(ev: float, ei: float, m: float, factor: float) -> None:
    """The camera equation, without exposure values: H = q L t / (N^2 (1 + m)^2 factor) is 8.125/EI once time is counted as it works."""
    answer = ledger(reading_ev=ev, meter_k=12.5, aperture_f=16, paper_ei=ei, magnification_factor=m, pupil_factor=1, filter_factor=factor)
    given_s = answer.time_s.value
    assert given_s is not None
    counted_s = given_s if given_s <= 3 else 3 * (given_s / 3) ** (1 / 1.08)
    luminance = 12.5 * 2**ev / 100
    assert 0.65 * luminance * counted_s / (16**2 * (1 + m) ** 2 * factor) == pytest.approx(8.125 / ei, rel=1e-9)


def test_a_learnt_index_is_said_in_three_digits() -> None:
    assert ledger(**{**STILL_LIFE, "paper_ei": 3.810218}).ledger[1].what == "The paper's EI 3.81 instead of 100"


@pytest.mark.parametrize(
    ("aperture", "scale", "said"),
    [("f/22", "marked", "at f/22 (truly f/22.6)"), ("f/8", "marked", "at f/8,"), ("f/22", "exact", "at f/22,"), ("f/6.8", "marked", "at f/6.8,")],
)
def test_the_true_aperture_is_said_where_it_differs(aperture: str, scale: str, said: str) -> None:
    assert said in ledger(reading_ev=10, aperture_f=aperture, aperture_scale=scale, paper_ei=3).ledger[0].what


def test_an_exposure_of_hours_says_what_else_becomes_the_limit() -> None:
    answer = ledger(**DIM)
    said = next(one.sentence for one in answer.notes if one.note is Note.HOURS)
    shorter = re.search(r"takes ([\d.]+) stops more light to come down to 10 minutes, as f/([\d.]+) lets through", said)
    assert shorter
    opened = ledger(**{**DIM, "aperture_f": shorter[2], "aperture_scale": "exact"})
    assert opened.time_s.value == pytest.approx(600, rel=0.03)  # the f-number is told in two digits
    brighter = ledger(**{**DIM, "reading_ev": 3 + float(shorter[1])})
    assert brighter.time_s.value == pytest.approx(600, rel=0.04)  # the stops in one decimal
    assert not any(one.note is Note.HOURS for one in opened.notes)


@pytest.mark.parametrize(
    "told", [{"reading_ev": 18, "aperture_f": "f/2.8", "paper_ei": 100}, {"reading_ev": 12, "aperture_f": "f/4", "timed_by": "hand"}]
)
def test_a_time_too_short_to_give_says_what_helps(told: dict[str, object]) -> None:
    """Asked again at the opening that is named, and behind the filter, it can be set or counted."""
    near: dict[str, object] = {"magnification_factor": 0, "paper_ei": 12, **told}
    said = next(one.sentence for one in ledger(**near).notes if one.note is Note.TOO_SHORT)
    found = re.search(r"gives ([\d.]+) stops? too much.*Close down to f/([\d.]+)", said.replace("\N{NO-BREAK SPACE}", " "))
    assert found
    for helps in ({"filter_in_stops": float(found[1])}, {"aperture_f": float(found[2]), "aperture_scale": "exact"}):
        again = ledger(**{**near, **helps})
        assert abs(log2((again.settable_s.value or 0) / (again.time_s.value or 1))) < 1 / 3
        assert not any(one.note is Note.TOO_SHORT for one in again.notes)
    assert not any(one.note is Note.TOO_SHORT for one in ledger(**{**near, "reading_ev": 8}).notes)


def test_no_opening_is_offered_that_no_lens_has() -> None:
    answer = ledger(**{**DIM, "reading_ev": -4, "aperture_f": "f/16"})
    said = next(one.sentence for one in answer.notes if one.note is Note.HOURS)
    assert "lets through" not in said
