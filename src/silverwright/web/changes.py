"""Corrections as people read them: what stood there struck through, beside what replaced it."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from silverwright.asking.fields import Quantity, label_of
from silverwright.book.story import Change
from silverwright.web.when import moment
from silverwright.workshop.correct import correctable
from silverwright.workshop.correctable import FORMS

NOTHING: Final = "nothing"
ARCHIVED: Final = "archived_at"


@dataclass(frozen=True, slots=True)
class Struck:
    """One field that was changed."""

    label: str
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class Told:
    """One saving in words."""

    when: str
    head: str
    what: str
    struck: tuple[Struck, ...]


def told_changes(changes: Iterable[Change], *, only_corrections: bool) -> list[Told]:
    """Every saving that a reader should know of: entries unless only corrections are wanted, corrections, archivings."""
    told = []
    for change in changes:
        if change.new:
            if not only_corrections:
                told.append(Told(_when(change), "Entered", "", ()))
            continue
        if ARCHIVED in change.fields:
            told.append(Told(_when(change), "Archived" if change.fields[ARCHIVED][1] else "Brought back", f"{change.kind} {change.name}", ()))
        if change.deed == "correct" and (struck := tuple(_struck(change))):
            told.append(Told(_when(change), "Corrected", f"{change.kind} {change.name}", struck))
        elif not only_corrections and change.deed != "correct" and (struck := tuple(_struck(change))):
            told.append(Told(_when(change), change.deed.capitalize(), "", struck))
    return told


def _when(change: Change) -> str:
    return f"{moment(change.at)}{f', {change.who}' if change.who else ''}"


def _struck(change: Change) -> Iterable[Struck]:
    marks = correctable(change.kind) if change.kind in FORMS else {}
    for name, (was, now) in change.fields.items():
        if name == ARCHIVED:
            continue
        mark = marks.get(name)
        label = label_of(name, mark) if mark else name.removesuffix("_id").replace("_", " ").capitalize()
        yield Struck(label, _shown(mark, was), _shown(mark, now))


def _shown(mark: object, value: Any) -> str:  # noqa: ANN401 (any column's value)
    if value is None or value == "":
        return NOTHING
    if isinstance(mark, Quantity) and isinstance(value, int | float):
        return mark.unit.show(value)
    return str(value)
