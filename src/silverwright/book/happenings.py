"""What each thing that happens to a bath does to its account: poured in, used, tested, split, poured to another, discarded."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from silverwright.asking.operation import EIGHTY_PERCENT_SD
from silverwright.book.models import Bath, BathEvent
from silverwright.chemistry.balance import Balance, disposed, found, measured_again, moved, poured, used
from silverwright.chemistry.carryover import carried_ml
from silverwright.chemistry.decay import loss_ln_per_days, loss_sd_ln_per_days
from silverwright.chemistry.density import fractions_in
from silverwright.chemistry.redox import peroxide_for_silver_g
from silverwright.chemistry.silver import silver_to_bleach_g
from silverwright.chemistry.strength import PEROXIDE
from silverwright.errors import BadQuestion, Fault, OutOfRange
from silverwright.facts.load import fact
from silverwright.questions.ingredients import ROOM_CELSIUS, density_of, key_of, substance_or_unknown
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Contents

WAYS: Final = ("value", "low", "high")  # as it is likely, as weak as it may be, as strong as it may be
TEST_SHARE: Final = 0.05  # our judgement: a test of which nobody gave the limits
_CARRY_END: Final = {"value": "value", "low": "high", "high": "low"}  # what carries most out leaves least in
_ROUNDS: Final = 4  # our judgement: each round of density and mass leaves a hundredth of the error
DAY_S: Final = 86400.0  # arithmetic
NOTHING_ML: Final = 1e-6  # arithmetic: what doubles leave of a litre that was poured off in parts
NEEDS_SOME: Final = frozenset({"used", "tested", "filtered", "left open", "split", "merged"})  # what cannot happen to an empty tray
SILVER: Final = "silver"


@dataclass(slots=True)
class Account:
    """A bath while its events are gone through: three balances, and what is counted beside them."""

    bath: Bath
    ways: dict[str, Balance] = field(default_factory=lambda: {way: Balance() for way in WAYS})
    begun_at: datetime | None = None
    ended_at: datetime | None = None
    state: str = "in use"
    as_mixed: dict[str, float] = field(default_factory=dict)
    sheets: float = 0.0
    area_m2: float = 0.0
    last_at: datetime | None = None
    tested: dict[str, str] = field(default_factory=dict)
    clearing_factor: float | None = None
    assays: dict[str, tuple[datetime, float]] = field(default_factory=dict)
    loss: dict[str, dict[str, Any]] = field(default_factory=dict)
    wasted: dict[int, dict[str, Any]] = field(default_factory=dict)

    @property
    def volume_ml(self) -> float:
        """How much there is of it."""
        return self.ways["value"].bath.volume_ml


def _made(account: Account, event: BathEvent, _: dict[int, Account]) -> None:
    _poured(account, event, _)
    account.begun_at = event.happened_at
    account.as_mixed = percents_ww(account.ways["value"].bath)


def _poured(account: Account, event: BathEvent, _: dict[int, Account]) -> None:
    masses = event.poured.get("mass_g", {})
    for way in WAYS:
        added = Contents(event.volume_ml or 0.0, {key: ends[way] for key, ends in masses.items()})
        account.ways[way] = poured(account.ways[way], added)


def _used(account: Account, event: BathEvent, _: dict[int, Account]) -> None:
    """Sheets go through: each brings water in, carries as much of the bath out, and leaves its silver where the bath dissolves some."""
    area_m2 = event.area_m2 or 0.0
    base = event.step.processing.sheet.paper.base if event.step else "unknown"
    for way in WAYS:
        wet_ml = carried_ml(area_m2, _carry(base, _CARRY_END[way]))
        silver_g = _silver_g(account.bath.role, area_m2, way)
        spent = {PEROXIDE: _peroxide_g(silver_g)} if account.bath.role == "bleach" and PEROXIDE in account.ways[way].bath.mass_g else {}
        before = account.ways[way]
        wet_ml = min(wet_ml, before.bath.volume_ml)  # more than the whole bath is no carry-over
        account.ways[way] = used(before, Contents(wet_ml), wet_ml, spent, {SILVER: silver_g} if silver_g else {})
    account.sheets += event.sheets or 0.0
    account.area_m2 += area_m2


def _carry(base: str, end: str) -> float:
    """What a square metre carries, one of its ends; of a base that nobody named, anything between both."""
    resin, fibre = fact("carry", "rc_carry"), fact("carry", "fibre_carry")
    row = fibre if base == "fibre" else resin
    if end == "value":
        return row.value
    if base == "unknown":
        return resin.low or resin.value if end == "low" else fibre.high or fibre.value
    return (row.low if end == "low" else row.high) or row.value


def _silver_g(role: str, area_m2: float, way: str) -> float:
    """The silver that sheets leave in a bath: a bleach takes what was developed first, a fixer what is left."""
    coated = fact("silver", "coated")
    g_per_m2 = {"value": coated.value, "low": coated.low or coated.value, "high": coated.high or coated.value}[way]
    if role == "bleach":
        return silver_to_bleach_g(area_m2, g_per_m2, fact("silver", "mean_share").value)
    return area_m2 * g_per_m2 * fact("silver", "left_halide").value if role == "fixer" else 0.0


def _peroxide_g(silver_g: float) -> float:
    known = substances()
    return peroxide_for_silver_g(silver_g, known[PEROXIDE].molar_g_per_mol, known[SILVER].molar_g_per_mol)


def _tested(account: Account, event: BathEvent, _: dict[int, Account]) -> None:
    account.tested = {"by": event.tested_by, "at": event.happened_at.isoformat()}
    if event.clearing_s and event.fresh_clearing_s:
        account.clearing_factor = event.clearing_s / event.fresh_clearing_s
    for way in WAYS:
        balance = account.ways[way]
        if event.silver_g_per_l is not None:
            account.ways[way] = balance = found(balance, SILVER, event.silver_g_per_l * balance.bath.volume_ml / 1000)
        if event.strength_percent_ww is not None and event.substance:
            ends = {
                "value": event.strength_percent_ww,
                **limits_percent_ww(event.strength_percent_ww, event.low_percent_ww, event.high_percent_ww),
            }
            key = key_of(event.substance)
            account.ways[way] = _found_percent(balance, key, ends[way])
            if way == "value":
                _lost(
                    account, event, key, (balance, account.ways[way]), (ends["high"] - ends["low"]) / 2 / EIGHTY_PERCENT_SD / (ends["value"] or 1.0)
                )


def _lost(account: Account, event: BathEvent, key: str, balances: tuple[Balance, Balance], sd_share: float) -> None:
    """How fast it goes by itself, from two tests on: what the second finds less than the first left after carry-over."""
    expected_g, found_g = (one.bath.mass_g.get(key, 0.0) for one in balances)
    first = account.assays.get(key)
    account.assays[key] = (event.happened_at, sd_share)
    if first is None or min(expected_g, found_g) <= 0:
        return
    apart_days = (event.happened_at - first[0]).total_seconds() / DAY_S
    if apart_days <= 0:
        return
    account.loss[key] = {
        "ln_per_days": max(0.0, loss_ln_per_days(expected_g, found_g, apart_days)),
        "sd_ln_per_days": loss_sd_ln_per_days(first[1], sd_share, apart_days),
        "at": event.happened_at.isoformat(),
    }


def _found_percent(balance: Balance, key: str, percent_ww: float) -> Balance:
    """The mass that makes so many per cent by weight of the whole bath."""
    for _ in range(_ROUNDS):
        balance_mass = percent_ww / 100 * balance.bath.volume_ml * density_of(balance.bath)
        balance = found(balance, key, balance_mass)
    return balance


def _level(account: Account, event: BathEvent, _: dict[int, Account]) -> None:
    """Filtered, or left open: what is in it stays, but for the level that somebody read afterwards."""
    if event.volume_ml is not None:
        for way in WAYS:
            account.ways[way] = measured_again(account.ways[way], event.volume_ml)


def _moved(account: Account, event: BathEvent, accounts: dict[int, Account]) -> None:
    """Split into a new bath, or poured to another one."""
    assert event.other is not None  # noqa: S101 (the acts write no such event without the other bath)
    into = accounts.setdefault(event.other.pk, Account(event.other))
    if into.ended_at is not None:
        raise BadQuestion([Fault("when", minute(event.happened_at), f"Bath “{into.bath}” was {into.state} before that.")])
    new = event.what == "split"
    if new and into.begun_at is None:
        into.begun_at, into.as_mixed = event.happened_at, account.as_mixed
    elif into.begun_at is None:
        raise BadQuestion([Fault("when", minute(event.happened_at), f"Bath “{into.bath}” was not made yet.")])
    whole_ml = account.volume_ml
    volume_ml = whole_ml if event.volume_ml is None else event.volume_ml
    for way in WAYS:
        account.ways[way], into.ways[way] = moved(account.ways[way], into.ways[way], volume_ml)
    if event.what == "merged":
        account.state, account.ended_at = "merged", event.happened_at


def _discarded(account: Account, event: BathEvent, _: dict[int, Account]) -> None:
    volume_ml = account.volume_ml if event.volume_ml is None else event.volume_ml
    for way in WAYS:
        account.ways[way], waste = disposed(account.ways[way], volume_ml)
        if way == "value":
            account.wasted[event.pk] = {"volume_ml": waste.volume_ml, "mass_g": dict(waste.mass_g)}
    if event.volume_ml is None or not account.volume_ml > NOTHING_ML:
        account.state, account.ended_at = "discarded", event.happened_at


HAPPENS: Final[dict[str, Callable[[Account, BathEvent, dict[int, Account]], None]]] = {
    "made": _made,
    "used": _used,
    "replenished": _poured,
    "topped up": _poured,
    "tested": _tested,
    "filtered": _level,
    "left open": _level,
    "split": _moved,
    "merged": _moved,
    "discarded": _discarded,
}


def minute(moment: datetime) -> str:
    """Day and time by this computer's clock, as people read them."""
    return f"{moment.astimezone():%Y-%m-%d %H:%M}"


def limits_percent_ww(found: float, low: float | None, high: float | None) -> dict[str, float]:
    """The limits of a test: as told; only an upper one means at most so much; none, what such a test leaves open."""
    least = found * (1 - TEST_SHARE) if high is None else 0.0
    return {"low": least if low is None else low, "high": min(100.0, found * (1 + TEST_SHARE)) if high is None else high}


def percents_ww(contents: Contents) -> dict[str, float]:
    """Each substance by weight."""
    if not contents.volume_ml > 0:
        return dict.fromkeys(contents.mass_g, 0.0)
    masses = [(substance_or_unknown(key), mass_g) for key, mass_g in contents.mass_g.items()]
    try:
        parts = fractions_in(masses, contents.volume_ml, ROOM_CELSIUS)
    except OutOfRange:  # a level read so low that no water would be left beside what is dissolved
        return dict.fromkeys(contents.mass_g, 0.0)
    return {one.key: 100 * part for (one, _), part in zip(masses, parts, strict=True)}
