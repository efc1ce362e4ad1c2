"""The plan of a sheet under the trimmer, against a search of every plan, and against counting."""

from functools import cache
from itertools import combinations, product
from math import floor
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from silverwright.errors import OutOfRange
from silverwright.processing.corners import CORNERS, code_name, corner_codes, corners_named, half_turned
from silverwright.processing.cutparts import Part, factory_edges, parts_of, too_large_share
from silverwright.processing.cutting import cutting_of

PIECES = ((100.1, 125.5), (125.5, 176.3), (88.5, 118.5), (128.5, 178.5), (81.0, 106.4))  # what goes into the usual holders
SHEETS = ((203.2, 254.0), (240.0, 305.0), (279.4, 355.6), (304.8, 406.4), (406.4, 508.0), (177.8, 240.0))


@cache
def most_pieces(width: int, height: int, one: int, other: int) -> int:
    """Every way to cut from edge to edge, on a raster: the second route."""
    if min(width, height) < min(one, other) or max(width, height) < max(one, other):
        return 0
    found = int((width >= one and height >= other) or (width >= other and height >= one))
    for at in range(1, width // 2 + 1):
        found = max(found, most_pieces(at, height, one, other) + most_pieces(width - at, height, one, other))
    for at in range(1, height // 2 + 1):
        found = max(found, most_pieces(width, at, one, other) + most_pieces(width, height - at, one, other))
    return found


@pytest.mark.parametrize(("sheet", "piece"), list(product(SHEETS, PIECES)))
def test_no_way_to_cut_gives_more(sheet: tuple[float, float], piece: tuple[float, float]) -> None:
    """On a raster of a twelfth of the piece's short side, rounded against the plan: the raster may find as many, never more."""
    step = min(piece) / 12
    width, height = (floor(side / step) for side in sheet)
    one, other = (floor(side / step + 1e-9) for side in piece)  # the raster's pieces are not larger, its sheet not larger either
    assert cutting_of(sheet, piece).pieces >= most_pieces(width, height, one + (one < piece[0] / step), other + (other < piece[1] / step))


@settings(max_examples=60, deadline=None)
@given(st.integers(6, 26), st.integers(6, 26), st.integers(3, 9), st.integers(3, 9))
def test_whole_numbers_against_every_plan(width: int, height: int, one: int, other: int) -> None:
    ours, best = cutting_of((width, height), (one, other)).pieces, most_pieces(width, height, one, other)
    plain = max((width // a) * (height // b) for a, b in ((one, other), (other, one)))
    assert plain <= ours <= best
    assert ours >= best - 1  # two divisions miss at most one piece where nobody cuts such ratios


def overlap(one: Part, other: Part) -> bool:
    wide = min(one.left_mm + one.width_mm, other.left_mm + other.width_mm) - max(one.left_mm, other.left_mm)
    high = min(one.top_mm + one.height_mm, other.top_mm + other.height_mm) - max(one.top_mm, other.top_mm)
    return wide > 1e-6 and high > 1e-6


@settings(max_examples=100, deadline=None)
@given(st.floats(60, 400), st.floats(60, 400), st.floats(40, 200), st.floats(40, 200))
def test_parts_cover_the_sheet_once(width: float, height: float, one: float, other: float) -> None:
    cutting = cutting_of((width, height), (one, other))
    parts = parts_of(cutting)
    assert sum(part.width_mm * part.height_mm for part in parts) == pytest.approx(width * height)
    assert not any(overlap(first, second) for first, second in combinations(parts, 2))
    for part in parts:
        assert min(part.left_mm, part.top_mm) >= 0
        assert part.left_mm + part.width_mm <= width + 1e-6
        assert part.top_mm + part.height_mm <= height + 1e-6
        if part.kind == "piece":
            assert sorted((part.width_mm, part.height_mm)) == pytest.approx(sorted((one, other)))
    assert sum(part.kind == "piece" for part in parts) == cutting.pieces


def test_two_by_two_keeps_two_factory_edges_each() -> None:
    cutting = cutting_of((203.2, 254.0), (100.1, 125.5))
    pieces = [part for part in parts_of(cutting) if part.kind == "piece"]
    assert cutting.pieces == len(pieces) == 4
    assert [factory_edges(part, cutting) for part in pieces] == [2, 2, 2, 2]
    strips = sorted((round(p.width_mm, 6), round(p.height_mm, 6)) for p in parts_of(cutting) if p.kind == "strip")
    assert strips == [(3.0, 125.5), (3.0, 125.5), (203.2, 3.0)]


def test_a_sheet_too_small_is_one_strip() -> None:
    cutting = cutting_of((100, 100), (101, 50))
    assert cutting.pieces == 0
    assert parts_of(cutting) == (Part("strip", 0.0, 0.0, 100, 100),)


def test_a_side_of_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange):
        cutting_of((0, 10), (1, 1))
    with pytest.raises(OutOfRange):
        too_large_share((1, 1), (2, 2), 0)


def test_chance_against_counting() -> None:
    """A second route: 10 000 pairs of cuts laid out evenly over their chances."""
    steps = [NormalDist(0, 0.3).inv_cdf((i + 0.5) / 100) for i in range(100)]
    counted = sum(100 + a > 100.5 or 120 + b > 120.4 for a, b in product(steps, steps)) / 10_000
    assert too_large_share((100, 120), (100.5, 120.4), 0.3) == pytest.approx(counted, abs=0.005)


def test_ten_codes_and_no_two_look_alike() -> None:
    """Counting by hand: (16 + 4) / 2 ways to clip four corners up to a half turn."""
    codes = corner_codes()
    assert len(codes) == (16 + 4) / 2
    looks = [{code, half_turned(code)} for code in codes]
    assert all(not one & other for one, other in combinations(looks, 2))
    assert set.union(*looks) == {frozenset(c) for many in range(5) for c in combinations(CORNERS, many)}


def test_a_code_is_read_by_its_name() -> None:
    names = [code_name(code) for code in corner_codes()]
    assert len(set(names)) == len(names)
    assert [corners_named(name) for name in names] == list(corner_codes())
    assert corners_named("the middle") is None
    assert names[0] == "upper left"
