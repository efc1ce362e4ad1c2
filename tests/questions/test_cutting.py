"""The cutting plan as a photographer asks for it, and the size of a sheet as people write it."""

from math import sqrt
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.api import ask
from silverwright.asking.operation import EIGHTY_PERCENT_SD
from silverwright.errors import BadQuestion
from silverwright.notes import Note
from silverwright.questions.cutting import CuttingAnswer
from silverwright.questions.sheetsize import known_size, sheet_size


def cut(**given: object) -> CuttingAnswer:
    answer = ask("paper.cutting", **({"sheet_size": "8x10 in", "holder_size": "4x5 in"} | given))
    assert isinstance(answer, CuttingAnswer)
    return answer


def refused(**given: object) -> dict[str, str]:
    with pytest.raises(BadQuestion) as bad:
        cut(**given)
    return {fault.field: fault.problem for fault in bad.value.faults}


def test_two_sheets_make_eight() -> None:
    """4 in is 101.6 mm, 5 in 127 mm; both a millimetre and a half smaller."""
    answer = cut(sheets_to_cut=2)
    assert (answer.piece_width_mm.value, answer.piece_height_mm.value) == pytest.approx((100.1, 125.5))
    assert (answer.pieces_each.value, answer.sheets.value, answer.pieces.value) == (4, 2, 8)
    assert answer.paper_used_percent.value == pytest.approx(100 * 4 * 100.1 * 125.5 / (203.2 * 254))
    assert answer.piece_width_mm.high == pytest.approx(100.1 + EIGHTY_PERCENT_SD * 0.3)
    assert list(answer.edges[:4]) == [2, 2, 2, 2]
    assert answer.cautions[0].note == Note.BLADE_IN_THE_DARK
    assert "126" not in " ".join(answer.cuts)
    assert answer.cuts[0] == "Stop at 125.5\N{NO-BREAK SPACE}mm, cut 2\N{NO-BREAK SPACE}bands of 203.2 x 125.5\N{NO-BREAK SPACE}mm."


def test_eight_pieces_need_two_sheets() -> None:
    assert cut(pieces_wanted=8).sheets.value == 2
    assert cut(pieces_wanted=9).sheets.value == 3
    short = cut(pieces_wanted=9, sheets_to_cut=2)
    sentence = next(one.sentence for one in short.notes if one.note == Note.TOO_FEW_PIECES)
    assert "1 fewer" in sentence
    assert "3\N{NO-BREAK SPACE}sheets" in sentence


def test_a_measured_opening_tells_how_often_a_piece_sticks() -> None:
    answer = cut(opening_size="126.5 x 101.2 mm")
    assert answer.piece_width_mm.value == pytest.approx(100.2)
    assert answer.too_large_percent is not None
    chance = 1 - NormalDist(0, sqrt(0.3**2 + 0.3**2)).cdf(1) ** 2
    assert answer.too_large_percent.value == pytest.approx(100 * chance)
    assert (answer.too_large_percent.low or 0) < 100 * chance < (answer.too_large_percent.high or 0)
    assert Note.OPENING_NOT_MEASURED not in {one.note for one in answer.notes}
    assert cut().too_large_percent is None
    assert Note.OPENING_NOT_MEASURED in {one.note for one in cut().notes}


@given(st.floats(0, 2), st.floats(100.2, 103))
def test_limits_hold_the_point(trim_mm: float, opening_mm: float) -> None:
    told = cut(opening_size=f"{opening_mm:.3f} x 127 mm", trim_mm=trim_mm).too_large_percent
    assert told is not None
    assert 0 <= (told.low or 0) <= (told.value or 0) <= (told.high or 0) <= 100


def test_a_strip_worth_keeping_is_named() -> None:
    strips = cut(holder_size="5x7 in").strips
    assert "26.9 x 254" in strips[0]
    assert "test strips and chips" in strips[0]
    assert "too narrow" in strips[1]


def test_an_odd_trim_is_said_not_refused() -> None:
    assert Note.TRIM_UNUSUAL in {one.note for one in cut(trim_mm=4).notes}
    assert Note.TRIM_UNUSUAL not in {one.note for one in cut(trim_mm=1).notes}


def test_every_fault_at_once() -> None:
    faults = refused(sheet_size="6x7", holder_size="a big one", sheets_to_cut=1.5, trim_mm=-1)
    assert set(faults) == {"sheet_size", "holder_size", "sheets_to_cut", "trim_mm"}
    assert "inches or in centimetres" in faults["sheet_size"]


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"holder_size": "8x10 in", "sheet_size": "4x5 in"}, "sheet_size", "take a larger sheet"),
        ({"opening_size": "90 x 120 mm"}, "opening_size", "far from"),
        ({"trim_mm": 20, "holder_size": "20 x 30 mm"}, "trim_mm", "Nothing is left"),
        ({"holder_size": "10 x 12 mm", "sheet_size": "50x60 cm"}, "sheet_size", "over 400 pieces"),
        ({"sheet_size": "8 in"}, "sheet_size", "8x10 in"),
        ({"sheet_size": "8x1000 in"}, "sheet_size", "10\N{NO-BREAK SPACE}mm to 1600"),
        ({"sheet_size": "8x-10 in"}, "sheet_size", "no side"),
        ({"sheet_size": "eight x ten in"}, "sheet_size", "not a side"),
    ],
)
def test_refused_in_words(given: dict[str, object], field: str, words: str) -> None:
    assert words in refused(**given)[field]


@pytest.mark.parametrize(
    ("written", "short_mm", "long_mm"),
    [
        ("8x10", 203.2, 254.0),
        ("10 x 8 in", 203.2, 254.0),
        ("9x12", 90, 120),
        ("12 × 9", 90, 120),
        ("24 by 30,5 cm", 240, 305),
        ('4x5"', 101.6, 127),
        ("8 in x 10 in", 203.2, 254.0),
        ("4 1/4 x 3 1/4 in", 82.55, 107.95),
    ],
)
def test_sizes_as_people_write_them(written: str, short_mm: float, long_mm: float) -> None:
    size = sheet_size(written)
    assert (size.short_mm, size.long_mm) == pytest.approx((short_mm, long_mm))


def test_what_cannot_be_read_is_nothing() -> None:
    assert known_size("") is None
    assert known_size("whole plate") is None
