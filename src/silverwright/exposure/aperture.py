"""Openings measured and added up: a stop by its diameter, a pinhole, and several times at several openings as one exposure."""

from collections.abc import Callable, Mapping, Sequence
from math import asinh, hypot, log, log2, sqrt
from statistics import fmean
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.optics import DARK_RING
from silverwright.exposure.reciprocity import effective_s
from silverwright.exposure.shutter import BETWEEN_SHARE, true_f_number
from silverwright.records import MeasuredAperture, Opening

_SAME_STOP: Final = 0.02  # our judgement: no two marks of a scale are so near each other
_EVEN: Final = 1e-9  # arithmetic: two f-numbers this near are one


def f_number_of_stop(distance_mm: float, stop_mm: float) -> float:
    """
    The f-number of a hole: focal length over its diameter; behind a hole without a lens, the way to the paper.

    N = F / d, or V / d for a pinhole

    Args:
        distance_mm: Focal length; for a pinhole, or a box whose focal length nobody knows, the hole to the paper. [mm] > 0
        stop_mm: Diameter of the hole as it is seen from the front. [mm] > 0

    Returns:
        f-number. [1] > 0. Uncertainty: twice that of the diameter, in stops.

    Raises:
        OutOfRange: a number that is not above 0.

    Source:
        jacobson1995, Q3.
    """
    for name, value in (("distance_mm", distance_mm), ("stop_mm", stop_mm)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return distance_mm / stop_mm


def stop_doubt_stops(distance_mm: float, distance_sd_mm: float, stop_mm: float, stop_sd_mm: float) -> float:
    """
    How unsure an opening is that was measured with a ruler.

    s = 2/ln 2 x sqrt( asinh(s_V / V)^2 + asinh(s_d / d)^2 ); asinh so that a hole measured badly stays a number of stops

    Args:
        distance_mm: Focal length, or the hole to the paper. [mm] > 0
        distance_sd_mm: Its doubt, one standard deviation. [mm] >= 0
        stop_mm: Diameter of the hole. [mm] > 0
        stop_sd_mm: Its doubt, one standard deviation. [mm] >= 0

    Returns:
        One standard deviation. [stops] >= 0

    Raises:
        OutOfRange: distance_mm or stop_mm not above 0.

    Source:
        our judgement (arithmetic).
    """
    f_number_of_stop(distance_mm, stop_mm)
    return 2 / log(2) * hypot(asinh(distance_sd_mm / distance_mm), asinh(stop_sd_mm / stop_mm))


def stop_for_f_number_mm(distance_mm: float, f_number: float) -> float:
    """
    How large to drill a stop.

    d = F / N

    Args:
        distance_mm: Focal length, or the hole to the paper. [mm] > 0
        f_number: Wanted f-number. [1] > 0

    Returns:
        Diameter. [mm] > 0. Uncertainty: that of the focal length.

    Raises:
        OutOfRange: a number that is not above 0.

    Source:
        jacobson1995, Q3.
    """
    return f_number_of_stop(distance_mm, f_number)


def f_number_at_mark(marked_f: float, measured: Sequence[MeasuredAperture], series: Mapping[float, float]) -> tuple[float, float]:
    """
    What a mark of an aperture scale means, of which some marks were measured.

    Measured: the mean of its readings, in stops; between two measured marks: as far off as the line between them; beyond them: as engraved

    Args:
        marked_f: The mark. [1] > 0
        measured: Marks with their f-numbers by the entrance pupil.
        series: Marks and the stops from f/1 that they stand for. [1] to [stops]

    Returns:
        f-number, and the share of the usual doubt of a scale that is left: none at a measured mark, half between two, all beyond. [1]

    Raises:
        OutOfRange: marked_f not above 0.

    Source:
        our judgement (interpolation).
    """
    meant = 2 * log2(true_f_number(marked_f, series))
    known: dict[float, list[float]] = {}
    for one in measured:
        known.setdefault(2 * log2(true_f_number(one.marked_f, series)), []).append(2 * log2(one.f_number))
    off = sorted((mark, fmean(found) - mark) for mark, found in known.items())
    for mark, by in off:
        if abs(mark - meant) < _SAME_STOP:
            return 2 ** ((meant + by) / 2), 0.0
    below, above = [pair for pair in off if pair[0] < meant], [pair for pair in off if pair[0] > meant]
    if not below or not above:
        return 2 ** (meant / 2), 1.0
    (low, low_off), (high, high_off) = below[-1], above[0]
    share = (meant - low) / (high - low)
    return 2 ** ((meant + (1 - share) * low_off + share * high_off) / 2), BETWEEN_SHARE


def sharpest_pinhole_mm(distance_mm: float, wavelength_mm: float) -> float:
    """
    The pinhole that draws sharpest: as large as the disc that diffraction makes of it.

    d = sqrt(2.44 lambda V)

    Args:
        distance_mm: Pinhole to paper, V. [mm] > 0
        wavelength_mm: Wavelength that the paper sees most of. [mm] > 0

    Returns:
        Diameter. [mm] > 0. Uncertainty: published constants lie between this and a fifth more (Rayleigh's 1.9).

    Raises:
        OutOfRange: a number that is not above 0.

    Source:
        altphoto1997, message 0646.
    """
    for name, value in (("distance_mm", distance_mm), ("wavelength_mm", wavelength_mm)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return sqrt(2 * DARK_RING * wavelength_mm * distance_mm)


def pinhole_blur_mm(stop_mm: float, distance_mm: float, subject_mm: float, wavelength_mm: float) -> float:
    """
    How large a point becomes behind a pinhole: the hole's own shadow, and what diffraction makes of it.

    c = sqrt( (d (1 + V/u))^2 + (2.44 lambda V / d)^2 )

    Args:
        stop_mm: Diameter of the hole, d. [mm] > 0
        distance_mm: Pinhole to paper, V. [mm] > 0
        subject_mm: Subject to pinhole, u. [mm] > 0
        wavelength_mm: Wavelength that the paper sees most of. [mm] > 0

    Returns:
        Diameter on the sheet. [mm] > 0. Uncertainty: a rule of thumb, a third of it.

    Raises:
        OutOfRange: a number that is not above 0.

    Source:
        altphoto1997, message 0646 (both added as squares: our judgement).
    """
    f_number_of_stop(distance_mm, stop_mm)
    for name, value in (("subject_mm", subject_mm), ("wavelength_mm", wavelength_mm)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return hypot(stop_mm * (1 + distance_mm / subject_mm), 2 * DARK_RING * wavelength_mm * distance_mm / stop_mm)


def added_s(openings: Sequence[Opening], f_number: float) -> float:
    """
    Several openings as one time at one aperture, before reciprocity.

    t = sum of t_i (N / N_i)^2

    Args:
        openings: Time and true f-number of each; at least one.
        f_number: The aperture that the sum is told for. [1] > 0

    Returns:
        The time. [s] > 0. Uncertainty: `openings_doubt_stops`, and what the pauses may undo.

    Raises:
        NotEnoughReadings: no opening.
        OutOfRange: a time or an f-number that is not above 0.

    Source:
        wikipedia-f-number, section “Stops, f-stop conventions, and exposure”.
    """
    if not openings:
        raise NotEnoughReadings("openings", 0, 1)
    for one in openings:
        for name, value in (("time_s", one.time_s), ("f_number", min(one.f_number, f_number))):
            if not value > 0:
                raise OutOfRange(name, value, "above 0")
    return sum(one.time_s * (f_number / one.f_number) ** 2 for one in openings)


def added_effective_s(openings: Sequence[Opening], f_number: float, needed: Callable[[float], float]) -> float:
    """
    What several openings amount to after reciprocity: all at one aperture as one exposure of their sum, each aperture by itself.

    t = sum over apertures of e(sum of t_i) (N / N_i)^2, e = what a given time amounts to

    Args:
        openings: Time and true f-number of each; at least one.
        f_number: The aperture that the sum is told for. [1] > 0
        needed: Needed time for a metered time. [s] to [s]

    Returns:
        The metered time that they amount to. [s] > 0. Uncertainty: the law of reciprocity, and that nobody knows what pauses undo.

    Raises:
        NotEnoughReadings: no opening.
        OutOfRange: a time or an f-number that is not above 0.

    Source:
        our judgement, from webb1950, abstract (loss at low intensity is loss of specks in their first stage).
    """
    added_s(openings, f_number)
    sums: list[list[float]] = []
    for one in sorted(openings, key=lambda opening: opening.f_number):
        if sums and abs(sums[-1][0] - one.f_number) < _EVEN * one.f_number:
            sums[-1][1] += one.time_s
        else:
            sums.append([one.f_number, one.time_s])
    return sum(effective_s(time_s, needed) * (f_number / at) ** 2 for at, time_s in sums)


def openings_doubt_stops(openings: Sequence[Opening], f_number: float, hand_sd_s: float) -> float:
    """
    What a hand leaves in doubt that opens and closes several times: the seconds add in quadrature.

    s = asinh( s_hand sqrt(sum of (N / N_i)^4) / t ) / ln 2

    Args:
        openings: Time and true f-number of each; at least one.
        f_number: The aperture that the sum is told for. [1] > 0
        hand_sd_s: Doubt of opening and closing once, one standard deviation. [s] >= 0

    Returns:
        One standard deviation. [stops] >= 0

    Raises:
        NotEnoughReadings: no opening.
        OutOfRange: a time or an f-number that is not above 0.

    Source:
        our judgement (arithmetic).
    """
    whole = added_s(openings, f_number)
    return asinh(hand_sd_s * hypot(*((f_number / one.f_number) ** 2 for one in openings)) / whole) / log(2)
