"""Which way to the magnification counts, what disagrees, and telephoto lenses."""

from math import log2
from typing import Any

import pytest

from silverwright.errors import BadQuestion
from silverwright.questions.bellows import BELLOWS, BellowsAnswer


def bellows(**given: Any) -> BellowsAnswer:
    return BELLOWS.ask(given)


def codes(answer: BellowsAnswer) -> list[str]:
    return [note.note.value for note in answer.notes]


def test_all_ways_agree_on_one_lens() -> None:
    for way in ({"extension_mm": 315}, {"subject_mm": 630}, {"image_size_mm": 60, "subject_size_mm": 120}, {"magnification_factor": 0.5}):
        answer = bellows(focal_mm=210, pupil_factor=1, **way)
        assert answer.factor.value == pytest.approx(2.25)
        assert answer.magnification.value == pytest.approx(0.5)
        assert codes(answer) == []


def test_two_ways_that_disagree() -> None:
    answer = bellows(focal_mm=210, extension_mm=315, subject_mm="0.45 m")
    assert answer.factor.value == pytest.approx(2.25)
    note = next(note for note in answer.notes if note.note.value == "routes-disagree")
    assert "Extension 315\xa0mm on 210\xa0mm is used" in note.sentence
    assert "0.6 stop" in note.sentence


def test_two_ways_that_agree_say_nothing() -> None:
    assert "routes-disagree" not in codes(bellows(focal_mm=210, extension_mm=315, subject_mm=600))


def test_a_telephoto_lens_asks_for_the_magnification() -> None:
    alone = bellows(focal_mm=360, extension_mm=240)
    assert codes(alone) == ["short-extension"]
    assert alone.bellows_stops.value == 0
    with_size = bellows(focal_mm=360, extension_mm=240, magnification_factor=0.2, pupil_factor=0.6)
    assert codes(with_size) == ["short-extension"]
    assert with_size.factor.value == pytest.approx((1 + 0.2 / 0.6) ** 2)


def test_a_ruler_that_reads_a_little_short_means_infinity() -> None:
    answer = bellows(focal_mm=210, extension_mm=207)
    assert answer.bellows_stops.value == 0
    assert codes(answer) == ["at-infinity"]


def test_nothing_said_is_no_correction_with_a_doubt() -> None:
    answer = bellows(focal_mm=210)
    assert codes(answer) == ["extension-unknown"]
    assert answer.ledger[0].doubt == 0.3


def test_unknown_pupils_widen() -> None:
    known, unknown = bellows(focal_mm=210, extension_mm=315, pupil_factor=1), bellows(focal_mm=210, extension_mm=315)
    assert unknown.ledger[0].doubt > known.ledger[0].doubt
    assert "not-given" in codes(unknown)


def test_the_ruler_widens() -> None:
    fine, coarse = (bellows(focal_mm=210, extension_mm=315, pupil_factor=1, ruler_sd_mm=sd).ledger[0].doubt for sd in (1, 10))
    assert coarse == pytest.approx(10 * fine)


def test_the_aperture_that_the_paper_sees() -> None:
    answer = bellows(focal_mm=210, extension_mm=315, aperture_f="f/22")
    assert answer.effective_f.value == pytest.approx(22.627 * 1.5, abs=0.001)


def test_nearer_than_the_focal_length() -> None:
    with pytest.raises(BadQuestion, match="makes an image"):
        bellows(focal_mm=210, subject_mm=200)


def test_a_printed_ruler_in_the_scene() -> None:
    """200 mm that come out as 64 are m = 0.32, and the doubt is half a millimetre on the glass."""
    answer = bellows(target_mm=200, target_image_mm=64, pupil_factor=1)
    assert answer.magnification.value == pytest.approx(0.32)
    by_glass = log2((1 + 64.5 / 200) / (1 + 63.5 / 200))
    assert answer.ledger[0].doubt == pytest.approx(by_glass, rel=0.1)
    assert bellows(target_mm=200, target_image_mm=64, focal_mm=210, extension_mm=277, pupil_factor=1).ledger[0].what.startswith("Target")


def test_from_infinity_on_the_extension_holds_for_a_telephoto_lens() -> None:
    answer = bellows(camera_kind="telephoto lens", focal_mm=360, infinity_extension_mm=240, extension_mm=312, pupil_factor=0.6)
    assert codes(answer) == []
    assert answer.factor.value == pytest.approx((1 + 0.2 / 0.6) ** 2)
    ordinary = bellows(focal_mm=210, infinity_extension_mm=205, extension_mm=310, pupil_factor=1)
    assert ordinary.factor.value == pytest.approx(2.25)  # the board need not stand at the principal plane


def test_a_telephoto_lens_that_is_said_to_be_one() -> None:
    """Even where its extension is longer than its focal length, it says nothing by itself; its pupils are not taken as equal."""
    assert codes(bellows(camera_kind="telephoto lens", focal_mm=360, extension_mm=400)) == ["short-extension"]
    told = bellows(camera_kind="telephoto lens", magnification_factor=0.2)
    assert told.factor.value == pytest.approx((1 + 0.2 / 0.65) ** 2)
    assert "0.65 taken" in told.ledger[0].source


