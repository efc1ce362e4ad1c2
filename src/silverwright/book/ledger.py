"""What follows from all that happened to a bath: its events, in their order by the clock, become volume, masses, silver and strengths with limits."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from silverwright.book.models import Bath, BathEvent
from silverwright.chemistry.balance import Balance, disposed, found, measured_again, moved, poured, used
from silverwright.chemistry.carryover import carried_ml
from silverwright.chemistry.density import fractions_in
from silverwright.chemistry.redox import peroxide_for_silver_g
from silverwright.chemistry.silver import silver_to_bleach_g
from silverwright.errors import BadQuestion, Fault, OutOfRange
from silverwright.facts.load import fact
from silverwright.questions.acidity import acidity_of
from silverwright.questions.ingredients import density_of, key_of, substance_or_unknown
from silverwright.questions.substances import substances
from silverwright.records_chemistry import Acidity, Contents
from silverwright.units import MILLILITRE

WAYS: Final = ("value", "low", "high")  # as it is likely, as weak as it may be, as strong as it may be
TEST_SHARE: Final = 0.05  # our judgement: a test of which nobody gave the limits
_CARRY_END: Final = {"value": "value", "low": "high", "high": "low"}  # what carries most out leaves least in
_ROUNDS: Final = 4  # our judgement: each round of density and mass leaves a hundredth of the error
PEROXIDE: Final = "hydrogen_peroxide"
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
    wasted: dict[int, dict[str, Any]] = field(default_factory=dict)

    @property
    def volume_ml(self) -> float:
        """How much there is of it."""
        return self.ways["value"].bath.volume_ml


def accounts_with(bath: Bath) -> dict[int, Account]:
    """The bath and every one that it was split from or merged with, each with all that happened to it, by their numbers in the book."""
    return gone_through(_together_with(bath))


def gone_through(events: Iterable[BathEvent]) -> dict[int, Account]:
    """
    These events in their order, one after the other; `BadQuestion` for the first that cannot be.

    A sheet that went through a bath counts from the moment at which it was in the trays.
    """
    accounts: dict[int, Account] = {}
    for event in sorted(events, key=lambda one: (one.happened_at, one.what != "made", one.pk)):
        account = accounts.setdefault(event.bath_id, Account(event.bath))
        _in_order(account, event)
        try:
            _HAPPENS[event.what](account, event, accounts)
        except OutOfRange as wrong:
            raise BadQuestion([Fault("volume_ml", f"{event.volume_ml or 0:g}", _too_much(account, event, wrong))]) from None
        account.last_at = event.happened_at
    return accounts


def document(account: Account) -> dict[str, Any]:
    """What the book keeps of it beside the bath."""
    middle = account.ways["value"]
    percent = {way: _percents(account.ways[way].bath) for way in WAYS}
    acid = _acidity(middle.bath)
    return {
        "volume_ml": middle.bath.volume_ml,
        "mass_g": {key: _ends(key, {way: account.ways[way].bath.mass_g for way in WAYS}) for key in middle.bath.mass_g},
        "percent_ww": {key: _ends(key, percent) for key in middle.bath.mass_g},
        "as_mixed_percent_ww": account.as_mixed,
        "ph": None if acid is None else {"value": acid.ph, "sd": acid.ph_sd},
        "sheets": account.sheets,
        "area_m2": account.area_m2,
        "silver_g": _ends(SILVER, {way: account.ways[way].bath.mass_g for way in WAYS}),
        "came_in_g": {key: middle.came_in_g(key) for key in _keys(middle)},
        "carried_g": dict(middle.carried_g),
        "reacted_g": dict(middle.reacted_g),
        "disposed_g": dict(middle.disposed_g),
        "last_at": account.last_at.isoformat() if account.last_at else None,
        "ended_at": account.ended_at.isoformat() if account.ended_at else None,
        "tested": account.tested,
        "clearing_factor": account.clearing_factor,
    }


def contents_in(ledger: Mapping[str, Any], way: str = "value") -> Contents:
    """What a kept account says is in the bath."""
    return Contents(ledger.get("volume_ml", 0.0), {key: ends[way] for key, ends in ledger.get("mass_g", {}).items()})


def _together_with(bath: Bath) -> list[BathEvent]:
    """The events of a bath, and of every other one that got something from it or gave something to it."""
    known, wanted = {bath.pk}, {bath.pk}
    while wanted:
        pairs = BathEvent.objects.filter(archived_at=None, other__isnull=False).values_list("bath", "other")
        linked = {one for pair in pairs if known & set(pair) for one in pair}
        wanted, known = linked - known, known | linked
    rows = BathEvent.objects.filter(bath__in=known, archived_at=None)
    return list(rows.select_related("bath", "other", "step__processing__sheet__paper"))


def _in_order(account: Account, event: BathEvent) -> None:
    """Nothing happens to a bath before it was made, or after it was discarded."""
    bath, day = account.bath, f"{event.happened_at:%Y-%m-%d %H:%M}"
    if account.ended_at is not None:
        gone = f"Bath “{bath}” was {account.state} on {account.ended_at:%Y-%m-%d %H:%M} UTC: nothing happens to it after that."
        raise BadQuestion([Fault("when", day, f"{gone} Look at the day, or take another bath.")])
    if account.begun_at is None and event.what != "made":
        made = f"{bath.made_at:%Y-%m-%d %H:%M}"
        raise BadQuestion([Fault("when", day, f"Bath “{bath}” was made on {made} UTC, after this. Look at the day, or take another bath.")])


def _too_much(account: Account, event: BathEvent, wrong: OutOfRange) -> str:
    there = MILLILITRE.show(account.volume_ml)
    if wrong.name == "volume_ml":
        return (
            f"Bath “{account.bath}” holds {there} on {event.happened_at:%Y-%m-%d %H:%M} UTC: {MILLILITRE.show(wrong.value)} cannot be {event.what}."
        )
    return f"Bath “{account.bath}”, {event.what}: this cannot be. Look at the amounts and their units."


def _made(account: Account, event: BathEvent, _: dict[int, Account]) -> None:
    _poured(account, event, _)
    account.begun_at = event.happened_at
    account.as_mixed = _percents(account.ways["value"].bath)


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
                "low": event.strength_percent_ww * (1 - TEST_SHARE) if event.low_percent_ww is None else event.low_percent_ww,
                "high": event.strength_percent_ww * (1 + TEST_SHARE) if event.high_percent_ww is None else event.high_percent_ww,
            }
            account.ways[way] = _found_percent(balance, key_of(event.substance), ends[way])


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
        raise BadQuestion([Fault("when", f"{event.happened_at:%Y-%m-%d %H:%M}", f"Bath “{into.bath}” was {into.state} before that.")])
    new = event.what == "split"
    if new and into.begun_at is None:
        into.begun_at, into.as_mixed = event.happened_at, account.as_mixed
    elif into.begun_at is None:
        raise BadQuestion([Fault("when", f"{event.happened_at:%Y-%m-%d %H:%M}", f"Bath “{into.bath}” was not made yet.")])
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
    if event.volume_ml is None:
        account.state, account.ended_at = "discarded", event.happened_at


_HAPPENS: Final[dict[str, Callable[[Account, BathEvent, dict[int, Account]], None]]] = {
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


def _percents(contents: Contents) -> dict[str, float]:
    """Each substance by weight."""
    if not contents.volume_ml > 0:
        return dict.fromkeys(contents.mass_g, 0.0)
    masses = [(substance_or_unknown(key), mass_g) for key, mass_g in contents.mass_g.items()]
    try:
        parts = fractions_in(masses, contents.volume_ml, 20.0)
    except OutOfRange:  # a level read so low that no water would be left beside what is dissolved
        return dict.fromkeys(contents.mass_g, 0.0)
    return {one.key: 100 * part for (one, _), part in zip(masses, parts, strict=True)}


def _acidity(contents: Contents) -> Acidity | None:
    """How acid it is by what is dissolved in it; its silver is too little to count."""
    rest = {key: mass_g for key, mass_g in contents.mass_g.items() if key != SILVER}
    return acidity_of(Contents(contents.volume_ml, rest)) if contents.volume_ml > 0 and rest else None


def _ends(key: str, ways: Mapping[str, Mapping[str, float]]) -> dict[str, float]:
    """A value with its limits; they hold it however the three ways came out."""
    values = [ways[way].get(key, 0.0) for way in WAYS]
    return {"value": values[0], "low": min(values), "high": max(values)}


def _keys(balance: Balance) -> set[str]:
    return {key for place in (balance.poured_g, balance.taken_up_g, balance.moved_g) for key in place}
