"""What each note of the darkroom's chemistry says - strengths, mixing, acidity, tests, hazards. As in sentences.py."""

from typing import Final

from silverwright.notes import Note, Severity

OF_CHEMISTRY: Final[dict[Note, tuple[Severity, str]]] = {}