def test_a_focusing_scale_counts_from_the_ground_glass() -> None:
    """1.5 m from glass to subject with 150 mm: m + 1/m = 8."""
    answer = bellows(focal_mm=150, subject_mm="1.5 m", distance_from="ground glass", pupil_factor=1)
    m = answer.magnification.value
    assert m is not None
    assert m + 1 / m == pytest.approx(8)
    assert bellows(focal_mm=150, subject_mm=150 * (1 + 1 / m), pupil_factor=1).factor.value == pytest.approx(answer.factor.value)


def test_an_extension_without_a_focal_length_asks_for_it() -> None:
    for given in ({"extension_mm": 231}, {"subject_mm": 900}):
        answer = bellows(**given)
        assert codes(answer) == ["focal-unknown"]
        assert answer.ledger[0].doubt == 0.3
    assert bellows(focal_mm=210, extension_mm="23.1 cm").magnification.value == pytest.approx(0.1)


def test_near_life_size_two_magnifications_fit() -> None:
    """150 mm and 600 mm to 650 mm: the doubt stays a part of a stop, and from half life size on the other magnification is named."""
    at, near = (bellows(focal_mm=150, subject_mm=mm, distance_from="ground glass", pupil_factor=1) for mm in (600, 650))
    assert at.ledger[0].doubt < 0.6
    assert codes(at) == []
    assert codes(near) == ["two-fit"]
    assert near.magnification.value == pytest.approx(0.565, abs=0.005)
    assert "1.77 would fit as well" in near.notes[0].sentence


def test_a_pinhole_has_its_way_in_its_f_number() -> None:
    answer = bellows(camera_kind="pinhole", extension_mm=150, stop_mm=0.4)
    assert answer.bellows_stops.value == 0
    assert answer.effective_f.value == pytest.approx(375)
    assert bellows(camera_kind="pinhole", focal_mm=150, stop_mm=0.4).effective_f.value == pytest.approx(375)
    assert bellows(camera_kind="pinhole", focal_mm=150, subject_mm=100, extension_mm=150).bellows_stops.value == 0


def test_a_box_by_its_depth_and_its_stop_is_the_same_box_by_its_focal_length() -> None:
    """V/d against (F/d)(1 + m) with m = V/F - 1."""
    by_depth = bellows(camera_kind="box camera", extension_mm=158, stop_mm=9)
    by_focal = bellows(camera_kind="box camera", extension_mm=158, focal_mm=150, stop_mm=9, pupil_factor=1)
    assert by_depth.bellows_stops.value == 0
    assert by_depth.effective_f.value == pytest.approx(by_focal.effective_f.value)


def test_a_box_without_a_scale_is_focused_for_people() -> None:
    answer = bellows(camera_kind="box camera", focal_mm=150)
    assert answer.bellows_stops.value == pytest.approx(2 * log2(1.05), abs=1e-6)
    assert answer.ledger[0].rests == "judgement"
    assert answer.ledger[0].doubt < 0.3


def test_unknown_pupils_widen_as_much_as_pupils_differ() -> None:
    """0.8 to 1.25 at m = 0.2 is 0.43 to 0.64 stop: read as 90 % limits, and the interval holds both."""
    answer = bellows(magnification_factor=0.2)
    lacks = answer.ledger[0].doubt ** 2 - bellows(magnification_factor=0.2, pupil_factor=1).ledger[0].doubt ** 2
    half = (2 * log2(1 + 0.2 / 0.8) - 2 * log2(1 + 0.2 / 1.25)) / 2
    assert lacks**0.5 * 1.645 == pytest.approx(half, rel=0.03)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"focal_mm": 150, "subject_mm": 500, "distance_from": "ground glass"}, "never nearer than 600\xa0mm with a lens of 150\xa0mm"),
        ({"infinity_extension_mm": 300, "extension_mm": 280}, "280\xa0mm, is shorter than at infinity, 300\xa0mm"),
        ({"focal_mm": 210, "extension_mm": 23.1}, "Write 23.1 cm"),
        ({"target_image_mm": 64}, "How long is the target itself"),
        ({"target_mm": 200}, "target on the ground glass"),
        ({"image_size_mm": 64}, "how large is that thing itself"),
        ({"subject_size_mm": 64}, "How large is it on the ground glass"),
    ],
)
def test_what_cannot_be_is_refused_with_both_sides(given: dict[str, Any], words: str) -> None:
    with pytest.raises(BadQuestion, match=words):
        bellows(**given)


def test_every_fault_at_once() -> None:
    with pytest.raises(BadQuestion) as caught:
        bellows(focal_mm=210, subject_mm=200, target_mm=200, image_size_mm=3)
    assert {fault.field for fault in caught.value.faults} == {"subject_mm", "target_image_mm", "subject_size_mm"}
