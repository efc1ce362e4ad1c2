"""The flashes of the next sheet: what the book knows, under what was typed, asked of the flash question. Nothing is kept."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any, Final

from django.utils.timezone import localtime, now

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import Record, Remark
from silverwright.book.trouble import plain_trouble
from silverwright.errors import BadQuestion
from silverwright.questions.flash import FLASH, FlashAnswer
from silverwright.questions.meter import ReadingQuestion, reading_of
from silverwright.workshop.act import find_things
from silverwright.workshop.plan import THINGS, FromBook, Planned, known_from_book, plan
from silverwright.workshop.scene import by_flash

LIGHT: Final = "flash"  # the class of light, as own sheets under a flash are kept
MEANWHILE: Final = frozenset({"reading_ev", "reading_cd_per_m2", "reading_lx", "dial_time_s"})
OF_A_READING: Final = fields_of(ReadingQuestion)
OF_THE_FLASH: Final = fields_of(FLASH.question)


class PlannedFlashes(Record):
    """An exposure planned by flashes: the question as it was asked, its answer, what came from the book, and what the book says besides."""

    operation: str = FLASH.name
    operation_version: int = FLASH.version
    question: Mapping[str, Any]
    answer: FlashAnswer
    from_book: tuple[FromBook, ...] = ()
    notes: tuple[Remark, ...] = ()


def plan_either(given: Mapping[str, object], at: datetime | None = None) -> Planned | PlannedFlashes:
    """How to expose: by flashes where anything is said of a flash, else by time. Raises `BadQuestion` with every fault."""
    return plan_flashes(given, at) if by_flash(given) else plan(given, at)


def plan_flashes(given: Mapping[str, object], at: datetime | None = None) -> PlannedFlashes:
    """
    How many flashes, with everything that the book knows.

    As `plan`; own sheets under a flash say what a flash loses. Where the shutter stays open, the reading says how much light is there meanwhile.
    Raises `BadQuestion` with every fault.
    """
    with plain_trouble():
        typed = {name: value for name, value in given.items() if value is not None and value != ""}
        things, faults = find_things(THINGS, typed)
        asked = {name: value for name, value in typed.items() if name not in THINGS}
        known, notes = known_from_book(things, {**asked, "light_class": LIGHT}, localtime(at or now()).date().isoformat())
        known = [one for one in _of_flashes(known) if one.field in OF_THE_FLASH and one.field not in asked]
        filled = {one.field: one.value for one in known} | asked | _meanwhile(typed)
        try:
            question = FLASH.question.model_validate({name: value for name, value in filled.items() if name in OF_THE_FLASH})
        except BadQuestion as bad:
            raise BadQuestion([*bad.faults, *faults]) from None
        if faults:
            raise BadQuestion(faults)
        answer = FLASH.compute(question)
    document = question.model_dump(mode="json", exclude_defaults=True)
    return PlannedFlashes(question=document, answer=answer, from_book=tuple(known), notes=tuple(notes))


def _of_flashes(known: Sequence[FromBook]) -> list[FromBook]:
    """What own sheets learnt of the light of a flash is what short, bright flashes lose on this paper."""
    names = {"light_offset_stops": "short_flash_stops", "light_offset_sd_stops": "short_flash_sd_stops", "light_rests_on": "short_flash_rests_on"}
    return [
        FromBook(field=names.get(one.field, one.field), value=-one.value if one.field == "light_offset_stops" else one.value, says=one.says)
        for one in known
    ]


def _meanwhile(typed: Mapping[str, object]) -> dict[str, object]:
    """The light that is there while the shutter stays open, as an exposure value, however it was read."""
    told = {name: value for name, value in typed.items() if name in OF_A_READING}
    if not typed.get("open_s") or typed.get("exposure_s") or not told.keys() & MEANWHILE:
        return {}
    question = ReadingQuestion.model_validate(told)
    return {"reading_ev": reading_of(question, question.aperture_f).ev}
