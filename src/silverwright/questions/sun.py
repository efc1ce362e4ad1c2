"""Day, clock and place: where the sun stands, and how fast the light goes by its height."""

from dataclasses import dataclass
from datetime import date
from math import log2
from typing import Annotated, Final

from pydantic import ValidationInfo, ValidatorFunctionWrapHandler, WrapValidator, field_validator

from silverwright.asking.fields import Moment
from silverwright.asking.operation import Question, Remark, refuse, remark
from silverwright.exposure.daylight import light_trend_stops_per_min, sky_lx, twilight_lx
from silverwright.exposure.sun import sun_at
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.records import SkyLight, SunAt
from silverwright.units import DEGREE, STOP_PER_MINUTE
from silverwright.vocabulary_camera import CLOCK_HOURS, LATITUDE_DEG, LONGITUDE_DEG, UTC_OFFSET_HOURS

NOON_2000: Final = date(2000, 1, 1).toordinal() + 0.5  # arithmetic: days count from noon of that day
DAY_HOURS: Final = 24  # arithmetic
HALF_TURN_DEG: Final = 180  # arithmetic
HOUR_DEG: Final = 15  # arithmetic: the earth turns by so many degrees in an hour
MINUTE_DAYS: Final = 1 / (24 * 60)  # arithmetic
LOW_SUN_DEG: Final = 3  # our judgement: from here down daylight falls by a tenth of a stop in two or three minutes
FIRST_YEAR, LAST_YEAR = 1900, 2100  # our judgement: so far the short formula is good to a hundredth of a degree or little more
WIDEST_ZONE_HOURS: Final = 4  # our judgement: clocks by law differ from the sun by three hours and a summer hour at most
STEADY: Final = 0.02  # our judgement: stops in a minute; slower light changes by a tenth of a stop in five minutes
A_DAY: Final = "A day is needed here, such as 2026-12-21."


def _day(written: object, read: ValidatorFunctionWrapHandler) -> date | None:
    """A day as people write it; a bare number is none."""
    if isinstance(written, int | float) or (isinstance(written, str) and written.strip().replace(".", "", 1).lstrip("+-").isdigit()):
        raise refuse(A_DAY)
    found: date | None = read(written)
    if found is not None and not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise refuse(f"The year {found.year} is too far off: the sun is reckoned from {FIRST_YEAR} to {LAST_YEAR}.")
    return found


DAY: Final = Moment(help="Which day, there.", example="2026-12-21", label="Day")
A_GOOD_DAY: Final = WrapValidator(_day)


class SunFields(Question):
    """When and where: what is not known may stay empty."""

    on_day: Annotated[date | None, DAY, A_GOOD_DAY] = None
    clock_hours: Annotated[float | None, CLOCK_HOURS] = None
    utc_offset_hours: Annotated[float | None, UTC_OFFSET_HOURS] = None
    latitude_deg: Annotated[float | None, LATITUDE_DEG] = None
    longitude_deg: Annotated[float | None, LONGITUDE_DEG] = None

    @field_validator("longitude_deg")
    @classmethod
    def _in_its_zone(cls, longitude_deg: float | None, seen: ValidationInfo) -> float | None:
        offset = seen.data.get("utc_offset_hours")
        if longitude_deg is None or offset is None:
            return longitude_deg
        apart = (offset - longitude_deg / HOUR_DEG + DAY_HOURS / 2) % DAY_HOURS - DAY_HOURS / 2
        if abs(apart) > WIDEST_ZONE_HOURS:
            raise refuse(
                f"At longitude {DEGREE.show(longitude_deg)} the sun's own clock is UTC{longitude_deg / HOUR_DEG:+.1f} hours, the clock given is "
                f"UTC{offset:+g}: {abs(apart):.0f} hours apart. Correct one of them: east is +, west is −, for both."
            )
        return longitude_deg


@dataclass(frozen=True, slots=True)
class SunPlace:
    """A moment and a place, whole: what was not given is taken, and by how many hours clock and sun may differ for it."""

    since_2000_days: float
    latitude_deg: float
    longitude_deg: float
    doubt_hours: float
    lacks: str

    def sun(self, later_days: float = 0.0) -> SunAt:
        """Where the sun stands then."""
        return sun_at(self.since_2000_days + later_days, self.latitude_deg, self.longitude_deg)


