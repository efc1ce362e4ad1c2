"""
A process that records, and says of every act that it is in the book.

    recorder.py many <first> <how many> [who]   gear once, then exposures; a line "ok <key> <number>" for each
    recorder.py same <key>                      one exposure with that key
    recorder.py fill <letters>                  cameras with long remarks until something is wrong; says what
    recorder.py count                           how many sheets, acts and cameras there are
    recorder.py nursery <folder>                for each name on standard input: a fork that records without end, acknowledging in
                                                <folder>/<name>; its process id on standard output. A fork needs no second to start
"""

import os
import resource
import signal
import sys
from pathlib import Path
from typing import Any

from django.apps import apps
from django.db import connections

from silverwright import api
from silverwright.errors import SilverwrightError

PAPER = "RC paper, grade 2"
STILL_LIFE: dict[str, Any] = {"reading_ev": 10, "meter_k": 12.5, "focal_mm": 210, "extension_mm": 315, "aperture_f": "f/22", "paper_ei": 1.5}
WHEN = "2026-01-12 10:40Z"


def say(*words: object) -> None:
    """On its way at once: what was said before a kill counts."""
    sys.stdout.write(" ".join(str(word) for word in words) + "\n")
    sys.stdout.flush()


def many(first: int, how_many: int, who: str = "") -> None:
    """Exposures, one act after the other."""
    api.do("paper", name=PAPER, key="paper")
    for running in range(first, first + how_many):
        done = api.do("expose", paper=PAPER, **STILL_LIFE, when=WHEN, subject=f"mallet {running}", who=who, key=f"{who}{running}")
        say("ok", f"{who}{running}", done.name)


def same(key: str) -> None:
    """One exposure."""
    say("ok", key, api.do("expose", paper=PAPER, **STILL_LIFE, when=WHEN, key=key).name)


def fill(letters: int) -> None:
    """Until the disk is full."""
    for running in range(100_000):
        try:
            api.do("camera", name=f"camera {running}", remarks="x" * letters, key=f"camera {running}")
        except SilverwrightError as error:
            say("error", type(error).__name__, error)
            return
        say("ok", f"camera {running}")


def nursery(folder: Path) -> None:
    """Forks that record; everything that takes time once is done before."""
    many(0, 1, "first-")
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # nobody waits for them
    for line in sys.stdin:
        connections.close_all()  # a fork must not share an open book
        name = line.strip()
        child = os.fork()
        if child == 0:
            os.dup2(os.open(folder / name, os.O_WRONLY | os.O_CREAT | os.O_APPEND), sys.stdout.fileno())
            many(0, 1_000_000, f"{name}-")
        say(child)


def count() -> None:
    """What is in the book."""
    api.open_book()
    say(*(apps.get_model("book", name).objects.count() for name in ("Sheet", "Act", "Camera")))


if __name__ == "__main__":
    what, *words = sys.argv[1:]
    if what.startswith("at most "):
        most = int(what.removeprefix("at most "))
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
        what, *words = words
    match what:
        case "many":
            many(int(words[0]), int(words[1]), *words[2:])
        case "same":
            same(words[0])
        case "fill":
            fill(int(words[0]))
        case "nursery":
            nursery(Path(words[0]))
        case "count":
            count()
