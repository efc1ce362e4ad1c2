"""A smooth line through points that never turns back where they do not, and how well it foretells a point that is left out."""

from typing import Final

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

STEEPEST_END: Final = 3  # source: fritsch1984, an end may be three times as steep as its first piece and still not turn back


def line_at(x: Array, y: Array, places: Array) -> Array:
    """
    Where a monotone line through these points lies at other places.

    Cubic pieces y = h00 y0 + h10 h m0 + h01 y1 + h11 h m1; beyond the ends a straight line as steep as the last two pieces on average

    Args:
        x: Places of the points, rising. [any] n >= 3
        y: Their values. [any]
        places: Where the line is wanted. [as x]

    Returns:
        The line there. [as y] Uncertainty: that of the points, and the freedom of what lies between them.

    Source:
        fritsch1984, from memory, unverified.
    """
    return np.asarray(_lines_at(x[None, :], y[None, :], places[None, :])[0])


def line_slope(x: Array, y: Array, x_value: float) -> float:
    """
    How steep that line is at one place.

    y' = (6t^2 - 6t)(y0 - y1)/h + (3t^2 - 4t + 1) m0 + (3t^2 - 2t) m1, t from 0 to 1 along the piece

    Args:
        x: Places of the points, rising. [any] n >= 3
        y: Their values. [any]
        x_value: Where. [as x]

    Returns:
        Slope. [y over x] Uncertainty: that of the points.

    Source:
        fritsch1984, from memory, unverified.
    """
    if not x[0] <= x_value <= x[-1]:
        return float(_end_slope(x[None, :], y[None, :], last=x_value > x[-1])[0])
    piece = min(int(np.searchsorted(x, x_value, side="right")) - 1, len(x) - 2)
    wide = float(x[piece + 1] - x[piece])
    t = (x_value - float(x[piece])) / wide
    m0, m1 = _slopes(x[None, :], y[None, :])[0, piece : piece + 2]
    return float((y[piece + 1] - y[piece]) / wide * 3 * 2 * t * (1 - t) + (3 * t - 1) * (t - 1) * m0 + t * (3 * t - 2) * m1)


def misses_left_out(x: Array, y: Array) -> Array:
    """
    By how much the line misses each point when it is drawn without it.

    m_i = f_without_i(x_i) - y_i

    Args:
        x: Places of the points, rising. [any] n >= 4
        y: Their values. [any]

    Returns:
        The misses; the first and the last are drawn on beyond the rest. [as y] Uncertainty: none, they are the uncertainty.

    Source:
        our judgement.
    """
    others = np.array([[one for one in range(len(x)) if one != out] for out in range(len(x))])
    return np.asarray(_lines_at(x[others], y[others], x[:, None])[:, 0] - y)


def _lines_at(x: Array, y: Array, places: Array) -> Array:
    """Several lines at once, one in each row, each at its own places."""
    m = _slopes(x, y)
    piece = np.clip(np.sum(places[:, :, None] >= x[:, None, :], axis=2) - 1, 0, x.shape[1] - 2)
    x0, x1, y0, y1, m0, m1 = (np.take_along_axis(of, piece + add, axis=1) for of in (x, y, m) for add in (0, 1))
    wide = x1 - x0
    t = (places - x0) / wide
    inside = y0 + t * t * (3 - 2 * t) * (y1 - y0) + t * (1 - t) * ((1 - t) * m0 - t * m1) * wide
    before = y[:, :1] + _end_slope(x, y, last=False)[:, None] * (places - x[:, :1])
    after = y[:, -1:] + _end_slope(x, y, last=True)[:, None] * (places - x[:, -1:])
    return np.where(t < 0, before, np.where(t > 1, after, inside))


def _slopes(x: Array, y: Array) -> Array:
    """Slopes at the points: the weighted harmonic mean of both neighbours' slopes, none at a turn."""
    wide, rise = np.diff(x), np.diff(y) / np.diff(x)
    before, after = rise[:, :-1], rise[:, 1:]
    weight_before, weight_after = 2 * wide[:, 1:] + wide[:, :-1], wide[:, 1:] + 2 * wide[:, :-1]
    same = before * after > 0
    safe_before, safe_after = np.where(same, before, 1), np.where(same, after, 1)
    inner = np.where(same, (weight_before + weight_after) / (weight_before / safe_before + weight_after / safe_after), 0)
    first = _outer_slope(wide[:, 0], wide[:, 1], rise[:, 0], rise[:, 1])
    last = _outer_slope(wide[:, -1], wide[:, -2], rise[:, -1], rise[:, -2])
    return np.concatenate([first[:, None], inner, last[:, None]], axis=1)


def _outer_slope(wide: Array, wide_next: Array, rise: Array, rise_next: Array) -> Array:
    """Slope at an end: of the parabola through three points, held so that the line does not turn back."""
    slope = ((2 * wide + wide_next) * rise - wide * rise_next) / (wide + wide_next)
    slope = np.where(np.sign(slope) == np.sign(rise), slope, 0)
    steep = (np.sign(rise) != np.sign(rise_next)) & (np.abs(slope) > np.abs(STEEPEST_END * rise))
    return np.where(steep, STEEPEST_END * rise, slope)


def _end_slope(x: Array, y: Array, *, last: bool) -> Array:
    """How steep the last two pieces are on average."""
    near, far = (-1, -3) if last else (0, 2)
    return (y[:, near] - y[:, far]) / (x[:, near] - x[:, far])
