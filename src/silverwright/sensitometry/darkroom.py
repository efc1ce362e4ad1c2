"""What was seen in one darkroom, and what sheets share with one another: records and the variance that they have in common."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from silverwright.sensitometry.anchored import Tone
from silverwright.sensitometry.shapes import Array


@dataclass(frozen=True, slots=True)
class Conditions:
    """
    What one sheet shares with others; an empty word is unknown, and shared with nobody (an empty lot is one lot of its own).

    `light_sd_stops` says how well the light's colour was measured, where it was: then its class tells nothing more. A `lamp` is a fixed one: its
    exposure repeats but for the timer. `class_sd_stops` is how far the table of lights may be off for this class, where it was used; else the usual
    doubt of a light holds. `one_reading` stands behind all patches of a step sheet; places of a picture have each their own. Where
    the light was not metered its exposure is known up to a number: that of the sheet, or of the lamp.
    """

    light: str = ""
    day: str = ""
    batch: str = ""
    lot: str = ""
    age: int = 0
    light_sd_stops: float | None = None
    lamp: bool = False
    metered: bool = True
    one_reading: bool = False
    class_sd_stops: float | None = None


@dataclass(frozen=True, slots=True)
class Patch:
    """A density that was measured: on which sheet, what it got before reciprocity, and the time it got it in."""

    sheet: int
    exposure_log10: float
    density: float
    time_s: float | None = None
    density_sd: float = 0.0
    metering_sd_stops: float = 0.0


@dataclass(frozen=True, slots=True)
class Judgement:
    """The exposure, before reciprocity, at which a tone would have been right, as the eye or a person says; of a sheet, or of none."""

    sheet: int | None
    exposure_log10: float
    tone: Tone
    sd_stops: float
    time_s: float | None = None


@dataclass(frozen=True, slots=True)
class Darkroom:
    """Everything that was seen: conditions of each sheet, and what it showed."""

    sheets: tuple[Conditions, ...] = ()
    patches: tuple[Patch, ...] = ()
    judgements: tuple[Judgement, ...] = ()


@dataclass(frozen=True, slots=True)
class Scatter:
    """How far sheets differ, one standard deviation each: by light, day, batch, lot, themselves, a reading, a timer; light that nobody metered."""

    light_sd_stops: float
    day_sd_stops: float
    batch_sd_stops: float
    lot_sd_stops: float
    sheet_sd_stops: float
    reading_sd_stops: float
    timer_sd_stops: float
    unmetered_sd_stops: float


def shared_variance(ones: Sequence[Conditions], others: Sequence[Conditions], scatter: Scatter) -> Array:
    """
    What the speed of two sheets has in common, besides the paper.

    Sum over light, day, batch and lot of s^2 where both have the same one

    Args:
        ones: Conditions of some sheets.
        others: Conditions of others. The very same record twice is the same sheet only for what is known of it.
        scatter: Standard deviations.

    Returns:
        Covariance in stops^2, a row for each of `ones`, without what each sheet has for itself (`own_variance`).

    Source:
        our judgement (independent effects).
    """
    whole = np.zeros((len(ones), len(others)))
    for kind, sd in (("day", scatter.day_sd_stops), ("batch", scatter.batch_sd_stops)):
        whole += sd**2 * _same([getattr(one, kind) for one in ones], [getattr(one, kind) for one in others])
    whole += scatter.lot_sd_stops**2 * _same([f"lot {one.lot}" for one in ones], [f"lot {one.lot}" for one in others])
    return whole + light_variance(ones, others, scatter)


def light_variance(ones: Sequence[Conditions], others: Sequence[Conditions], scatter: Scatter) -> Array:
    """
    What the speed of two sheets has in common because they lay in the same light.

    s_1 s_2 where both name the same light

    Args:
        ones: Conditions of some sheets.
        others: Conditions of others.
        scatter: Standard deviations.

    Returns:
        Covariance in stops^2, a row for each of `ones`.

    Source:
        our judgement (independent effects).
    """
    sds = [np.array([light_sd_stops(one, scatter) for one in some]) for some in (ones, others)]
    together: Array = np.outer(*sds) * _same([_shared_light(one) for one in ones], [_shared_light(one) for one in others])
    return together


def own_variance(ones: Sequence[Conditions], scatter: Scatter, *, itself: bool = True) -> Array:
    """
    What each sheet has for itself.

    Args:
        ones: Conditions of the sheets.
        scatter: Standard deviations.
        itself: With the scatter of the sheet itself; without it only that of what is unknown.

    Returns:
        Variances in stops^2.

    Source:
        our judgement (independent effects).
    """
    found = []
    for one in ones:
        own = 0.0 if one.day else scatter.day_sd_stops**2
        own += 0.0 if one.batch else scatter.batch_sd_stops**2
        own += 0.0 if _shared_light(one) else light_sd_stops(one, scatter) ** 2
        if itself:
            own += scatter.timer_sd_stops**2 if one.lamp else scatter.sheet_sd_stops**2 + one.one_reading * scatter.reading_sd_stops**2
        if not one.metered and not (one.lamp and one.light):
            own += scatter.unmetered_sd_stops**2
        found.append(own)
    return np.array(found)


def light_sd_stops(one: Conditions, scatter: Scatter) -> float:
    """
    How far paper and meter may differ in this light.

    Args:
        one: Conditions of a sheet.
        scatter: Standard deviations.

    Returns:
        One standard deviation. [stops] As measured, else that of its class, else the usual one; of a lamp that nobody metered, that of its
        unknown strength.

    Source:
        our judgement.
    """
    if one.lamp and one.light and not one.metered:
        return scatter.unmetered_sd_stops
    known = one.class_sd_stops if one.light_sd_stops is None else one.light_sd_stops
    return scatter.light_sd_stops if known is None else known


def _shared_light(one: Conditions) -> str:
    """A light's word where it tells something: a reading of its colour is wrong by itself each time, and a lamp is a light of its own."""
    if not one.light or (one.light_sd_stops is not None and not one.lamp):
        return ""
    return f"{one.light}|{one.lamp}|{one.lamp and one.metered}"


def _same(ones: list[str], others: list[str]) -> Array:
    """1 where both say the same and say something."""
    known = {word: number for number, word in enumerate(dict.fromkeys([*ones, *others]))}
    left, right = (np.array([known[word] if word else -1 for word in words], dtype=int) for words in (ones, others))
    same: Array = ((left[:, None] == right[None, :]) & (left[:, None] >= 0)).astype(np.float64)
    return same
