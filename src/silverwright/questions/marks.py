"""The series that are engraved on lenses, shutters and meters, as kernels take them."""

from functools import cache

from silverwright.facts.load import fact, facts
from silverwright.records import TimeSteps
from silverwright.units import SECOND


@cache
def aperture_marks() -> dict[float, float]:
    """Marked f-number to stops from f/1."""
    return {float(key): row.value for key, row in facts("aperture").items()}


@cache
def time_marks() -> dict[float, float]:
    """Marked time to stops from one second."""
    return {float(str(SECOND.read(key))): row.value for key, row in facts("shutter").items()}


@cache
def counted_steps() -> TimeSteps:
    """From which time on people count whole seconds, ten seconds, minutes."""
    names = ("settable_whole_second", "settable_ten_seconds", "settable_minute")
    return TimeSteps(*(fact("lens", name).value for name in names))
