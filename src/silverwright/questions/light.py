"""What does this paper get of this light, against what the meter tells?"""

from collections.abc import Sequence
from math import hypot
from typing import Annotated, ClassVar, Final, Literal, get_args

from pydantic import ValidationInfo, field_validator

from silverwright.asking.fields import Choice, Plain, Words
from silverwright.asking.operation import Answer, Estimate, Operation, Question, Record, Remark, refuse, remark
from silverwright.asking.rows import Rows
from silverwright.exposure.colour import either_sensitivity, learnt_offset
from silverwright.facts.load import Fact, fact, facts
from silverwright.notes import Note
from silverwright.questions.entry import Entry, Remedy, Unknown, around, around_stops, stops_said
from silverwright.records import Stops
from silverwright.vocabulary import (
    CONTRAST_SHIFT_STOPS,
    LIGHT_FACTOR,
    LIGHT_OFFSET_SD_STOPS,
    LIGHT_OFFSET_STOPS,
    LIGHT_SHOWN_SD_STOPS,
    LIGHT_SHOWN_STOPS,
    SKIN_STOPS,
    TABLE_CONTRAST_STOPS,
    TABLE_STOPS,
    THROUGH_STOPS,
)

LightClass = Literal[
    "unknown",
    "direct sun",
    "low sun",
    "overcast sky",
    "north window",
    "open shade",
    "flash",
    "tungsten lamp",
    "tungsten photo lamp",
    "LED lamp",
    "warm LED lamp",
    "neutral LED lamp",
    "cool LED lamp",
    "fluorescent lamp",
    "sodium lamp",
    "mixed",
]
Sensitivity = Literal["unknown", "blue", "ortho"]
Through = Literal["nothing", "blue filter"]
LIGHTS: Final[tuple[str, ...]] = get_args(LightClass)[1:]
SEES: Final[dict[str, str]] = {"blue": "blue-sensitive paper", "ortho": "paper that sees blue and green"}
REFERENCE: Final = "direct sun"
OUR_CHOICE: Final = "which spectrum stands for this light is our judgement"
OF_THE_TABLE: Final = "its doubt that of the table"
SHIFT_WORTH_SAYING: Final = 0.5  # our judgement: half a stop of blue against green moves a variable-contrast paper by about half a grade


class LightSeen(Question):
    """The light, and what the paper sees of it."""

    light_class: Annotated[
        LightClass | None, Choice(help="What kind of light it is; left open, noon daylight is taken.", example="overcast sky", label="Kind of light")
    ] = None
    sensitivity: Annotated[
        Sensitivity | None,
        Choice(help="What the paper sees: blue alone, or blue and green (ortho; variable-contrast paper too).", example="blue", label="Paper sees"),
    ] = None


class LightFields(LightSeen):
    """The light, what the paper sees of it, and how it was metered."""

    metered_through: Annotated[
        Through,
        Choice(help="Whether the meter looked through a deep blue filter, and so saw what the paper sees.", example="blue filter"),
    ] = "nothing"
    through_stops: Annotated[float | None, THROUGH_STOPS] = None
    light_offset_stops: Annotated[float | None, LIGHT_OFFSET_STOPS] = None
    light_offset_sd_stops: Annotated[float | None, LIGHT_OFFSET_SD_STOPS] = None
    light_rests_on: Annotated[
        str, Words(help="What the offset of this light rests on.", example="5 own sheets in this light", label="Light's offset rests on")
    ] = ""

    @field_validator("light_offset_sd_stops")
    @classmethod
    def _doubt_of_something(cls, doubt_stops: float | None, seen: ValidationInfo) -> float | None:
        if doubt_stops is not None and "light_offset_stops" in seen.data and seen.data["light_offset_stops"] is None:
            raise refuse("A doubt belongs to what the paper gets of this light: give that too, or empty this.")
        return doubt_stops

    @field_validator("through_stops")
    @classmethod
    def _filter_was_tried(cls, through_stops: float | None, seen: ValidationInfo) -> float | None:
        through = seen.data.get("metered_through")
        if through == "nothing" and through_stops is not None:
            raise refuse("A loss through the filter belongs to a reading through it: say that the meter looked through a blue filter, or empty this.")
        return through_stops


