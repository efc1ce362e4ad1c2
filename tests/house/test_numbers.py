"""Every number in the code is arithmetic, a fact with its row, or a named constant whose line says why."""

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path

from tests.house.code import kernels, line_of, nodes_of, none_of, place, sources, tree_of

ARITHMETIC = {0, 1, 2, 3, 4, 10, 100, 1000, 0.5, 0.25, 1.5}  # counting, halves, squares, the base of logarithms, percent, milli
TIME = {60, 3600}  # seconds in a minute and an hour
LIMITS = {80}  # percent: the limits of every answer here
MOST_IN_A_TABLE = 16  # so many numbers in one literal are a table, and tables are CSV
REASONS = ("our judgement", "arithmetic", "common practice", "trade", "source:", "fact")


def constants(path: Path) -> set[int]:
    """The lines of module-level statements in capitals, which must give their reason."""
    found: set[int] = set()
    for node in tree_of(path).body:
        if isinstance(node, ast.Assign | ast.AnnAssign):
            found |= set(range(node.lineno, (node.end_lineno or node.lineno) + 1))
    return found


def numbers(nodes: Iterable[ast.AST]) -> Iterator[tuple[int, float]]:
    """Every number with its line."""
    for node in nodes:
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool):
            yield node.lineno, node.value


def engine() -> list[Path]:
    return [*kernels(), *(path for path in sources() if path.parent.name == "questions")]


def test_no_figure_without_a_name() -> None:
    bare = [
        f"{place(path)}:{line} {number:g}"
        for path in engine()
        for line, number in numbers(nodes_of(path))
        if line not in constants(path) and abs(number) not in ARITHMETIC | TIME | LIMITS
    ]
    none_of(bare, "A figure is arithmetic, a fact or a named constant")


def test_named_numbers_say_why() -> None:
    silent = [
        f"{place(path, node)}"
        for path in sources()
        for node in tree_of(path).body
        if isinstance(node, ast.AnnAssign | ast.Assign)
        and isinstance(node.value, ast.Constant | ast.UnaryOp | ast.BinOp)
        and any(number not in {0, 1} | TIME for _, number in numbers(ast.walk(node.value)))
        and not any(reason in line_of(path, node).lower() for reason in REASONS)
    ]
    none_of(silent, "A number’s line says why")


def test_no_tables_in_code() -> None:
    tables = [
        place(path, node)
        for path in sources()
        for node in nodes_of(path)
        if isinstance(node, ast.Tuple | ast.List | ast.Set | ast.Dict) and sum(1 for _ in numbers(ast.walk(node))) >= MOST_IN_A_TABLE
    ]
    none_of(tables, "Tables are CSV, not code")
