"""What may not be said, and to whom we may not point."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

from tests.house.code import ROOT, SRC, none_of, sources, text_files, text_of, tree_of

DENIALS = re.compile(r"\b(safe|safely|harmless|no hazards?(?! data here)|non-?toxic|risk-?free)\b", re.IGNORECASE)
# Where such a word stands and is right: (file, the words around it).
ALLOWED = (("acceptance", "never says"),)
PLACES = {".html", ".md", ".txt", ".typ"}
# The only hosts that files may name: this computer, the standards' own names for things, and licences.
HOSTS = {
    "127.0.0.1",
    "localhost",
    "testserver",
    "www.w3.org",
    "www.apache.org",
    "vega.github.io",
    "scripts.sil.org",
    "openfontlicense.org",
    "json-schema.org",
}
MACHINE = re.compile("|".join(("/wo" + "rk/", "/ro" + "ot/", "/ho" + "me/[a-z]", r"\.\./sha" + "red", "sha" + "red/(design|references)")))
UNDONE = re.compile("|".join(("TO" + "DO", "FIX" + "ME", "lorem " + "ipsum")))


def strings(path: Path) -> Iterator[str]:
    """The words in a Python file that are no docstring."""
    tree = tree_of(path)
    owners = [node for node in ast.walk(tree) if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef) and node.body]
    docs = {id(node.body[0].value) for node in owners if isinstance(node.body[0], ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
            yield node.value


def said() -> Iterator[tuple[Path, str]]:
    """What people read: pages and documents without their markup, labels, notes and facts."""
    for path in text_files():
        if path.suffix in PLACES and "LICENSE" not in path.name:
            yield path, re.sub(r"{[{%#].*?[}%#]}", "", text_of(path), flags=re.DOTALL)
    for path in sources():
        yield from ((path, words) for words in strings(path))
    for path in (SRC / "facts").rglob("*.csv"):
        yield path, text_of(path)


def test_nothing_is_called_safe() -> None:
    wrong = []
    for path, text in said():
        for match in DENIALS.finditer(text):
            around = text[max(0, match.start() - 40) : match.end() + 40].replace("\n", " ")
            if not any(part in str(path) and words in around for part, words in ALLOWED):
                wrong.append(f"{path.relative_to(ROOT)}: …{around}…")
    none_of(wrong, "No page, label or document says this of a substance or a lamp")


def test_no_foreign_addresses() -> None:
    wrong = []
    for path in (one for one in text_files() if "LICENSE" not in one.name and "vendor" not in one.parts):  # what others wrote stays as they wrote it
        for address in re.findall(r"https?://[^\s\"'<>)`\]]+", text_of(path)):
            host = urlsplit(re.sub(r"[{][^}]*[}]", "", address)).hostname or ""
            if host not in HOSTS and not host.endswith(".example"):
                wrong.append(f"{path.relative_to(ROOT)}: {address}")
    none_of(wrong, "Files name no hosts but these few; lock files carry none")


def test_no_paths_of_a_machine_and_nothing_undone() -> None:
    wrong = [
        f"{path.relative_to(ROOT)}: {match[0]}" for path in text_files() for pattern in (MACHINE, UNDONE) for match in pattern.finditer(text_of(path))
    ]
    none_of(wrong, "A clone knows nothing of the machine it was written on, and nothing is left undone")


def test_pages_have_no_inline_code() -> None:
    wrong = [
        f"{path.relative_to(ROOT)}: {match[0]}"
        for path in text_files()
        if path.suffix == ".html" and path.is_relative_to(SRC)
        for match in re.finditer(r"<script(?![^>]*\bsrc=)[^>]*>|<style\b|\son[a-z]+=|\sstyle=|javascript:", text_of(path))
    ]
    none_of(wrong, "The content policy forbids code and style inside a page")
