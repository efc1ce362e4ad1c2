"""What a flash, or several, throw on the subject: by flash meter, guide number or stored energy, each with its own doubt."""

from dataclasses import dataclass, replace
from math import hypot, log, log2
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.flash import flash_f_number, flash_stops, guide_number_at_ei, guide_number_from_energy, heads_f_number
from silverwright.exposure.shutter import true_f_number
from silverwright.facts.load import Fact, fact
from silverwright.notes import Note
from silverwright.questions.entry import Entry, Remedy, Unknown, bare, says, stops_said
from silverwright.questions.marks import aperture_marks
from silverwright.records import Stops
from silverwright.units import EXPOSURE_INDEX, F_NUMBER, WATT_SECOND
from silverwright.vocabulary_camera import (
    ENERGY_WS,
    FLASH_DISTANCE_MM,
    FLASH_METER_EI,
    FLASH_METER_F,
    FLASH_METER_TENTHS_STOPS,
    GUIDE_EI,
    GUIDE_NUMBER,
    MODIFIER_STOPS,
)

Modifier = Literal["own reflector", "bare tube", "umbrella", "softbox", "cloth", "bounced", "grid"]
MODIFIER: Final = Choice(help="What stands around or in front of the head; off a wall or ceiling is bounced.", example="umbrella", label="Modifier")
FOOT_M: Final = 0.3048  # arithmetic: the international foot
METRE_MM: Final = 1000.0  # arithmetic
NO_FLASH: Final = (
    "No flash yet. Give one: what a flash meter says at the subject, the guide number with its unit and its ISO, or the stored energy. "
    "The sharpest is the flash meter, at its lowest setting."
)

HALVES: Final = {  # what a field completes, and why it must
    "flash_meter_ei": ("flash_meter_f", "The f-number of a flash meter means little without the EI that it was set to: give that too."),
    "guide_unit": ("guide_number", "A guide number is a distance times an f-number: say whether in metres or in feet (m or ft)."),
    "guide_ei": ("guide_number", "A guide number holds for one ISO only: give the ISO that stands beside it, mostly 100."),
}


class HeadRow(Record):
    """One further head: its guide number (unit and ISO as the first one's), its energy, or what the flash meter says of it alone."""

    guide_number: Annotated[float | None, GUIDE_NUMBER] = None
    flash_distance_mm: Annotated[float | None, FLASH_DISTANCE_MM] = None
    modifier: Annotated[Modifier | None, MODIFIER] = None
    modifier_stops: Annotated[float | None, MODIFIER_STOPS] = None
    energy_ws: Annotated[float | None, ENERGY_WS] = None
    flash_meter_f: Annotated[float | None, FLASH_METER_F] = None


class GuideFields(Question):
    """A flash by its guide number, and how far it is from the subject."""

    guide_number: Annotated[float | None, GUIDE_NUMBER] = None
    guide_unit: Annotated[
        Literal["m", "ft"] | None, Choice(help="Whether the guide number is in metres or in feet.", example="m"), Field(validate_default=True)
    ] = None
    guide_ei: Annotated[float | None, GUIDE_EI, Field(validate_default=True)] = None
    flash_distance_mm: Annotated[float | None, FLASH_DISTANCE_MM] = None

    @field_validator("guide_unit", "guide_ei")
    @classmethod
    def _whole_guide(cls, given: object, seen: ValidationInfo) -> object:
        return _completed(given, seen)


def _completed(given: object, seen: ValidationInfo) -> object:
    """A flash told by half is refused, each half beside its own field."""
    needs, sentence = HALVES[str(seen.field_name)]
    if given is None and seen.data.get(needs) is not None:
        raise refuse(sentence)
    return given


class MeterFields(Question):
    """What a flash meter at the subject said."""

    flash_meter_f: Annotated[float | None, FLASH_METER_F] = None
    flash_meter_tenths_stops: Annotated[float | None, FLASH_METER_TENTHS_STOPS] = None
    flash_meter_ei: Annotated[float | None, FLASH_METER_EI, Field(validate_default=True)] = None

    @field_validator("flash_meter_ei")
    @classmethod
    def _whole_meter(cls, given: object, seen: ValidationInfo) -> object:
        return _completed(given, seen)


class HeadFields(GuideFields, MeterFields):
    """The flash: any one way is enough, a second one is a check."""

    energy_ws: Annotated[float | None, ENERGY_WS] = None
    modifier: Annotated[Modifier | None, MODIFIER] = None
    modifier_stops: Annotated[float | None, MODIFIER_STOPS] = None
    heads: Annotated[
        tuple[HeadRow, ...],
        Rows(
            row=HeadRow,
            help="Further heads that light the same place, one line each; none where the flash meter read all of them together.",
            example="30 1.5m",
            label="Further heads",
        ),
    ] = ()

    @field_validator("heads")
    @classmethod
    def _one_way_each(cls, heads: tuple[HeadRow, ...], seen: ValidationInfo) -> tuple[HeadRow, ...]:
        for number, row in enumerate(heads, 1):
            ways = [name for name in ("guide_number", "energy_ws", "flash_meter_f") if getattr(row, name) is not None]
            if len(ways) != 1:
                told = "nothing says how strong it is" if not ways else "it is told in two ways"
                raise refuse(f"Row {number}: {told}. Give one: guide number, stored energy, or what the flash meter says of it alone.")
            if row.flash_meter_f is None and row.flash_distance_mm is None:
                raise refuse(f"Row {number}: how far is this head from the subject?")
            if row.guide_number is not None and None in (seen.data.get("guide_unit"), seen.data.get("guide_ei")):
                raise refuse("The guide numbers of further heads are in the unit and for the ISO of the first one: give both above.")
            if row.flash_meter_f is not None and seen.data.get("flash_meter_ei") is None:
                raise refuse("What a flash meter says means little without the EI that it was set to: give that above.")
        return heads


