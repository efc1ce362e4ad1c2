"""What the store says when it cannot write, in words that say what to do."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import DatabaseError

from silverwright.errors import BookBusy, BookDamaged, DiskFull

_FULL = ("database or disk is full", "disk i/o error", "unable to open database file")
_DAMAGED = ("malformed", "not a database")


@contextmanager
def plain_trouble() -> Iterator[None]:
    """
    Turn the store's own errors into ours.

    SQLite says "database or disk is full" on a full disk and "disk I/O error" where a file may grow no further: both mean that nothing was written.
    """
    try:
        yield
    except DatabaseError as error:
        said = str(error).lower()
        if any(words in said for words in _FULL):
            raise DiskFull from error
        if "locked" in said or "busy" in said:
            raise BookBusy from error
        if any(words in said for words in _DAMAGED):
            raise BookDamaged from error
        raise
    except OSError as error:
        if error.errno in {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}:
            raise DiskFull from error
        raise
