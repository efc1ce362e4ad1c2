"""Near, far and sharp: how the light cone of a lens spreads beside its focus, and what diffraction adds."""

from collections.abc import Sequence
from math import atan, cos, hypot, log2, sqrt
from typing import Final

from silverwright.errors import OutOfRange
from silverwright.exposure.bellows import bellows_factor
from silverwright.records import Focus

DARK_RING: Final = 1.21967  # arithmetic: first zero of the Bessel function J1, over pi: the first dark ring of a round hole
_FALLOFF_POWER: Final = 4  # source: cos^4 law, from memory


def effective_f_number(f_number: float, magnification: float, pupil_magnification: float = 1.0) -> float:
    """
    The f-number that the paper sees behind the extended bellows.

    N_eff = N (1 + m/P)

    Args:
        f_number: True f-number of the lens. [1] > 0
        magnification: Image size over subject size. [1] >= 0
        pupil_magnification: Exit pupil over entrance pupil diameter. [1] > 0

    Returns:
        Effective f-number. [1] >= f_number. Uncertainty: that of marking, magnification and pupils.

    Raises:
        OutOfRange: f_number or pupil_magnification not above 0, magnification below 0.

    Source:
        greivenkamp2004, p. 29.
    """
    if not f_number > 0:
        raise OutOfRange("f_number", f_number, "above 0")
    return f_number * sqrt(bellows_factor(magnification, pupil_magnification))


def defocus_mm(focus: Focus, other_magnification: float) -> float:
    """
    How large a point becomes on the sheet that lies nearer or farther than what was focused on.

    c = (P F / N) |m2 - m| / (P + m2), the cone from the exit pupil cut by the sheet

    Args:
        focus: The lens, and the magnification of what it is focused on.
        other_magnification: Magnification that the lens would give to the other thing; 0 far away. [1] >= 0

    Returns:
        Diameter of the blur. [mm] >= 0. Uncertainty: Gaussian optics; what the lens itself blurs comes on top.

    Raises:
        OutOfRange: other_magnification below 0.

    Source:
        jacobson1995, depth of field (worked out here for unequal pupils).
    """
    if other_magnification < 0:
        raise OutOfRange("other_magnification", other_magnification, "0 or more")
    pupil = focus.pupil_magnification
    return pupil * focus.focal_mm / focus.f_number * abs(other_magnification - focus.magnification) / (pupil + other_magnification)


def sharp_magnifications(focus: Focus, blur_mm: float) -> tuple[float, float]:
    """
    The magnifications between which a point is no larger than the wanted blur: of the nearest thing and of the farthest.

    m_near = P (F m + c N) / (P F - c N), m_far = P (F m - c N) / (P F + c N); with P = 1 the usual near and far limits

    Args:
        focus: The lens, and the magnification of what it is focused on.
        blur_mm: Largest blur on the sheet, c. [mm] > 0

    Returns:
        Nearest and farthest, as magnifications. [1] The far one is 0 when everything behind is sharp. Uncertainty: that of the f-number.

    Raises:
        OutOfRange: blur_mm not above 0, or as large as the lens's own opening.

    Source:
        jacobson1995, depth of field (worked out here for unequal pupils).
    """
    if not blur_mm > 0:
        raise OutOfRange("blur_mm", blur_mm, "above 0")
    pupil, focal_mm, spread_mm = focus.pupil_magnification, focus.focal_mm, blur_mm * focus.f_number
    if spread_mm >= pupil * focal_mm:
        raise OutOfRange("blur_mm", blur_mm, "smaller than the opening of the lens")
    image_mm = focal_mm * focus.magnification
    near = pupil * (image_mm + spread_mm) / (pupil * focal_mm - spread_mm)
    return near, max(0.0, pupil * (image_mm - spread_mm) / (pupil * focal_mm + spread_mm))


