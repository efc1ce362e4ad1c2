"""
The reference and the glossary, written from the code's own records: nothing in them is typed twice.

    python tools/reference.py           write docs/reference and docs/glossary.md
    python tools/reference.py --check   compare; ends with 1 if anything differs
"""

import shlex
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from click.testing import CliRunner

from silverwright import vocabulary, vocabulary_camera, vocabulary_chemistry, vocabulary_lens, vocabulary_shelf
from silverwright.asking.fields import Choice, Flag, Mark, Moment, Quantity, Thing, fields_of, label_of
from silverwright.asking.rows import Rows
from silverwright.catalogue import catalogue
from silverwright.cli.ask import typed_command
from silverwright.cli.do import set_up
from silverwright.cli.do import typed_command as typed_deed
from silverwright.cli.fields import choices_of
from silverwright.cli.main import OUR_FAULT, SECTIONS
from silverwright.cli.main import main as silverwright
from silverwright.cli.told import EXIT_CODES
from silverwright.facts.load import UNSOURCED, bibliography, facts
from silverwright.sentences import SENTENCES

if TYPE_CHECKING:
    from pydantic import BaseModel

    from silverwright.asking.operation import AnyOperation

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"
FACTS = ROOT / "src" / "silverwright" / "facts"
EXIT_MEANS = {
    0: "Done.",
    1: "Something else went wrong; it is said.",
    2: "What was typed cannot be used; every fault is said at once.",
    3: "Nothing of that name is here; names that are near are said.",
    4: "It cannot be worked out from these figures.",
    5: "Somebody changed it meanwhile; both values are said, nothing was overwritten.",
    6: "The key was used for something else before.",
    7: "The disk, the book's file or the backup refuses; nothing was changed.",
    8: "A scan cannot be measured, or could not be read; every reason is said, the file is kept.",
    70: "A fault of the program itself; it says where its own report lies.",
}
WRITTEN = "<!-- Written by tools/reference.py from the code; `make docs` writes it anew. -->"


