"""
The documents say what the code says: every `console` and `python` block is run, and what it shows is compared.

    python tools/documents.py            compare; ends with 1 if anything differs
    python tools/documents.py --write    write what the code says now into the documents

A `console` block holds lines with `$ ` and what they print; `> ` goes on with a line. A `python` block holds `>>> ` and `... ` as at Python's
own prompt, or plain lines that print nothing. `...` in what is shown stands for anything. Each document has a data folder of its own; one that
says `<!-- book: boatyard -->` begins with the example's book in it; one that asks `http://127.0.0.1:8017` is given a server of that book. What starts
a server itself, fetches or activates is not run here.

Figures are compared to the letter. Only where limits are sampled - the boatyard's, and documents that say `<!-- limits: sampled -->` - may a figure
be off by one unit in its last digit or by 1 %: processors round differently, and then other curves are drawn.
"""

import doctest
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parent.parent
BLOCK: Final = re.compile(r"^```(console|python)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
BOATYARD: Final = "<!-- book: boatyard -->"
SAMPLED: Final = "<!-- limits: sampled -->"
FIGURE: Final = r"\d+[.:]\d+|\d+(?= s\b| %| stops| EI\b)"
NOT_HERE: Final = ("make ", "silverwright serve", "silverwright example", "PORT=", "git ", ". .venv")
LIMIT_S: Final = 120
CUT: Final = "..."
ADDRESS: Final = "http://127.0.0.1:8017"
SERVE: Final = "from silverwright.cli.main import main; main(['serve', '--with-parent'])"
FILL: Final = "from silverwright.book.opening import open_book; open_book(); from silverwright.workshop.example import fill; fill()"
PROMPT: Final = """
import contextlib, doctest, io, json, sys
names, shown = {"__name__": "__main__"}, []
for one in doctest.DocTestParser().get_examples(sys.stdin.read()):
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        try:
            exec(compile(one.source, "document", "single"), names)
        except Exception as error:
            print(f"Traceback (most recent call last):\\n  ...\\n{type(error).__module__}.{type(error).__name__}: {error}")
    shown.append(out.getvalue())
print(json.dumps(shown))
"""


@dataclass(frozen=True)
class Told:
    """One command of a document: what is typed, what the document shows, what the code says."""

    typed: str
    shown: str
    said: str
    sampled: bool = False

    @property
    def agrees(self) -> bool:
        """Blank ends of lines and kinds of blanks do not count."""
        shown, said = _plain(self.shown), _plain(self.said)
        return doctest.OutputChecker().check_output(shown, said, doctest.ELLIPSIS) or (self.sampled and near(shown, said))


Spoken = tuple[str, str, str]


def near(shown: str, said: str) -> bool:
    """Whether both say the same but for the last digit of a figure, or 1 % of it."""
    shown, said = (re.sub(" +", " ", text) for text in (shown, said))
    parts = re.split(rf"(\.\.\.|{FIGURE})", shown)
    figures = [part for part in parts[1::2] if part != CUT]
    pattern = "".join(re.escape(part) if place % 2 == 0 else ".*?" if part == CUT else r"(\d+(?:[.:]\d+)?)" for place, part in enumerate(parts))
    match = re.fullmatch(pattern, said, re.DOTALL)
    return match is not None and all(_close(one, other) for one, other in zip(figures, match.groups(), strict=True))


def _close(one: str, other: str) -> bool:
    _, point, part = one.partition(".")
    values: list[float] = [sum(float(piece) * 60**place for place, piece in enumerate(reversed(text.split(":")))) for text in (one, other)]
    last_digit = 10.0 ** -len(part) if point else 1.0
    apart, allowed = abs(values[0] - values[1]), max(1.001 * last_digit, 0.01 * values[0])
    return apart <= allowed


def documents() -> list[Path]:
    """The README and everything under docs that a person wrote; the reference is written by the code itself."""
    mine = [one for one in sorted((ROOT / "docs").rglob("*.md")) if "reference" not in one.parts]
    return [ROOT / "README.md", *mine]


def tell(document: Path, boatyard: Path | None = None) -> Iterator[tuple[re.Match[str], list[Told]]]:
    """Each block of a document where it stands, with what its commands say now."""
    text = document.read_text(encoding="utf-8")
    sampled = BOATYARD in text or SAMPLED in text
    with tempfile.TemporaryDirectory(prefix="silverwright-docs-") as scratch:
        home = Path(scratch) / "data"
        if BOATYARD in text:
            shutil.copytree(boatyard or fill_boatyard(Path(scratch) / "boatyard"), home)
        with _server(home) if ADDRESS in text else nullcontext(ADDRESS) as address:
            for match in BLOCK.finditer(text):
                run = _console if match[1] == "console" else _python
                spoken = run(match[2].replace(ADDRESS, address), Path(scratch), home)
                as_written = [[words.replace(address, ADDRESS) for words in one] for one in spoken]
                yield match, [Told(typed, shown, said, sampled) for typed, shown, said in as_written]


@contextmanager
def _server(home: Path) -> Iterator[str]:
    """The address of a server of that book; it ends when its standard input does."""
    around = _around(home) | {"PORT": "0"}
    with subprocess.Popen([sys.executable, "-c", SERVE], env=around, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as server:
        yield (server.stdout.readline() if server.stdout else "").split()[-1].rstrip("/")


def fill_boatyard(home: Path) -> Path:
    """The example's book in that folder."""
    around = _around(home) | {"SILVERWRIGHT_EXAMPLE": "1"}
    subprocess.run([sys.executable, "-c", FILL], env=around, check=True, timeout=LIMIT_S)
    return home


def write(document: Path) -> None:
    """Put what the code says now into the document; what agrees stays as it was written."""
    text, done, written = document.read_text(encoding="utf-8"), 0, ""
    for match, told in tell(document):
        written += text[done : match.start(2)] + ("".join(_written(one) for one in told) or match[2])
        done = match.end(2)
    document.write_text(written + text[done:], encoding="utf-8")


def _written(told: Told) -> str:
    """What agrees stays; else what is said now, and where the document cut it short, the lines that are most like those it showed."""
    if told.agrees:
        return told.typed + told.shown
    said, shown = _plain(told.said), told.shown.splitlines()
    if CUT not in shown:
        return told.typed + said
    kept = [line if line == CUT else next(iter(get_close_matches(line, said.splitlines(), 1, 0.3)), CUT) for line in shown]
    return told.typed + "".join(f"{line}\n" for line, before in zip(kept, ["", *kept], strict=False) if not line == before == CUT)


def _plain(text: str) -> str:
    """The text without kinds of blanks that nobody sees."""
    return "".join(f"{line.rstrip()}\n" for line in text.replace("\N{NO-BREAK SPACE}", " ").strip("\n").splitlines())


def _around(home: Path) -> dict[str, str]:
    """A clean environment, with our own commands first."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("SILVERWRIGHT", "DJANGO", "PORT"))}
    return kept | {"SILVERWRIGHT_HOME": str(home), "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}", "TZ": "UTC"}


def _console(block: str, scratch: Path, home: Path) -> Iterator[Spoken]:
    """Each command of a console block: typed, shown, said."""
    for typed, shown in re.findall(r"^(\$ .*\n(?:> .*\n)*)((?:(?!\$ ).*\n)*)", block, re.MULTILINE):
        command = "\n".join(line[2:] for line in typed.splitlines())
        if command.startswith(NOT_HERE):
            yield (typed, shown, shown)
            continue
        done = subprocess.run(
            ["bash", "-c", command], cwd=scratch, env=_around(home), stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=LIMIT_S, check=False
        )
        yield typed, shown, done.stdout.decode()


def _python(block: str, scratch: Path, home: Path) -> Iterator[Spoken]:
    """Each statement of a Python block; plain lines are one statement that says nothing."""
    examples = doctest.DocTestParser().get_examples(block)
    asked = block if examples else "".join(f"{'>>> ' if not line[:1].isspace() else '... '}{line}\n" for line in block.splitlines() if line.strip())
    done = subprocess.run(
        [sys.executable, "-c", PROMPT], input=asked, text=True, cwd=scratch, env=_around(home), capture_output=True, timeout=LIMIT_S, check=False
    )
    if done.returncode:
        yield (block, "", done.stderr)
        return
    said = json.loads(done.stdout.splitlines()[-1])
    if not examples:
        yield (block, "", "".join(said))
        return
    for one, words in zip(examples, said, strict=True):
        first, *rest = one.source.splitlines()
        yield ("".join([f">>> {first}\n", *(f"... {line}\n" for line in rest)]), one.want, words)


def main() -> int:
    """Compare or write; how many differ."""
    chosen = [Path(name).resolve() for name in sys.argv[1:] if not name.startswith("-")] or documents()
    different = 0
    for document in chosen:
        if "--write" in sys.argv:
            write(document)
        for _, told in tell(document):
            for one in told:
                if not one.agrees:
                    different += 1
                    print(f"{document.relative_to(ROOT)}\n{one.typed}shown:\n{one.shown}said:\n{one.said}")
    return 1 if different else 0


if __name__ == "__main__":
    raise SystemExit(main())
