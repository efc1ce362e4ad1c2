"""What the documents show is what the code says."""

import re
import tomllib
from pathlib import Path

import pytest
from tools.documents import BOATYARD, ROOT, documents, fill_boatyard, near, tell


@pytest.fixture(scope="session")
def boatyard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return fill_boatyard(tmp_path_factory.mktemp("boatyard") / "data")


@pytest.mark.parametrize("document", [pytest.param(one, id=str(one.relative_to(ROOT))) for one in documents()])
def test_every_block_says_what_it_shows(document: Path, request: pytest.FixtureRequest) -> None:
    book = request.getfixturevalue("boatyard") if BOATYARD in document.read_text(encoding="utf-8") else None
    wrong = [f"{one.typed}shows:\n{one.shown}but the code says:\n{one.said}" for _, told in tell(document, book) for one in told if not one.agrees]
    assert not wrong, "\n\n".join(wrong)


def test_a_wrong_figure_is_found(tmp_path: Path) -> None:
    document = tmp_path / "wrong.md"
    document.write_text("```console\n$ echo 97 s\n96 s\n```\n\n```python\n>>> 2 + 2\n5\n```\n", encoding="utf-8")
    assert [one.agrees for _, told in tell(document) for one in told] == [False, False]


def test_what_is_cut_short_agrees(tmp_path: Path) -> None:
    document = tmp_path / "short.md"
    document.write_text("```console\n$ printf 'time 97 s\\nmirror image\\n'\ntime 97 s\n...\n```\n", encoding="utf-8")
    assert [one.agrees for _, told in tell(document) for one in told] == [True]


@pytest.mark.parametrize(
    ("shown", "said", "same"),
    [
        ("EI 2.23, ± 0.08, 277 s (4:37)", "EI 2.24, ± 0.09, 278 s (4:38)", True),
        ("EI 2.23, ± 0.08, 277 s (4:37)", "EI 2.29, ± 0.08, 277 s (4:37)", False),
        ("Time  61 s\n...\nsheet 26-013", "Time 61 s\nanything\nsheet 26-013", True),
        ("sheet 26-013", "sheet 26-014", False),
        ("too dark", "too light", False),
    ],
)
def test_only_the_last_digit_of_a_sampled_figure_may_differ(shown: str, said: str, same: bool) -> None:  # noqa: FBT001 (a table's column)
    assert near(shown, said) == same


@pytest.mark.parametrize("document", [pytest.param(one, id=str(one.relative_to(ROOT))) for one in documents()])
def test_every_link_leads_somewhere(document: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)", document.read_text(encoding="utf-8"))
    assert [link for link in links if not (document.parent / link).exists()] == []


def test_sources_are_named_by_their_keys() -> None:
    """A word in backticks that ends with a year, or begins like a standard, is a key of `facts/sources.toml`."""
    keys = tomllib.loads((ROOT / "src/silverwright/facts/sources.toml").read_text(encoding="utf-8"))
    named = {
        key for one in (ROOT / "docs/explained").glob("*.md") for key in re.findall(r"`([a-z-]+\d{4,7}|wikipedia-[a-z-]+|ss\d+)`", one.read_text())
    }
    assert len(named) > 10
    assert named - set(keys) == set()
