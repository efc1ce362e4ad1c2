"""Each thing that sheets share, and each word of a row, moves the forecast the way it must: one test for each, that fails without it."""

from dataclasses import replace
from math import erf, sqrt
from typing import Any, cast

import numpy as np
import pytest
from tests.sensitometry.shown import GREY, HIGHLIGHT, STOP, THETA, believed, coming, darkroom, right_at, sheet_of

from silverwright.questions.believed import scatter
from silverwright.questions.seen import SeenRow, darkroom_of
from silverwright.sensitometry.anchored import exposure_of
from silverwright.sensitometry.darkroom import Conditions, Darkroom, own_variance, shared_variance
from silverwright.sensitometry.next_sheet import Known, chance, forecast, learn, needs
from silverwright.sensitometry.weigh import pulls

FULL = Conditions("window", "monday", "A", "box 1")
HIGH = "highlight with texture"
ALL_KNOWN = {"light": "window", "day": "monday", "batch": "A", "lot": "box 1"}


def variance(one: Conditions, other: Conditions) -> float:
    """What two sheets have in common. [stops^2]"""
    return float(shared_variance((one,), (other,), scatter())[0, 0])


@pytest.mark.parametrize(
    ("kind", "sd_stops"),
    [("light", scatter().light_sd_stops), ("day", scatter().day_sd_stops), ("batch", scatter().batch_sd_stops), ("lot", scatter().lot_sd_stops)],
)
def test_sheets_share_what_is_the_same_and_only_that(kind: str, sd_stops: float) -> None:
    """Alike in everything, the sum of squares; another light, day, bath or box takes its own square out, and no other."""
    alike = variance(FULL, FULL)
    assert alike == pytest.approx(0.33**2 + 0.10**2 + 0.15**2 + 0.15**2)
    assert alike - variance(FULL, replace(FULL, **cast("Any", {kind: "another"}))) == pytest.approx(sd_stops**2)


@pytest.mark.parametrize(("kind", "sd_stops"), [("light", 0.33), ("day", 0.10), ("batch", 0.15)])
def test_what_nobody_named_is_shared_with_nobody_and_in_doubt_alone(kind: str, sd_stops: float) -> None:
    unknown = replace(FULL, **cast("Any", {kind: ""}))
    assert variance(FULL, FULL) - variance(unknown, unknown) == pytest.approx(sd_stops**2)
    alone = [float(own_variance((one,), scatter(), itself=False)[0]) for one in (FULL, unknown)]
    assert alone == pytest.approx([0.0, sd_stops**2])


def test_a_box_without_a_name_is_one_box() -> None:
    """Who never names a box works with the one that there is."""
    unnamed = replace(FULL, lot="")
    assert variance(unnamed, unnamed) == pytest.approx(variance(FULL, FULL))


def test_a_fixed_lamp_is_a_light_of_its_own() -> None:
    """The lamp over the frame may bear the name of a class of light; it shares nothing with that class."""
    lamp = replace(FULL, lamp=True)
    assert variance(FULL, FULL) - variance(FULL, lamp) == pytest.approx(0.33**2)
    assert variance(lamp, lamp) == pytest.approx(variance(FULL, FULL))


def test_one_reading_stands_behind_a_whole_step_sheet() -> None:
    """Shutter 0.17; with one reading for all its patches, 0.10 more in quadrature."""
    alone, read_once = (float(own_variance((one,), scatter())[0]) for one in (FULL, replace(FULL, one_reading=True)))
    assert (alone, read_once) == pytest.approx((0.17**2, 0.17**2 + 0.10**2))


@pytest.mark.parametrize(("kind", "lamp", "one_reading"), [("step sheet", False, True), ("control", True, False), ("scene patch", False, False)])
def test_rows_say_what_kind_of_sheet_it_was(kind: str, lamp: bool, one_reading: bool) -> None:  # noqa: FBT001 (a table)
    rows = [SeenRow.model_validate({"sheet": "1", "kind": kind, "exposure_log10": 0.5, "density": 0.7, **ALL_KNOWN})]
    (sheet,) = darkroom_of(rows, "direct positive")[0].sheets
    assert (sheet.lamp, sheet.one_reading) == (lamp, one_reading)
    assert (sheet.light == "window") is not lamp, "the word of a lamp is never taken for a class of light"


