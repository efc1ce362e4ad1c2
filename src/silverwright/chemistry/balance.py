"""Where everything in a bath has gone: what came in is in it still, was carried out, has reacted, was moved on or is in the waste."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from silverwright.errors import OutOfRange
from silverwright.records_chemistry import Contents

Masses = Mapping[str, float]
_WHOLE = 1 + 1e-9  # arithmetic: what doubles leave of a whole


@dataclass(frozen=True, slots=True)
class Balance:
    """
    A bath and its whole account, each mass in grams by the key of its substance.

    `poured_g` was poured or brought in, `taken_up_g` came out of the sheets, `moved_g` came from other baths (less than 0: went to them);
    `carried_g` left with the sheets, `reacted_g` is gone by reaction or by what a test found, `disposed_g` is in the waste.
    """

    bath: Contents = field(default_factory=lambda: Contents(0.0))
    poured_g: Masses = field(default_factory=dict)
    taken_up_g: Masses = field(default_factory=dict)
    moved_g: Masses = field(default_factory=dict)
    carried_g: Masses = field(default_factory=dict)
    reacted_g: Masses = field(default_factory=dict)
    disposed_g: Masses = field(default_factory=dict)

    def came_in_g(self, key: str) -> float:
        """All of one substance that ever came in, less what went on into other baths."""
        return self.poured_g.get(key, 0.0) + self.taken_up_g.get(key, 0.0) + self.moved_g.get(key, 0.0)

    def went_g(self, key: str) -> float:
        """Where it is today: in the bath, carried out, reacted, disposed of."""
        places = (self.bath.mass_g, self.carried_g, self.reacted_g, self.disposed_g)
        return sum(place.get(key, 0.0) for place in places)


def poured(balance: Balance, added: Contents) -> Balance:
    """
    What is in a bath after something was poured in.

    V' = V + v; m' = m + dm. Volumes of dilute solutions add up to within their doubt

    Args:
        balance: The bath and its account before.
        added: What is poured in: its volume and its masses.

    Returns:
        The bath and its account. Uncertainty: that of what was measured out.

    Raises:
        OutOfRange: less than nothing poured.

    Source:
        our judgement, conservation of mass.
    """
    _not_below_zero(added)
    bath = Contents(balance.bath.volume_ml + added.volume_ml, _sum(balance.bath.mass_g, added.mass_g))
    return replace(balance, bath=bath, poured_g=_sum(balance.poured_g, added.mass_g))


def used(balance: Balance, brought: Contents, carried_ml: float, spent_g: Masses, taken_up_g: Masses) -> Balance:
    """
    What is in a bath after sheets went through it.

    They bring what they are wet with, react, and carry out as much of the mixture: m' = (m + dm - spent + taken up) (1 - v / (V + dv)).
    No more of a substance reacts than is there

    Args:
        balance: The bath and its account before.
        brought: What the sheets bring in on them, water or the bath before.
        carried_ml: What they carry out. [mL] >= 0, at most what is in it
        spent_g: What reacts, by substance. [g]
        taken_up_g: What comes out of the sheets, by substance: silver. [g]

    Returns:
        The bath and its account. Uncertainty: that of the carry-over and of the silver in the paper.

    Raises:
        OutOfRange: more carried out than is in it, or less than nothing.

    Source:
        our judgement, conservation of mass.
    """
    _not_below_zero(brought)
    if min([*spent_g.values(), *taken_up_g.values()], default=0.0) < 0:
        raise OutOfRange("grams that react", min([*spent_g.values(), *taken_up_g.values()]), "0 and more")
    mixed = _sum(_sum(balance.bath.mass_g, brought.mass_g), taken_up_g)
    spent = {key: min(mass_g, mixed.get(key, 0.0)) for key, mass_g in spent_g.items()}
    left = Contents(balance.bath.volume_ml + brought.volume_ml, _sum(mixed, spent, sign=-1.0))
    rest, out = parted(left, carried_ml)
    return replace(
        balance,
        bath=rest,
        poured_g=_sum(balance.poured_g, brought.mass_g),
        taken_up_g=_sum(balance.taken_up_g, taken_up_g),
        reacted_g=_sum(balance.reacted_g, spent),
        carried_g=_sum(balance.carried_g, out.mass_g),
    )


def found(balance: Balance, key: str, mass_g: float) -> Balance:
    """
    What is in a bath after a test found how much of a substance there is.

    m' = m_found; what the account had more, or less, has reacted, or less of it had

    Args:
        balance: The bath and its account before.
        key: Which substance.
        mass_g: How much of it the test finds in the whole bath. [g] >= 0

    Returns:
        The bath and its account. Uncertainty: that of the test.

    Raises:
        OutOfRange: less than nothing found.

    Source:
        our judgement, conservation of mass.
    """
    if not mass_g >= 0:
        raise OutOfRange("mass_g", mass_g, "0 and more")
    gone = balance.bath.mass_g.get(key, 0.0) - mass_g
    bath = Contents(balance.bath.volume_ml, {**balance.bath.mass_g, key: mass_g})
    return replace(balance, bath=bath, reacted_g=_sum(balance.reacted_g, {key: gone}))


def moved(source: Balance, target: Balance, volume_ml: float) -> tuple[Balance, Balance]:
    """
    What is in two baths after a part of one was poured into the other: a bath that is split, or one that is poured to another.

    Each substance goes in proportion to the volume

    Args:
        source: Where it comes from.
        target: Where it goes; an empty one for a new vessel.
        volume_ml: How much. [mL] >= 0, at most what is in it

    Returns:
        Both, with their accounts. Uncertainty: that of the volume.

    Raises:
        OutOfRange: more than is in it, or less than nothing.

    Source:
        our judgement, conservation of mass.
    """
    rest, part = parted(source.bath, volume_ml)
    joined = Contents(target.bath.volume_ml + part.volume_ml, _sum(target.bath.mass_g, part.mass_g))
    return (
        replace(source, bath=rest, moved_g=_sum(source.moved_g, part.mass_g, sign=-1.0)),
        replace(target, bath=joined, moved_g=_sum(target.moved_g, part.mass_g)),
    )


def disposed(balance: Balance, volume_ml: float) -> tuple[Balance, Contents]:
    """
    What is left in a bath, and what is in the waste, after some of it or all of it was discarded.

    Each substance goes in proportion to the volume

    Args:
        balance: The bath and its account before.
        volume_ml: How much is discarded. [mL] >= 0, at most what is in it

    Returns:
        The bath and its account, and what goes into the waste. Uncertainty: that of the volume.

    Raises:
        OutOfRange: more than is in it, or less than nothing.

    Source:
        our judgement, conservation of mass.
    """
    rest, waste = parted(balance.bath, volume_ml)
    return replace(balance, bath=rest, disposed_g=_sum(balance.disposed_g, waste.mass_g)), waste


def measured_again(balance: Balance, volume_ml: float) -> Balance:
    """
    What is in a bath whose level was read again: water went into the air, or more was in it than was written down.

    V' = V_read; every mass stays

    Args:
        balance: The bath and its account before.
        volume_ml: How much there is of it now. [mL] > 0

    Returns:
        The bath and its account. Uncertainty: that of the reading.

    Raises:
        OutOfRange: nothing left: then it was discarded, or poured to another.

    Source:
        our judgement, conservation of mass.
    """
    if not volume_ml > 0:
        raise OutOfRange("volume_ml", volume_ml, "above 0")
    return replace(balance, bath=Contents(volume_ml, balance.bath.mass_g))


def parted(whole: Contents, volume_ml: float) -> tuple[Contents, Contents]:
    """
    What stays and what goes, when so much of a solution is poured off.

    m_goes = m v / V

    Args:
        whole: The solution.
        volume_ml: How much goes. [mL] >= 0, at most what is there

    Returns:
        What stays, and what goes. Uncertainty: that of the volume.

    Raises:
        OutOfRange: more than is in it, or less than nothing.

    Source:
        our judgement, conservation of mass.
    """
    if not 0 <= volume_ml <= whole.volume_ml * _WHOLE:
        raise OutOfRange("volume_ml", volume_ml, f"0 to {whole.volume_ml:.6g}, what is in it")
    share = min(1.0, volume_ml / whole.volume_ml) if whole.volume_ml > 0 else 1.0
    goes = {key: mass_g * share for key, mass_g in whole.mass_g.items()}
    stays = {key: mass_g - goes[key] for key, mass_g in whole.mass_g.items()}
    return Contents(max(0.0, whole.volume_ml - volume_ml), stays), Contents(volume_ml, goes)


def _sum(these: Masses, those: Masses, sign: float = 1.0) -> dict[str, float]:
    together = dict(these)
    for key, mass_g in those.items():
        together[key] = together.get(key, 0.0) + sign * mass_g
    return together


def _not_below_zero(contents: Contents) -> None:
    least = min([contents.volume_ml, *contents.mass_g.values()])
    if not least >= 0:
        raise OutOfRange("what is poured in", least, "0 and more")
