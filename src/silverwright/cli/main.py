"""The command line. The file of a command is imported only when that command is called."""

from importlib import import_module
from typing import Final

import click

from silverwright import __version__

SECTIONS: Final[dict[str, dict[str, str]]] = {
    "Open": {
        "serve": "Open the book: pages for the browser on this computer.",
        "example": "Open the boatyard's example, an invented book beside yours.",
    },
    "Ask": {
        "ask": "Ask any question and see its working.",
    },
}
FILES: Final = {"serve": "serve", "example": "example", "ask": "ask"}


class House(click.Group):
    """The commands by name."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (click's shape)
        return [name for section in SECTIONS.values() for name in section]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in self.list_commands(ctx):
            return None
        made: click.Command = import_module(f"silverwright.cli.{FILES[cmd_name]}").command(cmd_name)
        return made

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002 (click's shape)
        for title, section in SECTIONS.items():
            with formatter.section(title):
                formatter.write_dl(list(section.items()))


@click.command(cls=House, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="%(version)s")
def main() -> None:
    r"""
    One-of-a-kind direct positives, from the reading to the book.

    \b
    Examples:
      silverwright serve
      silverwright ask --list
      silverwright ask exposure.bellows --focal-mm 210 --extension-mm 315
    """
