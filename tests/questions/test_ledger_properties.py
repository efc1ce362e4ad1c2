"""What holds of every exposure, whatever is typed: limits hold the point, lines add up, and nothing jumps."""

from collections.abc import Mapping
from math import hypot, log2
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from silverwright.errors import BadQuestion
from silverwright.questions.ledger import LEDGER, LedgerAnswer

NUDGE = 1e-7  # of each number that was typed
STEEPEST = 40  # stops of time for the natural logarithm of an input: a bellows near the subject, times reciprocity


SCENES = st.fixed_dictionaries(
    {
        "reading_ev": st.floats(-3, 16),
        "aperture_f": st.floats(3, 90),
        "aperture_scale": st.just("exact"),  # a mark stands for a number of its series: there it may jump
    },
    optional={
        "meter_k": st.floats(10.6, 14),
        "reading_sd_stops": st.floats(0, 1),
        "reading_tone": st.sampled_from(["mid-grey", "skin", "highlight with texture", "shadow with detail"]),
        "light_class": st.sampled_from(["unknown", "direct sun", "north window", "tungsten lamp", "LED lamp", "flash"]),
        "sensitivity": st.sampled_from(["unknown", "blue", "ortho"]),
        "focal_mm": st.floats(90, 400),
        "extension_mm": st.floats(90, 900),
        "subject_mm": st.floats(450, 50_000),
        "pupil_factor": st.floats(0.6, 1.6),
        "magnification_factor": st.floats(0.001, 2),
        "filter_factor": st.floats(1, 64),
        "turned": st.sampled_from(["no", "mirror or prism"]),
        "exponent_factor": st.floats(1, 1.4),
        "paper_ei": st.floats(0.1, 20),
        "paper_ei_sd_stops": st.floats(0, 2),
        "bracket_sheets": st.sampled_from(["1", "2", "3"]),
    },
)


def asked(scene: Mapping[str, Any]) -> LedgerAnswer | None:
    """The answer, or nothing where what was typed contradicts itself."""
    try:
        answer = LEDGER.ask(scene)
    except BadQuestion:
        return None
    assert isinstance(answer, LedgerAnswer)
    return answer


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(SCENES)
def test_limits_hold_the_point_and_the_lines_are_the_whole(scene: dict[str, Any]) -> None:
    if (answer := asked(scene)) is None:
        return
    for name in ("time_s", "before_s", "bellows_stops", "reciprocity_stops", "total_stops"):
        estimate = getattr(answer, name)
        assert estimate.low <= estimate.value <= estimate.high, name
    whole = sum(line.amount for line in answer.ledger)
    assert log2(answer.time_s.value or 0) == pytest.approx(whole, abs=1e-9)
    assert answer.doubt_stops.value == pytest.approx(hypot(*(line.doubt for line in answer.ledger)), abs=1e-9)
    assert list(answer.chance_percent) == sorted(answer.chance_percent)
    assert all(0 <= chance <= 100 for chance in answer.chance_percent)


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(SCENES, st.data())
def test_a_hair_more_of_anything_is_a_hair_more_time(scene: dict[str, Any], data: st.DataObject) -> None:
    if (answer := asked(scene)) is None:
        return
    numbers = sorted(name for name, value in scene.items() if isinstance(value, float))
    name = data.draw(st.sampled_from(numbers))
    if (other := asked(scene | {name: scene[name] * (1 + NUDGE) + NUDGE})) is None:
        return
    moved = abs(log2((other.time_s.value or 0) / (answer.time_s.value or 1)))
    assert moved < STEEPEST * NUDGE * (1 + abs(scene[name])), f"{name} at {scene[name]}"


@settings(max_examples=100, deadline=None)
@given(SCENES, st.floats(0.01, 3))
def test_what_nobody_is_sure_of_only_widens(scene: dict[str, Any], more: float) -> None:
    """A reading that is less sure moves nothing but the limits, and those outward."""
    surer, unsure = asked(scene | {"reading_sd_stops": 0.0}), asked(scene | {"reading_sd_stops": min(3.0, more)})
    if surer is None or unsure is None:
        return
    assert unsure.time_s.value == pytest.approx(surer.time_s.value)
    assert (unsure.doubt_stops.value or 0) > (surer.doubt_stops.value or 0)
