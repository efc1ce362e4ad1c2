"""What would make a sitter possible who cannot hold still for so long: light, aperture, flash, posture, size, or more blur."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, sqrt

from silverwright.exposure.flash import flash_f_number, flash_stops, flashes_for, guide_number_at_ei, guide_number_from_energy
from silverwright.facts.load import fact
from silverwright.questions.entry import stops_said
from silverwright.questions.heads import METRE_MM
from silverwright.units import F_NUMBER, MILLIMETRE, RATIO, SECOND


@dataclass(frozen=True, slots=True)
class Sit:
    """What is wanted of the sitter, what is missing, and what else is known of light, lens, paper and flash."""

    missing_stops: float
    light_stops: float
    wanted_s: float
    magnification: float
    sharp_mm: float
    blur_mm: float
    calmer_s: Mapping[str, float]
    f_number: float | None = None
    effective_f: float | None = None
    reading_ev: float | None = None
    paper_ei: float | None = None
    flash_mm: float | None = None
    guide_number: float | None = None
    guide_ei: float | None = None


def ways(sit: Sit) -> tuple[str, ...]:
    """Every way that is known, in words; none where nothing is missing."""
    if sit.missing_stops <= 0:
        return ()
    found = [_light(sit), _aperture(sit), _flash(sit), *_postures(sit)]
    smaller = sit.magnification * sit.sharp_mm / sit.blur_mm
    found.append(f"Smaller on the sheet: magnification {RATIO.show(_short(smaller))} instead of {RATIO.show(_short(sit.magnification))}.")
    found.append(f"A softer picture: allow a blur of {MILLIMETRE.show(_short(sit.blur_mm))}.")
    return tuple(one for one in found if one)


def _light(sit: Sit) -> str:
    """More light on the face."""
    more = f"{stops_said(sit.light_stops)} more light on the face"
    if sit.reading_ev is not None:
        more += f", EV {sit.reading_ev + sit.light_stops:.1f} instead of {sit.reading_ev:.1f}"
    spared = sit.missing_stops - sit.light_stops
    if spared >= fact("meter", "agree").value:
        more += f" ({stops_said(spared)} less than the time has to shrink: short exposures need nothing for reciprocity)"
    return f"{more}: nearer to the window or the open door, a white sheet on the other side. A faster paper or developer does as much."


def _aperture(sit: Sit) -> str:
    """A wider aperture, as far as lenses go."""
    if sit.f_number is None:
        return ""
    now, wanted, widest = F_NUMBER.show(sit.f_number), sit.f_number / 2 ** (sit.light_stops / 2), fact("lens", "widest").value
    if wanted * 2 ** (fact("lens", "aperture_marking").sd / 2) >= widest:
        depth = f"{100 * wanted / sit.f_number:.0f} % of it"
        return f"{F_NUMBER.show(_short(wanted))} instead of {now}, if the lens opens so far; the depth of field is then {depth}."
    return f"A wider aperture alone does not do it: {F_NUMBER.show(_short(wanted))} would be needed instead of {now}."


def _flash(sit: Sit) -> str:
    """A flash, over before anybody moves."""
    if sit.effective_f is None or sit.paper_ei is None:
        lacks = " and ".join(["the aperture"] * (sit.effective_f is None) + ["the paper's EI"] * (sit.paper_ei is None))
        return f"A flash is over before anybody moves: give {lacks}, and here stands how strong it must be."
    away_mm = sit.flash_mm or fact("sitter", "flash_away").value
    at = f"{away_mm / METRE_MM:.2g} m from the face"
    if sit.guide_number is not None and sit.guide_ei is not None:
        one_f = flash_f_number(guide_number_at_ei(sit.guide_number, sit.guide_ei, sit.paper_ei), away_mm)
        count = ceil(flashes_for(flash_stops(sit.effective_f, one_f)) - fact("flash", "whole_step").sd)
        if count <= 1:
            return f"One flash of yours, {at}, is enough: it is over before anybody moves."
        nearer = away_mm / METRE_MM / sqrt(count)
        one = f"; or one of them {nearer:.2g} m away" if nearer >= fact("flash", "near_face").value else ""
        return (
            f"{count} flashes of yours, {at}{one}. Each is over before anybody moves, but from the first to the last the sitter must keep the place."
        )
    guide, usual = _guide(sit, sit.effective_f, away_mm), fact("sitter", "guide_usual").value
    opened = (sit.f_number or 0.0) * usual / guide
    if sit.f_number is not None and fact("lens", "widest").value <= opened < sit.f_number:
        at += f", at {F_NUMBER.show(_short(opened))} instead of {F_NUMBER.show(_short(sit.f_number))},"
        guide = usual
    return (
        f"One flash {at} of guide number {guide:.0f} (metres, ISO 100), or four of half that number; in a reflector that is roughly "
        f"{_stored_ws(guide):.0f} W s at once. It is over before anybody moves."
    )


def _guide(sit: Sit, effective_f: float, away_mm: float) -> float:
    """The guide number in metres for ISO 100 of one flash that is enough."""
    return guide_number_at_ei(effective_f * away_mm / METRE_MM, sit.paper_ei or 1.0, fact("meter", "meter_ei").value)


def _stored_ws(guide_number: float) -> float:
    """The stored energy that such a guide number takes in a reflector, to one digit: it is no surer."""
    ei, flat = fact("meter", "meter_ei").value, fact("meter", "meter_c_flat").value
    of_one_ws = guide_number_from_energy(1.0, fact("flash", "efficacy").value, ei, flat) / 2 ** (fact("flash", "reflector").value / 2)
    return float(f"{(guide_number / of_one_ws) ** 2:.1g}")


def _postures(sit: Sit) -> list[str]:
    """A calmer posture, as far as we judge it."""
    said = []
    for posture, longest_s in sit.calmer_s.items():
        enough = "long enough" if longest_s >= sit.wanted_s else "not long enough"
        words = "Seated" if posture == "seated" else "With a head rest"
        most_s = fact("sitter", "longest_tried").value
        shown = f"about {SECOND.show(longest_s)}" if longest_s < most_s else f"{SECOND.show(most_s)} and more"
        said.append(f"{words}: still for {shown}, {enough}; our judgement, and wide.")
    return said


def _short(value: float) -> float:
    """Two digits that count: more would be no help in a sentence."""
    return float(f"{value:.2g}")
