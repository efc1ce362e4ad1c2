"""The one worker: takes work from the book, has files read in a capped child, and writes what came of it."""

import os
import secrets
import socket
import time
from collections.abc import Callable, Mapping
from threading import Event
from typing import Any, Final

from django.db import connection
from django.utils.timezone import now

from silverwright.book import jobs
from silverwright.book.files import VIEWS, find_file
from silverwright.book.models import Job, Scan
from silverwright.errors import ScanRefused
from silverwright.records import Grid
from silverwright.scanning.capped import carry_out
from silverwright.scanning.orders import Look, Measure, Place

PAUSE_S: Final = 0.3  # our judgement: nobody notices, and the processor does not either
Keep = Callable[[], None]
Beat = Callable[[int], None]


def work_until(told_to_end: Event) -> None:
    """Work until told to end; what is under way then is taken over by the next worker."""
    me = f"{socket.gethostname()}-{os.getpid()}-{secrets.token_hex(3)}"
    while not told_to_end.is_set():
        if not _next(me, told_to_end):
            connection.close()
            told_to_end.wait(PAUSE_S)


def finish(about: str) -> Job | None:
    """Without a server: do, or wait for, everything that one thing waits for; the newest work on it."""
    me = f"{socket.gethostname()}-{os.getpid()}-{secrets.token_hex(3)}"
    while jobs.open_still(about).exists():
        if not _next(me, Event()):
            time.sleep(PAUSE_S)
    return jobs.newest(about)


def _next(me: str, told_to_end: Event) -> bool:
    """Do the oldest work there is; whether there was any."""
    job = jobs.claim(me, now())
    if job is None:
        return False

    def work(job: Job, beat: Beat) -> Keep:
        def beat_on(percent: int) -> None:
            if told_to_end.is_set():
                jobs.give_back(job)
                raise jobs.Stopped
            beat(percent)

        return WORK[job.kind](job, beat_on)

    jobs.run(job, work)
    return True


def _look(job: Job, beat: Beat) -> Keep:
    """Read what the file says of itself, make pictures for the eye, look for the grid."""
    scan = Scan.objects.select_related("file").get(name=job.about)
    order = Look(
        path=str(find_file(scan.file.sha256)),
        untagged=_untagged(scan),
        tiles_folder=str(VIEWS / scan.views),
        rows=job.given.get("rows"),
        columns=job.given.get("columns"),
        find=scan.shows != "picture",
    )
    found, refused = _asked(order, beat)

    def keep() -> None:
        fresh = Scan.objects.get(pk=scan.pk)
        fresh.said = refused
        fresh.header, fresh.notes = found.get("header", {}), found.get("notes", [])
        by_hand = fresh.grid_by == "by hand" and not job.given.get("rows")  # what somebody placed stays, unless it is looked for anew
        if found.get("grid") and not by_hand:
            fresh.grid, fresh.grid_by = found["grid"], "found" if found["grid_sure"] else "nobody"
            fresh.header["grid_why"] = found["grid_why"]
        fresh.save()
        if not refused and (by_hand or fresh.places or found["grid_sure"]):
            jobs.ask("measure", scan.name)

    return keep


def _measure(job: Job, beat: Beat) -> Keep:
    """Read the patches of the grid, or the places of the picture."""
    scan = Scan.objects.select_related("file").get(name=job.about)
    grid = _as_grid(scan.grid) if scan.grid else None
    places = tuple(Place(*(one[name] / 100 for name in ("x_percent", "y_percent", "width_percent", "height_percent"))) for one in scan.places)
    found, refused = _asked(Measure(path=str(find_file(scan.file.sha256)), untagged=_untagged(scan), grid=grid, places=places), beat)

    def keep() -> None:
        fresh = Scan.objects.get(pk=scan.pk)
        if (fresh.grid, fresh.places) != (scan.grid, scan.places):
            raise jobs.Stopped  # the grid was moved meanwhile: other work is on its way
        fresh.said, fresh.signals = refused, found.get("patches", [])
        fresh.header |= {"halo_percent": found.get("halo_percent")}
        fresh.notes = [*fresh.notes, *(one for one in found.get("notes", []) if one not in fresh.notes)]
        fresh.save()

    return keep


def _as_grid(kept: Mapping[str, Any]) -> Grid:
    first, second, third, fourth = ((x, y) for x, y in kept["corners"])
    return Grid((first, second, third, fourth), kept["rows"], kept["columns"])


def _asked(order: Look | Measure, beat: Beat) -> tuple[dict[str, Any], str]:
    """What the child found, or why the file cannot be used."""
    try:
        return carry_out(order, beat), ""
    except ScanRefused as refused:
        return {"header": refused.header | {"asked": [fault.field for fault in refused.faults]}}, str(refused)


def _untagged(scan: Scan) -> str:
    return "" if scan.untagged == "unknown" else scan.untagged


WORK: Final[dict[str, Callable[[Job, Beat], Keep]]] = {"look": _look, "measure": _measure}
