"""What does the meter tell?"""

from dataclasses import dataclass
from math import hypot, log2
from typing import Annotated, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from silverwright.asking.fields import Choice
from silverwright.asking.operation import Answer, Estimate, Operation, Question, Remark, refuse, remark
from silverwright.exposure.meter import (
    equivalent_reflectance,
    ev_from_dial,
    ev_from_illuminance,
    ev_from_luminance,
    illuminance_from_ev,
    luminance_from_ev,
    time_from_ev,
)
from silverwright.exposure.shutter import true_f_number, true_time_s
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import Unknown, around, around_stops, bare, not_given, stops_said
from silverwright.questions.marks import aperture_marks, time_marks
from silverwright.units import EXPOSURE_VALUE, F_NUMBER, LUMINANCE, LUX, SECOND
from silverwright.vocabulary import (
    APERTURE_F,
    DIAL_APERTURE_F,
    DIAL_EI,
    DIAL_TIME_S,
    EXPOSURE_EV,
    METER_C,
    METER_K,
    READING_EV,
    READING_LUMINANCE,
    READING_LX,
    READING_SD_STOPS,
    REFLECTANCE_PERCENT,
    TIME_S,
)

NO_READING: Final = (
    "No reading yet. Give one: EV, luminance, light in lux, or a time with its aperture and the EI that the meter was set to. "
    "The sharpest is a reading of a grey at the subject."
)


