"""
How often the forecast is right when a photographer lives by it: one made darkroom after another, sheet after sheet.

Every way meets the same luck. A sheet is right within a third of a stop; step sheets teach and are never right; a control step sheet costs no
sheet. The truth comes from `trials`, which shares nothing with the engine.
"""

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from math import log10
from multiprocessing import get_context

import numpy as np
from trials.darkrooms.rivals import Ceiling, Floor, HalveOrDouble, Method, StripByEye
from trials.darkrooms.world import (
    LAMP_TIME_S,
    LIGHTEST,
    READING_DENSITY,
    STOP_LOG10,
    TARGET_DENSITY,
    USUAL,
    Circumstances,
    Kind,
    as_set_s,
    draw_darkroom,
)
from trials.darkrooms.world import Darkroom as Room

from silverwright.facts.load import fact
from silverwright.questions.believed import Stated, belief_of, camera_lx_s
from silverwright.sensitometry.anchored import Tone
from silverwright.sensitometry.belief import Belief
from silverwright.sensitometry.darkroom import Conditions, Darkroom, Patch
from silverwright.sensitometry.next_sheet import Coming, Forecast, forecast, learn, own_scatter_stops

RIGHT_STOPS = 1 / 3
FIRST_SHEETS = 8
EI = 2.0
KNOWN = Stated(ei=EI, ei_sd_stops=1.0, exponent=1.18, exponent_sd=0.09)  # an index good to a stop, and the usual exponent of paper
UNKNOWN = Stated(ei=EI, ei_sd_stops=1.5)  # our first guess of both


@dataclass(frozen=True)
class Way:
    """A way to work: with or without a step sheet first, a control step sheet each day, readings through a blue filter."""

    name: str
    step_sheet: bool = True
    control: bool = False
    blue: bool = False
    stated: Stated = KNOWN
    kind: Kind = USUAL


@dataclass(frozen=True)
class Life:
    """Sheet by sheet: error in stops, whether the limits of 80 % held what the sheet needed, whether one of two bracketed was right."""

    errors_stops: tuple[float, ...]
    held: tuple[bool, ...] = ()
    one_of_two: tuple[bool, ...] = ()


def belief(way: Way) -> Belief:
    """What the engine believes beforehand, by its own fact rows; the tone is the world's, a fixed density or one over the lightest."""
    believed = belief_of(way.stated, "highlight with texture", "direct positive")
    return believed if way.kind == LIGHTEST else replace(believed, anchor=Tone(TARGET_DENSITY))


@dataclass
class Engine:
    """The forecast as a method among others."""

    room: Room
    way: Way
    believed: Belief
    sheets: list[Conditions] = field(default_factory=list)
    patches: list[Patch] = field(default_factory=list)
    forecasts: list[Forecast] = field(default_factory=list)

    def conditions(self, sheet: Circumstances) -> Conditions:
        """What is written down about a sheet. A blue reading is wrong by itself: no two share its error."""
        light = f"sheet {sheet.number}" if self.way.blue else sheet.light
        measured = fact("forecast", "light_measured").sd if self.way.blue else None
        return Conditions(light=light, day=str(sheet.day), batch=str(sheet.batch), age=sheet.age, light_sd_stops=measured)

    def lux_log10(self, sheet: Circumstances) -> float:
        """The metered light, corrected by the blue reading where there is one; the world counts from a paper of EI 2."""
        return sheet.metered_log10 + sheet.blue_stops * STOP_LOG10 * self.way.blue + log10(camera_lx_s() / EI)

    def add(self, conditions: Conditions, shown: tuple[list[float], list[float]], time_s: float, metering_sd_stops: float) -> None:
        """Write a sheet down."""
        number = len(self.sheets)
        self.sheets.append(conditions)
        self.patches += [Patch(number, x, density, time_s, READING_DENSITY, metering_sd_stops) for x, density in zip(*shown, strict=True)]

    def control(self, sheet: Circumstances) -> None:
        """The control step sheet of a new day."""
        if any(one.lamp and one.day == str(sheet.day) for one in self.sheets):
            return
        first = next(one for one in self.room.sheets if one.day == sheet.day)
        conditions = Conditions(light="lamp", lamp=True, day=str(first.day), batch=str(first.batch), age=first.age)
        metered, densities = self.room.control(sheet.number)
        counted = [x + log10(camera_lx_s() / EI) for x in metered]
        self.add(conditions, (counted, densities), LAMP_TIME_S, fact("forecast", "step").sd)

    def choose_s(self, number: int) -> float:
        """The middle of the forecast, as a person counts it."""
        sheet = self.room.sheets[number]
        if self.way.control:
            self.control(sheet)
        known = learn(Darkroom(tuple(self.sheets), tuple(self.patches)), self.believed, number + 1)
        own = own_scatter_stops(fact("forecast", "sheet").sd, fact("forecast", "place").sd)
        at_ei_one_s = camera_lx_s() / 10 ** self.lux_log10(sheet)
        tone = self.believed.anchor
        coming = Coming(self.conditions(sheet), tone, camera_lx_s(), RIGHT_STOPS, own, at_ei_one_s)
        self.forecasts.append(forecast(known, coming))
        return as_set_s(self.times_s(-1)[1])

    def times_s(self, number: int) -> tuple[float, float, float]:
        """Lower limit, middle and upper limit of the time of a sheet."""
        times_s = self.forecasts[number].time_s
        assert times_s is not None
        return times_s

    def learn(self, number: int, time_s: float) -> None:
        """Measure the sheet that came out."""
        sheet, steps = self.room.sheets[number], self.way.step_sheet and number == 0
        metered, densities = (self.room.step_sheet if steps else self.room.picture)(number, time_s)
        off = self.lux_log10(sheet) - sheet.metered_log10
        sd = fact("forecast", "step" if steps else "place").sd
        conditions = replace(self.conditions(sheet), one_reading=steps)
        self.add(conditions, ([x + off for x in metered], densities), time_s, sd)


