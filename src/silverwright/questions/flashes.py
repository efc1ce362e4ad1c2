"""The lines of an exposure by flashes: one flash, the paper behind the lens, the light that is there, several flashes; and what comes of them."""

from dataclasses import dataclass, replace
from math import asinh, hypot, log, log2, sqrt
from typing import Annotated, Final

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate, refuse
from silverwright.exposure.flash import flashes_for, flashes_stops, rest_for_flash
from silverwright.exposure.meter import time_from_ev
from silverwright.facts.load import fact
from silverwright.questions.aperture import ApertureFields, aperture_doubt, aperture_said, f_number
from silverwright.questions.bellows import bellows_entry, ways_of
from silverwright.questions.camera import sheet_entry, summed
from silverwright.questions.entry import Entry, Remedy, Unknown
from silverwright.questions.filter import FilterFields, filter_line
from silverwright.questions.heads import HeadFields, Lit, heads_lit, refuse_no_flash
from silverwright.questions.light import LightClass, LightFields, light_entry
from silverwright.questions.mirror import MirrorFields, mirror_entry
from silverwright.questions.paper import PaperFields, ei_entry
from silverwright.records import Stops
from silverwright.units import SECOND
from silverwright.vocabulary import EXPOSURE_S, READING_EV
from silverwright.vocabulary_camera import (
    FLASH_EXPONENT_FACTOR,
    RECYCLE_S,
    SHORT_FLASH_SD_STOPS,
    SHORT_FLASH_STOPS,
    SHUTTER_OPEN_S,
)

LEAST_REST: Final = 0.01  # our judgement: below a hundredth left for the flash, nothing can be said of it in stops


class FlashFields(HeadFields):
    """The flash, how several of them add up, and the light that is there meanwhile."""

    short_flash_stops: Annotated[float | None, SHORT_FLASH_STOPS] = None
    short_flash_sd_stops: Annotated[float | None, SHORT_FLASH_SD_STOPS] = None
    short_flash_rests_on: Annotated[
        str, Words(help="What the loss of short flashes rests on.", example="3 own sheets in this light", label="Loss rests on")
    ] = ""
    flash_exponent_factor: Annotated[float | None, FLASH_EXPONENT_FACTOR] = None
    recycle_s: Annotated[float | None, RECYCLE_S] = None
    open_s: Annotated[float | None, SHUTTER_OPEN_S] = None


class FlashQuestion(PaperFields, MirrorFields, FilterFields, ApertureFields, FlashFields):
    """The flash, the lens and the aperture, the paper; and what the light that is there would need alone."""

    light_class: Annotated[
        LightClass | None,
        Choice(
            help="The light that is there meanwhile, where its reading is given; a flash has its own colour.",
            example="north window",
            label="Light that is there",
        ),
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


def index_of_flashes(question: FlashQuestion, flashes: float) -> Stops:
    """The exposure index that so many flashes amounted to, in stops from EI 1, with the doubt of everything but the EI and the sheet."""
    lit, found = flash_sum(question)
    ei, *others, _ = found.paper
    light = found.given_stops(flashes)
    flash_share = 1 - found.share / float(2**light)
    doubt = hypot(flash_share * found.flash_sd_stops, summed(others).doubt_stops, (1 - flash_share) * found.share_sd_stops)
    return Stops(log2(lit.ei) - ei.stops.amount_stops - light, doubt)


def flash_sum(question: FlashQuestion) -> tuple[Lit, Sum]:
    """The flash on the subject, and all lines."""
    number = f_number(question)
    lit = heads_lit(question, number, aperture_said(question), _subject_mm(question))
    mirror = mirror_entry(question)
    between = (bellows_entry(question), *((mirror,) if mirror else ()), filter_line(_under_flash(question)))
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
        sd = own.sd if question.short_flash_sd_stops is None else question.short_flash_sd_stops
        source = f"your own sheets: {question.short_flash_rests_on}" if question.short_flash_rests_on else "as you measured it"
        return (Entry(what, Stops(question.short_flash_stops, sd), source, "own", called=called),)
    remedy = Remedy("a sheet of your own under this flash", own.sd)
    short = Entry(what, Stops(guess.value, guess.sd), guess.says, guess.rests, called=called, remedy=remedy)
    if question.sensitivity in {"blue", "ortho"}:
        return short, replace(light_entry(LightFields(light_class="flash", sensitivity=question.sensitivity)), remedy=remedy)
    colour, sees = fact("light", "flash_blue"), [fact("light", f"flash_{one}").value for one in ("blue", "ortho")]
    lacks = (Unknown("what the paper sees (daylight's colour is taken for the flash)", sum(sees) / len(sees)),)
    what = "A flash's colour, taken as daylight's"
    return short, Entry(what, Stops(0.0, colour.sd), colour.says, colour.rests, unknown=lacks, called="The flash's colour", remedy=remedy)


def _one_from_the_next() -> Entry:
    """How one flash differs from the next."""
    scatter = fact("flash", "one_flash")
    return Entry("One flash from the next", Stops(0.0, scatter.sd), scatter.says, scatter.rests)


def _under_flash(question: FlashQuestion) -> FilterFields:
    """The filter in the light of the flash."""
    return question.model_copy(update={"light_class": "flash"})


def _there(question: FlashQuestion, number: float, ei: float, paper: tuple[Entry, ...]) -> tuple[float, float]:
    """What the light that is there gives while the shutter is open, as a share of what the sheet needs, and its own doubt in stops."""
    reading = fact("meter", "reading").sd
    if not question.open_s:
        return 0.0, 0.0
    if question.exposure_s is not None:
        return 1 - rest_for_flash(question.open_s, question.exposure_s), reading
    if question.reading_ev is None:
        return 0.0, 0.0
    alone_s = time_from_ev(question.reading_ev, number, ei) * float(2 ** summed(paper).amount_stops)
    if question.light_class not in {None, "unknown", "flash"}:
        light = light_entry(LightFields(light_class=question.light_class, sensitivity=question.sensitivity)).stops
        alone_s, reading = alone_s * float(2**light.amount_stops), hypot(reading, light.doubt_stops)
    return 1 - rest_for_flash(question.open_s, alone_s), reading


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
