"""Measured optical densities from a public collection, fitted by our logistic: the coefficients that were published with them."""

import csv
from pathlib import Path

import numpy as np
import pytest

from silverwright.sensitometry.fit import refine
from silverwright.sensitometry.shapes import LOGISTIC

TABLE = Path(__file__).parents[1] / "authorities" / "optical_density_dnase.csv"
SEARCH = 1e-5  # wider than half a digit: the search that was published ends where a step gains less than this
ASYM, XMID, SCAL, RESIDUAL_SD = 2.34518, 1.48309, 1.04146, 0.01919  # as printed; the file says where
FOUR: tuple[float, ...] = (-0.007897, 2.377239, 1.507403, 1.062579)  # lower end, upper end, middle, scale, as printed
FOUR_RESIDUAL_SD = 0.01981


def readings() -> tuple[np.ndarray, np.ndarray]:
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    return np.log([float(row["concentration"]) for row in rows]), np.array([float(row["density"]) for row in rows])


@pytest.mark.parametrize("start", [(1.0, 0.0, 1.0), (3.0, 3.0, 0.5)])
def test_the_published_fit(start: tuple[float, float, float]) -> None:
    x, density = readings()

    def missed(free: np.ndarray) -> np.ndarray:
        return np.asarray(LOGISTIC.density(np.concatenate([[0.0], free]), x, 1.0) - density)

    asym, middle, scale = start
    found = refine(missed, np.array([np.log(asym), middle, -np.log(scale)]))
    assert np.exp(found[0]) == pytest.approx(ASYM, abs=SEARCH)
    assert found[1] == pytest.approx(XMID, abs=SEARCH)
    assert np.exp(-found[2]) == pytest.approx(SCAL, abs=SEARCH)
    assert np.sqrt((missed(found) ** 2).sum() / (len(x) - 3)) == pytest.approx(RESIDUAL_SD, abs=SEARCH)


@pytest.mark.parametrize("start", [(0.0, 1.0, 0.0, 1.0), (0.3, 3.0, 3.0, 0.5)])
def test_the_published_fit_with_a_lower_end(start: tuple[float, float, float, float]) -> None:
    """All four figures of our S, its lower end too."""
    x, density = readings()

    def missed(theta: np.ndarray) -> np.ndarray:
        return np.asarray(LOGISTIC.density(theta, x, 1.0) - density)

    low, net, middle, scale = start
    low, net, middle, slope = refine(missed, np.array([low, np.log(net), middle, -np.log(scale)]))
    assert (low, low + np.exp(net), middle, np.exp(-slope)) == pytest.approx(FOUR, abs=SEARCH)
    assert np.sqrt((missed(np.array([low, net, middle, slope])) ** 2).sum() / (len(x) - 4)) == pytest.approx(FOUR_RESIDUAL_SD, abs=SEARCH)
