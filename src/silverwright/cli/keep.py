"""Backup and restore on the command line."""

import os
from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.told import telling

if TYPE_CHECKING:
    from collections.abc import Callable

    from silverwright.workshop.backup import Kept

JSON_OPTION: Final = click.Option(["--json"], is_flag=True, help="What was kept, as JSON.")


def tell(keep: "Callable[[], Kept]", *, as_json: bool) -> None:
    """Do it, and say what was kept."""
    with telling():
        kept = keep()
    click.echo(kept.model_dump_json(indent=2) if as_json else kept.says)


def back_up(*, folder: str, check: bool, json: bool) -> None:
    """Copy the data folder, restore the copy beside it, and compare both; or only compare a backup that is there."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "silverwright.book.settings")
    from silverwright.workshop import backup

    tell(lambda: backup.check(folder) if check else backup.backup(folder), as_json=json)


def bring_back(*, backup_folder: str, folder: str | None, json: bool) -> None:
    """Bring a backup back, compared file by file."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "silverwright.book.settings")
    from silverwright.workshop import backup

    tell(lambda: backup.restore(backup_folder, folder), as_json=json)


def command(name: str) -> click.Command:
    """`silverwright backup` and `silverwright restore`."""
    if name == "backup":
        return click.Command(
            name,
            params=[
                click.Argument(["folder"]),
                click.Option(["--check"], is_flag=True, help="Only read a backup that is there, and compare it with its own list."),
                JSON_OPTION,
            ],
            callback=back_up,
            help="Copy the whole book into a new folder. The copy is restored once and compared before it counts.",
            epilog="\b\nExamples:\n  silverwright backup ~/backups/2026-11-25\n  silverwright backup ~/backups/2026-11-25 --check",
        )
    return click.Command(
        name,
        params=[click.Argument(["backup_folder"], metavar="BACKUP"), click.Argument(["folder"], required=False), JSON_OPTION],
        callback=bring_back,
        help="Bring a backup back into FOLDER, which is empty or does not exist; without FOLDER, into the data folder.",
        epilog="\b\nExample:\n  silverwright restore ~/backups/2026-11-25 ~/restored",
    )
