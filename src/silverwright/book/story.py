"""What was written when, by whom and by which act: the history of rows as people read it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Any, Final

from silverwright.book.find import called
from silverwright.book.models import Exposure, Processing, ProcessingStep, Reading, Sheet, StepSheet, Verdict
from silverwright.book.models.kept import Kept

UNSEEN: Final = frozenset({"id", "version"})


@dataclass(frozen=True, slots=True)
class Change:
    """One saving of one row: when, by whom, by which act; `fields` holds what stood there before and after (nothing before for a new row)."""

    at: datetime
    who: str
    deed: str
    kind: str
    name: str
    version: int
    fields: Mapping[str, tuple[Any, Any]]

    @property
    def new(self) -> bool:
        """Whether this row was written here for the first time."""
        return self.version == 1


def changes_of(thing: Kept) -> tuple[Change, ...]:
    """The history of a thing, and of everything that belongs to it when it is a sheet; the newest first."""
    rows: list[Kept] = [thing, *(_belongings(thing) if isinstance(thing, Sheet) else ())]
    found = [change for row in rows for change in _changes(row)]
    return tuple(sorted(found, key=lambda change: change.at, reverse=True))


def _belongings(sheet: Sheet) -> Iterable[Kept]:
    yield from Exposure.objects.filter(sheet=sheet.exposed_as)
    yield from Processing.objects.filter(sheet=sheet)
    yield from ProcessingStep.objects.filter(processing__sheet=sheet).select_related("processing__sheet")
    yield from StepSheet.objects.filter(sheet=sheet)
    yield from Reading.objects.filter(step_sheet__sheet=sheet).select_related("step_sheet__sheet")
    yield from Verdict.objects.filter(sheet=sheet)


def _changes(row: Kept) -> Iterable[Change]:
    kind, name = called(row)
    records = list(row.history.select_related("history_user").order_by("history_id"))
    for before, after in pairwise([None, *records]):
        act = after.history_user
        yield Change(
            at=after.history_date,
            who=act.who if act else "",
            deed=act.deed if act else "",
            kind=kind,
            name=name,
            version=after.version,
            fields=_differences(row, before, after),
        )


def _differences(row: Kept, before: Any, after: Any) -> dict[str, tuple[Any, Any]]:  # noqa: ANN401 (history's own rows)
    found = {}
    for field in row._meta.concrete_fields:  # noqa: SLF001 (Django's public name for it)
        was, is_now = (None if record is None else _shown(record, field) for record in (before, after))
        if field.name not in UNSEEN and was != is_now and not (before is None and is_now in {None, ""}):
            found[field.name] = (was, is_now)
    return found


def _shown(record: Any, field: Any) -> Any:  # noqa: ANN401 (history's own rows)
    """The value, a linked row by its name; documents as they are, as text."""
    value = getattr(record, field.attname)
    if value is not None and field.is_relation:
        return str(field.related_model.objects.filter(pk=value).first() or value)
    return str(value) if isinstance(value, dict) else value
