"""Things of the book by their names, and how they are called."""

import re
from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any, Final

from django.db.models import QuerySet

from silverwright.book.models import (
    Bath,
    BathEvent,
    Camera,
    Chip,
    Count,
    Exposure,
    Holder,
    HolderSide,
    Lens,
    Light,
    Lot,
    Meter,
    Paper,
    Processing,
    ProcessingStep,
    Reading,
    Recipe,
    Scan,
    Scanner,
    ScenePatch,
    Sheet,
    StepSheet,
    Stock,
    StockTest,
    Verdict,
    WasteBottle,
    WasteEmptied,
)
from silverwright.book.models.kept import LONGEST_NAME, Kept
from silverwright.errors import UnknownName

NAMED: Final[Mapping[str, type[Kept]]] = {
    "paper": Paper,
    "lot": Lot,
    "camera": Camera,
    "lens": Lens,
    "light": Light,
    "meter": Meter,
    "holder": Holder,
    "scanner": Scanner,
}
ON_THE_SHELF: Final[Mapping[str, type[Kept]]] = {"stock": Stock, "bath": Bath, "waste-bottle": WasteBottle}
BY_NAME: Final[Mapping[str, type[Kept]]] = {**NAMED, **ON_THE_SHELF, "scan": Scan, "count": Count}
ON_A_SHEET: Final[Mapping[str, tuple[type[Kept], str]]] = {
    "exposure": (Exposure, "sheet"),
    "processing": (Processing, "sheet"),
    "step": (ProcessingStep, "processing__sheet"),
    "step-sheet": (StepSheet, "sheet"),
    "reading": (Reading, "step_sheet__sheet"),
    "verdict": (Verdict, "sheet"),
    "scene-patch": (ScenePatch, "sheet"),
}
OF_A_THING: Final[Mapping[str, tuple[type[Kept], str, str]]] = {
    "chip": (Chip, "lot", "made_at"),
    "stock-test": (StockTest, "stock", "tested_at"),
    "bath-event": (BathEvent, "bath", "happened_at"),
    "emptying": (WasteEmptied, "bottle", "emptied_at"),
}
LONGEST_ECHO: Final = 40  # our judgement: enough to recognise what was typed
KINDS: Final[tuple[str, ...]] = (*BY_NAME, "recipe", "side", "sheet", *ON_A_SHEET, *OF_A_THING)
_NUMBER: Final = re.compile(r"(\d{2}|\d{4})\s*[-/ ]\s*(\d{1,6})\s*([a-z]{0,2})")


def sheet_number(written: str) -> str:
    """`26-18a` and `2026-018a` are 26-018a; what is no such number stays as it is."""
    match = _NUMBER.fullmatch(written.strip().lower())
    return f"{match[1][-2:]}-{int(match[2]):03}{match[3]}" if match else written.strip()


def find_thing(kind: str, name: str) -> Kept:
    """
    A thing by its kind and name, archived or not.

    Gear, paper and lots go by name; a sheet by its number; a holder side as `holder 1/2`; what belongs to a sheet by the sheet's number, and where
    there are several, with its place among them: `26-018/2`. Without a place the newest is meant that is not archived.
    """
    if len(name) > LONGEST_NAME or not name.isprintable():
        raise UnknownName(kind, f"{ascii(name)[1:LONGEST_ECHO]}…")
    if kind in BY_NAME:
        return _named(kind, name)
    if kind == "sheet":
        return _sheet(name)
    if kind == "side":
        return _side(name)
    if kind in ON_A_SHEET:
        return _on_a_sheet(kind, name)
    if kind == "recipe":
        return _recipe(name)
    if kind in OF_A_THING:
        return _of_a_thing(kind, name)
    raise UnknownName("kind of thing", kind, get_close_matches(kind, KINDS, n=3))


def called(thing: Kept) -> tuple[str, str]:
    """The kind and the name by which `find_thing` finds it again."""
    if isinstance(thing, HolderSide):
        return "side", f"{thing.holder}/{thing.side}"
    for kind, model in BY_NAME.items():
        if isinstance(thing, model):
            return kind, str(thing)
    if isinstance(thing, Sheet):
        return "sheet", thing.number
    if isinstance(thing, Recipe):
        return "recipe", f"{thing.name}/{thing.edition}"
    return _called_by_place(thing)


