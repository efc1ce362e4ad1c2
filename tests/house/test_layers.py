"""Who may import whom stands in pyproject.toml; here it is held."""

import ast
import subprocess
import sys
from pathlib import Path

from tests.house.code import KERNEL_ROOMS, ROOT, SRC, TRIALS, nodes_of, none_of, place, sources, tree_of, written


def names_imported(path: Path) -> set[str]:
    """The outermost names that a file imports, inside functions too."""
    found = [node.module or "" for node in nodes_of(path) if isinstance(node, ast.ImportFrom)]
    found += [one.name for node in nodes_of(path) if isinstance(node, ast.Import) for one in node.names]
    return {name.split(".")[0] for name in found}


def test_imports_go_down_only() -> None:
    told = subprocess.run([Path(sys.executable).with_name("lint-imports")], cwd=ROOT, capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stdout


def test_the_trials_are_a_world_of_their_own() -> None:
    """Neither way, not even by name: what is tried has no hand in what tries it."""
    theirs = [place(path) for path in written() if path.is_relative_to(TRIALS) and "silverwright" in names_imported(path)]
    ours = [place(path) for path in sources() if "trials" in names_imported(path)]
    none_of(theirs + ours, "The engine and its trials import one another")


def test_engine_rooms_have_empty_doors() -> None:
    assert {room: (SRC / room / "__init__.py").read_text() for room in KERNEL_ROOMS} == dict.fromkeys(KERNEL_ROOMS, "")


def test_annotations_are_real() -> None:
    late = [place(path) for path in sources() for node in tree_of(path).body if isinstance(node, ast.ImportFrom) and node.module == "__future__"]
    none_of(late, "pydantic and ninja read annotations at run time")


def test_kernels_know_no_clock_chance_or_folder() -> None:
    """What the import contract cannot see: built-in calls that reach outside."""
    outside = {"open", "input", "print", "eval", "exec"}
    found = [
        f"{place(path, node)} {node.func.id}"
        for path in sources()
        if path.parent.name in KERNEL_ROOMS
        for node in nodes_of(path)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in outside
    ]
    none_of(found, "Kernels reach outside")
