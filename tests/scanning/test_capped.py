"""The child takes no more than its caps, ends with whoever waits for it, and leaves nothing half."""

import json
import mmap
import os
import signal
import subprocess
import sys
import threading
import time
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import tifffile
from tests.scanning.files import WHOLE, pixels, tiff

from silverwright.errors import ScanFailed, ScanRefused
from silverwright.records import Grid
from silverwright.scanning import capped
from silverwright.scanning.capped import CAPS, carry_out
from silverwright.scanning.orders import Look, Measure, as_line

MEGABYTE = 1_000_000
ONE = Grid(WHOLE, 1, 1)


def large(path: Path, height: int = 6000, width: int = 4000) -> Path:
    """Slow to look at: packed, 24 megapixels."""
    numbers = np.random.default_rng(3).integers(0, 65536, (500, width, 3), dtype="u2")
    return tiff(path, np.tile(numbers, (height // 500, 1, 1)), compression="lzw", rowsperstrip=16)


@pytest.fixture(scope="module")
def slow(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return large(tmp_path_factory.mktemp("scans") / "slow.tif")


def order(path: Path, folder: Path) -> Look:
    return Look(str(path), "linear", str(folder / "views"), find=False)


def children() -> set[str]:
    """Children of this process that run our program."""
    listed = subprocess.run(["ps", "-o", "args=", "--ppid", str(os.getpid())], capture_output=True, text=True, check=False).stdout
    return {line for line in listed.splitlines() if capped.PROGRAM in line}


def test_measured_in_a_child(tmp_path: Path) -> None:
    path = tiff(tmp_path / "a.tif", pixels())
    heard: list[int] = []
    found = carry_out(Measure(str(path), "linear", ONE), heard.append)
    assert found["bits"] == 16
    assert found["patches"][0]["pixels"] == 45 * 60
    assert heard == sorted(heard)
    assert children() == set()


def test_refused_with_every_reason_and_what_is_known(tmp_path: Path) -> None:
    path = tiff(tmp_path / "a.tif", pixels(channels=4).astype("f4"), photometric="separated")
    with pytest.raises(ScanRefused) as refused:
        carry_out(order(path, tmp_path), lambda _: None)
    assert len(refused.value.faults) == 2
    assert refused.value.header["width_px"] == 120
    assert sorted(one.name for one in tmp_path.iterdir()) == ["a.tif"]


def test_too_much_memory(tmp_path: Path, slow: Path) -> None:
    """Sixty megabytes do not hold the libraries and the rows of this scan."""
    with pytest.raises(ScanFailed, match=r"more memory than a scan may take|ended without a word"):
        carry_out(order(slow, tmp_path), lambda _: None, replace(CAPS, memory_bytes=60 * MEGABYTE))
    assert list(tmp_path.iterdir()) == []
    assert children() == set()


@pytest.mark.skipif(sys.platform == "win32", reason="no such limits there")
def test_the_system_itself_refuses_more_memory() -> None:
    """Twice what was allowed, in a process that capped itself: refused at once, however fast it was asked for."""
    code = (
        "from silverwright.scanning.child import cap\n"
        f"cap({{'memory_bytes': {200 * MEGABYTE}, 'cpu_s': 100}})\n"
        f"try:\n    bytearray({400 * MEGABYTE})\nexcept MemoryError:\n    print('refused')\n"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "refused\n"


def test_the_parent_watches_memory_too(tmp_path: Path, slow: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(capped, "held_bytes", lambda _: 2 * CAPS.memory_bytes)
    with pytest.raises(ScanFailed, match="more memory than a scan may take"):
        carry_out(order(slow, tmp_path), lambda _: None)
    assert children() == set()


@pytest.mark.skipif(sys.platform != "linux", reason="read from /proc")
def test_held_memory_is_seen() -> None:
    before_bytes = capped.held_bytes(os.getpid())
    more = mmap.mmap(-1, 40 * MEGABYTE)
    more.write(b"x" * len(more))
    assert capped.held_bytes(os.getpid()) - before_bytes > 35 * MEGABYTE


def test_too_long(tmp_path: Path, slow: Path) -> None:
    begun = time.monotonic()
    with pytest.raises(ScanFailed, match="longer than a scan may take"):
        carry_out(order(slow, tmp_path), lambda _: None, replace(CAPS, wall_s=0.3))
    assert time.monotonic() - begun < 3
    assert list(tmp_path.iterdir()) == []


def test_too_much_of_the_processor(tmp_path: Path, slow: Path) -> None:
    with pytest.raises(ScanFailed, match=r"longer than a scan may take"):
        carry_out(order(slow, tmp_path), lambda _: None, replace(CAPS, cpu_s=1.0))
    assert list(tmp_path.iterdir()) == []


def test_whoever_waits_loses_interest(tmp_path: Path, slow: Path) -> None:
    class NoMore(Exception):
        pass

    calls = []

    def stop(percent: int) -> None:
        calls.append(percent)
        if len(calls) == 2:
            raise NoMore

    begun = time.monotonic()
    with pytest.raises(NoMore):
        carry_out(order(slow, tmp_path), stop)
    assert time.monotonic() - begun < 3
    assert list(tmp_path.iterdir()) == []
    assert children() == set()


def test_heard_every_second_even_without_news(tmp_path: Path, slow: Path) -> None:
    at: list[float] = []
    carry_out(order(slow, tmp_path), lambda _: at.append(time.monotonic()))
    assert max(after - before for before, after in pairwise(at)) < 1
    assert (tmp_path / "views" / "preview.png").is_file()


def test_killed_in_the_middle(tmp_path: Path, slow: Path) -> None:
    def kill(_: int) -> None:
        for pid in ours():
            os.kill(pid, signal.SIGKILL)

    with pytest.raises(ScanFailed, match="ended without a word"):
        carry_out(order(slow, tmp_path), kill)
    assert list(tmp_path.iterdir()) == []


def ours() -> list[int]:
    listed = subprocess.run(["ps", "-o", "pid=,args=", "--ppid", str(os.getpid())], capture_output=True, text=True, check=False).stdout
    return [int(line.split()[0]) for line in listed.splitlines() if capped.PROGRAM in line]


PARENT = """
import sys
from silverwright.scanning.capped import carry_out
from silverwright.scanning.orders import Look
told = []
def say(percent):
    if not told:
        print("begun", flush=True)
    told.append(percent)
carry_out(Look(sys.argv[1], "linear", sys.argv[2], find=False), say)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="read from /proc")
def test_the_child_ends_with_its_parent(tmp_path: Path, slow: Path) -> None:
    parent = subprocess.Popen([sys.executable, "-c", PARENT, str(slow), str(tmp_path / "views")], stdout=subprocess.PIPE, text=True)
    assert parent.stdout is not None
    assert parent.stdout.readline() == "begun\n"
    child = int(Path(f"/proc/{parent.pid}/task/{parent.pid}/children").read_text().split()[0])
    parent.kill()
    parent.wait()
    until = time.monotonic() + 3
    while alive(child) and time.monotonic() < until:
        time.sleep(0.02)
    assert not alive(child)
    assert not (tmp_path / "views").exists()


def alive(pid: int) -> bool:
    try:
        return " Z " not in Path(f"/proc/{pid}/stat").read_text()
    except OSError:
        return False


def test_a_child_whose_input_closes_ends(tmp_path: Path, slow: Path) -> None:
    """On systems that do not kill children with their parents."""
    (tmp_path / "temporary").mkdir()
    child = subprocess.Popen([sys.executable, "-m", capped.PROGRAM], stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True)
    assert child.stdin is not None
    child.stdin.write(json.dumps({"memory_bytes": 1 << 30, "cpu_s": 100, "wall_s": 100}) + "\n" + as_line(order(slow, tmp_path)) + "\n")
    child.stdin.close()
    assert child.wait(5) == 1


def test_pictures_are_replaced_as_a_whole(tmp_path: Path) -> None:
    path = tiff(tmp_path / "a.tif", pixels())
    (tmp_path / "views").mkdir()
    (tmp_path / "views" / "old.png").write_bytes(b"old")
    carry_out(order(path, tmp_path), lambda _: None)
    assert not (tmp_path / "views" / "old.png").exists()
    assert (tmp_path / "views" / "tiles.dzi").is_file()
    assert sorted(one.name for one in tmp_path.iterdir()) == ["a.tif", "views"]


def test_what_a_stopped_computer_left_is_cleared(tmp_path: Path) -> None:
    path = tiff(tmp_path / "a.tif", pixels())
    for name, age_s in ((f"{capped.OWN_FOLDERS}old", 2 * capped.STALE_S), (f"{capped.OWN_FOLDERS}new", 0)):
        (tmp_path / name).mkdir()
        os.utime(tmp_path / name, (time.time() - age_s,) * 2)
    carry_out(order(path, tmp_path), lambda _: None)
    assert sorted(one.name for one in tmp_path.iterdir()) == [f"{capped.OWN_FOLDERS}new", "a.tif", "views"]


def test_several_at_once(tmp_path: Path) -> None:
    """Each child is fed and heard by itself."""
    found: dict[int, Any] = {}

    def one(seed: int) -> None:
        path = tiff(tmp_path / f"{seed}.tif", np.full((40, 40), 1000 * seed, "u2"))
        found[seed] = carry_out(Measure(str(path), "linear", ONE), lambda _: None)["patches"][0]["grey"]

    threads = [threading.Thread(target=one, args=(seed,)) for seed in (1, 2, 3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == {seed: pytest.approx(1000 * seed / 65535) for seed in (1, 2, 3)}


def test_a_file_that_is_gone(tmp_path: Path) -> None:
    with pytest.raises(ScanFailed, match="not where it was kept"):
        carry_out(Measure(str(tmp_path / "nothing.tif"), "linear", ONE), lambda _: None)


def test_what_was_made_for_it_can_be_read(slow: Path) -> None:
    with tifffile.TiffFile(slow) as file:
        assert file.pages[0].shape == (6000, 4000, 3)
