"""What was sent on from a scan, a step sheet or metered places, beside what the scan tells now: much may have changed since."""

from collections.abc import Mapping
from math import isclose
from typing import Final

from silverwright.book.models import Reading, Scan, ScenePatch
from silverwright.book.scans import ScanKnown

SAME_DENSITY: Final = 1e-6  # arithmetic: the same figure, worked out on another day
BY_HAND: Final = "correct"
CHANGED: Final = "The scanner, its calibration or the marks were changed after they were sent."
OTHERS: Final = "The book has other densities of this {what} than stand here. {changed}"
NONE_NOW: Final = "The book has densities of this {what} that were sent from here, but by what is said now this scan has none. {changed}"


def differs(known: ScanKnown) -> str:
    """Why the step sheet or the places in the book do not stand as this scan tells them now; nothing when they do, or when none were sent."""
    what, rows = _sent(known)
    if not rows:
        return ""
    if known.densities is None:
        return NONE_NOW.format(what=what, changed=CHANGED)
    now = _now(known)
    as_many = what != "picture" or len(rows) == len(now)
    if as_many and all(_same(row, now) for row in rows):
        return ""
    return OTHERS.format(what=what, changed=CHANGED)


def were_sent(known: ScanKnown) -> bool:
    """Whether the book has densities that came from this scan."""
    return bool(_sent(known)[1])


def _sent(known: ScanKnown) -> tuple[str, list[Reading | ScenePatch]]:
    """What it shows, and the rows of the book that were read from it."""
    scan = known.scan
    if scan.shows == "step sheet":
        kept = Reading.objects.filter(step_sheet__scan=scan, step_sheet__archived_at=None, archived_at=None).order_by("position")
        return "step sheet", list(kept)
    if scan.shows == "picture" and _metered(scan) and scan.sheet is not None:
        there = list(scan.sheet.scene_patches.filter(archived_at=None).order_by("position"))
        readings = {place["reading_ev"] for place in _metered(scan).values()}
        return "picture", list(there) if there and all(one.reading_ev in readings for one in there) else []
    return "", []


def _metered(scan: Scan) -> dict[int, Mapping[str, float]]:
    """The places of a picture at which the meter read something, by their number."""
    return {number: place for number, place in enumerate(scan.places, start=1) if place.get("reading_ev") is not None}


def _now(known: ScanKnown) -> dict[int, float]:
    """The densities as the scan tells them now, by the position that they have, or would have, in the book."""
    answer = known.densities
    found = dict(zip(map(int, answer.positions), answer.densities, strict=True)) if answer else {}
    if known.scan.shows != "picture":
        return found
    return dict(enumerate((found[number] for number in _metered(known.scan) if number in found), start=1))


def _same(row: Reading | ScenePatch, now: Mapping[int, float]) -> bool:
    """Whether a row stands as the scan tells it; what a hand corrected since is meant so."""
    told = now.get(row.position)
    if row.density is None or told is None:
        return row.density is told or _by_hand(row)
    return isclose(row.density, told, abs_tol=SAME_DENSITY) or _by_hand(row)


def _by_hand(row: Reading | ScenePatch) -> bool:
    newest = row.history.select_related("history_user").first()
    return newest is not None and newest.history_user is not None and newest.history_user.deed == BY_HAND