def test_a_verdict_is_of_the_tone_that_was_read() -> None:
    """A highlight that came out right says less of the grey than a grey that did: its place on the curve lies further along."""
    row: dict[str, Any] = {"sheet": "1", "kind": "verdict", "exposure_log10": 0.5, **ALL_KNOWN}
    grey, light = (darkroom_of([SeenRow.model_validate(row | more)], "direct positive")[0].judgements[0] for more in ({}, {"tone": HIGH}))
    assert grey.tone.fixed_density == pytest.approx(GREY.fixed_density)
    assert (light.tone.fixed_density, light.tone.dmin_share) == (HIGHLIGHT.fixed_density, 1.0)


def test_each_sheet_through_the_baths_asks_for_more_light() -> None:
    """The usual loss is 0.04 stop a sheet: the tenth needs 0.4 stop more than the first, by draws and by the mode."""
    known = learn(darkroom((0.0, 0.1)), believed(), 1)
    first, tenth = coming(), coming(age=10)
    lost = 10 * float(known.draws.weights @ known.draws.believed.drift)
    assert lost == pytest.approx(0.4, abs=0.15)
    assert forecast(known, tenth).need_stops[1] - forecast(known, first).need_stops[1] == pytest.approx(lost, abs=0.1)  # a middle beside a mean
    assert pulls(known, tenth).need_stops - pulls(known, first).need_stops == pytest.approx(lost, abs=0.08)


def test_the_pulls_are_for_the_tone_that_is_asked_for() -> None:
    known = learn(darkroom((0.0, 0.1)), believed(), 1)
    apart = float(exposure_of(np.array(THETA), HIGHLIGHT, GREY, -1.0)[0] - THETA[0]) / STOP
    assert pulls(known, coming(HIGHLIGHT)).need_stops - pulls(known, coming()).need_stops == pytest.approx(apart, abs=0.15)


def test_two_sheets_of_one_scene_miss_together() -> None:
    """
    A need spread by 0.5 stop, both sheets at its middle with 0.2 of their own: what they share makes both miss.

    By counting, half a million times; taken as independent it would be 1 - (1 - p)^2, some eight of a hundred more.
    """
    dice = np.random.default_rng(5)
    need, own = dice.normal(0, 0.5, 500_000), dice.normal(0, 0.2, (2, 500_000))
    counted = float((np.abs(need - own) <= 1 / 3).any(axis=0).mean())
    spread = np.linspace(-4, 4, 801)
    weights = np.exp(-(spread**2) / 2)
    rows = 0.5 * spread[:, None]
    both, one = (chance(rows, weights / weights.sum(), [np.zeros((801, 1))] * many, 0.2, 1 / 3) for many in (2, 1))
    assert one == pytest.approx(erf(1 / 3 / sqrt(0.5**2 + 0.2**2) / sqrt(2)), abs=0.002)
    assert both == pytest.approx(counted, abs=0.003)
    assert both < 1 - (1 - one) ** 2 - 0.05


def test_the_box_is_shared_by_the_next_sheet() -> None:
    """A slow box: the next sheet out of it needs more than one out of a new box."""
    boxes = (replace(FULL, lot="old"), replace(FULL, light="door", day="friday", batch="B", lot="slow"))
    dice = np.random.default_rng(7)
    seen = Darkroom(boxes, tuple(one for number, speed in enumerate((0.0, -0.6)) for one in sheet_of(number, speed, dice)))
    known = learn(seen, believed(), 1)
    same, new = (replace(coming(), conditions=Conditions("north", "sunday", "C", lot)) for lot in ("slow", "new"))
    assert forecast(known, same).need_stops[1] - forecast(known, new).need_stops[1] > 0.03


def test_limits_hold_80_of_100_to_the_letter() -> None:
    """Judgements alone make everything normal: half the width between the limits is 1.2816 standard deviations; 79 % would be 1.2536."""
    told = tuple(right_at(number, 0.2 * number, 0.25) for number in range(3))
    sheets = tuple(Conditions("window", f"day {number}", "bath") for number in range(3))
    known = learn(Darkroom(sheets, (), told), believed(), 1)
    low, _, high = forecast(known, coming(light="window", day="day 0")).need_stops
    middle, wide = forecast_normal(known)
    assert (high - low) / 2 / wide == pytest.approx(1.2816, abs=0.012)
    assert low < middle < high


def forecast_normal(known: Known) -> tuple[float, float]:
    """Mean and standard deviation of the same need, as moments of the draws."""
    middle, own = needs(known, coming(light="window", day="day 0"))
    mean = float(known.draws.weights @ middle)
    return mean, sqrt(float(known.draws.weights @ ((middle - mean) ** 2 + own)))
