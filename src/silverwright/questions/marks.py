"""The series that are engraved on lenses, shutters and meters, as kernels take them."""

from functools import cache
from math import log2
from typing import Final

from silverwright.facts.load import fact, facts
from silverwright.records import TimeSteps
from silverwright.units import F_NUMBER, SECOND

THIRDS: Final = 3  # common practice: apertures are set by thirds of a stop


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


def mark_said(f_number: float) -> str:
    """`f/64 and a third`: an opening as one sets it, by the full stops that are engraved and thirds between them."""
    thirds = round(THIRDS * 2 * log2(f_number))
    full = {round(stops): mark for mark, stops in aperture_marks().items() if stops == round(stops)}
    stops = min(max(thirds // THIRDS, min(full)), max(full))
    return F_NUMBER.show(full[stops]) + ("", " and a third", " and two thirds")[thirds % THIRDS]
