"""Files that were handed in, kept byte for byte under their SHA-256, and the folders beside the book."""

import hashlib
import os
import shutil
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Protocol

from django.conf import settings

from silverwright.book.trouble import plain_trouble
from silverwright.errors import UnknownName

HOME: Final = Path(settings.SILVERWRIGHT_HOME)
KEPT: Final = HOME / "files"
INCOMING: Final = HOME / "incoming"  # what is on its way; emptied when the server starts
VIEWS: Final = HOME / "views"  # pictures for the eye, made from the files: losing them costs their making
PIECE_BYTES: Final = 1 << 20  # our judgement: a megabyte at a time
_LETTERS: Final = frozenset("0123456789abcdef")


@dataclass(frozen=True, slots=True)
class KeptFile:
    """A file in the folder: its SHA-256, and how long it is."""

    sha256: str
    size_bytes: int


def keep(pieces: Iterable[bytes]) -> KeptFile:
    """
    Keep a file for good: written beside, forced to the disk, then given its name.

    Whoever is killed on the way leaves nothing but a file in `incoming`. The same bytes handed in twice lie there once.
    """
    with plain_trouble():
        INCOMING.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=INCOMING)
        try:
            digest, size = hashlib.sha256(), 0
            with os.fdopen(handle, "wb") as fresh:
                for piece in pieces:
                    digest.update(piece)
                    size += fresh.write(piece)
                fresh.flush()
                os.fsync(fresh.fileno())
            _into_place(Path(name), digest.hexdigest())
        finally:
            Path(name).unlink(missing_ok=True)
    return KeptFile(digest.hexdigest(), size)


class Readable(Protocol):
    """Something that gives its next bytes: an open file, or a request on its way in."""

    def read(self, size: int, /) -> bytes:
        """At most so many bytes; none at the end."""
        ...


def keep_open(file: Readable) -> KeptFile:
    """Keep what an open file holds from where it stands."""
    return keep(iter(lambda: file.read(PIECE_BYTES), b""))


def find_file(sha256: str) -> Path:
    """Where a kept file lies; `UnknownName` when it was never handed in."""
    if len(sha256) == hashlib.sha256().digest_size * 2 and set(sha256) <= _LETTERS and (path := _place(sha256)).is_file():
        return path
    raise UnknownName("file", ascii(sha256)[1:-1][:40])


def clear_away() -> None:
    """When the server starts: throw away what never arrived whole, and half-made views; nobody was told that they are kept."""
    with plain_trouble():
        shutil.rmtree(INCOMING, ignore_errors=True)
        INCOMING.mkdir(parents=True, exist_ok=True)
        for half_made in VIEWS.glob(".*"):
            shutil.rmtree(half_made, ignore_errors=True)


def _place(sha256: str) -> Path:
    return KEPT / sha256[:2] / sha256


def _into_place(fresh: Path, sha256: str) -> None:
    place = _place(sha256)
    if place.is_file():
        return
    place.parent.mkdir(parents=True, exist_ok=True)
    fresh.chmod(0o444)
    fresh.replace(place)
    for folder in (place.parent, KEPT, HOME):
        _sync(folder)


def _sync(folder: Path) -> None:
    """The folder's list of names, too; other systems than POSIX cannot and need not."""
    if os.name == "posix":
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)
