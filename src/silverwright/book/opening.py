"""The book is opened: a newer one is refused, an older one is copied and then brought up to date."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from functools import cache
from pathlib import Path
from typing import Final

import django
from django.apps import apps
from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.db.migrations.loader import MigrationLoader

from silverwright.book.trouble import plain_trouble
from silverwright.errors import BookBusy, BookTooNew

SETTINGS: Final = "silverwright.book.settings"
LOCK: Final = "opening.lock"
LONGEST_S: Final = 120  # our judgement: no book takes longer to change its shape


def open_book() -> None:
    """Make the book usable in this process, once: without a server the book's own settings are enough."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", SETTINGS)
    _open()


@cache
def _open() -> None:
    if not apps.ready:
        django.setup()
    bring_up_to_date()


def bring_up_to_date() -> None:
    """Make the tables, or change them to today's shape; a book that was there is copied first, and a newer one is left alone."""
    file = Path(settings.DATABASES["default"]["NAME"])
    with plain_trouble():
        file.parent.mkdir(parents=True, exist_ok=True)
        if _applied_and_missing()[1]:
            with _alone(file.with_name(LOCK)):
                _migrate(file)


def _applied_and_missing() -> tuple[int, bool]:
    """How many steps the book has been through, and whether any of today's is missing; a step that nobody here knows is refused."""
    loader = MigrationLoader(connection)
    applied, known = set(loader.applied_migrations), set(loader.disk_migrations)
    ours = {app.label for app in apps.get_app_configs()}
    if newer := sorted(f"{app}.{name}" for app, name in applied - known if app in ours):
        raise BookTooNew(newer)
    return len(applied & known), not known <= applied


@contextmanager
def _alone(lock: Path) -> Iterator[None]:
    """One process at a time; the store's own lock ends with the process that holds it, however that ends."""
    with closing(sqlite3.connect(lock, timeout=LONGEST_S, isolation_level=None)) as held:
        try:
            held.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError:
            raise BookBusy from None
        yield


def _migrate(file: Path) -> None:
    """To today's shape, unless somebody else did it while we waited."""
    steps, missing = _applied_and_missing()
    if not missing:
        return
    if steps:
        _copy(file, file.with_name(f"before-{steps}-{file.name}"))
    call_command("migrate", verbosity=0, interactive=False)


def _copy(file: Path, to: Path) -> None:
    """The book as it was, beside it."""
    with closing(sqlite3.connect(file)) as book, closing(sqlite3.connect(to)) as copy:
        book.backup(copy)
