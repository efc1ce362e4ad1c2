"""From what the meter says to the light on the paper: readings, exposure values and the times that follow."""

from math import log2, pi

from silverwright.errors import OutOfRange


def ev_from_luminance(luminance_cd_per_m2: float, meter_k: float, meter_ei: float = 100.0) -> float:
    """
    The exposure value of a surface as bright as this.

    EV = log2(L S / K)

    Args:
        luminance_cd_per_m2: Reflected reading. [cd/m2] > 0
        meter_k: Constant of the reflected meter. [lx s] > 0
        meter_ei: The index that the exposure value belongs to. [EI] > 0

    Returns:
        Exposure value. [EV] Uncertainty: none from the formula; meters differ (facts/meter.csv, `reading`).

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        wikipedia-ev, relation of EV to luminance.
    """
    _above_zero(luminance_cd_per_m2=luminance_cd_per_m2, meter_k=meter_k, meter_ei=meter_ei)
    return log2(luminance_cd_per_m2 * meter_ei / meter_k)


def luminance_from_ev(ev: float, meter_k: float, meter_ei: float = 100.0) -> float:
    """
    How bright a surface is for which the meter gives this exposure value.

    L = K 2^EV / S

    Args:
        ev: Exposure value. [EV]
        meter_k: Constant of the reflected meter. [lx s] > 0
        meter_ei: The index that the exposure value belongs to. [EI] > 0

    Returns:
        Luminance. [cd/m2] > 0. Uncertainty: none from the formula.

    Raises:
        OutOfRange: meter_k or meter_ei not above 0.

    Source:
        wikipedia-ev, relation of EV to luminance.
    """
    _above_zero(meter_k=meter_k, meter_ei=meter_ei)
    return meter_k * float(2**ev) / meter_ei


def ev_from_illuminance(illuminance_lx: float, meter_c: float, meter_ei: float = 100.0) -> float:
    """
    The exposure value under this much light.

    EV = log2(E S / C)

    Args:
        illuminance_lx: Incident reading at the subject. [lx] > 0
        meter_c: Constant of the incident meter. [lx s] > 0
        meter_ei: The index that the exposure value belongs to. [EI] > 0

    Returns:
        Exposure value. [EV] Uncertainty: none from the formula; a dome and a flat receptor differ in C.

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        wikipedia-ev, relation of EV to illuminance.
    """
    _above_zero(illuminance_lx=illuminance_lx, meter_c=meter_c, meter_ei=meter_ei)
    return log2(illuminance_lx * meter_ei / meter_c)


def illuminance_from_ev(ev: float, meter_c: float, meter_ei: float = 100.0) -> float:
    """
    How much light falls on the subject when the meter gives this exposure value.

    E = C 2^EV / S

    Args:
        ev: Exposure value. [EV]
        meter_c: Constant of the incident meter. [lx s] > 0
        meter_ei: The index that the exposure value belongs to. [EI] > 0

    Returns:
        Illuminance. [lx] > 0. Uncertainty: none from the formula.

    Raises:
        OutOfRange: meter_c or meter_ei not above 0.

    Source:
        wikipedia-ev, relation of EV to illuminance.
    """
    _above_zero(meter_c=meter_c, meter_ei=meter_ei)
    return meter_c * float(2**ev) / meter_ei


def ev_from_dial(time_s: float, f_number: float, dial_ei: float, meter_ei: float = 100.0) -> float:
    """
    The exposure value at ISO 100 behind "this time at this aperture with the meter set to this index".

    EV = log2(N^2 / t) - log2(S_dial / S)

    Args:
        time_s: True time beside the aperture on the dial. [s] > 0
        f_number: True f-number on the dial. [1] > 0
        dial_ei: What the dial was set to. [EI] > 0
        meter_ei: The index that the exposure value belongs to. [EI] > 0

    Returns:
        Exposure value. [EV] Uncertainty: none from the formula.

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        wikipedia-ev, definition and table at ISO 100.
    """
    _above_zero(time_s=time_s, f_number=f_number, dial_ei=dial_ei, meter_ei=meter_ei)
    return log2(f_number**2 / time_s) - log2(dial_ei / meter_ei)


def time_from_ev(ev: float, f_number: float, ei: float, meter_ei: float = 100.0) -> float:
    """
    How long to expose at this aperture, before any correction.

    t = N^2 / 2^EV x S / EI

    Args:
        ev: Exposure value. [EV]
        f_number: True f-number. [1] > 0
        ei: Exposure index of what is exposed. [EI] > 0
        meter_ei: The index that the exposure value belongs to. [EI] > 0

    Returns:
        The time. [s] > 0. Uncertainty: none from the formula.

    Raises:
        OutOfRange: f_number, ei or meter_ei not above 0.

    Source:
        wikipedia-ev, definition and table at ISO 100.
    """
    _above_zero(f_number=f_number, ei=ei, meter_ei=meter_ei)
    return f_number**2 / float(2**ev) * meter_ei / ei


def equivalent_reflectance(meter_k: float, meter_c: float) -> float:
    """
    The grey for which a reflected and an incident meter agree.

    pi K / C

    Args:
        meter_k: Constant of the reflected meter. [lx s] > 0
        meter_c: Constant of the incident meter. [lx s] > 0

    Returns:
        Reflectance. [1] Uncertainty: none from the formula; it says how far two constants fit together, not what grey the meter sees.

    Raises:
        OutOfRange: meter_k or meter_c not above 0.

    Source:
        basiccamera2008, calibration of meters.
    """
    _above_zero(meter_k=meter_k, meter_c=meter_c)
    return pi * meter_k / meter_c


def paper_exposure_lx_s(ei: float, meter_k: float, paper_plane_factor: float) -> float:
    """
    The light that a metered grey leaves on the paper when the exposure follows the meter set to this index.

    H = q K / S

    Args:
        ei: Exposure index. [EI] > 0
        meter_k: Constant of the reflected meter. [lx s] > 0
        paper_plane_factor: Share of the scene's light that reaches the paper, q. [1] > 0

    Returns:
        Exposure at the paper. [lx s] > 0. Uncertainty: that of q (lens, flare and field), some tenths of a stop.

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        photrio1338501, quoting ANSI.
    """
    _above_zero(ei=ei, meter_k=meter_k, paper_plane_factor=paper_plane_factor)
    return paper_plane_factor * meter_k / ei


def _above_zero(**numbers: float) -> None:
    for name, value in numbers.items():
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
