"""The disk is full: a plain sentence, nothing half written, everything old readable, and on it goes when there is room again."""

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.book.outside import run

from silverwright.errors import DiskFull
from silverwright.workshop.backup import backup

PLAIN = "error DiskFull The disk is full, or a file may grow no further. Nothing of this was written"


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of four megabytes in memory, where mounting is allowed."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if os.name != "posix" or os.geteuid() != 0:
        pytest.skip("mounting needs root; the file-size limit is tested instead")
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", str(disk)], capture_output=True, check=False)
    if mounted.returncode:
        pytest.skip("mounting is not allowed here; the file-size limit is tested instead")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def counted(home: Path) -> tuple[int, int, int]:
    sheets, acts, cameras = run(home, "count").stdout.split()
    return int(sheets), int(acts), int(cameras)


def check_full(home: Path, *limit: str) -> int:
    """Record until it says so; every acknowledged act is there, and not one more."""
    full = run(home, *limit, "fill", "3500")
    assert full.stderr == ""
    *told, last = full.stdout.splitlines()
    assert last.startswith(PLAIN), last
    assert len(told) > 3
    assert all(line.startswith("ok camera") for line in told)
    return len(told)


def test_a_small_disk(small_disk: Path) -> None:
    home = small_disk / "home"
    assert run(home, "many", "0", "3").returncode == 0
    ballast = small_disk / "ballast"
    ballast.write_bytes(b"x" * 1_000_000)
    told = check_full(home)
    assert counted(home) == (3, 1 + 3 + told, told)
    ballast.unlink()
    again = run(home, "many", "3", "2")
    assert again.stdout.splitlines() == ["ok 3 26-004", "ok 4 26-005"], again.stderr
    assert counted(home) == (5, 1 + 5 + told, told)


def test_a_backup_that_does_not_fit(small_disk: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    assert run(home, "many", "0", "3").returncode == 0
    (home / "scan").write_bytes(b"x" * 3_900_000)
    with pytest.raises(DiskFull):
        backup(small_disk / "backup", home)
    assert list(small_disk.iterdir()) == [], "no half backup is left"
    assert counted(home) == (3, 4, 0)


def test_a_file_that_may_grow_no_further(tmp_path: Path) -> None:
    home = tmp_path / "home"
    assert run(home, "many", "0", "3").returncode == 0
    limit = 300_000 + max(file.stat().st_size for file in home.iterdir())
    told = check_full(home, f"at most {limit}")
    assert counted(home) == (3, 1 + 3 + told, told)
    again = run(home, "many", "3", "2")
    assert again.stdout.splitlines() == ["ok 3 26-004", "ok 4 26-005"], again.stderr


def test_no_room_for_a_book_at_all(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    refused = run(home, "at most 20000", "count")
    assert refused.returncode != 0
    assert "DiskFull" in refused.stderr
