"""A backup, and back again. A backup counts only after it was restored once and compared."""

import hashlib
import json
import os
import shutil
import tempfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from django.conf import settings

from silverwright import __version__
from silverwright.asking.operation import Record
from silverwright.book.settings import BOOK
from silverwright.book.sums import copy_book, file_sum, table_sums
from silverwright.book.trouble import plain_trouble
from silverwright.errors import BadBackup, BookDamaged

MANIFEST: Final = "manifest.json"
FILES: Final = "files"
FORMAT: Final = 1
ONLY_HERE: Final = ("-wal", "-shm", "-journal", ".lock")  # what the store keeps beside its file while it is open
ON_THE_WAY: Final = "incoming"  # files that have not arrived whole


class Kept(Record):
    """A backup that was restored and compared, or a book that was restored from one."""

    where: str
    files: int
    tables: int
    says: str


def backup(to: str | Path, home: str | Path | None = None) -> Kept:
    """
    Copy the whole data folder into a new folder, restore that copy into a scratch folder, and compare every file and table with the original.

    The folder gets its name only when all is well; until then there is none. The book may be in use meanwhile.

    Raises: BadBackup when the folder is not empty or the copy differs; DiskFull; BookDamaged.
    """
    home, target = _folder(home), Path(to).expanduser().absolute()
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise BadBackup(str(target), ["there is something in it already: name a new folder"])
    if target == home or home in target.parents:
        raise BadBackup(str(target), ["it would lie inside the data folder: name a folder elsewhere, best on another disk"])
    if not (home / BOOK).exists():
        raise BadBackup(str(home), ["there is no book in the data folder yet"])
    with plain_trouble():
        target.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".silverwright-", dir=target.parent) as scratch:
            fresh = Path(scratch) / "backup"
            fresh.mkdir()
            _write_manifest(fresh, *_copy_home(home, fresh / FILES))
            kept = _restore(fresh, Path(scratch) / "restored")
            _sync(fresh)
            _into_place(fresh, target)
    return Kept(where=str(target), files=kept.files, tables=kept.tables, says=f"Backup in {target}: restored once and compared, {_counts(kept)}.")


def restore(from_: str | Path, to: str | Path | None = None) -> Kept:
    """
    Bring a backup back into an empty data folder, compared file by file and table by table.

    Raises: BadBackup when the backup is damaged or the data folder is not empty: nothing is overwritten.
    """
    home = _folder(to)
    if home.exists() and (not home.is_dir() or any(home.iterdir())):
        raise BadBackup(str(home), ["the data folder is not empty, and nothing is overwritten: move it away first, or name another one"])
    with plain_trouble():
        kept = _restore(Path(from_).expanduser().absolute(), home)
        _sync(home)
    return Kept(where=str(home), files=kept.files, tables=kept.tables, says=f"Restored into {home} and compared, {_counts(kept)}.")


def check(where: str | Path) -> Kept:
    """Read a whole backup and compare it with its manifest; `BadBackup` says everything that is wrong."""
    with plain_trouble():
        source = Path(where).expanduser().absolute()
        manifest = _read_manifest(source)
        problems = _differences(source / FILES, manifest)
        if problems:
            raise BadBackup(str(source), problems)
    kept = Kept(where=str(source), files=len(manifest["files"]), tables=len(manifest["tables"]), says="")
    return kept.model_copy(update={"says": f"{source}: {_counts(kept)}, all as written."})


def _folder(home: str | Path | None) -> Path:
    """The data folder that is meant; this book's own, unless another is named."""
    return Path(home or settings.SILVERWRIGHT_HOME).expanduser().absolute()


def _counts(kept: Kept) -> str:
    return f"{kept.files} file{'' if kept.files == 1 else 's'} and {kept.tables} tables"


