"""The forecast by other routes: formulas written down again, finite differences, and a limit in which linear algebra gives the answer."""

from dataclasses import replace
from math import erf, log2, sqrt

import numpy as np
import pytest
from tests.sensitometry.shown import GREY, HIGHLIGHT, STOP, THETA, believed, coming, darkroom, density, right_at, sheet_of

from silverwright.questions.believed import camera_lx_s
from silverwright.sensitometry.anchored import Tone, density_and_slope, density_gradient, exposure_of
from silverwright.sensitometry.belief import believe
from silverwright.sensitometry.darkroom import Conditions, Darkroom, Judgement, Patch, own_variance, shared_variance
from silverwright.sensitometry.foretell import readings_of, with_gradient
from silverwright.sensitometry.mode import find_mode
from silverwright.sensitometry.next_sheet import Clock, chance, forecast, learn, quantiles
from silverwright.sensitometry.weigh import disagreements, doubt_stops, pieces_of, pulls, with_picture, with_step_sheet

THREE = (Conditions("window", "one", "A"), Conditions("window", "two", "A"), Conditions("lamps", "two", "B"))
NEXT = coming(light="window", day="two")


@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_the_curve_is_the_one_written_down_again(sign: float) -> None:
    x = np.linspace(-1, 2, 13)
    ours, slope = density_and_slope(np.array([THETA]), x[None], GREY, sign)
    assert ours[0] == pytest.approx(density(x, sign=sign), abs=1e-12)
    assert slope[0] == pytest.approx((density(x + 1e-6, sign=sign) - density(x - 1e-6, sign=sign)) / 2e-6, abs=1e-7)
    assert (np.sign(slope[0]) == sign).all()


@pytest.mark.parametrize("sign", [-1.0, 1.0])
@pytest.mark.parametrize("tone", [GREY, HIGHLIGHT, Tone(0.0, 1.0, 0.8), Tone(0.45)])
def test_exposure_and_density_undo_one_another(sign: float, tone: Tone) -> None:
    place, _ = exposure_of(np.array(THETA), tone, GREY, sign)
    wanted = tone.fixed_density + tone.dmin_share * THETA[1] + tone.net_share * np.exp(THETA[2])
    assert float(density(place, sign=sign)) == pytest.approx(wanted, abs=1e-12)


@pytest.mark.parametrize("sign", [-1.0, 1.0])
@pytest.mark.parametrize("anchor", [GREY, HIGHLIGHT])
def test_gradients_beside_finite_differences(sign: float, anchor: Tone) -> None:
    theta, x, tone = np.array(THETA), np.linspace(-0.8, 1.8, 9), Tone(0.0, 1.0, 0.8)
    _, _, by_density = density_gradient(theta, x, anchor, sign)
    _, by_place = exposure_of(theta, tone, anchor, sign)
    for number, step in enumerate(np.eye(5) * 1e-6):
        more, less = (density_and_slope((theta + one)[None], x[None], anchor, sign)[0][0] for one in (step, -step))
        assert by_density[:, number] == pytest.approx((more - less) / 2e-6, abs=1e-7)
        further, nearer = (float(exposure_of(theta + one, tone, anchor, sign)[0]) for one in (step, -step))
        assert by_place[number] == pytest.approx((further - nearer) / 2e-6, abs=1e-7)


def test_everything_foretold_moves_as_its_gradient_says() -> None:
    """Patches and judgements, old baths and long times, by central differences in each of the seven numbers."""
    belief = believed()
    sheets = (Conditions("a", "b", "c", age=4), Conditions("a", "b", "c", age=1))
    patches = (Patch(0, 0.3, 1.0, 40.0, 0.02, 0.1), Patch(0, 0.9, 0.5, 40.0, 0.02, 0.1))
    readings = readings_of(Darkroom(sheets, patches, (Judgement(1, 0.5, HIGHLIGHT, 0.3, 90.0), right_at(None, 0.0, 0.5))), belief)
    at, speeds = np.array([0.2, -0.3, 0.4, 0.1, -0.5, 0.3, 0.6]), np.array([0.3, -0.2])
    _, gradient = with_gradient(at, speeds, readings, belief)
    for number, step in enumerate(np.eye(7) * 1e-4):
        more, less = (with_gradient(at + one, speeds, readings, belief)[0].value for one in (step, -step))
        assert gradient[:, number] == pytest.approx((more - less) / 2e-4, abs=2e-4)


