"""
A file of an image is read in a child of ours that may take so much memory and time, and no more.

What a file does to a decoder happens in the child. It ends with its order, with us (its standard input closes), when it takes too much, or
when whoever waits loses interest. What it wrote until then is thrown away.
"""

import json
import os
import queue
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from threading import Thread
from typing import IO, Any, Final

from silverwright.errors import Fault, ScanFailed, ScanRefused
from silverwright.scanning.child import OUT_OF_MEMORY
from silverwright.scanning.orders import Look, Order, as_line

TICK_S: Final = 0.5  # our judgement: whoever waits hears twice a second that the child lives
OWN_FOLDERS: Final = ".reading-"
STALE_S: Final = 86_400  # arithmetic: a day; no reading takes as long, so what lies there is left over
LONGEST_LINE: Final = 1 << 26  # our judgement: 64 MiB; far more than the patches of any sheet
PROGRAM: Final = "silverwright.scanning.child"
# Few threads: each holds rows of its own, and two are as quick as the file can be read. Two heaps: every further one reserves memory.
SURROUNDINGS: Final = {"VIPS_CONCURRENCY": "2", "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MALLOC_ARENA_MAX": "2"}

TIME_IS_UP: Final = getattr(signal, "SIGXCPU", 0)  # where the system counts the processor's time

TOO_LONG: Final = "reading it takes longer than a scan may take. Is it damaged? Save it uncompressed, or cut it smaller."
DIED: Final = "the part of the program that reads scans ended without a word. Is the file damaged? Open it elsewhere and save it as a new TIFF."


@dataclass(frozen=True, slots=True)
class Caps:
    """What one child may take."""

    memory_bytes: int = 1 << 30
    wall_s: float = 1800.0
    cpu_s: float = 3600.0


CAPS: Final = Caps()  # our judgement: several times what the largest scan was seen to need, and longer than anybody waits


def carry_out(order: Order, on_percent: Callable[[int], None], caps: Caps = CAPS) -> dict[str, Any]:
    """
    Have a child carry out an order, and give back what it found.

    `on_percent` hears the latest percent at least once a second; whatever it raises ends the child and is raised again. `ScanRefused` when
    the file cannot be measured, with every reason; `ScanFailed` when the child ended in any other way. The pictures of a `Look` are in
    place when it returns, or none of them is.
    """
    with _own_folder(order) as folder:
        sent = replace(order, tiles_folder=str(folder / "views")) if isinstance(order, Look) else order
        told = _told_by_child(sent, folder, on_percent, caps)
        if "refused" in told:
            raise ScanRefused([Fault(**fault) for fault in told["refused"]], told["header"])
        if "result" not in told:
            raise ScanFailed(told["failed"])
        if isinstance(order, Look):
            _put(folder / "views", Path(order.tiles_folder))
    found: dict[str, Any] = told["result"]
    return found


@contextmanager
def _own_folder(order: Order) -> Iterator[Path]:
    """A folder for the child alone, gone afterwards; beside the pictures' own, so that they can be put in place by a new name."""
    beside, prefix = None, "scan-"
    if isinstance(order, Look):
        place = Path(order.tiles_folder)
        beside, prefix = place.parent, OWN_FOLDERS
        beside.mkdir(parents=True, exist_ok=True)
        for left_over in beside.glob(f"{prefix}*"):  # of a computer that stopped in the middle
            with suppress(FileNotFoundError):  # another child has just ended
                if time.time() - left_over.stat().st_mtime > STALE_S:
                    shutil.rmtree(left_over, ignore_errors=True)
    folder = Path(tempfile.mkdtemp(prefix=prefix, dir=beside))
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _put(views: Path, place: Path) -> None:
    """The pictures get their place; older ones make room."""
    if place.exists():
        place.rename(views.parent / "older")
    views.rename(place)


def _told_by_child(order: Order, folder: Path, on_percent: Callable[[int], None], caps: Caps) -> dict[str, Any]:
    """The child's last word, or ours when it has none."""
    (folder / "temporary").mkdir()
    child = subprocess.Popen(  # noqa: S603 (our own interpreter with our own module)
        [sys.executable, "-P", "-m", PROGRAM],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, **SURROUNDINGS, "TMPDIR": str(folder / "temporary")},
        encoding="utf-8",
        start_new_session=True,
    )
    assert child.stdin is not None  # noqa: S101 (it is a pipe)
    assert child.stdout is not None  # noqa: S101 (it is a pipe)
    lines: queue.SimpleQueue[str] = queue.SimpleQueue()
    Thread(target=_pass_on, args=(child.stdout, lines), daemon=True).start()
    try:
        _send(child.stdin, json.dumps(asdict(caps)), as_line(order))
        return _listen(child, lines, on_percent, caps)
    finally:
        child.kill()
        child.wait()
        with suppress(BrokenPipeError):
            child.stdin.close()


def _send(stdin: IO[str], *lines: str) -> None:
    """Tell the child; one that is gone already is noticed by its silence."""
    with suppress(BrokenPipeError):
        stdin.writelines(f"{line}\n" for line in lines)
        stdin.flush()


def _pass_on(stdout: IO[str], lines: "queue.SimpleQueue[str]") -> None:
    """Line by line; an empty one at the end."""
    with stdout:
        while line := stdout.readline(LONGEST_LINE):
            lines.put(line)
    lines.put("")


def _listen(child: "subprocess.Popen[str]", lines: "queue.SimpleQueue[str]", on_percent: Callable[[int], None], caps: Caps) -> dict[str, Any]:
    """Until the child's last word: pass on its percent, and watch what it takes."""
    percent, begun, beaten = 0, time.monotonic(), float("-inf")
    while True:
        if time.monotonic() - beaten >= TICK_S:
            on_percent(percent)
            beaten = time.monotonic()
        if time.monotonic() - begun > caps.wall_s:
            return {"failed": TOO_LONG}
        if held_bytes(child.pid) > caps.memory_bytes:
            return {"failed": OUT_OF_MEMORY}
        try:
            line = lines.get(timeout=TICK_S / 2)
        except queue.Empty:
            continue
        if not line:
            return {"failed": TOO_LONG if child.wait() == -TIME_IS_UP else DIED}
        told: dict[str, Any] = json.loads(line)
        if "percent" not in told:
            return told
        percent = max(percent, int(told["percent"]))


def held_bytes(process: int) -> int:
    """Memory that a process holds for itself; what it reads of a file through the system's own memory is not counted. 0 where nobody tells."""
    try:
        status = Path(f"/proc/{process}/status").read_text(encoding="ascii")
    except OSError:
        return 0
    held = dict(line.split(":", 1) for line in status.splitlines() if line.startswith(("RssAnon", "RssShmem")))
    return sum(int(size.split()[0]) for size in held.values()) * 1024
