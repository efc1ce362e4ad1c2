"""The forecast beside two other samplers, on everything at once: emcee with the model written down again, and our own slow one."""

import math

import emcee  # type: ignore[import-untyped]
import numpy as np
import pytest
from tests.sensitometry.shown import GREY, HIGHLIGHT, STOP, believed, coming, darkroom, density

from silverwright.questions.believed import camera_lx_s
from silverwright.sensitometry.belief import NUMBERS, believe
from silverwright.sensitometry.darkroom import Conditions, Darkroom, Patch, own_variance, shared_variance
from silverwright.sensitometry.draws import draw
from silverwright.sensitometry.foretell import foretell, readings_of
from silverwright.sensitometry.mode import find_mode, root_of
from silverwright.sensitometry.next_sheet import forecast, learn, needs, quantiles
from silverwright.sensitometry.sampler import sample

WALKERS, STEPS, TIMES = 64, 24_000, 50
APART_STOPS = 0.08
ENDS = [0.1, 0.5, 0.9]


def seen(sheets: int) -> Darkroom:
    """Sheets in long times and an ageing bath, so that all seven numbers matter."""
    plain = darkroom((0.25, -0.2, 0.1)[:sheets], seed=3)
    aged = tuple(Conditions(one.light, one.day, one.batch, age=number) for number, one in enumerate(plain.sheets))
    times = (10.0, 60.0, 25.0)
    timed = tuple(Patch(one.sheet, one.exposure_log10, one.density, times[one.sheet], one.density_sd, one.metering_sd_stops) for one in plain.patches)
    return Darkroom(aged, timed)


class Again:
    """Prior and likelihood by the formulas: curve, exponent from 1 on, drift, and a speed for each sheet."""

    def __init__(self, known: Darkroom) -> None:
        belief = believed()
        self.known, self.belief = known, belief
        self.x = np.array([one.exposure_log10 for one in known.patches])
        self.d = np.array([one.density for one in known.patches])
        self.sheet = np.array([one.sheet for one in known.patches])
        self.late = np.maximum(0.0, np.log2(np.array([one.time_s for one in known.patches]) / 3.0))
        self.age = np.array([float(known.sheets[one].age) for one in self.sheet])
        same = np.array([[one.light == other.light for other in known.sheets] for one in known.sheets])
        count = len(known.sheets)
        days = np.array([[one.day == other.day for other in known.sheets] for one in known.sheets])
        self.cov = 0.33**2 * same + 0.10**2 * days + 2 * 0.15**2 + 0.17**2 * np.eye(count)
        self.inverse = np.linalg.inv(self.cov)

    def shown(self, row: np.ndarray) -> np.ndarray:
        """Densities, as exposures are metered exactly."""
        return density(self.got(row), tuple(row[:5]))

    def got(self, row: np.ndarray) -> np.ndarray:
        lost = (1 - 1 / row[5]) * self.late + np.exp(row[6]) * self.age
        return np.asarray(self.x + STOP * (row[7:][self.sheet] - lost))

    def __call__(self, row: np.ndarray) -> float:
        middle, sd = self.belief.curve
        share = (GREY.fixed_density - row[1]) / np.exp(row[2])
        if row[5] < 1 or not 0.03 < share < 0.97:
            return -math.inf
        slope = (density(self.got(row) + 1e-5, tuple(row[:5])) - density(self.got(row) - 1e-5, tuple(row[:5]))) / 2e-5
        variance = 0.02**2 + 0.03**2 + (slope * STOP * 0.1) ** 2
        likelihood = -0.5 * float(((self.d - self.shown(row)) ** 2 / variance + np.log(variance)).sum())
        prior = (((row[:5] - middle) / sd) ** 2).sum() + ((row[5] - 1.08) / 0.08) ** 2 + ((row[6] + 3.2) / 0.6) ** 2
        found = likelihood - 0.5 * (prior + row[7:] @ self.inverse @ row[7:])
        return float(found) if math.isfinite(found) else -math.inf


def needs_again(rows: np.ndarray, again: Again) -> np.ndarray:
    """What a next sheet in light 0, on day 0, after three sheets, needs for the highlight, in stops over EI 1; one drawn for each row."""
    dice = np.random.default_rng(0)
    among = np.array([0.33**2 * (one.light == "light 0") + 0.1**2 * (one.day == "day 0") + 2 * 0.15**2 for one in again.known.sheets])
    pull = np.linalg.solve(again.cov, among)
    left = 0.33**2 + 0.1**2 + 2 * 0.15**2 - pull @ among
    speed = rows[:, 7:] @ pull + math.sqrt(left) * dice.standard_normal(len(rows))
    steep, net, power = np.exp(rows[:, 3]), np.exp(rows[:, 2]), np.exp(rows[:, 4])
    there, held = ((share ** (-1 / power) - 1) for share in (0.15 / net, (GREY.fixed_density - rows[:, 1]) / net))
    place = rows[:, 0] + (np.log(there) - np.log(held)) / steep
    return np.asarray(place / STOP - math.log2(camera_lx_s()) - speed + 3 * np.exp(rows[:, 6]))