def live(seed: int, way: Way) -> Life:
    """One darkroom, nine sheets by the forecast."""
    room = draw_darkroom(seed, way.kind)
    engine = Engine(room, way, belief(way))
    errors, held, either = [], [], []
    for number in range(len(room.sheets)):
        time_s = engine.choose_s(number)
        low_s, _, high_s = engine.times_s(number)
        errors.append(room.error_stops(number, time_s))
        held.append(low_s <= room.needed_s(number) <= high_s)
        bracket_s = engine.forecasts[number].bracket_s
        assert bracket_s is not None
        either.append(one_is_right(room, number, (as_set_s(bracket_s[0]), as_set_s(bracket_s[1]))))
        engine.learn(number, time_s)
    return Life(tuple(errors), tuple(held), tuple(either))


PLAIN: dict[str, Callable[[Room], Method]] = {
    "half or double, exponent known": HalveOrDouble,
    "half or double, no reciprocity": partial(HalveOrDouble, exponent=0.0),
    "strip by eye, half stops": StripByEye,
    "ceiling: knows all spreads and the curve": Ceiling,
    "floor: knows everything": Floor,
}


def live_plainly(seed: int, name: str, kind: Kind) -> Life:
    """One darkroom by one of the plain ways."""
    room = draw_darkroom(seed, kind)
    method: Method = PLAIN[name](room)
    errors, either = [], []
    for number in range(len(room.sheets)):
        time_s = method.choose_s(number)
        errors.append(room.error_stops(number, time_s))
        if isinstance(method, Ceiling):
            either.append(one_is_right(room, number, method.bracket_s(number)))
        method.learn(number, time_s)
    return Life(tuple(errors), one_of_two=tuple(either))


def one_is_right(room: Room, number: int, times_s: tuple[float, float]) -> bool:
    """Whether one of two sheets of a scene, after one reading, is within a third of a stop."""
    offs = (room.error_stops(number, times_s[0]), room.error_stops(number, times_s[1], second=True))
    return min(map(abs, offs)) <= RIGHT_STOPS


@dataclass(frozen=True)
class Lives:
    """Many lives as tables: darkrooms down, sheets across."""

    right: np.ndarray
    held: np.ndarray
    one_of_two: np.ndarray
    median_stops: np.ndarray
    step_sheet: bool

    @property
    def good_prints(self) -> np.ndarray:
        """How many of the first eight sheets of each darkroom were right; the step sheet is none."""
        return np.asarray(self.right[:, int(self.step_sheet) : FIRST_SHEETS].sum(1))


def gather(lives: Sequence[Life], *, step_sheet: bool) -> Lives:
    """Lives as tables."""
    errors = np.abs([one.errors_stops for one in lives])
    return Lives(
        errors <= RIGHT_STOPS,
        np.array([one.held for one in lives]),
        np.array([one.one_of_two for one in lives]),
        np.median(errors, axis=0),
        step_sheet,
    )


def many(seeds: Sequence[int], way: Way) -> Lives:
    """Many darkrooms by the forecast. A process for each core."""
    os.environ.update(OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")  # one thread in each process
    with get_context("spawn").Pool(len(os.sched_getaffinity(0))) as pool:
        return gather(pool.map(partial(live, way=way), seeds, chunksize=4), step_sheet=way.step_sheet)


def many_plainly(seeds: Sequence[int], name: str, kind: Kind) -> Lives:
    """Many darkrooms by a plain way; a strip is cut from the first sheet, the ceiling is held against a step sheet first."""
    return gather([live_plainly(seed, name, kind) for seed in seeds], step_sheet=name.startswith(("strip", "ceiling")))
