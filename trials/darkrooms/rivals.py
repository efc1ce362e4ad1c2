"""Plain ways to find the exposure, and two that cheat: what a better way has to be measured against."""

from dataclasses import dataclass, field
from math import log2, sqrt
from typing import Protocol

import numpy as np

from trials.darkrooms.world import (
    BATH,
    DAY,
    LIGHT,
    LIGHTS,
    METERING,
    SHEET,
    SPEED,
    STOP_LOG10,
    USUAL_TIME_S,
    Darkroom,
    as_set_s,
    effective_log10,
    time_for_s,
)
from trials.grains import Floats

LOOKS_RIGHT_DENSITY = 0.03
BRACKET_SD = 0.6128  # of a normal distribution: 27 % lie below that many standard deviations under its middle
STRIP_REACH_STOPS = 1.0  # five strips, half a stop apart


class Method(Protocol):
    """A way to choose times and to learn from what came out. Each lives with its own exposures."""

    def choose_s(self, number: int) -> float:
        """Time for sheet `number`."""

    def learn(self, number: int, time_s: float) -> None:
        """Look at the sheet that came out."""


@dataclass
class HalveOrDouble:
    """
    Too dark: twice the light; too light: half; by half the step whenever it was too much; a print that looks right is left alone.

    `exponent` is the photographer's belief about reciprocity, 0 for none.
    """

    darkroom: Darkroom
    exponent: float = 0.15
    wanted_stops: float = 0.0
    step_stops: float = 1.0
    last_way: int = 0

    def choose_s(self, number: int) -> float:
        """What the meter says, moved by what was learnt so far."""
        return as_set_s(time_for_s(self.wanted_stops * STOP_LOG10 - self.darkroom.sheets[number].metered_log10, self.exponent))

    def learn(self, number: int, time_s: float) -> None:
        """Only whether the highlight was too dark or too light."""
        _, densities = self.darkroom.picture(number, time_s)
        if abs(densities[0] - self.darkroom.target_density) <= LOOKS_RIGHT_DENSITY:
            return
        way = 1 if densities[0] > self.darkroom.target_density else -1
        if self.last_way and way != self.last_way:
            self.step_stops /= 2
        self.wanted_stops += way * self.step_stops
        self.last_way = way


@dataclass
class StripByEye:
    """
    Five strips, half a stop apart, tell how far off the middle one was, to the nearest half stop; what all of them told is averaged.

    The first sheet is cut into strips and is no print.
    """

    darkroom: Darkroom
    exponent: float = 0.15
    told_stops: list[float] = field(default_factory=list)
    wanted_stops: float = 0.0

    def choose_s(self, number: int) -> float:
        """What the meter says, moved by the mean of what the strips told."""
        return as_set_s(time_for_s(self.wanted_stops * STOP_LOG10 - self.darkroom.sheets[number].metered_log10, self.exponent))

    def learn(self, number: int, time_s: float) -> None:
        """The strip that is right, to half a stop."""
        off = round(self.darkroom.error_stops(number, time_s) * 2) / 2
        off = max(-STRIP_REACH_STOPS, min(STRIP_REACH_STOPS, off))
        self.told_stops.append(self.wanted_stops - off)
        self.wanted_stops = sum(self.told_stops) / len(self.told_stops)


@dataclass
class Floor:
    """Knows paper, reciprocity, bath, its age and the light; not the day, the shutter and the meter. Nothing can do better."""

    darkroom: Darkroom

    def choose_s(self, number: int) -> float:
        """What this sheet needs but for chance."""
        room, sheet = self.darkroom, self.darkroom.sheets[number]
        known = room.light_stops[LIGHTS.index(sheet.light)] + room.bath_stops[sheet.batch]
        return as_set_s(time_for_s(room.target_log10(number) - known * STOP_LOG10 - sheet.metered_log10, room.exponent))

    def learn(self, number: int, time_s: float) -> None:
        """Nothing is left to be learnt."""


@dataclass
class Ceiling:
    """
    Knows every spread, the curve and the drift, and learns from each sheet all that it tells of speed, lights, reciprocity, days and baths.

    All that is left is linear and normal, so this is the best that anybody can learn who is not told the paper.
    """

    darkroom: Darkroom
    exponent: float = 0.15
    exponent_sd: float = 0.06
    rows: list[Floats] = field(default_factory=list)
    seen: list[float] = field(default_factory=list)

    def _row(self, number: int, time_s: float) -> Floats:
        """How much of speed, exponent, each light, day and bath is in the light that counts on this sheet, each with spread 1."""
        sheet, room = self.darkroom.sheets[number], self.darkroom
        lights = [LIGHT * (one == sheet.light) for one in LIGHTS]
        days = [DAY * (one == sheet.day) for one in range(len(room.day_stops))]
        baths = [BATH * (one == sheet.batch) for one in range(len(room.bath_stops))]
        return np.array([-SPEED, -self.exponent_sd * log2(1 + time_s), *lights, *days, *baths])

    def _state(self) -> Floats:
        """The middle of what is believed of all of these."""
        if not self.rows:
            return np.zeros(len(self._row(0, 1.0)))
        rows, noise = np.array(self.rows), SHEET**2 + METERING**2
        return np.asarray(np.linalg.solve(np.eye(rows.shape[1]) + rows.T @ rows / noise, rows.T @ np.array(self.seen) / noise))

    def _expected(self, number: int, time_s: float) -> float:
        """The error that this time would make, in stops, were all as the spreads' middles have it."""
        sheet = self.darkroom.sheets[number]
        drift = self.darkroom.target_log10(number) - self.darkroom.needs_log10
        return (sheet.metered_log10 + effective_log10(time_s, self.exponent) - drift) / STOP_LOG10

    def choose_s(self, number: int) -> float:
        """The time at which no error is expected, in a few rounds: how much the exponent counts hangs on the time."""
        state, time_s = self._state(), USUAL_TIME_S
        for _ in range(4):
            off = (self._expected(number, 1.0) + float(self._row(number, time_s) @ state)) * STOP_LOG10
            time_s = time_for_s(effective_log10(1.0, self.exponent) - off, self.exponent)
        return as_set_s(time_s)

    def bracket_s(self, number: int) -> tuple[float, float]:
        """Two times of which one is most likely near: where 27 and 73 % of what the sheet may need lie."""
        time_s = self.choose_s(number)
        row, rows = self._row(number, time_s), np.array(self.rows).reshape(len(self.rows), -1 if self.rows else len(self._row(0, 1.0)))
        own = SHEET**2 + METERING**2
        sd = sqrt(float(row @ np.linalg.solve(np.eye(len(row)) + rows.T @ rows / own, row)) + own)
        counts, away = effective_log10(time_s, self.exponent), BRACKET_SD * sd * STOP_LOG10
        return as_set_s(time_for_s(counts - away, self.exponent)), as_set_s(time_for_s(counts + away, self.exponent))

    def learn(self, number: int, time_s: float) -> None:
        """By how much the sheet is off tells of everything that it shares with others."""
        self.rows.append(self._row(number, time_s))
        self.seen.append(self.darkroom.error_stops(number, time_s) - self._expected(number, time_s))


def errors_stops(method: Method, darkroom: Darkroom) -> list[float]:
    """The error of every sheet of a method's life, in stops: above 0 too much light."""
    found = []
    for number in range(len(darkroom.sheets)):
        time_s = method.choose_s(number)
        found.append(darkroom.error_stops(number, time_s))
        method.learn(number, time_s)
    return found
