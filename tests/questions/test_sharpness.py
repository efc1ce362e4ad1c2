"""Sharp from where to where, and at which opening: against thick lenses, a search over openings, and what must hold."""

from math import hypot, log2
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.exposure.thick_lens import LENSES, ThickLens

from silverwright.asking.operation import Estimate
from silverwright.errors import BadQuestion
from silverwright.questions.bluefocus import BLUE_FOCUS, BlueFocusAnswer
from silverwright.questions.marks import mark_said
from silverwright.questions.sharpness import SHARPNESS, SharpnessAnswer

AIRY_OF_BLUE_MM = 2.44 * 430e-6


def sharpness(**given: Any) -> SharpnessAnswer:
    return SHARPNESS.ask(given)


def blue(**given: Any) -> BlueFocusAnswer:
    return BLUE_FOCUS.ask(given)


def codes(answer: SharpnessAnswer | BlueFocusAnswer) -> set[str]:
    return {one.note.value for one in answer.notes}


def value(estimate: Estimate | None) -> float:
    assert estimate is not None
    assert estimate.value is not None
    return estimate.value


@pytest.mark.parametrize("lens", LENSES.values(), ids=LENSES)
def test_what_is_said_to_be_sharp_is_sharp_behind_a_thick_lens(lens: ThickLens) -> None:
    """Traced blur at both limits, with the lens's own focal length, opening and pupils."""
    z = lens.front_plane - 5 * lens.focal
    answer = sharpness(
        focal_mm=lens.focal,
        subject_mm=5 * lens.focal,
        aperture_f=lens.f_number,
        aperture_scale="exact",
        pupil_factor=lens.pupil_magnification,
        sharp_mm=0.12,
        nearest_mm=4 * lens.focal,
        farthest_mm=6 * lens.focal,
    )
    sheet = lens.image_of(z)
    for limit in (answer.near_sharp_mm, answer.far_sharp_mm):
        assert lens.blur_of(lens.front_plane - value(limit), sheet) == pytest.approx(0.12, rel=0.03)
    assert value(answer.effective_f) == pytest.approx(lens.working_f_number(z), rel=5e-3)
    for end, times in ((answer.blur_near_mm, 4), (answer.blur_far_mm, 6)):
        traced = lens.blur_of(lens.front_plane - times * lens.focal, sheet)
        assert value(end) == pytest.approx(hypot(traced, AIRY_OF_BLUE_MM * lens.working_f_number(z)), rel=0.02)


@pytest.mark.parametrize("lens", LENSES.values(), ids=LENSES)
def test_the_way_on_the_rail_is_that_of_a_thick_lens(lens: ThickLens) -> None:
    near, far = 4 * lens.focal, 7 * lens.focal
    answer = sharpness(focal_mm=lens.focal, magnification_factor=0.2, pupil_factor=lens.pupil_magnification, nearest_mm=near, farthest_mm=far)
    traced = lens.image_of(lens.front_plane - near) - lens.image_of(lens.front_plane - far)
    assert value(answer.spread_mm) == pytest.approx(traced, rel=1e-3)
    sheet = lens.image_of(lens.front_plane - value(answer.focus_at_mm))
    assert lens.blur_of(lens.front_plane - near, sheet) == pytest.approx(lens.blur_of(lens.front_plane - far, sheet), rel=0.03)


@given(st.floats(0.5, 30), st.floats(0, 0.5))
def test_no_opening_draws_both_ends_sharper(rail_mm: float, m: float) -> None:
    """A search over the openings of the lens, bellows and all."""
    answer = sharpness(focal_mm=210, magnification_factor=m, pupil_factor=1, focus_spread_mm=rail_mm)

    def drawn(f_number: float) -> float:
        effective = f_number * (1 + m)
        return hypot(rail_mm / 2 / effective, AIRY_OF_BLUE_MM * effective)

    best = value(answer.best_f)
    assert all(drawn(best * times) >= drawn(best) for times in (0.8, 0.9, 1.1, 1.25))
    assert value(answer.best_blur_mm) == pytest.approx(drawn(best), rel=1e-3)
    if answer.widest_f is not None:
        assert drawn(value(answer.widest_f)) == pytest.approx(0.1, rel=1e-3)
        assert value(answer.widest_f) <= best * 1.0001
    else:
        assert drawn(best) > 0.0999
        assert "not-all-sharp" in codes(answer)


