"""Which way to the magnification counts, what disagrees, and telephoto lenses."""

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
