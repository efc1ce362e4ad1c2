"""Any question on the command line."""

from typing import TYPE_CHECKING

import click

from silverwright.cli.fields import option_name, options_of, read_typed
from silverwright.cli.told import tell, telling
from silverwright.errors import UnknownName

if TYPE_CHECKING:
    from silverwright.asking.operation import AnyOperation


class Questions(click.Group):
    """One command for each operation, made when it is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (click's shape)
        from silverwright.catalogue import HOMES

        return list(HOMES)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command:
        from silverwright.catalogue import find

        try:
            return question_command(find(cmd_name))
        except UnknownName as error:
            raise click.UsageError(str(error), ctx) from None


def question_command(operation: "AnyOperation") -> click.Command:
    """The command that asks one operation."""

    def ask(*, json: bool, **typed: str | None) -> None:
        with telling():
            answer = operation.ask(read_typed(operation.question, typed))
            click.echo(answer.model_dump_json(indent=2) if json else tell(answer))

    options = [*options_of(operation.question), click.Option(["--json"], is_flag=True, help="The whole answer as JSON, with every figure.")]
    return click.Command(operation.name, params=options, callback=ask, help=operation.asks, epilog=examples_of(operation))


def examples_of(operation: "AnyOperation") -> str:
    """The operation's examples as they are typed."""
    lines = [f"# {name}\n  {typed_command(operation, name)}" for name in operation.examples]
    return "\b\nExamples:\n  " + "\n  ".join(lines)


def typed_command(operation: "AnyOperation", example: str) -> str:
    """One example as a line for the shell."""
    from shlex import quote

    from silverwright.asking.show import as_typed

    words = [word for field, text in as_typed(operation.examples[example]).items() for word in (option_name(field), quote(text))]
    return " ".join(["silverwright ask", operation.name, *words])


def _show_list(ctx: click.Context, option: click.Parameter, wanted: bool) -> None:  # noqa: ARG001, FBT001 (click's shape)
    if not wanted:
        return
    from silverwright.catalogue import HOMES, catalogue

    wide = max(len(name) for name in HOMES)
    for operation in catalogue():
        click.echo(f"{operation.name:<{wide}}  {operation.asks}")
    ctx.exit()


def command(name: str) -> click.Command:
    """`silverwright ask`."""
    return Questions(
        name,
        params=[click.Option(["--list"], is_flag=True, is_eager=True, expose_value=False, callback=_show_list, help="Every question.")],
        help="Ask any question. A number may carry its unit, such as 12in or 2m30s; @file reads a file.",
    )