def guide_metres(guide_number: float, guide_unit: str | None) -> float:
    """A guide number in metres."""
    return guide_number * (FOOT_M if guide_unit == "ft" else 1)


def refuse_no_flash(seen: ValidationInfo) -> None:
    """Refuse a question of flashes in which nothing is said of any; for the field that comes last on the form."""
    ways = ("guide_number", "flash_meter_f", "energy_ws")
    if all(name in seen.data and seen.data[name] is None for name in ways):
        raise refuse(NO_FLASH, field="flash_meter_f")


@dataclass(frozen=True, slots=True)
class Head:
    """How strong one head is at its own distance, and what of that is doubtful: the ways to the light, from a metre or at the subject."""

    said: str
    asked_f: float
    ei: float
    doubt: Fact
    modifier_doubt: Fact | None = None
    distance_mm: float | None = None
    modifier_stops: float = 0.0


@dataclass(frozen=True, slots=True)
class Lit:
    """The EI that the flash is told for, the lines from there to the light on the subject, and the first head as it is used."""

    ei: float
    entries: tuple[Entry, ...]
    first: Head

    @property
    def guide(self) -> Stops | None:
        """The guide number of the first head in stops from 1 m at f/1, with its modifier; none where only the light at the subject is known."""
        if self.first.distance_mm is None:
            return None
        doubt = hypot(self.first.doubt.sd, self.first.modifier_doubt.sd if self.first.modifier_doubt else 0.0)
        return Stops(2 * log2(self.first.asked_f) - self.first.modifier_stops, doubt)


def heads_lit(question: HeadFields, f_number: float, at: str, fallback_mm: float | None) -> Lit:
    """
    What all heads throw on the subject, in stops that one flash is short at this f-number.

    `at` says the aperture; `fallback_mm` is how far the subject is from the lens: taken where nobody said how far the flash is.
    """
    first, *others = _of(question, question, fallback_mm)
    ei = first.ei
    more = [_of(row, question, None)[0] for row in question.heads]
    asked = [_at_subject_f(one, ei) for one in (first, *more)]
    whole = heads_f_number(asked)
    share = (asked[0] / whole) ** 2
    short = Stops(flash_stops(f_number, first.asked_f), first.doubt.sd)
    entries = [_shared(entry, share) for entry in _lines(question, first, short, at, fallback_mm)]
    apart = [note for other in others if (note := _disagree(first, other, ei)) is not None]
    entries[0] = replace(entries[0], notes=(*apart, *entries[0].notes))
    if more:
        doubt = hypot(*((one_f / whole) ** 2 * _doubt_stops(one) for one, one_f in zip(more, asked[1:], strict=True)))
        what = f"{len(more)} further head{'s' if len(more) > 1 else ''}"
        entries.append(
            Entry(what, Stops(2 * log2(asked[0] / whole), doubt), "light adds", "judgement", (remark(Note.HEADS_OVERLAP),), called="Further heads")
        )
    return Lit(ei, tuple(entries), first)


def _of(one: HeadFields | HeadRow, question: HeadFields, fallback_mm: float | None) -> list[Head]:
    """Every way that was given of one head, the most trusted first: the flash meter before the guide number before the stored energy."""
    found: list[Head] = []
    if one.flash_meter_f is not None and question.flash_meter_ei is not None:
        tenths = (question.flash_meter_tenths_stops or 0.0) if isinstance(one, HeadFields) else 0.0
        asked = true_f_number(one.flash_meter_f, aperture_marks()) * float(2 ** (tenths / 2))
        shown = f"{F_NUMBER.show(one.flash_meter_f)}{f' and {10 * tenths:.0f} tenths' if tenths else ''}"
        found.append(Head(f"Flash meter {shown}", asked, question.flash_meter_ei, fact("flash", "meter")))
    lost, doubt = _modifier(one)
    distance = one.flash_distance_mm if one.flash_distance_mm is not None else fallback_mm
    if one.guide_number is not None and question.guide_unit is not None and question.guide_ei is not None:
        metres = guide_metres(one.guide_number, question.guide_unit)
        said = f"Guide number {one.guide_number:.3g} {question.guide_unit}"
        at_metre = flash_f_number(metres, METRE_MM)
        found.append(Head(said, at_metre, question.guide_ei, fact("flash", "guide_number"), doubt, distance or METRE_MM, lost))
    if one.energy_ws is not None:
        ei, flat = fact("meter", "meter_ei").value, fact("meter", "meter_c_flat").value
        guide = guide_number_from_energy(one.energy_ws, fact("flash", "efficacy").value, ei, flat)
        gain, doubt = (0.0, None) if one.modifier == "bare tube" else (fact("flash", "reflector").value, doubt or fact("flash", "reflector"))
        lost = lost - fact("flash", "modifier_bare_tube").value if one.modifier == "bare tube" and one.modifier_stops is None else lost
        said = f"{WATT_SECOND.show(one.energy_ws)} stored, guide number {guide:.3g} m from a bare tube"
        found.append(Head(said, flash_f_number(guide, METRE_MM), ei, fact("flash", "energy"), doubt, distance or METRE_MM, lost + gain))
    return found


