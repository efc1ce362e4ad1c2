"""The boatyard's example, beside the user's own book."""

import os
import signal

import click

from silverwright.cli.serve import wanted_port
from silverwright.cli.told import telling


def example() -> None:
    """Start the example's server; it ends with this command."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "silverwright.web.settings")
    os.environ["PORT"] = str(wanted_port())
    from django.conf import settings

    from silverwright.web.example import BESIDE, FOLDER

    with telling():
        address = BESIDE.start()
    click.echo(f"the boatyard  {address}   everything in it is invented")
    click.echo(f"data folder   {settings.SILVERWRIGHT_HOME / FOLDER}")
    for one in (signal.SIGINT, signal.SIGTERM):
        signal.signal(one, lambda *_: BESIDE.stop())
    BESIDE.wait()


def command(name: str) -> click.Command:
    """`silverwright example`."""
    return click.Command(
        name,
        callback=example,
        help="Open the boatyard's example: an invented book in its own folder, never mixed into yours. Ctrl-C ends it.",
        epilog="\b\nExample:\n  silverwright example",
    )
