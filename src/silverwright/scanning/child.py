"""
The child that reads one file: caps and an order come in on standard input, percent and one last word go out on standard output.

It ends when standard input closes, for then nobody waits any more.
"""

import ctypes
import json
import os
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from threading import Thread
from typing import Any, Final, TextIO

from silverwright.errors import NotEnoughReadings, OutOfRange, ScanRefused
from silverwright.scanning.orders import Look, Order, from_line

OUT_OF_MEMORY: Final = "reading it takes more memory than a scan may take. Is it damaged? Save it uncompressed, or cut it smaller."
OUR_FAULT: Final = "the part of the program that reads scans made a mistake. Open the file elsewhere and save it as a new TIFF."
GONE: Final = "it is not where it was kept."
NO_ROOM: Final = "its pictures could not be written. Is the disk full, or its folder closed? Make room, and have it read again."
DIE_WITH_PARENT: Final = 1  # source: Linux, prctl: PR_SET_PDEATHSIG


def main() -> None:
    """Carry out one order."""
    say = _saying(_own_output())
    cap(json.loads(sys.stdin.readline()))
    order = from_line(sys.stdin.readline())
    Thread(target=_end_with_stdin, daemon=True).start()
    say(**last_word(order, lambda percent: say(percent=percent)))


def cap(caps: dict[str, float]) -> None:
    """Take no more than this: the system itself ends or refuses what goes beyond."""
    with suppress(ImportError):  # other systems than POSIX have no such limits; the parent watches
        import resource  # noqa: PLC0415

        memory_bytes, cpu_s = int(caps["memory_bytes"]), int(caps["cpu_s"])
        told_first = (cpu_s, cpu_s + 1)  # the first ends with a signal that says why
        for what, most in ((resource.RLIMIT_DATA, (memory_bytes,) * 2), (resource.RLIMIT_CPU, told_first), (resource.RLIMIT_CORE, (0, 0))):
            with suppress(ValueError, OSError):
                resource.setrlimit(what, most)
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(DIE_WITH_PARENT, signal.SIGKILL)


def last_word(order: Order, on_percent: Callable[[int], None]) -> dict[str, Any]:
    """What was found, why the file cannot be measured, or what went wrong."""
    try:
        return {"result": _carry_out(order, on_percent)}
    except ScanRefused as refused:
        faults = [{"field": one.field, "given": one.given, "problem": one.problem} for one in refused.faults]
        return {"refused": faults, "header": refused.header}
    except FileNotFoundError:
        return {"failed": GONE}
    except (OutOfRange, NotEnoughReadings) as wrong:
        return {"refused": [{"field": "grid", "given": "", "problem": str(wrong)}], "header": {}}
    except Exception as wrong:  # noqa: BLE001 (whatever it was, somebody must be told in words)
        return {"failed": _why(wrong)}


def _why(wrong: Exception) -> str:
    """In words."""
    from silverwright.scanning.bands import short_of_memory  # noqa: PLC0415 (it needs libraries)

    if short_of_memory(wrong):
        return OUT_OF_MEMORY
    return NO_ROOM if isinstance(wrong, OSError) else OUR_FAULT


def _carry_out(order: Order, on_percent: Callable[[int], None]) -> dict[str, Any]:
    if isinstance(order, Look):
        from silverwright.scanning.look import look  # noqa: PLC0415 (each order needs libraries of its own)

        return look(order, on_percent)
    from silverwright.scanning.measure import measure  # noqa: PLC0415

    return measure(order, on_percent)


def _own_output() -> TextIO:
    """Our words go where the parent listens; what libraries print goes nowhere."""
    told = os.fdopen(os.dup(1), "w", encoding="utf-8")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    return told


def _saying(told: TextIO) -> Callable[..., None]:
    """Words as lines of JSON; the same percent only once."""
    last = [-1]

    def say(**words: Any) -> None:  # noqa: ANN401 (JSON)
        if words.get("percent") == last[0]:
            return
        last[0] = words.get("percent", -1)
        told.write(json.dumps(words) + "\n")
        told.flush()

    return say


def _end_with_stdin() -> None:
    while os.read(sys.stdin.fileno(), 1):
        pass
    os._exit(1)


if __name__ == "__main__":
    main()
