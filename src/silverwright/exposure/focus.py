"""Where to focus: between near and far, and for the blue that the paper sees instead of the green that the eye focuses by."""

from dataclasses import replace

from silverwright.errors import OutOfRange
from silverwright.records import Focus


def middle_magnification(near_magnification: float, far_magnification: float, pupil_magnification: float = 1.0) -> float:
    """
    What to focus on so that the nearest and the farthest thing come out equally unsharp.

    P + m = 2 (P + m1)(P + m2) / (2 P + m1 + m2)

    Args:
        near_magnification: Magnification of the nearest thing, m1. [1] >= 0
        far_magnification: Magnification of the farthest thing, m2; 0 far away. [1] >= 0
        pupil_magnification: Exit pupil over entrance pupil diameter. [1] > 0

    Returns:
        Magnification of what to focus on. [1]. Uncertainty: that of both distances.

    Raises:
        OutOfRange: a magnification below 0, or pupil_magnification not above 0.

    Source:
        our judgement (arithmetic on the light cones of jacobson1995).
    """
    for name, value in (("near_magnification", near_magnification), ("far_magnification", far_magnification)):
        if value < 0:
            raise OutOfRange(name, value, "0 or more")
    if not pupil_magnification > 0:
        raise OutOfRange("pupil_magnification", pupil_magnification, "above 0")
    near, far = pupil_magnification + near_magnification, pupil_magnification + far_magnification
    return 2 * near * far / (near + far) - pupil_magnification


def f_number_for_blur(focus_spread_mm: float, blur_mm: float) -> float:
    """
    The widest opening at which near and far are both no more blurred than wanted, focused between them.

    N_eff = dV / (2 c)

    Args:
        focus_spread_mm: How far the back moves between near and far in focus, dV. [mm] >= 0
        blur_mm: Largest blur on the sheet, c. [mm] > 0

    Returns:
        Effective f-number. [1] >= 0. Uncertainty: none from the formula; diffraction is left out.

    Raises:
        OutOfRange: focus_spread_mm below 0 or blur_mm not above 0.

    Source:
        luong2000, the admissible f-stop.
    """
    if focus_spread_mm < 0:
        raise OutOfRange("focus_spread_mm", focus_spread_mm, "0 or more")
    if not blur_mm > 0:
        raise OutOfRange("blur_mm", blur_mm, "above 0")
    return focus_spread_mm / (2 * blur_mm)


def blue_shift_mm(shift_share: float, focal_mm: float, magnification: float) -> float:
    """
    How far to move the back after focusing by eye, because blue light comes to focus elsewhere.

    dV = (1 + m)^2 dF

    Args:
        shift_share: dF / F: how much longer the focal length is for the paper than for the eye; negative is shorter. [1]
        focal_mm: Focal length. [mm] > 0
        magnification: Image size over subject size. [1] >= 0

    Returns:
        Away from the lens; negative is towards it. [mm]. Uncertainty: that of the share; first order in dF.

    Raises:
        OutOfRange: focal_mm not above 0 or magnification below 0.

    Source:
        our judgement (the derivative of 1/V = 1/F - 1/u).
    """
    if not focal_mm > 0:
        raise OutOfRange("focal_mm", focal_mm, "above 0")
    if magnification < 0:
        raise OutOfRange("magnification", magnification, "0 or more")
    return (1 + magnification) ** 2 * shift_share * focal_mm


def focus_for_paper(focus: Focus, shift_share: float) -> Focus:
    """
    What the paper sees of a lens that was focused by eye and not moved: another focal length at the same extension.

    F' = F (1 + s), m' = (1 + m)/(1 + s) - 1

    Args:
        focus: The lens as the eye focused it.
        shift_share: dF / F: how much longer the focal length is for the paper; negative is shorter. [1] > -1

    Returns:
        The lens for the paper. A focus beyond infinity counts as infinity. Uncertainty: that of the share.

    Raises:
        OutOfRange: shift_share not above -1.

    Source:
        our judgement (arithmetic on the thin lens).
    """
    if not shift_share > -1:
        raise OutOfRange("shift_share", shift_share, "above -1")
    times = 1 + shift_share
    return replace(focus, focal_mm=focus.focal_mm * times, magnification=max(0.0, (1 + focus.magnification) / times - 1))


def magnification_for_paper(magnification: float, shift_share: float) -> float:
    """
    How large something would come out for the paper that comes out so large for the eye, each in its own focus.

    m' = (1 + s) m / (1 - s m), of one distance u = F (1 + 1/m)

    Args:
        magnification: By the focal length of the eye. [1] >= 0
        shift_share: dF / F: how much longer the focal length is for the paper; negative is shorter. [1]

    Returns:
        By the focal length of the paper. [1] >= 0. Uncertainty: that of the share.

    Raises:
        OutOfRange: magnification below 0, or so near that the paper gets no image.

    Source:
        our judgement (arithmetic on the thin lens).
    """
    if magnification < 0 or shift_share * magnification >= 1:
        raise OutOfRange("magnification", magnification, "0 or more, and less than 1 over the shift")
    return (1 + shift_share) * magnification / (1 - shift_share * magnification)


def shift_from_ruler(focused_mm: float, sharpest_mm: float, focal_mm: float) -> float:
    """
    What a slanted ruler tells: the eye focused on one mark, and another came out sharpest on the paper.

    1/F_paper - 1/F_eye = 1/u_sharpest - 1/u_focused at one extension; dF/F = -F x that, first order

    Args:
        focused_mm: Lens to the mark that was focused on. [mm] > focal_mm
        sharpest_mm: Lens to the mark that came out sharpest, along the axis of the lens. [mm] > 0
        focal_mm: Focal length by eye. [mm] > 0

    Returns:
        dF / F: negative when the paper's focus is shorter. [1]. Uncertainty: how well the sharpest mark can be told.

    Raises:
        OutOfRange: focal_mm or sharpest_mm not above 0, or the focused mark not beyond the focal length.

    Source:
        our judgement (arithmetic on the thin lens).
    """
    for name, value in (("focal_mm", focal_mm), ("sharpest_mm", sharpest_mm)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    if focused_mm <= focal_mm:
        raise OutOfRange("focused_mm", focused_mm, "more than the focal length")
    power_of_paper = 1 / focal_mm + 1 / sharpest_mm - 1 / focused_mm
    return 1 / (focal_mm * power_of_paper) - 1


def shift_of_one_glass(index_of_eye_factor: float, index_of_paper_factor: float) -> float:
    """
    How much shorter a single lens of one glass focuses the light that the paper sees.

    dF/F = (n_eye - 1) / (n_paper - 1) - 1

    Args:
        index_of_eye_factor: Refractive index for green light, by which the eye focuses. [1] > 1
        index_of_paper_factor: Refractive index for the blue that the paper sees. [1] > 1

    Returns:
        dF / F: negative is shorter. [1]. Uncertainty: which glass it is, a fifth of the shift.

    Raises:
        OutOfRange: an index not above 1.

    Source:
        refractiveindex2010, BK7 (with the lensmaker's equation).
    """
    for name, value in (("index_of_eye_factor", index_of_eye_factor), ("index_of_paper_factor", index_of_paper_factor)):
        if not value > 1:
            raise OutOfRange(name, value, "above 1")
    return (index_of_eye_factor - 1) / (index_of_paper_factor - 1) - 1