@pytest.mark.slow
@pytest.mark.parametrize("sheets", [1, 2, 3])
def test_emcee_tells_the_same_limits(sheets: int) -> None:
    """Until 50 autocorrelation times; 10, 50 and 90 % points of the need within 0.08 stop."""
    again = Again(seen(sheets))
    known = learn(again.known, believed(), 1)
    start = np.concatenate([believed().curve[0], [1.08, -3.2], np.zeros(sheets)])
    start[0] = believe(known.mode.standard, believed()).theta[0]
    dice = np.random.default_rng(sheets)
    walkers = start + 0.02 * dice.standard_normal((WALKERS, len(start)))
    moves = [(emcee.moves.DEMove(), 0.8), (emcee.moves.DESnookerMove(), 0.2)]
    chain = emcee.EnsembleSampler(WALKERS, len(start), again, moves=moves)
    chain.random_state = np.random.RandomState(sheets).get_state()
    state, done = walkers, 0
    while done < STEPS:
        state = chain.run_mcmc(state, 2000)
        done += 2000
        longest = float(chain.get_autocorr_time(tol=0).max())
        if done > TIMES * longest:
            break
    assert done > TIMES * longest, longest
    rows = chain.get_chain(discard=int(5 * longest), thin=10, flat=True)
    theirs = np.quantile(needs_again(rows, again), ENDS)
    assert forecast(known, coming(HIGHLIGHT, age=3)).need_stops == pytest.approx(theirs, abs=APART_STOPS)


@pytest.mark.slow
@pytest.mark.parametrize("sheets", [1, 3])
def test_the_slow_sampler_on_every_number_tells_the_same_limits(sheets: int) -> None:
    """Sheets' speeds drawn with the seven numbers, nothing made linear; metering errors through the slope, as in the forecast."""
    room, belief = seen(sheets), believed()
    readings, root = readings_of(room, belief), root_of(room, belief)

    def likely(states: np.ndarray) -> np.ndarray:
        told = foretell(believe(states[:, :NUMBERS], belief), states[:, NUMBERS:] @ root.T, readings, belief)
        return np.asarray(-0.5 * ((readings.value - told.value) ** 2 / told.variance + np.log(told.variance)).sum(1))

    states = sample(likely, NUMBERS + sheets, seed=1)
    drawn = believe(states[:, :NUMBERS], belief)
    rows = np.column_stack([drawn.theta, drawn.exponent, np.log(drawn.drift), states[:, NUMBERS:] @ root.T])
    theirs = np.quantile(needs_again(rows, Again(room)), ENDS)
    ours = forecast(learn(room, belief, 1), coming(HIGHLIGHT, age=3)).need_stops
    assert ours == pytest.approx(theirs, abs=APART_STOPS)


def test_the_slow_sampler_takes_over_and_agrees(monkeypatch: pytest.MonkeyPatch) -> None:
    """Made to take over, on the same likelihood without the sheets' speeds, it gives the same limits and says so."""
    room, belief = seen(2), believed()
    mode, readings = find_mode(room, belief)
    quick = draw(mode, readings, belief, 1)
    monkeypatch.setattr("silverwright.sensitometry.draws.FEWEST_SHARE", 2.0)
    slow = draw(mode, readings, belief, 1)
    assert (quick.sampler, slow.sampler) == ("importance", "slow")
    for which in (0, 3):
        ends = [quantiles(one.believed.theta[:, which : which + 1], one.weights, ENDS) for one in (quick, slow)]
        assert ends[0] == pytest.approx(ends[1], abs=0.15 * (ends[0][2] - ends[0][0]))


def test_both_write_the_same_posterior() -> None:
    """Given the sheets' speeds, ours and the one written down again differ by a constant only."""
    room, belief = seen(3), believed()
    again, readings = Again(room), readings_of(room, belief)
    dice = np.random.default_rng(0)
    standard = dice.standard_normal((40, NUMBERS)) * 0.5
    speeds = dice.standard_normal((40, 3)) * 0.3
    drawn = believe(standard, belief)
    told = foretell(drawn, speeds, readings, belief)
    rows = np.column_stack([drawn.theta, drawn.exponent, np.log(drawn.drift), speeds])
    ours = -0.5 * ((readings.value - told.value) ** 2 / told.variance + np.log(told.variance)).sum(1)
    theirs = []
    for row in rows:
        slope = (density(again.got(row) + 1e-5, tuple(row[:5])) - density(again.got(row) - 1e-5, tuple(row[:5]))) / 2e-5
        variance = 0.02**2 + 0.03**2 + (slope * STOP * 0.1) ** 2
        theirs.append(-0.5 * float(((again.d - again.shown(row)) ** 2 / variance + np.log(variance)).sum()))
    assert ours == pytest.approx(np.array(theirs), abs=1e-4)
    ours_shared = shared_variance(room.sheets, room.sheets, belief.scatter) + np.diag(own_variance(room.sheets, belief.scatter))
    assert ours_shared == pytest.approx(again.cov)


def test_needs_are_the_ones_written_down_again() -> None:
    """Middle of the need over the draws, beside the formula with the mean speeds put in."""
    room = seen(2)
    known = learn(room, believed(), 1)
    middle, variance = needs(known, coming(HIGHLIGHT, age=3))
    drawn, again = known.draws.believed, Again(room)
    speeds = known.draws.pull @ again.cov
    rows = np.column_stack([drawn.theta, drawn.exponent, np.log(drawn.drift), speeds])
    written = needs_again(rows, again)
    weights = known.draws.weights
    assert weights @ middle == pytest.approx(weights @ written, abs=0.05)
    assert float(weights @ variance) > 0
    assert believed().anchor == GREY
