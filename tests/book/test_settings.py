"""How the book lies in its folder: the store's pragmas, the key that signs cookies, and where the folder is."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from django.db import connection
from tests.book.outside import environment


def python(home: Path | None, program: str, **more: str) -> str:
    own = environment(home or Path())
    if home is None:
        del own["SILVERWRIGHT_HOME"]
    done = subprocess.run([sys.executable, "-c", program], env=own | more, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


@pytest.mark.django_db
@pytest.mark.parametrize(("pragma", "value"), [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1)])
def test_what_survives_a_power_cut(pragma: str, value: object) -> None:
    """WAL with synchronous FULL (2): a commit that was acknowledged is on the disk."""
    if pragma == "journal_mode" and "memory" in str(connection.settings_dict["NAME"]):
        pytest.skip("a book in memory has no journal")
    with connection.cursor() as cursor:
        assert cursor.execute(f"PRAGMA {pragma}").fetchone() == (value,)


def test_no_transaction_around_a_whole_request() -> None:
    assert connection.settings_dict["ATOMIC_REQUESTS"] is False
    assert connection.settings_dict["OPTIONS"]["transaction_mode"] == "IMMEDIATE"


@pytest.mark.skipif(os.name != "posix", reason="modes of files")
def test_the_key_is_made_once_and_for_its_owner_only(tmp_path: Path) -> None:
    home = tmp_path / "home"
    told = "from silverwright.book import settings; print(settings.SECRET_KEY)"
    first = python(home, told)
    assert len(first) > 50
    assert python(home, told) == first
    assert stat.S_IMODE((home / "secret").stat().st_mode) == 0o600
    assert [file.name for file in home.iterdir()] == ["secret"]


def test_nothing_is_made_before_it_is_needed(tmp_path: Path) -> None:
    home = tmp_path / "home"
    python(home, "import django; from silverwright.book import settings")
    assert not home.exists()


def test_the_usual_folder_of_this_computer(tmp_path: Path) -> None:
    told = python(None, "from silverwright.book import settings; print(settings.SILVERWRIGHT_HOME)", XDG_DATA_HOME=str(tmp_path), HOME=str(tmp_path))
    assert told.endswith("silverwright")
    assert str(tmp_path) in told


def test_asking_opens_no_book(tmp_path: Path) -> None:
    program = (
        "import sys; from silverwright import api; api.ask('exposure.bellows', focal_mm=210, extension_mm=315);"
        "print('django' in sys.modules, 'numpy' in sys.modules)"
    )
    assert python(tmp_path / "home", program) == "False False"
    assert not (tmp_path / "home").exists()
