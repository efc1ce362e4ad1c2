"""What stands at the camera: the reading, the lens and how it is racked out, aperture, filter and clock."""

from math import hypot, log2
from typing import Annotated, Literal

from silverwright.asking.fields import Choice
from silverwright.exposure.ledger import total
from silverwright.exposure.meter import time_from_ev
from silverwright.exposure.shutter import hand_doubt_stops
from silverwright.facts.load import fact
from silverwright.questions.aperture import ApertureFields, aperture_doubt, aperture_said, f_number
from silverwright.questions.bellows import LensFields, bellows_entry
from silverwright.questions.entry import Entry, Remedy, bare
from silverwright.questions.filter import FilterFields, filter_line
from silverwright.questions.light import LightFields, light_entry, meter_filter_entry, skin_entry
from silverwright.questions.meter import Reading, ReadingFields, reading_of, reads_reflected
from silverwright.questions.mirror import MirrorFields, mirror_entry
from silverwright.questions.reciprocity import ReciprocityFields
from silverwright.questions.shutter import HandFields, ShutterFields, hand_of, nearest_on_shutter
from silverwright.records import Stops
from silverwright.units import EXPOSURE_INDEX, SECOND


class CameraFields(HandFields, ShutterFields, MirrorFields, ApertureFields, ReciprocityFields, FilterFields, LightFields, LensFields, ReadingFields):
    """A reading, the lens, the aperture: what is not known may stay empty."""

    timed_by: Annotated[
        Literal["hand", "shutter"] | None,
        Choice(help="By hand (cap, B or T) or by the shutter; left open, by hand from one second on.", example="hand", label="Timed by"),
    ] = None


def by_hand(question: CameraFields, time_s: float) -> bool:
    """Whether somebody counts."""
    return question.timed_by == "hand" or (question.timed_by is None and time_s >= fact("lens", "hand_from").value)


def reading_entry(question: CameraFields, *, own_sheets: bool = False) -> tuple[Reading, Entry]:
    """The first line: the time for the meter's own EI, in stops from one second."""
    reading = reading_of(question, question.aperture_f or f_number(question), own_sheets=own_sheets)
    time_s = time_from_ev(reading.ev, f_number(question), reading.dial_ei)
    at = aperture_said(question)
    what = f"Reading {reading.said}; at {at}, meter at EI {bare(EXPOSURE_INDEX, reading.dial_ei)}: {SECOND.show(time_s)}"
    usual = fact("meter", "reading_again" if own_sheets else "reading")
    source = usual.says if question.reading_sd_stops is None else "doubt as typed"
    surer = Remedy("your own sheets, read with the same meter,", fact("meter", "reading_again").sd)
    stops = Stops(log2(time_s), reading.sd_stops)
    return reading, Entry(what, stops, source, "trade", reading.notes, reading.unknown, called="The reading", remedy=surer)


def corrections(question: CameraFields, tone: str) -> tuple[Entry, ...]:
    """What stands between the meter and the paper: the camera's lines, then those of the light."""
    return *of_camera(question), *of_light(question, tone)


def of_camera(question: CameraFields) -> tuple[Entry, ...]:
    """The bellows first, then mirror or prism, then the filters: before the lens, and before the meter."""
    lines = bellows_entry(question), mirror_entry(question), filter_line(question), meter_filter_entry(question)
    return tuple(line for line in lines if line is not None)


def of_light(question: CameraFields, tone: str) -> tuple[Entry, ...]:
    """What the paper sees of the light, and of skin that was read by reflected light, where the meter sees something else."""
    skin = skin_entry(question) if tone == "skin" and reads_reflected(question) else None
    return tuple(line for line in (light_entry(question), skin) if line is not None)


def clock_entry(question: CameraFields, time_s: float) -> Entry:
    """What the engraving and the clock leave in doubt."""
    (hand_sd_s, hand_says), shutter = hand_of(question), fact("lens", "shutter")
    aperture, engraved, by_whom, rests = aperture_doubt(question)
    if by_hand(question, time_s):
        timed, clock, clocked = "time counted by hand", hand_doubt_stops(time_s, hand_sd_s), hand_says
        surer = Remedy("twice the time, a stop smaller,", hypot(engraved, hand_doubt_stops(2 * time_s, hand_sd_s)))
    elif question.measured_speeds:
        timed, clock, clocked = (
            "time by the measured shutter",
            nearest_on_shutter(question.measured_speeds, time_s).sd_stops,
            "its speeds as measured",
        )
        surer = Remedy("an aperture measured at its entrance pupil", clock)
    else:
        timed, clock, clocked = "time by the shutter", shutter.sd, shutter.says
        surer = Remedy("a shutter with measured speeds", hypot(engraved, fact("lens", "release").sd))
    source = "; ".join(dict.fromkeys((by_whom, clocked)))
    return Entry(f"{aperture}, {timed}", Stops(0.0, hypot(engraved, clock)), source, rests, called="Aperture and clock", remedy=surer)


def sheet_entry() -> Entry:
    """How one sheet differs from the next."""
    scatter = fact("paper", "one_sheet")
    return Entry("One sheet from the next", Stops(0.0, scatter.sd), scatter.says, scatter.rests, stands="Only a second sheet helps.")


def summed(entries: "list[Entry] | tuple[Entry, ...]") -> Stops:
    """The sum of some lines."""
    return total([entry.stops for entry in entries])
