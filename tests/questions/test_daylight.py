"""No meter at hand: by day, clock, place and the look of the sky."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from silverwright.catalogue import find
from silverwright.errors import BadQuestion

NOON = {"on_day": "2026-06-21", "clock_hours": "12:00", "utc_offset_hours": 0, "latitude_deg": 40, "longitude_deg": 0}


def ask(**given: object) -> Any:
    return find("exposure.daylight").ask(given)


def codes(answer: Any) -> set[str]:
    return {note.note.value for note in answer.notes}


def test_the_old_rule_of_the_sunny_day() -> None:
    """Common practice, another route: at ISO 100 f/16 and 1/S in the sun are EV 15, open shade EV 12, bright overcast EV 13, dark EV 12."""
    for weather, falls, ev in (
        ("clear", "from behind the camera", 15),
        ("clear", "not at all", 12),
        ("overcast", None, 13),
        ("dark overcast", None, 12),
    ):
        said = {"weather": weather} | ({"sun_falls": falls} if falls else {})
        for clock in ("9:00", "12:00", "15:00"):
            found = ask(**NOON | {"clock_hours": clock}, **said).ev
            assert found.low <= ev <= found.high
            assert found.value == pytest.approx(ev, abs=0.6)


def test_every_sky_stands_in_the_table() -> None:
    """Each row is what the question tells when it is asked for that sky."""
    answer = ask(**NOON)
    table = dict(zip(answer.skies, answer.skies_ev, strict=True))
    assert len(table) == 10
    assert table["clear (in the shade)"] == ask(**NOON, weather="clear", sun_falls="not at all").ev.value
    assert table["clear (sun from the side)"] == ask(**NOON, weather="clear", sun_falls="from the side").ev.value
    assert table["overcast"] - 1 == pytest.approx(table["dark overcast"])
    assert ask(**NOON | {"clock_hours": 0}).skies == ()


def test_what_is_not_known_widens() -> None:
    whole = ask(**NOON, weather="clear", sun_falls="from the side")
    for left_out in ("weather", "sun_falls", "longitude_deg", "utc_offset_hours"):
        told = ask(**NOON | {"weather": "clear", "sun_falls": "from the side", "clock_hours": 17} | {left_out: None})
        assert told.reading_sd_stops.value > whole.reading_sd_stops.value
        assert "not-given" in codes(told)
    assert "not-given" not in codes(whole)


def test_a_place_without_sun_is_said() -> None:
    north = {"latitude_deg": 69.6, "longitude_deg": 19, "utc_offset_hours": 1}
    noon = ask(**NOON | north | {"on_day": "2026-12-21"})
    assert {"no-sun-today", "table-no-meter"} <= codes(noon)
    assert noon.highest_deg.value == pytest.approx(90 - 69.6 - 23.44, abs=0.05)
    night = ask(**NOON | north | {"on_day": "2026-12-21", "clock_hours": 22})
    assert night.ev.value is night.reading_sd_stops.value is night.illuminance_lx.value is None
    assert {"no-sun-today", "sun-not-up"} <= codes(night)
    assert "no-sun-today" not in codes(ask(**NOON | north))
    assert ask(**NOON | north | {"clock_hours": 0}).height_deg.value > 0


def test_twilight_warns() -> None:
    dusk = ask(**NOON | {"clock_hours": "19:30"})
    assert dusk.trend_stops_per_min.value < 0
    assert "twilight" in codes(dusk)
    assert "twilight" not in codes(ask(**NOON))


def test_twilight_warns_while_the_shutter_is_open_and_sets_nothing() -> None:
    planned = {"exposure_s": 240, "reading_ev": 7}
    alone, dusk = (find("exposure.changing").ask(planned | more) for more in ({}, NOON | {"clock_hours": "19:30"}))
    assert "twilight" in codes(dusk)
    assert dusk.end_s == alone.end_s


def test_one_clock_written_in_four_ways() -> None:
    first, *others = (ask(**NOON | {"clock_hours": clock}).height_deg.value for clock in ("14:30", "14h30", "2:30 pm", 14.5))
    assert set(others) == {first}
    shifted = ask(**NOON | {"clock_hours": "16:30", "utc_offset_hours": "UTC+2"})
    assert shifted.height_deg.value == pytest.approx(first)


def test_south_and_west_are_written_with_their_letters() -> None:
    assert ask(**NOON | {"latitude_deg": "34 S", "longitude_deg": "18.5° W"}) == ask(**NOON | {"latitude_deg": -34, "longitude_deg": -18.5})


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("on_day", "31 February", "A day is needed"),
        ("on_day", "20261221", "A day is needed"),
        ("on_day", "1720-01-01", "too far off"),
        ("latitude_deg", 91, "Too large"),
        ("clock_hours", "25:10", "Too large"),
    ],
)
def test_no_such_day_place_or_hour(field: str, value: object, words: str) -> None:
    with pytest.raises(BadQuestion, match=words):
        ask(**NOON | {field: value})


@given(st.floats(0, 24), st.floats(-90, 90), st.integers(1, 12), st.sampled_from(["clear", "partly cloudy", "overcast", "dark overcast", None]))
@settings(max_examples=80)
def test_continuous_and_the_interval_holds_the_point(clock: float, latitude: float, month: int, weather: str | None) -> None:
    asked = NOON | {"on_day": f"2026-{month:02}-15", "latitude_deg": latitude, "weather": weather}
    here, near = (ask(**asked | {"clock_hours": min(24.0, clock + step)}) for step in (0, 1e-5))
    if here.ev.value is not None and near.ev.value is not None:
        assert here.ev.low < here.ev.value < here.ev.high
        assert here.ev.value == pytest.approx(near.ev.value, abs=2e-3)


def test_the_doubt_can_always_be_handed_to_the_ledger() -> None:
    """Even at dusk by a clock of which nothing is known."""
    ledger = find("exposure.ledger")
    for clock in range(25):
        told = ask(on_day="2026-12-01", clock_hours=clock, latitude_deg=60.4)
        if told.ev.value is not None:
            ledger.ask({"reading_ev": told.ev.value, "reading_sd_stops": told.reading_sd_stops.value, "aperture_f": 22})


@pytest.mark.parametrize(
    ("longitude", "offset", "fits"), [(5, 1, True), (5, -8, False), (-105, -7, True), (105, -7, False), (-157, 14, True), (76, 8, True)]
)
def test_a_clock_from_another_side_of_the_earth_is_refused_with_both_named(longitude: float, offset: float, *, fits: bool) -> None:
    given = {"on_day": "2026-06-21", "clock_hours": 12, "latitude_deg": 40, "longitude_deg": longitude, "utc_offset_hours": offset}
    if fits:
        find("exposure.daylight").ask(given)
        return
    with pytest.raises(BadQuestion) as caught:
        find("exposure.daylight").ask(given)
    (fault,) = caught.value.faults
    assert fault.field == "longitude_deg"
    assert f"UTC{offset:+g}" in fault.problem
