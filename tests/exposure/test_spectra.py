"""
The table of lights and its spectra, recomputed from the CIE's data by colour-science: another interpolation, another route to daylight.

Tolerance 0.05 stop, 0.10 for discharge lamps: their lines fall between the points that are printed, and the way between them decides.
"""

import warnings
from math import log2
from typing import Any

import numpy as np
import pytest

from silverwright.exposure.colour import coloured_filter_stops
from silverwright.facts.load import Fact, fact, facts
from silverwright.questions.filter import bands_of
from silverwright.questions.light import LIGHTS, row_of
from silverwright.records import Passed

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour

FIRST, LAST = 300, 830
AT_NM = np.arange(FIRST, LAST + 1)
SHAPE = colour.SpectralShape(FIRST, LAST, 1)
DISCHARGE = ("fluorescent lamp", "sodium lamp")
TABLE = [light for light in LIGHTS if row_of(light, "blue").kind == "standard"]


def on_every_nanometre(spectrum: Any) -> np.ndarray:
    """By the interpolation that the CIE recommends for even steps; nothing beyond what is printed."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        whole = spectrum.copy().interpolate(colour.SpectralShape(spectrum.shape.start, spectrum.shape.end, 1))
    found: np.ndarray = np.interp(AT_NM, whole.wavelengths, np.maximum(whole.values, 0.0), left=0.0, right=0.0)
    return found


def spectrum_of(name: str) -> np.ndarray:
    if name.startswith("D-series "):
        kelvin = float(name.removeprefix("D-series ").removesuffix(" K").replace(" ", ""))
        return on_every_nanometre(colour.sd_CIE_illuminant_D_series(colour.temperature.CCT_to_xy_CIE_D(kelvin)))
    if name.startswith("black body "):
        return on_every_nanometre(colour.sd_blackbody(float(name.removeprefix("black body ").removesuffix(" K")), SHAPE))
    return on_every_nanometre(colour.SDS_ILLUMINANTS[name])


EYE = on_every_nanometre(colour.SDS_LEFS["CIE 1924 Photopic Standard Observer"])


def seen(energy: np.ndarray, first_nm: float, last_nm: float) -> float:
    """What a paper with an even sight and sharp ends gets, for each unit of what the meter sees; in stops."""
    return log2(energy[(first_nm <= AT_NM) & (last_nm >= AT_NM)].sum() / (energy * EYE).sum())


def limit(key: str) -> float:
    return fact("light", key).value


def offset(name: str, what: str) -> float:
    """Of one spectrum against D55."""
    ends = {"blue": (limit("blue_from"), limit("blue_to")), "ortho": (limit("blue_from"), limit("ortho_to"))}
    if what == "contrast":
        return offset(name, "blue") - against(name, limit("blue_to") + 1, limit("ortho_to"))
    return against(name, *ends[what])


def against(name: str, first_nm: float, last_nm: float) -> float:
    return seen(spectrum_of(name), first_nm, last_nm) - seen(spectrum_of("D55"), first_nm, last_nm)


def tolerance(light: str) -> float:
    return 0.10 if light in DISCHARGE else 0.05


@pytest.mark.parametrize("what", ["blue", "ortho", "contrast"])
@pytest.mark.parametrize("light", TABLE)
def test_the_table_is_what_the_spectra_give(light: str, what: str) -> None:
    row = row_of(light, what)
    names = row.where.split(" and ")
    assert row.value == pytest.approx(sum(offset(name, what) for name in names) / len(names), abs=tolerance(light))


def limits_named(row: Fact) -> list[str]:
    return row.note.split("limits ")[1].split(" and ")


@pytest.mark.parametrize("light", TABLE)
def test_the_limits_are_those_of_the_lights_beside_it(light: str) -> None:
    row = row_of(light, "blue")
    ends = [row.value, *(offset(name, "blue") for name in limits_named(row))]
    assert (row.low, row.high) == pytest.approx((min(ends), max(ends)), abs=tolerance(light))


def test_half_a_lamp_and_half_a_sky() -> None:
    lamp, sky = (spectrum / (spectrum * EYE).sum() for spectrum in map(spectrum_of, ("A", "D65")))
    for what, last in (("blue", limit("blue_to")), ("ortho", limit("ortho_to"))):
        mixed = seen(lamp + sky, limit("blue_from"), last) - seen(spectrum_of("D55"), limit("blue_from"), last)
        assert row_of("mixed", what).value == pytest.approx(mixed, abs=0.05)
        assert row_of("flash", what).value == pytest.approx(offset("D60", what), abs=0.05)


def test_photographic_daylight_is_the_reference() -> None:
    """ISO 7589's daylight for cameras, measured behind a lens: no offset from D55 for either paper."""
    for what in ("blue", "ortho"):
        assert offset("ISO 7589 Photographic Daylight", what) == pytest.approx(0, abs=0.02)


