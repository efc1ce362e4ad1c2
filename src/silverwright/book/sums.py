"""What the book holds, as sums that can be compared: one for each table."""

import hashlib
import json
import sqlite3
from contextlib import closing
from pathlib import Path

from silverwright.errors import BookDamaged


def table_sums(file: Path) -> dict[str, str]:
    """The SHA-256 of the content of every table of a book, row by row in a fixed order; where it lies in the file makes no difference."""
    try:
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as book:
            if book.execute("PRAGMA integrity_check").fetchone() != ("ok",):
                raise BookDamaged
            return sums_in(book)
    except sqlite3.DatabaseError:
        raise BookDamaged from None


def copy_book(file: Path, to: Path) -> dict[str, str]:
    """Copy a book, though somebody writes in it: all of one moment. The sums are those of the book itself at that moment, not of the copy."""
    with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True, isolation_level=None)) as book, closing(sqlite3.connect(to)) as copy:
        book.execute("BEGIN")
        sums = sums_in(book)  # the first reading holds the moment until the end of the transaction
        book.backup(copy)
        copy.execute("PRAGMA journal_mode = DELETE")
    return sums


def sums_in(book: sqlite3.Connection) -> dict[str, str]:
    """The sum of every table of an open book."""
    names = [name for (name,) in book.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")]
    return {name: _sum_of(book, name) for name in names}


def _sum_of(book: sqlite3.Connection, table: str) -> str:
    quoted = '"' + table.replace('"', '""') + '"'
    summed = hashlib.sha256()
    shape = [(column[1], column[2]) for column in book.execute(f"PRAGMA table_info({quoted})")]
    summed.update(json.dumps(shape).encode())
    for row in book.execute(f"SELECT * FROM {quoted} ORDER BY rowid"):  # noqa: S608 (the name comes from the book itself, quoted)
        summed.update(repr(row).encode())
    return summed.hexdigest()


def file_sum(file: Path) -> str:
    """The SHA-256 of a file."""
    with file.open("rb") as opened:
        return hashlib.file_digest(opened, "sha256").hexdigest()
