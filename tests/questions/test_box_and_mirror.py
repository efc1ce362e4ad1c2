"""In the ledger: holes by their diameter, a mirror or prism, a measured shutter."""

from math import hypot, log2
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import BadQuestion
from silverwright.questions.ledger import LEDGER, LedgerAnswer
from silverwright.questions.stepsheet import STEPS

OUTSIDE = {"reading_ev": 10, "meter_k": 12.5, "paper_ei": 1.5, "light_class": "direct sun", "sensitivity": "blue", "reciprocity_model": "none"}


def ledger(**given: Any) -> LedgerAnswer:
    return LEDGER.ask({**OUTSIDE, **given})


def line(answer: LedgerAnswer, begins: str) -> Any:
    return next(one for one in answer.ledger if one.what.startswith(begins))


def test_a_pinhole_is_the_lens_that_has_its_f_number() -> None:
    """150 mm over 0.4 mm is f/375; a lens far away at f/375 needs as long."""
    hole = ledger(camera_kind="pinhole", extension_mm=150, stop_mm=0.4)
    lens = ledger(aperture_f=375, aperture_scale="exact", magnification_factor=0)
    assert hole.time_s.value == pytest.approx(lens.time_s.value)
    assert "a hole of 0.4" in hole.ledger[0].what
    assert hole.bellows_stops.value == 0


def test_a_box_by_its_depth_needs_no_focal_length() -> None:
    by_depth = ledger(camera_kind="box camera", extension_mm=158, stop_mm=9)
    by_focal = ledger(camera_kind="box camera", extension_mm=158, focal_mm=150, stop_mm=9, pupil_factor=1)
    assert by_depth.time_s.value == pytest.approx(by_focal.time_s.value)


def test_the_doubt_of_a_hole_is_twice_that_of_its_diameter() -> None:
    clock = line(ledger(camera_kind="pinhole", extension_mm=150, stop_mm=0.4, stop_sd_mm=0.02, ruler_sd_mm=0, timed_by="shutter"), "Aperture by")
    by_difference = 2 * log2(0.42 / 0.38) / 2
    assert clock.doubt == pytest.approx(hypot(by_difference, 0.2), rel=0.01)