def subject_distance_mm(magnification: float, focal_mm: float) -> float:
    """
    How far away something is that comes out so large.

    u = F (1 + 1/m)

    Args:
        magnification: Image size over subject size. [1] > 0
        focal_mm: Focal length. [mm] > 0

    Returns:
        Subject to front principal plane. [mm] > focal_mm. Uncertainty: none from the formula.

    Raises:
        OutOfRange: magnification or focal_mm not above 0.

    Source:
        jacobson1995, Q5.
    """
    for name, value in (("magnification", magnification), ("focal_mm", focal_mm)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return focal_mm * (1 + 1 / magnification)


def hyperfocal_mm(focal_mm: float, f_number: float, blur_mm: float) -> float:
    """
    The distance at which to focus so that everything from its half to the horizon is sharp enough.

    H = F^2 / (N c) + F

    Args:
        focal_mm: Focal length. [mm] > 0
        f_number: True f-number. [1] > 0
        blur_mm: Largest blur on the sheet, c. [mm] > 0

    Returns:
        Distance from the front principal plane. [mm]. Uncertainty: that of the f-number.

    Raises:
        OutOfRange: a number that is not above 0.

    Source:
        jacobson1995, hyperfocal distance (from memory, unverified).
    """
    for name, value in (("focal_mm", focal_mm), ("f_number", f_number), ("blur_mm", blur_mm)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return focal_mm**2 / (f_number * blur_mm) + focal_mm


def diffraction_mm(effective_f_number: float, wavelength_mm: float) -> float:
    """
    How large a point becomes because the opening is small: across its first dark ring.

    d = 2.44 lambda N_eff

    Args:
        effective_f_number: Effective f-number. [1] > 0
        wavelength_mm: Wavelength that the paper sees most of. [mm] > 0

    Returns:
        Diameter. [mm] > 0. Uncertainty: four fifths of the light fall inside; the paper sees a band of wavelengths, not one.

    Raises:
        OutOfRange: a number that is not above 0.

    Source:
        luong2000, diffraction.
    """
    for name, value in (("effective_f_number", effective_f_number), ("wavelength_mm", wavelength_mm)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return 2 * DARK_RING * wavelength_mm * effective_f_number


def added_blur_mm(parts_mm: Sequence[float]) -> float:
    """
    Several blurs on one sheet: focus, diffraction, movement, the lens itself.

    c = sqrt(sum of squares)

    Args:
        parts_mm: Diameter of each. [mm] >= 0

    Returns:
        Diameter of the whole. [mm]. Uncertainty: a rule of thumb, some tenths of the whole; their true shapes differ.

    Source:
        luong2000, combination of defocus and diffraction.
    """
    return hypot(*parts_mm)


def best_f_number(focus_spread_mm: float, wavelength_mm: float) -> float:
    """
    The opening that makes the worst place of the picture sharpest, where focus and diffraction balance.

    c^2 = (dV / 2 N)^2 + (2.44 lambda N)^2 is least at N = sqrt(dV / (2 x 2.44 lambda)), N effective

    Args:
        focus_spread_mm: How far the back moves between near and far in focus, dV. [mm] > 0
        wavelength_mm: Wavelength that the paper sees most of. [mm] > 0

    Returns:
        Effective f-number. [1] > 0. Uncertainty: flat; half a stop off costs a tenth of the sharpness.

    Raises:
        OutOfRange: a number that is not above 0.

    Source:
        luong2000, the optimal f-stop after Hansma.
    """
    for name, value in (("focus_spread_mm", focus_spread_mm), ("wavelength_mm", wavelength_mm)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return sqrt(focus_spread_mm / (4 * DARK_RING * wavelength_mm))


def falloff_stops(corner_mm: float, pupil_distance_mm: float) -> float:
    """
    How much less light a place off the middle of the picture gets.

    4 log2(1 / cos(angle)), tan(angle) = r / (exit pupil to sheet)

    Args:
        corner_mm: Middle of the image circle to that place, r. [mm] >= 0
        pupil_distance_mm: Exit pupil to sheet, F (P + m); for a pinhole the hole to the paper. [mm] > 0

    Returns:
        Stops less than in the middle. [stops] >= 0. Uncertainty: a barrel that cuts the cone wide open takes more, some wide-angle lenses less.

    Raises:
        OutOfRange: corner_mm below 0, or pupil_distance_mm not above 0.

    Source:
        from memory, unverified (the fourth power of the cosine).
    """
    if corner_mm < 0:
        raise OutOfRange("corner_mm", corner_mm, "0 or more")
    if not pupil_distance_mm > 0:
        raise OutOfRange("pupil_distance_mm", pupil_distance_mm, "above 0")
    return -_FALLOFF_POWER * log2(cos(atan(corner_mm / pupil_distance_mm)))
