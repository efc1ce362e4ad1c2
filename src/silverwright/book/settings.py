"""Django as the book needs it: where the data lies, the store, and the key that signs cookies."""

import os
import secrets
from pathlib import Path
from typing import Any, Final

from django.utils.functional import SimpleLazyObject
from platformdirs import user_data_path

SILVERWRIGHT_HOME: Final = Path(os.environ.get("SILVERWRIGHT_HOME") or user_data_path("silverwright", appauthor=False)).expanduser().absolute()

BOOK: Final = "book.sqlite3"


def _secret() -> str:
    """The key of this book: made once, readable by its owner only. Nothing is made before somebody signs with it."""
    file = SILVERWRIGHT_HOME / "secret"
    if not file.exists():
        SILVERWRIGHT_HOME.mkdir(parents=True, exist_ok=True)
        fresh = SILVERWRIGHT_HOME / f"secret-{os.getpid()}-{secrets.token_hex(4)}"
        with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="ascii") as new:
            new.write(secrets.token_urlsafe(50))
            new.flush()
            os.fsync(new.fileno())
        try:
            os.link(fresh, file)  # the first one stays, whoever comes second reads it
        except FileExistsError:
            pass
        except OSError:
            fresh.replace(file)  # a disk that knows no links
        finally:
            fresh.unlink(missing_ok=True)
    return file.read_text(encoding="ascii")


INSTALLED_APPS: list[str] = ["simple_history", "silverwright.book"]
DATABASES: dict[str, dict[str, Any]] = {
    "default": {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": SILVERWRIGHT_HOME / BOOK,
        "TEST": {"NAME": SILVERWRIGHT_HOME / "test.sqlite3"},
        "OPTIONS": {
            "timeout": 20,
            "transaction_mode": "IMMEDIATE",
            "init_command": "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA cache_size = -20000",
        },
    }
}
USE_TZ = True
TIME_ZONE = "UTC"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
SECRET_KEY = SimpleLazyObject(_secret)
