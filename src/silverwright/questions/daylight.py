"""How bright is it, without a meter?"""

from collections.abc import Sequence
from datetime import date
from math import hypot
from typing import Annotated, ClassVar, Final, Literal, get_args

from silverwright.asking.fields import Choice, Plain
from silverwright.asking.operation import Answer, Estimate, Line, Operation, Remark, remark
from silverwright.exposure.daylight import direct_normal_lx, dome_lx
from silverwright.exposure.meter import ev_from_illuminance, illuminance_from_ev
from silverwright.exposure.sun import highest_deg
from silverwright.facts.load import fact
from silverwright.notes import Note
from silverwright.questions.entry import Unknown, around, around_stops, not_given, says
from silverwright.questions.sun import (
    A_GOOD_DAY,
    DAY,
    DAY_HOURS,
    SunFields,
    SunPlace,
    is_dark,
    level_lx,
    sky_of,
    sky_trend,
    stops_by_hours,
    sun_place,
    twilight_note,
)
from silverwright.units import DEGREE
from silverwright.vocabulary_camera import (
    CLOCK_HOURS,
    DAYLIGHT_EV,
    DAYLIGHT_LX,
    DAYLIGHT_SD_STOPS,
    DAYLIGHT_TREND,
    LATITUDE_DEG,
    SKIES_EV,
    SUN_AZIMUTH_DEG,
    SUN_HEIGHT_DEG,
    SUN_HIGHEST_DEG,
)

Weather = Literal["clear", "partly cloudy", "overcast", "dark overcast"]
Falls = Literal["from behind the camera", "from the side", "from behind the subject", "not at all"]
TURNED_DEG: Final[dict[Falls, float]] = {"from behind the camera": 0, "from the side": 90, "from behind the subject": 180}  # arithmetic
SUNNY: Final[tuple[Weather, ...]] = ("clear", "partly cloudy")
SKIES: Final[tuple[tuple[Weather, Falls], ...]] = (
    *((sky, falls) for sky in SUNNY for falls in get_args(Falls)),
    ("overcast", "not at all"),
    ("dark overcast", "not at all"),
)
MOST_STOPS: Final = 5.0  # our judgement: beyond that nothing is known, and the ledger takes no more
NOON_DAYS: Final = 0.5  # arithmetic


class DaylightQuestion(SunFields):
    """Day, clock and place, which are needed here, and what the sky looks like."""

    on_day: Annotated[date, DAY, A_GOOD_DAY]
    clock_hours: Annotated[float, CLOCK_HOURS]
    latitude_deg: Annotated[float, LATITUDE_DEG]
    weather: Annotated[
        Weather | None,
        Choice(help="The sky; overcast throws no shadows, and a dark one looks like rain.", example="overcast", label="Sky"),
    ] = None
    sun_falls: Annotated[
        Falls | None,
        Choice(help="How the sun falls on the subject; not at all in the shade.", example="from the side", label="Sun on the subject"),
    ] = None


class DaylightAnswer(Answer):
    """Where the sun stands, the exposure value to plan with, with its wide doubt, and beside it what every other sky would give."""

    table: ClassVar[tuple[str, ...]] = ("skies", "skies_ev")
    height_deg: Annotated[Estimate, SUN_HEIGHT_DEG]
    azimuth_deg: Annotated[Estimate, SUN_AZIMUTH_DEG]
    highest_deg: Annotated[Estimate, SUN_HIGHEST_DEG]
    ev: Annotated[Estimate, DAYLIGHT_EV]
    reading_sd_stops: Annotated[Estimate, DAYLIGHT_SD_STOPS]
    illuminance_lx: Annotated[Estimate, DAYLIGHT_LX]
    trend_stops_per_min: Annotated[Estimate, DAYLIGHT_TREND]
    skies: Annotated[
        Sequence[str], Plain(help="Every sky, and how the sun falls on the subject.", example="clear (in the shade)", label="Sky and sun")
    ] = ()
    skies_ev: Annotated[Sequence[float], SKIES_EV] = ()


