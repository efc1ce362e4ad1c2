"""What own sheets tell of the next sheet's light: how far it lies off the table, and its part of the doubt."""

from dataclasses import dataclass
from math import sqrt

from silverwright.sensitometry.darkroom import light_sd_stops, light_variance, shared_variance
from silverwright.sensitometry.next_sheet import Coming, Known, needs


@dataclass(frozen=True, slots=True)
class Lit:
    """
    How much more the paper gets of a light than its sheets were brought to the reference with: middle and standard deviation, in stops.

    `part_stops` is the light's part of the doubt of the next sheet's need: with the rest of it in quadrature it is the whole.
    """

    more_stops: float
    sd_stops: float
    part_stops: float


def lit(known: Known, coming: Coming, surest_stops: float, whole_sd_stops: float) -> Lit:
    """
    What the sheets say of the light that the next one will have.

    r | u: middle k' K^-1 u, variance s^2 - k' K^-1 k + k' K^-1 Var[u] K^-1 k. The need n = p - r, p that of the paper in the reference light: the
    light's part of Var n is Var r / (Var r + Var p), which is Var r where both move by themselves

    Args:
        known: What was learnt.
        coming: The next sheet.
        surest_stops: Stops beyond the threshold of reciprocity where the doubt is least. [stops] >= 0
        whole_sd_stops: Doubt of the need there. [stops] >= 0

    Returns:
        Offset from what is believed of this light, its doubt, and its part of the whole doubt. Uncertainty: that of so many draws.

    Source:
        our judgement (the doubt is shared out as each is unsure by itself).
    """
    one, scatter, draws = (coming.conditions,), known.belief.scatter, known.draws
    sd, sheets = light_sd_stops(coming.conditions, scatter), known.seen.sheets
    shared = light_variance(sheets, one, scatter)[:, 0]
    mean, variance = draws.speed_of(shared, sd**2)
    middle, _ = needs(known, coming)
    weights, beyond = draws.weights, draws.believed.exponent - 1
    more = float(weights @ mean)
    spread = max(0.0, float(weights @ ((mean - more) ** 2 + variance)))
    need = middle + surest_stops * beyond
    among = -float(weights @ ((need - float(weights @ need)) * (mean - more)))
    within = float(weights @ draws.together_of(shared_variance(sheets, one, scatter)[:, 0], shared, sd**2))
    of_paper = max(0.0, whole_sd_stops**2 + spread - 2 * (among + within))
    part = whole_sd_stops * sqrt(spread / (spread + of_paper)) if spread > 0 else 0.0
    return Lit(more, sqrt(spread), part)
