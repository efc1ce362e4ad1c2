"""What the Camera answers: a time or a number of flashes, large, with its scale, its ledger, and where it leads."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from silverwright.asking.fields import fields_of
from silverwright.asking.operation import Line
from silverwright.questions.flash import FlashAnswer
from silverwright.report.scale import Doubt, doubt_scale
from silverwright.units import F_NUMBER, flashes_said
from silverwright.web.figures import Figure, Ledger, big_time, figure, ledger, sources, stops
from silverwright.web.live import address
from silverwright.web.pages.camera_asked import Asked
from silverwright.workshop.flashes import PlannedFlashes
from silverwright.workshop.plan import Planned

OFF_STOPS: Final = 0.005  # arithmetic: what prints as nothing


@dataclass(frozen=True, slots=True)
class SheetToGive:
    """One sheet of the picture: where it is exposed with the count, and where it is recorded when that is done already."""

    expose: str
    expose_href: str
    record: str
    record_href: str


def answered(asked: Asked, planned: Planned) -> dict[str, object]:
    """The answer with its scale and its ledger, and where it leads."""
    answer = planned.answer
    time = figure("time_s", fields_of(type(answer))["time_s"], answer.time_s)
    settable = big_time(answer.settable_s.value or 0)
    return {
        "answer": answer,
        "notes": (*planned.notes, *answer.notes),
        "time": time,
        "settable": settable if settable != time.value else "",
        "scale": _scale(planned),
        "chances": [f"{percent:.0f}" for percent in answer.chance_percent],
        "ledger": _ledger(answer.ledger, "Exposure ledger in stops from one second", f"From one second to {time.value}"),
        "sources": sources(answer),
        "sheets": _sheets(asked, planned),
        "note_href": address("/camera/fieldnote.pdf", asked.state),
    }


def _sheets(asked: Asked, planned: Planned) -> list[SheetToGive]:
    """Each sheet of the picture with its own time."""
    bracket = planned.answer.bracket_s if len(planned.answer.bracket_s) > 1 else (planned.answer.settable_s.value or 0,)
    return [_sheet(asked, time_s, "Record a sheet" if len(bracket) == 1 else f"Record {big_time(time_s)}") for time_s in bracket]


def _sheet(asked: Asked, time_s: float, record: str) -> SheetToGive:
    given = str(time_s).removesuffix(".0")
    return SheetToGive(
        expose=f"Expose {big_time(time_s)}",
        expose_href=address("/camera/exposing", {**asked.to_record, "to_give_s": given}),
        record=record,
        record_href=address("/camera/record", {**asked.to_record, "given_s": given}),
    )


def _scale(planned: Planned) -> SafeString:
    time, bracket = planned.answer.time_s, planned.answer.bracket_s
    drawn = doubt_scale(Doubt(time.value or 0, time.low, time.high, bracket), big_time)
    return mark_safe(drawn)  # noqa: S308 (drawn by report/scale.py from numbers only)


def flashed(asked: Asked, planned: PlannedFlashes) -> dict[str, object]:
    """The same where the sheet is exposed by flashes: a whole number of them, and the aperture for other numbers."""
    answer, marks = planned.answer, fields_of(FlashAnswer)
    whole, exact = answer.set_flashes.value or 0, figure("flashes", marks["flashes"], answer.flashes)
    others = ("one_flash_f", "paper_guide", "daylight_percent", "series_s")
    told = [figure(name, marks[name], one) for name in others if (one := getattr(answer, name)) is not None]
    return {
        "answer": answer,
        "cautions": answer.cautions,
        "notes": (*planned.notes, *answer.other_notes),
        "time": Figure("flashes", "Flashes", flashes_said(whole), _short(answer.flashes.low), _short(answer.flashes.high), exact.exact),
        "count": f"{whole:g}",
        "off": _off(_short(answer.flashes.value), whole, answer.set_off_stops.value or 0),
        "scale": _scale_of_flashes(answer),
        "figures": told,
        "numbers": [(flashes_said(count), F_NUMBER.show(number)) for count, number in zip(answer.so_many_flashes, answer.so_many_f, strict=True)],
        "ledger": _ledger(answer.ledger, "Flash ledger in stops from one flash", f"From one flash to {exact.value}"),
        "sources": sources(answer),
        "sheets": [_sheet_of_flashes(asked, whole)],
        "note_href": address("/camera/fieldnote.pdf", asked.state),
    }


def _short(flashes: float | None) -> str:
    """A number of flashes as one counts them: two figures are enough."""
    return "" if flashes is None else f"{float(f'{flashes:.2g}'):g}"


def _off(exact: str, whole: float, off_stops: float) -> str:
    """What the whole number is off."""
    if not whole:
        return "The light that is there is enough: no flash is needed."
    if abs(off_stops) < OFF_STOPS:
        return ""
    return f"{exact} would be exact; {flashes_said(whole)} give {stops(off_stops)} stop."


def _scale_of_flashes(answer: FlashAnswer) -> SafeString:
    """The scale of the doubt in flashes; nothing where none is needed."""
    value, low, high = answer.flashes.value, answer.flashes.low, answer.flashes.high
    if not value:
        return SafeString()
    return mark_safe(doubt_scale(Doubt(value, low or None, high), _short))  # noqa: S308 (drawn from numbers only)


def _sheet_of_flashes(asked: Asked, whole: float) -> SheetToGive:
    """Flashes are not counted by the clock: the sheet is recorded when they were given."""
    given = {"flashes_given": f"{whole:g}"} if whole else {}
    return SheetToGive("", "", "Record a sheet", address("/camera/record", {**asked.to_record, **given}))


def _ledger(lines: Sequence[Line], caption: str, total: str) -> Ledger | None:
    most = max(lines, key=lambda line: line.doubt)
    return ledger(lines, caption=caption, total=total, says=f"most of the doubt: {most.what[0].lower()}{most.what[1:]}")