def test_the_exponent_is_the_quantile_of_a_normal_cut_at_one() -> None:
    """1.08 +- 0.08 cut at 1: P(p < 1.08) = (Phi(0) - Phi(-1)) / (1 - Phi(-1)) = 0.4057; the standard number of that is -0.2386."""
    below = 0.5 * (1 + erf(-1 / sqrt(2)))
    standard = np.zeros(7)
    standard[5] = -0.23861
    assert (0.5 - below) / (1 - below) == pytest.approx(0.4057, abs=1e-4)
    assert float(believe(standard, believed()).exponent) == pytest.approx(1.08, abs=1e-4)


def test_judgements_alone_are_a_normal_regression() -> None:
    """The grey's need is linear in the paper's speed and in what sheets share: mean and doubt by the textbook's conditional normal."""
    belief = believed()
    told = (right_at(0, 1.0, 0.3), right_at(1, 0.4, 0.25), right_at(2, -0.2, 0.35), right_at(None, 0.0, 0.5))
    known = learn(Darkroom(THREE, (), told), belief, 1)
    guess, width = belief.anchor_log10.value / STOP - log2(camera_lx_s()), belief.anchor_log10.sd / STOP
    effects = np.zeros((5, 5))
    among = (*THREE, NEXT.conditions)
    where = [0, 1, 2, 4]
    effects[np.ix_(where, where)] = shared_variance(among, among, belief.scatter)
    effects[range(3), range(3)] += own_variance(THREE, belief.scatter)
    whole = width**2 + effects
    seen = whole[:4, :4] + np.diag([0.3**2, 0.25**2, 0.35**2, 0.5**2])
    pull = np.linalg.solve(seen, whole[:4, 4])
    mean = guess + pull @ (np.array([1.0, 0.4, -0.2, 0.0]) - guess)
    sd = sqrt(whole[4, 4] - pull @ whole[:4, 4])
    assert doubt_stops(known, NEXT) == pytest.approx(sd, rel=1e-6)
    found = forecast(known, NEXT)
    assert found.need_stops[1] == pytest.approx(mean, abs=0.03)
    assert (found.need_stops[2] - found.need_stops[0]) / 2.5631 == pytest.approx(sd, rel=0.03)
    assert found.sd_stops == pytest.approx(sd, rel=0.03)
    lines = pulls(known, NEXT)
    assert lines.need_stops == pytest.approx(mean, abs=1e-3)
    assert guess + sum(one.amount_stops for one in lines.pieces) == pytest.approx(mean, abs=1e-3)
    doubts = [lines.guess_doubt_stops, lines.next_doubt_stops, *(one.doubt_stops for one in lines.pieces)]
    assert sqrt(sum(one**2 for one in doubts)) == pytest.approx(sd, rel=1e-6)


def test_nothing_seen_is_the_first_guess() -> None:
    """EI 2 +- 1.5 stops, with light 0.33, day 0.1, bath 0.15 and lot 0.15 in quadrature."""
    found = forecast(learn(Darkroom(), believed(), 1), coming(light="", day=""))
    sd = sqrt(1.5**2 + 0.33**2 + 0.1**2 + 2 * 0.15**2)
    assert found.need_stops[1] == pytest.approx(-1.0, abs=0.1)
    assert found.sd_stops == pytest.approx(sd, rel=0.05)
    assert (found.need_stops[2] - found.need_stops[0]) / 2.5631 == pytest.approx(sd, rel=0.05)


def test_patches_find_the_curve_that_made_them() -> None:
    """Five sheets of the paper's own speed: the grey's need within its limits' reach of the true one, and the highlight's too."""
    known = learn(darkroom((0.0,) * 5), believed(), 1)
    for tone in (GREY, HIGHLIGHT):
        true = float(exposure_of(np.array(THETA), tone, GREY, -1.0)[0]) / STOP - log2(camera_lx_s())
        low, middle, high = forecast(known, coming(tone)).need_stops
        assert low < true < high
        assert middle == pytest.approx(true, abs=0.15)


def test_order_of_evidence_does_not_matter() -> None:
    seen = darkroom((0.3, -0.2, 0.1))
    turned = Darkroom(seen.sheets[::-1], tuple(replace(one, sheet=2 - one.sheet) for one in seen.patches[::-1]))
    one, other = (forecast(learn(each, believed(), 1), coming(HIGHLIGHT)) for each in (seen, turned))
    assert one.need_stops == pytest.approx(other.need_stops, abs=0.01)
    assert one.one_sheet_share == pytest.approx(other.one_sheet_share, abs=0.005)


def test_the_same_seed_gives_the_same_answer() -> None:
    seen = darkroom((0.3, -0.2))
    assert forecast(learn(seen, believed(), 7), NEXT) == forecast(learn(seen, believed(), 7), NEXT)


