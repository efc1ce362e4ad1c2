"""What the command line tells: an answer with its working on stdout, faults on stderr, and an exit code for each kind of error."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.fields import option_name
from silverwright.errors import (
    BadBackup,
    BadQuestion,
    BookBusy,
    BookDamaged,
    BookTooNew,
    Contradiction,
    DiskFull,
    NotEnoughReadings,
    OutOfRange,
    SilverwrightError,
    Stale,
    UnknownName,
)

if TYPE_CHECKING:
    from silverwright.asking.operation import Answer, Line, Remark
    from silverwright.workshop.act import Done

EXIT_CODES: Final[dict[type[SilverwrightError], int]] = {
    BadQuestion: 2,
    UnknownName: 3,
    OutOfRange: 4,
    NotEnoughReadings: 4,
    Stale: 5,
    Contradiction: 6,
    DiskFull: 7,
    BookBusy: 7,
    BookDamaged: 7,
    BookTooNew: 7,
    BadBackup: 7,
}
WIDE: Final = 100  # our judgement: longer lines are hard to read


@contextmanager
def telling() -> Iterator[None]:
    """Any error of ours, in its own words, as an exit code."""
    try:
        yield
    except BadQuestion as bad:
        for fault in bad.faults:
            given = f" {fault.given}" if fault.given else ""
            click.echo(f"{option_name(fault.field)}{given}: {fault.problem}", err=True)
        raise click.exceptions.Exit(EXIT_CODES[BadQuestion]) from None
    except SilverwrightError as error:
        click.echo(str(error), err=True)
        raise click.exceptions.Exit(EXIT_CODES.get(type(error), 1)) from None


def tell(answer: "Answer") -> str:
    """The whole answer for people: values with their limits, the ledger as a table, notes, sources."""
    from silverwright.asking.fields import fields_of, label_of
    from silverwright.asking.show import show

    marks = fields_of(type(answer))
    pairs = [(label_of(name, mark), show(mark, getattr(answer, name))) for name, mark in marks.items() if getattr(answer, name) not in (None, ())]
    parts = [_pairs(pairs), _ledger(answer.ledger)]
    parts += _notes(answer.notes)
    if answer.sources:
        parts.append("Sources: " + "; ".join(answer.sources))
    return "\n\n".join(part for part in parts if part)


def tell_done(done: "Done") -> str:
    """What an act did, in its sentence, with its notes."""
    return "\n".join([done.says, *_notes(done.notes)])


def _notes(notes: "tuple[Remark, ...]") -> list[str]:
    return [click.wrap_text(f"{one.severity}: {one.sentence}", WIDE, subsequent_indent="  ") for one in notes]


def _pairs(pairs: list[tuple[str, str]]) -> str:
    wide = max((len(label) for label, _ in pairs), default=0)
    return "\n".join(f"{label:<{wide}}  {value}" for label, value in pairs)


def _ledger(lines: "tuple[Line, ...]") -> str:
    """Aligned on the sign; the doubt is labelled for what it is."""
    if not lines:
        return ""
    wide = max(len(line.what) for line in lines)
    unit = lines[0].unit
    head = f"{'The working, in ' + unit:<{wide}}  {'amount':>7}  {'± one sd':>8}  from"
    rows = [f"{line.what:<{wide}}  {line.amount:>+7.2f}  {line.doubt:>8.2f}  {line.source}" for line in lines]
    return "\n".join([head, *rows])
