"""Who says so: every kernel names its source, every fact has one, and nothing is cited that is not listed, or listed that is not cited."""

import ast
import csv
import hashlib
import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

from tests.house.code import ROOT, SRC, Function, kernels, nodes_of, none_of, place, sources, text_files, text_of, tree_of

from silverwright import units
from silverwright.facts.load import UNSOURCED, Kind, bibliography
from silverwright.units import Unit

FACTS = SRC / "facts"
COLUMNS = ["key", "value", "low", "high", "unit", "uncertainty", "kind", "source", "where", "note"]
PINNED = ROOT / "tests" / "house" / "facts_pinned.csv"
# Signs of figures that no field has: what a fact may be counted in besides.
OTHER_UNITS = {"", "1", "stop", "stops", "s", "mm", "log10", "density", "EI", "lx s", "cd/m²", "%", "lx s EI", "nm", "mg/kg"}


def public(path: Path) -> Iterator[Function]:
    return (node for node in tree_of(path).body if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"))


def source_of(function: Function) -> str:
    """What stands under `Source:`."""
    found = re.search(r"^Source:\s*(.+)", ast.get_docstring(function) or "", re.DOTALL | re.MULTILINE)
    return " ".join(found[1].split()) if found else ""


def rows() -> list[tuple[Path, dict[str, str]]]:
    return [(path, row) for path in sorted(FACTS.glob("*.csv")) for row in csv.DictReader(text_of(path).splitlines())]


def test_every_kernel_names_its_source() -> None:
    silent = [f"{place(path, one)} {one.name}" for path in kernels() for one in public(path) if not source_of(one)]
    none_of(silent, "A docstring ends with `Source:`")


def parts_needed(function: Function) -> list[str]:
    """What this docstring must have besides its sentence."""
    raises = any(isinstance(node, ast.Raise) for node in ast.walk(function))
    gives = function.returns is not None and ast.unparse(function.returns) != "None"
    return ["Args:"] * bool(function.args.args or function.args.kwonlyargs) + ["Returns:"] * gives + ["Raises:"] * raises


def test_every_kernel_says_what_goes_in_and_comes_out() -> None:
    short = [
        f"{place(path, one)} {one.name}: {part}"
        for path in kernels()
        for one in public(path)
        for part in parts_needed(one)
        if part not in (ast.get_docstring(one) or "")
    ]
    none_of(short, "A kernel's docstring has these parts")


def test_every_source_that_a_kernel_names_is_listed() -> None:
    strangers = [
        f"{place(path, one)} {one.name}: {part}"
        for path in kernels()
        for one in public(path)
        for part in source_of(one).rstrip(".").split("; ")
        if part and not any(words in part for words in UNSOURCED.values()) and part.split(",")[0].split(" ")[0] not in bibliography()
    ]
    none_of(strangers, "Keys of facts/sources.toml, or the words for none")


def test_facts_are_whole() -> None:
    kinds, signs = set(get_args(Kind)), {one.sign for one in vars(units).values() if isinstance(one, Unit)} | OTHER_UNITS
    wrong = [f"{path.name}: columns" for path in FACTS.glob("*.csv") if next(csv.reader(text_of(path).splitlines())) != COLUMNS]
    for path, row in rows():
        at = f"{path.name} {row['key']}"
        value, low, high = (float(row[name]) if row[name] else None for name in ("value", "low", "high"))
        wrong += [f"{at}: kind {row['kind']}"] * (row["kind"] not in kinds)
        wrong += [f"{at}: unit {row['unit']}"] * (row["unit"] not in signs)
        wrong += [f"{at}: no value"] * (value is None)
        wrong += [f"{at}: outside its own limits"] * (value is not None and not (low is None or low <= value) & (high is None or value <= high))
        wrong += [f"{at}: source {row['source']}"] * (row["kind"] not in UNSOURCED and row["source"] not in bibliography())
        wrong += [f"{at}: where in it?"] * (row["kind"] not in UNSOURCED and not row["where"])
        wrong += [f"{at}: our judgement says why"] * (row["kind"] == "judgement" and len(row["note"].split()) < 3)
    none_of(wrong, "A fact has value, unit, kind, source and limits that hold it")


def test_no_fact_twice() -> None:
    keys = [f"{path.name} {row['key']}" for path, row in rows()]
    none_of({key for key in keys if keys.count(key) > 1}, "One row for one fact")


def test_every_fact_is_used() -> None:
    """By its key somewhere in the code, by the beginning of its key (`f"meter_c_{head}"`), or with its whole table."""
    nodes = [node for path in sources() for node in nodes_of(path)]
    words = {node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    begun = [node.values[0].value for node in nodes if isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant)]
    prefixes = tuple(str(one) for one in begun if re.fullmatch(r"[a-z]+(_[a-z]+)*_", str(one)))
    code = "\n".join(text_of(path) for path in sources())
    whole = set(re.findall(r'facts\(\s*"(\w+)"\s*\)(?!\[)', code))
    idle = [
        f"{path.name} {row['key']}"
        for path, row in rows()
        if row["key"] not in words and path.stem not in whole and not row["key"].startswith(prefixes)
    ]
    none_of(idle, "A fact that nothing uses")


def test_every_fact_that_is_asked_for_exists() -> None:
    asked = {pair for path in sources() for pair in re.findall(r'\bfact\(\s*"(\w+)",\s*"(\w+)"', text_of(path))}
    asked |= {pair for path in sources() for pair in re.findall(r'\bfacts\(\s*"(\w+)"\s*\)\["(\w+)"\]', text_of(path))}
    there = {(path.stem, row["key"]) for path, row in rows()}
    none_of((f"{subject}: {key}" for subject, key in asked - there), "No such fact")


def test_every_listed_source_is_cited() -> None:
    cited = {row["source"] for _, row in rows()}
    for path in text_files():
        if path.suffix in {".py", ".csv", ".md", ".toml"} and path.name != "sources.toml":
            cited |= {key for key in bibliography() if key in text_of(path)}
    none_of(bibliography().keys() - cited, "Listed in sources.toml, but cited nowhere")


def test_sources_are_whole() -> None:
    wrong = [f"{key}: {part}" for key, entry in bibliography().items() for part in ("author", "title", "year") if not entry.get(part)]
    none_of(wrong, "A source has author, title and year")


def pinned_line(path: Path) -> str:
    return f"{path.name},{len(text_of(path).splitlines()) - 1},{hashlib.sha256(path.read_bytes()).hexdigest()[:16]}"


def test_facts_are_pinned() -> None:
    """Facts change only on purpose: row count and checksum stand in facts_pinned.csv (pinned, not a check of their truth)."""
    now = {pinned_line(path) for path in FACTS.glob("*.csv")}
    pinned = set(text_of(PINNED).splitlines()[1:])
    changed = [*(now - pinned), *(f"gone: {line}" for line in pinned - now)]
    none_of(changed, "Facts changed; if that was meant, these lines go into tests/house/facts_pinned.csv")