class ReadingFields(Question):
    """What was read, with which meter."""

    reading_ev: Annotated[float | None, READING_EV] = None
    reading_cd_per_m2: Annotated[float | None, READING_LUMINANCE] = None
    reading_lx: Annotated[float | None, READING_LX] = None
    dial_time_s: Annotated[float | None, DIAL_TIME_S] = None
    dial_aperture_f: Annotated[float | None, DIAL_APERTURE_F] = None
    dial_ei: Annotated[float | None, DIAL_EI, Field(validate_default=True)] = None
    reading_sd_stops: Annotated[float | None, READING_SD_STOPS] = None
    meter_k: Annotated[float | None, METER_K] = None
    meter_c: Annotated[float | None, METER_C] = None
    incident_head: Annotated[
        Literal["dome", "flat"] | None, Choice(help="Receptor of the incident meter: a dome, or flat.", example="dome", label="Incident head")
    ] = None

    @field_validator("dial_ei")
    @classmethod
    def _one_reading(cls, dial_ei: float | None, seen: ValidationInfo) -> float | None:
        asked = ("reading_ev", "reading_cd_per_m2", "reading_lx", "dial_time_s")
        if any(name not in seen.data or seen.data[name] is not None for name in asked[:3]) or "dial_time_s" not in seen.data:
            return dial_ei
        if seen.data["dial_time_s"] is None:
            raise refuse(NO_READING, field="reading_ev")
        if dial_ei is None:
            raise refuse("The time on a meter means little without the EI that it was set to: give that too.")
        return dial_ei


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read, as an exposure value at ISO 100 against K 12.5, and how it is said."""

    ev: float
    said: str
    dial_ei: float
    sd_stops: float
    unknown: tuple[Unknown, ...]
    notes: tuple[Remark, ...]


def reading_of(question: ReadingFields, aperture_f: float | None = None, *, own_sheets: bool = False) -> Reading:
    """The reading that counts: EV before luminance before lux before the dial; a second one is a check."""
    base_k, base_ei = fact("meter", "meter_k").value, fact("meter", "meter_ei").value
    k = question.meter_k or base_k
    ways: list[tuple[str, float, float, tuple[Unknown, ...]]] = []
    no_k = question.meter_k is None and question.incident_head is None
    lacks_k = (Unknown("the meter's constant (K 12.5 taken)", fact("meter", "unknown_k").sd),) if no_k else ()
    if question.reading_ev is not None:
        said = f"EV {bare(EXPOSURE_VALUE, question.reading_ev)}"
        ways.append((said, question.reading_ev + log2(k / base_k), base_ei, lacks_k))
    if question.reading_cd_per_m2 is not None:
        ways.append((LUMINANCE.show(question.reading_cd_per_m2), ev_from_luminance(question.reading_cd_per_m2, base_k, base_ei), base_ei, ()))
    if question.reading_lx is not None:
        ways.append((LUX.show(question.reading_lx), ev_from_illuminance(question.reading_lx, _c(question), base_ei), base_ei, _lacks_head(question)))
    if question.dial_time_s is not None and question.dial_ei is not None and (at := question.dial_aperture_f or aperture_f):
        ev = ev_from_dial(true_time_s(question.dial_time_s, time_marks()), true_f_number(at, aperture_marks()), question.dial_ei, base_ei)
        ways.append((f"{SECOND.show(question.dial_time_s)} at {F_NUMBER.show(at)}", ev + log2(k / base_k), question.dial_ei, lacks_k))
    said, ev, dial_ei, unknown = ways[0]
    notes = tuple(
        remark(Note.ROUTES_DISAGREE, first=said, second=other, stops=stops_said(abs(ev - also)))
        for other, also, _, _ in ways[1:]
        if abs(ev - also) > fact("meter", "agree").value
    )
    usual = fact("meter", "reading_again" if own_sheets else "reading").sd
    sd = usual if question.reading_sd_stops is None else question.reading_sd_stops
    return Reading(ev, said, dial_ei, hypot(sd, *(one.doubt_stops for one in unknown)), unknown, notes)


def reads_reflected(question: ReadingFields) -> bool:
    """Whether the reading that counts was taken off the subject: not of the light that falls on it."""
    if question.incident_head is not None:
        return False
    return question.reading_lx is None or question.reading_ev is not None or question.reading_cd_per_m2 is not None


def _c(question: ReadingFields) -> float:
    return question.meter_c or fact("meter", f"meter_c_{question.incident_head or 'dome'}").value


def _lacks_head(question: ReadingFields) -> tuple[Unknown, ...]:
    if question.meter_c is not None or question.incident_head is not None:
        return ()
    return (Unknown("the incident head (a dome is taken)", fact("meter", "unknown_head").sd),)


class ReadingQuestion(ReadingFields):
    """A reading, and if wanted an aperture."""

    aperture_f: Annotated[float | None, APERTURE_F, Field(validate_default=True)] = None

    @field_validator("aperture_f")
    @classmethod
    def _dial_has_an_aperture(cls, aperture_f: float | None, seen: ValidationInfo) -> float | None:
        if aperture_f is None and seen.data.get("dial_time_s") is not None and seen.data.get("dial_aperture_f", 0) is None:
            raise refuse("A time on the meter needs its aperture.", field="dial_aperture_f")
        return aperture_f


class ReadingAnswer(Answer):
    """The same light, said in every way."""

    ev: Annotated[Estimate, EXPOSURE_EV]
    luminance_cd_per_m2: Annotated[Estimate, READING_LUMINANCE]
    illuminance_lx: Annotated[Estimate, READING_LX]
    grey_percent: Annotated[Estimate, REFLECTANCE_PERCENT]
    dial_s: Annotated[Estimate, TIME_S] = Field(default_factory=Estimate)


def answer(question: ReadingQuestion) -> ReadingAnswer:
    """Exposure value at ISO 100 first; the rest follows from it."""
    reading = reading_of(question, question.aperture_f)
    k, c = fact("meter", "meter_k"), _c(question)
    notes = list(reading.notes)
    if reading.unknown:
        known = (reading.sd_stops**2 - sum(one.doubt_stops**2 for one in reading.unknown)) ** 0.5
        notes.append(not_given(reading.unknown, reading.sd_stops, known))
    dial = Estimate()
    if question.aperture_f is not None:
        time_s = time_from_ev(reading.ev, true_f_number(question.aperture_f, aperture_marks()), reading.dial_ei)
        dial = around_stops(time_s, reading.sd_stops)
    return ReadingAnswer(
        ev=around(reading.ev, reading.sd_stops),
        luminance_cd_per_m2=around_stops(luminance_from_ev(reading.ev, k.value), reading.sd_stops),
        illuminance_lx=around_stops(illuminance_from_ev(reading.ev, c), reading.sd_stops),
        grey_percent=Estimate(value=100 * equivalent_reflectance(question.meter_k or k.value, c)),
        dial_s=dial,
        notes=tuple(notes),
        sources=(k.says, fact("meter", "reading").says),
    )


READING: Final = Operation(
    name="exposure.reading",
    version=1,
    asks="What does the meter tell?",
    question=ReadingQuestion,
    answer=ReadingAnswer,
    compute=answer,
    examples={
        "at the window": {"reading_ev": 10, "meter_k": 12.5, "aperture_f": "f/22"},
        "meter with a dome": {"reading_lx": 640, "incident_head": "dome"},
        "off the dial": {"dial_time_s": "1/8", "dial_aperture_f": "f/8", "dial_ei": 100},
    },
)
