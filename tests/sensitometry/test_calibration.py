"""Do limits of 90 % hold 90 % of the time? Truth drawn from the stated prior, simulated apart from the engine, counted."""

from math import sqrt

import pytest
from tests.sensitometry.calibration import CELLS, count

SHEETS = 400
SHARE = 0.90
ERRORS = 3
WRONG_SHARE = 0.80


def error(there: int) -> float:
    """Standard error of the share, were the limits right."""
    return sqrt(SHARE * (1 - SHARE) / there)


@pytest.mark.slow
@pytest.mark.parametrize("patches", [21, 12, 7])
def test_limits_hold_as_often_as_they_say(patches: int) -> None:
    """Every figure within three standard errors of 90 % where both ends are known; a bound at least as often."""
    found = count(range(SHEETS), patches)
    shares = {key: held / there for key, (held, there) in found.items()}
    for cell in CELLS:
        there = found["engine", cell][1]
        assert there >= SHEETS / 6, f"{cell} was seldom within the patches; nothing is proved"
        assert shares["engine", cell] == pytest.approx(SHARE, abs=ERRORS * error(there)), cell
        open_end = ("engine", f"{cell}, one end open")
        if open_end in found:
            assert shares[open_end] >= SHARE - ERRORS * error(found[open_end][1]), open_end
    assert min(shares["one mode", cell] for cell in CELLS) < SHARE - ERRORS * error(SHEETS), "one mode alone should be caught"
    assert min(shares["least squares", cell] for cell in CELLS) < WRONG_SHARE, "a plain logistic should be caught"
