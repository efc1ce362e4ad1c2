"""What must not meet: pairs of kinds of substances, and the gas that comes of each."""

from collections.abc import Iterable, Mapping, Sequence

from silverwright.records_chemistry import Apart

Groups = Mapping[str, frozenset[str]]


def clashes(one: Iterable[str], other: Iterable[str], groups: Groups, pairs: Sequence[Apart]) -> tuple[Apart, ...]:
    """
    What happens when the one is poured into the other?

    each pair of kinds of which one is here and the other there, either way round

    Args:
        one: The substances in the one vessel, by their keys.
        other: The substances in the other vessel.
        groups: Which substances are of a kind: acids, sulphites, what has ammonium in it.
        pairs: The pairs of kinds that must not meet, the likeliest accident first.

    Returns:
        What must not meet, the likeliest accident first; of two substances each gas once. Uncertainty: pairs that nobody
        has listed; what is not found here may still react.

    Source:
        docslib_incompatible, hydrogen peroxide; the other pairs from memory, unverified.
    """
    here, there = list(dict.fromkeys(one)), list(dict.fromkeys(other))
    found: dict[tuple[frozenset[str], str], Apart] = {}
    for pair in pairs:
        for first in here:
            for second in there:
                if _meet(first, second, pair, groups) or _meet(second, first, pair, groups):
                    found.setdefault((frozenset({first, second}), pair.gas), Apart(first, second, pair.gas, pair.words, pair.refused, pair.says))
    return tuple(found.values())


def _meet(first: str, second: str, pair: Apart, groups: Groups) -> bool:
    return first in groups[pair.one] and second in groups[pair.other]
