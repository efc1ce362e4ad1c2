"""The recipes on the command line: what for, what goes in, who says so."""

import json as json_text
from dataclasses import asdict
from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.main import SECTIONS
from silverwright.cli.told import WIDE, telling

if TYPE_CHECKING:
    from silverwright.records_chemistry import Recipe

JSON: Final = click.Option(["--json"], is_flag=True, help="Everything as JSON, with every figure.")
ROLE: Final = click.Option(["--role"], default="", metavar="[text]", help="Only those for one step of the process, such as bleach.")
EXAMPLE: Final = "silverwright recipes --role bleach"


def list_recipes(*, role: str, json: bool) -> None:
    """Every recipe in the order of the process."""
    from silverwright.questions.recipe import recipes_for

    with telling():
        found = recipes_for(role)
    if json:
        click.echo(json_text.dumps([asdict(one) for one in found], indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(_line(one) for one in found))


def _line(one: "Recipe") -> str:
    """`bleach: peroxide bath, hydrogen peroxide 9 % w/w (6 to 12); from memory, unverified.`"""
    from silverwright.questions.recipe import part_said

    parts = ", ".join(part_said(part) for part in one.parts)
    water = f"1 part of the concentrate to {one.water_parts:g} of water" if one.water_parts is not None else ""
    against = f" Not recommended: {one.against}" if one.against else ""
    return click.wrap_text(f"{one.role}: {one.name}, {water or parts}; {one.says}.{against}", WIDE, subsequent_indent="  ")


def command(name: str) -> click.Command:
    """`silverwright recipes`."""
    return click.Command(name, params=[ROLE, JSON], callback=list_recipes, help=SECTIONS["Look"][name], epilog=f"\b\nExample:\n  {EXAMPLE}")
