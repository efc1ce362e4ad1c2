"""The mixing card, written to a file."""

from pathlib import Path
from typing import Final

import click

from silverwright.cli.fields import options_of, read_typed
from silverwright.cli.main import SECTIONS
from silverwright.cli.told import telling

FILE: Final = "mixing-card.pdf"
EXAMPLE: Final = "silverwright mixing-card --recipe 'peroxide bath' --volume-ml '1 L' --stocks 'blue can; hydrogen peroxide; 35; % w/w'"
PAGE: Final = click.Option(["--page"], type=click.Choice(["a5", "half-letter"]), default="a5", help="The size of the card. Without it: a5.")


def write_card(*, out: str, page: str, **typed: str | None) -> None:
    """One bath on one card."""
    from silverwright.questions.mix import MixQuestion, answer
    from silverwright.report.mixingcard import mixing_card_pdf

    with telling():
        question = MixQuestion.model_validate(read_typed(MixQuestion, typed))
        content = mixing_card_pdf(question, answer(question), "half-letter" if page == "half-letter" else "a5")
        Path(out).expanduser().write_bytes(content)
        click.echo(f"{out}  {len(content) // 1000 + 1} kB")


def command(name: str) -> click.Command:
    """`silverwright mixing-card`."""
    from silverwright.questions.mix import MixQuestion

    out = click.Option(["--out"], default=FILE, metavar="[file]", help=f"Where to write it. Without it: {FILE}, in this folder.")
    epilog = f"\b\nExample:\n  {EXAMPLE}"
    return click.Command(name, params=[out, PAGE, *options_of(MixQuestion)], callback=write_card, help=SECTIONS["Print"][name], epilog=epilog)
