"""The hazard card for the wall, written to a file."""

from pathlib import Path
from typing import TYPE_CHECKING, Final, cast

import click

from silverwright.cli.do import set_up
from silverwright.cli.main import SECTIONS
from silverwright.cli.told import telling

if TYPE_CHECKING:
    from silverwright.report.hazardcard import CardSheet

FILE: Final = "hazard-card.pdf"
PAGE: Final = click.Option(["--page"], type=click.Choice(["a4", "us-letter"]), default="a4", help="The size of the card. Without it: a4.")


def write_card(*, out: str, page: str) -> None:
    """What stands in the room, on one card."""
    from silverwright.book.opening import bring_up_to_date
    from silverwright.report.hazardcard import hazard_card_pdf
    from silverwright.workshop.hazardcard import hazard_card

    with telling():
        bring_up_to_date()
        content = hazard_card_pdf(hazard_card(), cast("CardSheet", page))
        Path(out).expanduser().write_bytes(content)
    click.echo(f"{out}  {len(content) // 1000 + 1} kB")


def command(name: str) -> click.Command:
    """`silverwright hazard-card`."""
    set_up()
    out = click.Option(["--out"], default=FILE, metavar="[file]", help=f"Where to write it. Without it: {FILE}, in this folder.")
    epilog = "\b\nExamples:\n  silverwright hazard-card\n  silverwright do workroom --poison-centre '555 0100'"
    return click.Command(name, params=[out, PAGE], callback=write_card, help=SECTIONS["Print"][name], epilog=epilog)