def sun_place(on_day: date, clock_hours: float, utc_offset_hours: float | None, latitude_deg: float, longitude_deg: float | None) -> SunPlace:
    """The moment in universal time and the place; a zone stands for its middle longitude, a longitude for its zone."""
    offset, longitude, doubt, lacks = utc_offset_hours, longitude_deg, 0.0, ""
    if offset is None and longitude is None:
        offset, longitude, doubt = 0.0, 0.0, fact("daylight", "neither_alone").sd
        lacks = "zone of the clock and longitude (the clock is taken for the sun's own)"
    elif offset is None:
        offset, doubt = (longitude or 0.0) / HOUR_DEG, fact("daylight", "zone_alone").sd
        lacks = "zone of the clock (the clock is taken for the sun's own)"
    elif longitude is None:
        longitude, doubt = (offset * HOUR_DEG + HALF_TURN_DEG) % (2 * HALF_TURN_DEG) - HALF_TURN_DEG, fact("daylight", "longitude_alone").sd
        lacks = "longitude (the middle of the zone is taken)"
    days = on_day.toordinal() + (clock_hours - offset) / DAY_HOURS - NOON_2000
    return SunPlace(days, latitude_deg, longitude or 0.0, doubt, lacks)


def place_of(question: SunFields) -> SunPlace | None:
    """The moment and place of a question that has both, or nothing."""
    if question.on_day is None or question.clock_hours is None or question.latitude_deg is None:
        return None
    return sun_place(question.on_day, question.clock_hours, question.utc_offset_hours, question.latitude_deg, question.longitude_deg)


def sky_of(weather: str) -> SkyLight:
    """The sky of a weather."""
    key = weather.replace(" ", "_")
    return SkyLight(fact("daylight", f"base_{key}").value, fact("daylight", f"rise_{key}").value, fact("daylight", f"power_{key}").value)


def level_lx(height_deg: float, sky: SkyLight) -> float:
    """Sky on level ground, through twilight; below the horizon every sky fades as the clear one does."""
    if height_deg >= 0:
        return sky_lx(height_deg, sky)
    clear = fact("daylight", "base_clear").value
    sunset = fact("daylight", "sunset_height").value, fact("daylight", "sunset_light").value
    dusk = fact("daylight", "dusk_height").value, fact("daylight", "dusk_light").value
    return sky.base_lx / clear * twilight_lx(height_deg, [(0.0, clear), sunset, dusk])


def is_dark(height_deg: float) -> bool:
    """Whether civil twilight is over."""
    return height_deg < fact("daylight", "dusk_height").value


def sky_trend(place: SunPlace, sky: SkyLight) -> float:
    """How fast the sky's light goes at that moment, in stops a minute."""
    before, after = (level_lx(place.sun(side * MINUTE_DAYS / 2).height_deg, sky) for side in (-1, 1))
    return light_trend_stops_per_min(before, after, 60)


def twilight_note(place: SunPlace) -> tuple[Remark, ...]:
    """A warning when the sun is low: how fast the light goes. It sets no exposure."""
    height = place.sun().height_deg
    trend = sky_trend(place, sky_of("clear"))
    if height > LOW_SUN_DEG or is_dark(height) or abs(trend) < STEADY:
        return ()
    said = STOP_PER_MINUTE.show(abs(trend)).removesuffix("stops/min").strip()
    return (remark(Note.TWILIGHT, height=DEGREE.show(height), goes="falls" if trend < 0 else "rises", trend=said),)


def stops_by_hours(place: SunPlace, sky: SkyLight) -> float:
    """What a doubtful clock leaves in doubt about the light: half of what the sky changes from one side of the doubt to the other."""
    if place.doubt_hours == 0:
        return 0.0
    early, late = (level_lx(place.sun(side * place.doubt_hours / DAY_HOURS).height_deg, sky) for side in (-1, 1))
    return abs(log2(late / early)) / 2
