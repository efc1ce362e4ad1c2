"""The book is opened: a newer one is refused, an older one is copied and then brought up to date."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Final

import django
from django.apps import apps
from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.db.migrations.loader import MigrationLoader

from silverwright.book.trouble import plain_trouble
from silverwright.errors import BookTooNew

SETTINGS: Final = "silverwright.book.settings"


def open_book() -> None:
    """Make the book usable in this process, once: without a server the book's own settings are enough."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", SETTINGS)
    if not apps.ready:
        django.setup()
        bring_up_to_date()


def bring_up_to_date() -> None:
    """Make the tables, or change them to today's shape; a book that was there is copied first, and a newer one is left alone."""
    file = Path(settings.DATABASES["default"]["NAME"])
    with plain_trouble():
        file.parent.mkdir(parents=True, exist_ok=True)
        loader = MigrationLoader(connection)
        applied, known = set(loader.applied_migrations), set(loader.disk_migrations)
        ours = {app.label for app in apps.get_app_configs()}
        newer = sorted(f"{app}.{name}" for app, name in applied - known if app in ours)
        if newer:
            raise BookTooNew(newer)
        if known <= applied:
            return
        if applied:
            _copy(file, file.with_name(f"before-{len(applied)}-{file.name}"))
        call_command("migrate", verbosity=0, interactive=False)


def _copy(file: Path, to: Path) -> None:
    """The book as it was, beside it."""
    with closing(sqlite3.connect(file)) as book, closing(sqlite3.connect(to)) as copy:
        book.backup(copy)