def test_more_evidence_never_widens_on_average() -> None:
    """Over 20 darkrooms, sheet by sheet, the mean doubt of a next sheet in a light that was seen falls."""
    doubts = np.zeros(5)
    for seed in range(20):
        dice = np.random.default_rng([seed, 1])
        speeds = tuple(dice.normal(0, 0.35, 4).tolist())
        whole = darkroom(speeds, seed)
        for count in range(5):
            seen = Darkroom(whole.sheets[:count], tuple(one for one in whole.patches if one.sheet < count))
            doubts[count] += forecast(learn(seen, believed(), 1), coming(HIGHLIGHT, day="day 9")).sd_stops / 20
    assert (np.diff(doubts) < 0.0).all(), doubts


def test_the_sheet_that_disagrees_is_found_with_its_size() -> None:
    """One of six sheets got 1.5 stops more than was written down; by chance alone sheets differ by 0.2."""
    dice = np.random.default_rng(5)
    speeds = dice.normal(0, 0.15, 6)
    speeds[3] = 1.5
    found = disagreements(learn(darkroom(tuple(speeds)), believed(), 1))
    worst = max(range(6), key=lambda number: found[number].deviation_sd)
    others = np.delete(speeds, 3).mean()
    assert worst == 3
    assert found[3].deviation_sd > 3
    assert found[3].faster_stops == pytest.approx(1.5 - others, abs=0.3)


