"""The table of lights that stands beside the reference figures, line by line, and what moves it: recomputed by colour-science."""

import csv
from pathlib import Path

import pytest
from tests.exposure.test_spectra import against, offset

TABLE = Path(__file__).parents[1] / "authorities" / "light_against_meter.csv"
LINES = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
ROWS = list(csv.DictReader(LINES))
FIRST_NM, BLUE_NM = 380, 500


@pytest.mark.parametrize("what", ["blue", "ortho", "contrast"])
@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row["spectrum"]))
def test_a_line_of_the_table(row: dict[str, str], what: str) -> None:
    """Within 0.05 stop; of discharge lamps, whose lines fall between the points that are printed, within 0.10; one figure is not reached."""
    if row[what]:
        close = offset(row["spectrum"], what) == pytest.approx(float(row[what]), abs=0.10 if row["light"] == "discharge lamp" else 0.05)
        assert close is not (what == "contrast" and row["why"].startswith("disagrees")), offset(row["spectrum"], what)


@pytest.mark.parametrize(("spectrum", "at_most"), [("A", 0.06), ("D50", 0.06), ("D65", 0.06), ("D75", 0.06)])
def test_it_hardly_matters_where_the_ultraviolet_begins(spectrum: str, at_most: float) -> None:
    """From 350 nm on instead of 380: up to 0.06 stop for daylights up to 7500 K and lamps."""
    assert abs(against(spectrum, 350, BLUE_NM) - against(spectrum, FIRST_NM, BLUE_NM)) <= at_most + 0.005


def test_but_in_blue_skylight_it_does() -> None:
    """At 15 000 K: 0.16 stop."""
    sky = "D-series 15 000 K"
    assert against(sky, 350, BLUE_NM) - against(sky, FIRST_NM, BLUE_NM) == pytest.approx(0.16, abs=0.02)


@pytest.mark.parametrize(("end_nm", "stops"), [(470, -1.62), (520, -1.23)])
def test_where_blue_ends_moves_a_tungsten_lamp(end_nm: int, stops: float) -> None:
    assert against("A", FIRST_NM, end_nm) == pytest.approx(stops, abs=0.05)


def test_lamps_of_one_colour_temperature() -> None:
    """About 4000 K on the packet, and 0.6 stop apart."""
    found = [offset(spectrum, "blue") for spectrum in ("LED-B3", "FL11", "LED-V2")]
    assert max(found) - min(found) == pytest.approx(0.6, abs=0.05)


def test_the_largest_that_nobody_models() -> None:
    """A warm LED lamp: 1.9 stops for a paper that sees blue."""
    assert -offset("LED-B1", "blue") == pytest.approx(1.9, abs=0.05)
