"""What a test of strength needs, and how it is done: for the page before anything is measured, and for every answer after it."""

from dataclasses import dataclass
from typing import Final, Literal, get_args

from silverwright.asking.fields import Plain
from silverwright.asking.operation import Remark, remark
from silverwright.facts.load import UNSOURCED, table
from silverwright.notes import Note

BenchTest = Literal["permanganate", "iodine", "gas", "strip", "bleach-out", "two assays"]
BENCH_TESTS: Final[tuple[BenchTest, ...]] = get_args(BenchTest)
NEEDS: Final = Plain(help="What the test needs.", example="Potassium permanganate of 0.02 mol/L (sold as 0.1 N).", label="You need")
TEST_STEPS: Final = Plain(
    help="How the test is done, one step after the other.", example="Measure 10 mL of that into a glass with 20 mL of water.", label="Steps"
)
GOOD_FOR: Final = Plain(help="For which bottle or bath the test is right, and for which it is not.", example="Fresh peroxide.", label="Good for")
_CAUTIONS: Final[dict[BenchTest, Note]] = {
    "permanganate": Note.TEST_PERMANGANATE,
    "iodine": Note.TEST_IODINE,
    "gas": Note.TEST_GAS,
    "strip": Note.TEST_PEROXIDE,
    "bleach-out": Note.TEST_PEROXIDE,
    "two assays": Note.TEST_PEROXIDE,
}


@dataclass(frozen=True, slots=True)
class Guide:
    """One test: what it is good for, what it needs, its steps, what can hurt, and who says so."""

    test: BenchTest
    good_for: str
    needs: tuple[str, ...]
    steps: tuple[str, ...]
    cautions: tuple[Remark, ...]
    says: str


def guide(test: BenchTest) -> Guide:
    """The test of that name."""
    rows = [row for row in table("bench_tests") if row["test"] == test]
    return Guide(
        test=test,
        good_for=_texts(rows, "good for")[0],
        needs=_texts(rows, "needs"),
        steps=_texts(rows, "step"),
        cautions=(remark(_CAUTIONS[test]),),
        says="; ".join(dict.fromkeys(_says(row) for row in rows)),
    )


def _texts(rows: list[dict[str, str]], part: str) -> tuple[str, ...]:
    """Each with a full stop, and with a word about it where nobody has seen its source."""
    return tuple(
        f"{row['text'].rstrip('.')}{' (from memory, unverified)' if row['kind'] == 'memory' else ''}." for row in rows if row["part"] == part
    )


def _says(row: dict[str, str]) -> str:
    return UNSOURCED.get(row["kind"]) or f"{row['source']}, {row['where']}"
