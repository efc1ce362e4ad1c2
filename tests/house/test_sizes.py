"""Small enough to be read in one go."""

import ast

from tests.house.code import Function, functions, none_of, parameters, place, text_of, written

LONGEST_FILE = 600
LONGEST_QUESTION = 400
LONGEST_BODY = 40
MOST_PARAMETERS = 6


def body_lines(function: Function) -> int:
    """The lines below the docstring."""
    body = function.body
    if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant) and isinstance(body[0].value.value, str):
        body = body[1:]
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_files() -> None:
    allowed = {path: LONGEST_QUESTION if path.parent.name == "questions" else LONGEST_FILE for path in written()}
    long = [f"{place(path)}: {lines} lines" for path, most in allowed.items() if (lines := text_of(path).count("\n")) > most]
    none_of(long, "Too long")


def test_bodies() -> None:
    long = [
        f"{place(path, one)} {one.name}: {lines} lines" for path in written() for one in functions(path) if (lines := body_lines(one)) > LONGEST_BODY
    ]
    none_of(long, "Too long")


def test_parameters() -> None:
    many = [
        f"{place(path, one)} {one.name}: {len(parameters(one))}"
        for path in written()
        for one in functions(path)
        if len(parameters(one)) > MOST_PARAMETERS
    ]
    none_of(many, "More parameters than that is a record")
