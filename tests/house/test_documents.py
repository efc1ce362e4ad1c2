"""The documents: what the code writes is fresh, and every one can be found."""

import re
from pathlib import Path

from tests.house.code import ROOT, none_of, text_of, tracked
from tools import reference

LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)]*)?\)")


def documents() -> list[Path]:
    return [path for path in tracked() if path.suffix == ".md"]


def links(path: Path) -> set[Path]:
    """Where a document points to, inside the project."""
    return {(path.parent / target).resolve() for target in LINK.findall(text_of(path)) if "://" not in target and not target.startswith("mailto:")}


def test_what_the_code_writes_is_fresh() -> None:
    stale = [str(path.relative_to(ROOT)) for path, text in reference.pages().items() if not path.exists() or path.read_text(encoding="utf-8") != text]
    none_of(stale, "Run `make docs`")


def test_every_document_is_reached_from_the_readme() -> None:
    """Nobody has to know a file's name."""
    seen: set[Path] = set()
    waiting = {ROOT / "README.md"}
    while waiting:
        path = waiting.pop()
        seen.add(path)
        waiting |= {target for target in links(path) if target.suffix == ".md" and target.exists()} - seen
    docs = {path for path in documents() if path.is_relative_to(ROOT / "docs")}
    none_of((str(path.relative_to(ROOT)) for path in docs - seen), "No way leads there")


def test_the_version_is_the_same_everywhere() -> None:
    version = re.search(r'^version = "(.+)"', text_of(ROOT / "pyproject.toml"), re.MULTILINE)
    assert version is not None
    assert f'__version__ = "{version[1]}"' in text_of(ROOT / "src" / "silverwright" / "__init__.py")
    assert f"\nversion: {version[1]}\n" in text_of(ROOT / "CITATION.cff")
    assert f"\n## {version[1]}" in text_of(ROOT / "CHANGELOG.md")
