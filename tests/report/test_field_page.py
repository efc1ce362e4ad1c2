"""The field page as a file: small, whole, asking nobody for anything, and its tables the ledger's own."""

import json
import re
from itertools import pairwise
from math import log2
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.report.kits import LEARNT, LENSES, OPEN_SHADE, kit

from silverwright.report.fieldpage import field_page
from silverwright.report.fieldtables import tables
from silverwright.report.grids import card_time, time_grid
from silverwright.report.kit import COLUMNS, Kit, Place, Taken, ask
from silverwright.report.knots import knots
from silverwright.units import SECOND

LARGEST_BYTES: Final = 300_000
PAGE: Final = field_page(kit())


def figures(page: str) -> dict[str, Any]:
    found = re.search(r'<script type="application/json" id="figures">(.*?)</script>', page, re.DOTALL)
    assert found is not None
    told: dict[str, Any] = json.loads(found[1])
    return told


def test_it_is_small_enough_with_as_many_lenses_as_go_along() -> None:
    many = [Taken(f"{focal_mm} mm lens in a leaf shutter", {"focal_mm": float(focal_mm)}) for focal_mm in range(90, 650, 70)]
    assert len(many) == 8
    assert len(PAGE.encode()) <= LARGEST_BYTES
    assert len(field_page(kit(lenses=many)).encode()) <= LARGEST_BYTES


def test_it_names_no_address_and_lets_nothing_but_itself_run() -> None:
    without_fonts = re.sub(r"data:font/woff2;base64,[A-Za-z0-9+/=]+", "", PAGE)
    assert "//" not in re.sub(r"(?m)(^|\s)// .*$", "", without_fonts), "a comment is no address"
    assert not re.search(r'(src|href|action)="', without_fonts)
    assert "default-src 'none'" in PAGE
    assert PAGE.count("sha256-") == 2


def test_what_was_typed_is_no_markup() -> None:
    name = '</script><script>alert("x")</script> & <b>$x</b>'
    made = kit(
        paper=name, lenses=[Taken(name, {"focal_mm": 210.0})], places=[Place(f"{name}/1", name)], cautions=[name], rests=name, log={"paper": name}
    )
    page = field_page(made)
    assert "<script>alert" not in page
    assert page.count("</script>") == 2
    assert figures(page)["lenses"][0]["name"] == name


def test_the_tables_that_stand_without_the_script_are_the_ledgers() -> None:
    made = kit(light="open shade")
    page = field_page(made)
    for lens in LENSES:
        grid = time_grid(made, lens)
        assert len(grid.lines) >= 8
        for line in grid.lines:
            asked = {**LEARNT, **OPEN_SHADE, **lens.fields, **line.fields} | ({} if lens.is_hole else {"aperture_f": 22.0})
            for column, time in zip(grid.columns, line.times, strict=True):
                answer = ask(asked, **column.fields).time_s
                if time is not None:
                    assert time == answer
                    assert card_time(answer.value or 0) in page
    for lens in LENSES:
        assert f"<h3>{lens.name}{'' if lens.is_hole else ', f/22'}</h3>" in page
    assert "Log by hand" in page


def test_the_log_names_what_an_exposure_asks() -> None:
    from silverwright.workshop.loglines import LogRow  # noqa: PLC0415 (it needs the book's models)

    assert set(COLUMNS) <= set(LogRow.model_fields)


def test_a_jump_in_the_ledger_is_a_narrow_one_in_the_table() -> None:
    """From one second on somebody counts: the doubt jumps there, and the table follows it."""
    law = tables(kit())["laws"][0]
    around = [row for row in law["rest"] if -0.1 < row[0] < 0.1]
    assert max(second[0] - first[0] for first, second in pairwise(around)) < 0.07
    assert law["hand"] == pytest.approx(0, abs=0.05)


def test_without_a_lens_that_is_known_the_target_tells_how_near() -> None:
    near = tables(Kit(paper="", process="", fields={}, lenses=[Taken("pinhole", {})]))["lenses"][0]["near"]
    assert set(near) == {"size", "unknown"}


@given(st.floats(0.3, 30), st.floats(1, 40))
def test_knots_follow_any_law_as_near_as_they_say(bend: float, place: float) -> None:
    """Straight lines between the knots, against the law itself."""
    rows = knots(lambda x: (bend * log2(x),), [1.0, 8.0, 40.0])
    left, right = next((first, last) for first, last in pairwise(rows) if first[0] <= place <= last[0])
    line = left[1] + (right[1] - left[1]) * (place - left[0]) / (right[0] - left[0])
    assert line == pytest.approx(bend * log2(place), abs=0.006)


@given(st.floats(0.5, 3600))
def test_a_cards_time_can_be_read_again(time_s: float) -> None:
    """Within what its last digit can say, and never more than a twentieth of a stop off from a second on."""
    again = SECOND.read(card_time(time_s))
    assert isinstance(again, float)
    assert abs(log2(again / time_s)) < 0.075
