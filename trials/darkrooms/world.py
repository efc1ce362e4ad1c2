"""
A simulated darkroom: what a sheet needs, what it gets, and what its patches show.

Every spread is our assumption; where one is common practice, nobody has published it. Exposures are logarithms (base 10) of the light on the
paper times the time, counted from what a paper of middling speed needs for the highlight. A direct positive: more light, lighter print.
"""

from dataclasses import dataclass, replace
from functools import cached_property
from math import log10

import numpy as np

from trials.grains import Floats, Grains, draw_grains

STOP_LOG10 = log10(2)
BASE_DENSITY = 0.05
OVER_DENSITY = 0.15  # a highlight with texture
TARGET_DENSITY = BASE_DENSITY + OVER_DENSITY
SHEETS = 9
NEW_DAYS = (3, 6, 9)  # days change after so many sheets
SHEETS_IN_BATH = 6
LIGHTS = ("window", "open shade", "lamps")
USUAL_TIME_S, TIME_SPREAD_LOG10 = 12.0, 0.5
PATCH_STOPS = tuple(np.linspace(0, 7, 6).tolist())  # below the highlight
STEP_STOPS = tuple(np.arange(-3.5, 3.6, 0.5).tolist())  # of a step sheet, round its middle
SPEED, LIGHT, BATH, DAY, SHEET, METERING = 1.0, 0.33, 0.15, 0.10, 0.17, 0.10  # standard deviations in stops
BLUE_READING = 0.10  # stops: what a reading through a blue filter is off
READING_DENSITY = 0.03
LAMP_TIME_S = 10.0
WHOLE_SECONDS_S = 3.0  # a time is counted by hand: in whole seconds from here on, in half seconds below


@dataclass(frozen=True)
class Kind:
    """Which darkrooms are drawn: as usual, or such as nobody expects."""

    steeper_factor: float = 1.0
    drift_factor: float = 1.0
    any_reciprocity: bool = False
    over_lightest: bool = False  # the highlight is told from the lightest tone of the paper, not from its base


USUAL = Kind()
LIGHTEST = Kind(over_lightest=True)
SHIFTED = Kind(steeper_factor=1.35, drift_factor=2.0, any_reciprocity=True)


@dataclass(frozen=True)
class Circumstances:
    """What a photographer knows of a sheet before it is exposed. The blue reading tells how much bluer than usual the light is."""

    number: int
    day: int
    batch: int
    age: int
    light: str
    metered_log10: float  # light on the paper from the highlight, as the meter tells it
    blue_stops: float


def effective_log10(time_s: float, exponent: float) -> float:
    """Logarithm of the time that counts: E t^(1-r), the loss setting in softly near one second."""
    return log10(time_s) - exponent * log10(1 + time_s)


def time_for_s(effective: float, exponent: float) -> float:
    """The time that counts so much, by halving."""
    low, high = -6.0, 9.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if effective_log10(10**middle, exponent) < effective else (low, middle)
    return float(10 ** ((low + high) / 2))


def as_set_s(time_s: float) -> float:
    """The nearest time that a person counts, half a second at least."""
    step_s = 1.0 if time_s >= WHOLE_SECONDS_S else 0.5
    return max(step_s, step_s * round(time_s / step_s))


