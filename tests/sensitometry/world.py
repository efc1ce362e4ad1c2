"""
A simulated step sheet: paper, exposures and readings drawn from the stated prior. It shares no code with the engine.

The curve is written out with `math` alone, and its points are found by stepping and halving, so that an error in the engine's shapes or
points shows as limits that do not hold.
"""

import csv
import math
import random
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

FACTS = Path(__file__).parents[2] / "src" / "silverwright" / "facts" / "curve.csv"
LAYOUTS = {21: (-1.5, 0.15), 12: (-0.825, 0.15), 7: (-0.9, 0.3), 5: (-0.6, 0.3)}


@dataclass(frozen=True)
class StepSheet:
    """What the photographer has: log exposures and densities; and what only the simulator knows: the true figures."""

    exposure_log10: list[float]
    density: list[float]
    truth: dict[str, float]


def stated_prior() -> dict[str, tuple[float, float]]:
    """Middle and standard deviation of every prior row."""
    rows = {row["key"]: row for row in csv.DictReader(FACTS.read_text(encoding="utf-8").splitlines())}
    prior = {key.removeprefix("prior_"): (float(row["value"]), float(row["uncertainty"])) for key, row in rows.items() if key.startswith("prior_")}
    prior["log_noise"] = (math.log(float(rows["density_sd"]["value"])), float(rows["noise_log_sd"]["value"]))
    return prior


def s_curve(v: float) -> float:
    return 1 / (1 + math.exp(-v)) if v > -700 else 0.0


def two_emulsions(draw: dict[str, float], sign: float) -> Callable[[float], float]:
    """Sum of two logistics: the engine's own family."""
    k, net = math.exp(draw["log_slope"]), math.exp(draw["log_net"])
    w, d = s_curve(draw["logit_share"]), math.exp(draw["log_apart"]) / k
    k1, k2 = k * math.exp(draw["log_slope_ratio"] / 2), k * math.exp(-draw["log_slope_ratio"] / 2)

    def density(x: float) -> float:
        v = sign * (x - draw["middle_log10"])
        return draw["dmin"] + net * (w * s_curve(k1 * (v + (1 - w) * d)) + (1 - w) * s_curve(k2 * (v - w * d)))

    return density


def lopsided(draw: dict[str, float], sign: float) -> Callable[[float], float]:
    """An S raised to a power: outside the engine's family."""
    k, net, a = math.exp(draw["log_slope"]), math.exp(draw["log_net"]), math.exp(draw["log_power"])
    return lambda x: draw["dmin"] + net * s_curve(k * sign * (x - draw["middle_log10"])) ** a


def where(density: Callable[[float], float], target: float, sign: float, around: float) -> float:
    """The log exposure of a density, by halving between 20 decades."""
    low, high = around - 10, around + 10
    if not min(density(low), density(high)) < target < max(density(low), density(high)):
        return math.nan
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if sign * (density(middle) - target) < 0 else (low, middle)
    return (low + high) / 2


def step_sheet(seed: int, patches: int, *, shift: float = 0.0, family: str = "two emulsions", sign: float = -1.0) -> StepSheet:
    """One step sheet; `shift` makes every paper steeper than the prior expects (in natural logarithms)."""
    dice = random.Random(seed)
    first, step = LAYOUTS[patches]
    exposure = [first + step * index for index in range(patches)]
    draw = {name: dice.gauss(middle, sd) for name, (middle, sd) in stated_prior().items()}
    draw["middle_log10"] += (exposure[0] + exposure[-1]) / 2
    draw["log_slope"] += shift
    density = (two_emulsions if family == "two emulsions" else lopsided)(draw, sign)
    noise, net = math.exp(draw["log_noise"]), math.exp(draw["log_net"])
    thin = where(density, draw["dmin"] + 0.04, sign, draw["middle_log10"])
    dense = where(density, draw["dmin"] + 0.90 * net, sign, draw["middle_log10"])
    low, high = (dense, thin) if sign < 0 else (thin, dense)
    truth = {
        "dmin": draw["dmin"],
        "dmax": draw["dmin"] + net,
        "low_log10": low,
        "high_log10": high,
        "middle_log10": where(density, -math.log10(0.18), sign, draw["middle_log10"]),
        "range_log10": high - low,
    }
    return StepSheet(exposure, [density(x) + dice.gauss(0, noise) for x in exposure], truth)
