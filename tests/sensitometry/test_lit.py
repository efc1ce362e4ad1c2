"""What sheets tell of a light: against a plain normal model written down anew, and against a simulated lamp that lies a stop off the table."""

from dataclasses import replace
from math import exp, hypot, log2
from random import Random

import numpy as np
import pytest
from tests.sensitometry.shown import GREY, STOP, believed, right_at

from silverwright.questions.believed import camera_lx_s
from silverwright.questions.next_exposure import NEXT, NextAnswer
from silverwright.sensitometry.darkroom import Conditions, Darkroom
from silverwright.sensitometry.lit import lit
from silverwright.sensitometry.next_sheet import Coming, forecast, learn

Z80 = 1.2815515655446004
SUN, LAMP = 0.05, 0.3
TABLE, OFF = -1.41, -1.0
JUDGED = 0.1
# Days, baths and lot that all share, and what each sheet has for itself, written down anew: stops.
DAY, BATCH, LOT, SHEET = 0.10, 0.15, 0.15, 0.17


def by_hand(lights: list[str], needs: list[float]) -> tuple[float, float, float, float]:
    """Paper, each sheet's speed, the next sheet's and the lamp's own offset as one normal: offset, its doubt, that of the paper, doubt of need."""
    n = len(lights)
    size = n + 3  # the paper's need, the sheets' speeds, the next sheet's speed, the lamp's offset
    words = [*lights, "lamp"]
    sds = {"sun": SUN, "lamp": LAMP}
    prior = np.zeros((size, size))
    prior[0, 0] = 1.5**2
    for i, one in enumerate(words):
        for j, other in enumerate(words):
            same_day = DAY**2 * (i == j or (i < n and j < n))
            prior[1 + i, 1 + j] = BATCH**2 + LOT**2 + same_day + (one == other) * sds[one] ** 2 + (i == j < n) * SHEET**2
        prior[1 + i, size - 1] = prior[size - 1, 1 + i] = LAMP**2 * (one == "lamp")
    prior[size - 1, size - 1] = LAMP**2
    seen = np.zeros((n, size))
    seen[:, 0] = 1
    seen[range(n), range(1, n + 1)] = -1
    gain = prior @ seen.T @ np.linalg.inv(seen @ prior @ seen.T + JUDGED**2 * np.eye(n))
    mean = gain @ (np.array(needs) - log2(1 / 2))  # EI 2 beforehand
    left = prior - gain @ seen @ prior
    need = np.zeros(size)
    need[0], need[n + 1] = 1, -1
    paper = need.copy()
    paper[-1] = 1
    return float(mean[-1]), float(left[-1, -1] ** 0.5), float((paper @ left @ paper) ** 0.5), float((need @ left @ need) ** 0.5)


@pytest.mark.parametrize("lights", [["sun"] * 4, ["sun"] * 4 + ["lamp"], ["sun"] * 4 + ["lamp"] * 4, ["lamp"] * 5])
def test_as_a_plain_normal_model_has_it(lights: list[str]) -> None:
    dice = Random(len(lights))
    needs = [-1.3 + (0.8 if one == "lamp" else 0.0) + dice.gauss(0, 0.1) for one in lights]
    sheets = tuple(Conditions(one, "day 1", "bath", class_sd_stops=SUN if one == "sun" else LAMP) for one in lights)
    seen = Darkroom(sheets, (), tuple(right_at(number, need, JUDGED) for number, need in enumerate(needs)))
    known = learn(seen, replace(believed(), scatter=replace(believed().scatter, reading_sd_stops=0.0)), 1)
    coming = Coming(Conditions("lamp", "day 2", "bath", class_sd_stops=LAMP), GREY, camera_lx_s(), 1 / 3, 0.2)
    more, sd, paper, whole = by_hand(lights, needs)
    found = lit(known, coming, 0.0, whole)
    assert found.more_stops == pytest.approx(more, abs=0.02)
    assert found.sd_stops == pytest.approx(sd, abs=0.01)
    assert found.part_stops == pytest.approx(whole * sd / hypot(sd, paper), abs=0.02)
    assert forecast(known, coming).sd_stops == pytest.approx(whole, abs=0.02)


