"""Files are kept byte for byte, whole or not at all."""

import hashlib
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from tests.book.outside import environment

from silverwright.book.files import INCOMING, KEPT, clear_away, find_file, keep, keep_open
from silverwright.errors import DiskFull, UnknownName


def test_a_file_lies_under_its_sum_byte_for_byte() -> None:
    data = os.urandom(3_000_001)
    kept = keep_open(BytesIO(data))
    assert (kept.sha256, kept.size_bytes) == (hashlib.sha256(data).hexdigest(), len(data))
    assert find_file(kept.sha256).read_bytes() == data
    assert list(INCOMING.iterdir()) == []


def test_the_same_bytes_twice_lie_there_once() -> None:
    first = keep([b"twice the ", b"same"])
    place = find_file(first.sha256)
    before = place.stat().st_ino
    assert keep([b"twice", b" the same"]) == first
    assert find_file(first.sha256).stat().st_ino == before


def test_whoever_breaks_off_leaves_nothing() -> None:
    def broken() -> Iterator[bytes]:
        yield b"half of it"
        raise ConnectionResetError

    before = sorted(KEPT.rglob("*"))
    with pytest.raises(ConnectionResetError):
        keep(broken())
    assert list(INCOMING.iterdir()) == []
    assert sorted(KEPT.rglob("*")) == before


def test_a_full_disk_says_so() -> None:
    def full() -> Iterator[bytes]:
        yield b"some"
        raise OSError(28, "No space left on device")

    with pytest.raises(DiskFull):
        keep(full())
    assert list(INCOMING.iterdir()) == []


@pytest.mark.parametrize("name", ["", "../secret", "0" * 63, "0" * 64, "G" * 64, "a" * 64 + "/x", "\N{DIGIT ONE}" * 64])
def test_what_was_never_handed_in_is_unknown(name: str) -> None:
    with pytest.raises(UnknownName):
        find_file(name)


def test_a_killed_process_leaves_nothing_behind_the_next_start(tmp_path: Path) -> None:
    """Killed in the middle of a file: nothing stands under a sum, and what is on its way goes at the next start."""
    program = (
        "import sys, time\n"
        "from silverwright.book.opening import open_book\n"
        "open_book()\n"
        "from silverwright.book.files import keep\n"
        "def slow():\n"
        "    yield b'x' * 1000\n"
        "    print('half', flush=True)\n"
        "    time.sleep(60)\n"
        "keep(slow())\n"
    )
    process = subprocess.Popen([sys.executable, "-c", program], env=environment(tmp_path), stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    assert process.stdout.readline() == "half\n"
    process.kill()
    process.wait()
    process.stdout.close()
    assert len(list((tmp_path / "incoming").iterdir())) == 1
    assert not (tmp_path / "files").exists()
    clean = "from silverwright.book.opening import open_book\nopen_book()\nfrom silverwright.book.files import clear_away\nclear_away()"
    subprocess.run([sys.executable, "-c", clean], env=environment(tmp_path), check=True)
    assert list((tmp_path / "incoming").iterdir()) == []


def test_emptying_keeps_what_is_kept() -> None:
    kept = keep([b"stays", str(time.time()).encode()])
    (INCOMING / "half").write_bytes(b"half")
    clear_away()
    assert list(INCOMING.iterdir()) == []
    assert find_file(kept.sha256).is_file()
