"""What each sheet pulls, which one disagrees with the others, and what would narrow the forecast most: from the mode, to first order."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt
from typing import Final

import numpy as np

from silverwright.sensitometry.anchored import exposure_of
from silverwright.sensitometry.belief import NUMBERS, believe
from silverwright.sensitometry.darkroom import Conditions, Darkroom, Patch, own_variance, shared_variance
from silverwright.sensitometry.foretell import STOP_LOG10
from silverwright.sensitometry.mode import mode_at
from silverwright.sensitometry.next_sheet import Coming, Known
from silverwright.sensitometry.shapes import Array

PATCHES: Final = 9  # our judgement: a usual step sheet, half a stop from step to step
PLACES: Final = 6  # our judgement: so many places of a picture are metered and measured
STEP_STOPS: Final = 0.5  # common practice: from one strip to the next
PLACE_STOPS: Final = 1.0  # our judgement: metered places of a scene lie about a stop apart


@dataclass(frozen=True, slots=True)
class Pull:
    """What one sheet, or a typed index, does to what the next sheet needs, and its part of the doubt."""

    amount_stops: float
    doubt_stops: float


@dataclass(frozen=True, slots=True)
class Pulls:
    """The pulls of every piece, what only the first guess leaves open, what belongs to the next sheet alone, and the sum at the mode."""

    pieces: tuple[Pull, ...]
    guess_doubt_stops: float
    next_doubt_stops: float
    need_stops: float
    sd_stops: float


@dataclass(frozen=True, slots=True)
class Odd:
    """By how much a piece came out with more speed than the others foretell (in stops), and that over its standard deviation."""

    faster_stops: float
    deviation_sd: float


def pieces_of(seen: Darkroom) -> tuple[Array, ...]:
    """
    Which readings belong together: those of a sheet, and each judgement that belongs to none.

    Args:
        seen: Sheets with their patches and judgements.

    Returns:
        For each sheet, then for each free judgement, the places of its readings among all.

    Source:
        our judgement (arithmetic).
    """
    whose = [*(row.sheet for row in seen.patches), *(row.sheet for row in seen.judgements)]
    of_sheets = [np.array([place for place, sheet in enumerate(whose) if sheet == number], dtype=int) for number in range(len(seen.sheets))]
    return (*of_sheets, *(np.array([place]) for place, sheet in enumerate(whose) if sheet is None))


def toward(known: Known, coming: Coming) -> tuple[Array, float, float]:
    """
    How the need of the next sheet moves with the state of the darkroom.

    Args:
        known: What was learnt.
        coming: The next sheet.

    Returns:
        Derivatives of the need in stops, the variance that belongs to the next sheet alone, and the need at the mode. [stops, stops^2, stops]

    Source:
        our judgement (arithmetic of `next_sheet.needs`).
    """
    belief, mode, one = known.belief, known.mode, (coming.conditions,)
    believed = believe(mode.standard, belief)
    place, by_curve = exposure_of(believed.theta, coming.tone, belief.anchor, belief.sign)
    shared = np.linalg.solve(mode.root, shared_variance(known.seen.sheets, one, belief.scatter)[:, 0])
    own = float(shared_variance(one, one, belief.scatter)[0, 0] + own_variance(one, belief.scatter, itself=False)[0])
    gradient = np.concatenate([by_curve * belief.curve[1] / STOP_LOG10, [0.0, float(believed.drift_by) * coming.conditions.age], -shared])
    need = float(place) / STOP_LOG10 - np.log2(coming.camera_lx_s) - shared @ mode.state[NUMBERS:] + float(believed.drift) * coming.conditions.age
    return gradient, max(0.0, own - float(shared @ shared)), float(need)


def doubt_stops(known: Known, coming: Coming) -> float:
    """
    The doubt of the next sheet's need, to first order.

    s^2 = g' H^-1 g + s_alone^2

    Args:
        known: What was learnt.
        coming: The next sheet.

    Returns:
        One standard deviation, without the sheet's own scatter. [stops]

    Source:
        our judgement (first-order propagation).
    """
    gradient, alone, _ = toward(known, coming)
    return sqrt(float(gradient @ np.linalg.solve(known.mode.information, gradient)) + alone)


def pulls(known: Known, coming: Coming) -> Pulls:
    """
    What every piece of evidence does to the next exposure: amounts add, doubts add in quadrature.

    g' x = sum_j g' H^-1 R_j' (e_j + R_j x); g' H^-1 g = |H^-1 g|^2 + sum_j |R_j H^-1 g|^2

    Args:
        known: What was learnt.
        coming: The next sheet.

    Returns:
        The pulls. Uncertainty: exact where everything is linear.

    Source:
        our judgement (arithmetic of a linear fit).
    """
    gradient, alone, need = toward(known, coming)
    mode = known.mode
    lever = mode.rows @ np.linalg.solve(mode.information, gradient)
    held = np.linalg.solve(mode.information, gradient)
    shown = mode.missed + mode.rows @ mode.state
    pieces = tuple(Pull(float(lever[rows] @ shown[rows]), sqrt(float(lever[rows] @ lever[rows]))) for rows in pieces_of(known.seen))
    whole = sqrt(float(gradient @ held) + alone)
    guess = sqrt(float(held[:NUMBERS] @ held[:NUMBERS]))
    others = sqrt(float(held[NUMBERS:] @ held[NUMBERS:]) + alone)
    return Pulls(pieces, guess, others, need, whole)


def disagreements(known: Known) -> tuple[Odd, ...]:
    """
    By how much each piece differs from what the others foretell of it.

    Without its readings the state is x + (H - R'R)^-1 R' e; of what they then miss, the mean in stops of speed, each by its precision

    Args:
        known: What was learnt.

    Returns:
        For each piece of `pieces_of`. Uncertainty: to first order; the deviation counts curve, sheets and readings.

    Source:
        our judgement (leave one out).
    """
    mode, found = known.mode, []
    by_speed = mode.by_speed / mode.sds
    for rows in pieces_of(known.seen):
        own, missed = mode.rows[rows], mode.missed[rows]
        if not len(rows):
            found.append(Odd(0.0, 0.0))
            continue
        without = np.linalg.inv(mode.information - own.T @ own)
        then = missed + own @ (without @ (own.T @ missed))
        share = by_speed[rows] / float(by_speed[rows] @ by_speed[rows])
        faster = float(share @ then)
        lever = share @ own
        sd = sqrt(float(share @ share) + float(lever @ without @ lever))
        found.append(Odd(faster, abs(faster) / sd))
    return tuple(found)


def with_step_sheet(known: Known, coming: Coming, lamp: str, patch: Patch) -> float:
    """
    The doubt that would be left after a control step sheet in the same baths on the same day.

    Args:
        known: What was learnt.
        coming: The next sheet.
        lamp: The word of the fixed lamp.
        patch: A patch of such a sheet, for its doubts.

    Returns:
        One standard deviation. [stops]

    Source:
        our judgement (first-order propagation).
    """
    lit = [one for one in known.seen.sheets if one.lamp and one.light == lamp]
    control = replace(coming.conditions, light=lamp, light_sd_stops=None, lamp=True, metered=all(one.metered for one in lit))
    return _with(known, coming, control, _spread(known, patch, PATCHES, STEP_STOPS))


def with_picture(known: Known, coming: Coming, patch: Patch) -> float:
    """
    The doubt that would be left after one more picture like the next one, of which some places were metered and measured.

    Args:
        known: What was learnt.
        coming: The next sheet.
        patch: A place of such a picture, for its doubts.

    Returns:
        One standard deviation. [stops]

    Source:
        our judgement (first-order propagation).
    """
    return _with(known, coming, coming.conditions, _spread(known, patch, PLACES, PLACE_STOPS))


def _spread(known: Known, patch: Patch, count: int, step_stops: float) -> list[Patch]:
    """Patches around the anchor."""
    middle = float(believe(known.mode.standard, known.belief).theta[0])
    steps = [STOP_LOG10 * step_stops * (number - 0.5 * (count - 1)) for number in range(count)]
    return [replace(patch, exposure_log10=middle + step) for step in steps]


def _with(known: Known, coming: Coming, sheet: Conditions, patches: Sequence[Patch]) -> float:
    """The doubt if one more sheet had been measured that showed just what is foretold of it."""
    number = len(known.seen.sheets)
    seen = replace(
        known.seen,
        sheets=(*known.seen.sheets, sheet),
        patches=(*known.seen.patches, *(replace(one, sheet=number) for one in patches)),
    )
    mode, readings = mode_at(np.append(known.mode.state, 0.0), seen, known.belief)
    return doubt_stops(replace(known, seen=seen, mode=mode, readings=readings), coming)
