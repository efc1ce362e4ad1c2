"""Every question that can be asked here, and where it lives; one that is asked is imported then, so that a command builds what it needs."""

from difflib import get_close_matches
from functools import cache
from importlib import import_module
from typing import Final

from silverwright.asking.operation import AnyOperation
from silverwright.errors import UnknownName

HOMES: Final = {  # name of the question: its file in questions/, and what it is called there
    "exposure.ledger": "ledger.LEDGER",
    "exposure.reading": "meter.READING",
    "exposure.bellows": "bellows.BELLOWS",
    "exposure.shutter": "shutter.SHUTTER",
    "exposure.opening": "opening.OPENING",
    "exposure.box": "box.BOX",
    "exposure.sharpness": "sharpness.SHARPNESS",
    "exposure.blue-focus": "bluefocus.BLUE_FOCUS",
    "exposure.light": "light.LIGHT",
    "exposure.filter": "filter.FILTER",
    "exposure.reciprocity": "reciprocity.RECIPROCITY",
    "exposure.reciprocity-plan": "reciprocity_plan.RECIPROCITY_PLAN",
    "exposure.reciprocity-sheet": "reciprocity_sheet.RECIPROCITY_SHEET",
    "exposure.strips": "strips.STRIPS",
    "exposure.scene": "scene.SCENE",
    "exposure.contrast": "contrast.CONTRAST",
    "exposure.preexposure": "preexposure.PREEXPOSURE",
    "exposure.changing": "changing.CHANGING",
    "exposure.daylight": "daylight.DAYLIGHT",
    "exposure.flash": "flash.FLASH",
    "exposure.sitter": "sitter.SITTER",
    "sensitometry.curve": "curve.CURVE",
    "sensitometry.index": "index.INDEX",
    "sensitometry.next": "next_exposure.NEXT",
    "sensitometry.steps": "stepsheet.STEPS",
    "densitometry.tone": "tone.TONE",
    "densitometry.calibration": "calibration.CALIBRATION",
    "densitometry.patches": "patches.PATCHES",
    "paper.cutting": "cutting.CUTTING",
    "chemistry.mix": "mix.MIX",
    "chemistry.strength": "strength.STRENGTH",
    "chemistry.dilution": "dilution.DILUTION",
    "chemistry.added": "added.ADDED",
    "chemistry.replenish": "replenish.REPLENISH",
    "chemistry.ph": "ph.PH_OF",
    "chemistry.water": "water.WATER",
    "chemistry.silver": "silver.SILVER",
    "chemistry.washing": "washing.WASHING",
    "chemistry.vessel": "vessel.VESSEL",
    "chemistry.hazard": "dangers.DANGERS",
    "chemistry.apart": "meeting.MEETING",
    "chemistry.titration": "assay.TITRATION",
    "chemistry.gas": "gas.GAS",
    "chemistry.strip": "peroxide_strip.STRIP",
    "chemistry.bleach-out": "bleachout.BLEACH_OUT",
    "chemistry.decay": "decay.DECAY",
}


def find(name: str) -> AnyOperation:
    """The operation of that name."""
    if name not in HOMES:
        raise UnknownName("question", name, get_close_matches(name, HOMES, n=3))
    return _at(HOMES[name])


def catalogue() -> tuple[AnyOperation, ...]:
    """Every operation, in the order of the list."""
    return tuple(_at(home) for home in HOMES.values())


@cache
def _at(home: str) -> AnyOperation:
    module, attribute = home.split(".")
    operation: AnyOperation = getattr(import_module(f"silverwright.questions.{module}"), attribute)
    return operation
