"""One word for one thing, and a unit at the end of every name that has one."""

import ast
from collections.abc import Iterator
from pathlib import Path

from tests.house.code import functions, kernels, nodes_of, none_of, parameters, place, written

from silverwright import units
from silverwright.units import Unit

VAGUE = {"utils", "util", "helpers", "helper", "manager", "managers", "misc", "common", "base", "core", "stuff"}
# An f-number is focal length over entrance pupil: the trade writes it so.
SIGNS = {one.suffix for one in vars(units).values() if isinstance(one, Unit) and one.suffix}
SUFFIXES = (*SIGNS, "_px", "_bytes", "f_number", "_degrees", "_per_inch")
# Numbers without a unit: what they are stands in their name, and the standards give them none.
PURE = {
    "meter_k": "the standard's constant of reflected metering",
    "meter_c": "the standard's constant of incident metering",
    "dmin": "a density",
    "dmax": "a density",
    "factors": "several of them",
    "sign": "+1 or -1: which way a curve runs",
    "covariance": "of things named beside it",
    "density": "log10 of an attenuation, a number of its own by definition",
    "densities": "several of them",
    "magnification": "image over subject size",
    "reflectance": "reflected over incident light",
    "lightness": "L*, a scale of its own",
    "gradient": "density per log exposure, both pure",
    "exponent": "of a power law",
    "probability": "0 to 1",
    "weight": "of a draw or a reading, relative to the others",
    "weights": "several of them",
    "veil": "a density",
    "noise": "a density",
    "speed": "an index by a rule that its help names",
    "pieces": "counted",
    "edges": "of a piece, counted",
    "sides": "counted",
    "openings": "counted",
    "releases": "of a shutter, counted",
    "draws": "counted",
    "ate": "acute toxicity estimate: mg/kg, of dust and mist mg/L, as its hazard's name says",
    "age": "of a bath: how many sheets went through it before",
    "variance": "the square of a standard deviation of the thing named before it",
    "share": "part of a whole, 0 to 1",
    "shares": "several of them",
    "sheets": "counted",
    "grade": "a scale of its own",
    "seen": "the version of a row, counted",
    "value": "of an estimate or a fact, whose unit stands beside it",
    "low": "its lower limit",
    "high": "its upper limit",
    "amount": "of a ledger line, whose unit stands beside it",
    "doubt": "of a ledger line, in the unit beside it",
    "uncertainty": "of a fact, in the unit beside it",
    "strip": "the number of one, counted",
    "steps": "a count of them",
    "grey": "a signal: light of a scan relative to full scale",
    "red": "a signal",
    "green": "a signal",
    "blue": "a signal",
    "signal": "light of a scan relative to full scale",
    "signals": "several of them",
    "offset": "a signal",
    "miss": "a density",
    "misses": "several of them",
    "rows": "counted",
    "row": "its number",
    "columns": "counted",
    "column": "its number",
    "position": "a patch's number",
    "step": "a tablet's, by its number",
    "positions": "several of them",
    "bits": "counted",
    "guide": "a guide number: f-number times distance, in metres or in the unit named beside it",
    "flashes": "counted",
    "vessels": "counted",
    "parts": "of water to one of a concentrate, both by volume",
    "c0": "a coefficient of a density, numbers of its source",
    "c1": "another",
    "c2": "another",
    "c3": "another",
    "c4": "another",
    "fractions": "several of them",
    "fraction": "mass of a thing in the mass of the whole",
    "strength": "of a solution, in the unit beside it or at the end of its name",
    "hundred": "so many of 100, counted",
    "freedom": "degrees of freedom, counted",
    "fills": "of a tray, counted",
    "fill": "its number",
    "slope": "of a rule, whose unit its docstring has",
    "coefficients": "of a formula, whose units its docstring has",
    "ph": "a logarithm by definition",
    "pk": "constants of an acid, logarithms by definition",
    "ww": "by weight: the unit stands before it",
    "price": "in the money that one pays with",
    "sd": "one standard deviation of the thing named before it",
}


def has_unit(name: str) -> bool:
    words = name.lower().split("_")
    return name.lower() in PURE or name.lower().endswith(SUFFIXES) or bool(PURE.keys() & set(words)) or f"_{name}" in SUFFIXES


def is_number(annotation: ast.expr | None) -> bool:
    """`float`, `float | None`, `tuple[float, ...]`, `Annotated[float, ...]`."""
    match annotation:
        case ast.Name(id="float"):
            return True
        case ast.BinOp(left=left, right=right):
            return is_number(left) or is_number(right)
        case ast.Subscript(value=ast.Name(id="tuple" | "Sequence" | "list"), slice=ast.Tuple(elts=[first, *_]) | (ast.Name() as first)):
            return is_number(first)
        case ast.Subscript(value=ast.Name(id="Annotated"), slice=ast.Tuple(elts=[first, *_])):
            return is_number(first)
    return False


def float_fields(path: Path) -> Iterator[tuple[ast.AnnAssign, str]]:
    for node in nodes_of(path):
        if isinstance(node, ast.ClassDef):
            for one in node.body:
                if isinstance(one, ast.AnnAssign) and isinstance(one.target, ast.Name) and is_number(one.annotation):
                    yield one, one.target.id


def test_no_vague_names() -> None:
    assert [place(path) for path in written() if path.stem in VAGUE or path.parent.name in VAGUE] == []
    classes = [
        f"{place(path, node)} {node.name}"
        for path in written()
        for node in nodes_of(path)
        if isinstance(node, ast.ClassDef) and node.name.endswith(("Util", "Utils", "Helper", "Helpers"))
    ]
    none_of(classes, "Vague names")


def test_fields_end_with_their_unit() -> None:
    bare = [f"{place(path, node)} {name}" for path in written() for node, name in float_fields(path) if not has_unit(name)]
    none_of(bare, "The unit stands at the end of the name")


def test_kernel_arguments_end_with_their_unit() -> None:
    bare = [
        f"{place(path, one)} {one.name}({argument.arg})"
        for path in kernels()
        for one in functions(path)
        if not one.name.startswith("_")
        for argument in parameters(one)
        if is_number(argument.annotation) and not has_unit(argument.arg)
    ]
    none_of(bare, "The unit stands at the end of the name")


def test_ratios_are_never_bare() -> None:
    """`_stops`, `_log10` or `_factor`: a ratio must say how it is counted."""
    words = {"ratio", "correction", "gain", "difference"}
    bare = [
        f"{place(path, node)} {name}"
        for path in written()
        for node, name in float_fields(path)
        if words & set(name.split("_")) and not name.endswith(("_stops", "_log10", "_factor"))
    ]
    none_of(bare, "A ratio says how it is counted")
