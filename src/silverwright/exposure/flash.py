"""Light from flashes: guide numbers, stored energy, several heads, several flashes, and daylight beside them."""

from collections.abc import Sequence
from math import hypot, log2, pi, sqrt
from typing import Final

from silverwright.errors import OutOfRange

_METRE_MM: Final = 1000.0  # arithmetic
_SPHERE: Final = 4 * pi  # arithmetic: steradians all round a bare tube


def flash_f_number(guide_number: float, distance_mm: float) -> float:
    """
    Which aperture one flash asks for, at the index that the guide number belongs to.

    N = GN / d

    Args:
        guide_number: Guide number in metres. [m] > 0
        distance_mm: Flash to subject. [mm] > 0

    Returns:
        f-number of a lens at infinity focus. [1] > 0. Uncertainty: the guide number and the tape; twice the distance is two stops.

    Raises:
        OutOfRange: either of them not above 0.

    Source:
        openphoto2010, guide numbers.
    """
    _above_zero(guide_number=guide_number, distance_mm=distance_mm)
    return guide_number * _METRE_MM / distance_mm


def guide_number_at_ei(guide_number: float, guide_ei: float, ei: float) -> float:
    """
    The guide number of the same flash for another exposure index.

    GN2 = GN1 sqrt(S2 / S1)

    Args:
        guide_number: Guide number in metres. [m] > 0
        guide_ei: The index that it belongs to. [EI] > 0
        ei: The other index. [EI] > 0

    Returns:
        Guide number in metres. [m] > 0. Uncertainty: none from the formula.

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        maker1999, table of multipliers.
    """
    _above_zero(guide_number=guide_number, guide_ei=guide_ei, ei=ei)
    return guide_number * sqrt(ei / guide_ei)


def beam_cd_s(guide_number: float, ei: float, meter_c: float) -> float:
    """
    How much light a flash of this guide number throws towards the subject.

    I = C GN^2 / S

    Args:
        guide_number: Guide number in metres. [m] > 0
        ei: The index that it belongs to. [EI] > 0
        meter_c: Constant of the incident meter with a flat receptor. [lx s] > 0

    Returns:
        Light in the beam. [cd s] > 0. Uncertainty: makers reckon with another constant, up to 0.2 stop.

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        yedlin2015, exposure equations; our judgement (that a guide number means an incident reading).
    """
    _above_zero(guide_number=guide_number, ei=ei, meter_c=meter_c)
    return meter_c * guide_number**2 / ei


def guide_number_from_energy(energy_ws: float, efficacy_factor: float, ei: float, meter_c: float) -> float:
    """
    The guide number that stored energy amounts to, from a bare tube that shines all round.

    I = efficacy x energy / (4 pi), GN = sqrt(I S / C)

    Args:
        energy_ws: Energy stored for one flash. [W s] > 0
        efficacy_factor: Light for each watt-second. [lm s / W s] > 0
        ei: The index that the guide number shall belong to. [EI] > 0
        meter_c: Constant of the incident meter with a flat receptor. [lx s] > 0

    Returns:
        Guide number in metres. [m] > 0. Uncertainty: tubes differ by a stop to either side, and reflectors by more.

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        farace2010, lumen seconds of a watt-second; our judgement (a tube shines evenly all round).
    """
    _above_zero(energy_ws=energy_ws, efficacy_factor=efficacy_factor, ei=ei, meter_c=meter_c)
    return sqrt(efficacy_factor * energy_ws / _SPHERE * ei / meter_c)


def flash_stops(f_number: float, asked_f: float) -> float:
    """
    How many stops one flash falls short of an aperture.

    2 log2(N / N1)

    Args:
        f_number: True f-number that is set. [1] > 0
        asked_f: f-number that one flash asks for. [1] > 0

    Returns:
        Stops that are missing; below 0 it gives too much. [stops] Uncertainty: that of both.

    Raises:
        OutOfRange: either of them not above 0.

    Source:
        wikipedia-f-number, section “Stops, f-stop conventions, and exposure”.
    """
    _above_zero(f_number=f_number, asked_f=asked_f)
    return 2 * log2(f_number / asked_f)


def heads_f_number(asked_f: Sequence[float]) -> float:
    """
    Which aperture several heads ask for that light the same place at once: their light adds.

    N = sqrt(sum N_i^2)

    Args:
        asked_f: f-number that each head asks for by itself. [1] each > 0

    Returns:
        f-number of all together. [1] > 0. Uncertainty: that of the heads; a head from the side or from behind lights other places.

    Raises:
        OutOfRange: no head, or one of them not above 0.

    Source:
        our judgement (light adds).
    """
    if not asked_f:
        raise OutOfRange("asked_f", 0, "one head or more")
    for one in asked_f:
        _above_zero(asked_f=one)
    return hypot(*asked_f)


def flashes_for(stops: float, exponent: float = 1.0) -> float:
    """
    How many equal flashes make up for the stops that one of them is short.

    n = 2^(stops / q), q = 1 when flashes add up in full; one flash or less needs no exponent

    Args:
        stops: Stops that one flash is short. [stops]
        exponent: q: n flashes do as much as n^q. [1] > 0

    Returns:
        Number of flashes, not rounded. [1] > 0. Uncertainty: nothing is published of q on paper.

    Raises:
        OutOfRange: exponent not above 0.

    Source:
        openphoto2010, guide numbers (n flashes are n times the light); our judgement (the exponent).
    """
    _above_zero(exponent=exponent)
    return float(2 ** (stops if stops <= 0 else stops / exponent))


def flashes_stops(flashes: float, exponent: float = 1.0) -> float:
    """
    What so many equal flashes amount to, in stops over one: `flashes_for` read backwards.

    log2(n) q

    Args:
        flashes: How many were given. [1] > 0
        exponent: q: n flashes do as much as n^q. [1] > 0

    Returns:
        Stops over one flash. [stops] Uncertainty: nothing is published of q on paper.

    Raises:
        OutOfRange: either of them not above 0.

    Source:
        our judgement (arithmetic).
    """
    _above_zero(flashes=flashes, exponent=exponent)
    stops = log2(flashes)
    return stops if stops <= 0 else stops * exponent


def rest_for_flash(open_s: float, alone_s: float) -> float:
    """
    Which part of the exposure the flashes must still give beside the light that is there while the shutter stands open.

    1 - t / t_alone, never below 0

    Args:
        open_s: How long the shutter stands open. [s] >= 0
        alone_s: How long the light that is there would need alone. [s] > 0

    Returns:
        The part left for the flashes. [1] 0 to 1. Uncertainty: that of the time alone; the nearer to 0, the less is known.

    Raises:
        OutOfRange: open_s below 0 or alone_s not above 0.

    Source:
        our judgement (light adds).
    """
    if not open_s >= 0:
        raise OutOfRange("open_s", open_s, "0 or more")
    _above_zero(alone_s=alone_s)
    return max(0.0, 1 - open_s / alone_s)


def _above_zero(**values: float) -> None:
    for name, value in values.items():
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
