"""How many flashes does this sheet need, and at which aperture?"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import asinh, floor, hypot, log, log2, sqrt
from typing import Annotated, ClassVar, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Plain
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Answer, Estimate, Operation, Remark, refuse, remark
from silverwright.exposure.flash import flashes_for, flashes_stops, rest_for_flash
from silverwright.exposure.meter import time_from_ev
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.aperture import ApertureFields, aperture_doubt, aperture_said, f_number
from silverwright.questions.bellows import bellows_entry, ways_of
from silverwright.questions.camera import sheet_entry, summed
from silverwright.questions.doubted import narrows
from silverwright.questions.entry import Entry, Remedy, around_stops, not_given, stops_said
from silverwright.questions.filter import filter_entry
from silverwright.questions.heads import METRE_MM, HeadFields, Lit, heads_lit, refuse_no_flash
from silverwright.questions.light import LightFields, Sensitivity, light_entry
from silverwright.questions.mirror import MirrorFields, mirror_entry
from silverwright.questions.paper import PaperFields, ei_entry
from silverwright.records import Stops
from silverwright.units import F_NUMBER, SECOND
from silverwright.vocabulary import EXPOSURE_S, FILTER_FACTOR, LEDGER_SD_STOPS, READING_EV
from silverwright.vocabulary_camera import (
    DAYLIGHT_PERCENT,
    FLASH_EXPONENT_FACTOR,
    FLASH_STOPS,
    FLASHES,
    ONE_FLASH_F,
    PAPER_GUIDE,
    RECYCLE_S,
    SERIES_S,
    SET_FLASHES,
    SET_OFF_STOPS,
    SHORT_FLASH_STOPS,
    SHUTTER_OPEN_S,
    SO_MANY_F,
    SO_MANY_FLASHES,
)

CHOICES: Final = (1.0, 2.0, 4.0, 8.0, 16.0)  # our judgement: a stop from one to the next, and nobody gives more
LEAST_REST: Final = 0.01  # our judgement: below a hundredth left for the flash, nothing can be said of it in stops


class FlashFields(HeadFields):
    """The flash, how several of them add up, and the light that is there meanwhile."""

    short_flash_stops: Annotated[float | None, SHORT_FLASH_STOPS] = None
    flash_exponent_factor: Annotated[float | None, FLASH_EXPONENT_FACTOR] = None
    recycle_s: Annotated[float | None, RECYCLE_S] = None
    open_s: Annotated[float | None, SHUTTER_OPEN_S] = None


class FlashQuestion(PaperFields, MirrorFields, ApertureFields, FlashFields):
    """The flash, the lens and the aperture, the paper; and what the light that is there would need alone."""

    filter_factor: Annotated[float | None, FILTER_FACTOR] = None
    sensitivity: Annotated[
        Sensitivity | None,
        Choice(help="What the paper sees of the flash: blue alone, or blue and green.", example="blue", label="Paper sees"),
    ] = None
    exposure_s: Annotated[float | None, EXPOSURE_S] = None
    reading_ev: Annotated[float | None, READING_EV, Field(validate_default=True)] = None

    @field_validator("reading_ev")
    @classmethod
    def _some_flash(cls, reading_ev: float | None, seen: ValidationInfo) -> float | None:
        refuse_no_flash(seen)
        if seen.data.get("open_s") and seen.data.get("exposure_s") is None and reading_ev is None:
            raise refuse(
                "How much light is there? Give the time that it would need alone, or its reading; or leave out how long the shutter is open."
            )
        return reading_ev


class FlashAnswer(Answer):
    """How many flashes, with every line of the working in stops from one flash."""

    table: ClassVar[tuple[str, ...]] = ("so_many_flashes", "so_many_f")

    flashes: Annotated[Estimate, FLASHES]
    set_flashes: Annotated[Estimate, SET_FLASHES]
    set_off_stops: Annotated[Estimate, SET_OFF_STOPS]
    one_flash_f: Annotated[Estimate, ONE_FLASH_F]
    flash_stops: Annotated[Estimate, FLASH_STOPS]
    doubt_stops: Annotated[Estimate, LEDGER_SD_STOPS]
    paper_guide: Annotated[Estimate, PAPER_GUIDE]
    daylight_percent: Annotated[Estimate, DAYLIGHT_PERCENT]
    series_s: Annotated[Estimate, SERIES_S]
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


@dataclass(frozen=True, slots=True)
class Sum:
    """The lines by what they belong to: one flash, the paper behind the lens, the light that is there, several flashes; and what comes of them."""

    flash: tuple[Entry, ...]
    paper: tuple[Entry, ...]
    there: tuple[Entry, ...]
    several: tuple[Entry, ...]
    share: float
    share_sd_stops: float
    exponent: float

    @property
    def alone_stops(self) -> float:
        """What one flash is short of, with no other light."""
        return summed([*self.flash, *self.paper]).amount_stops

    @property
    def flash_sd_stops(self) -> float:
        """What the flash and its repetition leave in doubt."""
        return summed([*self.flash, *self.several]).doubt_stops

    @property
    def rest(self) -> float:
        """The part that is left for the flashes."""
        return max(0.0, 1 - self.share)

    def given_stops(self, flashes: float) -> float:
        """What so many flashes and the light that is there give together, over what is needed."""
        light = self.share + (float(2 ** (flashes_stops(flashes, self.exponent) - self.alone_stops)) if flashes else 0.0)
        return log2(light)

    def needed(self) -> Estimate:
        """
        How many flashes, with limits: the paper's doubt moves the whole need, daylight's what is there, the flash's what is left.

        Quadrature in flashes, not in stops, where light is there: what is left for the flash may be nothing.
        """
        alone, sd = float(2**self.alone_stops), hypot(self.flash_sd_stops, summed(self.paper).doubt_stops)
        left, there = alone * (1 - self.share), alone * self.share

        def limit(sign: int) -> float:
            reach = sign * EIGHTY_PERCENT_SD
            need = max(0.0, left) * (2 ** (reach * sd) - 1) + there * (2 ** (reach * summed(self.paper).doubt_stops) - 1)
            other = there * (2 ** (-reach * self.share_sd_stops) - 1)
            return self._flashes(left + sign * hypot(need, other))

        return Estimate(value=self._flashes(left), low=limit(-1), high=limit(+1), percent=80)

    def _flashes(self, full: float) -> float:
        """Flashes that do as much as `full` flashes would if they added up in full."""
        return flashes_for(log2(full), self.exponent) if full > 0 else 0.0


def answer(question: FlashQuestion) -> FlashAnswer:
    """Line by line in stops from one flash; doubts in quadrature."""
    lit, found = _summed(question)
    number, ei = f_number(question), found.paper[0]
    flashes = found.needed()
    whole = _whole(found, flashes.value or 0.0)
    entries = [*found.flash, *found.paper, *found.there, *found.several]
    doubt = summed(entries).doubt_stops
    off = found.given_stops(whole)
    return FlashAnswer(
        flashes=flashes,
        set_flashes=Estimate(value=whole),
        set_off_stops=Estimate(value=off),
        one_flash_f=_one_flash(found, number),
        flash_stops=Estimate(value=_log2(flashes.value), low=_log2(flashes.low), high=_log2(flashes.high), percent=80),
        doubt_stops=Estimate(value=doubt),
        paper_guide=_guide(lit, ei),
        daylight_percent=around_stops(100 * found.share, found.share_sd_stops) if found.there else Estimate(value=0.0),
        series_s=Estimate(value=None if question.recycle_s is None else max(0.0, whole - 1) * question.recycle_s),
        so_many_flashes=CHOICES,
        so_many_f=tuple(number * float(2 ** (found.given_stops(count) / 2)) for count in CHOICES),
        narrows=narrows(entries, lambda lines: summed(list(lines)).doubt_stops),
        ledger=tuple(entry.line for entry in entries),
        notes=_notes(question, found, whole, entries),
        sources=tuple(dict.fromkeys(entry.source for entry in entries)),
    )


def index_of_flashes(question: FlashQuestion, flashes: float) -> Stops:
    """The exposure index that so many flashes amounted to, in stops from EI 1, with the doubt of everything but the EI and the sheet."""
    lit, found = _summed(question)
    ei, *others, _ = found.paper
    light = found.given_stops(flashes)
    flash_share = 1 - found.share / float(2**light)
    doubt = hypot(flash_share * found.flash_sd_stops, summed(others).doubt_stops, (1 - flash_share) * found.share_sd_stops)
    return Stops(log2(lit.ei) - ei.stops.amount_stops - light, doubt)


def _summed(question: FlashQuestion) -> tuple[Lit, Sum]:
    """The flash on the subject, and all lines."""
    number = f_number(question)
    lit = heads_lit(question, number, aperture_said(question), _subject_mm(question))
    mirror = mirror_entry(question)
    between = (bellows_entry(question), *((mirror,) if mirror else ()), filter_entry(question.filter_factor))
    return lit, _sum(question, number, lit, (ei_entry(question, lit.ei), *between, _opening(question), sheet_entry()))


def _subject_mm(question: FlashQuestion) -> float | None:
    """How far the subject is from the lens, as far as the lens fields tell it."""
    if question.subject_mm is not None:
        return question.subject_mm
    ways = ways_of(question)
    if question.focal_mm is None or not ways or not ways[0].magnification > 0:
        return None
    return question.focal_mm * (1 + 1 / ways[0].magnification)


def _opening(question: FlashQuestion) -> Entry:
    """What the engraving leaves in doubt."""
    what, doubt, source, rests = aperture_doubt(question)
    return Entry(what, Stops(0.0, doubt), source, rests)


def _sum(question: FlashQuestion, number: float, lit: Lit, paper: tuple[Entry, ...]) -> Sum:
    """All lines: those of the flash, the paper's, the light that is there, and how several flashes add up."""
    flash = (*lit.entries, *_short(question), _one_from_the_next())
    share, sd = _there(question, number, lit.ei, paper)
    exponent = fact("flash", "exponent")
    power = exponent.value if question.flash_exponent_factor is None else question.flash_exponent_factor
    bare_sum = Sum(flash, paper, (), (), share, sd, power)
    there = (_there_entry(question, bare_sum),) if share else ()
    stops = bare_sum.alone_stops + log2(max(bare_sum.rest, LEAST_REST))
    several = _several(question, stops, summed([*flash, *paper, *there]).doubt_stops, power)
    return Sum(flash, paper, there, (several,), share, sd, power)


