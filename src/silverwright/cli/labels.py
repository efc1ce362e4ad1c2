"""Labels for bottles, baths, waste, sheets and holder sides, written to a file."""

from pathlib import Path
from typing import TYPE_CHECKING, Final, cast

import click

from silverwright.cli.do import set_up
from silverwright.cli.fields import options_of, read_typed
from silverwright.cli.main import SECTIONS
from silverwright.cli.told import telling

if TYPE_CHECKING:
    from silverwright.report.labels import LabelSize

EXAMPLES: Final = {
    "labels": "silverwright labels --what baths --out labels.pdf\n  silverwright labels --names 'B-05' --size a4",
    "sheet-labels": "silverwright sheet-labels --names '26-018 26-019'\n  silverwright sheet-labels --what 'holder sides' --size a4",
}
SIZE: Final = click.Option(
    ["--size"],
    type=click.Choice(["62x29", "a4", "us-letter"]),
    default="62x29",
    help="One on each page of 62 x 29 mm, or 24 on a sheet to cut apart. Without it: 62x29.",
)


def _write(name: str, out: str, size: str, typed: dict[str, str | None]) -> None:
    from silverwright.book.opening import bring_up_to_date
    from silverwright.report.labels import labels_pdf
    from silverwright.workshop.labels import SheetLabelsForm, ShelfLabelsForm, sheet_labels, shelf_labels

    form, labels = (ShelfLabelsForm, shelf_labels) if name == "labels" else (SheetLabelsForm, sheet_labels)
    with telling():
        bring_up_to_date()
        found = labels(read_typed(form, typed))
        content = labels_pdf(found, cast("LabelSize", size))
        Path(out).expanduser().write_bytes(content)
    click.echo(f"{out}  {len(found)} label{'' if len(found) == 1 else 's'}, {len(content) // 1000 + 1} kB")


def command(name: str) -> click.Command:
    """`silverwright labels`, `silverwright sheet-labels`."""
    set_up()
    from silverwright.workshop.labels import SheetLabelsForm, ShelfLabelsForm

    file = f"{name}.pdf"
    out = click.Option(["--out"], default=file, metavar="[file]", help=f"Where to write it. Without it: {file}, in this folder.")

    def write(*, out: str, size: str, **typed: str | None) -> None:
        _write(name, out, size, typed)

    params = [out, SIZE, *options_of(ShelfLabelsForm if name == "labels" else SheetLabelsForm)]
    return click.Command(name, params=params, callback=write, help=SECTIONS["Print"][name], epilog=f"\b\nExamples:\n  {EXAMPLES[name]}")
