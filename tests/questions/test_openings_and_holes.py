"""Several openings as one exposure, and holes for a box camera or a pinhole."""

from math import log2
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.asking.operation import Estimate
from silverwright.errors import BadQuestion
from silverwright.questions.box import BOX, BoxAnswer
from silverwright.questions.ledger import LEDGER
from silverwright.questions.opening import OPENING, OpeningAnswer
from silverwright.questions.shutter import SHUTTER


def opening(**given_: Any) -> OpeningAnswer:
    return OPENING.ask(given_)


def box(**given_: Any) -> BoxAnswer:
    return BOX.ask(given_)


def value(estimate: Estimate | None) -> float:
    assert estimate is not None
    assert estimate.value is not None
    return estimate.value


def rows(times: list[float]) -> list[dict[str, float]]:
    return [{"opening_s": one} for one in times]


@given(st.lists(st.floats(1, 120), min_size=1, max_size=6), st.floats(10, 800))
def test_given_and_left_make_the_time_that_is_needed(times: list[float], exposure_s: float) -> None:
    """At one aperture nothing but seconds counts: what is left is the rest, or nothing."""
    answer = opening(aperture_f="f/22", openings=rows(times), exposure_s=exposure_s)
    assert value(answer.left_s) == pytest.approx(max(0.0, exposure_s - sum(times)), rel=1e-6, abs=1e-6)
    assert value(answer.equals_s) == pytest.approx(sum(times), rel=1e-6)
    assert (value(answer.short_stops) > 0) == (exposure_s > sum(times)) or abs(exposure_s - sum(times)) < 1e-6


def test_the_rest_at_another_aperture_finishes_the_exposure() -> None:
    """10 s at f/16, then f/32 for the rest: asked again with both, nothing is missing."""
    first = opening(aperture_f="f/32", openings="10,f/16", exposure_s=97)
    left = value(first.left_s)
    both = opening(aperture_f="f/32", openings=[{"opening_s": 10, "opening_f": 16}, {"opening_s": left}], exposure_s=97)
    assert value(both.short_stops) == pytest.approx(0, abs=1e-6)
    assert value(both.left_s) == pytest.approx(0, abs=1e-6)


def test_a_quarter_of_the_light_needs_four_times_the_seconds() -> None:
    answer = opening(aperture_f="f/16", openings="opening_s,opening_f\n10,f/16\n40,f/32", reciprocity_model="none")
    assert value(answer.added_s) == pytest.approx(20)
    assert value(answer.equals_s) == pytest.approx(20)


def test_many_openings_are_less_sure_than_one() -> None:
    one, many = (opening(aperture_f="f/22", openings=rows(times)) for times in ([60.0], [10.0] * 6))
    assert one.equals_s is not None
    assert many.equals_s is not None
    assert (many.equals_s.high or 0) > (one.equals_s.high or 0)
    assert {note.note.value for note in many.notes} == {"openings-apart"}


def test_an_exposure_is_divided() -> None:
    answer = opening(aperture_f="f/32", exposure_s="4m", more_openings=8)
    assert value(answer.each_s) == 30
    assert "0.57" in answer.notes[0].sentence


def test_a_short_opening_is_what_the_shutter_gives() -> None:
    answer = opening(aperture_f="f/8", openings=rows([1 / 25] * 4), timed_by="shutter", measured_speeds="1/25 1/29", reciprocity_model="none")
    assert value(answer.added_s) == pytest.approx(4 / 29)


def test_what_a_hand_cannot_divide() -> None:
    fine = opening(aperture_f="f/22", exposure_s=20, more_openings=100, timed_by="hand")
    assert fine.each_s is None
    assert "Take 40 at most" in fine.notes[0].sentence
    by_shutter = opening(aperture_f="f/22", exposure_s=0.5, more_openings=100)
    assert value(by_shutter.each_s) == pytest.approx(1 / 200)
    rounded = opening(aperture_f="f/22", exposure_s=10, more_openings=7)
    assert {note.note.value for note in rounded.notes} == {"openings-hand", "each-rounded"}