def test_beyond_the_hyperfocal_distance_the_horizon_is_sharp() -> None:
    """H = F²/(N c) + F = 19.7 m at f/22 (truly 22.6) and 0.1 mm."""
    near_it = sharpness(focal_mm=210, subject_mm="15 m", aperture_f="f/22", pupil_factor=1)
    beyond = sharpness(focal_mm=210, subject_mm="25 m", aperture_f="f/22", pupil_factor=1)
    assert value(near_it.far_sharp_mm) > 50_000
    assert beyond.far_sharp_mm is None
    assert "horizon-sharp" in codes(beyond)
    nearly = sharpness(focal_mm=210, subject_mm="20 m", aperture_f="f/22", pupil_factor=1)
    assert nearly.far_sharp_mm is not None
    assert nearly.far_sharp_mm.value is None
    assert (nearly.far_sharp_mm.low or 0) > 50_000
    assert value(beyond.near_sharp_mm) == pytest.approx(11_000, rel=0.03)


@given(st.floats(0.01, 1), st.floats(5, 90), st.floats(0.05, 0.4))
def test_limits_hold_their_point(m: float, f_number: float, sharp_mm: float) -> None:
    answer = sharpness(
        focal_mm=210,
        magnification_factor=m,
        aperture_f=f_number,
        sharp_mm=sharp_mm,
        nearest_mm=900,
        focus_spread_mm=8,
        corner_mm=80,
        camera_kind="simple lens",
    )
    for name in SharpnessAnswer.model_fields:
        told = getattr(answer, name)
        if isinstance(told, Estimate) and told.value is not None:
            assert told.low is None or told.low <= told.value
            assert told.high is None or told.value <= told.high


@given(st.floats(0.02, 1), st.floats(1.00001, 1.001))
def test_depth_is_continuous_in_magnification(m: float, times: float) -> None:
    one, other = (value(sharpness(focal_mm=210, magnification_factor=x, aperture_f=32).near_sharp_mm) for x in (m, m * times))
    assert other == pytest.approx(one, rel=2 * (times - 1) + 1e-9)


def test_unknown_pupils_widen_and_say_by_how_much() -> None:
    given_ = {"focal_mm": 210, "magnification_factor": 0.5, "aperture_f": "f/22"}
    known, unknown = sharpness(**given_, pupil_factor=1), sharpness(**given_)
    assert known.effective_f is not None
    assert unknown.effective_f is not None
    assert (unknown.effective_f.high or 0) > (known.effective_f.high or 0)
    assert "not-given" in codes(unknown) - codes(known)


def test_movement_adds_as_squares() -> None:
    given_ = {"focal_mm": 210, "magnification_factor": 0.1, "aperture_f": "f/22", "pupil_factor": 1}
    still, moved = value(sharpness(**given_).blur_here_mm), value(sharpness(**given_, movement_mm=0.4).blur_here_mm)
    assert moved == pytest.approx(hypot(still, 0.4))
    assert "movement-blurs" in codes(sharpness(**given_, movement_mm=0.4, focus_spread_mm=3))


def test_ortho_paper_sees_longer_waves() -> None:
    blue_mm, ortho_mm = (
        value(sharpness(focal_mm=210, subject_mm=2000, aperture_f="f/45", sensitivity=one).diffraction_mm) for one in ("blue", "ortho")
    )
    assert ortho_mm / blue_mm == pytest.approx(490 / 430)