def _short(question: FlashQuestion) -> tuple[Entry, ...]:
    """What a flash loses because it is short and bright, and its colour; own sheets under it tell both at once."""
    guess, own = fact("flash", "short_flash"), fact("flash", "short_flash_own")
    called, what = "Short, bright flashes", "Flashes are short and bright"
    if question.short_flash_stops is not None:
        return (Entry(what, Stops(question.short_flash_stops, own.sd), "as you measured it", "own", called=called),)
    remedy = Remedy("a sheet of your own under this flash", own.sd)
    short = Entry(what, Stops(guess.value, guess.sd), guess.says, guess.rests, called=called, remedy=remedy)
    if question.sensitivity in {"blue", "ortho"}:
        return short, replace(light_entry(LightFields(light_class="flash", sensitivity=question.sensitivity)), remedy=remedy)
    colour = fact("light", "flash_blue")
    return short, Entry(
        "A flash has nearly daylight's colour", Stops(0.0, colour.sd), colour.says, colour.rests, called="The flash's colour", remedy=remedy
    )


def _one_from_the_next() -> Entry:
    """How one flash differs from the next."""
    scatter = fact("flash", "one_flash")
    return Entry("One flash from the next", Stops(0.0, scatter.sd), scatter.says, scatter.rests)


def _there(question: FlashQuestion, number: float, ei: float, paper: tuple[Entry, ...]) -> tuple[float, float]:
    """What the light that is there gives while the shutter is open, as a share of what the sheet needs, and its own doubt in stops."""
    if not question.open_s:
        return 0.0, 0.0
    alone_s = question.exposure_s
    if alone_s is None and question.reading_ev is not None:
        alone_s = time_from_ev(question.reading_ev, number, ei) * float(2 ** summed(paper).amount_stops)
    return (1 - rest_for_flash(question.open_s, alone_s), fact("meter", "reading").sd) if alone_s else (0.0, 0.0)