def test_too_much_was_given() -> None:
    answer = opening(aperture_f="f/22", openings="60", exposure_s=15)
    assert value(answer.short_stops) == pytest.approx(-1.85, abs=0.03)  # reciprocity takes a little off the two stops
    assert "1.9 stops more than needed" in answer.notes[0].sentence
    assert answer.each_s is None


@pytest.mark.parametrize(
    ("given_", "field"),
    [
        ({"aperture_f": 8}, "openings"),
        ({"openings": "20"}, "aperture_f"),
        ({"aperture_f": 8, "exposure_s": 10, "more_openings": 2.5}, "more_openings"),
    ],
)
def test_what_cannot_be_is_refused(given_: dict[str, Any], field: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        opening(**given_)
    assert [fault.field for fault in caught.value.faults] == [field]


def test_a_box_and_what_the_ledger_makes_of_it() -> None:
    """The effective aperture of the box is that behind the ledger's reading and bellows together."""
    given_ = {"camera_kind": "box camera", "focal_mm": 150, "extension_mm": 158, "stop_mm": 9, "pupil_factor": 1}
    answer = box(**given_)
    assert value(answer.hole_f) == pytest.approx(150 / 9)
    assert value(answer.effective_f) == pytest.approx(158 / 9)
    assert value(answer.box_focus_mm) == pytest.approx(1 / (1 / 150 - 1 / 158))
    ledger = LEDGER.ask({**given_, "reading_ev": 12, "meter_k": 12.5, "paper_ei": 100})
    assert ledger.total_stops.value is not None
    before_reciprocity = sum(line.amount for line in ledger.ledger if not line.what.startswith(("Light", "Reciprocity")))
    assert before_reciprocity == pytest.approx(2 * log2(158 / 9) - 12, abs=1e-9)


def test_a_box_shorter_than_its_focal_length() -> None:
    answer = box(camera_kind="box camera", focal_mm=150, extension_mm=140)
    assert {note.note.value for note in answer.notes} == {"box-too-short"}
    assert answer.box_focus_mm == Estimate(low=None)


def test_holes_of_the_full_stops_halve_their_area() -> None:
    answer = box(camera_kind="box camera", focal_mm=150)
    assert all(one / other == pytest.approx(2**0.5) for one, other in zip(answer.hole_mm, answer.hole_mm[1:], strict=False))
    assert dict(zip(answer.mark_f, answer.hole_mm, strict=True))[8] == pytest.approx(150 / 8)


def test_a_stop_to_drill_gives_the_aperture_back() -> None:
    drill = value(box(camera_kind="box camera", focal_mm=150, wanted_f=16).drill_mm)
    assert value(box(camera_kind="box camera", focal_mm=150, stop_mm=drill).hole_f) == pytest.approx(16)


def test_the_sharpest_pinhole() -> None:
    answer = box(camera_kind="pinhole", extension_mm=150, stop_mm=0.4)
    d = value(answer.sharpest_mm)
    assert d == pytest.approx((2.44 * 430e-6 * 150) ** 0.5, rel=1e-3)
    assert value(answer.sharpest_f) == pytest.approx(150 / d)
    assert {note.note.value for note in box(camera_kind="pinhole", extension_mm=150, stop_mm=20).notes} == {"no-pinhole"}


def test_a_hole_needs_its_distance() -> None:
    with pytest.raises(BadQuestion, match="way from the hole"):
        box(stop_mm=9)


def test_a_measured_shutter_mark_by_mark() -> None:
    answer = SHUTTER.ask({"measured_speeds": "1 1.08\n1 1.12\n1/25 1/29", "wanted_s": "1/30"})
    assert answer.mark_s == (1 / 25, 1.0)
    assert answer.true_s[1] == pytest.approx((1.08 * 1.12) ** 0.5)
    assert answer.releases == (1.0, 2.0)
    assert all(low < true < high for low, true, high in zip(answer.low_s, answer.true_s, answer.high_s, strict=True))
    assert value(answer.set_s) == 1 / 25
    apart = (log2(1.08 / 1.12) / 2) ** 2 * 2
    assert value(answer.release_sd_stops) == pytest.approx(((3 * 0.07**2 + apart) / 4) ** 0.5)