def test_a_single_glass_is_racked_in_for_blue() -> None:
    """A percent and a half of 180 mm at infinity, more by (1 + m)² nearer; moved for it, nothing is left."""
    far = sharpness(camera_kind="simple lens", focal_mm=180, magnification_factor=0, aperture_f="f/16")
    near = sharpness(camera_kind="simple lens", focal_mm=180, magnification_factor=0.5, aperture_f="f/16")
    assert value(far.move_back_mm) == pytest.approx(-0.0151 * 180, rel=0.01)
    assert value(near.move_back_mm) == pytest.approx(2.25 * value(far.move_back_mm))
    assert "move-for-blue" in codes(far)
    done = sharpness(camera_kind="simple lens", focal_mm=180, magnification_factor=0, aperture_f="f/16", moved_for_blue="yes")
    assert done.move_back_mm is None
    assert value(done.blur_here_mm) == pytest.approx(AIRY_OF_BLUE_MM * 16, rel=1e-3)
    assert value(far.blur_here_mm) == pytest.approx(hypot(AIRY_OF_BLUE_MM * 16, value(far.move_back_mm) / 16), rel=0.02)


def test_what_is_sharp_lies_nearer_when_the_back_of_a_single_glass_stays() -> None:
    given_ = {"camera_kind": "simple lens", "focal_mm": 180, "subject_mm": 2000, "aperture_f": "f/16", "pupil_factor": 1}
    stays, moved = sharpness(**given_), sharpness(**given_, moved_for_blue="yes")
    assert value(moved.near_sharp_mm) < 2000 < value(moved.far_sharp_mm)
    assert value(stays.far_sharp_mm) < 2000
    image = 1 / (1 / 180 - 1 / 2000)
    paper = 1 / (1 / (180 * (0.51872 / 0.52668)) - 1 / image)
    assert value(stays.near_sharp_mm) < paper < value(stays.far_sharp_mm)


def test_an_own_shift_wins() -> None:
    own = sharpness(camera_kind="simple lens", focal_mm=180, magnification_factor=0, aperture_f="f/16", blue_shift_percent=-0.5)
    assert value(own.move_back_mm) == pytest.approx(-0.9)


def test_a_pinhole_draws_alike() -> None:
    answer = sharpness(camera_kind="pinhole", extension_mm=150, stop_mm=0.4, nearest_mm=500, corner_mm=81)
    assert value(answer.blur_here_mm) == pytest.approx(hypot(0.4, AIRY_OF_BLUE_MM * 375), rel=1e-3)
    assert value(answer.blur_near_mm) > value(answer.blur_far_mm)
    assert value(answer.corner_stops) == pytest.approx(2 * log2(1 + (81 / 150) ** 2))
    assert codes(answer) == {"pinhole-alike"}


def test_rail_and_tape_that_disagree() -> None:
    assert "spreads-disagree" in codes(sharpness(focal_mm=210, subject_mm=1500, nearest_mm=1300, farthest_mm=1700, focus_spread_mm=30))
    assert "spreads-disagree" not in codes(sharpness(focal_mm=210, subject_mm=1500, nearest_mm=1300, farthest_mm=1700, focus_spread_mm=10))


@pytest.mark.parametrize("rail_mm", [0, 1e-300, 1e-9, 0.011])
def test_a_way_on_the_rail_that_nobody_can_see_is_answered(rail_mm: float) -> None:
    answer = sharpness(focal_mm=210, magnification_factor=0.1, focus_spread_mm=rail_mm)
    assert answer.spread_mm is not None
    assert answer.spread_mm.value == rail_mm
    assert (answer.best_f is None) is (rail_mm < 0.01)


