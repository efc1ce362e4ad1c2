"""The present moment, by the clocks of this computer: the only place that reads them for a count."""

import time
from functools import cache
from pathlib import Path
from typing import Final

from silverwright.processing.clock import Stamp

BOOT_ID: Final = Path("/proc/sys/kernel/random/boot_id")


@cache
def boot() -> str:
    """Which start of the computer this is; nothing where no clock goes on while it sleeps."""
    if not hasattr(time, "CLOCK_BOOTTIME"):
        return ""
    try:
        return BOOT_ID.read_text(encoding="ascii").strip()
    except OSError:
        return ""


def stamp() -> Stamp:
    """Now."""
    this = boot()
    return Stamp(time.time(), this, time.clock_gettime(time.CLOCK_BOOTTIME)) if this else Stamp(time.time())
