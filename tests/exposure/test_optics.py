"""Depth and diffraction by second routes: the usual formulas, a search, and what must hold for every lens."""

from math import hypot, log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.exposure.bellows import magnification_from_distance, magnification_from_ground_glass, magnification_from_infinity
from silverwright.exposure.focus import (
    blue_shift_mm,
    f_number_for_blur,
    focus_for_paper,
    magnification_for_paper,
    middle_magnification,
    shift_from_ruler,
    shift_of_one_glass,
)
from silverwright.exposure.optics import (
    added_blur_mm,
    best_f_number,
    defocus_mm,
    diffraction_mm,
    effective_f_number,
    falloff_stops,
    hyperfocal_mm,
    sharp_magnifications,
    subject_distance_mm,
)
from silverwright.records import Focus

M, P, F, N = st.floats(0.01, 3), st.floats(0.4, 2.5), st.floats(50, 500), st.floats(4, 90)
BLUE_MM = 430e-6


@given(F, N, M, P, st.floats(0.02, 0.3))
def test_the_blur_at_both_limits_is_the_one_that_was_asked_for(focal_mm: float, f_number: float, m: float, pupil: float, blur_mm: float) -> None:
    focus = Focus(focal_mm, f_number, m, pupil)
    if blur_mm * f_number > 0.9 * pupil * focal_mm:
        return
    near, far = sharp_magnifications(focus, blur_mm)
    assert far < m < near
    assert defocus_mm(focus, near) == pytest.approx(blur_mm, rel=1e-9)
    if far > 0:
        assert defocus_mm(focus, far) == pytest.approx(blur_mm, rel=1e-9)
    else:
        assert defocus_mm(focus, 0.0) <= blur_mm * (1 + 1e-9)


@given(F, N, st.floats(1.5, 60), st.floats(0.02, 0.3))
def test_equal_pupils_give_the_usual_near_and_far_limits(focal_mm: float, f_number: float, times: float, blur_mm: float) -> None:
    """Near = H u / (H + u - F), far = H u / (H - u + F), with H = F^2 / (N c)."""
    u, reach = focal_mm * times, focal_mm**2 / (f_number * blur_mm)
    if blur_mm * f_number > 0.9 * focal_mm:
        return
    near, far = sharp_magnifications(Focus(focal_mm, f_number, magnification_from_distance(u, focal_mm)), blur_mm)
    assert subject_distance_mm(near, focal_mm) == pytest.approx(reach * u / (reach + u - focal_mm), rel=1e-9)
    if reach - u + focal_mm > 1e-3:
        assert subject_distance_mm(far, focal_mm) == pytest.approx(reach * u / (reach - u + focal_mm), rel=1e-6)


@given(F, N, st.floats(0.2, 2), P)
def test_close_up_the_depth_is_twice_n_c_over_the_square_of_m(focal_mm: float, f_number: float, m: float, pupil: float) -> None:
    """Total = 2 N c (1 + m/P) / m^2, for a small blur."""
    focus, blur_mm = Focus(focal_mm, f_number, m, pupil), 1e-4
    near, far = (subject_distance_mm(one, focal_mm) for one in sharp_magnifications(focus, blur_mm))
    assert far - near == pytest.approx(2 * f_number * blur_mm * (1 + m / pupil) / m**2, rel=1e-2)


@given(F, N, st.floats(0.05, 0.3))
def test_at_the_hyperfocal_distance_the_horizon_is_just_sharp(focal_mm: float, f_number: float, blur_mm: float) -> None:
    h = hyperfocal_mm(focal_mm, f_number, blur_mm)
    focus = Focus(focal_mm, f_number, magnification_from_distance(h, focal_mm))
    assert defocus_mm(focus, 0.0) == pytest.approx(blur_mm, rel=1e-9)
    assert sharp_magnifications(Focus(focal_mm, f_number, magnification_from_distance(1.01 * h, focal_mm)), blur_mm)[1] == 0


@given(st.floats(0.1, 60))
def test_no_other_opening_is_sharper_at_the_ends(spread_mm: float) -> None:
    """A search over every opening, against the formula."""

    def blur(f_number: float) -> float:
        return hypot(spread_mm / 2 / f_number, diffraction_mm(f_number, BLUE_MM))

    best = best_f_number(spread_mm, BLUE_MM)
    assert min((blur(best * 2 ** (step / 200)), abs(step)) for step in range(-600, 601))[1] == 0
    assert blur(best * 2**0.25) < 1.1 * blur(best)  # half a stop


@given(st.floats(0.1, 60), st.floats(0.02, 0.5))
def test_the_widest_opening_that_is_sharp_enough(spread_mm: float, blur_mm: float) -> None:
    assert spread_mm / 2 / f_number_for_blur(spread_mm, blur_mm) == pytest.approx(blur_mm)