def _modifier(one: HeadFields | HeadRow) -> tuple[float, Fact | None]:
    """Stops lost against the head in its own reflector, and where that comes from."""
    if one.modifier_stops is not None:
        return one.modifier_stops, fact("flash", "modifier_measured")
    if one.modifier in {None, "own reflector"}:
        return 0.0, None
    row = fact("flash", f"modifier_{str(one.modifier).replace(' ', '_')}")
    return row.value, row


def _at_subject_f(head: Head, ei: float) -> float:
    """The f-number that one flash of this head asks for at the subject, for that EI."""
    far = 1.0 if head.distance_mm is None else head.distance_mm / METRE_MM
    return guide_number_at_ei(head.asked_f, head.ei, ei) / far / float(2 ** (head.modifier_stops / 2))


def _doubt_stops(head: Head) -> float:
    """The whole doubt of one head."""
    tape = 0.0 if head.distance_mm is None else _tape_stops()
    return hypot(head.doubt.sd, head.modifier_doubt.sd if head.modifier_doubt else 0.0, tape)


def _tape_stops() -> float:
    """What the tape leaves in doubt: twice the share of the distance."""
    return 2 * fact("lens", "distance").sd / log(2)


def _disagree(first: Head, other: Head, ei: float) -> Remark | None:
    """Two ways to the same light that lie further apart than their doubts allow."""
    apart = abs(flash_stops(_at_subject_f(first, ei), _at_subject_f(other, ei)))
    if apart <= max(fact("meter", "agree").value, hypot(_doubt_stops(first), _doubt_stops(other))):
        return None
    return remark(Note.ROUTES_DISAGREE, first=first.said, second=other.said[0].lower() + other.said[1:], stops=stops_said(apart))


def _lines(question: HeadFields, head: Head, short: Stops, at: str, fallback_mm: float | None) -> list[Entry]:
    """The light, the distance, the modifier: one line each."""
    by_meter = head.distance_mm is None
    surer = Remedy("a flash meter at the subject", fact("flash", "meter").sd)
    own = Remedy("one sheet with strips of one, two and four flashes", fact("flash", "short_flash_own").sd)
    notes = (remark(Note.FLASH_READ),) if by_meter else (remark(Note.FLASH_BY_ENERGY, sd=head.doubt.sd),) if "stored" in head.said else ()
    light = Entry(
        f"{head.said}, for EI {bare(EXPOSURE_INDEX, head.ei)}; at {at}{'' if by_meter else ', from 1 m'}",
        short,
        says(fact("flash", "efficacy"), head.doubt) if "stored" in head.said else head.doubt.says,
        head.doubt.rests,
        notes,
        called="The flash",
        remedy=own if by_meter else surer,
    )
    if head.distance_mm is None:
        return [light]
    far = Stops(2 * log2(head.distance_mm / METRE_MM), _tape_stops())
    tape = fact("lens", "distance")
    distance = Entry(f"Flash {head.distance_mm / METRE_MM:.3g} m away instead of 1 m", far, tape.says, tape.rests, called="The flash's distance")
    if question.flash_distance_mm is None:
        near = fact("flash", "at_the_camera")
        where = "as far as the lens" if fallback_mm else "1 m away"
        lacks = (Unknown(f"how far the flash is from the subject ({where} is taken)", near.sd),)
        distance = Entry(distance.what, Stops(far.amount_stops, near.sd), near.says, near.rests, unknown=lacks, called=distance.called)
    if head.modifier_doubt is None:
        return [light, distance]
    what = "Modifier, as measured" if question.modifier_stops is not None else f"Modifier: {question.modifier or 'own reflector'}"
    what += ", against a bare tube" if "stored" in head.said else ""
    doubt = head.modifier_doubt
    measured = Remedy("the loss as measured with a flash meter", fact("flash", "modifier_measured").sd)
    modifier = Entry(what, Stops(head.modifier_stops, doubt.sd), doubt.says, doubt.rests, called="The modifier", remedy=measured)
    return [light, distance, modifier]


def _shared(entry: Entry, share: float) -> Entry:
    """The doubt of one head counts in the whole as far as its light does."""
    stops = Stops(entry.stops.amount_stops, share * entry.stops.doubt_stops)
    unknown = tuple(Unknown(one.words, share * one.doubt_stops) for one in entry.unknown)
    return replace(entry, stops=stops, unknown=unknown)
