"""What must not be poured together, by what is in both vessels. What is asked stands in meeting.py."""

from collections.abc import Iterable
from functools import cache, lru_cache
from typing import Final

from silverwright.chemistry.apart import clashes
from silverwright.facts.load import UNSOURCED, table
from silverwright.questions.hazard import NO_DATA
from silverwright.questions.substances import called, substances
from silverwright.records_chemistry import Apart, Contents

LEAST_G_PER_L: Final = 0.1  # our judgement: what a badly rinsed sheet carries along is not counted as poured in
KEPT: Final = 4000  # our judgement: every pair of a full shelf
VENTED: Final = {
    "hydrogen_peroxide": "Peroxide gives off oxygen, in a used bath all the time: a cap that vents, never closed tight.",
    "sodium_hypochlorite": "Household bleach gives off gas: a cap that vents.",
    "ammonia": "Ammonia pushes against a tight cap where it is warm: open it slowly, away from the face.",
}


def kept_apart(one: Contents, other: Contents) -> tuple[Apart, ...]:
    """
    What must not meet when the one is poured into the other, the likeliest accident first; what is `refused` is never poured.

    Of a substance that is not known here only its name can tell; that nobody knows more is said last, and not refused. The same
    contents on both sides tell whether a mix clashes in itself.
    """
    return _kept_apart(_there(one), _there(other))


def groups_with(keys: Iterable[str]) -> dict[str, frozenset[str]]:
    """The kinds, and in them what is not known here by the words of its name: “rapid fixer, brand X” counts as what a fixer has in it."""
    strange = [key for key in keys if key not in substances()]
    if not strange:
        return groups()
    rows = [(row["words"], row["groups"].split("|")) for row in table("products")]
    more = {kind: {key for key in strange for words, kinds in rows if kind in kinds and words in key.lower()} for kind in groups()}
    return {kind: known | more[kind] for kind, known in groups().items()}


def pairs_among(keys: Iterable[str]) -> tuple[tuple[Apart, frozenset[str], frozenset[str]], ...]:
    """The pairs of kinds that are both on a shelf, the likeliest accident first, each with the substances of either kind that are there."""
    there = frozenset(keys)
    kinds = groups_with(there)
    found = [(pair, kinds[pair.one] & there, kinds[pair.other] & there) for pair in pairs() if pair.refused]
    return tuple((pair, one, other) for pair, one, other in found if one and other)


def vented_because(contents: Contents) -> str:
    """Why its bottle needs a cap that vents; nothing where no gas builds up that is known of."""
    return " ".join(VENTED[key] for key in _there(contents) if key in VENTED)


@cache
def groups() -> dict[str, frozenset[str]]:
    """The kinds: which substances are acids, sulphites, and so on; crystals with their water among them."""
    kinds = {row["group"]: row["substances"].split("|") for row in table("groups")}
    return {kind: frozenset(key for key, one in substances().items() if key in keys or one.anhydrous in keys) for kind, keys in kinds.items()}


@cache
def pairs() -> tuple[Apart, ...]:
    """The pairs of kinds that must not meet, the likeliest accident first."""
    return tuple(
        Apart(row["one"], row["other"], row["gas"], row["words"], row["refused"] == "yes", UNSOURCED.get(row["kind"]) or row["source"])
        for row in table("apart")
    )


def _there(contents: Contents) -> tuple[str, ...]:
    """What is in it in more than traces; of what is dry, all."""
    wet = contents.volume_ml > 0
    return tuple(sorted(key for key, mass_g in contents.mass_g.items() if mass_g > 0 and (not wet or contents.g_per_l(key) >= LEAST_G_PER_L)))


@lru_cache(maxsize=KEPT)
def _kept_apart(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[Apart, ...]:
    known = [
        Apart(called(pair.one), called(pair.other), pair.gas, pair.words, pair.refused, pair.says)
        for pair in clashes(one, other, groups_with((*one, *other)), pairs())
    ]
    found = list({(pair.one, pair.other, pair.gas): pair for pair in reversed(known)}.values())[
        ::-1
    ]  # crystals and what they are without water are one
    strange = dict.fromkeys(key for key in (*one, *other) if key not in substances())
    if one and other and set(one) != set(other):
        found += [Apart(key, "everything else", "", f"{key}: {NO_DATA}. Until then it has a bottle of its own.", refused=False) for key in strange]
    return tuple(found)