def table_offset(light_class: str | None, sensitivity: str | None) -> Stops | None:
    """What a paper gets of a class of light against the meter, by the table, and its doubt; nothing where the light is unknown."""
    if light_class is None or light_class not in LIGHTS:
        return None
    blue, ortho = (_stops(row_of(light_class, sees)) for sees in SEES)
    known = {"blue": blue, "ortho": ortho}
    return known.get(sensitivity or "") or either_sensitivity(blue, ortho)


def doubt_of_light(light_class: str) -> float:
    """How far the table may be off for a class of light, the reference light hardly; of one that nobody named, what that adds is in it."""
    if light_class == REFERENCE:
        return fact("light", "reference").sd
    if light_class in LIGHTS:
        return row_of(light_class, "blue").sd
    return float(hypot(fact("light", "overcast_sky_blue").sd, fact("light", "unknown").sd))


def row_of(light_class: str, what: str) -> Fact:
    """The fact of a class of light: `blue`, `ortho`, or the shift in `contrast`."""
    table = facts("light")
    return table[f"{light_class.replace(' ', '_').lower()}_{what}"]


def _stops(row: Fact) -> Stops:
    return Stops(row.value, row.sd)


def light_entry(question: LightFields) -> Entry:
    """The light's line of the ledger: by own sheets, by a reading through a blue filter, by the table, or unknown."""
    if question.metered_through == "blue filter":
        return _through_entry(question)
    light, table = question.light_class or "unknown", table_offset(question.light_class, question.sensitivity)
    if question.light_offset_stops is not None:
        return _learnt_entry(question, table)
    surer = Remedy("a reading through a blue filter", fact("forecast", "light_measured").sd)
    if table is None:
        return _unnamed_entry()
    row = row_of(light, "blue")
    seen = SEES.get(question.sensitivity or "")
    notes = _contrast_notes(question)
    what = f"{light[0].upper()}{light[1:]}: {seen or 'paper of unknown colour sense'} gets {against(table.amount_stops)}"
    unknown_sight: tuple[Unknown, ...] = ()
    if seen is None:
        apart = abs(row.value - row_of(light, "ortho").value) / 2
        unknown_sight = (Unknown("what the paper sees (between blue alone and blue with green is taken)", apart),) if apart else ()
    aside = "" if row.kind == "judgement" else OUR_CHOICE
    stops = Stops(-table.amount_stops, table.doubt_stops)
    return Entry(what, stops, row.says, row.rests, notes, unknown_sight, aside, called="The light's colour", remedy=surer)


def _unnamed_entry() -> Entry:
    """A light that nobody named: what that adds beside the doubt of a named one is said."""
    usual, unknown = fact("light", "overcast_sky_blue").sd, fact("light", "unknown")
    return Entry(
        "Light not named: noon daylight is taken",
        Stops(0.0, doubt_of_light("unknown")),
        unknown.says,
        "judgement",
        unknown=(Unknown("the light (noon daylight is taken)", unknown.sd),),
        aside=f"±{usual:.2f} as of a named light, the rest because nobody named it",
        called="The light's colour",
        remedy=Remedy("naming the light", usual),
    )


def against(offset_stops: float, teller: str = "the meter") -> str:
    """`1.41 stops less than the meter tells`."""
    shown = f"{abs(offset_stops):.2f}"
    if float(shown) == 0:
        return f"what {teller} tells"
    return f"{shown} {'stop' if float(shown) <= 1 else 'stops'} {'less' if offset_stops < 0 else 'more'} than {teller} tells"


def _learnt_entry(question: LightFields, table: Stops | None) -> Entry:
    """By own sheets, as the book or a person says."""
    offset = question.light_offset_stops or 0.0
    sd, aside = question.light_offset_sd_stops, ""
    if sd is None:
        sd, aside = (doubt_of_light("unknown"), "its doubt that of a light that nobody named") if table is None else (table.doubt_stops, OF_THE_TABLE)
    light = question.light_class or "this light"
    name = "Light of your own sheets" if light in {"this light", "unknown"} else f"{light[0].upper()}{light[1:]}"
    source = f"your own sheets: {question.light_rests_on}" if question.light_rests_on else "your own sheets"
    surer = Remedy("another sheet in this light, judged,", sd / 2**0.5)
    what = f"{name}: your paper gets {against(offset)}"
    notes = _contrast_notes(question)
    return Entry(what, Stops(-offset, sd), source, "own", notes, aside=aside, called="The light's colour", remedy=surer)


