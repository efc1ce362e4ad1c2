"""What was written when, by whom and by which act: the history of rows as people read it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Any, Final

from silverwright.book.find import OF_A_THING, ON_A_SHEET, called, rows_of, siblings
from silverwright.book.models import Bath, Lot, Sheet, Stock, WasteBottle
from silverwright.book.models.kept import Kept

UNSEEN: Final = frozenset({"id", "version", "ledger", "holds", "poured"})  # the last three follow from the rest

OWNERS: Final[Mapping[str, type[Kept]]] = {"lot": Lot, "stock": Stock, "bath": Bath, "bottle": WasteBottle}


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
    """The history of a thing, and of everything that belongs to it when it is a sheet, a bottle or a bath; the newest first."""
    rows = [(thing, *called(thing))]
    if isinstance(thing, Sheet):
        for kind in ON_A_SHEET:
            owner = thing.exposed_as if kind == "exposure" else thing
            rows += [(row, kind, f"{owner}/{place}") for place, row in enumerate(siblings(kind, owner), start=1)]
    if isinstance(thing, Lot | Stock | Bath | WasteBottle):
        kinds = [kind for kind, (_, owner, _) in OF_A_THING.items() if isinstance(thing, OWNERS[owner])]
        rows += [(row, kind, f"{thing}/{place}") for kind in kinds for place, row in enumerate(rows_of(kind, thing), start=1)]
    found = [change for row, kind, name in rows for change in _changes(row, kind, name)]
    return tuple(sorted(found, key=lambda change: change.at, reverse=True))


def _changes(row: Kept, kind: str, name: str) -> Iterable[Change]:
    records = list(row.history.select_related("history_user").order_by("history_id"))
    for before, after in pairwise([None, *records]):
        act = after.history_user
        differences = _differences(row, before, after)
        if before is not None and not differences:  # only what follows from the rest was made anew
            continue
        yield Change(
            at=after.history_date,
            who=act.who if act else "",
            deed=act.deed if act else "",
            kind=kind,
            name=name,
            version=after.version,
            fields=differences,
        )


def _differences(row: Kept, before: Any, after: Any) -> dict[str, tuple[Any, Any]]:  # noqa: ANN401 (history's own rows)
    found = {}
    for field in row._meta.concrete_fields:  # noqa: SLF001 (Django's public name for it)
        was, is_now = (None if record is None else _shown(record, field) for record in (before, after))
        if field.name not in UNSEEN and was != is_now and not (before is None and is_now in {None, ""}):
            found[field.name] = (was, is_now)
    return found


def _shown(record: Any, field: Any) -> Any:  # noqa: ANN401 (history's own rows)
    """The value, a linked row by its name; documents as they are, as text; a table row by row."""
    value = getattr(record, field.attname)
    if value is not None and field.is_relation:
        return str(field.related_model.objects.filter(pk=value).first() or value)
    if isinstance(value, list):
        rows = (one.values() if isinstance(one, dict) else [one] for one in value)
        return "; ".join(" ".join(f"{cell:.4g}" if isinstance(cell, float) else str(cell) for cell in row) for row in rows)
    return str(value) if isinstance(value, dict) else value
