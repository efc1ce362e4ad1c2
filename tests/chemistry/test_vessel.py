"""Trays, tanks and drums: volumes by a second route, what fits, what is refused."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.chemistry.vessel import drum_ml, spare_in_drum_mm, spare_mm, tray_depth_mm, tray_ml, tray_volume_sd_ml
from silverwright.errors import BadQuestion, OutOfRange
from silverwright.questions.vessel import VESSEL

LENGTHS = st.floats(1, 3000)


def test_a_litre_is_a_cube_of_ten_centimetres() -> None:
    assert tray_ml(100, 100, 100) == pytest.approx(1000)


def test_an_inch_of_water_in_an_8x10_tray() -> None:
    """Second route: 80 cubic inches of 16.387064 mL each."""
    assert tray_ml(10 * 25.4, 8 * 25.4, 25.4) == pytest.approx(80 * 16.387064)


@given(LENGTHS, LENGTHS, LENGTHS)
def test_depth_and_volume_are_one_relation(length_mm: float, width_mm: float, depth_mm: float) -> None:
    assert tray_depth_mm(tray_ml(length_mm, width_mm, depth_mm), length_mm, width_mm) == pytest.approx(depth_mm)


@given(LENGTHS, LENGTHS, st.floats(0.1, 100), st.floats(0, 3), st.floats(0, 3))
def test_the_doubt_is_that_of_its_factors(length_mm: float, width_mm: float, depth_mm: float, depth_sd_mm: float, side_sd_mm: float) -> None:
    """Second route: relative doubts added as squares."""
    share = (depth_sd_mm / depth_mm) ** 2 + (side_sd_mm / length_mm) ** 2 + (side_sd_mm / width_mm) ** 2
    found = tray_volume_sd_ml(length_mm, width_mm, depth_mm, depth_sd_mm, side_sd_mm)
    assert found == pytest.approx(tray_ml(length_mm, width_mm, depth_mm) * share**0.5)


def test_a_sheet_lies_either_way_round() -> None:
    assert spare_mm((254, 203), (250, 300)) == spare_mm((203, 254), (300, 250)) == pytest.approx(23)
    assert spare_mm((254, 203), (253, 400)) == pytest.approx(25)
    assert spare_mm((254, 203), (190, 400)) < 0


def test_a_sheet_bends_around_a_drum_without_lapping() -> None:
    around_mm = pi * 95
    assert spare_in_drum_mm((203, 254), 95, 260) == pytest.approx(min(around_mm - 254, 260 - 203) / 2)
    assert spare_in_drum_mm((203, 254), 60, 260) < 0  # 188 mm around


def test_a_drum_goes_by_the_area() -> None:
    assert drum_ml(0.203 * 0.254, 1500) == pytest.approx(0.15 * 20.3 * 25.4)


@pytest.mark.parametrize(
    "call", [lambda: tray_ml(-1, 1, 1), lambda: tray_depth_mm(1, 0, 1), lambda: drum_ml(-1, 1), lambda: spare_mm((-1, 1), (1, 1))]
)
def test_what_is_below_nothing_is_refused(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]


def test_a_line_of_trays_at_the_usual_depth() -> None:
    """Common practice, 10 to 15 mm deep: 300 x 250 mm are 750 to 1125 mL, as the two depths give."""
    told = VESSEL.ask({"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250, "vessels": 4})
    assert (told.one_ml.low, told.one_ml.value, told.one_ml.high) == pytest.approx((750, 937.5, 1125), abs=2)
    assert told.all_ml.value == pytest.approx(4 * 937.5)
    assert told.notes[0].note == "depth-usual"


def test_vessels_alike_are_wrong_alike() -> None:
    told = VESSEL.ask({"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250, "vessels": 4})
    assert told.all_ml.low == pytest.approx(4 * (told.one_ml.low or 0))


@pytest.mark.parametrize(("width_mm", "tight"), [(210, True), (250, False)])
def test_a_tray_with_no_room_for_a_finger_says_so(width_mm: float, tight: bool) -> None:  # noqa: FBT001 (a parameter of the test)
    told = VESSEL.ask({"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": width_mm, "sheet": "8x10 in"})
    assert ("vessel-tight" in {one.note for one in told.notes}) is tight
    assert told.spare_mm == pytest.approx(min((width_mm - 203.2) / 2, (300 - 254) / 2))


def test_a_measured_depth_narrows_the_limits() -> None:
    tray = {"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250}
    wide, narrow = VESSEL.ask(tray).one_ml, VESSEL.ask({**tray, "depth_mm": 12.5}).one_ml
    assert (narrow.high or 0) - (narrow.low or 0) < 0.1 * ((wide.high or 0) - (wide.low or 0))


def test_a_slot_stands_the_sheet_under_the_liquid() -> None:
    told = VESSEL.ask({"vessel": "slot tank", "inside_width_mm": 215, "inside_height_mm": 290, "slot_mm": 18, "sheet": "8x10 in"})
    assert told.stands_mm.value == pytest.approx(254 + 10)
    assert told.one_ml.value == pytest.approx(18 * 215 * 264 / 1000)
    lying = VESSEL.ask({"vessel": "slot tank", "inside_width_mm": 300, "inside_height_mm": 290, "slot_mm": 18, "sheet": "8x10 in"})
    assert lying.stands_mm.value == pytest.approx(203.2 + 10)


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({}, "vessel", "Needed. Choose one of"),
        ({"vessel": "tray"}, "inside_length_mm", "Needed for a tray"),
        ({"vessel": "slot tank", "inside_width_mm": 215, "inside_height_mm": 290}, "slot_mm", "Needed for a slot tank"),
        ({"vessel": "drum", "inside_length_mm": 260, "diameter_mm": 95}, "sheet", "goes by the area"),
        (
            {"vessel": "tray", "inside_length_mm": 240, "inside_width_mm": 200, "sheet": "8x10 in"},
            "sheet",
            "8x10 in is 14\N{NO-BREAK SPACE}mm too large",
        ),
        ({"vessel": "drum", "inside_length_mm": 260, "diameter_mm": 60, "sheet": "8x10 in"}, "sheet", "too small"),
        ({"vessel": "slot tank", "inside_width_mm": 210, "inside_height_mm": 255, "slot_mm": 18, "sheet": "8x10 in"}, "sheet", "too small"),
        ({"vessel": "tray", "inside_length_mm": 300, "inside_width_mm": 250, "inside_height_mm": 20}, "inside_height_mm", "over the edge"),
        (
            {"vessel": "box camera tray", "inside_length_mm": 190, "inside_width_mm": 140, "inside_height_mm": 20, "depth_mm": 15},
            "inside_height_mm",
            "over the edge",
        ),
    ],
)
def test_what_does_not_go_is_refused_with_what_to_do(typed: dict[str, object], field: str, words: str) -> None:
    with pytest.raises(BadQuestion) as refused:
        VESSEL.ask(typed)
    assert words in next(fault.problem for fault in refused.value.faults if fault.field == field)