def _through_entry(question: LightFields) -> Entry:
    """The meter saw blue light alone: of a blue-sensitive paper that is the whole; of any other the table tells what the rest adds."""
    measured = fact("forecast", "light_measured")
    if question.sensitivity == "blue":
        return Entry(
            "Light as the paper sees it, read through blue", Stops(0.0, measured.sd), measured.says, "judgement", called="The light's colour"
        )
    light = question.light_class or "unknown"
    if light == "unknown":
        return Entry(
            "Light read through blue; how much green there is beside it is not known",
            Stops(0.0, fact("light", "unknown").sd),
            fact("light", "unknown").says,
            "judgement",
            (remark(Note.BLUE_READING_ORTHO),),
            (Unknown("the light beside its blue (as in noon daylight is taken)", fact("light", "unknown").sd),),
            called="The light's colour",
            remedy=Remedy("naming the light", fact("light", "overcast_sky_ortho").sd),
        )
    blue, seen = row_of(light, "blue"), table_offset(light, question.sensitivity)
    more = (seen.amount_stops if seen else 0.0) - blue.value
    stops = Stops(-more, seen.doubt_stops if seen else blue.sd)
    what = f"Read through blue; of a {light} this paper gets {against(more, 'its blue')}"
    return Entry(what, stops, blue.says, blue.rests, (remark(Note.BLUE_READING_ORTHO),), called="The light's colour")


def seen_through_blue(question: LightFields) -> float | None:
    """How well the light that the paper sees was metered: where the meter saw what a blue-sensitive paper sees; else nobody metered it."""
    return fact("forecast", "light_measured").sd if question.metered_through == "blue filter" and question.sensitivity == "blue" else None


def meter_filter_entry(question: LightFields) -> Entry | None:
    """What the filter before the meter takes from the reading, as it was found in the sun."""
    if question.metered_through == "nothing":
        return None
    loss = fact("light", "filter_on_meter")
    if question.through_stops is None:
        lacks = (Unknown(f"what the blue filter takes from the meter ({loss.value:g} stops are taken)", loss.sd),)
        surer = Remedy("a grey read in the sun with and without the filter", fact("forecast", "light_measured").sd)
        what = f"Read through a blue filter: {loss.value:g} stops more light than the meter shows"
        return Entry(what, Stops(-loss.value, loss.sd), loss.says, loss.rests, (), lacks, called="The filter on the meter", remedy=surer)
    what = f"Read through a blue filter that takes {question.through_stops:.1f} stops in the sun"
    return Entry(what, Stops(-question.through_stops, fact("light", "filter_tried").sd), "as you found it", "own", called="The filter on the meter")


def skin_entry(question: LightFields) -> Entry | None:
    """Skin is redder than a grey: where it was read by reflected light, the paper gets less of it than the meter tells."""
    row = fact("light", "skin_blue")
    blue, ortho = _stops(row), _stops(fact("light", "skin_ortho"))
    if question.metered_through == "blue filter" and question.sensitivity == "blue":
        return None
    seen = {"blue": blue, "ortho": ortho}.get(question.sensitivity or "") or either_sensitivity(blue, ortho)
    what = f"Skin, read by reflected light: this paper gets {against(seen.amount_stops)}"
    surer = Remedy("a reading off a grey card beside the face", 0.0)
    stops = Stops(-seen.amount_stops, seen.doubt_stops)
    return Entry(what, stops, row.says, row.rests, (), (), "computed from colour charts", called="The colour of skin", remedy=surer)


def _contrast_notes(question: LightFields) -> tuple[Remark, ...]:
    """Where blue and green change against each other, a variable-contrast paper changes its contrast."""
    light = question.light_class or "unknown"
    if question.sensitivity == "blue" or light == "unknown":
        return ()
    shift = row_of(light, "contrast").value
    if abs(shift) < SHIFT_WORTH_SAYING:
        return ()
    way = ("less", "softer") if shift < 0 else ("more", "harder")
    return (remark(Note.LIGHT_CONTRAST, stops=stops_said(abs(shift)), more=way[0], softer=way[1]),)


