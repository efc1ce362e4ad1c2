"""Certified fits: NIST's Rat42 (logistic) and Rat43 (Richards), from both starts, by our shapes and our own minimum search."""

import re
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest

from silverwright.sensitometry.fit import refine
from silverwright.sensitometry.shapes import LOGISTIC, RICHARDS

FOLDER = Path(__file__).parents[1] / "authorities" / "nist"
DIGITS = 6


class Certified(NamedTuple):
    """A data set as it is printed: two starts and the certified value of each parameter, the residual sum of squares, the readings."""

    starts: tuple[list[float], list[float]]
    values: list[float]
    squares: float
    y: np.ndarray
    x: np.ndarray


def certified(name: str) -> Certified:
    text = (FOLDER / f"{name}.dat").read_text(encoding="ascii")
    rows = [
        [float(one) for one in row[1:]]
        for row in re.findall(r"^\s*b\d =\s+(\S+)\s+(\S+)\s+(\S+)\s+\S+\s*$", text, re.MULTILINE)
        for row in [("", *row)]
    ]
    squares = re.search(r"Residual Sum of Squares:\s+(\S+)", text)
    assert squares
    table = [[float(one) for one in line.split()] for line in text[text.rindex("Data:") :].splitlines()[1:] if line.strip()]
    y, x = np.array(table).T
    first, second, values = (list(column) for column in zip(*rows, strict=True))
    return Certified((first, second), values, float(squares[1]), y, x)


def logistic_theta(b1: float, b2: float, b3: float) -> np.ndarray:
    """b1 / (1 + e^(b2 - b3 x)) as Dmin (held at 0), ln DN, x0, ln k; our parameters are free without bounds."""
    return np.array([np.log(b1), b2 / b3, np.log(b3)])


@pytest.mark.parametrize("start", [0, 1])
@pytest.mark.parametrize("name", ["Rat42", "Rat43"])
def test_certified_to_six_digits(name: str, start: int) -> None:
    data = certified(name)
    shape = LOGISTIC if name == "Rat42" else RICHARDS

    def missed(free: np.ndarray) -> np.ndarray:
        return np.asarray(shape.density(np.concatenate([[0.0], free]), data.x, 1.0) - data.y)

    b = data.starts[start]
    begin = logistic_theta(*b[:3]) if name == "Rat42" else np.append(logistic_theta(*b[:3]), -np.log(b[3]))
    found = refine(missed, begin)
    k = np.exp(found[2])
    values = [np.exp(found[0]), found[1] * k, k] + ([np.exp(-found[3])] if name == "Rat43" else [])
    assert values == pytest.approx(data.values, rel=0.5 * 10**-DIGITS)
    assert float((missed(found) ** 2).sum()) == pytest.approx(data.squares, rel=10**-9)


def test_the_files_are_whole() -> None:
    """Counted in the files themselves: 9 and 15 observations, 3 and 4 parameters."""
    assert [(len(certified(name).x), len(certified(name).values)) for name in ("Rat42", "Rat43")] == [(9, 3), (15, 4)]
