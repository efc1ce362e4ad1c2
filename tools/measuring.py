"""What every part of the benchmarks hands back, and how a share is written."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt


@dataclass(frozen=True)
class Table:
    """What a part found: a sentence on top, a table, the targets with whether they were reached, and the seeds it ran with."""

    says: str
    head: Sequence[str]
    rows: Sequence[Sequence[str]]
    seed: str = ""
    targets: Sequence[str] = ()


def share_of(found: tuple[int, int] | None) -> str:
    """A share in percent, or a dash."""
    return "–" if not found or not found[1] else f"{100 * found[0] / found[1]:.1f} %"


def with_error(held: int, there: int) -> str:
    """A share with its standard error."""
    if not there:
        return "–"
    share = held / there
    return f"{100 * share:.1f} % (s.e. {100 * sqrt(share * (1 - share) / there):.1f})"
