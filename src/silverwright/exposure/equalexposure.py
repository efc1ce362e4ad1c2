"""Equal exposures on one sheet: short in bright light, long in dim light. What the long ones lose is the paper's reciprocity."""

from collections.abc import Callable, Sequence
from math import exp, hypot, log2, sqrt
from typing import Final

from silverwright.errors import NotEnoughReadings, OutOfRange
from silverwright.exposure.reciprocity import correction_stops, halved
from silverwright.records import ExponentFound, ReciprocityLaw, Stops, StripLoss

_EXPONENTS: Final = 100  # our judgement: places on the grid, a hundredth apart
_STARTS: Final = 41  # our judgement: places on the grid
_FARTHEST: Final = 1.0  # our judgement: an exponent of 2 would halve the speed with each doubling of time
_START_REACH: Final = 4.0  # our judgement: standard deviations of the prior to either side
_NOTHING: Final = 1e-6  # our judgement: beside the heaviest place no such weight shows
_TENTH: Final = 0.1  # arithmetic: the lower end of the middle 80 %


def equal_time_s(time_s: float, f_number: float, other_f_number: float) -> float:
    """
    How long a strip gets at another aperture, so that by the meter all strips got the same.

    t2 = t1 (N2/N1)^2

    Args:
        time_s: Time at the first aperture. [s] > 0
        f_number: The first aperture, true. [1] > 0
        other_f_number: The other one, true. [1] > 0

    Returns:
        Time at the other aperture, without any correction. [s] > 0. Uncertainty: that of both openings.

    Raises:
        OutOfRange: any of them not above 0.

    Source:
        wikipedia-f-number, section “Stops, f-stop conventions, and exposure”.
    """
    for name, value in (("time_s", time_s), ("f_number", f_number), ("other_f_number", other_f_number)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    return time_s * (other_f_number / f_number) ** 2


def loss_stops(given_s: float, law: ReciprocityLaw) -> float:
    """
    How many stops a time loses: what it did, against what the meter says that it gave.

    l = max(0, c0 + (p - 1) log2(t/T0)) / p, from t = Tm 2^c(Tm)

    Args:
        given_s: Time that was given. [s] > 0
        law: Threshold, exponent and start.

    Returns:
        Stops that are lost. [stops] >= 0. Uncertainty: that of the law.

    Raises:
        OutOfRange: given_s not above 0.

    Source:
        maker2017, formula, solved for the metered time.
    """
    if not given_s > 0:
        raise OutOfRange("given_s", given_s, "above 0")
    return _lost(log2(given_s / law.threshold_s), law.exponent, law.start_stops)


def exponent_of_loss(lost_stops: float, short_s: float, long_s: float, threshold_s: float) -> float:
    """
    Which exponent makes the long strip lose so much against the short one.

    The p with l(t_long) - l(t_short) = lost, by halving; no start but the threshold

    Args:
        lost_stops: What the long strip lost against the short one. [stops]
        short_s: Time of the short strip. [s] > 0
        long_s: Time of the long strip. [s] > short_s and > threshold_s
        threshold_s: Up to here time counts in full. [s] > 0

    Returns:
        The exponent; 1 where nothing was lost, at most 2. [1]. Uncertainty: the densities and the openings; `exponent_found`.

    Raises:
        OutOfRange: a short time that is not shorter, or a long one that is not beyond the threshold.

    Source:
        our judgement (arithmetic on maker2017, formula).
    """
    if not 0 < short_s < long_s:
        raise OutOfRange("short_s", short_s, "above 0 and shorter than the long strip")
    if not 0 < threshold_s < long_s:
        raise OutOfRange("long_s", long_s, "longer than the threshold")

    def lost(exponent: float) -> float:
        law = ReciprocityLaw(threshold_s, exponent)
        return loss_stops(long_s, law) - loss_stops(short_s, law)

    if lost_stops <= 0:
        return 1.0
    return 1 + _FARTHEST if lost(1 + _FARTHEST) <= lost_stops else halved(1.0, 1 + _FARTHEST, lambda exponent: lost(exponent) > lost_stops)


def longer_stops(metered_s: float, short_s: float, law: ReciprocityLaw) -> float:
    """
    How much longer than metered to expose, with an EI that was found at a short time.

    c(Tm 2^-l) - l, l = loss at the short time: what that time lost is in the EI already

    Args:
        metered_s: Time before this correction. [s] > 0
        short_s: Time at which the EI was found. [s] > 0
        law: Threshold, exponent and start.

    Returns:
        Stops to add. [stops]. Uncertainty: that of the law.

    Raises:
        OutOfRange: a time not above 0.

    Source:
        our judgement (arithmetic on maker2017, formula).
    """
    lost = loss_stops(short_s, law)
    return correction_stops(metered_s * float(2**-lost), law) - lost


def exponent_found(strips: Sequence[StripLoss], prior: ReciprocityLaw, shared_sd_stops: float, wanted_s: float) -> ExponentFound:
    """
    The law that an equal-exposure sheet tells, drawn towards the prior as far as the strips leave room.

    Weights on a grid of p >= 1 and c0: the prior's two normals times the strips' normal, their common error integrated out:
    chi2 = sum w r^2 - (sum w r)^2 / (1/s^2 + sum w), r = measured less expected loss, w = 1/sd^2, s = common error

    Args:
        strips: Time, loss against the short strips and doubt of each long strip, and the time of the short ones. At least one.
        prior: The law without the sheet, with its doubts.
        shared_sd_stops: Error that all strips share through the short ones, one standard deviation. [stops] > 0
        wanted_s: Metered time for which the correction is wanted. [s] > 0

    Returns:
        The law with its doubts, the 10 % and 90 % points of its exponent, and the correction at the wanted time. Uncertainty: in it.

    Raises:
        NotEnoughReadings: no strip.
        OutOfRange: a doubt that is not above 0.

    Source:
        our judgement (Bayes' rule on a grid).
    """
    if not strips:
        raise NotEnoughReadings("long strips", 0, 1)
    doubts = [("sd_stops", one.sd_stops) for one in strips] + [("exponent_sd", prior.exponent_sd), ("start_sd_stops", prior.start_sd_stops)]
    for name, value in (*doubts, ("shared_sd_stops", shared_sd_stops)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    exponents = [1 + _FARTHEST * place / _EXPONENTS for place in range(_EXPONENTS + 1)]
    reach = _START_REACH * prior.start_sd_stops
    starts = [prior.start_stops + reach * (2 * place / (_STARTS - 1) - 1) for place in range(_STARTS)]
    cost_of = _minus_log(strips, prior, shared_sd_stops)
    grid = [(p, c0, cost_of(p, c0)) for p in exponents for c0 in starts]
    least = min(cost for _, _, cost in grid)
    weighed = [(p, c0, exp(least - cost)) for p, c0, cost in grid]
    low, high = (_point(exponents, _by_exponent(weighed), share) for share in (_TENTH, 1 - _TENTH))
    return ExponentFound(_law(weighed, prior, len(strips)), low, high, _longer(weighed, prior, strips[0].short_s, wanted_s))


def _lost(beyond_stops: float, exponent: float, start_stops: float) -> float:
    """What a time loses that lies so many stops beyond the threshold."""
    return max(0.0, start_stops + (exponent - 1) * beyond_stops) / exponent


def _minus_log(strips: Sequence[StripLoss], prior: ReciprocityLaw, shared_sd_stops: float) -> Callable[[float, float], float]:
    """Minus the logarithm of the weight of a law, by its exponent and start."""
    weights = [hypot(one.sd_stops, prior.misfit_stops) ** -2 for one in strips]
    places = [(log2(one.given_s / prior.threshold_s), log2(one.short_s / prior.threshold_s), one.lost_stops) for one in strips]
    heaviest = shared_sd_stops**-2 + sum(weights)

    def cost(exponent: float, start_stops: float) -> float:
        missed = [lost - _lost(long, exponent, start_stops) + _lost(short, exponent, start_stops) for long, short, lost in places]
        common = sum(weight * off for weight, off in zip(weights, missed, strict=True))
        chi2 = sum(weight * off * off for weight, off in zip(weights, missed, strict=True)) - common**2 / heaviest
        from_prior = ((exponent - prior.exponent) / prior.exponent_sd) ** 2 + ((start_stops - prior.start_stops) / prior.start_sd_stops) ** 2
        return (chi2 + from_prior) / 2

    return cost


def _law(weighed: Sequence[tuple[float, float, float]], prior: ReciprocityLaw, strips: int) -> ReciprocityLaw:
    """Means and spreads of a weighed grid."""
    whole = sum(weight for _, _, weight in weighed)
    p = sum(one * weight for one, _, weight in weighed) / whole
    c0 = sum(start * weight for _, start, weight in weighed) / whole
    return ReciprocityLaw(
        threshold_s=prior.threshold_s,
        exponent=p,
        exponent_sd=sqrt(sum((one - p) ** 2 * weight for one, _, weight in weighed) / whole),
        start_stops=c0,
        start_sd_stops=sqrt(sum((start - c0) ** 2 * weight for _, start, weight in weighed) / whole),
        covariance=sum((one - p) * (start - c0) * weight for one, start, weight in weighed) / whole,
        misfit_stops=prior.misfit_stops,
        from_points=strips,
    )


def _longer(weighed: Sequence[tuple[float, float, float]], prior: ReciprocityLaw, short_s: float, wanted_s: float) -> Stops:
    """The correction at the wanted time, and its doubt with what a straight line misses."""
    kept = [(p, c0, weight) for p, c0, weight in weighed if weight > _NOTHING]
    whole = sum(weight for _, _, weight in kept)
    stops = [longer_stops(wanted_s, short_s, ReciprocityLaw(prior.threshold_s, p, start_stops=c0)) for p, c0, _ in kept]
    mean = sum(one * weight for one, (_, _, weight) in zip(stops, kept, strict=True)) / whole
    variance = sum((one - mean) ** 2 * weight for one, (_, _, weight) in zip(stops, kept, strict=True)) / whole
    return Stops(mean, hypot(sqrt(variance), prior.misfit_stops))


def _by_exponent(weighed: Sequence[tuple[float, float, float]]) -> list[float]:
    """The share of the weight that each exponent has."""
    whole = sum(weight for _, _, weight in weighed)
    return [sum(weight for _, _, weight in weighed[at : at + _STARTS]) / whole for at in range(0, len(weighed), _STARTS)]


def _point(places: Sequence[float], shares: Sequence[float], wanted: float) -> float:
    """Where so much of the weight lies below, each place standing for the stretch around it; nothing lies below the first."""
    step, below = places[1] - places[0], 0.0
    for place, share in zip(places, shares, strict=True):
        low, width = (place, step / 2) if place == places[0] else (place - step / 2, step)
        if below + share >= wanted:
            return low + width * (wanted - below) / share
        below += share
    return places[-1]
