"""Facts by their key: every figure that is not arithmetic stands in a table here, with its kind and source."""

import csv
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, Literal, cast

from silverwright.errors import UnknownName

Kind = Literal["standard", "handbook", "paper", "datasheet", "measured", "trade", "memory", "judgement"]
UNSOURCED: Final[dict[str, str]] = {
    "trade": "common practice, no source",
    "memory": "from memory, unverified",
    "judgement": "our judgement",
}


@dataclass(frozen=True, slots=True)
class Fact:
    """One figure: its value, the range in which it holds, its uncertainty (one standard deviation), and who says so."""

    key: str
    value: float
    low: float | None
    high: float | None
    unit: str
    uncertainty: float | None
    kind: Kind
    source: str
    where: str
    note: str

    @property
    def says(self) -> str:
        """Who says so, as it is printed beside the figure."""
        return UNSOURCED.get(self.kind) or f"{self.source}, {self.where}".rstrip(", ")

    @property
    def rests(self) -> Literal["published", "trade", "judgement"]:
        """How sure a figure of this kind is: published, practice (or memory), or our judgement."""
        if self.kind == "judgement":
            return "judgement"
        return "trade" if self.kind in {"trade", "memory"} else "published"

    @property
    def sd(self) -> float:
        """The uncertainty, where one is stated."""
        if self.uncertainty is None:
            raise UnknownName("uncertainty of a fact", self.key)
        return self.uncertainty


@cache
def facts(subject: str) -> dict[str, Fact]:
    """Every fact of a subject: `facts("reciprocity")["paper_exponent"]`. The file is `facts/<subject>.csv`."""
    text = files("silverwright.facts").joinpath(f"{subject}.csv").read_text(encoding="utf-8")
    return {row["key"]: _fact(row) for row in csv.DictReader(text.splitlines())}


def fact(subject: str, key: str) -> Fact:
    """One fact."""
    try:
        return facts(subject)[key]
    except KeyError:
        raise UnknownName(f"fact in {subject}.csv", key) from None


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """A table of words, `facts/tables/<name>.csv`: its rows as they stand there, with their kind and source where they are facts."""
    text = files("silverwright.facts").joinpath("tables", f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def bibliography() -> dict[str, dict[str, str]]:
    """Every source by its key: author, year, title, publisher or journal, and whether we saw it or only a report of it."""
    return tomllib.loads(files("silverwright.facts").joinpath("sources.toml").read_text(encoding="utf-8"))


def cited(source: str) -> str:
    """A source as an answer names it, `greivenkamp2004, p. 29`, with who wrote it where the list has it."""
    entry = bibliography().get(source.partition(",")[0])
    return f"{source}: {entry['author']} ({entry['year']}), {entry['title']}" if entry else source


def _fact(row: dict[str, str]) -> Fact:
    def number(column: str) -> float | None:
        return float(row[column]) if row[column] else None

    return Fact(
        key=row["key"],
        value=float(row["value"]),
        low=number("low"),
        high=number("high"),
        unit=row["unit"],
        uncertainty=number("uncertainty"),
        kind=cast("Kind", row["kind"]),
        source=row["source"],
        where=row["where"],
        note=row["note"],
    )
