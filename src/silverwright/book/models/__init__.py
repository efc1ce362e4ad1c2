"""The tables: gear and paper, sheets, what was measured, what was kept."""

from silverwright.book.models.gear import Camera, Holder, HolderSide, Lens, Light, Meter
from silverwright.book.models.kept import Act, KeptAnswer
from silverwright.book.models.measured import Curve, Reading, ReciprocityTest, StepSheet, Verdict
from silverwright.book.models.paper import Lot, Paper
from silverwright.book.models.sheet import Exposure, Processing, ProcessingStep, Sheet

__all__ = [
    "Act",
    "Camera",
    "Curve",
    "Exposure",
    "Holder",
    "HolderSide",
    "KeptAnswer",
    "Lens",
    "Light",
    "Lot",
    "Meter",
    "Paper",
    "Processing",
    "ProcessingStep",
    "Reading",
    "ReciprocityTest",
    "Sheet",
    "StepSheet",
    "Verdict",
]
