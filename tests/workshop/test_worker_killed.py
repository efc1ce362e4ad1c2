"""A worker that is killed in the middle of a scan: the server starts another, which takes the work over within ten seconds; never two on one job."""

import os
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import tifffile
from tests.book.outside import environment
from tests.pages.served import Served

PROGRAM = [sys.executable, "-c", "from silverwright.cli.main import main; main()"]
PATIENCE_S = 60
WITHIN_S = 10


def asked(home: Path, query: str) -> list[tuple[Any, ...]]:
    with closing(sqlite3.connect(home / "book.sqlite3", timeout=20)) as book:
        return list(book.execute(query))


def until(true: Callable[[], bool], within_s: float) -> float:
    """How long it took."""
    began = time.monotonic()
    while not true():
        assert time.monotonic() - began < within_s, "it took too long"
        time.sleep(0.05)
    return time.monotonic() - began


def filled(home: Path, scan: Path) -> None:
    """A paper, a sheet and a scan whose reading nobody has begun."""
    acts = (
        "from silverwright import api\n"
        "import sys, pathlib\n"
        "api.do('paper', name='RC paper')\n"
        "api.do('expose', paper='RC paper')\n"
        "api.do('scan', file=pathlib.Path(sys.argv[1]), sheet=api.sheets()[0].sheet.number, untagged='linear')\n"
    )
    subprocess.run([sys.executable, "-c", acts, str(scan)], env=environment(home), check=True)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="finds the worker by its number")
def test_killed_in_the_middle_it_is_taken_over(tmp_path: Path) -> None:
    scan, home = tmp_path / "large.tif", tmp_path / "home"
    rows = np.random.default_rng(1).integers(0, 65535, (4200, 4200), np.uint16)
    tifffile.imwrite(scan, rows, compression="lzw")  # noise: as slow to read as a scan can be
    filled(home, scan)
    with Served(home):
        until(lambda: asked(home, "SELECT state FROM book_job")[0][0] == "running", PATIENCE_S)
        ((worker, tries),) = asked(home, "SELECT claimed_by, tries FROM book_job")
        assert tries == 1
        os.kill(int(worker.split("-")[-2]), signal.SIGKILL)
        taken_s = until(lambda: asked(home, "SELECT tries FROM book_job")[0][0] == 2, WITHIN_S)
        assert taken_s < WITHIN_S
        assert asked(home, "SELECT claimed_by FROM book_job")[0][0] != worker
        until(lambda: asked(home, "SELECT state FROM book_job")[0][0] not in {"waiting", "running"}, PATIENCE_S)
        assert asked(home, "SELECT state, said FROM book_job WHERE kind = 'look'") == [("done", "")]
    with Served(home):
        assert not list((home / "views").glob(".*")), "the killed child's half-made views stay"
    assert len(list((home / "views").iterdir())) == 1


def test_the_worker_ends_with_its_server(tmp_path: Path) -> None:
    filled(tmp_path / "home", Path(__file__))
    with Served(tmp_path / "home") as server:
        until(lambda: asked(server.home, "SELECT state FROM book_job")[0][0] == "done", PATIENCE_S)
        worker = int(asked(server.home, "SELECT claimed_by FROM book_job")[0][0].split("-")[-2])
        os.kill(worker, 0)
    with pytest.raises(ProcessLookupError):
        os.kill(worker, 0)
