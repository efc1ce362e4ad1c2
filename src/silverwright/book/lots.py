"""Reading boxes and holders: how many sheets are left, what was cut from which box, what its chips show, and what is in which side."""

from dataclasses import dataclass

from silverwright.book.find import find_thing
from silverwright.book.models import Chip, Holder, HolderSide, Lot


@dataclass(frozen=True, slots=True)
class BoxKnown:
    """A box: the row itself, its newest chip of each kind, the boxes cut from it, and how many of its sheets are in holders."""

    box: Lot
    chips: tuple[Chip, ...]
    cut_into: tuple[str, ...]
    in_holders: int


@dataclass(frozen=True, slots=True)
class HolderKnown:
    """A holder and its sides with what is in them."""

    holder: Holder
    sides: tuple[HolderSide, ...]


def boxes() -> tuple[BoxKnown, ...]:
    """Every box that is not archived, in the order of their names."""
    found = Lot.objects.filter(archived_at=None).select_related("paper", "cut_from").prefetch_related("chips", "cut_into", "sides")
    return tuple(_box(one) for one in found)


def box_known(name: str) -> BoxKnown:
    """One box; `UnknownName` without such a box."""
    lot = find_thing("lot", name)
    assert isinstance(lot, Lot)  # noqa: S101 (the kind says so)
    return _box(lot)


def holders() -> tuple[HolderKnown, ...]:
    """Every holder that is not archived, with its sides."""
    found = Holder.objects.filter(archived_at=None).prefetch_related("sides__lot__paper", "sides__sheet")
    return tuple(HolderKnown(one, tuple(one.sides.all())) for one in found)


def _box(lot: Lot) -> BoxKnown:
    newest = {chip.shows: chip for chip in lot.chips.all() if chip.archived_at is None}
    loaded = [side for side in lot.sides.all() if side.state == "loaded"]
    return BoxKnown(lot, tuple(newest.values()), tuple(str(one) for one in lot.cut_into.all() if one.archived_at is None), len(loaded))
