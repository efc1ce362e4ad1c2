"""The tables: gear, paper, bottles, baths, sheets, what is being counted, what was scanned, measured and kept, what is being worked on."""

from silverwright.book.models.baths import Bath, BathEvent, WasteBottle, WasteEmptied
from silverwright.book.models.counted import Count
from silverwright.book.models.gear import Camera, Holder, HolderSide, Lens, Light, Meter
from silverwright.book.models.kept import Act, KeptAnswer
from silverwright.book.models.measured import Curve, LeftOut, Reading, ReciprocityTest, StepSheet, Verdict
from silverwright.book.models.paper import Chip, Lot, Paper
from silverwright.book.models.scanned import Calibration, Scan, ScanFile, Scanner, ScenePatch, StepLeftOut
from silverwright.book.models.sheet import Exposure, Processing, ProcessingStep, Sheet
from silverwright.book.models.shelf import Recipe, Stock, StockTest, Workroom
from silverwright.book.models.work import Job

__all__ = [
    "Act",
    "Bath",
    "BathEvent",
    "Calibration",
    "Camera",
    "Chip",
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
    "Recipe",
    "ReciprocityTest",
    "Scan",
    "ScanFile",
    "Scanner",
    "ScenePatch",
    "Sheet",
    "StepLeftOut",
    "StepSheet",
    "Stock",
    "StockTest",
    "Verdict",
    "WasteBottle",
    "WasteEmptied",
    "Workroom",
]