def test_sheets_that_agree_are_not_accused() -> None:
    """Truth as believed: of 30 darkrooms of five sheets hardly one has a sheet three standard deviations off."""
    accused = 0
    for seed in range(30):
        dice = np.random.default_rng([seed, 2])
        light, day = dice.normal(0, 0.33, 2), dice.normal(0, 0.1, 2)
        speeds = tuple(float(light[n % 2] + day[n // 3] + dice.normal(0, 0.17)) for n in range(5))
        accused += max(one.deviation_sd for one in disagreements(learn(darkroom(speeds, seed), believed(), 1))) > 3
    assert accused <= 3


def test_left_out_by_formula_is_left_out_in_truth() -> None:
    """What the others foretell of a sheet, by one inverse, beside a mode without that sheet."""
    seen = darkroom((0.2, -0.1, 0.6, 0.0))
    without = Darkroom(seen.sheets, tuple(one for one in seen.patches if one.sheet != 2))
    mode, _ = find_mode(without, believed())
    truly, _ = with_gradient(mode.standard, mode.speed_stops, readings_of(seen, believed()), believed())
    rows = pieces_of(seen)[2]
    weights = (truly.by_speed**2 / truly.variance)[rows]
    read = np.array([one.density for one in seen.patches])
    expected = ((read - truly.value)[rows] / truly.by_speed[rows]) @ weights / weights.sum()
    found = disagreements(learn(seen, believed(), 1))[2].faster_stops
    assert found == pytest.approx(expected, abs=0.12)


def test_a_rising_curve_is_the_falling_one_seen_in_a_mirror() -> None:
    """A paper negative: exposures mirrored at 0.5 give the same patches rising; what a sheet needs beyond the grey is mirrored, too."""
    falling = learn(darkroom((0.0, 0.0)), replace(believed(), log_power=replace(believed().log_power, value=0.0)), 1)
    rising = learn(darkroom((0.0, 0.0), sign=1.0), believed("negative"), 1)
    down, up = (forecast(one, coming(HIGHLIGHT)).need_stops[1] for one in (falling, rising))
    truth = [float(exposure_of(np.array(THETA), HIGHLIGHT, GREY, sign)[0]) / STOP - log2(camera_lx_s()) for sign in (-1.0, 1.0)]
    assert down == pytest.approx(truth[0], abs=0.3)
    assert up == pytest.approx(truth[1], abs=0.3)
    assert up < down


def test_a_relative_step_sheet_tells_the_shape_and_no_speed() -> None:
    """Light that nobody metered: the doubt of the grey stays, how far the highlight lies from it becomes known."""
    sheet = Conditions("", "day 0", "bath", metered=False)
    shifted = tuple(replace(one, exposure_log10=one.exposure_log10 + 2.0) for one in sheet_of(0, 0.0, np.random.default_rng(0)))
    known, blind = (learn(one, believed(), 1) for one in (Darkroom((sheet,), shifted), Darkroom()))
    assert forecast(known, coming()).sd_stops > 0.9 * forecast(blind, coming()).sd_stops
    apart = float(exposure_of(np.array(THETA), HIGHLIGHT, GREY, -1.0)[0] - THETA[0]) / STOP
    assert forecast(known, coming(HIGHLIGHT)).need_stops[1] - forecast(known, coming()).need_stops[1] == pytest.approx(apart, abs=0.25)


def test_a_control_step_sheet_tells_todays_bath() -> None:
    """The lamp is the same on both days; only the bath changed by a stop. The forecast follows by the better part of what day and batch may do."""
    dice = np.random.default_rng(3)
    lamp = Conditions("lamp x", "day 0", "bath", lamp=True)
    other = replace(lamp, day="day 1", batch="new bath")
    sheets = (lamp, Conditions("window", "day 0", "bath"), other)
    patches = [*sheet_of(0, 0.0, dice), *sheet_of(1, 0.0, dice), *sheet_of(2, 0.4, dice)]
    known = learn(Darkroom(sheets, tuple(patches)), believed(), 1)
    old, new = coming(light="window"), coming(light="window", day="day 1")
    new = replace(new, conditions=replace(new.conditions, batch="new bath"))
    assert forecast(known, old).need_stops[1] - forecast(known, new).need_stops[1] == pytest.approx(0.4, abs=0.12)
    without = learn(Darkroom(sheets[:2], tuple(patches[:14])), believed(), 1)
    assert with_step_sheet(without, new, "lamp x", patches[0]) < doubt_stops(without, new)
    assert with_step_sheet(without, new, "lamp x", patches[0]) == pytest.approx(doubt_stops(known, new), abs=0.03)


def test_what_one_more_picture_would_bring_is_what_it_brings() -> None:
    seen = darkroom((0.1, 0.0, -0.1))
    known = learn(Darkroom(seen.sheets[:2], seen.patches[:14]), believed(), 1)
    then = learn(seen, believed(), 1)
    assert with_picture(known, coming(GREY), seen.patches[0]) == pytest.approx(doubt_stops(then, coming(GREY)), abs=0.04)


def test_the_camera_can_rebuild_the_doubt_at_any_time() -> None:
    """Index, exponent and the time at which they part: sd^2 + (exponent_sd log2(t / surest))^2 is the doubt at that metered time."""
    seen = darkroom((0.0, 0.1, 0.0))
    timed = Darkroom(seen.sheets, tuple(replace(one, time_s=(8.0, 30.0, 120.0)[one.sheet]) for one in seen.patches))
    known = learn(timed, believed(), 1)
    found = forecast(known, coming())
    assert 8 < found.surest_at_s < 200
    middle = 2 ** found.need_stops[1]
    for metered in (10.0, 60.0, 300.0):
        low, _, high = forecast(known, replace(coming(at_ei_one_s=metered / middle), sheet_sd_stops=1e-3)).time_s or (0, 0, 0)
        width = log2(high / low) / 2.5631
        rebuilt = sqrt(found.sd_stops**2 + (found.exponent_sd * log2(metered / found.surest_at_s)) ** 2)
        assert width == pytest.approx(rebuilt, rel=0.25)  # the time's own stretch, up to the exponent, is the ledger's business


def test_times_and_metered_times_undo_one_another() -> None:
    """Above 3 s the time grows by the power 1.5: 12 s metered, two stops above, asks for 3 x 4^1.5 = 24 s."""
    clock = Clock(np.array([[0.5]]), log2(3.0))
    assert float(clock.given(np.array([[log2(12.0)]]))[0, 0]) == pytest.approx(log2(24.0))
    assert float(clock.metered(log2(24.0))[0, 0]) == pytest.approx(log2(12.0))
    assert float(clock.metered(log2(2.0))[0, 0]) == pytest.approx(log2(2.0))


def test_chances_of_one_and_two_sheets() -> None:
    """A need that is known: two sheets at the same time miss with the square of the chance that one misses."""
    known, weights = np.zeros((1, 1)), np.ones(1)
    one = chance(known, weights, [np.zeros((1, 1))], 0.2, 1 / 3)
    assert one == pytest.approx(erf(1 / 3 / 0.2 / sqrt(2)), abs=1e-4)
    assert chance(known, weights, [np.zeros((1, 1))] * 2, 0.2, 1 / 3) == pytest.approx(1 - (1 - one) ** 2, abs=1e-9)


def test_quantiles_of_a_weighted_crowd() -> None:
    dice = np.random.default_rng(0)
    values = dice.standard_normal((4000, 5))
    assert quantiles(values, np.full(4000, 1 / 4000), [0.1, 0.5, 0.9]) == pytest.approx([-1.2816, 0, 1.2816], abs=0.03)
