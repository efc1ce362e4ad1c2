"""The published figures that are facts of ours, read a second time: a slip of a finger in a fact would pass every test that uses the fact."""

import csv
from pathlib import Path

import pytest

from silverwright.facts.load import bibliography, fact

TABLE = Path(__file__).parents[1] / "authorities" / "figures_taken.csv"
LINES = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
ROWS = list(csv.DictReader(LINES))
KINDS = {"from memory": "memory", "common practice": "trade"}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['source'] or row['mark']}: {row['printed']}")
def test_the_fact_is_what_is_printed(row: dict[str, str]) -> None:
    taken = fact(row["facts"], row["key"])
    assert getattr(taken, row["number"]) == pytest.approx(float(row["figure"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize("row", [row for row in ROWS if row["mark"]], ids=lambda row: str(row["printed"]))
def test_what_nobody_published_or_has_seen_says_so(row: dict[str, str]) -> None:
    taken, kind = fact(row["facts"], row["key"]), KINDS[row["mark"]]
    assert taken.kind == kind or (row["number"] in {"low", "high"} and row["mark"] in taken.note)


def test_every_other_row_names_its_source() -> None:
    assert {row["source"] for row in ROWS if not row["mark"]} <= bibliography().keys()
