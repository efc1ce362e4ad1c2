"""A corner of the boatyard for the tests of acts: invented paper, lens and holder, and the sheets of a loop."""

from silverwright.workshop.act import Done
from silverwright.workshop.deeds import do

PAPER = "RC paper, grade 2"
LENS = "210 mm lens in a leaf shutter"
STILL_LIFE = {"lens": LENS, "reading_ev": 10, "meter_k": 12.5, "extension_mm": 315, "aperture_f": "f/22"}
STEPS = "-0.9 -0.75 -0.6 -0.45 -0.3 -0.15 0 0.15 0.3 0.45 0.6 0.75"
DENSITIES = "1.88 1.87 1.85 1.81 1.68 1.41 0.98 0.55 0.28 0.15 0.11 0.09"


def gear() -> None:
    """What stands in the shed."""
    do("paper", {"name": PAPER, "base": "RC", "contrast": "graded", "grade": 2, "sensitivity": "blue"})
    do("lot", {"name": "box A", "paper": PAPER, "size": "4x5 in", "sheets_left": 25})
    do("camera", {"name": "4x5 view camera"})
    do("camera", {"name": "box camera", "turned": "mirror or prism"})
    do("lens", {"name": LENS, "focal_mm": 210, "pupil_factor": 1})
    do("light", {"name": "north window", "light_class": "north window"})
    do("light", {"name": "work lamp", "light_class": "tungsten lamp"})
    do("meter", {"name": "hand meter", "meter_k": 12.5, "lowest_ei": 3})
    do("scanner", {"name": "flatbed in the office", "untagged": "gamma 2.2"})
    do("holder", {"name": "holder 1", "size": "4x5 in"})


def exposed(**more: object) -> str:
    """The number of a sheet that was exposed as planned."""
    return do("expose", {"paper": PAPER, **STILL_LIFE, "paper_ei": 1.5, "light": "north window", "subject": "caulking mallet", **more}).name


def learnt(**more: object) -> tuple[str, Done]:
    """A step sheet, read and learnt from."""
    number = exposed(subject="step tablet")
    do("step-sheet", {"sheet": number, "metered": True, "exposure_log10": STEPS, "densities": DENSITIES, **more})
    return number, do("learn", {"sheet": number})