def table(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A table in Markdown."""
    lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    lines += ["| " + " | ".join(str(cell).replace("|", "\\|").replace("\n", " ") for cell in row) + " |" for row in rows]
    return "\n".join(lines)


def allowed(record: "type[BaseModel]", name: str, mark: Mark) -> str:
    """What may stand in a field."""
    if isinstance(mark, Quantity):
        return mark.allowed
    if isinstance(mark, Choice):
        return ", ".join(choices_of(record.model_fields[name].annotation))
    if isinstance(mark, Thing):
        return f"a {mark.kind} of the book"
    if isinstance(mark, Rows):
        return "a table of " + ", ".join(f"`{column}`" for column in fields_of(mark.row))
    return {Flag: "yes, no", Moment: "a day"}.get(type(mark), "words")


def fields_table(record: "type[BaseModel]") -> str:
    """The fields that people fill in."""
    rows = []
    for name, mark in fields_of(record).items():
        info = record.model_fields[name]
        without = "needed" if info.is_required() else info.default if info.default not in {None, "", ()} else ""
        rows.append((f"`{name}`", label_of(name, mark), allowed(record, name, mark), without, mark.help))
    return table(("field", "is", "allowed", "without it", "meaning"), rows)


def rows_tables(record: "type[BaseModel]") -> Iterator[str]:
    """The columns of every table that a record takes."""
    for name, mark in fields_of(record).items():
        if isinstance(mark, Rows):
            yield f"Columns of `{name}`:\n\n{fields_table(mark.row)}"


def run(command: str) -> str:
    """What the command line prints for an example."""
    told = CliRunner().invoke(silverwright, shlex.split(command)[1:], prog_name="silverwright")
    if told.exit_code:
        raise SystemExit(f"{command}\n{told.output}")
    return told.stdout


def question(operation: "AnyOperation") -> str:
    """One question with its fields, its answer, and its examples as they run."""
    answer = table(
        ("figure", "is", "meaning"), [(f"`{name}`", label_of(name, mark), mark.help) for name, mark in fields_of(operation.answer).items()]
    )
    parts = [f"## {operation.name}", operation.asks, f"Version {operation.version} of the answer."]
    parts += [fields_table(operation.question), *rows_tables(operation.question), "It answers:", answer]
    for name in operation.examples:
        command = typed_command(operation, name)
        parts.append(f"Example: {name}.\n\n```console\n$ {command.replace(chr(10), chr(10) + '> ')}\n{run(command)}```")
    return "\n\n".join(parts)


def questions() -> str:
    """Every question."""
    ways = (
        "Ask any of them as `silverwright ask NAME --field value`, as `silverwright.api.ask(NAME, field=value)`, "
        "with `POST /api/ask/NAME`, or on the page `/ask/NAME`."
    )
    return "\n\n".join(["# Questions", WRITTEN, ways, *(question(one) for one in catalogue())])


def deeds() -> str:
    """Every act that writes."""
    from silverwright.workshop.deeds import DEEDS  # noqa: PLC0415 (only after Django is set up)

    ways = (
        "Do any of them as `silverwright NAME --field value`, as `silverwright.api.do(NAME, field=value)`, or with `POST /api/do/NAME`. "
        "With the same key (`--key`, `key=`, the header `Idempotency-Key`) an act that is sent twice happens once."
    )
    parts = ["# Acts", WRITTEN, ways]
    for deed in DEEDS:
        caution = [f"> {deed.warning.sentence}"] if deed.warning else []
        parts += [f"## {deed.name}", deed.says, *caution, fields_table(deed.form), *rows_tables(deed.form)]
        parts += [f"```sh\n{typed_deed(deed, name)}\n```" for name in deed.examples]
    return "\n\n".join(parts)


def commands() -> str:
    """The command line."""
    parts = [
        "# Commands",
        WRITTEN,
        "Data goes to the standard output, messages to the standard error. `@file` reads a value from a file, `@-` from what is piped in.",
    ]
    for title, section in SECTIONS.items():
        parts += [f"## {title}", table(("command", "does"), [(f"`silverwright {name}`", says) for name, says in section.items()])]
    if set(EXIT_CODES.values()) != EXIT_MEANS.keys() - {0, 1, OUR_FAULT}:
        raise SystemExit("Every exit code needs its sentence here.")
    parts += ["## Exit codes", table(("code", "means"), EXIT_MEANS.items())]
    return "\n\n".join(parts)


def notes() -> str:
    """Every doubt that an answer may carry."""
    rows = [(f"`{note}`", severity, sentence) for note, (severity, sentence) in SENTENCES.items()]
    return "\n\n".join(
        ["# Notes", WRITTEN, "Every doubt that an answer may carry, the same at every door.", table(("note", "how grave", "says"), rows)]
    )


def fact_pages() -> str:
    """Every figure that is not arithmetic, and who says so."""
    parts = ["# Facts and sources", WRITTEN, "Every figure that is not arithmetic. An uncertainty is one standard deviation."]
    for path in sorted(FACTS.glob("*.csv")):
        rows = [
            (f"`{one.key}`", f"{one.value:g}", "" if one.uncertainty is None else f"{one.uncertainty:g}", one.unit, one.kind, one.says, one.note)
            for one in facts(path.stem).values()
        ]
        parts += [f"## {path.stem}", table(("key", "value", "uncertainty", "unit", "kind", "says", "note"), rows)]
    parts += ["## Kinds", table(("kind", "printed as"), UNSOURCED.items()), "## Sources"]
    parts.append(
        table(("key", "author", "year", "title"), [(f"`{key}`", one["author"], one["year"], one["title"]) for key, one in bibliography().items()])
    )
    return "\n\n".join(parts)


VOCABULARY = (vocabulary, vocabulary_camera, vocabulary_chemistry, vocabulary_lens, vocabulary_shelf)


def glossary() -> str:
    """Every word for a number."""
    words = {name: word for room in VOCABULARY for name, word in vars(room).items() if isinstance(word, Quantity)}
    rows = sorted({(label_of(name.lower(), word), word.unit.sign, word.allowed, word.help) for name, word in words.items()})
    return "\n\n".join(["# Glossary", WRITTEN, "One word for one thing.", table(("word", "unit", "allowed", "meaning"), rows)])


def pages() -> dict[Path, str]:
    """Every document that the code writes."""
    set_up()
    reference = DOCS / "reference"
    made = {
        reference / "questions.md": questions(),
        reference / "acts.md": deeds(),
        reference / "commands.md": commands(),
        reference / "notes.md": notes(),
        reference / "facts.md": fact_pages(),
        DOCS / "glossary.md": glossary(),
    }
    return {path: "\n".join(line.rstrip() for line in text.splitlines()) + "\n" for path, text in made.items()}


def main() -> int:
    """Write, or compare."""
    stale = []
    for path, text in pages().items():
        if "--check" in sys.argv[1:]:
            stale += [path] if not path.exists() or path.read_text(encoding="utf-8") != text else []
        else:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
    for path in stale:
        print(f"{path.relative_to(ROOT)} does not say what the code says: run `make docs`.", file=sys.stderr)
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
