"""The thin lens of the engine against thick lenses traced ray by ray."""

from math import inf

import pytest
from tests.exposure.thick_lens import LENSES, MENISCUS, SYMMETRICAL, TELEPHOTO, Surface, ThickLens, group

from silverwright.exposure.bellows import (
    bellows_factor,
    magnification_from_distance,
    magnification_from_extension,
    magnification_from_ground_glass,
    magnification_from_infinity,
)
from silverwright.exposure.focus import (
    blue_shift_mm,
    focus_for_paper,
    magnification_for_paper,
    middle_magnification,
    shift_from_ruler,
    shift_of_one_glass,
)
from silverwright.exposure.optics import defocus_mm, effective_f_number, falloff_stops, sharp_magnifications, subject_distance_mm
from silverwright.records import Focus

every_lens = pytest.mark.parametrize("lens", LENSES.values(), ids=LENSES)
every_distance = pytest.mark.parametrize("times", [1.7, 2.0, 3.0, 6.0, 20.0])


def setting(lens: ThickLens, z: float) -> Focus:
    return Focus(lens.focal, lens.f_number, lens.magnification_of(z), lens.pupil_magnification)


@every_lens
@every_distance
def test_magnification_by_every_way(lens: ThickLens, times: float) -> None:
    """Distances from the principal planes; the way over infinity needs no plane at all."""
    z = lens.front_plane - times * lens.focal
    traced, image = lens.magnification_of(z), lens.image_of(z)
    assert magnification_from_distance(times * lens.focal, lens.focal) == pytest.approx(traced, rel=1e-4)
    assert magnification_from_extension(image - lens.rear_plane, lens.focal) == pytest.approx(traced, rel=1e-4)
    board = lens.first - 5
    assert magnification_from_infinity(image - board, lens.rear_focus - board, lens.focal) == pytest.approx(traced, rel=1e-4)
    assert subject_distance_mm(traced, lens.focal) == pytest.approx(times * lens.focal, rel=1e-4)


@pytest.mark.parametrize("times", [2.5, 3.0, 6.0, 20.0])
def test_from_the_ground_glass_the_gap_between_the_planes_is_left_out(times: float) -> None:
    """A thick symmetrical lens: its planes lie 2.6 mm apart, and that is all that is missed."""
    lens = SYMMETRICAL
    z = lens.front_plane - times * lens.focal
    gap = lens.rear_plane - lens.front_plane
    assert magnification_from_ground_glass(lens.image_of(z) - z - gap, lens.focal) == pytest.approx(lens.magnification_of(z), rel=2e-3)


@every_lens
@every_distance
def test_the_light_that_arrives(lens: ThickLens, times: float) -> None:
    """The cone of rays against N (1 + m/P), and the factor on time as its square."""
    z = lens.front_plane - times * lens.focal
    focus, traced = setting(lens, z), lens.working_f_number(z)
    assert effective_f_number(focus.f_number, focus.magnification, focus.pupil_magnification) == pytest.approx(traced, rel=3e-3)
    factor = bellows_factor(focus.magnification, focus.pupil_magnification)
    assert factor == pytest.approx((traced / lens.working_f_number(-1e7)) ** 2, rel=6e-3)


def test_pupils_taken_as_equal_would_miss_a_telephoto_lens() -> None:
    """What the pupil is for: half life size asks for half a stop and more beyond the plain rule."""
    z = TELEPHOTO.front_plane - 3 * TELEPHOTO.focal
    traced = (TELEPHOTO.working_f_number(z) / TELEPHOTO.working_f_number(-1e7)) ** 2
    assert traced / bellows_factor(0.5) > 1.6


@every_lens
@pytest.mark.parametrize("nearer", [0.8, 0.95, 1.1, 1.5, inf])
def test_the_blur_of_something_nearer_or_farther(lens: ThickLens, nearer: float) -> None:
    z = lens.front_plane - 4 * lens.focal
    sheet = lens.image_of(z)
    other = -1e7 if nearer == inf else lens.front_plane - 4 * nearer * lens.focal
    traced = lens.blur_of(other, sheet)
    found = defocus_mm(setting(lens, z), 0.0 if nearer == inf else lens.magnification_of(other))
    assert found == pytest.approx(traced, rel=0.02, abs=2e-3)


