"""What a sheet got at the camera, as the meter tells it."""

import json
from functools import lru_cache
from math import log10
from typing import Final, NamedTuple

from silverwright.book.models import Exposure, Paper
from silverwright.errors import BadQuestion
from silverwright.exposure.ledger import index_of_exposure
from silverwright.exposure.meter import paper_exposure_lx_s
from silverwright.facts.load import fact
from silverwright.questions.aperture import f_number
from silverwright.questions.camera import by_hand, of_camera, of_light, reading_entry, summed
from silverwright.questions.flashes import FlashQuestion, index_of_flashes
from silverwright.questions.ledger import LedgerQuestion
from silverwright.questions.light import LightFields, light_entry, seen_through_blue
from silverwright.questions.shutter import true_on_shutter_s

MOST_REMEMBERED: Final = 4096  # our judgement: more exposures than a long life of sheets
FLASH_S: Final = 1e-3  # our judgement: however short, it lies far below the times that ask for reciprocity
READINGS: Final = ("reading_ev", "reading_cd_per_m2", "reading_lx", "dial_time_s", "dial_aperture_f", "dial_ei")


class Metered(NamedTuple):
    """
    What a sheet got: log exposure in lux seconds as the meter tells it, before reciprocity, and the true time.

    `light_stops` is how much more of this light the paper gets than the meter tells, by the table, nothing of a light that nobody named; its doubt
    where the paper's own light was metered.
    """

    exposure_log10: float
    time_s: float
    light_stops: float | None
    light_sd_stops: float | None


def sees(paper: Paper) -> str:
    """What a paper sees; where nobody said, a variable-contrast paper sees green, too, for that is how it works."""
    return "ortho" if paper.sensitivity == "unknown" and paper.contrast == "variable contrast" else paper.sensitivity


def metered_log10(exposure: Exposure, reading_ev: float | None = None) -> Metered | None:
    """
    What a sheet got at the camera, as its meter told it.

    With a reading, of the place that was metered at that exposure value; a flash cannot tell one place from another. Nothing where reading, time
    or aperture is not known.
    """
    if exposure.flashes_given is not None:
        return None if reading_ev is not None else _flashed(exposure)
    scene = {**exposure.scene, **_opening(exposure), "light_class": exposure.light_class, "sensitivity": sees(exposure.sheet.paper)}
    if exposure.given_s is None or not {"aperture_f", "stop_mm"} & scene.keys():
        return None
    if reading_ev is not None:
        scene = {name: value for name, value in scene.items() if name not in READINGS} | {"reading_ev": reading_ev, "reading_tone": "mid-grey"}
    return _metered_log10(exposure.amounts_to_s or exposure.given_s, json.dumps(scene))


def _flashed(exposure: Exposure) -> Metered | None:
    """What so many flashes amounted to, before what the paper makes of their colour and their shortness."""
    scene = {name: value for name, value in {**exposure.scene, **_opening(exposure)}.items() if name in FlashQuestion.model_fields}
    return _flashed_log10(exposure.flashes_given or 0.0, json.dumps(scene), sees(exposure.sheet.paper))


@lru_cache(maxsize=MOST_REMEMBERED)
def _flashed_log10(flashes: float, scene_json: str, seen: str) -> Metered | None:
    """The same from what it rests on alone."""
    try:
        scene = FlashQuestion.model_validate({**json.loads(scene_json), "paper_ei": 1, "short_flash_stops": 0})
        light = light_entry(LightFields.model_validate({"light_class": "flash", "sensitivity": seen}))
    except BadQuestion:
        return None
    ei = float(2 ** index_of_flashes(scene, flashes).amount_stops)
    lux_seconds = paper_exposure_lx_s(ei, fact("meter", "meter_k").value, fact("meter", "paper_plane").value)
    return Metered(log10(lux_seconds), FLASH_S, -light.stops.amount_stops, None)


def _opening(exposure: Exposure) -> dict[str, object]:
    """The aperture that was really set, which replaces a planned hole; and whether something turned the picture, for what it took of the light."""
    turned: dict[str, object] = {"turned": exposure.sheet.turned}
    if turned["turned"] == "no":
        turned |= {"mirror_stops": None, "mirror_sd_stops": None}
    return turned if exposure.aperture_f is None else {**turned, "aperture_f": exposure.aperture_f, "stop_mm": None}


@lru_cache(maxsize=MOST_REMEMBERED)
def _metered_log10(given_s: float, scene_json: str) -> Metered | None:
    """The same from what it rests on alone, so that it is worked out once while somebody types at the camera."""
    try:
        scene = LedgerQuestion.model_validate(json.loads(scene_json))
    except BadQuestion:
        return None
    reading, _ = reading_entry(scene)
    true_s = given_s if by_hand(scene, given_s) else true_on_shutter_s(scene.measured_speeds, given_s)
    other_stops = summed(of_camera(scene)).amount_stops
    ei = index_of_exposure(true_s, f_number(scene), reading.ev, other_stops, lambda metered_s: metered_s)
    lux_seconds = paper_exposure_lx_s(ei, fact("meter", "meter_k").value, fact("meter", "paper_plane").value)
    light_stops = -summed(of_light(scene, scene.reading_tone)).amount_stops
    named = scene.light_class not in {None, "unknown"} or light_stops != 0
    return Metered(log10(lux_seconds), true_s, light_stops if named else None, seen_through_blue(scene))
