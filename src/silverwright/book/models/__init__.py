"""The tables: gear and paper, sheets, what is being counted, what was scanned and measured, what was kept, what is being worked on."""

from silverwright.book.models.counted import Count
from silverwright.book.models.gear import Camera, Holder, HolderSide, Lens, Light, Meter
from silverwright.book.models.kept import Act, KeptAnswer
from silverwright.book.models.measured import Curve, LeftOut, Reading, ReciprocityTest, StepSheet, Verdict
from silverwright.book.models.paper import Lot, Paper
from silverwright.book.models.scanned import Calibration, Scan, ScanFile, Scanner, ScenePatch, StepLeftOut
from silverwright.book.models.sheet import Exposure, Processing, ProcessingStep, Sheet
from silverwright.book.models.work import Job

__all__ = [
    "Act",
    "Calibration",
    "Camera",
    "Count",
    "Curve",
    "Exposure",
    "Holder",
    "HolderSide",
    "Job",
    "KeptAnswer",
    "LeftOut",
    "Lens",
    "Light",
    "Lot",
    "Meter",
    "Paper",
    "Processing",
    "ProcessingStep",
    "Reading",
    "ReciprocityTest",
    "Scan",
    "ScanFile",
    "Scanner",
    "ScenePatch",
    "Sheet",
    "StepLeftOut",
    "StepSheet",
    "Verdict",
]