def _called_by_place(thing: Kept) -> tuple[str, str]:
    """What belongs to a sheet, a bottle or a bath has its place among those of its kind."""
    for kind, (model, owner, _) in OF_A_THING.items():
        if isinstance(thing, model):
            of = getattr(thing, owner)
            return kind, f"{of}/{list(rows_of(kind, of).values_list('pk', flat=True)).index(thing.pk) + 1}"
    for kind, (model, path) in ON_A_SHEET.items():
        if isinstance(thing, model):
            sheet: Any = thing
            for part in path.split("__"):
                sheet = getattr(sheet, part)
            place = list(siblings(kind, sheet).values_list("pk", flat=True)).index(thing.pk)
            return kind, f"{sheet}/{place + 1}"
    raise UnknownName("kind of thing", type(thing).__name__)


def rows_of(kind: str, owner: Kept) -> QuerySet[Any]:
    """Everything of one kind that belongs to a bottle or a bath, in the order in which it happened."""
    model, field, moment = OF_A_THING[kind]
    return model.objects.filter(**{field: owner}).order_by(moment, "pk")  # type: ignore[attr-defined,no-any-return]


def _recipe(name: str) -> Recipe:
    """A recipe of one's own: its newest edition, or the one whose number stands behind a stroke."""
    wanted, _, edition = name.rpartition("/") if name.rpartition("/")[2].strip().isdecimal() else (name, "", "")
    found = Recipe.objects.filter(name__iexact=" ".join(wanted.split()), **({"edition": int(edition)} if edition else {}))
    newest = found.filter(archived_at=None).last() or found.last()
    if newest is None:
        raise UnknownName("recipe", name, get_close_matches(wanted, list(Recipe.objects.values_list("name", flat=True)), n=3, cutoff=0.4))
    return newest


def _of_a_thing(kind: str, name: str) -> Kept:
    owner, _, place = name.rpartition("/")
    of = _named(
        {"lot": "lot", "stock": "stock", "bath": "bath", "bottle": "waste-bottle"}[OF_A_THING[kind][1]], owner if place.strip().isdecimal() else name
    )
    rows: list[Kept] = list(rows_of(kind, of))
    if not place.strip().isdecimal() and rows:
        return [*(row for row in rows if row.archived_at is not None), *(row for row in rows if row.archived_at is None)][-1]
    if place.strip().isdecimal() and 0 < int(place) <= len(rows):
        return rows[int(place) - 1]
    raise UnknownName(kind, name, [f"{of}/{position + 1}" for position in range(min(3, len(rows)))])


def _named(kind: str, name: str) -> Kept:
    everything: QuerySet[Any] = BY_NAME[kind].objects.all()  # type: ignore[attr-defined]
    wanted = " ".join(name.split())
    found: Kept | None = everything.filter(name=wanted).first() or everything.filter(name__iexact=wanted).first()
    if found is None:
        raise UnknownName(kind, name, get_close_matches(wanted, list(everything.values_list("name", flat=True)), n=3, cutoff=0.4))
    return found


def _sheet(written: str) -> Sheet:
    number = sheet_number(written)
    found = Sheet.objects.filter(number=number).select_related("paper", "lot", "whole").first()
    if found is None:
        raise UnknownName("sheet", written, get_close_matches(number, list(Sheet.objects.values_list("number", flat=True)[:1000]), n=3))
    return found


def _side(name: str) -> HolderSide:
    holder, _, side = name.rpartition("/")
    found = HolderSide.objects.filter(holder__pk=_named("holder", holder or name).pk, side=side.strip()).first()
    if found is None:
        raise UnknownName("holder side", name)
    return found


def siblings(kind: str, sheet: Sheet) -> QuerySet[Any]:
    """Everything of one kind that belongs to a sheet, in the order in which it is counted; a piece has the exposures of its sheet."""
    model, path = ON_A_SHEET[kind]
    sheet = sheet.exposed_as if kind == "exposure" else sheet
    order = {"exposure": "exposed_at", "processing": "processed_at", "verdict": "judged_at", "reading": "position", "scene-patch": "position"}
    by = ("processing__processed_at", "position") if kind == "step" else (order.get(kind, "pk"),)
    return model.objects.filter(**{path: sheet}).order_by(*by, "pk")  # type: ignore[attr-defined,no-any-return]


def _on_a_sheet(kind: str, name: str) -> Kept:
    number, _, place = name.partition("/")
    rows: list[Kept] = list(siblings(kind, _sheet(number)))
    if not place and rows:
        return [*(row for row in rows if row.archived_at is not None), *(row for row in rows if row.archived_at is None)][-1]
    if place.strip().isdecimal() and 0 < int(place) <= len(rows):
        return rows[int(place) - 1]
    raise UnknownName(kind, name, [f"{number}/{position + 1}" for position in range(min(3, len(rows)))])
