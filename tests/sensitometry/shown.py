"""Sheets for the tests of the forecast: what patches would show, by a curve written down anew."""

from math import log2, log10

import numpy as np

from silverwright.questions.believed import Stated, belief_of, camera_lx_s
from silverwright.sensitometry.anchored import Tone
from silverwright.sensitometry.belief import Belief
from silverwright.sensitometry.darkroom import Conditions, Darkroom, Judgement, Patch
from silverwright.sensitometry.next_sheet import Coming

STOP = log10(2)
GREY = Tone(-log10(0.18))  # an 18 % grey, 0.745
HIGHLIGHT = Tone(0.15, dmin_share=1.0)
THETA = (0.5, 0.09, 0.52, 1.95, 0.3)  # log exposure of the grey, Dmin, ln net, ln slope, ln power


def density(x: np.ndarray, theta: tuple[float, ...] = THETA, sign: float = -1.0, anchor: float = GREY.fixed_density) -> np.ndarray:
    """A Richards curve through the anchor, by its middle: D = Dmin + DN (1 + exp(-s k (x - x0)))^-a."""
    held, dmin, net, slope, power = theta[0], theta[1], *np.exp(theta[2:])
    share = (anchor - dmin) / net
    middle = held + sign * np.log(share ** (-1 / power) - 1) / slope
    return np.asarray(dmin + net * (1 + np.exp(-sign * slope * (x - middle))) ** -power)


def sheet_of(number: int, speed_stops: float, dice: np.random.Generator, sign: float = -1.0, middle_log10: float = 0.5) -> list[Patch]:
    """Seven patches a stop apart, each metered to 0.1 stop and read to 0.02, of a sheet that is so much faster than the paper."""
    metered = middle_log10 + STOP * np.arange(-3.0, 4.0)
    got = metered + STOP * (speed_stops + dice.normal(0, 0.1, 7))
    read = density(got, sign=sign) + dice.normal(0, 0.02, 7)
    return [Patch(number, float(x), float(d), None, 0.02, 0.1) for x, d in zip(metered, read, strict=True)]


def darkroom(speeds: tuple[float, ...], seed: int = 0, sign: float = -1.0) -> Darkroom:
    """A sheet for each speed, in two lights, three to a day, one bath."""
    dice = np.random.default_rng(seed)
    sheets = tuple(Conditions(f"light {n % 2}", f"day {n // 3}", "bath") for n in range(len(speeds)))
    return Darkroom(sheets, tuple(patch for n, speed in enumerate(speeds) for patch in sheet_of(n, speed, dice, sign)))


def believed(process: str = "direct positive") -> Belief:
    """Our first guesses."""
    return belief_of(Stated(), "mid-grey", "negative" if process == "negative" else "direct positive")


def coming(tone: Tone = GREY, light: str = "light 0", day: str = "day 0", age: int = 0, at_ei_one_s: float | None = None) -> Coming:
    """A next sheet in the same bath."""
    return Coming(Conditions(light, day, "bath", age=age), tone, camera_lx_s(), 1 / 3, 0.2, at_ei_one_s)


def right_at(sheet: int | None, need_stops: float, sd_stops: float) -> Judgement:
    """The grey of a sheet would have been right at so many stops over EI 1."""
    return Judgement(sheet, (need_stops + log2(camera_lx_s())) * STOP, GREY, sd_stops)
