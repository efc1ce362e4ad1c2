"""What the store says when it cannot write, in words that say what to do."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import DatabaseError

from silverwright.errors import BookBusy, BookDamaged, BookOutOfReach, DiskFull, SilverwrightError

_FULL = ("database or disk is full", "disk i/o error")
_BUSY = ("locked", "busy")
_DAMAGED = ("malformed", "not a database")
_OUT_OF_REACH = ("unable to open", "readonly", "read-only")
_NO_ROOM = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_NO_WAY = {errno.EACCES, errno.EPERM, errno.EROFS, errno.ENOENT, errno.ENOTDIR, errno.EEXIST, errno.EISDIR, errno.ENAMETOOLONG}


@contextmanager
def plain_trouble() -> Iterator[None]:
    """
    Turn the store's own errors into ours.

    SQLite says "database or disk is full" on a full disk and "disk I/O error" where a file may grow no further: both mean that nothing was written.
    """
    try:
        yield
    except (DatabaseError, sqlite3.Error) as error:
        if (plain := _of_the_store(str(error).lower())) is None:
            raise
        raise plain from error
    except OSError as error:
        if error.errno in _NO_ROOM:
            raise DiskFull from error
        if error.errno in _NO_WAY:
            raise BookOutOfReach(f"{error.filename or 'its folder'}: {error.strerror}") from error
        raise


def _of_the_store(said: str) -> SilverwrightError | None:
    """What the store's own sentence means."""
    if any(words in said for words in _FULL):
        return DiskFull()
    if any(words in said for words in _BUSY):
        return BookBusy()
    if any(words in said for words in _DAMAGED):
        return BookDamaged()
    return BookOutOfReach(said) if any(words in said for words in _OUT_OF_REACH) else None