@every_lens
def test_near_and_far_limit(lens: ThickLens) -> None:
    """The blur of what lies at either limit is the one that was asked for."""
    z = lens.front_plane - 4 * lens.focal
    sheet = lens.image_of(z)
    for m in sharp_magnifications(setting(lens, z), 0.1):
        limit = lens.front_plane - subject_distance_mm(m, lens.focal)
        assert lens.blur_of(limit, sheet) == pytest.approx(0.1, rel=0.03)


@every_lens
def test_focus_between_near_and_far(lens: ThickLens) -> None:
    near, far = (lens.front_plane - times * lens.focal for times in (3, 6))
    m = middle_magnification(lens.magnification_of(near), lens.magnification_of(far), lens.pupil_magnification)
    sheet = lens.image_of(lens.front_plane - subject_distance_mm(m, lens.focal))
    assert lens.blur_of(near, sheet) == pytest.approx(lens.blur_of(far, sheet), rel=0.03)


def in_glass(index: float) -> ThickLens:
    """The meniscus for another colour."""
    return ThickLens(group(0, 6, (-140, -60), index), MENISCUS.stop, MENISCUS.stop_radius)


GREEN, BLUE = in_glass(1.51872), in_glass(1.52668)


def test_blue_comes_to_focus_nearer() -> None:
    """A single crown glass, eye at 546 nm and paper at 436 nm: its focal length is a percent and a half shorter."""
    traced = BLUE.focal / GREEN.focal - 1
    assert shift_of_one_glass(1.51872, 1.52668) == pytest.approx(traced, abs=5e-4)  # its thickness
    z = GREEN.front_plane - 4 * GREEN.focal
    moved = BLUE.image_of(z) - GREEN.image_of(z)
    assert blue_shift_mm(traced, GREEN.focal, GREEN.magnification_of(z)) == pytest.approx(moved, rel=0.03)


def test_a_slanted_ruler_finds_it() -> None:
    """Focus one mark in green; look which one is sharp in blue at that extension."""
    focused = GREEN.front_plane - 5 * GREEN.focal
    sheet = GREEN.image_of(focused)
    low, high = focused, BLUE.front_plane - 2 * BLUE.focal
    for _ in range(60):  # the nearer the mark, the farther its image
        middle = (low + high) / 2
        low, high = (middle, high) if BLUE.image_of(middle) < sheet else (low, middle)
    found = shift_from_ruler(5 * GREEN.focal, GREEN.front_plane - low, GREEN.focal)
    assert found == pytest.approx(BLUE.focal / GREEN.focal - 1, abs=5e-4)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_light_falls_off_with_the_fourth_power(share: float) -> None:
    """Solid angle of the exit pupil, seen from the corner, times the cosine at the sheet: summed over the pupil, no formula."""
    distance, radius, corner = 100.0, 1.0, 100.0 * share
    at, flux = [(x / 20, y / 20) for x in range(-20, 21) for y in range(-20, 21) if x * x + y * y <= 400], []
    for place in (0.0, corner):
        squares = [(radius * x - place) ** 2 + (radius * y) ** 2 + distance**2 for x, y in at]
        flux.append(sum((distance**2 / square) / square for square in squares))
    assert 2 ** -falloff_stops(corner, distance) == pytest.approx(flux[1] / flux[0], rel=2e-3)


def test_the_tracer_knows_a_textbook_lens() -> None:
    """A plano-convex glass: F = R / (n - 1), from its flat side on."""
    lens = ThickLens((Surface(0, 100, 1.5), Surface(5, 1e9, 1.0)), stop=0, stop_radius=1)
    assert lens.focal == pytest.approx(200, rel=1e-4)


def test_what_is_sharp_on_the_paper_when_nobody_moved_the_back() -> None:
    """Focused by green, traced in blue: the limits of what is sharp lie around another distance."""
    z = GREEN.front_plane - 8 * GREEN.focal
    sheet, share = GREEN.image_of(z), BLUE.focal / GREEN.focal - 1
    by_eye = setting(GREEN, z)
    paper = focus_for_paper(by_eye, share)
    assert paper.focal_mm == pytest.approx(BLUE.focal, rel=1e-6)
    for m in sharp_magnifications(paper, 0.1):
        assert BLUE.blur_of(BLUE.front_plane - subject_distance_mm(m, BLUE.focal), sheet) == pytest.approx(0.1, rel=0.05)
    m = magnification_for_paper(by_eye.magnification, share)
    assert m == pytest.approx(BLUE.magnification_of(z), rel=1e-3)
    assert defocus_mm(paper, m) == pytest.approx(BLUE.blur_of(z, sheet), rel=0.05)  # its planes move a little with the colour
