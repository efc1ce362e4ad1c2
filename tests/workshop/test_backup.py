"""A backup holds everything, damage to it is found, and nothing is overwritten when it comes back."""

import random
import shutil
import sqlite3
import stat
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from tests.book.outside import recorder, run

from silverwright.book.sums import copy_book, file_sum, table_sums
from silverwright.errors import BadBackup, BookDamaged
from silverwright.workshop.backup import backup, check, restore

DAMAGES = 1000


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with some sheets, the book's key, and a file beside."""
    home = tmp_path_factory.mktemp("data") / "home"
    assert run(home, "many", "0", "5").returncode == 0
    (home / "secret").write_text("not so secret")
    (home / "secret").chmod(0o600)
    (home / "scans").mkdir()
    (home / "scans" / "26-001.tif").write_bytes(bytes(range(256)) * 40)
    return home


@pytest.fixture(scope="module")
def kept(home: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    to = tmp_path_factory.mktemp("other disk") / "backup"
    backup(to, home)
    return to


@pytest.fixture
def copy(kept: Path, tmp_path: Path) -> Path:
    """A backup that may be damaged."""
    return Path(shutil.copytree(kept, tmp_path / "copy"))


def files_of(folder: Path) -> list[Path]:
    return sorted(file for file in folder.rglob("*") if file.is_file())


def test_everything_is_in_it(home: Path, kept: Path) -> None:
    assert [str(file.relative_to(kept)) for file in files_of(kept)] == [
        "files/book.sqlite3",
        "files/scans/26-001.tif",
        "files/secret",
        "manifest.json",
    ]
    assert table_sums(kept / "files" / "book.sqlite3") == table_sums(home / "book.sqlite3")
    assert check(kept).files == 3


def test_what_comes_back_is_what_was_there(home: Path, kept: Path, tmp_path: Path) -> None:
    back = tmp_path / "new" / "home"
    restore(kept, back)
    assert table_sums(back / "book.sqlite3") == table_sums(home / "book.sqlite3")
    assert file_sum(back / "scans" / "26-001.tif") == file_sum(home / "scans" / "26-001.tif")
    assert stat.S_IMODE((back / "secret").stat().st_mode) == 0o600
    assert run(back, "count").stdout == "5 6 0\n"
    assert run(back, "many", "5", "1").stdout == "ok 5 26-006\n"


def test_while_the_book_is_written_in(home: Path, tmp_path: Path) -> None:
    """An open transaction is not in it; what was committed is, though it still lies in the log beside the file."""
    with closing(sqlite3.connect(home / "book.sqlite3", isolation_level=None)) as book:
        book.execute("INSERT INTO book_camera (version, name, remarks, turned) VALUES (1, 'committed', '', 'no')")
        book.execute("BEGIN IMMEDIATE")
        book.execute("INSERT INTO book_camera (version, name, remarks, turned) VALUES (1, 'open', '', 'no')")
        backup(tmp_path / "backup", home)
        book.execute("ROLLBACK")
        book.execute("DELETE FROM book_camera")
    with closing(sqlite3.connect(tmp_path / "backup" / "files" / "book.sqlite3")) as copy:
        assert copy.execute("SELECT name FROM book_camera").fetchall() == [("committed",)]


def damages(files: list[Path], chance: random.Random) -> Iterator[tuple[str, Path, bytes | None]]:
    """A flipped bit, a shortened file, a missing one, a byte more: what it is, where, and what stands there then."""
    while True:
        file = chance.choice(files)
        content = file.read_bytes()
        match chance.choice(("flip", "truncate", "delete", "append", "zero")):
            case "flip":
                at = chance.randrange(len(content))
                yield f"bit at {at}", file, content[:at] + bytes([content[at] ^ 1 << chance.randrange(8)]) + content[at + 1 :]
            case "truncate":
                yield "truncated", file, content[: chance.randrange(len(content))]
            case "delete":
                yield "deleted", file, None
            case "append":
                yield "appended", file, content + bytes([chance.randrange(256)])
            case "zero":
                at = chance.randrange(len(content))
                if any(content[at : at + 512]):
                    yield f"zeros at {at}", file, (content[:at] + b"\0" * 512 + content[at + 512 :])[: len(content)]


def test_a_thousand_damages_are_found(copy: Path) -> None:
    unseen = []
    for number, (what, file, content) in zip(range(DAMAGES), damages(files_of(copy), random.Random(1)), strict=False):
        whole = file.read_bytes()
        if content is None:
            file.unlink()
        else:
            file.write_bytes(content)
        try:
            check(copy)
            unseen.append((number, what, file.name))
        except BadBackup:
            pass
        file.write_bytes(whole)
    assert unseen == []
    check(copy)


def test_damage_is_named_and_nothing_is_restored(copy: Path, tmp_path: Path) -> None:
    (copy / "files" / "secret").unlink()
    (copy / "files" / "scans" / "26-001.tif").write_bytes(b"")
    (copy / "files" / "stranger").touch()
    with pytest.raises(BadBackup) as caught:
        restore(copy, tmp_path / "home")
    assert caught.value.problems == ("secret is missing", "scans/26-001.tif is damaged", "stranger does not belong to it")
    assert [file.name for file in tmp_path.iterdir()] == ["copy"]


@pytest.mark.parametrize("text", ["", "{}", "[]", '{"manifest": "x", "sha256": "y"}', '{"manifest": 1, "sha256": 2}'])
def test_a_folder_that_is_no_backup(tmp_path: Path, text: str) -> None:
    if text:
        (tmp_path / "manifest.json").write_text(text)
    with pytest.raises(BadBackup, match="manifest"):
        check(tmp_path)


def test_nothing_is_overwritten(home: Path, kept: Path, tmp_path: Path) -> None:
    before = [file_sum(file) for file in files_of(home)]
    with pytest.raises(BadBackup, match="not empty, and nothing is overwritten"):
        restore(kept, home)
    with pytest.raises(BadBackup, match="something in it already"):
        backup(kept, home)
    (tmp_path / "file").touch()
    with pytest.raises(BadBackup, match="something in it already"):
        backup(tmp_path / "file", home)
    assert [file_sum(file) for file in files_of(home)] == before


def test_not_inside_the_data_folder(home: Path) -> None:
    with pytest.raises(BadBackup, match="inside the data folder"):
        backup(home / "backups" / "monday", home)
    assert not (home / "backups").exists()


def test_a_damaged_book_is_no_backup(home: Path, tmp_path: Path) -> None:
    """What cannot be read is not called a backup, and no half folder is left."""
    broken = Path(shutil.copytree(home, tmp_path / "broken"))
    content = (broken / "book.sqlite3").read_bytes()
    (broken / "book.sqlite3").write_bytes(content[:20000] + b"\xff" * 40000 + content[60000:])
    with pytest.raises((BadBackup, BookDamaged)):
        backup(tmp_path / "backup", broken)
    assert [file.name for file in tmp_path.iterdir()] == ["broken"]


def test_an_empty_folder_has_no_book(tmp_path: Path) -> None:
    with pytest.raises(BadBackup, match="no book in the data folder yet"):
        backup(tmp_path / "backup", tmp_path / "home")


def test_sums_tell_every_cell(home: Path, tmp_path: Path) -> None:
    """The same rows in another file have the same sums; one letter more has not."""
    shutil.copy(home / "book.sqlite3", tmp_path / "a.sqlite3")
    with closing(sqlite3.connect(tmp_path / "a.sqlite3")) as book:
        book.execute("VACUUM")
        assert table_sums(tmp_path / "a.sqlite3") == table_sums(home / "book.sqlite3")
        book.execute("UPDATE book_sheet SET remarks = 'x' WHERE number = '26-003'")
        book.commit()
    changed, same = table_sums(tmp_path / "a.sqlite3"), table_sums(home / "book.sqlite3")
    assert [name for name in same if changed[name] != same[name]] == ["book_sheet"]


def test_a_copy_that_differs_from_the_book_is_no_backup(home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The copy is compared with the original: here the copying itself goes wrong, though what it writes can be read."""

    def goes_wrong(file: Path, to: Path) -> dict[str, str]:
        sums = copy_book(file, to)
        with closing(sqlite3.connect(to)) as copy, copy:
            copy.execute("UPDATE book_sheet SET remarks = 'x' WHERE number = '26-003'")
        return sums

    monkeypatch.setattr("silverwright.workshop.backup.copy_book", goes_wrong)
    with pytest.raises(BadBackup, match="the table book_sheet differs"):
        backup(tmp_path / "backup", home)
    assert list(tmp_path.iterdir()) == []


def test_while_others_record(home: Path, tmp_path: Path) -> None:
    """Each backup holds one moment of a book in which another process writes without pause."""
    busy = Path(shutil.copytree(home, tmp_path / "busy"))
    writer = recorder(busy, "many", "5", "40")
    moments = 0
    while writer.poll() is None or not moments:
        to = tmp_path / f"backup {moments}"
        backup(to, busy)
        with closing(sqlite3.connect(to / "files" / "book.sqlite3")) as copy:
            acts, sheets, exposures = (
                copy.execute(f"SELECT count(*) FROM {table}").fetchone()[0] for table in ("book_act", "book_sheet", "book_exposure")
            )
        assert (acts, exposures) == (sheets + 1, sheets)
        moments += 1
    assert writer.communicate()[1] == ""


def test_two_backups_at_once(home: Path, tmp_path: Path) -> None:
    done: list[str] = []
    threads = [threading.Thread(target=lambda to=to: done.append(backup(tmp_path / to, home).where)) for to in ("a", "b")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(done) == [str(tmp_path / "a"), str(tmp_path / "b")]
