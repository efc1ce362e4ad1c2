"""The sitter's table against other published figures of people who stand quietly: none of them went into it."""

from math import log

import pytest

from silverwright.exposure.sitter import wander_mm
from silverwright.facts.load import fact
from silverwright.questions.sitter import Direction, wanders

FOOT_SPEED_MM_PER_S = (9.0, 8.7)  # santos2017, 49 people; santos2016, 163 people, young: mean speed of the pressure under the feet
YOUNG_AND_OLD = (
    (3.80, 4.89),
    (2.68, 3.73),
    (9.0, 11.0),
    (8.7, 11.3),
)  # pmid10597803: sway, lateral sway in mm; santos2017, santos2016: speeds
LATERAL_SD_MM = 2.68  # pmid10597803, lateral sway of the young in 15 s, one standard deviation
RMS_MM_PER_S: dict[Direction, float] = {"sideways": 3.2, "fore_aft": 4.6}  # computed beside the reference figures from the table's 42 trials


@pytest.mark.parametrize("time_s", [0.5, 1, 2, 4, 8, 15, 30])
def test_a_head_never_goes_as_far_as_the_path_under_the_feet(time_s: float) -> None:
    """What presses on the floor moves faster than the body; nine of ten heads stay within its path, and half of them far within beyond a second."""
    path_mm = min(FOOT_SPEED_MM_PER_S) * time_s
    sideways = wanders("sideways")
    assert wander_mm(time_s, sideways, 90) < path_mm
    assert wander_mm(time_s, sideways, 50) < path_mm / (2 if time_s > 1 else 1)


@pytest.mark.parametrize("direction", RMS_MM_PER_S)
def test_in_half_a_second_it_goes_about_as_far_as_its_speed_says(direction: Direction) -> None:
    way_mm = RMS_MM_PER_S[direction] * 0.5
    assert wander_mm(0.5, wanders(direction), 50) < way_mm < wander_mm(0.5, wanders(direction), 90)


def test_its_range_grows_roughly_with_the_time_to_0_6() -> None:
    """Median and ninetieth percentile, half a second to thirty: speed times time would overstate it."""
    sideways = wanders("sideways")
    slopes = [log(wander_mm(30, sideways, part) / wander_mm(0.5, sideways, part)) / log(60) for part in (50, 90)]
    assert sum(slopes) / 2 == pytest.approx(0.6, abs=0.05)


def test_in_fifteen_seconds_its_range_is_a_few_standard_deviations_of_published_sway() -> None:
    """End to end of a slow wander in so short a time: three to four standard deviations, as of a normal draw of ten to thirty."""
    assert 2.5 < wander_mm(15, wanders("sideways"), 50) / LATERAL_SD_MM < 4.5


def test_old_people_lie_within_the_doubt_of_the_standing() -> None:
    """Published sway and speeds of the old over those of the young: 1.22 to 1.39 times, about one standard deviation of what is left in doubt."""
    for young, old in YOUNG_AND_OLD:
        assert log(old / young) < 1.2 * fact("sitter", "standing").sd
    young, old = YOUNG_AND_OLD[0]
    assert f"{old / young:.2f} times" in fact("sitter", "standing").note
