"""Whatever changes the book: one command for each deed, made from its form."""

import os
import sys
from typing import TYPE_CHECKING, NamedTuple

import click

from silverwright.cli.fields import option_name, options_of, read_typed
from silverwright.cli.told import EXIT_CODES, said, tell_done, telling
from silverwright.errors import ScanRefused

if TYPE_CHECKING:
    from silverwright.workshop.act import AnyDeed, Done

KEY_HELP = "Any words that mark this one act: sent again with the same key it happens once."


def set_up() -> None:
    """Django with the book's own settings: forms can be read now, and no file is touched yet."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "silverwright.book.settings")
    import django
    from django.apps import apps

    if not apps.ready:
        django.setup()


def deed_command(deed: "AnyDeed") -> click.Command:
    """The command that does one deed."""

    def perform(*, json: bool, key: str, **typed: str | None) -> None:
        from silverwright.book.opening import bring_up_to_date
        from silverwright.workshop.deeds import do

        if deed.warning is not None and sys.stderr.isatty():  # a person sits there: what can hurt stands before what was done
            click.echo(said(deed.warning), err=True)
        with telling():
            bring_up_to_date()
            done = do(deed.name, read_typed(deed.form, typed), key=key)
            outcome = _finished(done)
        click.echo(done.model_dump_json(indent=2) if json else "\n".join([tell_done(done), *outcome.says]))
        if outcome.refused:
            raise click.exceptions.Exit(EXIT_CODES[ScanRefused])

    options = [
        *options_of(deed.form),
        click.Option(["--key"], default="", metavar="[words]", help=KEY_HELP),
        click.Option(["--json"], is_flag=True, help="What was done, as JSON."),
    ]
    return click.Command(deed.name, params=options, callback=perform, help=_help(deed), epilog=examples_of(deed))


class Outcome(NamedTuple):
    """What became of a scan, and whether its file cannot be used."""

    says: list[str]
    refused: bool


def _finished(done: "Done") -> Outcome:
    """What became of a scan: without a server its work is done here and now."""
    if done.kind != "scan":
        return Outcome([], refused=False)
    from silverwright.book.scans import scan_known
    from silverwright.cli.scans import where_it_stands
    from silverwright.workshop.worker import finish

    finish(done.name)
    found = scan_known(done.name)
    return Outcome([where_it_stands(found)], refused=found.state in {"refused", "failed"})


def _help(deed: "AnyDeed") -> str:
    """What it does, and what to mind before."""
    return f"{deed.says}\n\n{deed.warning.sentence}" if deed.warning else deed.says


def examples_of(deed: "AnyDeed") -> str:
    """The deed's examples as they are typed."""
    return "\b\nExamples:\n  " + "\n  ".join(f"# {name}\n  {typed_command(deed, name)}" for name in deed.examples)


def typed_command(deed: "AnyDeed", example: str) -> str:
    """One example as a line for the shell."""
    from shlex import quote

    from silverwright.asking.show import as_typed

    words = [word for field, text in as_typed(deed.examples[example]).items() for word in (option_name(field), quote(text))]
    return " ".join(["silverwright", deed.name, *words])


def command(name: str) -> click.Command:
    """`silverwright <deed>`."""
    set_up()
    from silverwright.workshop.deeds import DEEDS

    return deed_command({deed.name: deed for deed in DEEDS}[name])
