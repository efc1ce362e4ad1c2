"""What the command line tells: answers with their working on stdout, faults on stderr, and an exit code for each kind of error."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.fields import option_name
from silverwright.errors import (
    BadBackup,
    BadQuestion,
    BookBusy,
    BookDamaged,
    BookOutOfReach,
    BookTooNew,
    Contradiction,
    DiskFull,
    NotEnoughReadings,
    OutOfRange,
    ScanFailed,
    ScanRefused,
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
    BookOutOfReach: 7,
    BookTooNew: 7,
    BadBackup: 7,
    ScanRefused: 8,
    ScanFailed: 8,
}
NO_PLACE: Final = 7  # arithmetic: as for everything else that the disk refuses
FEWEST_COLUMNS: Final = 2  # arithmetic: one column is a row of values
MOST_ROWS: Final = 24  # our judgement: as many as a screen shows; JSON has all of a longer table
WIDE: Final = 100  # our judgement: longer lines are hard to read


@contextmanager
def telling() -> Iterator[None]:
    """Any error of ours, in its own words, as an exit code."""
    try:
        yield
    except BadQuestion as bad:
        for fault in bad.faults:
            given = " " + " ".join(fault.given.split()) if fault.given else ""
            click.echo(f"{option_name(fault.field)}{given}: {fault.problem}", err=True)
        raise click.exceptions.Exit(EXIT_CODES[BadQuestion]) from None
    except Stale as stale:
        click.echo(str(stale), err=True)
        for name, mine in stale.mine.items():
            click.echo(f"{option_name(name)}: you sent {mine}; in the book stands {stale.theirs[name]}", err=True)
        raise click.exceptions.Exit(EXIT_CODES[Stale]) from None
    except SilverwrightError as error:
        click.echo(str(error), err=True)
        raise click.exceptions.Exit(EXIT_CODES.get(type(error), 1)) from None
    except OSError as error:  # a folder that cannot be made, a file that cannot be written
        click.echo(f"{error.filename or 'The data folder'}: {error.strerror}. Nothing was changed.", err=True)
        raise click.exceptions.Exit(NO_PLACE) from None


def tell(answer: "Answer", first: "Sequence[Remark]" = (), without: Sequence[str] = ()) -> str:
    """
    The answer for people, without what is told already.

    Cautions, values with limits, rows that belong together, the ledger as a table, other notes (those of the book first), sources.
    """
    from silverwright.asking.fields import Quantity, fields_of, label_of
    from silverwright.asking.show import show

    marks = fields_of(type(answer))
    told = [(name, mark, getattr(answer, name)) for name, mark in marks.items()]
    told = [(name, mark, value) for name, mark, value in told if value not in (None, (), "") and name not in without]
    columns = [
        (label_of(name, mark), [show(mark, one) for one in value], isinstance(mark, Quantity)) for name, mark, value in told if name in answer.table
    ]
    table = _table(columns)
    shown = [(label_of(name, mark), show(mark, value)) for name, mark, value in told if not table or name not in answer.table]
    after = (pairs(shown), table, _ledger(answer.ledger), *_notes((*first, *answer.other_notes)), _sources(answer.sources))
    return "\n\n".join(part for part in (*_notes(answer.cautions), *after) if part)


def tell_done(done: "Done") -> str:
    """What an act did, in its sentence, with its notes."""
    return "\n".join([done.says, *_notes(done.notes)])


def remarks(kept: "Sequence[Mapping[str, str]]") -> list[str]:
    """Notes as they were kept that day."""
    return [_note(one["severity"], one["sentence"]) for one in kept]


def pairs(rows: Sequence[tuple[str, str]]) -> str:
    """Labels and what belongs to them, one below the other."""
    wide = max((len(label) for label, _ in rows), default=0)
    return "\n".join(click.wrap_text(f"{label:<{wide}}  {value}", WIDE, subsequent_indent=" " * (wide + 2)) for label, value in rows)


def _table(columns: Sequence[tuple[str, Sequence[str], bool]]) -> str:
    """Columns side by side, numbers to the right; nothing where they are of different lengths, too long to read or too wide for a line."""
    lengths = {len(cells) for _, cells, _ in columns}
    if len(columns) < FEWEST_COLUMNS or len(lengths) > 1 or max(lengths) > MOST_ROWS:
        return ""
    sides = [_aligned([label, *cells], right=number and at > 0) for at, (label, cells, number) in enumerate(columns)]
    lines = ["  ".join(row).rstrip() for row in zip(*sides, strict=True)]
    if max(map(len, lines)) <= WIDE:
        return "\n".join(lines)
    told = any(len(cell) > WIDE // 3 for _, cells, _ in columns for cell in cells)
    return _numbered(columns) if told else ""


def _numbered(columns: Sequence[tuple[str, Sequence[str], bool]]) -> str:
    """Rows of sentences one below the other, each cell that is not empty after its label."""
    rows = zip(*(cells for _, cells, _ in columns), strict=True)
    said = ["; ".join(f"{label}: {cell.rstrip('.')}" for (label, _, _), cell in zip(columns, row, strict=True) if cell) for row in rows]
    return "\n".join(click.wrap_text(f"{number}. {one}.", WIDE, subsequent_indent="   ") for number, one in enumerate(said, 1))


def _aligned(cells: Sequence[str], *, right: bool) -> list[str]:
    wide = max(map(len, cells))
    return [cell.rjust(wide) if right else cell.ljust(wide) for cell in cells]


def _notes(notes: "Sequence[Remark]") -> list[str]:
    return [said(one) for one in notes]


def said(note: "Remark") -> str:
    """One note as it stands in a window of text."""
    return _note(note.severity, note.sentence)


def _note(severity: str, sentence: str) -> str:
    return click.wrap_text(f"{severity}: {sentence}", WIDE, subsequent_indent="  ")


def _sources(sources: Sequence[str]) -> str:
    """Each source once, with who wrote it where the facts list it."""
    from silverwright.facts.load import cited

    lines = [click.wrap_text(cited(source), WIDE, initial_indent="  ", subsequent_indent="    ") for source in dict.fromkeys(sources)]
    return "Sources\n" + "\n".join(lines) if lines else ""


def _ledger(lines: "Sequence[Line]") -> str:
    """Aligned on the sign, the doubt labelled for what it is; what is too small to matter is folded, and still counted."""
    if not lines:
        return ""
    kept = [line for line in lines if not line.folded]
    total, doubt = sum(line.amount for line in lines), sum(line.doubt**2 for line in lines) ** 0.5
    title = f"The working, in {lines[0].unit}"
    wide = max(len(title), *(len(line.what) for line in lines))
    rows = [f"{title:<{wide}}  {'amount':>7}  ± one sd  from"]
    rows += [f"{line.what:<{wide}}  {signed(line.amount):>7}  {line.doubt:>8.2f}  {line.source}" for line in kept]
    rows.append(f"{'All together':<{wide}}  {signed(total):>7}  {doubt:>8.2f}")
    if len(kept) < len(lines):
        from silverwright.asking.operation import FOLDED_UNDER

        rows.append(f"Folded, each under {FOLDED_UNDER} {lines[0].unit.removesuffix('s')}, and counted")
        rows += [f"  {line.what}: {signed(line.amount)} ± {line.doubt:.2f}" for line in lines if line.folded]
    return "\n".join(rows)


def signed(amount: float) -> str:
    """`+1.17`, `−0.25`."""
    return f"{amount:+.2f}".replace("-", "\N{MINUS SIGN}")