@dataclass(frozen=True)
class Darkroom:
    """One photographer's paper, baths, lights and luck; every method that is tried in it meets the same luck."""

    grains: Grains
    target_density: float
    needs_log10: float  # for the highlight, in a fresh bath
    exponent: float
    drift_stops: float  # for each sheet through the bath
    fade_share: float  # of contrast and black, for each sheet through the bath
    flare_share: float
    light_stops: tuple[float, ...]
    lamp_stops: float  # the fixed lamp of the control step sheet
    bath_stops: tuple[float, ...]
    day_stops: tuple[float, ...]
    sheet_stops: tuple[float, ...]
    second_stops: tuple[float, ...]  # of a second sheet of the same scene
    metering_stops: Floats  # (sheets, patches)
    reading_density: Floats  # (sheets, patches)
    step_density: Floats  # (sheets, steps)
    control_density: Floats  # (days, steps)
    sheets: tuple[Circumstances, ...]

    @cached_property
    def papers(self) -> tuple[Grains, ...]:
        """The curve after so many sheets through the bath: later, flatter, greyer."""
        found = []
        for age in range(SHEETS):
            flatter = 1 + self.fade_share * age
            faded = replace(
                self.grains,
                coarse_width_log10=self.grains.coarse_width_log10 * flatter,
                fine_width_log10=self.grains.fine_width_log10 * flatter,
                apart_log10=self.grains.apart_log10 * flatter,
                dmax_density=self.grains.dmax_density * (1 - self.fade_share * age / 2),
            )
            moved = self.needs_log10 + self.drift_stops * age * STOP_LOG10 - faded.exposure_log10(self.target_density)
            found.append(replace(faded, middle_log10=faded.middle_log10 + moved))
        return tuple(found)

    def target_log10(self, number: int) -> float:
        """What has to reach the paper for the highlight."""
        return self.needs_log10 + self.drift_stops * self.sheets[number].age * STOP_LOG10

    def _hidden_stops(self, number: int) -> float:
        """What adds to the metered light of a sheet without anybody's knowing."""
        sheet = self.sheets[number]
        light = self.light_stops[LIGHTS.index(sheet.light)]
        return light + self.bath_stops[sheet.batch] + self.day_stops[sheet.day] + self.sheet_stops[number]

    def error_stops(self, number: int, time_s: float, *, second: bool = False) -> float:
        """How much too much light the highlight of this sheet got, or that of a second sheet after the same reading: above 0 too light."""
        given, needed = (effective_log10(one, self.exponent) for one in (time_s, self.needed_s(number)))
        other = self.second_stops[number] - self.sheet_stops[number] if second else 0.0
        return (given - needed) / STOP_LOG10 + other

    def needed_s(self, number: int) -> float:
        """The time that this sheet would have needed."""
        hidden_log10 = (self._hidden_stops(number) + float(self.metering_stops[number, 0])) * STOP_LOG10
        return time_for_s(self.target_log10(number) - hidden_log10 - self.sheets[number].metered_log10, self.exponent)

    def picture(self, number: int, time_s: float) -> tuple[list[float], list[float]]:
        """A scene is taken: exposures of its patches as metered, and the densities that are read."""
        sheet = self.sheets[number]
        below = np.array(PATCH_STOPS) * STOP_LOG10
        metered = sheet.metered_log10 + log10(time_s) - below
        hidden = (self._hidden_stops(number) + self.metering_stops[number]) * STOP_LOG10
        reached = sheet.metered_log10 + effective_log10(time_s, self.exponent) - below + hidden
        with_flare = np.log10(10**reached + self.flare_share * 10 ** reached.max())
        return metered.tolist(), (self.papers[sheet.age].density(with_flare) + self.reading_density[number]).tolist()

    def step_sheet(self, number: int, time_s: float) -> tuple[list[float], list[float]]:
        """A step sheet is exposed to the light of the day, its middle as the highlight would be: metered exposures, densities."""
        sheet = self.sheets[number]
        steps = np.array(STEP_STOPS) * STOP_LOG10
        hidden = (self._hidden_stops(number) + float(self.metering_stops[number, 0])) * STOP_LOG10
        reached = sheet.metered_log10 + effective_log10(time_s, self.exponent) + steps + hidden
        metered = sheet.metered_log10 + log10(time_s) + steps
        return metered.tolist(), (self.papers[sheet.age].density(reached) + self.step_density[number]).tolist()

    def control(self, number: int) -> tuple[list[float], list[float]]:
        """The control step sheet of the day of this sheet, under its fixed lamp, in the bath as it is at the day's start."""
        sheet = self.sheets[number]
        first = next(one for one in self.sheets if one.day == sheet.day)
        steps = np.array(STEP_STOPS) * STOP_LOG10
        metered = -effective_log10(LAMP_TIME_S, 0.15) + log10(LAMP_TIME_S) + steps
        hidden = (self.lamp_stops + self.bath_stops[first.batch] + self.day_stops[first.day]) * STOP_LOG10
        reached = metered - log10(LAMP_TIME_S) + effective_log10(LAMP_TIME_S, self.exponent) + hidden
        return metered.tolist(), (self.papers[first.age].density(reached) + self.control_density[first.day]).tolist()


def draw_darkroom(seed: int, kind: Kind = USUAL) -> Darkroom:
    """A darkroom from its seed."""
    dice = np.random.default_rng([seed, 4])
    light = dice.normal(0, LIGHT, len(LIGHTS))
    expected, anything = dice.normal(0.15, 0.06), dice.uniform(0, 0.35)
    exponent = anything if kind.any_reciprocity else max(0.0, expected)
    days = len(NEW_DAYS) + 1
    grains = draw_grains(dice, steeper_factor=kind.steeper_factor)
    lightest = float(grains.density(9.0))
    return Darkroom(
        grains=grains,
        target_density=lightest + OVER_DENSITY if kind.over_lightest else TARGET_DENSITY,
        needs_log10=dice.normal(0, SPEED) * STOP_LOG10,
        exponent=exponent,
        drift_stops=0.04 * kind.drift_factor * float(np.exp(dice.normal(0, 0.5))),
        fade_share=0.01 * kind.drift_factor * float(np.exp(dice.normal(0, 0.5))),
        flare_share=float(np.exp(dice.uniform(np.log(0.003), np.log(0.02)))),
        light_stops=tuple(light.tolist()),
        lamp_stops=dice.normal(0, LIGHT),
        bath_stops=tuple(dice.normal(0, BATH, 1 + SHEETS // SHEETS_IN_BATH).tolist()),
        day_stops=tuple(dice.normal(0, DAY, days).tolist()),
        sheet_stops=tuple(dice.normal(0, SHEET, SHEETS).tolist()),
        metering_stops=dice.normal(0, METERING, (SHEETS, len(PATCH_STOPS))),
        reading_density=dice.normal(0, READING_DENSITY, (SHEETS, len(PATCH_STOPS))),
        step_density=dice.normal(0, READING_DENSITY, (SHEETS, len(STEP_STOPS))),
        control_density=dice.normal(0, READING_DENSITY, (days, len(STEP_STOPS))),
        sheets=tuple(_circumstances(number, dice, light) for number in range(SHEETS)),
        second_stops=tuple(dice.normal(0, SHEET, SHEETS).tolist()),
    )


def _circumstances(number: int, dice: np.random.Generator, light_stops: Floats) -> Circumstances:
    """One sheet's day, bath and light; by the meter alone a middling paper needs about twelve seconds in it."""
    light = int(dice.integers(len(LIGHTS)))
    time_s = USUAL_TIME_S * 10 ** dice.normal(0, TIME_SPREAD_LOG10)
    return Circumstances(
        number=number,
        day=sum(number >= first for first in NEW_DAYS),
        batch=number // SHEETS_IN_BATH,
        age=number % SHEETS_IN_BATH,
        light=LIGHTS[light],
        metered_log10=-log10(time_s),
        blue_stops=float(light_stops[light]) + dice.normal(0, BLUE_READING),
    )
