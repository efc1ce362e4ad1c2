"""Of what is told of a lens, eight of ten limits hold the truth: lenses drawn from what is said to be unsure, measured with errors, counted."""

from collections.abc import Callable, Mapping
from math import exp, log, log2
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from silverwright.asking.operation import Estimate
from silverwright.questions.bellows import BELLOWS
from silverwright.questions.opening import OPENING
from silverwright.questions.sharpness import SHARPNESS

LENSES = 400
THREE_ERRORS = 0.06  # three standard errors of a share of 0.8 in 400
F = 210.0


def by_extension(m: float, chance: Random) -> dict[str, float]:
    return {"extension_mm": F * (1 + m) + chance.gauss(0, 5)}


def by_target(m: float, chance: Random) -> dict[str, float]:
    return {"target_mm": 200, "target_image_mm": m * (200 + chance.gauss(0, 0.3)) + chance.gauss(0, 0.5)}


def by_distance(m: float, chance: Random) -> dict[str, float]:
    return {"subject_mm": F * (1 + 1 / m) * (1 + chance.gauss(0, 0.03))}


def by_glass(m: float, chance: Random) -> dict[str, Any]:
    return {"subject_mm": F * (2 + m + 1 / m) * (1 + chance.gauss(0, 0.03)), "distance_from": "ground glass"}


def by_rail(m: float, chance: Random) -> dict[str, float]:
    infinity = F - 7 + chance.gauss(0, 1)
    return {"infinity_extension_mm": infinity, "extension_mm": F - 7 + F * m + chance.gauss(0, 1)}


def by_sizes(m: float, chance: Random) -> dict[str, float]:
    return {"image_size_mm": 60 * m * (1 + chance.gauss(0, 0.03)), "subject_size_mm": 60}


def holds(estimate: Estimate | None, truth: float) -> bool:
    assert estimate is not None
    return (estimate.low is None or estimate.low <= truth) and (estimate.high is None or truth <= estimate.high)


@pytest.mark.parametrize("way", [by_extension, by_target, by_distance, by_glass, by_rail, by_sizes])
@pytest.mark.parametrize("kind", ["ordinary lens", "telephoto lens", "simple lens"])
def test_eight_of_ten_bellows_limits_hold_the_light(way: Callable[[float, Random], Mapping[str, float]], kind: str) -> None:
    """Pupils as unlike as they are said to be, rulers as unsure: the true (1 + m/P)² against the limits."""
    if kind == "telephoto lens" and way in {by_extension, by_distance, by_glass}:
        return  # they say nothing there
    chance, inside = Random(f"{way.__name__} {kind}"), 0
    middle, spread = {"ordinary lens": (1.0, 0.136), "telephoto lens": (0.65, 0.16), "simple lens": (1.0, 0.175)}[kind]
    for _ in range(LENSES):
        m, pupil = chance.uniform(0.1, 0.5 if way is by_glass else 1.0), middle * exp(chance.gauss(0, spread))
        told = BELLOWS.ask({"camera_kind": kind, "focal_mm": F, **way(m, chance)})
        inside += holds(told.bellows_stops, 2 * log2(1 + m / pupil))
    assert inside / LENSES == pytest.approx(0.8, abs=THREE_ERRORS)


def test_eight_of_ten_limits_of_what_is_sharp_hold_the_truth() -> None:
    """Opening, magnification and pupils drawn; near and far by the usual formula in distances, where pupils are equal."""
    chance, near_in, far_in = Random(11), 0, 0
    for _ in range(LENSES):
        m, opened = chance.uniform(0.05, 0.5), 22.627 * 2 ** (chance.gauss(0, 0.1) / 2)
        told = SHARPNESS.ask({"focal_mm": F, "magnification_factor": m * (1 + chance.gauss(0, 0.03)), "pupil_factor": 1, "aperture_f": "f/22"})
        u, reach = F * (1 + 1 / m), F * F / (opened * 0.1)
        near_in += holds(told.near_sharp_mm, reach * u / (reach + u - F))
        far_in += holds(told.far_sharp_mm, reach * u / (reach - u + F))
    assert near_in / LENSES == pytest.approx(0.8, abs=THREE_ERRORS)
    assert far_in / LENSES == pytest.approx(0.8, abs=THREE_ERRORS)


def test_eight_of_ten_openings_by_hand_hold_what_was_given() -> None:
    chance, inside = Random(3), 0
    for _ in range(LENSES):
        times = [chance.uniform(2, 10) for _ in range(4)]
        told = OPENING.ask({"aperture_f": 16, "openings": [{"opening_s": one} for one in times], "reciprocity_model": "none"})
        inside += holds(told.added_s, sum(one + chance.gauss(0, 0.2) for one in times))
    assert inside / LENSES == pytest.approx(0.8, abs=THREE_ERRORS)


@given(st.floats(60, 600), st.floats(1.02, 3), st.floats(1e-6, 1e-4))
def test_the_bellows_are_continuous_in_every_measure(focal_mm: float, times: float, step: float) -> None:
    ways: list[dict[str, Any]] = [
        {"extension_mm": focal_mm * times},
        {"subject_mm": focal_mm * times / (times - 1)},
        {"target_mm": 200, "target_image_mm": 200 * (times - 1)},
        {"infinity_extension_mm": focal_mm - 20, "extension_mm": focal_mm * times - 20},
    ]
    for way in ways:
        name = list(way)[-1]
        one, other = (BELLOWS.ask({"focal_mm": focal_mm, **way, name: way[name] * grown}).bellows_stops for grown in (1.0, 1.0 + step))
        assert one.value is not None
        assert other.value is not None
        assert abs(one.value - other.value) < 120 * step + 1e-12
        assert holds(one, one.value)


def test_the_doubt_of_unknown_pupils_is_that_of_their_spread() -> None:
    """By draws instead of slopes: the standard deviation of 2 log2(1 + m/P) over the pupils that are said to be."""
    chance = Random(2)
    for m in (0.1, 0.5, 1.0):
        draws = [2 * log2(1 + m / exp(chance.gauss(0, log(1.25) / 1.645))) for _ in range(4000)]
        mean = sum(draws) / len(draws)
        sd = (sum((one - mean) ** 2 for one in draws) / len(draws)) ** 0.5
        told = (
            BELLOWS.ask({"magnification_factor": m}).ledger[0].doubt ** 2
            - BELLOWS.ask({"magnification_factor": m, "pupil_factor": 1}).ledger[0].doubt ** 2
        )
        assert told**0.5 == pytest.approx(sd, rel=0.05)