def test_a_time_on_the_dial_may_belong_to_the_hole() -> None:
    answer = LEDGER.ask({"dial_time_s": "1", "dial_ei": 3, "camera_kind": "box camera", "focal_mm": 150, "stop_mm": 9, "paper_ei": 3})
    assert answer.before_s.value == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({}, "aperture_f", "Needed"),
        ({"camera_kind": "pinhole", "extension_mm": 150}, "stop_mm", "diameter of the pinhole"),
        ({"stop_mm": 9}, "focal_mm", "by its distance"),
        ({"stop_mm": 9, "focal_mm": 150, "aperture_f": "f/8"}, "aperture_f", "is f/16.7 here, not f/8: 2.1 stops apart"),
        ({"aperture_f": "f/8", "mirror_stops": 0.3}, "mirror_stops", "nothing turns the picture"),
        ({"aperture_f": "f/8", "measured_speeds": "1 0.01"}, "measured_speeds", "the other way round"),
        ({"aperture_f": "f/8", "measured_apertures": "f/8 26"}, "focal_mm", "by the focal length"),
        ({"aperture_f": "f/8", "focal_mm": 210, "measured_apertures": "f/8 3"}, "measured_apertures", "is f/70"),
    ],
)
def test_what_cannot_be_is_refused_with_both_sides(given: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        ledger(**given)
    assert {fault.field: words in fault.problem for fault in caught.value.faults} == {field: True}


def test_a_hole_and_an_aperture_that_agree() -> None:
    both = ledger(stop_mm=9.3, focal_mm=150, magnification_factor=0, aperture_f="f/16")
    assert both.time_s.value == pytest.approx(ledger(focal_mm=150, magnification_factor=0, aperture_f="f/16").time_s.value or 0)


def test_a_mirror_is_a_line_of_its_own() -> None:
    plain = ledger(aperture_f="f/8", magnification_factor=0)
    measured = ledger(aperture_f="f/8", magnification_factor=0, turned="mirror or prism", mirror_stops=0.25, mirror_sd_stops=0.02)
    guessed = ledger(aperture_f="f/8", magnification_factor=0, turned="mirror or prism")
    assert measured.total_stops.value == pytest.approx((plain.total_stops.value or 0) + 0.25)
    told, usual = line(measured, "Mirror"), line(guessed, "Mirror")
    assert (told.amount, told.doubt, told.rests) == (0.25, 0.02, "own")
    assert (usual.amount, usual.doubt, usual.rests) == (0.2, 0.1, "judgement")
    assert "mirror-image" in {one.note.value for one in plain.notes}
    assert "mirror-image" not in {one.note.value for one in measured.notes}
    assert any("what the mirror or prism takes" in one.sentence for one in guessed.notes)


SPEEDS = "1 1.1\n1 1.08\n1 1.12\n1/25 1/29\n1/25 1/28.5\n1/25 1/29.5"


def test_a_measured_shutter_is_set_by_what_it_gives() -> None:
    fast = {"reading_ev": 14, "paper_ei": 3, "aperture_f": "f/4", "magnification_factor": 0, "timed_by": "shutter"}
    plain, measured = ledger(**fast), ledger(**fast, measured_speeds=SPEEDS)
    assert plain.time_s.value == measured.time_s.value == pytest.approx(1 / 30.7, rel=0.01)
    assert plain.settable_s.value == pytest.approx(1 / 30)
    assert measured.settable_s.value == pytest.approx(1 / 25)
    assert line(measured, "Aperture").doubt < line(plain, "Aperture").doubt
    assert line(measured, "Aperture").what == "Aperture as marked, time by the measured shutter"


def test_a_measured_circle_is_the_aperture() -> None:
    """210 mm at f/22 with a circle of 8.6 mm is f/24.4: two tenths of a stop more time than engraved."""
    lens = {"focal_mm": 210, "magnification_factor": 0, "aperture_f": "f/22"}
    engraved, measured = ledger(**lens), ledger(**lens, measured_apertures="f/22 8.6\nf/8 26.2")
    assert (measured.total_stops.value or 0) - (engraved.total_stops.value or 0) == pytest.approx(2 * log2(210 / 8.6 / 2**4.5))
    assert "f/22 (truly f/24.4)" in measured.ledger[0].what
    told = line(measured, "Aperture measured at its pupil, time")
    by_ruler = 2 * log2((8.6 + 0.2) / (8.6 - 0.2)) / 2
    assert told.doubt == pytest.approx(hypot(by_ruler, hand_only(engraved)), rel=0.02)


def hand_only(answer: LedgerAnswer) -> float:
    """What the hand leaves of the line, without the engraving's tenth of a stop."""
    return float((line(answer, "Aperture").doubt ** 2 - 0.1**2) ** 0.5)


def test_a_hand_that_was_tried_is_surer() -> None:
    slow = {"aperture_f": "f/4", "magnification_factor": 0, "timed_by": "hand", "aperture_scale": "exact"}
    usual, tried = line(ledger(**slow), "Aperture"), line(ledger(**slow, hand_sd_s=0.05), "Aperture")
    assert tried.doubt < usual.doubt / 2
    assert "your own hand" in tried.source
    assert line(ledger(**slow, hand_sd_s=0), "Aperture").doubt == 0


def test_what_is_counted_does_not_ask_the_shutter() -> None:
    slow = {"aperture_f": "f/22", "magnification_factor": 0}
    assert ledger(**slow, measured_speeds=SPEEDS).model_dump() == ledger(**slow).model_dump()


@given(st.floats(0.1, 60), st.floats(1.0001, 1.01))
def test_the_time_is_continuous_in_the_diameter(stop_mm: float, times: float) -> None:
    one, other = (ledger(camera_kind="box camera", focal_mm=150, stop_mm=stop).total_stops.value or 0 for stop in (stop_mm, stop_mm * times))
    assert one - other == pytest.approx(2 * log2(times), abs=1e-9)


def test_a_step_sheet_knows_hole_and_mirror() -> None:
    """The same reading: a mirror that takes half the light lowers every log exposure by 0.30; a hole is the aperture that it makes."""
    strips = {"how": "timed strips", "strip_times_s": "4 8 16", "reading_ev": 10, "meter_k": 12.5, "magnification_factor": 0, "focal_mm": 150}
    plain = STEPS.ask({**strips, "aperture_f": 16, "aperture_scale": "exact"})
    mirrored = STEPS.ask({**strips, "aperture_f": 16, "aperture_scale": "exact", "turned": "mirror or prism", "mirror_stops": 1})
    hole = STEPS.ask({**strips, "stop_mm": 150 / 16})
    assert plain.exposure_log10[0] - mirrored.exposure_log10[0] == pytest.approx(0.30103, abs=1e-5)
    assert hole.exposure_log10 == pytest.approx(plain.exposure_log10)
