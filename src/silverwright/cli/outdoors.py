"""What is taken along: field page, exposure card and ruler target, written to a file."""

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.do import set_up
from silverwright.cli.fields import options_of, read_typed
from silverwright.cli.main import SECTIONS
from silverwright.cli.told import telling

if TYPE_CHECKING:
    from silverwright.report.kit import Kit

EXAMPLES: Final = {
    "field-page": "silverwright field-page --paper 'RC paper, grade 2' --out field-page.html",
    "card": "silverwright card --paper 'RC paper, grade 2' --lens '210 mm lens in a leaf shutter' --size a4 --out card.pdf",
    "ruler": "silverwright ruler --out ruler.pdf",
}
FILES: Final = {"field-page": "field-page.html", "card": "exposure-card.pdf", "ruler": "ruler-target.pdf"}
SIZE: Final = click.Option(
    ["--size"], type=click.Choice(["a6", "a4"]), default="a6", help="Two pages of A6, or one of A4 to fold twice. Without it: a6."
)
PAPER: Final = click.Option(
    ["--sheet"], type=click.Choice(["a4", "us-letter"]), default="a4", help="The sheet that it is printed on. Without it: a4."
)


def _kit(typed: dict[str, str | None]) -> "Kit":
    from silverwright.book.opening import bring_up_to_date
    from silverwright.workshop.outdoors import OutdoorsForm, take_along

    bring_up_to_date()
    return take_along(read_typed(OutdoorsForm, typed))


def _write(out: str, content: bytes) -> None:
    Path(out).expanduser().write_bytes(content)
    click.echo(f"{out}  {len(content) // 1000 + 1} kB")


def write_page(*, out: str, **typed: str | None) -> None:
    """The field page."""
    from silverwright.report.fieldpage import field_page

    with telling():
        _write(out, field_page(_kit(typed)).encode())


def write_card(*, out: str, size: str, **typed: str | None) -> None:
    """The exposure card."""
    from silverwright.report.card import card_pdf

    with telling():
        _write(out, card_pdf(_kit(typed), "a4" if size == "a4" else "a6"))


def write_ruler(*, out: str, sheet: str) -> None:
    """The ruler target."""
    from silverwright.report.target import target_pdf

    with telling():
        _write(out, target_pdf("us-letter" if sheet == "us-letter" else "a4"))


def command(name: str) -> click.Command:
    """`silverwright field-page`, `silverwright card`, `silverwright ruler`."""
    epilog = f"\b\nExample:\n  {EXAMPLES[name]}"
    says = SECTIONS["Take along"][name]
    out = click.Option(["--out"], default=FILES[name], metavar="[file]", help=f"Where to write it. Without it: {FILES[name]}, in this folder.")
    if name == "ruler":
        return click.Command(name, params=[out, PAPER], callback=write_ruler, help=says, epilog=epilog)
    set_up()
    from silverwright.workshop.outdoors import OutdoorsForm

    more = [SIZE] if name == "card" else []
    callback = write_card if name == "card" else write_page
    return click.Command(name, params=[out, *more, *options_of(OutdoorsForm)], callback=callback, help=says, epilog=epilog)
