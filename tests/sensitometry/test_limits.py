"""Limits counted from draws: quantiles, open ends, and a shown figure that is never outside."""

import math

import numpy as np
import pytest

from silverwright.sensitometry.limits import UNKNOWN, Limits, at_least, at_most, between, seen

DRAWS = np.arange(1001) / 1000


def rounded(limits: Limits) -> tuple[float | None, ...]:
    return tuple(None if one is None else round(one, 9) for one in (limits.value, limits.low, limits.high))


def test_limits_are_the_middle_of_the_draws() -> None:
    assert rounded(between(0.5, DRAWS, 80)) == (0.5, 0.1, 0.9)
    assert rounded(between(0.5, DRAWS, 90)) == (0.5, 0.05, 0.95)


def test_a_figure_outside_widens_its_limits_and_says_so() -> None:
    found = between(0.97, DRAWS, 80)
    assert (found.high, found.widened) == (0.97, True)
    assert not between(0.89, DRAWS, 80).widened


def test_a_line_without_the_figure_shows_the_middle() -> None:
    assert between(math.nan, DRAWS, 80).value == pytest.approx(0.5)


def test_draws_without_the_figure_do_not_count() -> None:
    assert between(0.5, np.append(DRAWS, [np.nan] * 500), 80).low == pytest.approx(0.1)


def test_one_end_open() -> None:
    """80 % limits have 10 % below: the bound is that limit."""
    assert rounded(at_least(DRAWS, 80)) == (None, 0.1, None)
    assert rounded(at_most(DRAWS, 80)) == (None, None, 0.9)
    nothing = np.full(5, np.nan)
    assert (at_least(nothing, 80), at_most(nothing, 80)) == (UNKNOWN, UNKNOWN)


def test_nine_of_ten_make_an_end_seen() -> None:
    assert seen(np.array([True] * 9 + [False]))
    assert not seen(np.array([True] * 89 + [False] * 11))
