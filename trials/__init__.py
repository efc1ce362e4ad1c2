"""
Made worlds that the engine is tried in, and nothing of the engine.

`trials.scans` draws scans of step sheets, tablets and pictures as a flatbed would deliver them, and knows the true densities and corners;
`trials.darkrooms` lets papers, baths, lights and shutters vary from sheet to sheet, and holds the plain methods that a photographer would
use instead. A trial proves something only if the world was not built from the thing that is tried in it: this package imports nothing of
`silverwright`, `silverwright` imports nothing of it, and their curves are of different families. Tests and `tools/bench.py` import both.
It is no part of the wheel.
"""