def _copy_home(home: Path, to: Path) -> tuple[dict[str, str], dict[str, str]]:
    """
    Everything in the data folder; the book through the store's own copy, so that an open one is whole.

    The sums of the files and of the book's tables are those of the originals: the copy is compared with them, not with itself.
    """
    to.mkdir()
    files: dict[str, str] = {}
    for file in sorted(home.rglob("*")):
        inside = file.relative_to(home)
        if file.is_symlink() or not file.is_file() or file == home / BOOK or file.name.endswith(ONLY_HERE) or inside.parts[0] == ON_THE_WAY:
            continue
        files[str(inside)] = file_sum(file)
        (to / inside).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(file, to / inside)
    tables = copy_book(home / BOOK, to / BOOK)
    return files | {BOOK: file_sum(to / BOOK)}, tables


def _write_manifest(target: Path, files: dict[str, str], tables: dict[str, str]) -> None:
    manifest = {
        "format": FORMAT,
        "version": __version__,
        "made_at": datetime.now(UTC).isoformat(timespec="seconds"),
        "files": files,
        "tables": tables,
    }
    text = json.dumps(manifest, indent=1, sort_keys=True)
    (target / MANIFEST).write_text(json.dumps({"manifest": text, "sha256": _sum_of_text(text)}), encoding="utf-8")


def _read_manifest(source: Path) -> dict[str, Any]:
    try:
        outer = json.loads((source / MANIFEST).read_text(encoding="utf-8"))
        if outer["sha256"] != _sum_of_text(str(outer["manifest"])):
            raise BadBackup(str(source), ["its manifest is damaged"])
        manifest: dict[str, Any] = json.loads(outer["manifest"])
        if manifest["format"] != FORMAT:
            raise BadBackup(str(source), [f"it is of format {manifest['format']}, this version reads {FORMAT}"])
    except (OSError, ValueError, KeyError, TypeError):
        raise BadBackup(str(source), ["its manifest is missing or damaged"]) from None
    return manifest


def _sum_of_text(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _differences(files: Path, manifest: dict[str, Any]) -> list[str]:
    """What is missing, changed, or there without belonging."""
    there = {str(file.relative_to(files)): file for file in files.rglob("*") if file.is_file() and not file.is_symlink()} if files.is_dir() else {}
    problems = [f"{name} is missing" for name in manifest["files"] if name not in there]
    problems += [f"{name} is damaged" for name, expected in manifest["files"].items() if name in there and file_sum(there[name]) != expected]
    problems += [f"{name} does not belong to it" for name in sorted(set(there) - set(manifest["files"]))]
    if not problems:
        try:
            tables = table_sums(files / BOOK)
        except BookDamaged:
            return [f"{BOOK} is damaged"]
        problems = [f"the table {name} differs" for name in sorted(set(tables) ^ set(manifest["tables"]))]
        problems += [f"the table {name} differs" for name, expected in manifest["tables"].items() if tables.get(name) not in {expected, None}]
    return problems


def _restore(source: Path, home: Path) -> Kept:
    """Check, copy, compare the copy."""
    manifest = _read_manifest(source)
    if problems := _differences(source / FILES, manifest):
        raise BadBackup(str(source), problems)
    home.parent.mkdir(parents=True, exist_ok=True)
    fresh = Path(tempfile.mkdtemp(prefix=".silverwright-", dir=home.parent))
    try:
        for name in manifest["files"]:
            (fresh / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(source / FILES / name, fresh / name)
        if problems := _differences(fresh, manifest):
            raise BadBackup(str(source), problems)
        _into_place(fresh, home)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return Kept(where=str(home), files=len(manifest["files"]), tables=len(manifest["tables"]), says="")


def _into_place(fresh: Path, folder: Path) -> None:
    """Under its own name only when it is whole."""
    if folder.exists():
        folder.rmdir()
    fresh.rename(folder)


def _sync(folder: Path) -> None:
    """On the disk, not only on its way there."""
    for file in [*folder.rglob("*"), folder]:
        if os.name == "posix" or file.is_file():
            opened = os.open(file, os.O_RDONLY)
            try:
                os.fsync(opened)
            finally:
                os.close(opened)
