"""How many flashes does this sheet need, and at which aperture?"""

from collections.abc import Sequence
from math import floor, hypot, log2, sqrt
from typing import Annotated, ClassVar, Final

from silverwright.asking.fields import Plain
from silverwright.asking.operation import Answer, Estimate, Operation, Remark, remark
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.aperture import f_number
from silverwright.questions.camera import summed
from silverwright.questions.doubted import narrows
from silverwright.questions.entry import Entry, around_stops, not_given, stops_said
from silverwright.questions.flashes import FlashQuestion, Sum, flash_sum
from silverwright.questions.heads import METRE_MM, Lit
from silverwright.units import F_NUMBER, SECOND
from silverwright.vocabulary import LEDGER_SD_STOPS
from silverwright.vocabulary_camera import (
    DAYLIGHT_PERCENT,
    FLASH_STOPS,
    FLASHES,
    ONE_FLASH_F,
    PAPER_GUIDE,
    SERIES_S,
    SET_FLASHES,
    SET_OFF_STOPS,
    SO_MANY_F,
    SO_MANY_FLASHES,
)

FARTHEST_MM: Final = 10_000.0  # our judgement: no room where one makes portraits is longer than ten metres
CHOICES: Final = (1.0, 2.0, 4.0, 8.0, 16.0)  # our judgement: a stop from one to the next, and nobody gives more


class FlashAnswer(Answer):
    """How many flashes, with every line of the working in stops from one flash."""

    table: ClassVar[tuple[str, ...]] = ("so_many_flashes", "so_many_f")

    flashes: Annotated[Estimate, FLASHES]
    set_flashes: Annotated[Estimate, SET_FLASHES]
    set_off_stops: Annotated[Estimate, SET_OFF_STOPS]
    one_flash_f: Annotated[Estimate, ONE_FLASH_F]
    flash_stops: Annotated[Estimate, FLASH_STOPS]
    doubt_stops: Annotated[Estimate, LEDGER_SD_STOPS]
    paper_guide: Annotated[Estimate | None, PAPER_GUIDE] = None
    daylight_percent: Annotated[Estimate | None, DAYLIGHT_PERCENT] = None
    series_s: Annotated[Estimate | None, SERIES_S] = None
    so_many_flashes: Annotated[Sequence[float], SO_MANY_FLASHES]
    so_many_f: Annotated[Sequence[float], SO_MANY_F]
    narrows: Annotated[
        Sequence[str],
        Plain(
            help="What matters most in the doubt of the flashes, and what would make it surer.",
            example="The flash: 60 of 100 parts of the doubt. A flash meter at the subject would bring the whole from ±0.8 to ±0.5 stop.",
            label="What would narrow it",
        ),
    ] = ()


def answer(question: FlashQuestion) -> FlashAnswer:
    """Line by line in stops from one flash; doubts in quadrature."""
    lit, found = flash_sum(question)
    number, ei = f_number(question), found.paper[0]
    flashes = found.needed()
    whole = _whole(found, flashes.value or 0.0)
    entries = [*found.flash, *found.paper, *found.there, *found.several]
    doubt = summed(entries).doubt_stops
    off, numbers = found.given_stops(whole), _numbers(found, number)
    return FlashAnswer(
        flashes=flashes,
        set_flashes=Estimate(value=whole),
        set_off_stops=Estimate(value=off),
        one_flash_f=_one_flash(found, number),
        flash_stops=Estimate(value=_log2(flashes.value), low=_log2(flashes.low), high=_log2(flashes.high), percent=80),
        doubt_stops=Estimate(value=doubt),
        paper_guide=_guide(lit, ei),
        daylight_percent=around_stops(100 * found.share, found.share_sd_stops) if found.there else None,
        series_s=Estimate(value=(whole - 1) * question.recycle_s) if question.recycle_s is not None and whole > 1 else None,
        so_many_flashes=tuple(numbers),
        so_many_f=tuple(numbers.values()),
        narrows=narrows(entries, [entry.stops.doubt_stops for entry in entries], lambda own: hypot(*own)),
        ledger=tuple(entry.line for entry in entries),
        notes=_notes(question, found, whole, entries),
        sources=tuple(dict.fromkeys(entry.source for entry in entries)),
    )


def _whole(found: Sum, flashes: float) -> float:
    """The whole number that comes nearest to what is needed; none where the light that is there is enough, or nearly."""
    fewer = floor(flashes) if found.share > 0 else max(1, floor(flashes))
    return float(min((fewer, fewer + 1), key=lambda count: abs(found.given_stops(count))))


def _one_flash(found: Sum, number: float) -> Estimate:
    """The aperture at which one flash, and the light that is there, is enough."""
    stops = found.given_stops(1)
    flash_share = 1 - found.share / float(2**stops)
    doubt = hypot(flash_share * found.flash_sd_stops, summed(found.paper).doubt_stops, (1 - flash_share) * found.share_sd_stops)
    return around_stops(number * float(2 ** (stops / 2)), doubt / 2)