@given(M, M, P)
def test_near_and_far_are_equally_unsharp_between_them(one: float, other: float, pupil: float) -> None:
    m = middle_magnification(one, other, pupil)
    assert min(one, other) - 1e-9 <= m <= max(one, other) + 1e-9
    focus = Focus(200, 16, m, pupil)
    assert defocus_mm(focus, one) == pytest.approx(defocus_mm(focus, other), rel=1e-6, abs=1e-9)


def test_depth_on_the_rail_is_depth_in_the_scene() -> None:
    """Half the spread over the effective f-number is the blur that the cones give, for small spreads."""
    near, far = 0.26, 0.24
    m = middle_magnification(near, far, 0.8)
    spread_mm = 210 * (near - far)
    cones = defocus_mm(Focus(210, 22.6, m, 0.8), near)
    assert spread_mm / 2 / effective_f_number(22.6, m, 0.8) == pytest.approx(cones, rel=1e-2)


@given(st.floats(20, 2000), st.floats(4.001, 400))
def test_subject_to_ground_glass_is_the_sum_of_both_distances(focal_mm: float, times: float) -> None:
    m = magnification_from_ground_glass(focal_mm * times, focal_mm)
    assert 0 < m <= 1
    assert focal_mm * (1 + m) + focal_mm * (1 + 1 / m) == pytest.approx(focal_mm * times, rel=1e-9)


@given(st.floats(20, 2000), st.floats(0, 3), st.floats(-50, 50))
def test_from_infinity_on_it_does_not_matter_where_the_ruler_begins(focal_mm: float, m: float, begins_mm: float) -> None:
    extension = 100 + focal_mm * (1 + m) + begins_mm
    assert magnification_from_infinity(extension, 100 + focal_mm + begins_mm, focal_mm) == pytest.approx(m, abs=1e-9)


@given(st.floats(0.5, 1.5), st.floats(3, 20), st.floats(100, 300))
def test_the_ruler_gives_the_shift_back(percent: float, times: float, focal_mm: float) -> None:
    share, u = -percent / 100, focal_mm * times
    paper = focal_mm * (1 + share)
    image = 1 / (1 / focal_mm - 1 / u)
    sharpest = 1 / (1 / paper - 1 / image)
    assert shift_from_ruler(u, sharpest, focal_mm) == pytest.approx(share, rel=1e-6)
    moved = 1 / (1 / paper - 1 / u) - image
    assert blue_shift_mm(share, focal_mm, focal_mm / (u - focal_mm)) == pytest.approx(moved, rel=0.05)
    assert moved < 0


def test_crown_glass_is_a_percent_and_a_half_shorter_for_blue() -> None:
    assert shift_of_one_glass(1.51872, 1.52668) == pytest.approx(0.51872 / 0.52668 - 1)


@given(st.floats(0, 200), st.floats(60, 600))
def test_corners_only_lose(corner_mm: float, distance_mm: float) -> None:
    share = distance_mm**2 / (distance_mm**2 + corner_mm**2)
    assert falloff_stops(corner_mm, distance_mm) == pytest.approx(-2 * log2(share), abs=1e-9)


def test_blurs_add_in_quadrature() -> None:
    assert added_blur_mm([0.03, 0.04]) == pytest.approx(0.05)
    assert added_blur_mm([]) == 0


FOCUS = Focus(210, 22, 0.1)


@pytest.mark.parametrize(
    "call",
    [
        lambda: effective_f_number(0, 0.1),
        lambda: defocus_mm(FOCUS, -1),
        lambda: sharp_magnifications(FOCUS, 0),
        lambda: sharp_magnifications(Focus(210, 90, 0.1), 3),
        lambda: subject_distance_mm(0, 210),
        lambda: subject_distance_mm(1, 0),
        lambda: hyperfocal_mm(210, 22, 0),
        lambda: diffraction_mm(22, 0),
        lambda: best_f_number(0, BLUE_MM),
        lambda: falloff_stops(-1, 100),
        lambda: falloff_stops(1, 0),
        lambda: middle_magnification(-1, 0),
        lambda: middle_magnification(1, 0, 0),
        lambda: f_number_for_blur(-1, 0.1),
        lambda: f_number_for_blur(1, 0),
        lambda: blue_shift_mm(0.01, 0, 0.1),
        lambda: blue_shift_mm(0.01, 210, -0.1),
        lambda: shift_from_ruler(200, 1000, 210),
        lambda: shift_from_ruler(1000, 0, 210),
        lambda: shift_of_one_glass(1, 1.5),
        lambda: focus_for_paper(FOCUS, -1),
        lambda: magnification_for_paper(-1, 0),
        lambda: magnification_for_paper(20, 0.05),
        lambda: magnification_from_ground_glass(839, 210),
        lambda: magnification_from_ground_glass(839, 0),
        lambda: magnification_from_infinity(200, 210, 210),
        lambda: magnification_from_infinity(220, 210, 0),
    ],
)
def test_no_image_no_number(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