def answer(question: DaylightQuestion) -> DaylightAnswer:
    """Sun and sky by the sun's height, as a dome at the subject would read them; nothing once it is dark."""
    place = _place(question)
    sun = place.sun()
    highest = highest_deg(place.since_2000_days - (question.clock_hours / DAY_HOURS - NOON_DAYS), question.latitude_deg)
    dark = is_dark(sun.height_deg)
    ev, unknown = _light(question, place)
    sd = min(MOST_STOPS, hypot(_weather_sd(question), *(one.doubt_stops for one in unknown)))
    return DaylightAnswer(
        height_deg=_height(place, sun.height_deg),
        azimuth_deg=Estimate(value=sun.azimuth_deg),
        highest_deg=Estimate(value=highest),
        ev=Estimate() if dark else around(ev, sd),
        reading_sd_stops=Estimate() if dark else Estimate(value=sd),
        illuminance_lx=Estimate() if dark else around_stops(illuminance_from_ev(ev, fact("meter", "meter_c_dome").value), sd),
        trend_stops_per_min=Estimate() if dark else Estimate(value=sky_trend(place, sky_of("clear"))),
        skies=() if dark else tuple(_named(sky, falls) for sky, falls in SKIES),
        skies_ev=() if dark else tuple(_ev(sun.height_deg, _year_day(question), sky, falls) for sky, falls in SKIES),
        ledger=() if dark else _working(question, sun.height_deg, ev, unknown),
        notes=_notes(question, place, highest, unknown, sd),
        sources=("almanac1996, p. C24", fact("daylight", "sun_outside").says, fact("daylight", "base_clear").says, fact("daylight", "moment").says),
    )


def _height(place: SunPlace, height_deg: float) -> Estimate:
    """The height; with limits where the clock may differ from the sun."""
    if place.doubt_hours == 0:
        return Estimate(value=height_deg)
    early, late = (place.sun(side * place.doubt_hours / DAY_HOURS).height_deg for side in (-1, 1))
    return around(height_deg, abs(late - early) / 2)


def _place(question: DaylightQuestion) -> SunPlace:
    return sun_place(question.on_day, question.clock_hours, question.utc_offset_hours, question.latitude_deg, question.longitude_deg)


def _light(question: DaylightQuestion, place: SunPlace) -> tuple[float, tuple[Unknown, ...]]:
    """The exposure value: the middle of what was not said, and what leaving it open adds."""
    height, day = place.sun().height_deg, _year_day(question)
    skies: Sequence[Weather] = get_args(Weather) if question.weather is None else (question.weather,)
    falls: Sequence[Falls] = get_args(Falls) if question.sun_falls is None else (question.sun_falls,)
    table = [[_ev(height, day, sky, fall) for fall in falls] for sky in skies]
    by_sky = [sum(row) / len(row) for row in table]
    by_fall = [sum(column) / len(column) for column in zip(*table, strict=True)]
    found = [
        Unknown("the sky (the middle of clear and dark overcast is taken)", _half(by_sky)),
        Unknown("how the sun falls on the subject (the middle of all ways is taken)", _half(by_fall)),
        Unknown(place.lacks, stops_by_hours(place, sky_of("clear"))),
    ]
    return sum(by_sky) / len(by_sky), tuple(one for one in found if one.doubt_stops > 0)


def _year_day(question: DaylightQuestion) -> int:
    return question.on_day.timetuple().tm_yday


def _named(sky: Weather, falls: Falls) -> str:
    """A sky in words, with the sun where it has one."""
    if sky not in SUNNY:
        return sky
    return f"{sky} (in the shade)" if falls == "not at all" else f"{sky} (sun {falls})"


def _half(values: Sequence[float]) -> float:
    """Half of what lies between the ends."""
    return (max(values) - min(values)) / 2


