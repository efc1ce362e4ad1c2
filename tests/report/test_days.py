"""The days of control step sheets as a picture: where each lies, read back from what is drawn."""

import re

import pytest

from silverwright.report.days import MOST_DAYS, Day, days_drawn


def drawn(days: list[Day]) -> tuple[list[tuple[float, float]], float, dict[str, float]]:
    """Squares by their middle, where the mean lies, and the level lines by their words."""
    svg = days_drawn(days)
    squares = [(float(x), float(y)) for x, y in re.findall(r'<rect class="(?:pt|fill-ink)" x="([\d.]+)" y="([\d.]+)"', svg)]
    levels = {words: float(y) for y, words in re.findall(r'd="M64 ([\d.]+)H400"/><text[^>]*>([^<]+)<', svg)}
    return squares, levels["mean"], levels


def test_each_day_lies_where_its_stops_say() -> None:
    """A quarter of a stop slower lies on the line of that name, half of the square below its upper edge."""
    squares, mean, levels = drawn([Day("12 January", 0.25, 0.04), Day("13 January", -0.25, 0.04)])
    assert squares[0][1] + 3.5 == pytest.approx(levels["+0.25"])
    assert squares[1][1] + 3.5 == pytest.approx(levels["\N{MINUS SIGN}0.25"])
    assert levels["+0.25"] < mean < levels["\N{MINUS SIGN}0.25"], "faster is up"
    assert squares[0][0] < squares[1][0], "the newest at the right"


def test_the_doubt_is_longer_than_the_square() -> None:
    svg = days_drawn([Day("12 January", 0.2, 0.04), Day("13 January", -0.2, 0.04)])
    low, high = map(float, re.search(r'class="ink" d="M[\d.]+ ([\d.]+)V([\d.]+)', svg).groups())  # type: ignore[union-attr]
    assert high - low > 7


@pytest.mark.parametrize("count", [2, 5, 12, 40])
def test_any_number_of_days_fits(count: int) -> None:
    days = [Day(f"{number + 1} May", 0.5 - number / count, 0.04) for number in range(count)]
    squares, _, _ = drawn(days)
    assert len(squares) == min(count, MOST_DAYS)
    assert all(64 <= x <= 400 and 10 <= y <= 190 for x, y in squares)
    svg = days_drawn(days)
    assert f"{days[-1].name.split()[0]}</text>" in svg, "the newest is named"
    assert svg.count('text-anchor="middle"') <= 2 * 5