def _numbers(found: Sum, number: float) -> dict[float, float]:
    """Other numbers of flashes with their apertures, as far as lenses for sheets open."""
    apertures = {count: number * float(2 ** (found.given_stops(count) / 2)) for count in CHOICES}
    return {count: opened for count, opened in apertures.items() if opened >= fact("lens", "widest").value}


def _guide(lit: Lit, ei: Entry) -> Estimate | None:
    """The guide number for the paper, in metres."""
    guide = lit.guide
    if guide is None:
        return None
    stops, doubt = guide.amount_stops - ei.stops.amount_stops, hypot(guide.doubt_stops, ei.stops.doubt_stops)
    return around_stops(float(2 ** (stops / 2)), doubt / 2)


def _log2(value: float | None) -> float | None:
    """In stops; nothing where there is none."""
    return log2(value) if value else None


def _notes(question: FlashQuestion, found: Sum, whole: float, entries: list[Entry]) -> tuple[Remark, ...]:
    """The cautions first, then what comes of the whole number, the notes of the lines, and what was not given."""
    notes = [remark(Note.FLASH_EYES)]
    near_mm = fact("flash", "near_face").value * METRE_MM
    notes += [
        remark(Note.FLASH_NEAR, distance=f"{away / METRE_MM:.2g} m")
        for away in (question.flash_distance_mm, *(row.flash_distance_mm for row in question.heads))
        if away is not None and away < near_mm
    ]
    if whole > 1:
        notes.append(remark(Note.FLASH_SERIES))
    if whole >= fact("flash", "many").value:
        notes.append(remark(Note.FLASH_MANY, flashes=f"{whole:.0f}"))
    notes += _off(question, found, whole)
    notes += [note for entry in entries for note in entry.notes]
    unknown = [one for entry in entries for one in entry.unknown]
    if unknown:
        now = summed(entries).doubt_stops
        notes.append(not_given(unknown, now, sqrt(max(0.0, now**2 - sum(one.doubt_stops**2 for one in unknown)))))
    return tuple(notes)


def _off(question: FlashQuestion, found: Sum, whole: float) -> list[Remark]:
    """What the whole number misses, and what would meet it."""
    off, number = found.given_stops(whole), f_number(question)
    if whole == 0:
        return [remark(Note.DAYLIGHT_ENOUGH, open=SECOND.show(question.open_s or 0))]
    if abs(off) <= fact("flash", "whole_step").sd:
        return []
    aperture = F_NUMBER.show(number * float(2 ** (off / 2)))
    if whole > 1 or off < 0:
        said = f"{whole:.0f} flash{'es' if whole > 1 else ''}"
        return [remark(Note.FLASH_WHOLE, flashes=said, stops=stops_said(abs(off)), which="more" if off > 0 else "less", aperture=aperture)]
    if question.flash_distance_mm is None or question.flash_meter_f is not None or question.heads:
        return [remark(Note.FLASH_TOO_MUCH_READ, stops=stops_said(off), aperture=aperture)]
    farther = question.flash_distance_mm / sqrt(found.rest * float(2**found.alone_stops))
    if farther > FARTHEST_MM:
        return [remark(Note.FLASH_TOO_MUCH_READ, stops=stops_said(off), aperture=aperture)]
    return [remark(Note.FLASH_TOO_MUCH, stops=stops_said(off), aperture=aperture, distance=f"{farther / METRE_MM:.2g} m")]


FLASH: Final = Operation(
    name="exposure.flash",
    version=1,
    asks="How many flashes does this sheet need, and at which aperture?",
    question=FlashQuestion,
    answer=FlashAnswer,
    compute=answer,
    examples={
        "guide number": {
            "guide_number": 45,
            "guide_unit": "m",
            "guide_ei": 100,
            "flash_distance_mm": "2 m",
            "paper_ei": 3,
            "aperture_f": "f/8",
            "magnification_factor": 0,
        },
        "flash meter, portrait": {
            "flash_meter_f": "f/11",
            "flash_meter_tenths_stops": 0.4,
            "flash_meter_ei": 3,
            "paper_ei": 0.8,
            "aperture_f": "f/8",
            "magnification_factor": 0.1,
            "recycle_s": 5,
        },
        "two heads beside daylight": {
            "energy_ws": 600,
            "modifier": "umbrella",
            "flash_distance_mm": "1.5 m",
            "heads": "guide_number,flash_distance_mm\n20,2 m",
            "guide_unit": "m",
            "guide_ei": 100,
            "paper_ei": 1.5,
            "aperture_f": "f/11",
            "magnification_factor": 0.1,
            "open_s": 4,
            "exposure_s": 40,
        },
    },
)
