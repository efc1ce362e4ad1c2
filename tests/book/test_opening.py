"""A book is opened: made from nothing, copied before it changes its shape, and left alone when it is newer."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import call_command
from tests.book.outside import RECORDER, environment, run

from silverwright.book import migrations
from silverwright.book.sums import table_sums


@pytest.mark.django_db
def test_the_tables_are_what_the_models_say() -> None:
    call_command("makemigrations", "book", check=True, dry_run=True, verbosity=0)


def test_from_nothing(tmp_path: Path) -> None:
    home = tmp_path / "home"
    assert run(home, "count").stdout == "0 0 0\n"
    assert sorted(file.name for file in home.iterdir()) == ["book.sqlite3", "opening.lock"]
    assert {"book_sheet", "book_historicalsheet", "book_act"} <= set(table_sums(home / "book.sqlite3"))


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A book with three sheets."""
    assert run(tmp_path / "home", "many", "0", "3").returncode == 0
    return tmp_path / "home"


def test_opening_again_changes_nothing(home: Path) -> None:
    before = table_sums(home / "book.sqlite3")
    assert run(home, "count").stdout == "3 4 0\n"
    assert table_sums(home / "book.sqlite3") == before


STEPS = sorted(Path(migrations.__path__[0]).glob("0*.py"))
LATER = """
from django.db import migrations
class Migration(migrations.Migration):
    dependencies = [("book", "{newest}")]
    operations = [{operation}]
"""
WORKS = "migrations.RunSQL(\"UPDATE book_sheet SET remarks = 'from a later version'\")"
FAILS = 'migrations.RunSQL("UPDATE book_sheet SET remarks = \'half\'"), migrations.RunSQL("UPDATE no_such_table SET x = 1")'


def open_later(home: Path, folder: Path, operation: str) -> "subprocess.CompletedProcess[str]":
    """Open the book as a later version would, which changes the tables once more."""
    later = folder / "later"
    later.mkdir()
    (later / "__init__.py").touch()
    for file in STEPS:
        (later / file.name).write_text(file.read_text())
    (later / "0999_later.py").write_text(LATER.format(newest=STEPS[-1].stem, operation=operation))
    (folder / "later_settings.py").write_text("from silverwright.book.settings import *\nMIGRATION_MODULES = {'book': 'later'}\n")
    own = environment(home) | {"PYTHONPATH": str(folder), "DJANGO_SETTINGS_MODULE": "later_settings"}
    return subprocess.run([sys.executable, str(RECORDER), "count"], env=own, capture_output=True, text=True, check=False)


def test_an_older_book_is_copied_before_it_changes(home: Path, tmp_path: Path) -> None:
    before = table_sums(home / "book.sqlite3")
    opened = open_later(home, tmp_path, WORKS)
    assert opened.stdout == "3 4 0\n", opened.stderr
    assert table_sums(home / f"before-{len(STEPS)}-book.sqlite3") == before
    after = table_sums(home / "book.sqlite3")
    assert {name for name in after if after[name] != before[name]} == {"book_sheet", "django_migrations", "sqlite_sequence"}


def test_a_change_that_fails_leaves_the_book_as_it_was(home: Path, tmp_path: Path) -> None:
    before = table_sums(home / "book.sqlite3")
    assert open_later(home, tmp_path, FAILS).returncode != 0
    assert table_sums(home / "book.sqlite3") == before == table_sums(home / f"before-{len(STEPS)}-book.sqlite3")
    assert run(home, "count").stdout == "3 4 0\n"


def test_a_newer_book_is_left_alone(home: Path) -> None:
    with closing(sqlite3.connect(home / "book.sqlite3")) as book, book:
        book.execute("INSERT INTO django_migrations (app, name, applied) VALUES ('book', '0999_later', '2036-01-01')")
    before = table_sums(home / "book.sqlite3")
    refused = run(home, "count")
    assert "BookTooNew: A newer version of silverwright wrote this book. Nothing was changed." in refused.stderr
    assert table_sums(home / "book.sqlite3") == before


@pytest.mark.parametrize("content", [b"", b"no book at all, but some letters to fill a line" * 100])
def test_a_file_that_is_no_book(tmp_path: Path, content: bytes) -> None:
    home = tmp_path / "home"
    home.mkdir()
    (home / "book.sqlite3").write_bytes(content)
    opened = run(home, "count")
    if content:
        assert "BookDamaged" in opened.stderr
        assert (home / "book.sqlite3").read_bytes() == content
    else:
        assert opened.stdout == "0 0 0\n"


WIDENED = ("stepsheet", "exposure", "lens", "camera", "processingstep", "lot", "holderside")


def test_a_book_of_the_first_release_comes_forward_with_all_it_has(tmp_path: Path) -> None:
    """Its tables as they were before scans, with rows in them: everything is there afterwards, and the new columns are empty."""
    home = tmp_path / "home"
    assert run(home, "many", "0", "3").returncode == 0
    back = "import django; django.setup()\nfrom django.core.management import call_command\ncall_command('migrate', 'book', '0003', verbosity=0)"
    subprocess.run([sys.executable, "-c", back], env=environment(home) | {"DJANGO_SETTINGS_MODULE": "silverwright.book.settings"}, check=True)
    before = table_sums(home / "book.sqlite3")
    assert "book_scan" not in before
    assert run(home, "count").stdout == "3 4 0\n"
    after = table_sums(home / "book.sqlite3")
    assert "book_scan" in after
    changed = {name for name in before if before[name] != after[name]}
    widened = {f"book_{history}{kind}" for kind in WIDENED for history in ("", "historical")}
    assert changed <= widened | {"django_migrations", "sqlite_sequence"}


def back_to(home: Path, step: str, code: str = "") -> None:
    """Take the book back to an earlier shape, with this written into it on the way."""
    start = "import django; django.setup()\nfrom django.core.management import call_command"
    migrate = f"{start}\n{code}\ncall_command('migrate', 'book', '{step}', verbosity=0)"
    subprocess.run([sys.executable, "-c", migrate], env=environment(home) | {"DJANGO_SETTINGS_MODULE": "silverwright.book.settings"}, check=True)


TRAYS = """
from silverwright.workshop.deeds import do
do("process", {"sheet": "26-001", "steps": "bleach; 90; 20; acid bleach, tray 2", "when": "2026-01-12 11:10Z"})
"""


def test_a_book_from_before_the_shelf_keeps_the_names_of_its_baths(home: Path) -> None:
    """Its steps have the text that was written down and no bath of the book; afterwards the text can be matched to one."""
    back_to(home, "0011", TRAYS)
    with closing(sqlite3.connect(home / "book.sqlite3")) as book:
        columns = {row[1] for row in book.execute("PRAGMA table_info(book_processingstep)")}
    assert "in_bath_id" not in columns
    assert run(home, "count").stdout == "3 5 0\n"
    with closing(sqlite3.connect(home / "book.sqlite3")) as book:
        assert list(book.execute("SELECT bath, in_bath_id FROM book_processingstep")) == [("acid bleach, tray 2", None)]
        assert list(book.execute("SELECT count(*) FROM book_bath")) == [(0,)]
