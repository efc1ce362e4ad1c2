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
class LightAt:
    """The light at one moment of an exposure, against the light that it was planned for."""

    at_s: float
    light_stops: float


@dataclass(frozen=True, slots=True)
class PieceGiven:
    """What a stretch of an exposure gave: when it ended, its light on average against the plan, and its share of the whole."""

    end_s: float
    light_stops: float
    share: float


@dataclass(frozen=True, slots=True)
class Focus:
    """A lens as it is set: its focal length and true f-number, and the magnification of what it is focused on."""

    focal_mm: float
    f_number: float
    magnification: float
    pupil_magnification: float = 1.0


@dataclass(frozen=True, slots=True)
class Opening:
    """One time that the paper saw the light, and the true f-number that it saw it through."""

    time_s: float
    f_number: float


@dataclass(frozen=True, slots=True)
class MeasuredAperture:
    """What one mark of an aperture scale really is: the mark, and the f-number by the entrance pupil's diameter."""

    marked_f: float
    f_number: float


@dataclass(frozen=True, slots=True)
class MeasuredSpeed:
    """One reading of a shutter: the mark that it was set to, and how long it was open."""

    marked_s: float
    measured_s: float


@dataclass(frozen=True, slots=True)
class ShutterSpeed:
    """What is known of one mark of a shutter: its true time, the doubt of one release in stops, and how often it was measured."""

    marked_s: float
    time_s: float
    sd_stops: float
    readings: int


@dataclass(frozen=True, slots=True)
class StripLoss:
    """A long strip of an equal-exposure sheet: its time, the time of the short strips, what it lost against them, and its own doubt."""

    given_s: float
    short_s: float
    lost_stops: float
    sd_stops: float


@dataclass(frozen=True, slots=True)
class ExponentFound:
    """
    The law of reciprocity that a sheet tells, and between which exponents the true one lies, 8 times of 10.

    `longer` is how much longer than metered the wanted time must be, with an EI that was found at the time of the short strips.
    """

    law: ReciprocityLaw
    exponent_low: float
    exponent_high: float
    longer: Stops


@dataclass(frozen=True, slots=True)
class SkyLight:
    """The light of a kind of sky on level ground: with the sun on the horizon, how much comes with its height, and by which power of the sine."""

    base_lx: float
    rise_lx: float
    exponent: float


@dataclass(frozen=True, slots=True)
class SunAt:
    """Where the sun stands: above the horizon, and from north over east."""

    height_deg: float
    azimuth_deg: float


@dataclass(frozen=True, slots=True)
class LightBand:
    """A stretch of a light's spectrum, and its share of the light's energy."""

    from_nm: float
    to_nm: float
    share: float


@dataclass(frozen=True, slots=True)
class Passed:
    """What share of the light of one wavelength a filter lets through."""

    at_nm: float
    share: float


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


@dataclass(frozen=True, slots=True)
class PaperCurve:
    """
    What a paper gives for each exposure: density with its band over log exposure, counted from the exposure that makes a mid-grey a mid-grey.

    Falling is a direct positive, rising a paper negative. Shadow point and highlight point are the ends of what the paper still tells apart,
    each with one standard deviation; the doubt of the range is given by itself, because its ends may be unsure together.
    """

    exposure_log10: tuple[float, ...]
    density: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    shadow_log10: float
    highlight_log10: float
    shadow_sd_log10: float = 0.0
    highlight_sd_log10: float = 0.0
    range_sd_log10: float = 0.0

    @property
    def falls(self) -> bool:
        """Whether more light makes it lighter."""
        return self.density[0] > self.density[-1]


@dataclass(frozen=True, slots=True)
class UsualPaper:
    """What is believed of a paper's curve while no step sheet told it: range, ends and grey with their doubts, and the rules for both points."""

    range_log10: float
    range_ln_sd: float
    dmin: float
    dmin_sd: float
    net_density: float
    net_ln_sd: float
    grey_density: float
    grey_place_sd_log10: float
    near_dmin: float
    net_share: float
    falls: bool = True
    shadow_side_factor: float = 1.0
    highlight_side_factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Wander:
    """How far a head wanders within a time, end to end: half of all sittings move less than the median, nine of ten less than the high one."""

    time_s: float
    median_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True)
class Sitting:
    """What an own sheet showed of a sitter: how long the shutter was open, and how far the head moved."""

    time_s: float
    way_mm: float