def _ev(height_deg: float, year_day: int, weather: Weather, falls: Falls) -> float:
    """The exposure value that a dome at the subject would tell under this sky."""
    sky = sky_of("overcast" if weather == "dark overcast" else weather)
    direct = 0.0
    if weather in SUNNY and falls != "not at all":
        air = fact("daylight", f"air_{weather.replace(' ', '_')}").value
        direct = direct_normal_lx(height_deg, year_day, fact("daylight", "sun_outside").value, air)
    turned = TURNED_DEG.get(falls, 0.0)
    light = dome_lx(direct, level_lx(height_deg, sky), height_deg, turned, fact("daylight", "ground").value)
    darker = fact("daylight", "dark_overcast").value if weather == "dark overcast" else 0.0
    return ev_from_illuminance(light, fact("meter", "meter_c_dome").value, fact("meter", "meter_ei").value) - darker


def _weather_sd(question: DaylightQuestion) -> float:
    """How far a moment lies from the mean of such days."""
    parts = [fact("daylight", "moment").sd]
    if question.weather == "partly cloudy":
        parts.append(fact("daylight", "passing_clouds").sd)
    if question.sun_falls == "not at all":
        parts.append(fact("daylight", "how_much_sky").sd)
    return hypot(*parts)


def _working(question: DaylightQuestion, height_deg: float, ev: float, unknown: Sequence[Unknown]) -> tuple[Line, ...]:
    """The exposure value by the table, and what was not said."""
    moment = fact("daylight", "moment")
    sky = question.weather or "sky not said"
    falls = f", sun {question.sun_falls}" if question.sun_falls and question.weather in (None, *SUNNY) else ""
    source = says(fact("daylight", "sun_outside"), fact("daylight", "base_clear"), moment)
    what = f"{sky.capitalize()}{falls}, sun at {DEGREE.show(height_deg)}"
    first = Line(what=what, amount=ev, doubt=_weather_sd(question), unit="EV", source=source, rests="trade")
    rest = [_left_open(one) for one in unknown]
    return (first, *rest)


def _left_open(unknown: Unknown) -> Line:
    what = f"Not given: {unknown.words}"
    return Line(what=what, amount=0.0, doubt=unknown.doubt_stops, unit="EV", source="our judgement", rests="judgement")


def _notes(question: DaylightQuestion, place: SunPlace, highest: float, unknown: Sequence[Unknown], sd: float) -> tuple[Remark, ...]:
    """A place without sun, darkness, twilight; and that a table is no meter."""
    height = place.sun().height_deg
    notes: list[Remark] = []
    if highest < fact("daylight", "sunset_height").value:
        below = f"{DEGREE.show(-highest)} below it"
        notes.append(remark(Note.NO_SUN_TODAY, day=question.on_day.isoformat(), highest=below))
    if is_dark(height):
        return (*notes, remark(Note.SUN_NOT_UP, height=DEGREE.show(-height)))
    notes += [*twilight_note(place), remark(Note.TABLE_NO_METER)]
    if unknown:
        notes.append(not_given(unknown, sd, _weather_sd(question)))
    return tuple(notes)


DAYLIGHT: Final = Operation(
    name="exposure.daylight",
    version=1,
    asks="How bright is it, without a meter?",
    question=DaylightQuestion,
    answer=DaylightAnswer,
    compute=answer,
    examples={
        "the open shed door": {
            "on_day": "2026-06-21",
            "clock_hours": "15:00",
            "utc_offset_hours": "+2",
            "latitude_deg": "60.4 N",
            "longitude_deg": "5.3 E",
            "weather": "overcast",
        },
        "little is known": {"on_day": "2026-10-03", "clock_hours": "10:30", "latitude_deg": "34 S"},
        "a place without sun": {
            "on_day": "2026-12-21",
            "clock_hours": "12:00",
            "utc_offset_hours": "1",
            "latitude_deg": "69.6 N",
            "longitude_deg": "19 E",
        },
    },
)
