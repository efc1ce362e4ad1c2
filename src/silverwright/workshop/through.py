"""Sheets go through baths: which bath a step names, and what of it counts for the bath."""

from collections.abc import Iterable
from datetime import datetime
from typing import Final

from django.utils.timezone import now

from silverwright.asking.operation import Remark, remark
from silverwright.book.models import Bath, BathEvent, ProcessingStep, Sheet
from silverwright.notes import Note
from silverwright.questions.sheetsize import known_size

MM2_PER_M2: Final = 1_000_000.0  # arithmetic


def area_m2(sheet: Sheet) -> float | None:
    """The area of a sheet by its box; a piece is an equal part of its sheet. Nothing where nobody wrote down a size."""
    lot = sheet.exposed_as.lot
    if lot is None:
        return None
    sides = (lot.width_mm, lot.height_mm) if lot.width_mm and lot.height_mm else None
    if sides is None and (size := known_size(lot.size)) is not None:
        sides = (size.width_mm, size.height_mm)
    parts = sheet.exposed_as.pieces.filter(archived_at=None).count() if sheet.whole else 1
    return None if sides is None else sides[0] * sides[1] / MM2_PER_M2 / max(1, parts)


def bath_called(written: str) -> Bath | None:
    """The bath of the book that somebody means by what is written down, if there is one."""
    wanted = " ".join(written.split())
    return Bath.objects.filter(name__iexact=wanted, archived_at=None).first() if wanted else None


def went_through(step: ProcessingStep, bath: Bath, at: datetime) -> None:
    """The step was in this bath: the sheet counts for it, once however often it came back, and each time carries some of it out."""
    step.in_bath = bath
    step.save()
    BathEvent.objects.create(bath=bath, what="used", happened_at=at, sheets=0, area_m2=area_m2(step.processing.sheet), step=step)
    _counted_once(step, bath)


def _counted_once(step: ProcessingStep, bath: Bath) -> None:
    """Of all times that a sheet was in this bath during one stay in the trays, the first that stands counts it."""
    for place, event in enumerate(BathEvent.objects.filter(bath=bath, step__processing=step.processing, archived_at=None).order_by("pk")):
        sheets = 1 if place == 0 else 0
        if event.sheets != sheets:
            event.sheets = sheets
            event.save()


def linked_again(step: ProcessingStep, *, anew: bool) -> list[Bath]:
    """
    After a step or its stay in the trays was corrected, archived or brought back: the sheet counts where it should.

    `anew`: another bath was written down. The baths whose account has changed.
    """
    if anew:
        step.in_bath = bath_called(step.bath)
        step.save()
    active = step.archived_at is None and step.processing.archived_at is None
    touched: list[Bath] = []
    there = False
    for event in step.bath_events.select_related("bath"):
        counts = active and event.bath_id == step.in_bath_id
        archived_at = None if counts else event.archived_at or now()
        if (event.archived_at, event.happened_at) != (archived_at, step.processing.processed_at):
            event.archived_at, event.happened_at = archived_at, step.processing.processed_at
            event.save()
            touched.append(event.bath)
        there = there or counts
    if anew and active and step.in_bath is not None and not there:
        went_through(step, step.in_bath, step.processing.processed_at)
        touched.append(step.in_bath)
    for bath in touched:
        _counted_once(step, bath)
    return touched


def sizes_missing(sheets: Iterable[Sheet]) -> list[Remark]:
    """A sheet of which nobody wrote down the size is said."""
    return [remark(Note.SIZE_NOT_IN_BOOK, sheet=sheet.number) for sheet in sheets if area_m2(sheet) is None]