def test_the_kelvins_on_a_lamp_do_not_tell_it() -> None:
    """Three lamps of about 4000 K lie over half a stop apart: the class of light is asked, not its colour temperature."""
    found = [offset(name, "blue") for name in ("LED-B3", "FL11", "LED-V2")]
    assert max(found) - min(found) > 0.5


def test_where_blue_ends_moves_the_lamp_by_what_its_doubt_holds() -> None:
    """Sight that ends between 480 and 525 nm: a tungsten lamp moves within its doubt."""
    row, end = row_of("tungsten lamp", "blue"), fact("light", "blue_to")
    moved = [against("A", limit("blue_from"), float(last)) for last in (end.low or 0, end.high or 0)]
    assert all(abs(one - row.value) < row.sd for one in moved)
    assert moved[0] < row.value < moved[1]


def patch(chart: str, name: str) -> np.ndarray:
    return on_every_nanometre(colour.SDS_COLOURCHECKERS[chart][name])


def skin_stops(chart: str, name: str, light: str, last_nm: float) -> float:
    """What a paper gets of skin against a reflected reading of it, both counted from a grey."""
    energy, skin = spectrum_of(light), patch(chart, name)
    paper = (limit("blue_from") <= AT_NM) & (last_nm >= AT_NM)
    reflected = (energy * skin)[paper].sum() / energy[paper].sum()
    return log2(reflected / ((energy * skin * EYE).sum() / (energy * EYE).sum()))


@pytest.mark.parametrize(("what", "last"), [("blue", "blue_to"), ("ortho", "ortho_to")])
def test_skin_is_what_public_charts_give(what: str, last: str) -> None:
    charts = ("ISO 17321-1", "BabelColor Average")
    row = fact("light", f"skin_{what}")
    by_day = [skin_stops(chart, skin, "D55", limit(last)) for chart in charts for skin in ("dark skin", "light skin")]
    assert row.value == pytest.approx(sum(by_day) / len(by_day), abs=0.05)
    anywhere = [
        skin_stops("ISO 17321-1", skin, light, limit(last)) for skin in ("dark skin", "light skin") for light in ("D55", "A", "D75", "LED-B1")
    ]
    assert (row.low, row.high) == pytest.approx((min([*by_day, *anywhere]), max([*by_day, *anywhere])), abs=0.06)
    assert all(abs(one - row.value) < 1.5 * row.sd for one in [*by_day, *anywhere])
    assert 0.35 < -row.value < 0.9


@pytest.mark.parametrize("light", TABLE)
def test_the_bands_are_those_of_the_spectra(light: str) -> None:
    names = row_of(light, "blue").where.split(" and ")
    energy = sum(spectrum / (spectrum * EYE).sum() for spectrum in map(spectrum_of, names))
    shares = []
    for band in bands_of(light):
        inside = np.asarray(energy)[(band.from_nm <= AT_NM) & (band.to_nm >= AT_NM)]
        shares.append(inside.sum() - (inside[0] + inside[-1]) / 2)
    found = [band.share for band in bands_of(light)]
    assert found == pytest.approx([one / sum(shares) for one in shares], abs=0.03 if light in DISCHARGE else 0.005)


@pytest.mark.parametrize("light", ["direct sun", "tungsten lamp", "warm LED lamp"])
def test_a_yellow_glass_by_bands_is_that_by_every_nanometre(light: str) -> None:
    nm, percent = (440, 460, 480, 500, 520, 600), (0.1, 1, 25, 75, 88, 90)
    glass = [Passed(float(at), share / 100) for at, share in zip(nm, percent, strict=True)]
    names = row_of(light, "blue").where.split(" and ")
    energy = np.asarray(sum(spectrum / (spectrum * EYE).sum() for spectrum in map(spectrum_of, names)))
    passed = np.interp(AT_NM, nm, np.array(percent) / 100)
    for last in (500, 590):
        paper = (AT_NM >= 380) & (last >= AT_NM)
        by_hand = log2(energy[paper].sum() / (energy * passed)[paper].sum())
        assert coloured_filter_stops(bands_of(light), glass, last) == pytest.approx(by_hand, abs=0.1)


def test_every_class_has_all_its_rows() -> None:
    keys = set(facts("light"))
    for light in LIGHTS:
        name = light.replace(" ", "_").lower()
        assert {f"{name}_{what}" for what in ("blue", "ortho", "contrast")} <= keys
