"""Frozen records that kernels take: what the book and the questions know, without either."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OwnPoint:
    """What a test of reciprocity told: where the meter told one time, the other gave the same density."""

    metered_s: float
    needed_s: float


@dataclass(frozen=True, slots=True)
class ReciprocityLaw:
    """
    How a paper loses speed in long exposures: a correction in stops that grows with the logarithm of time.

    Up to the threshold none; above it the needed time grows as the power `exponent`. Own points may move the start (the correction at the
    threshold, in stops). Doubts are standard deviations; `covariance` is between start and exponent.
    """

    threshold_s: float
    exponent: float
    exponent_sd: float = 0.0
    start_stops: float = 0.0
    start_sd_stops: float = 0.0
    covariance: float = 0.0
    misfit_stops: float = 0.0
    from_points: int = 0


@dataclass(frozen=True, slots=True)
class Stops:
    """An amount in stops and its doubt, one standard deviation."""

    amount_stops: float
    doubt_stops: float = 0.0


@dataclass(frozen=True, slots=True)
class TimeSteps:
    """From which time on a person counts whole seconds, ten seconds, minutes; half seconds below."""

    whole_second_s: float
    ten_seconds_s: float
    minute_s: float


@dataclass(frozen=True, slots=True)
class PatchLight:
    """What made one patch: light on the paper (relative where nobody metered), time after reciprocity, and the density in front of it."""

    light_lx: float
    effective_s: float
    density: float = 0.0


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing that speaks for an exposure index: in stops from EI 1, with one standard deviation."""

    index_stops: float
    sd_stops: float


Corner = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Grid:
    """
    Where the patches of a step sheet or a step tablet lie in its picture.

    Corners of the outer edge of the whole field of patches: top left, top right, bottom right, bottom left, each as (x, y) in fractions of
    width and height, so that any size of the same picture uses them. Patches are counted row by row from the first corner; whoever wants
    another patch first puts another corner first.
    """

    corners: tuple[Corner, Corner, Corner, Corner]
    rows: int
    columns: int
