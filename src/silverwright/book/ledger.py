"""What follows from all that happened to a bath: its events, in their order by the clock, become volume, masses, silver and strengths with limits."""

from collections.abc import Iterable, Mapping
from typing import Any

from silverwright.book.happenings import HAPPENS, NEEDS_SOME, NOTHING_ML, SILVER, WAYS, Account, minute, percents_ww
from silverwright.book.models import Bath, BathEvent
from silverwright.chemistry.balance import Balance
from silverwright.errors import BadQuestion, Fault, OutOfRange
from silverwright.questions.acidity import acidity_of
from silverwright.records_chemistry import Acidity, Contents
from silverwright.units import MILLILITRE


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
            HAPPENS[event.what](account, event, accounts)
        except OutOfRange as wrong:
            raise BadQuestion([Fault("volume_ml", f"{event.volume_ml or 0:g}", _too_much(account, event, wrong))]) from None
        account.last_at = event.happened_at
    return accounts


def document(account: Account) -> dict[str, Any]:
    """What the book keeps of it beside the bath."""
    middle = account.ways["value"]
    percent = {way: percents_ww(account.ways[way].bath) for way in WAYS}
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
        "loss": account.loss,
    }


def contents_in(ledger: Mapping[str, Any]) -> Contents:
    """What a kept account says is in the bath."""
    return Contents(ledger.get("volume_ml", 0.0), {key: ends["value"] for key, ends in ledger.get("mass_g", {}).items()})


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
    bath, day = account.bath, minute(event.happened_at)
    if account.ended_at is not None:
        gone = f"Bath “{bath}” was {account.state} on {minute(account.ended_at)}: nothing happens to it after that."
        raise BadQuestion([Fault("when", day, f"{gone} Look at the day, or take another bath.")])
    if account.begun_at is None and event.what != "made":
        made = f"was made on {minute(bath.made_at)}, after this" if event.happened_at < bath.made_at else "had nothing in it yet"
        raise BadQuestion([Fault("when", day, f"Bath “{bath}” {made}. Look at the day, or take another bath.")])
    if event.what in NEEDS_SOME and not account.volume_ml > NOTHING_ML:
        raise BadQuestion(
            [Fault("bath", str(bath), f"Nothing of bath “{bath}” was left on {day}: all of it had been poured off. Take another bath.")]
        )


def _too_much(account: Account, event: BathEvent, wrong: OutOfRange) -> str:
    if wrong.name == "volume_ml":
        there, wanted = MILLILITRE.show(account.volume_ml), MILLILITRE.show(wrong.value)
        return f"Bath “{account.bath}” holds {there} on {minute(event.happened_at)}: {wanted} cannot be {event.what}."
    return f"Bath “{account.bath}”, {event.what}: this cannot be. Look at the amounts and their units."


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
