"""Does the forecast get the next sheet right as often as it says, in darkrooms that it does not know?"""

import numpy as np
import pytest
from tests.sensitometry.lives import KNOWN, PLAIN, Engine, Lives, Way, belief, many, many_plainly
from trials.darkrooms.world import LIGHTEST, SHIFTED, USUAL, draw_darkroom

from silverwright.api import ask
from silverwright.questions.believed import camera_lx_s
from silverwright.questions.next_exposure import NextAnswer

ROOMS = range(50_000, 50_100)
LOOSE = 12  # points: nearly three standard errors of 100 darkrooms


@pytest.fixture(scope="module")
def usual() -> Lives:
    return many(ROOMS, Way("step sheet first"))


def percent(table: np.ndarray) -> float:
    return float(100 * table.mean())


def rows_of(engine: Engine) -> list[dict[str, object]]:
    """What an engine has seen, as a person would type it."""
    rows: list[dict[str, object]] = []
    for patch in engine.patches:
        sheet = engine.sheets[patch.sheet]
        kind = "control" if sheet.lamp else "step sheet" if sheet.one_reading else "scene patch"
        shared = {"light": sheet.light, "day": sheet.day, "batch": sheet.batch, "age": sheet.age}
        told = {"exposure_log10": patch.exposure_log10, "time_s": patch.time_s, "density": patch.density, "sd": patch.density_sd}
        rows.append({"sheet": f"{kind} {patch.sheet}", "kind": kind, **shared, **told})
    return rows


def test_what_is_counted_is_what_people_are_answered() -> None:
    """The same sheets through the question, for a highlight told from the lightest tone: the same time with the same limits."""
    way = Way("through the door", control=True, kind=LIGHTEST)
    room = draw_darkroom(50_007, LIGHTEST)
    engine = Engine(room, way, belief(way))
    for number in range(4):
        sheet, time_s = room.sheets[number], engine.choose_s(number)
        answer = ask(
            "sensitometry.next",
            evidence=rows_of(engine),
            tone="highlight with texture",
            light=sheet.light,
            day=str(sheet.day),
            batch=str(sheet.batch),
            age=sheet.age,
            stated_ei=KNOWN.ei,
            stated_ei_sd_stops=KNOWN.ei_sd_stops,
            exponent_factor=KNOWN.exponent,
            exponent_sd=KNOWN.exponent_sd,
            at_ei_one_s=camera_lx_s() / 10 ** engine.lux_log10(sheet),
        )
        assert isinstance(answer, NextAnswer)
        assert answer.time_s is not None
        assert (answer.time_s.low, answer.time_s.value, answer.time_s.high) == pytest.approx(engine.times_s(-1), rel=0.06)
        engine.learn(number, time_s)


@pytest.mark.slow
def test_after_two_sheets_most_are_right(usual: Lives) -> None:
    """62 % in the long run; nobody who knows the paper and not the chance of the day gets more than 82 to 84 %."""
    assert percent(usual.right[:, 2]) > 62 - LOOSE
    assert percent(usual.right) < percent(many_plainly(ROOMS, "floor: knows everything", USUAL).right)


@pytest.mark.slow
def test_limits_hold_as_often_as_they_say(usual: Lives) -> None:
    assert percent(usual.held[:, 0]) == pytest.approx(80, abs=LOOSE)
    assert percent(usual.held[:, 1:]) == pytest.approx(80, abs=6)


@pytest.mark.slow
def test_two_sheets_are_surer_than_one(usual: Lives) -> None:
    assert percent(usual.one_of_two[:, 3]) > 85 - LOOSE
    assert percent(usual.one_of_two) > percent(usual.right) + 10


@pytest.mark.slow
def test_more_good_prints_than_by_any_plain_way(usual: Lives) -> None:
    good = usual.good_prints.mean()
    assert good > 4.1
    for name in PLAIN:
        if not name.startswith(("floor", "ceiling")):
            assert good > many_plainly(ROOMS, name, USUAL).good_prints.mean() + 0.3, name


@pytest.mark.slow
def test_control_step_sheet_and_blue_reading_help_from_the_first_picture(usual: Lives) -> None:
    """60 darkrooms: the first picture already, and every later one."""
    helped = many(ROOMS[:60], Way("helped", control=True, blue=True))
    assert percent(helped.right[:, 0]) > percent(usual.right[:60, 0]) + 5
    assert percent(helped.right[:, 1:]) > percent(usual.right[:60, 1:]) + 5


@pytest.mark.slow
def test_limits_hold_often_enough_where_nothing_is_as_expected() -> None:
    shifted = many(ROOMS[:60], Way("shifted", kind=SHIFTED))
    assert percent(shifted.held[:, 1:]) > 66