@pytest.mark.parametrize(
    ("given_", "field", "words"),
    [
        ({}, "focal_mm", "Needed"),
        ({"focal_mm": 210, "nearest_mm": 200}, "nearest_mm", "no image of something as near as 200"),
        ({"focal_mm": 210, "nearest_mm": 900, "farthest_mm": 800}, "farthest_mm", "800\xa0mm, is nearer than the nearest, 900\xa0mm"),
        ({"focal_mm": 210, "farthest_mm": 800}, "nearest_mm", "And what is the nearest"),
        ({"camera_kind": "pinhole", "extension_mm": 150}, "stop_mm", "Needed"),
        ({"camera_kind": "pinhole", "stop_mm": 0.4}, "extension_mm", "the way from the pinhole"),
        ({"focal_mm": 150, "stop_mm": 9, "aperture_f": 8}, "aperture_f", "Leave one of them out"),
    ],
)
def test_what_cannot_be_is_refused(given_: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        sharpness(**given_)
    assert [(fault.field, words in fault.problem) for fault in caught.value.faults] == [(field, True)]


def test_the_slanted_ruler_finds_the_shift_of_a_lens() -> None:
    """Truth by the thin lens in two colours: 180 mm by eye, 177.3 mm for the paper, a ruler at 45 degrees."""
    focal_mm, paper_mm, u = 180.0, 177.3, 900.0
    image = 1 / (1 / focal_mm - 1 / u)
    sharpest = 1 / (1 / paper_mm - 1 / image)
    mark = 100 + (sharpest - u) / 0.5**0.5
    answer = blue(focal_mm=focal_mm, ruler_distance_mm=u, focused_mark_mm=100, sharpest_mark_mm=mark)
    assert value(answer.blue_shift_percent) == pytest.approx(-1.5, abs=1e-6)
    assert "shift-seen" in codes(answer)
    assert value(answer.slid_mm) == pytest.approx(sharpest - u)
    traced = 1 / (1 / paper_mm - 1 / u) - image
    assert value(answer.move_back_mm) == pytest.approx(traced, rel=0.05)


def test_a_small_shift_is_not_called_one() -> None:
    answer = blue(focal_mm=210, ruler_distance_mm=1000, focused_mark_mm=100, sharpest_mark_mm=97)
    assert codes(answer) == {"shift-not-seen"}


def test_a_ruler_behind_the_lens_is_refused() -> None:
    with pytest.raises(BadQuestion, match="grow away from it"):
        blue(focal_mm=180, ruler_distance_mm=300, focused_mark_mm=900, sharpest_mark_mm=100)
    with pytest.raises(BadQuestion, match="as near as that"):
        blue(focal_mm=180, ruler_distance_mm=170, focused_mark_mm=100, sharpest_mark_mm=100)


def test_what_is_in_focus_and_what_to_set_are_told() -> None:
    answer = sharpness(focal_mm=210, extension_mm=315, aperture_f="f/22", nearest_mm=590, farthest_mm=690, pupil_factor=1)
    assert value(answer.in_focus_mm) == pytest.approx(630)
    assert answer.best_mark == "f/64 and a third"  # f/71.9 is a third of a stop beyond f/64
    assert sharpness(focal_mm=210, aperture_f="f/22").in_focus_mm is None


@pytest.mark.parametrize(("f_number", "said"), [(8, "f/8"), (22.6, "f/22"), (71.9, "f/64 and a third"), (80, "f/64 and two thirds"), (88, "f/90")])
def test_openings_as_one_sets_them(f_number: float, said: str) -> None:
    assert mark_said(f_number) == said


def test_movement_alone_is_named_as_the_cause_and_no_tilt_is_advised() -> None:
    def told(moved_mm: float) -> set[str]:
        answer = sharpness(
            focal_mm=210, magnification_factor=0.1, aperture_f=11, nearest_mm=2200, farthest_mm=2450, movement_mm=moved_mm, sharp_mm=0.5
        )
        return {note.note.value for note in answer.notes}

    assert "movement-blurs" in told(1.77)
    assert "not-all-sharp" not in told(1.77)
    assert "movement-blurs" not in told(0.2)
