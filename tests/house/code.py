"""The code as the house tests read it: files, trees, functions."""

import ast
import subprocess
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "silverwright"
TRIALS = ROOT / "trials"
KERNEL_ROOMS = ("exposure", "densitometry", "chemistry", "sensitometry", "processing")

Function = ast.FunctionDef | ast.AsyncFunctionDef


def sources() -> list[Path]:
    """Every Python file of the package; what Django writes by itself is left out."""
    return sorted(path for path in SRC.rglob("*.py") if "migrations" not in path.parts)


def written() -> list[Path]:
    """The package and the worlds that it is tried in: what is read like a book."""
    return [*sources(), *sorted(TRIALS.rglob("*.py"))]


def kernels() -> list[Path]:
    return [path for path in sources() if path.parent.name in KERNEL_ROOMS or path.parent.parent.name in KERNEL_ROOMS]


@cache
def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8")


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(text_of(path))


@cache
def nodes_of(path: Path) -> tuple[ast.AST, ...]:
    """Every node of a file, walked once for all tests."""
    return tuple(ast.walk(tree_of(path)))


def functions(path: Path) -> Iterator[Function]:
    return (node for node in nodes_of(path) if isinstance(node, Function))


def place(path: Path, node: ast.AST | None = None) -> str:
    """`src/silverwright/units.py:12`."""
    line = f":{node.lineno}" if isinstance(node, ast.expr | ast.stmt) else ""
    return f"{path.relative_to(ROOT)}{line}"


def parameters(function: Function) -> list[ast.arg]:
    """What a caller has to know: every parameter but self and cls."""
    found = [*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]
    return [one for one in found if one.arg not in {"self", "cls"}]


def line_of(path: Path, node: ast.expr | ast.stmt) -> str:
    """The text of a statement, with the comments on its lines and on the line above."""
    lines = text_of(path).splitlines()
    above = lines[node.lineno - 2] if node.lineno > 1 and lines[node.lineno - 2].lstrip().startswith("#") else ""
    return "\n".join([above, *lines[node.lineno - 1 : node.end_lineno]])


@cache
def tracked() -> tuple[Path, ...]:
    """Every file that a clone has, and what is about to be one."""
    listed = subprocess.run(["git", "ls-files", "-co", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return tuple(path for path in (ROOT / line for line in listed.splitlines()) if path.is_file())


def text_files() -> list[Path]:
    """The tracked files that are text."""
    found = []
    for path in tracked():
        try:
            text_of(path)
        except UnicodeDecodeError:
            continue
        found.append(path)
    return found


def none_of(found: Iterable[str], rule: str) -> None:
    """Fail with the rule and every place that breaks it."""
    places = sorted(found)
    assert not places, f"{rule}:\n" + "\n".join(places)
