"""What stands beside the grid for another aperture or a filter: a reading moved by it gives the time that the ledger gives for the thing itself."""

import re
from math import log2
from typing import Any

import pytest
from tests.report.kits import LENSES, kit

from silverwright.report.grids import apertures, filters
from silverwright.report.kit import Kit, ask

MADE: Kit = kit(light="open shade")


def stops(made: Kit, lens: int = 0, **more: Any) -> float:
    """The ledger's time at infinity, in stops from a second."""
    far = {"reading_ev": 8.0, "magnification_factor": 0.0, "reciprocity_model": "none", "aperture_f": made.aperture_f}
    time_s = ask({**made.fields, **LENSES[lens].fields, **far, **more}).time_s.value
    assert time_s is not None
    return log2(time_s)


def test_another_aperture() -> None:
    found = {shift.name: shift.reading_stops for shift in apertures(MADE, LENSES[0])}
    assert found["f/16"] == pytest.approx(1)
    assert found["f/32"] == pytest.approx(-1)
    for name, reading_stops in found.items():
        other = stops(MADE, aperture_f=float(name.removeprefix("f/")))
        assert stops(MADE, reading_ev=8.0 + reading_stops) == pytest.approx(other, abs=1e-3)


def test_a_filter() -> None:
    for shift in filters(MADE):
        found = re.search(r"\d+$", shift.name)
        assert found
        factor = float(found[0])
        assert shift.reading_stops == pytest.approx(-log2(factor))
        assert stops(MADE, reading_ev=8.0 + shift.reading_stops) == pytest.approx(stops(MADE, filter_factor=factor), abs=1e-3)


def test_it_is_said_in_tenths_with_its_sign() -> None:
    assert {shift.said for shift in filters(MADE)} >= {"\N{MINUS SIGN}1", "\N{MINUS SIGN}2", "\N{MINUS SIGN}3"}