class FoundRow(Record):
    """What one own sheet showed of this light, and its doubt."""

    shown_stops: Annotated[float, LIGHT_SHOWN_STOPS]
    shown_sd_stops: Annotated[float, LIGHT_SHOWN_SD_STOPS]


class LightQuestion(LightFields):
    """A light and a paper, and what own sheets showed of both."""

    shown_by_sheets: Annotated[
        tuple[FoundRow, ...],
        Rows(
            row=FoundRow,
            help="What own sheets showed: a line for each, how much more the paper got than the meter told, and its doubt.",
            example="-2.1 0.3",
            label="Own sheets in this light",
        ),
    ] = ()


class LightAnswer(Answer):
    """What the paper gets of this light, and the table of all lights for it."""

    table: ClassVar[tuple[str, ...]] = ("lights", "lights_stops", "lights_contrast_stops")

    light_stops: Annotated[Estimate, LIGHT_OFFSET_STOPS]
    light_factor: Annotated[Estimate, LIGHT_FACTOR]
    contrast_shift_stops: Annotated[Estimate, CONTRAST_SHIFT_STOPS]
    skin_stops: Annotated[Estimate, SKIN_STOPS]
    lights: Annotated[Sequence[str], Plain(help="Every kind of light of the table.", example="tungsten lamp", label="Light")]
    lights_stops: Annotated[Sequence[float], TABLE_STOPS]
    lights_contrast_stops: Annotated[Sequence[float], TABLE_CONTRAST_STOPS]


def answer(question: LightQuestion) -> LightAnswer:
    """The table first, own sheets after it, each by its doubt."""
    entry = light_entry(_with_sheets(question))
    entries = [one for one in (meter_filter_entry(question), entry) if one is not None]
    stops = entry.stops
    skin = {sees: _stops(fact("light", f"skin_{sees}")) for sees in SEES}
    of_skin = skin.get(question.sensitivity or "") or either_sensitivity(skin["blue"], skin["ortho"])
    shift = row_of(question.light_class, "contrast") if question.light_class in LIGHTS else None
    return LightAnswer(
        light_stops=around(-stops.amount_stops, stops.doubt_stops),
        light_factor=around_stops(2**stops.amount_stops, stops.doubt_stops),
        contrast_shift_stops=around(shift.value, shift.sd) if shift else around(0.0, fact("light", "unknown").sd),
        skin_stops=around(of_skin.amount_stops, of_skin.doubt_stops),
        lights=LIGHTS,
        lights_stops=tuple(offset.amount_stops for light in LIGHTS if (offset := table_offset(light, question.sensitivity))),
        lights_contrast_stops=tuple(row_of(light, "contrast").value for light in LIGHTS),
        ledger=tuple(one.line for one in entries),
        notes=tuple(note for one in entries for note in one.notes),
        sources=tuple(dict.fromkeys(one.source for one in entries)),
    )


def _with_sheets(question: LightQuestion) -> LightFields:
    """What own sheets showed, weighed against the table, as the offset of this light."""
    if not question.shown_by_sheets or question.light_offset_stops is not None:
        return question
    table = table_offset(question.light_class, question.sensitivity) or Stops(0.0, doubt_of_light("unknown"))
    found = learnt_offset(table, [Stops(one.shown_stops, one.shown_sd_stops) for one in question.shown_by_sheets])
    many = len(question.shown_by_sheets)
    learnt = {
        "light_offset_stops": found.amount_stops,
        "light_offset_sd_stops": found.doubt_stops,
        "light_rests_on": f"{many} in this light, beside the table",
    }
    return question.model_copy(update=learnt)


LIGHT: Final = Operation(
    name="exposure.light",
    version=1,
    asks="What does this paper get of this light, against what the meter tells?",
    question=LightQuestion,
    answer=LightAnswer,
    compute=answer,
    examples={
        "lamp in the shed": {"light_class": "tungsten lamp", "sensitivity": "blue"},
        "window, variable contrast": {"light_class": "north window", "sensitivity": "ortho"},
        "through a blue filter": {"light_class": "open shade", "sensitivity": "blue", "metered_through": "blue filter", "through_stops": 5.2},
        "three own sheets": {"light_class": "warm LED lamp", "sensitivity": "blue", "shown_by_sheets": "-2.4 0.3\n-2.6 0.3\n-2.3 0.4"},
    },
)
