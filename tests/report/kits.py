"""Kits that are taken along in tests: as the book would make them, without a book."""

from typing import Any, Final

from silverwright.questions.light import LIGHTS
from silverwright.report.kit import Kit, Place, Taken

LENSES: Final = (
    Taken("210 mm lens in a leaf shutter", {"focal_mm": 210.0, "pupil_factor": 1.0}),
    Taken("150 mm lens", {"focal_mm": 150.0}),
    Taken("telephoto lens of 360 mm", {"camera_kind": "telephoto lens", "focal_mm": 360.0, "infinity_extension_mm": 235.0, "pupil_factor": 0.7}),
    Taken("measured aperture", {"focal_mm": 300.0, "aperture_scale": "exact"}),
    Taken("unknown lens", {}),
    Taken("box camera with a hole of 9 mm", {"camera_kind": "box camera", "focal_mm": 150.0, "stop_mm": 9.0}),
)
LEARNT: Final[dict[str, Any]] = {
    "meter_k": 12.5,
    "sensitivity": "blue",
    "paper_ei": 1.33,
    "paper_ei_sd_stops": 0.25,
    "ei_from": "own sheets",
    "ei_rests_on": "1 step sheet, 5 verdicts",
    "exponent_factor": 1.09,
    "exponent_sd": 0.04,
    "surest_at_s": 5.0,
}
OPEN_SHADE: Final = {
    "light_class": "open shade",
    "light_offset_stops": 0.48,
    "light_offset_sd_stops": 0.23,
    "light_rests_on": "2 sheets in this light",
}


def kit(fields: dict[str, Any] | None = None, **more: Any) -> Kit:
    """A paper with five lenses and every light."""
    found: dict[str, Any] = {
        "paper": "RC paper, grade 2",
        "process": "direct positive",
        "fields": LEARNT if fields is None else fields,
        "lenses": LENSES,
        "lights": [Taken(light, OPEN_SHADE if light == "open shade" else {"light_class": light}) for light in LIGHTS],
        "places": [Place("holder 1/1", "holder 1, side 1: box A"), Place("holder 1/2", "holder 1, side 2: exposed, 26-011", exposed=True)],
        "log": {"process": "direct positive", "paper": "RC paper, grade 2"},
        "rests": "The paper's EI 1.33: 1 step sheet, 5 verdicts.",
        "day": "28 November 2026",
    }
    return Kit(**{**found, **more})
