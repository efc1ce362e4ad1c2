"""What the store says in its own words comes out in ours."""

import errno
import os
import sqlite3
import subprocess
from pathlib import Path

import pytest
from django.db import DataError, OperationalError
from tests.book.outside import run

from silverwright.book.trouble import plain_trouble
from silverwright.errors import BookBusy, BookDamaged, BookOutOfReach, DiskFull, SilverwrightError


@pytest.mark.parametrize(
    ("error", "ours"),
    [
        (OperationalError("database or disk is full"), DiskFull),
        (OperationalError("disk I/O error"), DiskFull),
        (OperationalError("database is locked"), BookBusy),
        (sqlite3.OperationalError("database table is locked"), BookBusy),
        (sqlite3.DatabaseError("file is not a database"), BookDamaged),
        (OperationalError("database disk image is malformed"), BookDamaged),
        (OperationalError("unable to open database file"), BookOutOfReach),
        (OperationalError("attempt to write a readonly database"), BookOutOfReach),
        (OSError(errno.ENOSPC, "No space left on device"), DiskFull),
        (OSError(errno.EFBIG, "File too large"), DiskFull),
        (PermissionError(errno.EACCES, "Permission denied", "/shelf"), BookOutOfReach),
    ],
    ids=lambda one: str(one) if isinstance(one, Exception) else one.__name__,
)
def test_in_our_words(error: Exception, ours: type[SilverwrightError]) -> None:
    with pytest.raises(ours) as caught, plain_trouble():
        raise error
    assert caught.value.__cause__ is error
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize("error", [DataError("something else"), OSError(errno.EINTR, "interrupted"), ValueError("ours to mend")])
def test_what_is_nobody_else_s_fault_stays_as_it_is(error: Exception) -> None:
    with pytest.raises(type(error)) as caught, plain_trouble():
        raise error
    assert caught.value is error


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    refused = run(tmp_path / "file" / "home", "count")
    assert "BookOutOfReach: The book cannot be opened or written" in refused.stderr


def test_a_book_that_may_only_be_read(tmp_path: Path) -> None:
    """As root every file may be written, so the disk itself is made read-only."""
    if os.name != "posix" or os.geteuid() != 0:
        pytest.skip("mounting needs root")
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", str(disk)], capture_output=True, check=False).returncode:
        pytest.skip("mounting is not allowed here")
    try:
        assert run(disk / "home", "many", "0", "1").returncode == 0
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        refused = run(disk / "home", "many", "1", "1")
        assert "BookOutOfReach" in refused.stderr, refused.stderr
        subprocess.run(["mount", "-o", "remount,rw", str(disk)], check=True)
        assert run(disk / "home", "count").stdout == "1 2 0\n"
    finally:
        subprocess.run(["umount", str(disk)], check=True)