def _there_entry(question: FlashQuestion, found: Sum) -> Entry:
    """The line of the light that is there; its doubt grows without end as it leaves nothing for the flash, here as a logarithm."""
    rest, share, reading = max(found.rest, LEAST_REST), found.share, fact("meter", "reading")
    more = hypot(summed(found.paper).doubt_stops * sqrt(max(0.0, 1 / rest**2 - 1)), share / rest * found.share_sd_stops)
    what = f"{SECOND.show(question.open_s or 0)} of the light that is there: {100 * share:.0f} % of what is needed"
    return Entry(what, Stops(log2(rest), asinh(log(2) * more) / log(2)), reading.says, "trade", called="The light that is there")


def _several(question: FlashQuestion, stops: float, above_stops: float, power: float) -> Entry:
    """How several flashes add up; what one's doubt above it is stretched by counts here."""
    guess = fact("flash", "exponent")
    doubt = hypot(guess.sd * max(0.0, stops) / power, above_stops * sqrt(max(0.0, 1 / power**2 - 1)) if stops > 0 else 0.0)
    amount = Stops(log2(flashes_for(stops, power)) - stops, doubt)
    own = question.flash_exponent_factor is not None
    remedy = None if own else Remedy("a strip of one, two, four and eight flashes", 0.0)
    source = "as you measured it" if own else guess.says
    return Entry("Several flashes add up", amount, source, "own" if own else guess.rests, called="Several flashes", remedy=remedy)


def _whole(found: Sum, flashes: float) -> float:
    """The whole number that comes nearest to what is needed; none where the light that is there is enough."""
    if flashes == 0:
        return 0.0
    fewer = max(1, floor(flashes))
    return float(min((fewer, fewer + 1), key=lambda count: abs(found.given_stops(count))))


def _one_flash(found: Sum, number: float) -> Estimate:
    """The aperture at which one flash, and the light that is there, is enough."""
    stops = found.given_stops(1)
    flash_share = 1 - found.share / float(2**stops)
    doubt = hypot(flash_share * found.flash_sd_stops, summed(found.paper).doubt_stops, (1 - flash_share) * found.share_sd_stops)
    return around_stops(number * float(2 ** (stops / 2)), doubt / 2)


def _guide(lit: Lit, ei: Entry) -> Estimate:
    """The guide number for the paper, in metres."""
    guide = lit.guide
    if guide is None:
        return Estimate()
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