def density(x: float) -> float:
    """A logistic, which the engine's family holds only by its power of 1; through an 18 % grey at 0."""
    return float(0.08 + 1.85 / (1 + exp(3.4 * x + 0.58)))


def world(seed: int, sun: int, lamp: int) -> list[dict[str, object]]:
    """A paper of EI 3: three metered places of each sheet; the lamp lies a stop off the table; sheets scatter by 0.17, readings by 0.1 stop."""
    dice, rows = Random(seed), []
    for number in range(sun + lamp):
        light, table, true = ("direct sun", 0.0, 0.0) if number < sun else ("tungsten lamp", TABLE, TABLE + OFF)
        speed = dice.gauss(0, SHEET)
        for _ in range(3):
            x = dice.uniform(-0.6, 0.6)
            metered = np.log10(camera_lx_s() / 3) + x - (true + speed + dice.gauss(0, 0.1)) * STOP
            shared = {"light": light, "light_stops": table, "day": f"2026-01-{number // 2 + 1:02}", "batch": "A", "lot": "box A"}
            read = density(x) + dice.gauss(0, 0.01)
            rows.append({"sheet": f"{number}", "kind": "scene patch", "exposure_log10": float(metered), "time_s": 3, "density": read, **shared})
    return rows


def asked(rows: list[dict[str, object]]) -> NextAnswer:
    return NEXT.ask({"evidence": rows, "light": "tungsten lamp", "light_stops": TABLE, "day": "2026-02-01", "batch": "A", "lot": "box A"})


def offset(answer: NextAnswer) -> tuple[float, float]:
    """What the paper gets of the lamp, and half the width of its limits."""
    found = answer.light_offset_stops
    assert found is not None
    assert found.value is not None
    assert found.low is not None
    assert found.high is not None
    return found.value, (found.high - found.low) / 2


def test_five_sheets_find_a_lamp_that_is_a_stop_off_the_table() -> None:
    found = [offset(asked(world(seed, 5, 5))) for seed in range(10)]
    assert abs(sum(value for value, _ in found) / 10 - (TABLE + OFF)) < 0.3
    assert sum(abs(value - (TABLE + OFF)) < 0.3 for value, _ in found) >= 8
    assert all(half < 0.3 for _, half in found)


def test_one_sheet_leans_on_the_table_and_none_is_the_table() -> None:
    none, _ = offset(asked(world(1, 5, 0)))
    assert none == pytest.approx(TABLE, abs=0.01)
    after_one = [offset(asked(world(seed, 5, 1)))[0] for seed in range(5)]
    five = [offset(asked(world(seed, 5, 5)))[0] for seed in range(5)]
    assert all(TABLE + OFF < value < TABLE for value in after_one)
    assert sum(after_one) > sum(five) + 0.3, "one leans more"


def test_both_parts_together_are_the_whole_doubt() -> None:
    for lamps in (0, 1, 5):
        answer = asked(world(2, 3, lamps))
        assert answer.light_part_stops is not None
        assert answer.ei_part_stops is not None
        parts = (answer.light_part_stops.value or 0, answer.ei_part_stops.value or 0)
        assert hypot(*parts) == pytest.approx(answer.sd_stops.value, abs=1e-9)


def test_where_all_lay_in_one_light_the_time_is_as_it_was_without_the_table() -> None:
    """The table moves the EI and the light against each other; of the time only the doubt of the class is changed."""
    rows = world(3, 0, 4)
    plain = [{name: value for name, value in row.items() if name != "light_stops"} for row in rows]
    asking = {"light": "tungsten lamp", "day": "2026-02-01", "batch": "A", "lot": "box A", "at_ei_one_s": 40}
    by_table, by_itself = NEXT.ask({"evidence": rows, "light_stops": TABLE, **asking}), NEXT.ask({"evidence": plain, **asking})
    assert by_table.time_s is not None
    assert by_itself.time_s is not None
    assert log2((by_table.time_s.value or 0) / (by_itself.time_s.value or 1)) == pytest.approx(0, abs=0.06)
    assert by_itself.light_offset_stops is None
